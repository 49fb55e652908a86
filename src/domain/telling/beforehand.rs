//! What whoever comes to a step must know before: why it was sent back, and conditions of earlier concessions.

use super::super::checklist::Step;
use super::super::inspection::Inspection;
use super::super::signing;
use super::name_of;

/// A line for each remark that waits for an answer at the step, then one for each condition on its part.
pub fn beforehand(inspection: &Inspection, step: &Step) -> Vec<String> {
    let remarks = signing::remarks_at(inspection, &step.id).into_iter().map(|(entry, _, remark)| {
        let who = inspection.entry(entry).map(|entry| name_of(inspection, entry.doer())).unwrap_or_default();
        format!("! sent back by {who}: {}", remark.text)
    });
    let carried = inspection.head().carried.iter().filter(|one| one.part == step.part);
    let conditions = carried
        .map(|one| format!("> condition of {}, {}: {}; until {}", one.who, one.about, one.conditions, one.until));
    remarks.chain(conditions).collect()
}
