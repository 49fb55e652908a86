//! What the start of the engine waits for: the machine is whole, everything counted is back, and nobody has called
//! "stop" without an answer.

use super::super::beside;
use super::super::checklist::Step;
use super::super::inspection::Inspection;
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
    let short = progress::steps(inspection).flat_map(|counted| {
        let unequal = beside::unequal(inspection, counted).into_iter();
        unequal.map(|words| held(inspection, step, &counted.part, Hold::Open(format!("{}: {words}", counted.title))))
    });
    let standing = Standing::of(inspection);
    let calls = standing.parts.into_iter().flat_map(|part| {
        let calls = part.verdict.holds.into_iter().filter(|hold| matches!(hold, Hold::StopAndCall(_)));
        calls.map(move |hold| held(inspection, step, &part.id, hold))
    });
    short.chain(calls).collect()
}
