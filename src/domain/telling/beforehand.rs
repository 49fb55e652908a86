//! What whoever comes to a step must know before: why it was sent back, conditions of earlier concessions, what is planned.

use super::super::checklist::{Step, StepAsk};
use super::super::inspection::Inspection;
use super::super::signing;
use super::name_of;

/// A line for each remark that waits for an answer at the step, then one for each condition on its part, then the plan
/// where the step asks for it.
pub fn beforehand(inspection: &Inspection, step: &Step) -> Vec<String> {
    let remarks = signing::remarks_at(inspection, &step.id).into_iter().map(|(entry, _, remark)| {
        let who = inspection.entry(entry).map(|entry| name_of(inspection, entry.doer())).unwrap_or_default();
        format!("! sent back by {who}: {}", remark.text)
    });
    let carried = inspection.head().carried.iter().filter(|one| one.part == step.part);
    let conditions = carried
        .map(|one| format!("> condition of {}, {}: {}; until {}", one.who, one.about, one.conditions, one.until));
    let plan = step.asks.contains(&StepAsk::Plan).then(|| planned(inspection));
    remarks.chain(conditions).chain(plan).collect()
}

fn planned(inspection: &Inspection) -> String {
    let opening = inspection.opening();
    let hours = opening.next_hours.map_or_else(|| "hours not planned".to_owned(), |hours| format!("at {hours}"));
    let date = opening.next_date.map_or_else(|| "date not planned".to_owned(), |date| date.to_string());
    format!("> next opening: {hours}, {date}")
}
