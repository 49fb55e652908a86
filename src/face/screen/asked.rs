//! Forms over a step: a few answers that become one entry. Each purpose has its file; here: keys, drawing, the end.

use crate::domain::checklist::FindingKind;
use crate::domain::instrument::GaugeKind;
use crate::domain::request::Request;
use crate::records::store::HalfForm;

use super::super::action::Action;
use super::super::asking;
use super::super::effect::{Effect, Query};
use super::super::field::Field;
use super::super::form::{Form, Need, Step};
use super::super::half;
use super::super::input::Key;
use super::super::look::Tone;
use super::super::model::{Model, Overlay};
use super::super::pen::{Pen, tail, width};
use super::{finding, gauge, hands, note, photo, saving, skip, stop, strike, way};

/// What the answers become.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Purpose {
    /// A strike; entry numbers by line of the first answer.
    Strike(Vec<u32>),
    /// A gauge not known yet.
    Gauge(GaugeKind),
    /// A finding on a part.
    Finding(String, Box<FindingKind>),
    /// A place or a step left out.
    Skip(skip::What),
    /// A part held with a question.
    Call(String),
    /// The answer to that question: the call's entry.
    Answer(u32),
    /// A note, or figures from paper.
    Note,
    /// A picture.
    Photo,
    /// Who reads and who writes.
    Hands,
    /// Another folder for the record.
    Move,
    /// A copy elsewhere.
    Copy,
}

/// A form with its purpose.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Asked {
    /// What the answers become.
    pub purpose: Purpose,
    /// The answers.
    pub form: Form,
}

/// What a finished form asks for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Finish {
    /// These, in turn.
    Requests(Vec<Request>),
    /// Something from the files.
    Query(Query),
    /// Nothing more: the model was changed.
    Done,
    /// Not so: the line that is wrong, and why.
    Wrong(usize, String),
}

/// Opens a form.
pub fn open(model: &mut Model, purpose: Purpose, form: Form) {
    let left = model.job_mut().and_then(|job| job.take_up(&form.title));
    model.open(Overlay::Form(Box::new(Asked { purpose, form })));
    if let Some(left) = left {
        fill(model, &left);
    }
}

/// Puts kept answers into the open form, laying out anew the lines that follow from each.
pub fn fill(model: &mut Model, half: &HalfForm) {
    for (number, text) in half.answers.iter().enumerate() {
        if let Some(Overlay::Form(asked)) = model.overlays.last_mut()
            && let Some(line) = asked.form.lines.get_mut(number)
        {
            line.field = Field::holding(text);
        }
        grow(model);
    }
    if let Some(Overlay::Form(asked)) = model.overlays.last_mut() {
        asked.form.at = usize::try_from(half.at).unwrap_or(0).min(asked.form.lines.len().saturating_sub(1));
    }
}

/// Lays out anew the lines that follow from an answer.
pub fn grow(model: &mut Model) {
    if let Some(Overlay::Form(asked)) = model.overlays.last_mut()
        && asked.purpose == Purpose::Note
    {
        note::grow(&mut asked.form);
    }
}

/// Keys of a form.
pub fn act(model: &mut Model, mut asked: Box<Asked>, action: Action, key: Key) -> Vec<Effect> {
    if action == Action::Back {
        // which entry a number means changes; every other answer is found again
        if !matches!(asked.purpose, Purpose::Strike(_))
            && let Some(job) = model.job_mut()
        {
            job.lay_aside(&asked.form.title, half::of_form(&asked.form, &[]));
        }
        return Vec::new();
    }
    if action == Action::Line {
        asked.form.go(way(key));
    }
    if action == Action::Other {
        asked.form.turn(way(key));
    }
    let finished = (action == Action::Answer).then(|| asked.form.enter());
    match finished {
        Some(Step::Finished) => finish(model, asked),
        Some(Step::Wrong(words)) => {
            model.say(Tone::Bad, words);
            model.overlays.push(Overlay::Form(asked));
            Vec::new()
        }
        Some(Step::Next) | None => {
            model.overlays.push(Overlay::Form(asked));
            grow(model);
            Vec::new()
        }
    }
}

fn finish(model: &mut Model, mut asked: Box<Asked>) -> Vec<Effect> {
    let form = &asked.form;
    let finish = match &asked.purpose {
        Purpose::Strike(entries) => strike::finish(entries, form),
        Purpose::Gauge(kind) => gauge::finish(model, *kind, form),
        Purpose::Finding(part, kind) => finding::finish(model, part, kind, form),
        Purpose::Skip(what) => skip::finish(what, form),
        Purpose::Call(part) => stop::finish(part, form),
        Purpose::Answer(entry) => stop::finish_answer(*entry, form),
        Purpose::Note => note::finish(model, form),
        Purpose::Photo => photo::finish(form),
        Purpose::Hands => hands::finish(model, form),
        Purpose::Move | Purpose::Copy => saving::finish(&asked.purpose, form),
    };
    match finish {
        Finish::Requests(requests) => {
            let effects = asking::ask_all(model, requests);
            // refused: the answers stay
            if effects.is_empty() && !matches!(model.overlays.last(), Some(Overlay::Question(_))) {
                model.overlays.push(Overlay::Form(asked));
            } else {
                hands::settle(model, &asked);
                gauge::settle(model, &asked);
            }
            effects
        }
        Finish::Query(query) => {
            model.say(Tone::Plain, "at it");
            vec![Effect::Ask(Box::new(query))]
        }
        Finish::Done => Vec::new(),
        Finish::Wrong(line, words) => {
            asked.form.at = line;
            model.say(Tone::Bad, words);
            model.overlays.push(Overlay::Form(asked));
            Vec::new()
        }
    }
}

/// ```text
/// -- strike an entry ---------------------------------------------------------
///   which                 12  inner 0, second up: 0.230 mm
/// > why                  [ 2_                                              ]
///      1 typed wrong   2 wrong place   3 wrong gauge   4 slipped
/// ```
pub fn view(pen: &mut Pen<'_>, form: &Form) {
    pen.clear();
    pen.rule(0, &form.title);
    let label = form.lines.iter().map(|line| width(&line.label)).max().unwrap_or(0).min(34);
    let field = label + 6;
    let choices = form.line().map_or(0, |line| line.choices.len().min(6) + 1);
    let room = pen.height().saturating_sub(1 + choices);
    let first = (form.at + 1).saturating_sub(room.max(1));
    let mut row = 1;
    for (number, line) in form.lines.iter().enumerate().skip(first) {
        if row >= pen.height() {
            break;
        }
        let here = number == form.at;
        let tone = if here { Tone::Strong } else { Tone::Plain };
        if here {
            let mark = pen.glyphs().here.to_string();
            pen.put(1, row, &mark, Tone::Strong);
        }
        pen.cut_in((3, row), &line.label, field - 1, tone);
        row = if here { draw_field(pen, row, field, line) } else { draw_answer(pen, row, field, line) };
    }
}

fn draw_answer(pen: &mut Pen<'_>, row: usize, x: usize, line: &super::super::form::Line) -> usize {
    let end = pen.width().saturating_sub(1);
    match (line.answer(), line.need) {
        (Some(answer), _) => pen.cut_in((x, row), &answer, end, Tone::Strong),
        (None, Need::Later) => pen.put(x, row, "later", Tone::Watch),
        (None, Need::Wanted | Need::Free) => pen.put(x, row, "-", Tone::Quiet),
    };
    row + 1
}

fn draw_field(pen: &mut Pen<'_>, row: usize, x: usize, line: &super::super::form::Line) -> usize {
    let end = pen.width().saturating_sub(1);
    let room = end.saturating_sub(x + 5).max(1);
    let shown = tail(line.field.text(), room);
    pen.put(x, row, "[ ", Tone::Plain);
    pen.put(x + 2, row, &format!("{shown}_"), Tone::Field);
    pen.put(end.saturating_sub(1), row, "]", Tone::Plain);
    let mut next = row + 1;
    let hint = match line.need {
        Need::Later if line.hint.is_empty() => "empty: later, and held until given".to_owned(),
        Need::Later => format!("{}; empty: later", line.hint),
        Need::Wanted | Need::Free => line.hint.clone(),
    };
    if !hint.is_empty() {
        pen.cut_in((x + 2, next), &hint, end, Tone::Quiet);
        next += 1;
    }
    let chosen = line.chosen();
    for (number, choice) in line.choices.iter().enumerate().take(9) {
        let mine = chosen == Some(number);
        let tone = if mine { Tone::Here } else { Tone::Plain };
        let after = pen.put(x + 2, next, &format!("{} ", number + 1), Tone::Key);
        pen.cut_in((after, next), choice, end, tone);
        next += 1;
    }
    next
}
