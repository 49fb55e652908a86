//! Thrust lands: taper to flat from a print of marking compound, each land of each transfer for itself.

use std::collections::BTreeSet;

use super::super::checklist::Cell;
use super::super::exact::Exact;
use super::super::judge;
use super::super::reckon::budget::{Budget, Kind, Term, budget};
use super::super::reckon::lands::{Land, NewLand, tell_ring};
use super::super::reckon::working::Working;
use super::super::unit::Unit;
use super::places::{Read, shown, value_of};
use super::{Fault, Field, Measured};

/// Judged is the ratio; a trend runs on the flat, which grows evenly with wear.
pub(super) fn lands(field: &Field<'_>, mut measured: Measured) -> Measured {
    let read = field.read(Unit::Millimetre);
    let mut working = Working {
        rule: field.judged.reckoning.clone(),
        purpose: "taper to flat of each land, each transfer for itself",
        source: "plane geometry",
        lines: Vec::new(),
        result: String::new(),
    };
    for taper in read.iter().filter(|read| field.is_first_figure(&read.cell)) {
        let flat = read.iter().find(|flat| {
            flat.cell.spot() == taper.cell.spot()
                && flat.cell.repeat == taper.cell.repeat
                && flat.cell.figure != taper.cell.figure
        });
        let Some(flat) = flat else { continue };
        let spot = match taper.cell.repeat {
            Some(repeat) => format!("{}, transfer {repeat}", taper.cell.spot()),
            None => taper.cell.spot(),
        };
        let land = Land { taper: taper.size.clone(), flat: flat.size.clone() };
        let Some(ratio) = land.ratio() else {
            measured.faults.push(format!("{spot}: a flat of nothing"));
            continue;
        };
        working.step(
            spot.clone(),
            "Lt / Lf",
            format!("{} / {} mm", shown(&taper.size), shown(&flat.size)),
            shown(&ratio),
        );
        if let Some(new) = field.new_land() {
            let sum = format!("{} mm, new {} mm", shown(&(&taper.size + &flat.size)), shown(&new));
            working.step("", "Lt + Lf", "", sum);
        }
        let variance = variance(field, &land);
        let mut value = value_of(spot, ratio, variance, &[taper.clone(), flat.clone()]);
        value.fault = unclosed(field, &value.spot, &(&taper.size + &flat.size));
        value.trend = Some(flat.size.clone());
        measured.values.push(value);
    }
    tell_rings(field, &read, &mut working);
    if let Some(worst) = measured.values.iter().reduce(|a, b| if b.value < a.value { b } else { a }) {
        let worst = format!("worst ratio {} at {}", shown(&worst.value), worst.spot);
        measured.working.push(working.resulting(worst));
    }
    measured
}

/// Each transfer that is complete, as a ring.
fn tell_rings(field: &Field<'_>, read: &[Read], working: &mut Working) {
    let size = |name| field.given(name);
    let (Some(taper), Some(flat), Some(depth)) = (size("thrust.taper"), size("thrust.flat"), size("thrust.depth"))
    else {
        return;
    };
    let repeats: BTreeSet<_> = field.cells.iter().map(|cell| cell.repeat).collect();
    for repeat in repeats {
        let of = |cell: &Cell| cell.repeat == repeat;
        let here: Vec<_> = read.iter().filter(|read| of(&read.cell)).collect();
        let land = |taper: &&Read| {
            let of = |flat: &&&Read| flat.cell.spot() == taper.cell.spot() && flat.cell.figure != taper.cell.figure;
            Some(Land { taper: taper.size.clone(), flat: here.iter().find(of)?.size.clone() })
        };
        let tapers = here.iter().filter(|read| field.is_first_figure(&read.cell));
        let lands: Option<Vec<_>> = tapers.map(land).collect();
        let complete = here.len() == field.cells.iter().filter(|cell| of(cell)).count();
        let Some(lands) = lands.filter(|_| complete) else { continue };
        working.say(repeat.map_or_else(|| "all round".to_owned(), |repeat| format!("transfer {repeat}, all round")));
        let new = NewLand { taper: taper.clone(), flat: flat.clone(), depth: depth.clone() };
        tell_ring(working, lands, new, field.limit(), field.given("thrust.edge"));
    }
}

impl Field<'_> {
    /// The smallest ratio that the sheet allows.
    fn limit(&self) -> Option<Exact> {
        let sheet = self.inspection.sheet()?;
        let (bound, _) = judge::bounds(sheet.levels.get(&self.judged.characteristic)?.limit.as_ref()?).next()?;
        judge::size_of(bound, Unit::One, sheet)
    }

    /// Taper and flat of a new land, one behind the other.
    fn new_land(&self) -> Option<Exact> {
        Some(&self.given("thrust.taper")? + &self.given("thrust.flat")?)
    }
}

/// Taper and flat together must make the new land again, else one of them was misread.
fn unclosed(field: &Field<'_>, spot: &str, sum: &Exact) -> Option<Fault> {
    let (new, within) = (field.new_land()?, field.given("thrust.closes-within")?);
    let (sum_is, new_is) = (shown(sum), shown(&new));
    let words = || format!("{spot}: taper + flat is {sum_is} mm, the new land {new_is} mm: one was misread");
    ((sum - &new).abs() > within).then(|| Fault { word: "misread", words: words() })
}

/// Both lengths share the edge of the film: `u_edge (Lt + Lf) / Lf^2`.
fn variance(field: &Field<'_>, land: &Land) -> Option<Budget> {
    let sensitivity = land.u_ratio(&Exact::from(1))?;
    let edge = Term::new("edge of the print", Kind::Standard, field.given("thrust.edge")?, None);
    budget(vec![Term { sensitivity, own_unit: Some(Unit::Millimetre), ..edge }]).ok()
}
