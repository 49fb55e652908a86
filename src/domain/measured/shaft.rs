//! The rotor shaft: diameters of a journal, and a turn past a dial.

use super::super::exact::Exact;
use super::super::reckon::run_out::{Turn, run_out as reckon_run_out};
use super::super::reckon::uncertainty::Taken as Way;
use super::super::reckon::working::Working;
use super::super::unit::Unit;
use super::places::{Read, shown, value_of, variance};
use super::{Field, Measured, Wear};

/// Step wear, ovality or taper of a journal: first block unworn, second block planes across directions.
pub(super) fn journal(field: &Field<'_>, wear: Wear, mut measured: Measured) -> Measured {
    let read = field.read(Unit::Millimetre);
    let worn: Vec<Read> = read.iter().filter(|read| read.cell.block > 0).cloned().collect();
    let unworn: Vec<Read> = read.iter().filter(|read| read.cell.block == 0).cloned().collect();
    let found = match wear {
        Wear::Ovality => spread(&worn, &|read| read.cell.row.clone()),
        Wear::Taper => spread(&worn, &|read| read.cell.across.clone().unwrap_or_default()),
        Wear::Step => step(&unworn, &worn),
    };
    // one diameter less another: nothing is said before both sets are whole
    let Some((spot, larger, smaller)) = found.filter(|_| measured.is_complete()) else { return measured };
    let value = &larger.size - &smaller.size;
    let purpose = match wear {
        Wear::Ovality => "largest less smallest diameter in one plane",
        Wear::Taper => "largest less smallest diameter along one line",
        Wear::Step => "largest unworn diameter less smallest worn one",
    };
    let mut working = Working {
        rule: field.judged.reckoning.clone(),
        purpose,
        source: "two-point sizes, ISO 14405-1 terms",
        lines: Vec::new(),
        result: String::new(),
    };
    working.step(
        spot.clone(),
        format!("{} - {}", larger.cell.spot(), smaller.cell.spot()),
        format!("{} - {}", larger.taken.figure, smaller.taken.figure),
        format!("{} mm", shown(&value)),
    );
    measured.working.push(working);
    let variance = variance(
        field.inspection,
        &[larger.clone(), smaller.clone()],
        std::slice::from_ref(&value),
        Way::Difference,
        Unit::Millimetre,
    );
    let mut judged = value_of(spot, value, variance, &[larger, smaller]);
    judged.doubted = read.iter().map(|read| read.taken.doubted).max().unwrap_or(judged.doubted);
    measured.values.push(judged);
    measured
}

/// The largest unworn diameter and the smallest worn one.
fn step(unworn: &[Read], worn: &[Read]) -> Option<(String, Read, Read)> {
    let larger = unworn.iter().max_by(|a, b| a.size.cmp(&b.size))?;
    let smaller = worn.iter().min_by(|a, b| a.size.cmp(&b.size))?;
    Some((smaller.cell.spot(), larger.clone(), smaller.clone()))
}

/// The group of readings with the largest spread: its name, largest, smallest.
fn spread(worn: &[Read], group: &dyn Fn(&Read) -> String) -> Option<(String, Read, Read)> {
    let mut worst: Option<(String, Read, Read)> = None;
    let mut seen: Vec<String> = Vec::new();
    for name in worn.iter().map(group) {
        if seen.contains(&name) {
            continue;
        }
        seen.push(name.clone());
        let mine = || worn.iter().filter(|read| group(read) == name);
        let (Some(larger), Some(smaller)) =
            (mine().max_by(|a, b| a.size.cmp(&b.size)), mine().min_by(|a, b| a.size.cmp(&b.size)))
        else {
            continue;
        };
        let more = |worst: &(String, Read, Read)| &larger.size - &smaller.size > &worst.1.size - &worst.2.size;
        if worst.as_ref().is_none_or(more) {
            worst = Some((name, larger.clone(), smaller.clone()));
        }
    }
    worst
}

/// TIR of one station: marks of the first block, the dial back at the first, then the slow full turn.
pub(super) fn run_out(field: &Field<'_>, mut measured: Measured) -> Measured {
    let read = field.read(Unit::Millimetre);
    if !measured.is_complete() {
        return measured;
    }
    let degrees = |read: &Read| Some(Exact::from(read.cell.across.as_ref()?.parse::<rust_decimal::Decimal>().ok()?));
    let marks =
        read.iter().filter(|read| read.cell.block == 0).filter_map(|read| Some((degrees(read)?, read.size.clone())));
    let closing =
        read.iter().find(|read| read.cell.block == 0 && degrees(read).is_none()).map(|read| read.size.clone());
    let swept: Vec<Exact> = read.iter().filter(|read| read.cell.block > 0).map(|read| read.size.clone()).collect();
    let swept = match swept.as_slice() {
        [largest, smallest] => Some((largest.clone(), smallest.clone())),
        _ => None,
    };
    let gauge = read.first().and_then(|read| field.inspection.gauge(read.taken.gauge.as_ref()?));
    let division = gauge.and_then(|gauge| gauge.resolution?.to(Unit::Millimetre));
    let turn = Turn { marks: marks.collect(), closing, division, swept };
    match reckon_run_out(&turn) {
        Err(refusal) => measured.fault(refusal.what()),
        Ok(reckoned) => {
            measured.working.push(reckoned.working(&turn));
            let variance = variance(
                field.inspection,
                &read,
                std::slice::from_ref(&reckoned.tir),
                Way::Difference,
                Unit::Millimetre,
            );
            measured.values.push(value_of("full turn".to_owned(), reckoned.tir, variance, &read));
            measured
        }
    }
}
