//! Lifts: a clearance or a float by two dial positions, the repeats of a place averaged where they agree.

use super::super::exact::Exact;
use super::super::judge::Side;
use super::super::reckon::lift::{self, Agreement, Pair, Place};
use super::super::reckon::uncertainty;
use super::super::unit::Unit;
use super::known::{division, known};
use super::places::{Read, Spot, shown, tell_grubbs, value_of};
use super::warmth::{Warm, tell_as_read};
use super::{Fault, Field, Measured, PlaceValue};

/// Clearance or float by two dial positions.
pub(super) fn lift(field: &Field<'_>, mut measured: Measured) -> Measured {
    let unit = measured.unit;
    let warm = Warm::of_lift(field);
    let left = lifts(field, field.short_spots(unit), warm.as_ref().ok());
    (measured.left, measured.so_far) = (left.values, left.by_each);
    let whole = lifts(field, field.complete_spots(unit), warm.as_ref().ok());
    measured.faults.extend(whole.void);
    measured.so_far.extend(whole.by_each);
    measured.values = whole.values;
    let Some(lift) = whole.lift else { return measured };
    let mut working = lift.working();
    for place in &lift.places {
        tell_grubbs(&place.place.name, &place.clearances, &mut working);
    }
    tell_as_read(warm.as_ref().map_err(|why| *why), unit, &mut working);
    measured.working.push(working);
    measured.working.extend(warm.map(|warm| warm.working(&measured.values, unit)));
    measured
}

/// Both readings of each lift; of what is left one without the other makes none.
fn pairs(read: &[Read]) -> Vec<Read> {
    let repeat = |read: &Read| read.cell.repeat;
    let whole = |one: &&Read| read.iter().filter(|other| repeat(other) == repeat(one)).count() == 2;
    read.iter().filter(whole).cloned().collect()
}

/// The lifts of some places.
#[derive(Default)]
struct Lifts {
    /// None without a place.
    lift: Option<lift::Lift>,
    /// Their means as they are judged.
    values: Vec<PlaceValue>,
    /// Where the repeats are too far apart to be averaged, what each of them is past: the smallest speaks of what is too large, the
    /// largest of what is too small.
    by_each: Vec<(Side, PlaceValue)>,
    /// Places of which a lift is none.
    void: Vec<String>,
}

fn lifts(field: &Field<'_>, spots: Vec<Spot>, warm: Option<&Warm>) -> Lifts {
    let unit = field.judged.characteristic.unit();
    let mut lifts = Lifts::default();
    let (mut places, mut from) = (Vec::new(), Vec::new());
    for (spot, read) in spots {
        let read = pairs(&read);
        let pairs: Vec<_> = read
            .chunks(2)
            .filter_map(|pair| match pair {
                [down, up] => Some(Pair { down: down.size.clone(), up: up.size.clone() }),
                _ => None,
            })
            .collect();
        if let Some(why) = pairs.iter().find_map(|pair| lift::clearance(pair).err()) {
            lifts.void.push(format!("{spot}: {}", why.what()));
        } else if !pairs.is_empty() {
            let division = division(field.inspection, &read, unit);
            places.push(Place { name: spot, pairs, division });
            from.push(read);
        }
    }
    lifts.lift = lift::lift(&places).ok();
    for (place, read) in lifts.lift.iter().flat_map(|lift| &lift.places).zip(from) {
        let name = &place.place.name;
        let mut one = lifted(field, warm, (name.clone(), &place.mean), (&read, &place.clearances));
        if place.agreement == Agreement::Retake {
            one.fault = Some(apart(name, &place.range, unit));
            lifts.by_each.extend(by_each(field, warm, place, &read));
        }
        lifts.values.push(one);
    }
    lifts
}

/// A clearance as it is judged, of these lifts.
fn lifted(
    field: &Field<'_>,
    warm: Option<&Warm>,
    (spot, clearance): (String, &Exact),
    (read, clearances): (&[Read], &[Exact]),
) -> PlaceValue {
    let unit = field.judged.characteristic.unit();
    let warmth = warm.and_then(Warm::of_clearance);
    let variance = known(field.inspection, (read, uncertainty::Taken::Difference), clearances, warmth.as_ref(), unit);
    let value = warm.map_or_else(|| clearance.clone(), |warm| warm.clearance_20(clearance));
    let fault = value.is_negative().then(|| below_nothing(&spot, &value, unit));
    PlaceValue { value, fault, ..value_of(spot, clearance.clone(), variance, read) }
}

/// The repeat least in favour of each side's levels being passed: what it is past, all are.
fn by_each(
    field: &Field<'_>,
    warm: Option<&Warm>,
    place: &lift::PlaceLift,
    read: &[Read],
) -> impl Iterator<Item = (Side, PlaceValue)> {
    let repeats = || read.chunks(2).zip(&place.clearances);
    let smallest = repeats().min_by(|(_, one), (_, other)| one.cmp(other));
    let largest = repeats().max_by(|(_, one), (_, other)| one.cmp(other));
    let ends = [(Side::Upper, "smallest", smallest), (Side::Lower, "largest", largest)];
    ends.into_iter().filter_map(move |(side, which, end)| {
        let (read, clearance) = end?;
        let spot = format!("{}, {which} repeat", place.place.name);
        Some((side, lifted(field, warm, (spot, clearance), (read, std::slice::from_ref(clearance)))))
    })
}

fn apart(spot: &str, range: &Exact, unit: Unit) -> Fault {
    let apart = shown(range);
    let words = format!("{spot}: repeats {apart} {unit} apart, more than two divisions: strike all and retake");
    Fault { word: "retake", words }
}

fn below_nothing(spot: &str, value: &Exact, unit: Unit) -> Fault {
    let value = shown(value);
    let words = format!("{spot}: {value} {unit} at 20 degC is below nothing: a temperature or an expansion is wrong");
    Fault { word: "below nothing", words }
}
