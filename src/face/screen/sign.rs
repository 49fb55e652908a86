//! Decide and sign, and close: what is signed stands on the screen, the name is typed, length and hash come from the disk.

use crate::domain::checklist::{Signing, Takes};
use crate::domain::entry::Act;
use crate::domain::request::Request;
use crate::domain::signing::{self, Seal};
use crate::domain::verdict::Verdict;

use super::super::asking;
use super::super::effect::{Effect, Query};
use super::super::job::Job;
use super::super::look::Tone;
use super::super::model::Model;
use super::super::pen::Pen;
use super::super::shown;
use super::bench;

/// Enter: with the name in the field, asks the disk for what is signed.
pub fn enter(model: &mut Model) -> Vec<Effect> {
    let Some(job) = model.job() else { return Vec::new() };
    if job.is_step_settled() && job.field().trim().is_empty() {
        bench::next_step(model);
        return Vec::new();
    }
    let name = job.name(&job.by);
    if !job.field().trim().eq_ignore_ascii_case(&name) {
        let words = format!("To sign, type the name in full: {name}. Another one signs? Esc 9 says who is here.");
        model.say(Tone::Watch, words);
        return Vec::new();
    }
    if !job.saving.waiting().is_empty() {
        model.say(Tone::Bad, "Not everything is on the disk yet. Nothing is signed before it is: Enter again.");
        return vec![Effect::Retry];
    }
    vec![Effect::Ask(Box::new(Query::Seal))]
}

/// The disk has said length and hash: the signature is made.
pub fn sealed(model: &mut Model, (length, sha256): (u64, String)) -> Vec<Effect> {
    let Some(job) = model.job() else { return Vec::new() };
    let Some(Takes::Sign(what)) = job.step().map(|step| step.takes.clone()) else { return Vec::new() };
    let carried = match what {
        Signing::Decisions => Vec::new(),
        Signing::Close => job.standing.holds_in_words(),
    };
    let seal = Seal { length, sha256 };
    let signature = signing::signature(&job.inspection, &job.standing, what, (seal, carried));
    let effects = asking::ask(model, Request::Do(Act::Sign(signature)));
    if let (false, Some(job)) = (effects.is_empty(), model.job_mut()) {
        job.field_mut().0.take();
    }
    effects
}

/// The field for the name.
pub fn now_line(pen: &mut Pen<'_>, y: usize, job: &Job) {
    if job.is_step_settled() && job.field().is_empty() {
        pen.put(3, y, "signed. Enter: next step. Esc 0 signs it with a key too, or plans anew", Tone::Strong);
        return;
    }
    let x = pen.put(3, y, &format!("type the name to sign: {}", job.name(&job.by)), Tone::Strong);
    bench::field(pen, (x.max(36) + 1, y), 30, job.field());
}

/// ```text
///  this opens the rebuild                              41 of 41 judged, 5 holds
///  X replace   ? new part to check   bush, turbine     0.214, alert 0.210
///  + within, 7 parts: ...
/// ```
pub fn view(pen: &mut Pen<'_>, job: &Job, what: Signing) {
    let holds = job.standing.holds_in_words();
    let first = match what {
        Signing::Decisions => "signed are the decisions on each part; this opens the rebuild",
        Signing::Close => "signed is the end of the job; every hold is carried on by name",
    };
    pen.put(1, 0, first, Tone::Strong);
    let counts = &job.standing.counts;
    let words = format!("{} of {} judged, {} holds", counts.judged, counts.characteristics, holds.len());
    pen.put(1, 1, &words, Tone::Plain);
    let mut parts: Vec<_> = job.standing.parts.iter().filter(|part| part.verdict != Verdict::default()).collect();
    parts.sort_by_key(|part| std::cmp::Reverse(part.verdict.disposition));
    let room = pen.height().saturating_sub(3);
    let skipped = job.scroll.min(parts.len().saturating_sub(room));
    for (row, part) in parts.iter().skip(skipped).take(room).enumerate() {
        let (words, hold, tone) = shown::part_words(&part.verdict, part.judged);
        let end = pen.width().saturating_sub(1);
        pen.put(1, row + 2, &words, tone);
        pen.cut_in((11, row + 2), &hold, 32, Tone::Watch);
        pen.cut_in((33, row + 2), &part.short, 50, Tone::Plain);
        let reason = part.reasons.first().cloned().unwrap_or_default();
        pen.cut_in((51, row + 2), &reason, end, Tone::Plain);
    }
    let within = job.standing.parts.len() - parts.len();
    let more = parts.len().saturating_sub(room + skipped);
    let more = if more > 0 { format!("; {more} more, PgDn") } else { String::new() };
    let y = parts.len().min(room) + 2;
    pen.put(1, y, &format!("+ within: {within} parts{more}"), Tone::Good);
}
