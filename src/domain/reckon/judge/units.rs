//! Figures of any unit brought to one: millimetres for lengths, else the limit's.

use crate::domain::exact::Exact;
use crate::domain::reckon::given::Given;
use crate::domain::reckon::problem::{Problem, Trouble};
use crate::domain::unit::{Dimension, Unit};

/// Figures by their key.
type Sizes = Vec<(&'static str, Exact)>;

/// The figures under `keys` in one unit, and the unit; `None` when all are plain.
///
/// # Errors
/// `WrongUnit` for each figure of another dimension, and for each plain one beside figures that are no lengths, unless it is
/// zero: nobody can say what it is in. Plain lengths are millimetres.
pub(super) fn together(given: &Given, keys: &[&'static str]) -> Result<(Sizes, Option<Unit>), Vec<Problem>> {
    let figures: Vec<_> = keys.iter().filter_map(|key| Some((*key, given.with_unit_if(key)?))).collect();
    let unit_of = |key: &str| figures.iter().find(|(name, _)| *name == key).and_then(|(_, (_, unit))| *unit);
    let first = figures.iter().find_map(|(_, (_, unit))| *unit);
    let Some(lead) = unit_of("limit").or(first) else {
        return Ok((figures.into_iter().map(|(key, (size, _))| (key, size)).collect(), None));
    };
    // a difference or an uncertainty of temperatures is no temperature, whatever the thermometer is marked in
    let differs = lead.dimension() == Dimension::Temperature && figures.iter().any(|(key, _)| *key == "a");
    let as_taken = |key: &str, unit: Unit| if differs || key == "u" { unit.as_difference() } else { unit };
    let length = lead.dimension() == Dimension::Length;
    let common = if length { Unit::Millimetre } else { as_taken("limit", lead) };
    let mut problems = Vec::new();
    let mut sizes = Vec::new();
    for (key, (size, unit)) in figures {
        let wanted = if key == "u" { common.as_difference() } else { common };
        let zero = size.is_zero() && lead.dimension() != Dimension::Temperature;
        let own = unit.or((length || zero).then_some(common));
        if let Some(size) = own.and_then(|own| as_taken(key, own).convert(&size, wanted)) {
            sizes.push((key, size));
        } else {
            let found = unit.map_or_else(|| format!("`{size}` without a unit"), |unit| format!("`{size} {unit}`"));
            let expected = format!("a figure that goes with {common}");
            problems.push(Problem::new(given.path_of(key), Trouble::WrongUnit, found, expected));
        }
    }
    if problems.is_empty() { Ok((sizes, Some(common))) } else { Err(problems) }
}
