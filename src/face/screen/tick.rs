//! A step that is done or not.

use crate::domain::entry::{Act, Entry};
use crate::domain::progress::{self, StepState};
use crate::domain::request::Request;
use crate::domain::telling;

use super::super::asking;
use super::super::effect::Effect;
use super::super::job::{Job, Lower};
use super::super::look::Tone;
use super::super::model::Model;
use super::super::pen::{Pen, middle_cut, width, wrap};
use super::super::widget::scrolled;
use super::lower::prose;
use super::{bench, small};

/// Enter: done; once more goes on.
pub fn enter(model: &mut Model) -> Vec<Effect> {
    let Some(job) = model.job() else { return Vec::new() };
    let Some(step) = job.step() else { return Vec::new() };
    if job.is_step_settled() {
        bench::next_step(model);
        return Vec::new();
    }
    let act = Act::Tick { step: step.id.clone() };
    asking::ask(model, Request::Do(act))
}

/// What Enter does now.
pub fn now_line(pen: &mut Pen<'_>, y: usize, job: &Job) {
    if job.is_step_settled() {
        put_settled(pen, y, &settled(job, "done"));
        return;
    }
    let (name, end) = (job.name(&job.by), pen.width().saturating_sub(1));
    let whole = |asked: &&str| 3 + width(asked) + 2 + width(&stands_for_it(&name, usize::MAX)) <= end;
    let asked = ["done? Enter says so", "done? Enter:"].into_iter().find(whole).unwrap_or("Enter:");
    let x = pen.put(3, y, asked, Tone::Strong) + if asked.ends_with(':') { 1 } else { 2 };
    pen.put(x, y, &stands_for_it(&name, end.saturating_sub(x)), Tone::Plain);
}

/// `fitter A stands for it`; a long name gives way in its middle.
pub fn stands_for_it(name: &str, columns: usize) -> String {
    const IT: &str = " stands for it";
    format!("{}{IT}", middle_cut(name, columns.saturating_sub(IT.len())))
}

/// How a step came to keep nobody waiting, and that Enter goes on; `done` where nothing was left out.
pub fn settled(job: &Job, done: &str) -> String {
    let state = job.step().map(|step| progress::state(&job.inspection, step));
    let how = match state {
        Some(StepState::Skipped) => "left out with a reason: Esc 1 strikes that",
        Some(StepState::NotApplicable | StepState::NotAsked) => "not wanted here",
        Some(StepState::ToDo | StepState::Partly { .. } | StepState::Running { .. } | StepState::Done) | None => done,
    };
    format!("{how}. Enter: next step")
}

/// That in the line of what is wanted; a narrow window says what Enter does.
pub fn put_settled(pen: &mut Pen<'_>, y: usize, words: &str) {
    pen.put_fitting((3, y), &[words, "left out. Enter: next step"], Tone::Strong);
}

/// What was entered at this step so far, and how it is done where the lower half does not say so; in a small window, which has
/// no other place for it, what is to be done before that.
pub fn view(pen: &mut Pen<'_>, model: &Model, job: &Job) {
    let used = entries(pen, job, 0);
    let below = job.lower == Lower::How || job.lower == Lower::Why && job.is_learning();
    let Some(step) = job.step().filter(|_| !below) else { return };
    let lines = [small::doing(model, step), &step.how].map(|lines| prose(lines, pen.width())).concat();
    let lines: Vec<_> = lines.into_iter().map(|line| (1, line, Tone::Plain)).collect();
    let first = if used > 0 { used + 1 } else { 0 };
    let room = pen.height().saturating_sub(first);
    let scroll = if job.lower == Lower::Judged { job.scroll } else { 0 };
    scrolled::draw(&mut pen.rows(first, room), &lines, scroll);
}

/// Every entry of the step, oldest first.
pub fn of_step(job: &Job) -> Vec<&Entry> {
    let Some(step) = job.step() else { return Vec::new() };
    job.inspection.entries().iter().filter(|entry| entry.act.step() == Some(&step.id)).collect()
}

/// Entries of the step, oldest first; says how many rows they took.
pub fn entries(pen: &mut Pen<'_>, job: &Job, y: usize) -> usize {
    let columns = pen.width().saturating_sub(TEXT + 1);
    let told = of_step(job).into_iter().map(|entry| {
        let struck = telling::no_more(&job.inspection, entry, |by| format!(" (struck by {by})"));
        let lines = wrap(&format!("{}{struck}", telling::of_entry(&job.inspection, entry)), columns);
        let tone = if struck.is_empty() { Tone::Plain } else { Tone::Quiet };
        (format!("{:>4}  {}", entry.number, entry.at.clock()), lines, tone)
    });
    let told: Vec<_> = told.collect();
    let room = pen.height().saturating_sub(y);
    // the last ones where not all fit, each whole, and how many came before
    let all: usize = told.iter().map(|(_, lines, _)| lines.len()).sum();
    let mut left = if all > room { room.saturating_sub(1) } else { room };
    let fits = told.iter().rev().take_while(|(_, lines, _)| {
        let fits = lines.len() <= left;
        left = left.saturating_sub(lines.len());
        fits
    });
    let earlier = told.len().saturating_sub(fits.count());
    let mut row = y;
    if earlier > 0 && room > 0 {
        pen.put(1, row, &format!("      {earlier} earlier: Esc 0 reads them"), Tone::Quiet);
        row += 1;
    }
    for (head, lines, tone) in told.iter().skip(earlier) {
        pen.put(1, row, head, *tone);
        for line in lines {
            pen.put(TEXT, row, line, *tone);
            row += 1;
        }
    }
    row - y
}

/// The column of what an entry says, behind its number and the time.
const TEXT: usize = 14;
