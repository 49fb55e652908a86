//! What a finding or a figure past its limit obliges, in words.

use super::super::gate::step_name;
use super::super::inspection::Inspection;
use super::super::progress::{self, StepState};

/// `Rotor shaft / run-out, middle of the shaft; Balance / unbalance as received (done)`: those of these steps that this
/// machine has; none where it has none of them.
pub fn obliged(inspection: &Inspection, steps: &[String]) -> Option<String> {
    let named = steps.iter().filter_map(|id| progress::steps(inspection).find(|step| step.id == *id));
    let words: Vec<_> = named
        .map(|step| {
            let done = progress::state(inspection, step) == StepState::Done;
            format!("{}{}", step_name(inspection, step), if done { " (done)" } else { "" })
        })
        .collect();
    (!words.is_empty()).then(|| words.join("; "))
}
