//! Levels of one characteristic in units that differ: right as they stand, and as easily a figure in the wrong one.

use std::collections::BTreeSet;

use super::super::characteristic::Characteristic;
use super::super::judge;
use super::super::unit::Unit;
use super::{Amount, Levels, Sheet, Which};

/// Every characteristic whose levels are not all in one unit, and those units level by level: ``alert `mm`, limit `in` ``.
pub fn mixed(sheet: &Sheet) -> impl Iterator<Item = (Characteristic, String)> {
    sheet.levels.iter().filter_map(|(one, levels)| Some((*one, of_levels(levels)?)))
}

fn of_levels(levels: &Levels) -> Option<String> {
    let units = |which: Which| -> BTreeSet<Unit> {
        let bounds = levels.of(which).into_iter().flat_map(judge::bounds);
        let amounts = bounds.flat_map(|(bound, _)| match &bound.amount {
            Amount::Fixed(figure) => vec![figure.unit()],
            Amount::BySize { bands, .. } => bands.iter().map(|band| band.figure.unit()).collect(),
        });
        amounts.collect()
    };
    let each: Vec<_> = Which::ALL.into_iter().map(|which| (which, units(which))).collect();
    let all: BTreeSet<Unit> = each.iter().flat_map(|(_, units)| units.iter().copied()).collect();
    let said = each.iter().filter(|(_, units)| !units.is_empty()).map(|(which, units)| {
        let units: Vec<_> = units.iter().map(|unit| format!("`{}`", unit.symbol())).collect();
        format!("{} {}", which.word(), units.join(" and "))
    });
    (all.len() > 1).then(|| said.collect::<Vec<_>>().join(", "))
}
