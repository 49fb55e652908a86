//! What the rebuild waits for: nothing is put together while something is still washed or soaked, and no part goes in
//! that is held itself. A part names the steps that put it back.

use super::super::checklist::{Part, Step};
use super::super::inspection::Inspection;
use super::super::outdated;
use super::super::phase::Phase;
use super::super::progress;
use super::super::standing::{Standing, unchecked};
use super::super::verdict::Hold;
use super::{Missing, first_of, held, named};

pub(super) fn missing(inspection: &Inspection, step: &Step) -> Vec<Missing> {
    let mut missing = Vec::new();
    // a measurement on the bench may go on beside a soak
    if step.judges.is_empty() {
        missing.extend(first_of(inspection, progress::steps(inspection).filter(|one| one.phase == Phase::Clean)));
    }
    let parts = &inspection.head().checklist.parts;
    let fitted = parts.iter().filter(|part| part.holds_back.contains(&step.id));
    let mut own = parts.iter().filter(|part| part.id == step.part);
    missing.extend(fitted.clone().flat_map(|part| fitting(inspection, step, part)));
    if !fitted.clone().any(|part| part.id == step.part) {
        missing.extend(own.next().into_iter().flat_map(|part| questions(inspection, step, part)));
    }
    missing.extend(to_come(inspection, step));
    missing
}

/// A part's own questions, which its as-left readings wait for; not the part that is still to be ordered, nor what is obliged
/// in the rebuild itself, this step among it.
fn questions(inspection: &Inspection, step: &Step, part: &Part) -> Vec<Missing> {
    let standing = Standing::of_part(inspection, &part.id);
    let Some(standing) = standing else { return Vec::new() };
    let waits = standing.waits.difference(&standing.rebuilding);
    waits.map(|hold| held(inspection, step, &part.id, hold.clone())).collect()
}

/// What is measured as left is measured on what goes back: not on a part whose place a new one is still to take.
fn to_come<'a>(inspection: &'a Inspection, step: &'a Step) -> impl Iterator<Item = Missing> + 'a {
    let parts = inspection.head().checklist.parts.iter().filter(|part| {
        let measured = part.id == step.part && outdated::is_measured_as_left(step);
        measured || part.rotates && step.is_balance_as_left()
    });
    let awaited = |part: &&Part| {
        let standing = Standing::of_part(inspection, &part.id);
        standing.is_some_and(|part| part.verdict.holds.contains(&Hold::NewPart)) && !inspection.is_replaced(&part.id)
    };
    parts.filter(awaited).map(|part| held(inspection, step, &part.id, Hold::NewPart))
}

/// What a part waits for before it goes in at `step`: its questions, the new one in its place, its checks that come
/// before.
fn fitting(inspection: &Inspection, step: &Step, part: &Part) -> Vec<Missing> {
    // reckoned once: what the part asks and what keeps it out are two sides of one standing
    let Some(standing) = Standing::of_part(inspection, &part.id) else { return Vec::new() };
    let mut missing: Vec<_> = standing.waits.into_iter().map(|hold| held(inspection, step, &part.id, hold)).collect();
    let place = |id: &str| progress::steps(inspection).position(|one| one.id == id);
    let here = place(&step.id);
    let comes_before = |one: &&Step| place(&one.id) < here && !one.needs.contains(&step.id);
    let replaced = inspection.is_replaced(&part.id);
    let as_new: Vec<_> = unchecked(inspection, &part.id).filter(|_| replaced).map(|one| &one.id).collect();
    let to_do = |one: &&Step| {
        let mine = one.part == part.id && one.id != step.id && one.phase > Phase::Decide;
        as_new.contains(&&one.id) || mine && comes_before(one) && !progress::state(inspection, one).is_settled()
    };
    missing.extend(named(progress::steps(inspection).filter(to_do)));
    // what is measured only once the part is in cannot keep it out
    let later = |one: &&Step| one.part == part.id && !comes_before(one) && !one.judges.is_empty();
    let measured_later =
        progress::steps(inspection).filter(later).any(|one| !progress::state(inspection, one).is_settled());
    let keeps_out = |hold: &Hold| match hold {
        Hold::NewPart => !replaced,
        // a figure that stands outside, or was left out, is not made good by the next one
        Hold::Open(_) => !measured_later || !standing.to_come.contains(hold),
        Hold::StopAndCall(_) | Hold::Referred(_) | Hold::Balance => true,
    };
    missing.extend(standing.fitting.into_iter().filter(keeps_out).map(|hold| held(inspection, step, &part.id, hold)));
    missing
}
