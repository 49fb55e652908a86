//! Who is here: who reads and stands for it, who writes.

use crate::domain::id::Id;

use super::super::job::Lower;
use super::super::look::Tone;
use super::super::model::Model;
use super::deed;

/// Other hands from now on.
pub fn change(model: &mut Model, by: Id, writer: Option<Id>) {
    let now = model.now.stamp;
    let Some(job) = model.job_mut() else { return };
    job.by = by;
    job.writer = writer;
    job.look_at_gate(now);
    job.lower = Lower::default();
    job.open_lower();
    let words = hands(job);
    model.say(Tone::Good, words);
    deed::ask_safe_again(model);
}

/// `fitter A reads, fitter C writes`.
pub fn hands(job: &super::super::job::Job) -> String {
    let late = job.late.as_ref().map(|late| format!("  LATE FROM PAPER, {}", late.taken)).unwrap_or_default();
    match &job.writer {
        Some(writer) => format!("{} reads, {} writes{late}", job.name(&job.by), job.name(writer)),
        None => format!("{} reads and writes{late}", job.name(&job.by)),
    }
}
