//! What the start of the engine waits for: the machine is whole, everything counted is back, no wait, count or torque was
//! left out, and each part is fit to run by the same measure as to go in, whenever it was that something came up.

use super::super::beside;
use super::super::checklist::{Step, Takes};
use super::super::inspection::Inspection;
use super::super::left_out;
use super::super::phase::Phase;
use super::super::progress::{self, StepState};
use super::super::standing::{PartStanding, Standing, unchecked};
use super::super::verdict::Hold;
use super::{Missing, held, named};

pub(super) fn missing(inspection: &Inspection, step: &Step) -> Vec<Missing> {
    let missing = named(progress::steps(inspection).filter(to_do(inspection)));
    if !missing.is_empty() {
        return missing;
    }
    let against = inspection.held_against_start().of("", || against(inspection)).into_iter();
    against.map(|(part, hold)| held(inspection, step, &part, hold)).collect()
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
    let parts = Standing::of(inspection).parts.into_iter().flat_map(|part| of_part(inspection, part));
    let mut against: Vec<_> = short.chain(left_open(inspection)).chain(parts).collect();
    // the gravest stands first where there is room for one
    against.sort_by_key(|(_, hold)| matches!(hold, Hold::Open(_)));
    against
}

/// What keeps a part out keeps it from running. One that no step of this scope puts back was never waited for: of how it was
/// found, only what was called, referred or obliged stops it.
fn of_part(inspection: &Inspection, part: PartStanding) -> impl Iterator<Item = (String, Hold)> {
    let PartStanding { id, waits, fitting, elsewhere, .. } = part;
    let goes_in = inspection.head().checklist.part(&id).is_some_and(|part| !part.holds_back.is_empty());
    let stops = move |hold: &Hold| match hold {
        Hold::StopAndCall(_) | Hold::Referred(_) => true,
        Hold::Open(_) | Hold::NewPart | Hold::Balance => goes_in || elsewhere.contains(hold),
    };
    waits.into_iter().filter(stops).chain(fitting).map(move |hold| (id.clone(), hold))
}

/// What was left out and never made good; of a part that has been replaced since, only what came after.
fn left_open(inspection: &Inspection) -> impl Iterator<Item = (String, Hold)> {
    let stands = |one: &&Step| one.phase > Phase::Measure || !inspection.is_replaced(&one.part);
    let proved = progress::steps(inspection).filter(stands).filter(|one| one.takes != Takes::Look);
    proved.filter_map(|one| Some((one.part.clone(), Hold::Open(left_out::open(inspection, one)?))))
}
