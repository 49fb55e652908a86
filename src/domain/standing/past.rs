//! The figures of an inspection for the history of the next one.

use super::super::characteristic::{Characteristic, Given};
use super::super::exact::Exact;
use super::super::figure::Figure;
use super::super::hours;
use super::super::inspection::{Inspection, Past};
use super::super::judge::{self, Condition, Side};
use super::super::measured::{self, PlaceValue};
use super::super::reckon::told;
use super::super::reckon::vector::{Polar, Vector};
use super::super::unit::Unit;
use super::{CharacteristicStanding, Outcome, Standing};

/// Every characteristic judged: as found, and as left where a piece that it is measured on was replaced. Where the limit has two sides, the
/// largest and the smallest place are both kept: a trend toward one side must not run on the other's figure.
pub fn past_of(inspection: &Inspection) -> Vec<Past> {
    let standing = Standing::of(inspection);
    standing.characteristics.iter().flat_map(|one| of_characteristic(inspection, one)).collect()
}

/// The history after one more inspection. A piece that it replaced, or the pair that it is one of, starts with nothing where
/// it was not measured as left: what was measured on the one before tells nothing of it. Nor does what was measured before
/// of a piece that was found with another number.
pub fn history_after(history: Vec<Past>, inspection: &Inspection) -> Vec<Past> {
    let own = |past: &Past| !past.characteristic.pieces().any(|piece| inspection.is_another(piece));
    let all: Vec<_> = history.into_iter().filter(own).chain(past_of(inspection)).collect();
    let starts = |one: &Past| {
        let left = |past: &Past| {
            past.as_left && past.characteristic == one.characteristic && past.inspection == inspection.head().id
        };
        is_renewed(inspection, one.characteristic) && !all.iter().any(left)
    };
    all.iter().filter(|one| !starts(one)).cloned().collect()
}

/// Whether a piece that a characteristic is measured on was replaced.
pub(super) fn is_renewed(inspection: &Inspection, characteristic: Characteristic) -> bool {
    characteristic.pieces().any(|piece| inspection.is_replaced(piece))
}

/// The figure of the last opening, to be shown beside; where two sides were kept the larger one.
pub(super) fn last(inspection: &Inspection, characteristic: Characteristic) -> Option<Past> {
    inspection.history_of(characteristic).rfind(|past| past.side != Some(Side::Lower)).cloned()
}

fn of_characteristic(inspection: &Inspection, one: &CharacteristicStanding) -> Vec<Past> {
    let whole = matches!(one.outcome, Outcome::Judged(_) | Outcome::Past(..) | Outcome::Open(_));
    let known = whole && one.measured.is_complete() && one.measured.faults.is_empty();
    let part = one.characteristic.part();
    let as_left = one.condition == Condition::AsLeft && is_renewed(inspection, one.characteristic);
    if !known || (one.condition == Condition::AsLeft && !as_left) {
        return Vec::new();
    }
    let renewed = as_left && inspection.is_replaced(part);
    let hours = if renewed { hours::of_renewed(inspection, part) } else { hours::of_part(inspection, part) };
    let hours = hours.and_then(|hours| Some(Figure::new(hours.decimal()?, Unit::Hour)));
    let Some(hours) = hours else { return Vec::new() };
    let vector = vector(inspection, one);
    let past = |value: &PlaceValue, side: Option<Side>| Past {
        inspection: inspection.head().id.clone(),
        date: inspection.head().begun.date(),
        characteristic: one.characteristic,
        hours,
        value: value.trend.clone().unwrap_or_else(|| value.value.clone()),
        u: uncertainty(inspection, value),
        place: Some(value.spot.clone()),
        side,
        as_left,
        vector: vector.clone(),
    };
    let sides: Vec<_> = limit_sides(inspection, one);
    let values = &one.measured.values;
    if let [Side::Upper, Side::Lower] = sides.as_slice() {
        let largest = values.iter().max_by(|a, b| a.value.cmp(&b.value)).map(|value| past(value, Some(Side::Upper)));
        let smallest = values.iter().min_by(|a, b| a.value.cmp(&b.value)).map(|value| past(value, Some(Side::Lower)));
        return largest.into_iter().chain(smallest).collect();
    }
    let limited = |value: &&PlaceValue| value.side.is_none_or(|side| sides.contains(&side));
    let first = || values.iter().find(limited).or(values.first());
    let counted = one.judgement().map(|judgement| &judgement.value).or_else(first);
    counted.map(|value| past(value, None)).into_iter().collect()
}

/// Of a station turned past the dial: where its axis was, so that the next opening can tell how it has moved.
fn vector(inspection: &Inspection, one: &CharacteristicStanding) -> Option<Polar> {
    let turned = one.characteristic.id().starts_with("shaft.runout.");
    let step = inspection.head().checklist.step(&one.step).filter(|_| turned)?;
    measured::eccentricity_of(inspection, step).and_then(Vector::keep)
}

fn limit_sides(inspection: &Inspection, one: &CharacteristicStanding) -> Vec<Side> {
    let levels = inspection.sheet().and_then(|sheet| sheet.levels.get(&one.characteristic));
    let limit = levels.and_then(|levels| levels.limit.as_ref());
    limit.into_iter().flat_map(judge::bounds).map(|(_, side)| side).collect()
}

/// The flat of a land is known as well as the edge of its print; the rest as its gauge and repeats say.
fn uncertainty(inspection: &Inspection, value: &PlaceValue) -> Option<Exact> {
    match value.trend {
        Some(_) => inspection.sheet().and_then(|sheet| sheet.given(Given::parse("thrust.edge")?)),
        None => value.variance.as_ref().and_then(|variance| told::u_kept(&variance.variance)),
    }
}
