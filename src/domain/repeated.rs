//! Further repeats: where a place is too close to its limit to call, one more is asked for by an entry of its own, and
//! the mean then counts all of them. It takes no figure back, and past the limit stays past it.

use std::collections::BTreeMap;

use super::checklist::{Cell, Grid, Step, Takes};
use super::entry::Act;
use super::inspection::Inspection;
use super::judge::{self, Reach};
use super::measured;

/// The grid of a step whose repeats are averaged at each place; of others each figure counts for itself.
fn averaged(step: &Step) -> Option<&Grid> {
    let Takes::Readings(grid) = &step.takes else { return None };
    let mean = ["lift", "repeats", "wear"].into_iter().any(|way| step.is_reckoned_by(way));
    Some(grid).filter(|grid| mean && grid.repeats > 1)
}

/// Places at which one more repeat may bring the verdict: undecided, by a gauge whose uncertainty is known.
pub fn places(inspection: &Inspection, step: &Step) -> Vec<String> {
    let (Some(_), Some(sheet)) = (averaged(step), inspection.sheet()) else { return Vec::new() };
    let mut places = Vec::new();
    for judged in &step.judges {
        let Some(levels) = sheet.levels.get(&judged.characteristic) else { continue };
        let measured = measured::measure(inspection, step, judged);
        for value in measured.values.iter().filter(|value| value.fault.is_none()) {
            let reached = judge::judge(&value.judged(measured.unit), levels, step.condition(), sheet);
            let close = reached.is_ok_and(|reached| reached.reach == Reach::Undecided && !reached.is_unknown());
            if close && !places.contains(&value.spot) {
                places.push(value.spot.clone());
            }
        }
    }
    places
}

/// The fields of a step with those of its further repeats behind the others of their place.
pub(super) fn with_further(inspection: &Inspection, step: &Step, mut cells: Vec<Cell>) -> Vec<Cell> {
    let asked = inspection.further_repeats(&step.id);
    if asked.is_empty() {
        return cells;
    }
    let mut by_place: BTreeMap<&str, u32> = BTreeMap::new();
    for place in &asked {
        *by_place.entry(place).or_default() += 1;
    }
    for (place, count) in by_place {
        let mine = |cell: &Cell| cell.spot() == place;
        let first: Vec<Cell> = cells.iter().filter(|cell| mine(cell) && cell.repeat == Some(1)).cloned().collect();
        let last = cells.iter().filter(|cell| mine(cell)).filter_map(|cell| cell.repeat).max();
        let (Some(last), Some(behind)) = (last, cells.iter().rposition(mine)) else { continue };
        let more =
            (1..=count).flat_map(|one| first.iter().map(move |cell| Cell { repeat: Some(last + one), ..cell.clone() }));
        let tail = cells.split_off(behind + 1);
        cells.extend(more);
        cells.extend(tail);
    }
    cells
}

/// Whether a field is one of a further repeat that nobody has taken yet: the repeats before it have said what they say.
pub(super) fn is_awaited(inspection: &Inspection, step: &Step, cell: &Cell) -> bool {
    let Takes::Readings(grid) = &step.takes else { return false };
    cell.repeat.is_some_and(|repeat| repeat > grid.repeats) && inspection.reading(&step.id, &cell.place()).is_none()
}

/// Whether figures rest on a further repeat at this place: it is not taken back before they are.
pub(super) fn is_taken(inspection: &Inspection, step: &Step, place: &str) -> bool {
    let cells = super::progress::cells(inspection, step);
    let last = cells.iter().filter(|cell| cell.spot() == place).filter_map(|cell| cell.repeat).max();
    let of_last = cells.iter().filter(|cell| cell.spot() == place && cell.repeat == last);
    of_last.into_iter().any(|cell| inspection.reading(&step.id, &cell.place()).is_some())
}

/// Asks for one more at a place.
pub fn one_more(step: &Step, place: String) -> Act {
    Act::Repeat { step: step.id.clone(), place }
}
