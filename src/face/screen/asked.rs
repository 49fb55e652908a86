//! Dialogues over a step: answers that become entries. The questions are those of the line mode; here: keys, drawing,
//! and what is done with the last answer.

use crate::domain::checklist::{FindingKind, Signing};
use crate::domain::instrument::GaugeKind;
use crate::domain::unit::Unit;
use crate::records::store::HalfForm;

use super::super::action::Action;
use super::super::acts::{self, At, Deed, Other};
use super::super::effect::{Effect, Query};
use super::super::field::Field;
use super::super::half;
use super::super::input::Key;
use super::super::inquiry::{Answers, Choice, Reply};
use super::super::look::Tone;
use super::super::model::{Model, Overlay, Said};
use super::super::pen::{Pen, tail, width, wrap};
use super::super::talk::{Heard, Talk};
use super::{deed, saving, way};

/// What the answers become.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum Purpose {
    /// A line of what else.
    Other(Other),
    /// A gauge not known yet.
    Gauge(GaugeKind, Unit),
    /// A finding: the part, and the kind by its number there.
    Finding(String, usize),
    /// The holds that a signature carries on.
    Sign(Signing),
    /// Another folder for the record.
    Move,
    /// A copy elsewhere.
    Copy,
}

/// A dialogue with its purpose.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Asked {
    /// What the answers become.
    pub purpose: Purpose,
    /// The answers.
    pub talk: Talk,
}

/// What a finished dialogue comes to.
enum Done {
    Deed(Deed),
    Query(Query),
}

fn ask(model: &Model, purpose: &Purpose, answers: &mut Answers<'_>) -> Reply<Done> {
    match purpose {
        Purpose::Move => saving::folder("go on in which folder", answers).map(|to| Done::Query(Query::Move(to))),
        Purpose::Copy => saving::folder("a copy into which folder", answers).map(|to| Done::Query(Query::Copy(to))),
        Purpose::Other(_) | Purpose::Gauge(..) | Purpose::Finding(..) | Purpose::Sign(_) => {
            let Some(job) = model.job() else { return Ok(Done::Deed(Deed::Say(Vec::new()))) };
            let at = job.at_hand(model.now.stamp);
            about(&at, purpose, answers).map(Done::Deed)
        }
    }
}

fn about(at: &At<'_>, purpose: &Purpose, answers: &mut Answers<'_>) -> Reply<Deed> {
    match purpose {
        Purpose::Other(other) => at.ask(*other, answers),
        Purpose::Sign(what) => Ok(Deed::Sign(*what, at.carried(*what, &mut Vec::new(), answers)?)),
        Purpose::Gauge(kind, unit) => acts::enter_gauge((at.inspection, at.files), (*kind, *unit), answers),
        Purpose::Finding(part, kind) => {
            let part = at.inspection.head().checklist.part(part);
            let kind: Option<&FindingKind> = part.and_then(|part| part.findings.get(*kind));
            match (at.step, part, kind) {
                (Some(step), Some(part), Some(kind)) => acts::finding(at.inspection, step, (part, kind), answers),
                _ => Ok(Deed::Say(Vec::new())),
            }
        }
        Purpose::Move | Purpose::Copy => Ok(Deed::Say(Vec::new())),
    }
}

/// Opens a dialogue, with what was answered when it was left.
pub fn open(model: &mut Model, purpose: Purpose, title: &str) -> Vec<Effect> {
    match Talk::open(title, |answers| ask(model, &purpose, answers)) {
        Ok(mut talk) => {
            if let Some(left) = model.job_mut().and_then(|job| job.take_up(title)) {
                talk.replay(&left.answers, |answers| ask(model, &purpose, answers));
            }
            model.open(Overlay::Form(Box::new(Asked { purpose, talk })));
            Vec::new()
        }
        Err(Ok(done)) => finish(model, done, None),
        Err(Err(words)) => {
            model.say(Tone::Watch, words);
            Vec::new()
        }
    }
}

/// Puts kept answers into the dialogue that lies on top.
pub fn fill(model: &mut Model, half: &HalfForm) {
    let Some(Overlay::Form(mut asked)) = model.overlays.pop() else { return };
    let purpose = asked.purpose.clone();
    asked.talk.replay(&half.answers, |answers| ask(model, &purpose, answers));
    model.overlays.push(Overlay::Form(asked));
}

/// Keys of a dialogue.
pub fn act(model: &mut Model, mut asked: Box<Asked>, action: Action, key: Key) -> Vec<Effect> {
    let purpose = asked.purpose.clone();
    if action == Action::Back {
        lay_aside(model, &asked);
        return Vec::new();
    }
    if matches!(action, Action::Line | Action::Other) {
        asked.talk.go(way(key), |answers| ask(model, &purpose, answers));
    }
    let heard = (action == Action::Answer).then(|| asked.talk.enter(|answers| ask(model, &purpose, answers)));
    match heard {
        Some(Heard::Done(done)) => finish(model, done, Some(asked)),
        Some(Heard::Wrong(words)) => {
            model.say(Tone::Bad, words);
            model.overlays.push(Overlay::Form(asked));
            Vec::new()
        }
        Some(Heard::Next) | None => {
            model.overlays.push(Overlay::Form(asked));
            Vec::new()
        }
    }
}

/// A dialogue is left; its answers are found again when it is opened anew.
fn lay_aside(model: &mut Model, asked: &Asked) {
    // which entry, which hold is meant changes; every other answer is found again
    let keeps = !matches!(asked.purpose, Purpose::Other(Other::Strike) | Purpose::Sign(_));
    if let Some(job) = model.job_mut().filter(|_| keeps) {
        job.lay_aside(&asked.talk.title, half::of_talk(&asked.talk, &[]));
    }
}

/// The last answer was given. A refusal leaves the dialogue where it is, the last answer in the field.
fn finish(model: &mut Model, done: Done, asked: Option<Box<Asked>>) -> Vec<Effect> {
    match done {
        Done::Deed(deed) => deed::perform(model, deed, asked),
        Done::Query(query) => {
            model.say(Tone::Plain, "at it");
            model.overlays.extend(asked.map(Overlay::Form));
            vec![Effect::Ask(Box::new(query))]
        }
    }
}

/// ```text
/// -- overrule what is done with a part ----------------------------------------
///    overrule which part              Bush, turbine side, replace
/// >  what is done with it?
///    [ re_                                                                   ]
///    what was said of the answer
///    1 reuse
///    3 rework
/// ```
pub fn view(pen: &mut Pen<'_>, talk: &Talk, said: Option<&Said>) {
    pen.clear();
    pen.rule(0, &talk.title);
    let columns = pen.width().saturating_sub(5);
    let question = wrap(&talk.question.asked(), columns);
    let before: Vec<_> = talk.question.before.iter().flat_map(|line| wrap(line, columns)).collect();
    let said: Vec<_> =
        said.iter().flat_map(|said| wrap(&said.text, columns).into_iter().map(|line| (line, said.tone))).collect();
    let offers = talk.offers();
    let rows = rows_of(&whole(pen.width(), talk, &offers));
    let wanted = question.len() + 1 + said.len() + before.len() + rows;
    let room = pen.height().saturating_sub(1);
    let mut row = history(pen, talk, room.saturating_sub(wanted).max(room.min(2)));
    let here = pen.glyphs().here.to_string();
    pen.put(1, row, &here, Tone::Strong);
    for line in &question {
        pen.put(3, row, line, Tone::Strong);
        row += 1;
    }
    row = field(pen, row, &talk.field);
    for (line, tone) in &said {
        pen.put(3, row, line, *tone);
        row += 1;
    }
    for line in &before {
        pen.put(3, row, line, Tone::Plain);
        row += 1;
    }
    choices(pen, row, talk, &offers);
}

/// The last answers, as many as there is room for, none of them cut; the row behind them.
fn history(pen: &mut Pen<'_>, talk: &Talk, room: usize) -> usize {
    let end = pen.width().saturating_sub(1);
    let mut told: Vec<(Vec<String>, usize, Vec<String>, Tone)> = Vec::new();
    for answer in talk.answers.iter().rev() {
        let name = short(&answer.asked, &talk.title);
        let (shown, tone) =
            if answer.shown.is_empty() { ("-", Tone::Quiet) } else { (answer.shown.as_str(), Tone::Strong) };
        // a long answer begins nearer to its question
        let x = end.saturating_sub(width(shown)).min(42).max(width(&name).min(37) + 5);
        let (name, lines) = (wrap(&name, x.saturating_sub(5)), wrap(shown, end.saturating_sub(x)));
        let rows = |name: &[String], lines: &[String]| name.len().max(lines.len());
        if told.iter().map(|(name, _, lines, _)| rows(name, lines)).sum::<usize>() + rows(&name, &lines) > room {
            break;
        }
        told.push((name, x, lines, tone));
    }
    let mut row = 1;
    for (name, x, lines, tone) in told.into_iter().rev() {
        for (below, words) in name.iter().enumerate() {
            pen.put(3, row + below, words, Tone::Plain);
        }
        for (below, line) in lines.iter().enumerate() {
            pen.put(x, row + below, line, tone);
        }
        row += name.len().max(lines.len());
    }
    row
}

fn field(pen: &mut Pen<'_>, row: usize, field: &Field) -> usize {
    let end = pen.width().saturating_sub(1);
    pen.put(3, row, "[ ", Tone::Key);
    let shown = tail(field.text(), end.saturating_sub(9).max(1));
    pen.put(5, row, &format!("{shown}_"), Tone::Field);
    pen.put(end.saturating_sub(1), row, "]", Tone::Key);
    row + 1
}

fn choices(pen: &mut Pen<'_>, y: usize, talk: &Talk, offers: &[usize]) {
    let room = pen.height().saturating_sub(y);
    let whole = whole(pen.width(), talk, offers);
    if rows_of(&whole) <= room {
        return uncut(pen, y, &whole, talk.marked);
    }
    let marked = talk.marked.and_then(|marked| offers.iter().position(|offer| *offer == marked));
    // the last row says how many do not fit
    let fits = if offers.len() > room { room.saturating_sub(1) } else { room };
    let first = marked.map_or(0, |marked| (marked + 1).saturating_sub(fits));
    for (row, at) in offers.iter().skip(first).take(fits).enumerate() {
        let Some(choice) = talk.question.choices.get(*at) else { continue };
        let (number, words) = offer_words(*at, choice);
        offer(pen, y + row, (Some(number), &words), tone(*at, talk.marked));
    }
    if offers.len() > fits {
        let more = offers.len() - fits;
        pen.put(3, y + fits, &format!("{more} more: arrows, or type a few letters of it"), Tone::Quiet);
    }
}

/// An offer's place among the choices, the number that chooses it, and its words in as many rows as they need.
type Whole = (usize, usize, Vec<String>);

fn whole(columns: usize, talk: &Talk, offers: &[usize]) -> Vec<Whole> {
    let choices = offers.iter().filter_map(|at| Some((*at, talk.question.choices.get(*at)?)));
    let whole = choices.map(|(at, choice)| {
        let (number, words) = offer_words(at, choice);
        (at, number, wrap(&words, columns.saturating_sub(7)))
    });
    whole.collect()
}

fn rows_of(whole: &[Whole]) -> usize {
    whole.iter().map(|(_, _, lines)| lines.len()).sum()
}

/// All offers, none of them cut.
fn uncut(pen: &mut Pen<'_>, mut row: usize, whole: &[Whole], marked: Option<usize>) {
    for (at, number, lines) in whole {
        for (part, line) in lines.iter().enumerate() {
            offer(pen, row, (Some(*number).filter(|_| part == 0), line), tone(*at, marked));
            row += 1;
        }
    }
}

fn tone(at: usize, marked: Option<usize>) -> Tone {
    if Some(at) == marked { Tone::Here } else { Tone::Plain }
}

/// One row of an offer, the first with its number.
fn offer(pen: &mut Pen<'_>, row: usize, (number, words): (Option<usize>, &str), tone: Tone) {
    let here = tone == Tone::Here;
    if here {
        pen.wash(row, tone);
    }
    let key = if here { tone } else { Tone::Key };
    let end = pen.width().saturating_sub(1);
    let x = number.map_or(5, |number| pen.put(3, row, &format!("{number:>2}"), key));
    pen.cut_in((x + 1, row), words, end, tone);
}

/// The number that chooses an offer, and its words. Numbers of entries stay; words that are keys stand behind the number of
/// their line.
fn offer_words(at: usize, choice: &Choice) -> (usize, String) {
    match (choice.key.parse::<usize>(), choice.key.is_empty()) {
        (Ok(number), _) => (number, choice.words.clone()),
        (Err(_), true) => (at + 1, choice.words.clone()),
        (Err(_), false) => (at + 1, format!("{}, {}", choice.key, choice.words)),
    }
}

/// What was asked, short: without the subject that the title names, up to the first comma, bracket or example.
fn short(asked: &str, title: &str) -> String {
    let subject = title.split(": ").next().unwrap_or_default();
    let asked = asked.strip_prefix(subject).and_then(|rest| rest.strip_prefix(", ")).unwrap_or(asked);
    let end = [" (", ", ", "; ", ": "].iter().filter_map(|mark| asked.find(mark)).min();
    asked.get(..end.unwrap_or(asked.len())).unwrap_or(asked).to_owned()
}
