//! One message changes the model. No file, no clock, no terminal: what is to be done outside is handed back.

use super::action::{Action, Scope};
use super::asking;
use super::effect::{Answer, Effect, Query};
use super::field::Pasted;
use super::half;
use super::input::Key;
use super::keymap;
use super::look::Tone;
use super::message::{Ending, Message, Moment};
use super::model::{Model, Overlay, Screen};
use super::pen::wrap;
use super::screen;
use super::typing::Pace;
use super::widget::listing;

/// Changes the model for one message and says what must be done outside.
pub fn update(model: &mut Model, message: Message) -> Vec<Effect> {
    let effects = heard(model, message);
    model.leave_far();
    effects
}

fn heard(model: &mut Model, message: Message) -> Vec<Effect> {
    match message {
        Message::Key(key, at) => {
            model.now = at;
            kept_after(model, |model| pressed(model, key))
        }
        Message::Paste(text, at) => {
            model.now = at;
            kept_after(model, |model| {
                paste(model, &text);
                Vec::new()
            })
        }
        Message::Resized(columns, rows) => {
            model.size = (columns, rows);
            Vec::new()
        }
        Message::Woke(at) => {
            model.now = at;
            let key = model.typing.settled(at.millis);
            key.map(|key| kept_after(model, |model| settled(model, key))).unwrap_or_default()
        }
        Message::Painted(at) => {
            painted(model, at);
            Vec::new()
        }
        Message::Saved(number) => {
            if let Some(job) = model.job_mut() {
                job.saving.saved(number);
            }
            Vec::new()
        }
        Message::NotSaved(fault) => {
            screen::saving::failed(model, fault);
            Vec::new()
        }
        Message::Answered(answer, at) => {
            model.now = at;
            answered(model, *answer)
        }
        Message::Ended(ending) => ended(model, ending),
    }
}

/// Does something; what is half done is kept where that changed it.
fn kept_after(model: &mut Model, deed: impl FnOnce(&mut Model) -> Vec<Effect>) -> Vec<Effect> {
    let before = half::of(model);
    let mut effects = deed(model);
    if model.overlays.is_empty() {
        model.way.clear();
    }
    effects.extend(half::of(model).filter(|now| before.as_ref() != Some(now)).map(Effect::Keep));
    effects
}

fn painted(model: &mut Model, at: Moment) {
    let dropped = model.typing.painted(at.millis);
    if dropped > 0 {
        let keys = if dropped == 1 { "key" } else { "keys" };
        model.say(
            Tone::Watch,
            format!("{dropped} {keys} typed ahead dropped: a question is answered only once it is seen."),
        );
    }
}

fn pressed(model: &mut Model, key: Key) -> Vec<Effect> {
    if model.typing.ends_again(key) {
        return Vec::new();
    }
    let before = model.typing.due_before(key, model.now.millis);
    let mut effects = before.map(|key| settled(model, key)).unwrap_or_default();
    let pace = model.typing.heard(key, model.now.millis);
    effects.extend(paced(model, pace, key));
    effects
}

fn paced(model: &mut Model, pace: Pace, key: Key) -> Vec<Effect> {
    let scope = model.scope();
    match pace {
        Pace::Ahead if key == Key::Ctrl('q') => screen::leave(model),
        Pace::Ahead => Vec::new(),
        Pace::Spilled => {
            model.say(
                Tone::Watch,
                "Several lines at once, as a paste sends them: the first stands in the field, none is entered.",
            );
            Vec::new()
        }
        Pace::Burst if scope.takes_digit() || matches!(scope, Scope::Question | Scope::Notice) => {
            model.typing.forget();
            model.say(Tone::Watch, "Keys as fast as a gauge's: nothing was chosen. Esc goes back to the field.");
            Vec::new()
        }
        // a paste without brackets must not run through a form, a list of steps or a signature
        Pace::Burst if key == Key::Enter && !matches!(scope, Scope::Figure | Scope::Far) => Vec::new(),
        // a gauge sends nothing behind it; a paste goes on with its next line
        Pace::Burst if key == Key::Enter => {
            model.typing.hold(key, model.now.millis);
            Vec::new()
        }
        // a step with nothing left to say is only gone on from
        Pace::Hand if model.typing.is_held(scope.rest()) && !goes_on(model) => {
            model.say(Tone::Watch, "Enter held, or pressed again at once: nothing done. Let go, read, press it again.");
            Vec::new()
        }
        Pace::Hand | Pace::Burst => by_hand(model, scope, key),
    }
}

fn goes_on(model: &Model) -> bool {
    model.overlays.is_empty() && model.job().is_some_and(super::job::Job::is_step_settled)
}

fn by_hand(model: &mut Model, scope: Scope, key: Key) -> Vec<Effect> {
    model.typing.forget();
    match (key, keymap::action(scope, key)) {
        (Key::Char(_), Some(Action::Digit)) => {
            model.typing.hold(key, model.now.millis);
            Vec::new()
        }
        (Key::Char(letter), _) => {
            typed(model, letter);
            Vec::new()
        }
        (_, Some(action)) => {
            model.said = None;
            screen::act(model, action, key)
        }
        (_, None) => Vec::new(),
    }
}

fn typed(model: &mut Model, letter: char) {
    model.said = None;
    let Some((field, longest)) = model.field_mut() else { return };
    if !field.typed(letter, longest) {
        model.say(Tone::Watch, format!("The field holds {longest} characters; the rest was not taken."));
    }
    screen::typed(model);
}

fn paste(model: &mut Model, text: &str) {
    let Some((field, longest)) = model.field_mut() else {
        model.say(Tone::Watch, "A paste came while no field was open: nothing was taken.");
        return;
    };
    let words = match field.paste(text, longest) {
        Pasted::Whole => "Pasted into the field. Enter takes it, nothing else does.".to_owned(),
        Pasted::Cut => format!(
            "Pasted into the field, cut to one line of {longest} characters. Enter takes it, nothing else does."
        ),
        Pasted::Nothing => "The paste holds nothing that could be typed.".to_owned(),
    };
    model.say(Tone::Watch, words);
    screen::typed(model);
}

/// A key that nothing has followed: a digit chooses its line, a gauge's Enter takes its figure.
fn settled(model: &mut Model, key: Key) -> Vec<Effect> {
    match (key, model.scope()) {
        (Key::Char(digit), _) => choose(model, digit),
        (_, scope @ (Scope::Figure | Scope::Far)) => by_hand(model, scope, key),
        (_, _) => Vec::new(),
    }
}

/// A digit that nothing has followed: the line is chosen.
fn choose(model: &mut Model, digit: char) -> Vec<Effect> {
    let scope = model.scope();
    if !scope.takes_digit() || !screen::mark(model, listing::index(digit)) {
        return Vec::new();
    }
    let enter = keymap::action(scope, Key::Enter);
    model.said = None;
    enter.map(|action| screen::act(model, action, Key::Enter)).unwrap_or_default()
}

fn answered(model: &mut Model, answer: Answer) -> Vec<Effect> {
    match answer {
        Answer::Home(Ok(facts)) => {
            model.overlays.clear();
            model.scene = facts.scene;
            model.screen = Screen::Home(Box::new(screen::home::Home::new(*facts)));
            Vec::new()
        }
        Answer::Opened(Ok(opened)) => asking::opened(model, *opened),
        Answer::Read(Ok(reading)) => {
            model.overlays.clear();
            screen::review::opened(model, *reading);
            Vec::new()
        }
        Answer::Deed(Ok(reading)) => screen::review::put(model, *reading),
        Answer::Grown(reading, fault) => screen::review::grown(model, (*reading, &fault)),
        Answer::Verified(lines) => {
            model.said = None;
            model.open(Overlay::Help(screen::help::Help::text(
                "what holds of this record, as asfound verify says",
                &lines,
            )));
            Vec::new()
        }
        Answer::Waiting(Ok(waits)) => screen::review::list(model, waits),
        Answer::Photo(Ok(photo)) => screen::photo::came(model, photo),
        Answer::Elsewhere(Ok(place)) => filled(model, format!("Written to {place}.")),
        Answer::Seal(Ok(seal)) => screen::sign::sealed(model, seal),
        Answer::Key(Ok(words)) => filled(model, words),
        Answer::Keyed(words, reading) => screen::review::keyed(model, words, reading),
        Answer::Register(Ok(register)) => {
            screen::registers::came(model, register);
            Vec::new()
        }
        Answer::Put(put, done) => {
            screen::registers::put(model, &put, done);
            Vec::new()
        }
        Answer::Home(Err(fault))
        | Answer::Opened(Err(fault))
        | Answer::Read(Err(fault))
        | Answer::Waiting(Err(fault)) => {
            screen::begin::failed(model);
            let lines = wrap(&fault.to_string(), 74);
            if matches!(model.screen, Screen::Wait(_)) {
                model.screen = Screen::Wait(lines.join("\n"));
            } else {
                model.say(Tone::Bad, fault.to_string());
            }
            Vec::new()
        }
        Answer::Photo(Err(fault))
        | Answer::Elsewhere(Err(fault))
        | Answer::Seal(Err(fault))
        | Answer::Key(Err(fault))
        | Answer::Register(Err(fault))
        | Answer::Deed(Err(fault)) => {
            model.say(Tone::Bad, fault.to_string());
            Vec::new()
        }
    }
}

/// The form that asked for it goes, and what was done is said.
fn filled(model: &mut Model, words: String) -> Vec<Effect> {
    model.overlays.retain(|overlay| !matches!(overlay, Overlay::Form(_)));
    model.say(Tone::Good, words);
    Vec::new()
}

/// The end from outside: what is half typed is kept, then the program ends with the status that its cause asks for.
fn ended(model: &mut Model, ending: Ending) -> Vec<Effect> {
    let status = match ending {
        Ending::Signal(number) => u8::try_from(number).unwrap_or(1).saturating_add(128),
        Ending::Gone => 129,
    };
    half::keep(model).into_iter().chain([Effect::End(status)]).collect()
}

/// Fetches the first screen.
pub fn to_home(model: &mut Model) -> Vec<Effect> {
    model.overlays.clear();
    model.screen = Screen::Wait("reading the records".to_owned());
    vec![Effect::PutDown, Effect::Ask(Box::new(Query::Home))]
}
