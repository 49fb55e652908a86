//! What the start of the engine waits for: the machine is whole, everything counted is back, no wait, count or torque was
//! left out, no as-left figure is outside the new range, and nobody has called "stop" without an answer.

use super::super::beside;
use super::super::checklist::{Step, Takes};
use super::super::inspection::Inspection;
use super::super::left_out;
use super::super::phase::Phase;
use super::super::progress::{self, StepState};
use super::super::standing::Standing;
use super::super::verdict::Hold;
use super::{Missing, first_of, held};

pub(super) fn missing(inspection: &Inspection, step: &Step) -> Vec<Missing> {
    let apart = progress::steps(inspection).filter(|other| {
        matches!(other.phase, Phase::Clean | Phase::Rebuild)
            || matches!(progress::state(inspection, other), StepState::Running { .. })
    });
    let missing = first_of(inspection, apart);
    if !missing.is_empty() {
        return missing;
    }
    let against = inspection.held_against_start().of("", || against(inspection)).into_iter();
    against.map(|(part, hold)| held(inspection, step, &part, hold)).collect()
}

/// What each part holds against the start, whichever step asks.
fn against(inspection: &Inspection) -> Vec<(String, Hold)> {
    let short = progress::steps(inspection).flat_map(|counted| {
        let unlike = beside::unlike(inspection, counted).into_iter();
        unlike.map(|words| (counted.part.clone(), Hold::Open(format!("{}: {words}", counted.title))))
    });
    let parts = Standing::of(inspection).parts.into_iter().flat_map(|part| {
        // a part that no step of this scope puts back is not kept out by any other
        let loose = inspection.head().checklist.part(&part.id).is_some_and(|part| part.holds_back.is_empty());
        let worn = loose && !inspection.is_replaced(&part.id);
        let stops = |hold: &Hold| match hold {
            Hold::StopAndCall(_) => true,
            Hold::NewPart => worn,
            Hold::Referred(_) | Hold::Open(_) | Hold::Balance => false,
        };
        let calls: Vec<_> = part.verdict.holds.into_iter().filter(stops).collect();
        calls.into_iter().chain(part.outside).map(move |hold| (part.id.clone(), hold))
    });
    short.chain(left_open(inspection)).chain(parts).collect()
}

/// What was left out and never made good; of a part that has been replaced since, only what came after.
fn left_open(inspection: &Inspection) -> impl Iterator<Item = (String, Hold)> {
    let stands = |one: &&Step| one.phase > Phase::Measure || !inspection.is_replaced(&one.part);
    let proved = progress::steps(inspection).filter(stands).filter(|one| one.takes != Takes::Look);
    proved.filter_map(|one| Some((one.part.clone(), Hold::Open(left_out::open(inspection, one)?))))
}
