//! Limits on one side alone of what is bad on both: as found, nothing judges the other side.

use super::super::characteristic::Characteristic;
use super::super::judge::Side;
use super::{Levels, Sheet};

/// Each such characteristic, and the side on which nothing judges it.
pub fn one_sided(sheet: &Sheet) -> impl Iterator<Item = (Characteristic, Side)> {
    sheet.levels.iter().filter_map(|(one, levels)| Some((*one, unjudged_side(*one, levels)?)))
}

/// Whether too much and too little of it are both bad.
pub fn is_bad_both_ways(one: Characteristic) -> bool {
    one.worsens().is_none() && one.never_bad().is_none()
}

/// The side on which, as found, nothing judges what is bad on both.
pub fn unjudged_side(one: Characteristic, levels: &Levels) -> Option<Side> {
    let limit = levels.limit.as_ref().filter(|_| is_bad_both_ways(one))?;
    match (limit.lower(), limit.upper()) {
        (None, Some(_)) => Some(Side::Lower),
        (Some(_), None) => Some(Side::Upper),
        (Some(_), Some(_)) | (None, None) => None,
    }
}

/// What that is, in short and whole: of a characteristic that is bad on both sides.
pub fn half_judged(side: Side) -> (&'static str, &'static str) {
    match side {
        Side::Lower => (
            "upper limit alone, nothing judges what is too small",
            "an upper limit alone: as found, nothing judges what is too small",
        ),
        Side::Upper => (
            "lower limit alone, nothing judges what is too large",
            "a lower limit alone: as found, nothing judges what is too large",
        ),
    }
}
