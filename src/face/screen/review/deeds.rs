//! What is done with a record under review: countersigned, remarked and sent back, conceded, overruled. Nothing is done
//! before a question has named it and who does it; `decide` allows or refuses.

use crate::domain::entry::Act;
use crate::domain::id::Id;

use super::super::super::action::Action;
use super::super::super::effect::{Effect, Fault, Query};
use super::super::super::form::{Form, Go, Step};
use super::super::super::half;
use super::super::super::input::Key;
use super::super::super::look::Tone;
use super::super::super::model::{Model, Overlay, Screen};
use super::super::super::pen::Pen;
use super::super::super::reviewing::Reading;
use super::super::super::update::to_home;
use super::super::super::widget::{form as answers, listing, question};
use super::super::{help, scrolled, way};
use super::{Review, asks, tone_of};

/// What lies over the page.
#[derive(Debug, Clone)]
pub(super) enum Over {
    /// Everything that can be done; the marked line.
    Menu(usize),
    /// All pages; the marked one.
    Pages(usize),
    /// Answers, and what they are for.
    Form(What, Form),
    /// The last question before something is saved.
    Confirm(Box<Confirm>),
    /// Remarks would be lost; the marked choice.
    Leaving(usize),
}

/// What the answers are for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum What {
    Countersign,
    Remark,
    SendBack,
    Concession,
    Overrule,
    Seen,
    Key,
}

impl What {
    /// All of them, in the order of the list.
    pub(super) const ALL: [Self; 7] =
        [Self::Countersign, Self::Remark, Self::SendBack, Self::Concession, Self::Overrule, Self::Seen, Self::Key];

    /// The word by which a form that was left is found again.
    pub(super) fn word(self) -> &'static str {
        match self {
            Self::Countersign => "countersign",
            Self::Remark => "remark",
            Self::SendBack => "send back",
            Self::Concession => "concession",
            Self::Overrule => "overrule",
            Self::Seen => "seen",
            Self::Key => "key",
        }
    }
}

/// Something that is done once it is confirmed.
#[derive(Debug, Clone)]
pub(super) struct Confirm {
    /// What is about to be done.
    title: String,
    /// What it says, a sentence a line.
    lines: Vec<String>,
    /// The choice that does it.
    yes: String,
    /// The marked choice.
    pub(super) marked: usize,
    /// Rows of the text that are scrolled away.
    scroll: usize,
    /// Who stands for it.
    by: Id,
    acts: Vec<Act>,
}

impl Confirm {
    /// `word`, as `name`?
    pub(super) fn new(word: &str, (by, name): (Id, &str), acts: Vec<Act>, lines: Vec<String>) -> Self {
        let (title, yes) = (format!("{word}, as {name}?"), format!("{word}: {name} stands for it"));
        Self { title, lines, yes, marked: 0, scroll: 0, by, acts }
    }
}

/// The lines of Esc; what cannot be done says why.
pub(super) fn menu(review: &Review) -> Vec<(String, Tone)> {
    let pending = review.reading.pending();
    let waits = !pending.is_empty();
    let words = pending.iter().map(|one| one.title.clone()).collect::<Vec<_>>().join("; ");
    let outside = review.reading.outside.is_some();
    let may = |may: bool, text: String, why_not: &str| {
        let why_not = if outside { "changed outside: say first that it was seen" } else { why_not };
        if may && !outside {
            (text, Tone::Plain)
        } else {
            // what it would be about gives way to why not
            let what = text.split(": ").next().unwrap_or_default();
            (format!("{what} ({why_not})"), Tone::Quiet)
        }
    };
    let count = review.remarks.len();
    let [none, no_more] = review.reading.none_waits();
    let remark = if waits { "a remark at the marked line" } else { "a remark" };
    let referred = review.reading.review.referred().count() > 0;
    let mut lines = vec![
        may(waits, format!("countersign: {words}"), none),
        may(waits, remark.to_owned(), no_more),
        may(count > 0, format!("send it back with the remarks: {count}"), "no remark yet"),
        may(referred, "a concession: the answer to what was referred".to_owned(), "nothing asks for one"),
        may(true, "overrule what is done with a part".to_owned(), ""),
        ("all pages".to_owned(), Tone::Plain),
        ("verify: chain, seals, photos and keys of this record".to_owned(), Tone::Plain),
        ("words, signs and keys".to_owned(), Tone::Plain),
        ("to the first screen (Ctrl-Q ends the program)".to_owned(), Tone::Plain),
    ];
    lines.push(if outside {
        ("it was changed outside: say that this was seen".to_owned(), Tone::Bad)
    } else {
        may(
            review.reading.keyless_people().next().is_some(),
            "sign with a key what is signed or countersigned".to_owned(),
            if review.reading.by.is_some() { "nothing of yours waits for one" } else { "nothing waits for one" },
        )
    });
    lines
}

/// Keys of whatever lies over the page.
pub(super) fn act(model: &mut Model, over: Over, action: Action, key: Key) -> Vec<Effect> {
    if action == Action::Back {
        if let (Over::Form(what, form), Screen::Review(review)) = (&over, &mut model.screen) {
            asks::lay_aside(review, *what, form);
        }
        return Vec::new();
    }
    let back = way(key) == Go::Back;
    let moved = |marked: usize, lines: usize| {
        if action != Action::Line {
            return marked;
        }
        if back { marked.saturating_sub(1) } else { (marked + 1).min(lines.saturating_sub(1)) }
    };
    let Screen::Review(review) = &mut model.screen else { return Vec::new() };
    match over {
        Over::Menu(marked) if action == Action::Choose => return chosen(model, marked),
        Over::Menu(marked) => review.over = Some(Over::Menu(moved(marked, menu(review).len()))),
        Over::Pages(marked) if action == Action::Choose => review.turn_to(marked),
        Over::Pages(marked) => review.over = Some(Over::Pages(moved(marked, review.pages()))),
        Over::Form(what, form) => return in_form(model, (what, form), action, key),
        Over::Confirm(confirm) if action == Action::Choose => {
            if confirm.marked == 0 {
                let Confirm { by, acts, .. } = *confirm;
                let (file, shown) = (review.reading.file.clone(), review.reading.shown().to_owned());
                return vec![Effect::Ask(Box::new(Query::Deed { file, by, acts, shown }))];
            }
        }
        Over::Confirm(mut confirm) => {
            confirm.marked = moved(confirm.marked, 2);
            if action == Action::Further {
                confirm.scroll = scrolled(confirm.scroll, key, 2);
            }
            review.over = Some(Over::Confirm(confirm));
        }
        Over::Leaving(marked) if action == Action::Choose => {
            return match marked {
                1 => to_home(model),
                2 => vec![Effect::End(0)],
                _ => Vec::new(),
            };
        }
        Over::Leaving(marked) => review.over = Some(Over::Leaving(moved(marked, 3))),
    }
    Vec::new()
}

fn chosen(model: &mut Model, line: usize) -> Vec<Effect> {
    let Screen::Review(review) = &mut model.screen else { return Vec::new() };
    if let Some((words, Tone::Quiet)) = menu(review).get(line) {
        let words = format!("Not now: {words}.");
        review.over = Some(Over::Menu(line));
        model.say(Tone::Watch, words);
        return Vec::new();
    }
    let what = match line {
        0..=4 => What::ALL.get(line).copied(),
        5 => {
            review.over = Some(Over::Pages(review.page));
            return Vec::new();
        }
        6 => {
            let file = review.reading.file.clone();
            model.say(Tone::Plain, "reading the record and those beside it");
            return vec![Effect::Ask(Box::new(Query::Verify(file)))];
        }
        7 => {
            model.open(Overlay::Help(help::Help::words()));
            return Vec::new();
        }
        9 if review.reading.outside.is_some() => Some(What::Seen),
        9 => Some(What::Key),
        _ if super::keeps(model) => return Vec::new(),
        _ => return to_home(model),
    };
    if let Some(what) = what {
        let form = asks::opened(review, what);
        review.over = Some(Over::Form(what, form));
    }
    Vec::new()
}

fn in_form(model: &mut Model, (what, mut form): (What, Form), action: Action, key: Key) -> Vec<Effect> {
    if action == Action::Line {
        form.go(way(key));
    }
    if action == Action::Other {
        form.turn(way(key));
    }
    let step = (action == Action::Answer).then(|| form.enter());
    let Screen::Review(review) = &mut model.screen else { return Vec::new() };
    if let Some(entry) = asks::to_key(&review.reading, what, &form).filter(|_| matches!(step, Some(Step::Finished))) {
        let (file, key) = (review.reading.file.clone(), form.answer(0).unwrap_or_default());
        // a refusal finds the answers again, from the first on
        form.at = 0;
        asks::lay_aside(review, what, &form);
        return vec![Effect::HandOver(Box::new(Query::KeyOf(file, entry, key)))];
    }
    if step == Some(Step::Next) && what == What::Concession && form.at == 1 {
        let may = asks::may_concede(review, &form);
        form.at -= usize::from(may.is_err());
        review.over = Some(Over::Form(what, form));
        may.unwrap_or_else(|why| model.say(Tone::Bad, why));
        return Vec::new();
    }
    let wrong = match step {
        Some(Step::Finished) => asks::finish(review, what, &form).err(),
        Some(Step::Wrong(words)) => Some(words),
        Some(Step::Next) | None => {
            review.over = Some(Over::Form(what, form));
            return Vec::new();
        }
    };
    if let Some(words) = wrong {
        review.over = Some(Over::Form(what, form));
        model.say(Tone::Bad, words);
    } else if matches!(review.over, Some(Over::Confirm(_))) {
        model.typing.question_opened();
    }
    Vec::new()
}

/// An entry was signed by key: the record is shown with what that signature is worth now, at the same place.
pub fn keyed(model: &mut Model, words: String, reading: Result<Box<Reading>, Fault>) -> Vec<Effect> {
    let Screen::Review(review) = &mut model.screen else { return Vec::new() };
    match reading {
        Ok(reading) => {
            let by = review.reading.by.take();
            review.reads(Reading { by, ..*reading });
            review.aside = None;
            model.say(Tone::Good, words);
        }
        Err(fault) => model.say(Tone::Bad, format!("{words} But the record cannot be read: {fault}")),
    }
    half::keep(model)
}

/// ```text
/// -- what else -------------------------------------------------------------------
///  1  countersign: the close, signed by fitter A on 12 July 2024, 16:20
///  2  a remark at the marked line
/// ```
pub(super) fn view(pen: &mut Pen<'_>, review: &Review, over: &Over) {
    pen.clear();
    match over {
        Over::Menu(marked) => {
            let title = "what else: a digit, or arrows and Enter; Esc goes back";
            listing::headed(pen, title, (&menu(review), *marked), 0);
        }
        Over::Pages(marked) => {
            listing::headed(pen, "all pages: arrows and Enter open one", (&contents(review), *marked), 0);
        }
        Over::Form(_, form) => answers::draw(pen, form),
        Over::Confirm(confirm) => {
            let choices = [confirm.yes.as_str(), "not now: back to the record"];
            question::draw(pen, (&confirm.title, &confirm.lines), (&choices, confirm.marked), confirm.scroll);
        }
        Over::Leaving(marked) => {
            let lines =
                [format!("Remarks that were not sent: {}. They are kept for the next time.", review.remarks.len())];
            let choices = [
                "go on reading: Esc 3 sends the record back with them",
                "to the first screen, nothing sent",
                "end the program, nothing sent",
            ];
            question::draw(pen, ("? leave", &lines), (&choices, *marked), 0);
        }
    }
}

/// Every page with the sign of its verdict.
fn contents(review: &Review) -> Vec<(String, Tone)> {
    let first = ("  page 1: will it last, what must I decide, is it closed".to_owned(), Tone::Plain);
    let pages = review.reading.review.pages.iter().map(|page| {
        let verdict = page.items.first().filter(|_| page.part.is_some());
        let sign = verdict.map_or(' ', |item| item.sign);
        let words = verdict.and_then(|item| item.text.strip_prefix("verdict: ")).unwrap_or_default();
        (format!("{sign} {:<34} {words}", page.title), if sign == '.' { Tone::Quiet } else { tone_of(sign) })
    });
    std::iter::once(first).chain(pages).collect()
}
