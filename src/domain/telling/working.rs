//! The working of a step as text: what a trainee reads, and a supervisor checks with a pencil.

use super::super::checklist::Step;
use super::super::crosscheck;
use super::super::inspection::Inspection;
use super::super::reckon::working::Working;
use super::super::standing::Standing;
use super::of_characteristic;

/// Everything that the step judges, each with its faults and workings, then the cross-checks.
pub fn of_step(inspection: &Inspection, standing: &Standing, step: &Step) -> Vec<String> {
    let mut lines = Vec::new();
    for one in standing.of_step(&step.id) {
        lines.push(format!("{}: {}", one.characteristic.name(), of_characteristic(one)));
        lines.extend(one.measured.faults.iter().map(|fault| format!("  ! {fault}")));
        lines.extend(one.measured.working.iter().flat_map(Working::text_lines).map(|line| format!("  {line}")));
        if let Some(judgement) = one.judgement() {
            lines.push(format!("  level from {}", judgement.reached.source));
        }
    }
    lines.extend(crosschecks(inspection, step));
    if lines.is_empty() {
        lines.push("Nothing is reckoned at this step so far.".to_owned());
    }
    lines
}

/// The workings of the cross-checks that the step belongs to.
pub fn crosschecks(inspection: &Inspection, step: &Step) -> Vec<String> {
    let checks = crosscheck::of_step(inspection, step);
    checks.iter().flat_map(|check| check.working.text_lines()).map(|line| format!("  {line}")).collect()
}
