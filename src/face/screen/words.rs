//! A step that takes a sentence.

use crate::domain::entry::Act;
use crate::domain::request::Request;

use super::super::asking;
use super::super::effect::Effect;
use super::super::job::Job;
use super::super::look::Tone;
use super::super::model::Model;
use super::super::pen::Pen;
use super::{bench, tick};

/// Enter: keeps the sentence.
pub fn enter(model: &mut Model) -> Vec<Effect> {
    let Some(job) = model.job() else { return Vec::new() };
    let Some(step) = job.step() else { return Vec::new() };
    let text = job.field().trim().to_owned();
    if text.is_empty() {
        if job.is_step_settled() {
            bench::next_step(model);
        } else {
            model.say(
                Tone::Watch,
                "A sentence is wanted. Type it, then Enter; Esc 4 leaves the step out with a reason.",
            );
        }
        return Vec::new();
    }
    let act = Act::Note { step: Some(step.id.clone()), text: step.sentence(&text) };
    asking::ask(model, Request::Do(act))
}

/// The field, as wide as the screen.
pub fn now_line(pen: &mut Pen<'_>, y: usize, job: &Job) {
    if job.is_step_settled() && job.field().is_empty() {
        tick::put_settled(pen, y, &format!("{}; or type more", tick::settled(job, "noted")));
        return;
    }
    let columns = pen.width().saturating_sub(9);
    bench::field(pen, (3, y), columns, job.field());
    if job.field().is_empty() {
        pen.put(6, y, "your words", Tone::Quiet);
    }
}

/// What was written so far, and below it the words that are offered.
pub fn view(pen: &mut Pen<'_>, job: &Job) {
    let used = tick::entries(pen, job, 0);
    let Some(step) = job.step().filter(|step| !step.offers.is_empty()) else { return };
    let first = if used > 0 { used + 1 } else { 0 };
    pen.put(1, first, "Your own words, a number, or number, colon and what shows it", Tone::Quiet);
    for (row, words) in step.offers.iter().enumerate() {
        pen.put(3, first + 1 + row, &format!("{} {words}", row + 1), Tone::Plain);
    }
}
