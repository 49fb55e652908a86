//! Hours of each part: typed, or since it was fitted.

use super::characteristic::Characteristic;
use super::exact::Exact;
use super::figure::Figure;
use super::inspection::Inspection;
use super::rotor::Fitted;
use super::unit::Unit;

/// Hours of the machine at this opening.
pub fn of_machine(inspection: &Inspection) -> Option<Exact> {
    inspection.opening().machine_hours?.to(Unit::Hour)
}

/// Hours of a part since new: as typed at this opening, else its hours when fitted and what the machine has run since;
/// a part of which nothing is known runs with the machine.
pub fn of_part(inspection: &Inspection, part: &str) -> Option<Exact> {
    if let Some(typed) = inspection.opening().part_hours.get(part) {
        return typed.to(Unit::Hour);
    }
    let machine = of_machine(inspection)?;
    // the part found, not one that has replaced it since
    match inspection.head().parts.get(part) {
        Some(fitted) => since(fitted, &machine),
        None => Some(machine),
    }
}

/// Hours of a part since new, when the machine stands at `machine`.
pub fn since_new(fitted: &Fitted, machine: Figure) -> Option<Exact> {
    since(fitted, &machine.to(Unit::Hour)?)
}

fn since(fitted: &Fitted, machine: &Exact) -> Option<Exact> {
    Some(&fitted.hours.to(Unit::Hour)? + &(machine - &fitted.machine.to(Unit::Hour)?))
}

/// Hours the part will have at the next planned opening.
pub fn of_part_at_next(inspection: &Inspection, part: &str) -> Option<Exact> {
    let next = inspection.opening().next_hours?.to(Unit::Hour)?;
    let machine = of_machine(inspection)?;
    Some(&of_part(inspection, part)? + &(&next - &machine))
}

/// The part whose hours a characteristic runs on.
pub fn part_of(characteristic: Characteristic) -> &'static str {
    characteristic.part()
}
