//! Two inspections of one rotor that were open at the same time, as when it is begun on two machines.

use super::checklist::Signing;
use super::inspection::Inspection;
use super::signing;
use super::stamp::Stamp;

/// Whether two records are different inspections of the same rotor, neither begun behind the other's end.
///
/// One that nobody closed is open up to its last entry; and without an end beside another that follows the same record,
/// since who begins the next one names the last.
pub fn at_once(one: &Inspection, other: &Inspection) -> bool {
    let (mine, theirs) = (one.head(), other.head());
    let previous = |inspection: &Inspection| inspection.head().previous.as_ref().map(|one| one.inspection.clone());
    let beside = previous(one) == previous(other);
    let open_at = |inspection: &Inspection, moment: Stamp| match closed(inspection) {
        Some(end) => moment <= end,
        None => beside || inspection.entries().last().is_some_and(|last| moment <= last.at),
    };
    let same_rotor = mine.rotor.id.same_as(&theirs.rotor.id);
    same_rotor && mine != theirs && open_at(one, theirs.begun) && open_at(other, mine.begun)
}

/// What two records of one rotor are to each other, where that must be known.
pub fn twin(one: &Inspection, other: &Inspection) -> Option<String> {
    let id = &one.head().id;
    if one.head() == other.head() {
        return Some(format!("are two copies of {id}; neither is preferred"));
    }
    if *id == other.head().id {
        return Some(format!("are two inspections with one id, {id}; both are kept"));
    }
    at_once(one, other).then(|| "are two inspections open at the same time; both are kept".to_owned())
}

fn closed(inspection: &Inspection) -> Option<Stamp> {
    signing::standing_signature(inspection, Signing::Close).map(|entry| entry.at)
}
