//! The working of a step as text: what a trainee reads, and a supervisor checks with a pencil.

use super::super::checklist::Step;
use super::super::crosscheck;
use super::super::inspection::Inspection;
use super::super::reckon::working::Working;
use super::super::standing::Standing;
use super::super::worked::{self, Worked};
use super::of_characteristic;

/// Everything that the step judges, each with its faults and workings, then the cross-checks.
pub fn of_step(inspection: &Inspection, standing: &Standing, step: &Step) -> Vec<String> {
    let mut lines = Vec::new();
    for one in standing.of_step(&step.id) {
        lines.push(format!("{}: {}", one.characteristic.name(), of_characteristic(one)));
        lines.extend(one.measured.faults.iter().map(|fault| format!("  ! {fault}")));
        lines.extend(one.workings(inspection).iter().flat_map(Working::text_lines).map(|line| format!("  {line}")));
        if let Some(judgement) = one.judgement() {
            lines.push(format!("  level from {}", judgement.reached.source));
        }
    }
    lines.extend(besides(inspection, step));
    if lines.is_empty() {
        lines.push("Nothing is reckoned at this step so far.".to_owned());
    }
    lines
}

/// The workings of what the step reckons besides: its own reckonings, figures turned into its unit, the cross-checks that it
/// belongs to.
pub fn besides(inspection: &Inspection, step: &Step) -> Vec<String> {
    let worked = worked::of_step(inspection, step).iter().flat_map(Worked::lines).collect::<Vec<_>>();
    let converted = worked::conversions(inspection, step);
    let checks = crosscheck::of_step(inspection, step).into_iter().map(|check| check.working);
    let workings = converted.into_iter().chain(checks).flat_map(|working| working.text_lines());
    worked.into_iter().chain(workings).map(|line| format!("  {line}")).collect()
}
