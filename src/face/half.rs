//! What is half done and not in the record: kept within a tenth of a second of a key, so that leaving in any way comes back
//! to the same field, the open form too.

use crate::records::paper::Kind;
use crate::records::store::{Draft, HalfForm, HalfPaper, LaidAside, ReviewDraft};

use super::action::Action;
use super::acts::Other;
use super::effect::Effect;
use super::input::Key;
use super::model::{Model, Overlay, Screen};
use super::screen::asked::{self, Asked, Purpose};
use super::screen::{self, elses, finding, gauge, list};
use super::talk::Talk;

/// What is kept, and of what.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Half {
    /// Of an inspection on the bench: its id.
    Job(String, Box<Draft>),
    /// Of an inspection being begun; none once it has begun.
    Begin(Option<HalfForm>),
    /// Of a record under review: its file; none when nothing is left to be sent.
    Review(String, Option<Box<ReviewDraft>>),
    /// Of a file that is filled in: its kind, the name of its draft; none once all that was typed is entered.
    Paper(Kind, String, Option<HalfPaper>),
}

/// The answers of a dialogue as they stand, what is typed behind them.
pub fn of_talk(talk: &Talk, way: &[String]) -> HalfForm {
    HalfForm { way: way.to_vec(), at: u32::try_from(talk.answers.len()).unwrap_or(0), answers: talk.kept() }
}

/// Everything half done on the screen.
pub(super) fn of(model: &Model) -> Option<Half> {
    match &model.screen {
        Screen::Job(job) => {
            let form = model.overlays.iter().find_map(|overlay| match overlay {
                Overlay::Form(asked) => Some(of_talk(&asked.talk, &way(model, asked))),
                Overlay::List(_)
                | Overlay::Question(_)
                | Overlay::Notice(_)
                | Overlay::Steps(_)
                | Overlay::Help(_)
                | Overlay::Far => None,
            });
            let notice = model.overlays.iter().find_map(|overlay| match overlay {
                Overlay::Notice(notice) => Some(notice.unseen()),
                Overlay::Form(_)
                | Overlay::List(_)
                | Overlay::Question(_)
                | Overlay::Steps(_)
                | Overlay::Help(_)
                | Overlay::Far => None,
            });
            let draft = Draft { form, notice, ..job.draft() };
            Some(Half::Job(job.inspection.head().id.clone(), Box::new(draft)))
        }
        Screen::Begin(begin) => begin.half().map(|half| Half::Begin(Some(half))),
        Screen::Review(review) => Some(Half::Review(review.reading.file.clone(), review.draft().map(Box::new))),
        Screen::Registers(registers) => {
            let filling = registers.filling()?;
            let (name, half) = filling.half();
            Some(Half::Paper(filling.paper.kind, name, half))
        }
        Screen::Wait(_) | Screen::Home(_) => None,
    }
}

/// The lines that lead to a dialogue: those that were chosen, or those that would have led to one that a single key opened.
fn way(model: &Model, asked: &Asked) -> Vec<String> {
    if !model.way.is_empty() {
        return model.way.clone();
    }
    match &asked.purpose {
        Purpose::Other(other) => elses::way_to(*other),
        Purpose::Finding(part, line) => {
            let part = model.job().and_then(|job| job.inspection.head().checklist.part(part));
            let kind = part.and_then(|part| part.findings.get(*line)).map(finding::said);
            elses::way_to(Other::Seen).into_iter().chain(kind).collect()
        }
        Purpose::Gauge(..) | Purpose::Sign(_) | Purpose::Move | Purpose::Copy => Vec::new(),
    }
}

/// The title of the dialogue to which a kept form belongs; none where no line leads to it.
pub fn title_of(form: &HalfForm) -> Option<String> {
    let last = form.way.last()?;
    let kind = || last.split_once(": ").map(|(kind, _)| finding::title_of(kind));
    if form.way.len() > 1 && elses::way_to(Other::Seen).first() == form.way.first() {
        kind()
    } else {
        Some(last.clone())
    }
}

/// A form that is left behind with its step.
pub fn laid_aside(step: &str, form: HalfForm) -> Option<LaidAside> {
    Some(LaidAside { step: step.to_owned(), title: title_of(&form)?, form })
}

/// What a record was left with half answered, the form that was open first.
pub fn left_in_words(draft: &Draft) -> Vec<String> {
    let open = draft.form.as_ref().and_then(|form| Some((draft.step.clone(), title_of(form)?)));
    let aside = draft.aside.iter().map(|left| (left.step.clone(), left.title.clone()));
    let said = |(step, title)| {
        format!("Half answered on the screen at {step}: {title}. It is found again there, on the screen.")
    };
    open.into_iter().chain(aside).map(said).collect()
}

/// Keeps it now.
pub fn keep(model: &Model) -> Vec<Effect> {
    of(model).map(Effect::Keep).into_iter().collect()
}

/// Opens a form again by the way that was taken to it; nothing is opened where that way is closed.
pub(super) fn reopen(model: &mut Model, half: &HalfForm) {
    if !half.way.is_empty() {
        elses::open(model);
        if !walk(model, &half.way) {
            model.overlays.clear();
            gauge::open(model);
            walk(model, &half.way);
        }
    }
    if matches!(model.overlays.last(), Some(Overlay::Form(_))) {
        asked::fill(model, half);
        half.way.clone_into(&mut model.way);
    } else {
        model.overlays.clear();
    }
}

/// Chooses line after line; says whether each was there.
fn walk(model: &mut Model, way: &[String]) -> bool {
    way.iter().all(|words| {
        let Some(Overlay::List(found)) = model.overlays.last() else { return false };
        let Some(line) = found.lines.iter().position(|(line, _)| line == words) else { return false };
        let there = screen::mark(model, Some(line));
        if let Some(Overlay::List(found)) = model.overlays.pop() {
            drop(list::act(model, found, Action::Choose, Key::Enter));
        }
        there
    })
}
