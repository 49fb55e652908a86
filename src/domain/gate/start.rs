//! What the start of the engine waits for: the machine is whole, everything counted is back, no wait, count or torque was
//! left out, and each part is fit to run by the same measure as to go in, whenever it was that something came up.

use super::super::beside;
use super::super::checklist::{Step, Takes};
use super::super::entry::Act;
use super::super::inspection::Inspection;
use super::super::left_out;
use super::super::phase::Phase;
use super::super::progress::{self, StepState};
use super::super::standing::{PartStanding, Standing, unchecked};
use super::super::telling::rework_to_do;
use super::super::verdict::Hold;
use super::{Missing, held, named};

pub(super) fn missing(inspection: &Inspection, step: &Step) -> Vec<Missing> {
    let mut missing = named(progress::steps(inspection).filter(to_do(inspection)));
    // what is still to do settles most of them; what was mended has to be said
    let to_mend = if missing.is_empty() { None } else { Some(to_mend(inspection)) };
    if to_mend.as_ref().is_some_and(Vec::is_empty) {
        // all verdicts are reckoned for what follows
        return missing;
    }
    let against = inspection.held_against_start().of("", || against(inspection)).into_iter();
    let asked = against.filter(|one| to_mend.as_ref().is_none_or(|asked| asked.contains(one)));
    missing.extend(asked.map(|(part, hold)| held(inspection, step, &part, hold)));
    missing
}

/// What is still apart or soaks, checks of what was fitted anew, and what was found obliges.
fn to_do(inspection: &Inspection) -> impl Fn(&&Step) -> bool {
    let parts = inspection.head().checklist.parts.iter();
    let replaced = parts.filter(|part| inspection.is_replaced(&part.id));
    let as_new: Vec<_> = replaced.flat_map(|part| unchecked(inspection, &part.id)).map(|one| &one.id).collect();
    move |one| match progress::state(inspection, one) {
        StepState::Running { .. } => true,
        StepState::ToDo | StepState::Partly { .. } => {
            matches!(one.phase, Phase::Clean | Phase::Rebuild)
                || as_new.contains(&&one.id)
                || one.phase < Phase::After && progress::is_obliged(inspection, &one.id)
        }
        StepState::Done | StepState::Skipped | StepState::NotApplicable | StepState::NotAsked => {
            as_new.contains(&&one.id)
        }
    }
}

/// What each part holds against the start, whichever step asks.
fn against(inspection: &Inspection) -> Vec<(String, Hold)> {
    let short = progress::steps(inspection).flat_map(|counted| {
        let unlike = beside::unlike(inspection, counted).into_iter();
        unlike.map(|words| (counted.part.clone(), Hold::Open(format!("{}: {words}", counted.title))))
    });
    let to_mend = to_mend(inspection);
    let parts = Standing::of(inspection).parts.into_iter().flat_map(|part| of_part((inspection, &to_mend), part));
    let mut against: Vec<_> = short.chain(left_open(inspection)).chain(parts).collect();
    // the gravest stands first where there is room for one
    against.sort_by_key(|(_, hold)| matches!(hold, Hold::Open(_)));
    against
}

/// What keeps a part out keeps it from running. One that no step of this scope puts back was never waited for: of how it was
/// found, only what was called, referred, obliged or is still to be mended stops it.
fn of_part(
    (inspection, to_mend): (&Inspection, &[(String, Hold)]),
    part: PartStanding,
) -> impl Iterator<Item = (String, Hold)> + use<> {
    let PartStanding { id, waits, fitting, elsewhere, .. } = part;
    let goes_in = inspection.head().checklist.part(&id).is_some_and(|part| !part.holds_back.is_empty());
    let stops = |hold: &Hold| match hold {
        Hold::StopAndCall(_) | Hold::Referred(_) => true,
        Hold::Open(_) | Hold::NewPart | Hold::Balance => {
            goes_in || elsewhere.contains(hold) || to_mend.contains(&(id.clone(), hold.clone()))
        }
    };
    let waits: Vec<_> = waits.into_iter().filter(stops).collect();
    waits.into_iter().chain(fitting).map(move |hold| (id.clone(), hold))
}

/// What is held of a part for a finding that leads to rework, until somebody says what was done.
fn to_mend(inspection: &Inspection) -> Vec<(String, Hold)> {
    let found = inspection.standing_entries().filter_map(|entry| {
        let Act::Finding(found) = &entry.act else { return None };
        Some((found.part.clone(), Hold::Open(rework_to_do(found))))
    });
    found.collect()
}

/// What was left out and never made good; of a part that has been replaced since, only what came after.
fn left_open(inspection: &Inspection) -> impl Iterator<Item = (String, Hold)> {
    let stands = |one: &&Step| one.phase > Phase::Measure || !inspection.is_replaced(&one.part);
    let proved = progress::steps(inspection).filter(stands).filter(|one| one.takes != Takes::Look);
    proved.filter_map(|one| Some((one.part.clone(), Hold::Open(left_out::open(inspection, one)?))))
}
