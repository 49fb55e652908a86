//! What the limits sheet has and this scope never looks at: said, so that silence is not taken for good.

use super::super::characteristic::Characteristic;
use super::super::inspection::Inspection;

/// What they are called in lists.
pub const NOT_IN_SCOPE: &str = "not judged in this scope";

/// Characteristics with levels on the sheet that no step of the checklist judges.
fn not_judged(inspection: &Inspection) -> Vec<Characteristic> {
    let steps = &inspection.head().checklist.steps;
    let judged = |one: &Characteristic| steps.iter().flat_map(|step| &step.judges).any(|by| by.characteristic == *one);
    let sheet = inspection.sheet().into_iter().flat_map(|sheet| sheet.levels.keys().copied());
    sheet.filter(|one| !judged(one)).collect()
}

/// The same in words, with the part first: `impeller: hours since new`.
pub fn not_judged_in_words(inspection: &Inspection) -> Vec<String> {
    not_judged(inspection).into_iter().map(|one| format!("{}: {}", one.part(), one.name())).collect()
}
