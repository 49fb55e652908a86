//! A step at which something may be seen: a finding by number, or "looked, nothing found", which is an entry too.

use crate::domain::checklist::FindingKind;
use crate::domain::entry::Act;
use crate::domain::progress::{self, StepState};
use crate::domain::request::Request;
use crate::domain::standing::wants_picture;

use super::super::asking;
use super::super::effect::Effect;
use super::super::job::Job;
use super::super::look::Tone;
use super::super::model::Model;
use super::super::pen::{Pen, width};
use super::super::widget::listing;
use super::{bench, finding, tick};

/// Rows kept for what was entered at the step.
const ENTERED: usize = 3;

/// Rows of the marked line and of the one that says that nothing is seen.
pub const MARKED: usize = 2;

/// Enter: the marked line.
pub fn enter(model: &mut Model) -> Vec<Effect> {
    let Some(job) = model.job() else { return Vec::new() };
    let Some(step) = job.step() else { return Vec::new() };
    let part = job.inspection.head().checklist.part(&step.part);
    if part.is_some_and(|part| job.at() < part.findings.len()) {
        let (part, kind) = (step.part.clone(), job.at());
        return finding::chosen(model, &part, kind);
    }
    if progress::state(&job.inspection, step) == StepState::Done {
        bench::next_step(model);
        return Vec::new();
    }
    let act = Act::Looked { step: step.id.clone() };
    asking::ask(model, Request::Do(act))
}

/// What is asked.
pub fn now_line(pen: &mut Pen<'_>, y: usize, job: &Job) {
    let done = job.step().is_some_and(|step| progress::state(&job.inspection, step) == StepState::Done);
    let bare = job.step().is_some_and(|step| wants_picture(&job.inspection, step));
    let (words, short) = if bare {
        ("looked. Its picture: Esc 8. No camera: a note says so, Esc 7", "its picture: Esc 8, or Esc 7")
    } else if done {
        ("looked. The last line goes on to the next step", "looked")
    } else {
        ("what do you see? A digit. Nothing (more): arrow up, Enter", "what do you see? A digit")
    };
    pen.put_fitting((3, y), &[words, short], Tone::Strong);
}

/// ```text
///  1  scoring: light, deep or many
///  2  lining coming away: begun, large
///  3  looked, nothing (more) found      (always in sight, however many kinds there are)
///
///   12  07:40  scoring, light (place outer end)
/// ```
pub fn view(pen: &mut Pen<'_>, job: &Job) {
    let Some(step) = job.step() else { return };
    let part = job.inspection.head().checklist.part(&step.part);
    // the grades come with the question: they give way to the name of the kind
    let line = |kind: &FindingKind| {
        let said = finding::said(kind);
        if width(&said) + 6 > pen.width() { kind.kind.clone() } else { said }
    };
    let lines: Vec<(String, Tone)> =
        part.into_iter().flat_map(|part| step.kinds_of(part)).map(|kind| (line(kind), Tone::Plain)).collect();
    let done = progress::state(&job.inspection, step) == StepState::Done;
    let last = if done { "go on to the next step" } else { "looked, nothing (more) found" };
    // what was entered stays in sight below, however long the list
    let entered = tick::of_step(job).len();
    let kept = if entered == 0 { 0 } else { entered.min(ENTERED) + 1 };
    let kept = kept.min(pen.height().saturating_sub(MARKED));
    // and so does the line that says that nothing is: whoever finds nothing must not look for it
    let room = pen.height().saturating_sub(kept + 1);
    let at = Some(job.at()).filter(|at| *at < lines.len());
    let used = if lines.is_empty() { 0 } else { listing::draw(&mut pen.rows(0, room), 0, &lines, at) };
    let narrow = pen.width() < 60;
    let more = if used < lines.len() {
        format!("{used} of {}{}: arrows", lines.len(), if narrow { "" } else { " kinds" })
    } else {
        String::new()
    };
    // beside it the line says less in a narrow window
    let short = if done { "go on" } else { "nothing (more)" };
    let last = if narrow && !more.is_empty() { short } else { last };
    listing::line(pen, used, (lines.len(), last), if at.is_none() { Tone::Here } else { Tone::Strong });
    pen.right(1, used, &more, if at.is_none() { Tone::Here } else { Tone::Quiet });
    tick::entries(pen, job, used + 2);
}
