//! Decide and sign, and close: what is signed stands on the screen, the name is typed, length and hash come from the disk.

use crate::domain::checklist::{Signing, Takes};
use crate::domain::gate;
use crate::domain::request::Request;
use crate::domain::review::{self, Difference};
use crate::domain::signing::{self, Seal};
use crate::domain::telling::counted;
use crate::domain::watch::Watch;

use super::super::acts::{besides_in_words, worst_in_words};
use super::super::asking;
use super::super::effect::{Effect, Query};
use super::super::job::Job;
use super::super::look::Tone;
use super::super::model::Model;
use super::super::pen::{Pen, width, wrap};
use super::super::widget::scrolled;
use super::{asked, bench};

/// Columns that the name can be typed in, in the narrowest window.
const FIELD: usize = 10;

/// Enter: with the name in the field, asks the disk for what is signed.
pub fn enter(model: &mut Model) -> Vec<Effect> {
    let Some(job) = model.job() else { return Vec::new() };
    if job.is_step_settled() && job.field().trim().is_empty() {
        bench::next_step(model);
        return Vec::new();
    }
    let name = job.name(&job.by);
    if !job.at_hand(model.now.stamp).signs(job.field()) {
        let typed = job.field().trim();
        let words = if typed.is_empty() {
            format!("To sign, type the name in full: {name}. Another one signs? Esc 9 says who is here.")
        } else {
            format!("{} To sign, type {name}.", job.at_hand(model.now.stamp).not_signed(typed))
        };
        model.say(Tone::Watch, words);
        return Vec::new();
    }
    if !job.saving.waiting().is_empty() {
        model.say(Tone::Bad, "Not everything is on the disk yet. Nothing is signed before it is: Enter again.");
        return vec![Effect::Retry];
    }
    vec![Effect::Ask(Box::new(Query::Seal))]
}

/// The disk has said length, hash and which photos are lost: what is to be carried on is asked for, then the signature is
/// made.
pub fn sealed(model: &mut Model, seal: Seal) -> Vec<Effect> {
    let Some(job) = model.job_mut() else { return Vec::new() };
    let Some(Takes::Sign(what)) = job.step().map(|step| step.takes.clone()) else { return Vec::new() };
    let asked = job.carried.take().filter(|_| job.files.lost == seal.lost);
    let Some(carried) = asked else {
        job.files.lost = seal.lost;
        let title = "signed all the same: carried on by name, one by one; Esc goes back";
        return asked::open(model, asked::Purpose::Sign(what), title);
    };
    let effects = asking::ask(model, Request::Sign { what, seal, carried });
    if let (false, Some(job)) = (effects.is_empty(), model.job_mut()) {
        job.field_mut().0.take();
    }
    effects
}

/// Whether entries that a signature does not cover came after it.
fn is_grown(job: &Job) -> bool {
    job.step().is_some_and(|step| signing::is_to_sign_again(&job.inspection, step))
}

/// Parts that stand otherwise now than was signed: `bush, compressor: signed as reuse, now replace`.
fn changed(job: &Job) -> Vec<String> {
    if is_grown(job) {
        review::since(&job.inspection, &job.standing).iter().map(Difference::since_words).collect()
    } else {
        Vec::new()
    }
}

/// Right above the name: what was left half answered is in no record, and signed over it would stay so.
pub fn half_answered(job: &Job) -> Option<String> {
    let (step, title, more) = first_and_more(job.half_answered())?;
    let part = job.inspection.head().checklist.part(&step.part).map_or(step.part.as_str(), |part| &part.short);
    Some(format!("? half answered{more}: {part}: {title}"))
}

/// What was left half answered at the step itself.
pub fn half_answered_here(job: &Job) -> Option<String> {
    let here = job.step()?;
    let (_, title, more) = first_and_more(job.half_answered().filter(|(step, _)| step.id == here.id))?;
    Some(format!("? half answered{more}: {title}; it opens as it was left"))
}

/// The first that was left, and `, and 2 more`.
fn first_and_more<S, T>(mut left: impl Iterator<Item = (S, T)>) -> Option<(S, T, String)> {
    let (step, title) = left.next()?;
    let more = left.count();
    Some((step, title, if more > 0 { format!(", and {more} more") } else { String::new() }))
}

/// The field for the name.
pub fn now_line(pen: &mut Pen<'_>, y: usize, job: &Job) {
    let again = is_grown(job);
    if job.is_step_settled() && !again && job.field().is_empty() {
        let whole = "signed. Enter: next step. Esc 0: more, such as a key or a new plan";
        pen.put_fitting((3, y), &[whole, "signed. Enter: next step. Esc 0: more"], Tone::Strong);
        return;
    }
    let asked = if again {
        ["changed since; name to sign again", "changed; sign again"]
    } else {
        ["type the name to sign", "sign"]
    };
    let tone = if again { Tone::Watch } else { Tone::Strong };
    // the field is never crowded out
    let end = pen.width().saturating_sub(FIELD + 6);
    let words = asked.map(|asked| format!("{asked}: {}", job.name(&job.by)));
    let fits = words.iter().find(|words| width(words) + 3 <= end).or(words.last());
    let x = pen.cut_in((3, y), fits.map_or("", String::as_str), end, tone);
    let x = x.max(36.min(end)) + 1;
    bench::field(pen, (x, y), pen.width().saturating_sub(x + 5).min(30), job.field());
}

/// ```text
///  signed are the decisions on each part: opens the rebuild
///  41 of 41 judged, 5 holds, 7 parts within
///  X Main thrust: replace; new part to check. taper to flat: 2.37 at land 3 ...
///    ...
/// ```
pub fn view(pen: &mut Pen<'_>, job: &Job, what: Signing) {
    let holds = job.standing.holds_in_words();
    let first = match what {
        Signing::Decisions => "signed are the decisions on each part: opens the rebuild",
        Signing::Close => "signed is the end; Enter asks to carry on each hold by name",
    };
    let counts = &job.standing.counts;
    let mut told = worst_in_words(&job.standing);
    let within = job.standing.parts.iter().filter(|part| part.is_within()).count();
    let (held, within) = (counted(holds.len(), "hold"), counted(within, "part"));
    let words = format!("{} of {} judged, {held}, {within} within", counts.judged, counts.characteristics);
    told.extend(besides_in_words(&job.inspection, &job.standing, what));
    let watch = Watch::over(&job.inspection, &job.by, u32::MAX);
    let signs = format!("{}{watch} signs", job.name(&job.by));
    let watched = match watch {
        Watch::NotNeeded => None,
        Watch::Nobody => Some(format!("! {signs}. Who watches? Esc 0 names a mentor.")),
        Watch::By(_) => Some(format!("~ {signs}.")),
        Watch::Claimed(_) => Some(format!("! {signs}: claimed until who watches has signed or countersigned.")),
    };
    told.splice(0..0, watched);
    let left = job.half_answered().map(|(step, title)| {
        let name = gate::step_name(&job.inspection, step);
        format!("? Half answered, in no record: {name}: {title}. Esc 6 leads there.")
    });
    told.splice(0..0, left);
    told.splice(0..0, changed(job).into_iter().map(|words| format!("? {words}")));
    let columns = pen.width().saturating_sub(4);
    let wrapped = |words: &str, tone: Tone, on: usize| {
        let lines = wrap(words, columns).into_iter().enumerate();
        lines
            .map(|(row, line)| (if row > 0 { on } else { 1 }, line, if row > 0 { Tone::Plain } else { tone }))
            .collect::<Vec<_>>()
    };
    let heads = [wrapped(first, Tone::Strong, 1), wrapped(&words, Tone::Plain, 1)].concat();
    let told = told.iter().flat_map(|line| {
        let tone = if line.starts_with(['X', '/', '!']) { Tone::Bad } else { Tone::Watch };
        wrapped(line, tone, 3)
    });
    // what it says of itself stays in sight where there is room for the parts too
    let fixed = if heads.len() + LEAST > pen.height() { 0 } else { heads.len() };
    let lines: Vec<_> = heads.iter().skip(fixed).cloned().chain(told).collect();
    scrolled::draw(&mut pen.rows(0, fixed), heads.get(..fixed).unwrap_or_default(), 0);
    let room = pen.height().saturating_sub(fixed);
    scrolled::draw(&mut pen.rows(fixed, room), &lines, job.scroll);
}

/// Rows for the parts that stand otherwise than within.
const LEAST: usize = 3;
