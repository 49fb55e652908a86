//! The rotor shaft: diameters of a journal, and a turn past a dial.

use super::super::checklist::{Cell, Step};
use super::super::exact::Exact;
use super::super::inspection::Inspection;
use super::super::reckon::journal::{Plane, Wear, journal as reckon_journal};
use super::super::reckon::run_out::{Turn, closure, run_out as reckon_run_out};
use super::super::reckon::uncertainty::Taken as Way;
use super::super::reckon::vector::Vector;
use super::super::unit::Unit;
use super::known::{self, known};
use super::places::{Read, value_of};
use super::{Field, Measured};

/// Step wear, ovality or taper of a journal: first block unworn, second block planes across directions.
pub(super) fn journal(field: &Field<'_>, wear: Wear, mut measured: Measured) -> Measured {
    // one diameter less another: nothing is said before both sets are whole
    if !measured.is_complete() {
        return measured;
    }
    let read = field.read(Unit::Millimetre);
    let (unworn, worn): (Vec<Read>, Vec<Read>) = read.iter().cloned().partition(|read| read.cell.block == 0);
    let reckoned = match reckon_journal(&sizes(&unworn), &planes(&worn), &directions(&worn)) {
        Ok(reckoned) => reckoned,
        Err(refusal) => return measured.fault(refusal.what()),
    };
    measured.working.push(reckoned.working_of(wear));
    let Some(worst) = reckoned.worst(wear) else {
        return measured.fault("these diameters cannot show it: more planes or directions are needed");
    };
    let behind = |read: &Read| match wear {
        Wear::Step if read.cell.block == 0 => read.size == reckoned.unworn,
        Wear::Step => read.cell.block > 0 && read.cell.spot() == worst.place,
        Wear::Ovality => read.cell.block > 0 && read.cell.row == worst.place,
        Wear::Taper => read.cell.block > 0 && read.cell.across.as_ref() == Some(&worst.place),
    };
    let from: Vec<Read> = read.iter().filter(|read| behind(read)).cloned().collect();
    let one = std::slice::from_ref(&worst.value);
    let variance = known(field.inspection, (&from, Way::Difference), one, None, Unit::Millimetre);
    let mut judged = value_of(worst.place.clone(), worst.value.clone(), variance, &from);
    judged.doubted = read.iter().map(|read| read.taken.doubted).max().unwrap_or(judged.doubted);
    if wear == Wear::Step {
        known::deny_below_nothing(field, &mut judged);
    }
    measured.values.push(judged);
    measured
}

fn sizes(read: &[Read]) -> Vec<Exact> {
    read.iter().map(|read| read.size.clone()).collect()
}

/// The planes across the worn part, in the hand's order.
fn planes(worn: &[Read]) -> Vec<Plane> {
    let rows = worn.chunk_by(|a, b| a.cell.row == b.cell.row);
    rows.filter_map(|row| Some(Plane { name: row.first()?.cell.row.clone(), diameters: sizes(row) })).collect()
}

fn directions(worn: &[Read]) -> Vec<&str> {
    let first = worn.first().map(|read| &read.cell.row);
    worn.iter().filter(|read| Some(&read.cell.row) == first).filter_map(|read| read.cell.across.as_deref()).collect()
}

/// Whether a field is a mark of a turn: its column is an angle.
pub fn is_mark(cell: &Cell) -> bool {
    cell.block == 0 && degrees(cell).is_some()
}

fn degrees(cell: &Cell) -> Option<Exact> {
    Some(Exact::from(cell.across.as_ref()?.parse::<rust_decimal::Decimal>().ok()?))
}

/// Why a turn that is not all taken yet is void already.
fn void_already(field: &Field<'_>) -> Option<String> {
    let read = field.read(Unit::Millimetre);
    let first = field.cells.iter().find(|cell| is_mark(cell))?;
    let first = read.iter().find(|read| read.cell == *first)?;
    let closing = read.iter().find(|read| read.cell.block == 0 && !is_mark(&read.cell))?;
    let division =
        known::first_gauge(field.inspection, field.step).and_then(|gauge| gauge.resolution?.to(Unit::Millimetre));
    let marks = vec![(Exact::zero(), first.size.clone())];
    let turn = Turn { marks, closing: Some(closing.size.clone()), division, swept: None };
    closure(&turn).err().map(|refusal| refusal.what())
}

/// A turn past the dial: marks of the first block, the dial back at the first, then the slow full turn; in mm.
///
/// `None` before all of it is taken.
pub fn turn_of(inspection: &Inspection, step: &Step) -> Option<Turn> {
    let sizes = known::readings_of(inspection, step)?;
    let (turned, swept): (Vec<_>, Vec<_>) = sizes.into_iter().partition(|(cell, _)| cell.block == 0);
    let swept = match swept.as_slice() {
        [(_, largest), (_, smallest)] => Some((largest.clone(), smallest.clone())),
        _ => None,
    };
    let closing = turned.iter().find(|(cell, _)| degrees(cell).is_none()).map(|(_, size)| size.clone());
    let marks = turned.iter().filter_map(|(cell, size)| Some((degrees(cell)?, size.clone()))).collect();
    let division = known::first_gauge(inspection, step).and_then(|gauge| gauge.resolution?.to(Unit::Millimetre));
    Some(Turn { marks, closing, division, swept })
}

/// Where the axis is at a station turned past the dial; `None` before all of it is taken, or of a void set.
pub fn eccentricity_of(inspection: &Inspection, step: &Step) -> Option<Vector> {
    let turned = reckon_run_out(&turn_of(inspection, step)?).ok()?;
    Some(turned.eccentricity.unwrap_or_else(Vector::nothing))
}

/// TIR of one station.
pub(super) fn run_out(field: &Field<'_>, mut measured: Measured) -> Measured {
    let Some(turn) = turn_of(field.inspection, field.step) else {
        measured.faults.extend(void_already(field));
        return measured;
    };
    let read = field.read(Unit::Millimetre);
    match reckon_run_out(&turn) {
        Err(refusal) => measured.fault(refusal.what()),
        Ok(reckoned) => {
            measured.working.push(reckoned.working(&turn));
            let one = std::slice::from_ref(&reckoned.tir);
            let variance = known(field.inspection, (&read, Way::Difference), one, None, Unit::Millimetre);
            measured.values.push(value_of("full turn".to_owned(), reckoned.tir, variance, &read));
            measured
        }
    }
}
