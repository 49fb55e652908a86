//! What the whole rotor waits for when one of its parts was touched.

use super::super::checklist::StepAsk;
use super::super::inspection::{Arrives, Inspection};
use super::super::judge::Condition;
use super::super::progress::{self, StepState};
use super::super::verdict::{Consequence, Disposition, Hold};
use super::{CharacteristicStanding, PartStanding};

/// A rotating part replaced, dressed or reseated leaves the rotor's balance to do, until it is measured as left.
pub(super) fn hold_for_balance(inspection: &Inspection, all: &[CharacteristicStanding], parts: &mut [PartStanding]) {
    let rotates = |id: &str| inspection.head().checklist.part(id).is_some_and(|part| part.rotates);
    let mended = parts.iter().any(|part| {
        rotates(&part.id) && (part.verdict.disposition >= Disposition::Rework || inspection.is_replaced(&part.id))
    });
    let touched = mended || is_reseated(inspection);
    let balances = |one: &&CharacteristicStanding| one.characteristic.is_of_balance();
    let bad = all
        .iter()
        .filter(balances)
        .any(|one| one.condition == Condition::AsFound && one.leads_to() >= Consequence::Rework);
    let as_left: Vec<_> = all.iter().filter(balances).filter(|one| one.condition == Condition::AsLeft).collect();
    let done = !as_left.is_empty() && as_left.iter().all(|one| one.is_sound());
    if !(touched || bad) || done {
        return;
    }
    let on = inspection.head().checklist.waits_for_balance();
    if let Some(part) = on.and_then(|on| parts.iter_mut().find(|part| part.id == on.id)) {
        part.computed.holds.insert(Hold::Balance);
        part.verdict.holds.insert(Hold::Balance);
        part.fitting.insert(Hold::Balance);
    }
}

/// Whether something that turns has come off its seat: here, or before the rotor came.
fn is_reseated(inspection: &Inspection) -> bool {
    let stripped = inspection.opening().arrives == Some(Arrives::Stripped);
    progress::steps(inspection).filter(|step| step.asks.contains(&StepAsk::Balance)).any(|step| {
        match progress::state(inspection, step) {
            StepState::Done => true,
            StepState::NotApplicable => stripped,
            StepState::ToDo
            | StepState::Partly { .. }
            | StepState::Running { .. }
            | StepState::Skipped
            | StepState::NotAsked => false,
        }
    })
}
