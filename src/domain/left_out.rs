//! What was left out, or insisted on, and leaves a question open although it judges nothing itself: a look, a wait, a
//! count, a torque, a condition of a test. A figure of the running machine that nobody could read is not among them.

use super::checklist::{Against, Grid, Judged, Step, Takes};
use super::entry::Act;
use super::inspection::{Doubted, Inspection};
use super::instrument::GaugeKind;
use super::phase::Phase;
use super::progress;
use super::standing::waved_off;

/// What stays open because it was left out, with the reason given; a step that this machine does not have leaves nothing.
pub fn open(inspection: &Inspection, step: &Step) -> Option<String> {
    if !is_missed(inspection, step) {
        return None;
    }
    if is_counted_elsewhere(inspection, step)
        && let Some(reason) = marked(inspection, step)
    {
        return Some(format!("not counted: {}, marked as not on this machine: {reason}", step.title));
    }
    if let Some(reason) = whole(inspection, step) {
        let what = if step.takes == Takes::Look { "not looked at" } else { "left out" };
        return Some(format!("{what}: {}, {reason}", step.title));
    }
    if let Some(who) = waved_off(inspection, step)
        && shows_state(inspection, step)
        && is_here(inspection, step)
    {
        return Some(format!("not done: {}, waved off by {who}", step.title));
    }
    let Takes::Readings(grid) = &step.takes else { return None };
    let cells = progress::cells(inspection, step);
    let left: Vec<_> = cells
        .iter()
        .filter(|cell| inspection.reading(&step.id, &cell.place()).is_none())
        .filter_map(|cell| Some((cell.spoken(), reason(inspection, step, Some(&cell.place()))?)))
        .collect();
    let (_, why) = left.last()?;
    let names: Vec<_> = left.iter().map(|(name, _)| name.as_str()).collect();
    // a joint without a torque is left out by name; a count with a gap in it proves nothing
    (grid.counts() || left.len() == cells.len())
        .then(|| format!("{}: left out: {}, {why}", step.title, names.join(", ")))
}

/// The reason why a whole step was left out.
pub fn whole<'a>(inspection: &'a Inspection, step: &Step) -> Option<&'a str> {
    reason(inspection, step, None)
}

/// Whether a doubt was insisted on in a figure that judges nothing, and on which a look or a verdict rests.
pub fn provisional(inspection: &Inspection, step: &Step) -> bool {
    let doubted = |place: &str| inspection.reading(&step.id, place).is_some_and(|one| one.doubted == Doubted::Yes);
    is_rested_on(step) && progress::cells(inspection, step).iter().any(|cell| doubted(&cell.place()))
}

fn is_rested_on(step: &Step) -> bool {
    let Takes::Readings(grid) = &step.takes else { return false };
    // a count that is not the first holds its part in its own words
    let counted = matches!(grid.against, Some(Against::Equal(_)));
    is_at_the_bench(step.phase) && step.judges.is_empty() && !counted
}

/// Whether a verdict hangs on a figure of a step, which is provisional where a doubt in it is insisted on.
pub fn carries_verdict(inspection: &Inspection, step: &Step) -> bool {
    let levels = inspection.sheet().map(|sheet| &sheet.levels);
    let is_judged = |one: &Judged| levels.is_some_and(|levels| levels.contains_key(&one.characteristic));
    is_rested_on(step) || step.judges.iter().any(is_judged)
}

/// Both, in words: what holds the part of a step that judges nothing itself.
pub fn holds(inspection: &Inspection, step: &Step) -> impl Iterator<Item = String> {
    let doubted =
        provisional(inspection, step).then(|| format!("{}: provisional, a doubted figure was insisted on", step.title));
    open(inspection, step).into_iter().chain(doubted)
}

/// Whether the engine stands and the machine is worked on: outside that, figures are had or not.
fn is_at_the_bench(phase: Phase) -> bool {
    phase > Phase::Safe && phase < Phase::After
}

/// Whether it is missed when it is left out.
fn is_missed(inspection: &Inspection, step: &Step) -> bool {
    match &step.takes {
        Takes::Look => is_before_start(step.phase),
        Takes::Soak { .. } => true,
        Takes::Readings(grid) => {
            is_at_the_bench(step.phase) && step.judges.is_empty() && (is_proof(grid) || is_condition(inspection, step))
        }
        // what wore has a cause, and what changes is said, or it is carried on by name that nobody did
        Takes::Words => step.phase == Phase::Close,
        Takes::Points(_) | Takes::Tick | Takes::Sign(_) => false,
    }
}

/// Whether it shows in which state the part is, figures that are judged apart: a look, a test's waits and conditions.
pub fn shows_state(inspection: &Inspection, step: &Step) -> bool {
    match &step.takes {
        Takes::Look => is_before_start(step.phase),
        Takes::Soak { .. } => step.phase != Phase::Clean,
        Takes::Readings(_) => step.judges.is_empty() && is_condition(inspection, step),
        Takes::Points(_) | Takes::Tick | Takes::Words | Takes::Sign(_) => false,
    }
}

/// Whether the machine has the part of a step: it turns, it is known as fitted, the sheet has levels for it, or something
/// was done to it in another step.
pub fn is_here(inspection: &Inspection, step: &Step) -> bool {
    let checklist = &inspection.head().checklist;
    let turns = checklist.part(&step.part).is_some_and(|part| part.rotates);
    let judged = || {
        let levels = inspection.sheet().map(|sheet| &sheet.levels);
        levels.is_some_and(|levels| levels.keys().any(|one| one.part() == step.part))
    };
    let done = || {
        let others = checklist.steps.iter().filter(|other| other.part == step.part && other.id != step.id);
        let mut entries = others.flat_map(|other| inspection.standing_entries_of(&other.id));
        entries.any(|entry| !matches!(entry.act, Act::NotApplicable { .. } | Act::Skip { .. } | Act::Note { .. }))
    };
    turns || inspection.fitted(&step.part).is_some() || judged() || done()
}

/// Nothing that comes later shows the part, or the machine, as it was.
fn is_before_start(phase: Phase) -> bool {
    phase < Phase::After
}

/// Whether its figures prove how the machine goes together: pieces counted, joints tightened.
fn is_proof(grid: &Grid) -> bool {
    grid.counts() || grid.gauge == GaugeKind::Wrench
}

/// Whether a wait or a look needs it first: how warm, how bright.
fn is_condition(inspection: &Inspection, step: &Step) -> bool {
    let waits =
        |other: &Step| matches!(other.takes, Takes::Soak { .. } | Takes::Look) && other.needs.contains(&step.id);
    progress::steps(inspection).any(waits)
}

/// Whether the same pieces have figures at the other end of the job: what was counted out is counted in.
pub fn is_counted_elsewhere(inspection: &Inspection, step: &Step) -> bool {
    let first = |step: &'_ Step| {
        let Takes::Readings(Grid { against: Some(Against::Equal(first)), .. }) = &step.takes else { return None };
        Some(first.clone())
    };
    let mine = first(step);
    let is_mate = |other: &&Step| Some(&other.id) == mine.as_ref() || first(other).as_ref() == Some(&step.id);
    let counted = |mate: &Step| {
        progress::cells(inspection, mate).iter().any(|cell| inspection.reading(&mate.id, &cell.place()).is_some())
    };
    progress::steps(inspection).filter(is_mate).any(counted)
}

/// Why the whole step is marked as not on this machine.
fn marked<'a>(inspection: &'a Inspection, step: &Step) -> Option<&'a str> {
    inspection.standing_entries_of(&step.id).find_map(|entry| {
        let Act::NotApplicable { point: None, reason, .. } = &entry.act else { return None };
        Some(reason.as_str())
    })
}

fn reason<'a>(inspection: &'a Inspection, step: &Step, at: Option<&str>) -> Option<&'a str> {
    inspection.standing_entries_of(&step.id).rev().find_map(|entry| {
        let Act::Skip { place, reason, .. } = &entry.act else { return None };
        (place.as_deref() == at).then_some(reason.as_str())
    })
}
