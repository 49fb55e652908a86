//! All steps: how far each is, found by typing a few letters; Enter goes there.

use crate::domain::checklist::Step;
use crate::domain::progress::{self, StepState};
use crate::domain::signing;

use super::super::action::Action;
use super::super::acts::found;
use super::super::effect::Effect;
use super::super::field::Field;
use super::super::form::Go;
use super::super::input::Key;
use super::super::job::Job;
use super::super::look::Tone;
use super::super::model::{Model, Overlay};
use super::super::pen::{Pen, width};
use super::bench::name_in;
use super::way;

/// The list and its search.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Steps {
    /// A few letters of the part, the step or the phase, or of what it says.
    pub search: Field,
    /// The line that Enter opens.
    pub marked: usize,
}

/// Opens it with the present step marked.
pub fn open(model: &mut Model) {
    let Some(job) = model.job() else { return };
    let here = job.step().map(|step| step.id.clone()).unwrap_or_default();
    let marked = progress::steps(&job.inspection).position(|step| step.id == here).unwrap_or(0);
    model.open(Overlay::Steps(Box::new(Steps { search: Field::default(), marked })));
}

/// Keys of the list.
pub fn act(model: &mut Model, mut steps: Box<Steps>, action: Action, key: Key) -> Vec<Effect> {
    let Some(job) = model.job() else { return Vec::new() };
    let list = found(&job.inspection, steps.search.text());
    let last = list.len().saturating_sub(1);
    let by = if action == Action::Scroll { 10 } else { 1 };
    if action == Action::Line || action == Action::Scroll {
        steps.marked = match way(key) {
            Go::Back => steps.marked.saturating_sub(by),
            Go::On => (steps.marked + by).min(last),
        };
    }
    if action == Action::Open
        && let Some(step) = list.get(steps.marked).map(|step| step.id.clone())
    {
        go(model, &step);
        return Vec::new();
    }
    if action != Action::Back {
        model.overlays.push(Overlay::Steps(steps));
    }
    Vec::new()
}

/// To a step chosen by hand; where the hand was stands as it was, and the way back is told, in one line: a second one
/// would stand where the step says from which end it is seen.
fn go(model: &mut Model, step: &str) {
    let now = model.now.stamp;
    let Some(job) = model.job_mut() else { return };
    let left = job.step().filter(|left| left.id != step).map(|left| name_in(job, left, 48));
    job.go_to(step, now);
    // a wait whose time is over is told there, and waits for nobody
    let soaks = !progress::soaking(&job.inspection).is_empty();
    if let Some(left) = left.filter(|_| !soaks) {
        model.say(Tone::Plain, format!("Esc 6 leads back to {}.", super::super::pen::wrap(&left, 52).swap_remove(0)));
    }
}

/// Sign and words of a state.
pub fn state_words(state: &StepState) -> (char, String, Tone) {
    match state {
        StepState::ToDo => (' ', "to do".to_owned(), Tone::Plain),
        StepState::Partly { done, of } => ('~', format!("{done} of {of}"), Tone::Strong),
        StepState::Running { since } => ('~', format!("since {}", since.clock()), Tone::Watch),
        StepState::Done => ('+', "done".to_owned(), Tone::Good),
        StepState::Skipped => ('-', "skipped".to_owned(), Tone::Watch),
        StepState::NotApplicable => ('-', "not here".to_owned(), Tone::Quiet),
        StepState::NotAsked => ('.', "not asked".to_owned(), Tone::Quiet),
    }
}

/// Columns that the step keeps of its own name behind its part's.
const OWN: usize = 14;

/// Part and step; where next to nothing would be left of the step, it stands first: others are of the same part.
fn told_apart(job: &Job, step: &Step, columns: usize) -> String {
    let name = name_in(job, step, columns);
    match name.split_once(" / ") {
        Some((part, title)) if width(&name) > columns && width(part) + 3 + OWN > columns => format!("{title} / {part}"),
        Some(_) | None => name,
    }
}

/// ```text
/// -- all steps: type a few letters -------------------------------------------
///  [ clear_            ]                                       4 of 62 steps
///   31 ~ Bush, turbine side / clearance by lift      measure      17 of 24
/// ```
pub fn view(pen: &mut Pen<'_>, job: &Job, steps: &Steps) {
    pen.clear();
    pen.rule(0, "all steps: type a few letters of the part, the step or the phase");
    let list = found(&job.inspection, steps.search.text());
    let all = progress::steps(&job.inspection).count();
    pen.put(1, 1, "[ ", Tone::Plain);
    let x = pen.put(3, 1, &format!("{}_", steps.search.text()), Tone::Field);
    pen.put(x.max(30), 1, " ]", Tone::Plain);
    pen.right(1, 1, &format!("{} of {all} steps", list.len()), Tone::Plain);
    let room = pen.height().saturating_sub(2).max(1);
    let first = (steps.marked + room / 2 + 1).saturating_sub(room).min(list.len().saturating_sub(room));
    for (row, (number, step)) in list.iter().enumerate().skip(first).take(room).enumerate() {
        let (sign, words, tone) = if signing::remarks_at(&job.inspection, &step.id).is_empty() {
            state_words(&progress::state(&job.inspection, step))
        } else {
            ('!', "sent back".to_owned(), Tone::Watch)
        };
        let here = number == steps.marked;
        let y = row + 2;
        if here {
            pen.wash(y, Tone::Here);
        }
        let tone = if here { Tone::Here } else { tone };
        let (position, _) = progress::position(&job.inspection, &step.id);
        let plain = if here { Tone::Here } else { Tone::Plain };
        let end = pen.width();
        pen.put(1, y, &format!("{position:>3} "), plain);
        pen.put(5, y, &sign.to_string(), tone);
        let x = pen.right(1, y, &words, tone).min(end.saturating_sub(11));
        // the part gives its short name for the phase to stand beside it; the step is named whole before that
        let phase = step.phase.title();
        let from = x.saturating_sub(width(phase) + 2);
        let beside = name_in(job, step, from.saturating_sub(9));
        let (name, to) = if width(&beside) + 9 > from {
            (told_apart(job, step, x.saturating_sub(9)), x.saturating_sub(2))
        } else {
            pen.put(from, y, phase, if here { Tone::Here } else { Tone::Quiet });
            (beside, from.saturating_sub(2))
        };
        pen.cut_in((7, y), &name, to, plain);
    }
    if list.is_empty() {
        pen.put(3, 3, "No step has a word that begins so. Backspace takes letters out.", Tone::Watch);
    }
}
