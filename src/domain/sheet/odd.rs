//! What is odd about a sheet without being wrong: a new range that goes past the alert, sources of another edition.

use super::super::characteristic::Characteristic;
use super::super::judge::{self, Side};
use super::{Level, Sheet, Which};

/// Each characteristic whose new range goes past its alert: a new part may be one to watch.
pub fn new_past_alert(sheet: &Sheet) -> impl Iterator<Item = Characteristic> {
    let past = |one: Characteristic, new: &Level, alert: &Level| {
        [Side::Upper, Side::Lower].into_iter().any(|side| {
            let of_side = |level: &Level| {
                let (bound, _) = judge::bounds(level).find(|(_, of)| *of == side)?;
                judge::size_of(bound, one.unit(), sheet)
            };
            let both = of_side(new).zip(of_side(alert));
            both.is_some_and(|(new, alert)| if side == Side::Upper { new > alert } else { new < alert })
        })
    };
    sheet.levels.iter().filter_map(move |(one, levels)| {
        let both = levels.of(Which::New).zip(levels.of(Which::Alert));
        both.filter(|(new, alert)| past(*one, new, alert)).map(|_| *one)
    })
}

/// How many levels and figures of the machine have a source in another edition of the sheet's own manual.
pub fn of_another_edition(sheet: &Sheet) -> usize {
    let levels = sheet.levels.values().flat_map(|all| Which::ALL.into_iter().filter_map(|which| all.of(which)));
    let sources = levels.map(Level::source).chain(sheet.given.values().map(|one| one.source.as_str()));
    let manual = format!("{}, edition ", sheet.manual);
    let editions = sources.filter_map(|source| source.strip_prefix(&manual));
    let is_own = |rest: &str| {
        rest.strip_prefix(sheet.edition.as_str()).is_some_and(|behind| behind.is_empty() || behind.starts_with(','))
    };
    editions.filter(|rest| !is_own(rest)).count()
}
