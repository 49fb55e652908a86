//! Hours of each part: typed, or since it was fitted.

use super::characteristic::Characteristic;
use super::exact::Exact;
use super::inspection::Inspection;
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
        Some(fitted) => Some(&fitted.hours.to(Unit::Hour)? + &(&machine - &fitted.machine.to(Unit::Hour)?)),
        None => Some(machine),
    }
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
