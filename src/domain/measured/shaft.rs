//! The rotor shaft: diameters of a journal, and a turn past a dial.

use super::super::checklist::{Cell, Step};
use super::super::exact::Exact;
use super::super::inspection::Inspection;
use super::super::judge::Side;
use super::super::reckon::journal::{Plane, Wear, journal as reckon_journal};
use super::super::reckon::run_out::{Turn, closure, run_out as reckon_run_out};
use super::super::reckon::uncertainty::Taken as Way;
use super::super::reckon::vector::Vector;
use super::super::unit::Unit;
use super::known::{self, known};
use super::places::{Read, value_of};
use super::{Field, Measured, PlaceValue};

/// Step wear, ovality or taper of a journal: first block unworn, second block planes across directions.
pub(super) fn journal(field: &Field<'_>, wear: Wear, mut measured: Measured) -> Measured {
    // one diameter less another: nothing but what is past a level is said before both sets are whole
    if !measured.is_complete() {
        measured.so_far.extend(worn_so_far(field, wear).map(|worn| (Side::Upper, worn)));
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

/// Two readings, the larger one first, and the place that they stand for.
type Apart = (Read, Read, String);

/// The largest and the smallest of these.
fn apart(place: String, read: &[Read]) -> Option<Apart> {
    let by_size = |a: &&Read, b: &&Read| a.size.cmp(&b.size);
    Some((read.iter().max_by(by_size)?.clone(), read.iter().min_by(by_size)?.clone(), place))
}

fn widest(all: impl Iterator<Item = Apart>) -> Option<Apart> {
    let range = |(largest, smallest, _): &Apart| &largest.size - &smallest.size;
    all.reduce(|worst, one| if range(&one) > range(&worst) { one } else { worst })
}

/// What two of the readings taken are apart, where more of them can only widen it.
fn at_least(field: &Field<'_>, (larger, smaller, place): Apart) -> PlaceValue {
    let (value, from) = (&larger.size - &smaller.size, [larger, smaller]);
    let one = std::slice::from_ref(&value);
    let variance = known(field.inspection, (&from, Way::Difference), one, None, Unit::Millimetre);
    value_of(place, value, variance, &from)
}

/// The largest unworn diameter so far less the smallest worn one, or the widest range of a plane or along a line: another
/// diameter makes none of them smaller.
fn worn_so_far(field: &Field<'_>, wear: Wear) -> Option<PlaceValue> {
    let (unworn, worn): (Vec<Read>, Vec<Read>) =
        field.read(Unit::Millimetre).into_iter().partition(|read| read.cell.block == 0);
    let group = |read: &Read| match wear {
        Wear::Step => None,
        Wear::Ovality => Some(read.cell.row.clone()),
        Wear::Taper => read.cell.across.clone(),
    };
    let mut groups: Vec<_> = worn.iter().filter_map(group).collect();
    groups.dedup();
    let of = |name: &String| worn.iter().filter(|read| group(read).as_ref() == Some(name)).cloned().collect::<Vec<_>>();
    let widest_group = widest(groups.iter().filter_map(|name| apart(name.clone(), &of(name))));
    let step = || {
        let (largest, ..) = apart(String::new(), &unworn)?;
        let (_, smallest, _) = apart(String::new(), &worn)?;
        let place = smallest.cell.spot();
        Some((largest, smallest, place))
    };
    let found = if wear == Wear::Step { step() } else { widest_group };
    let mut value = at_least(field, found?);
    if wear == Wear::Step {
        known::deny_below_nothing(field, &mut value);
    }
    Some(value)
}

/// TIR by the marks that are taken, once the dial has come back, or swept: another mark makes it no smaller.
fn turned_so_far(field: &Field<'_>) -> Option<PlaceValue> {
    let read = field.read(Unit::Millimetre);
    let (turned, swept): (Vec<Read>, Vec<Read>) = read.into_iter().partition(|read| read.cell.block == 0);
    let (marks, closing): (Vec<Read>, Vec<Read>) = turned.into_iter().partition(|read| is_mark(&read.cell));
    let by_marks = if closing.is_empty() { None } else { apart("the marks so far".to_owned(), &marks) };
    let by_sweep = match swept.as_slice() {
        [largest, smallest] if largest.size > smallest.size => {
            Some((largest.clone(), smallest.clone(), "full turn".to_owned()))
        }
        _ => None,
    };
    widest(by_marks.into_iter().chain(by_sweep)).map(|found| at_least(field, found))
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
        match void_already(field) {
            Some(void) => measured.faults.push(void),
            None => measured.so_far.extend(turned_so_far(field).map(|turned| (Side::Upper, turned))),
        }
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
