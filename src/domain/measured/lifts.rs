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

/// Clearance or float by two dial positions. Repeats too far apart hold their place open, and their mean is judged all the
/// same: nobody's scatter makes a figure greener.
pub(super) fn lift(field: &Field<'_>, mut measured: Measured) -> Measured {
    let unit = measured.unit;
    let warm = Warm::of_lift(field);
    let mean = |spot: &str, read: &[Read]| {
        lifts(field, vec![(spot.to_owned(), read.to_vec())], warm.as_ref().ok()).means.pop()
    };
    measured.left = field.short_spots(unit).iter().flat_map(|short| short.comes_to(mean)).collect();
    let whole = lifts(field, field.complete_spots(unit), warm.as_ref().ok());
    measured.faults.extend(whole.void);
    measured.values = whole.means;
    let Some(lift) = whole.lift else { return measured };
    for (place, mean) in lift.places.iter().zip(&mut measured.values) {
        if place.agreement == Agreement::Retake && mean.fault.is_none() {
            measured.so_far.extend([Side::Upper, Side::Lower].map(|side| (side, mean.clone())));
            mean.fault = Some(apart(&place.place.name, &place.range, unit));
        }
    }
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
    /// Their means as they are judged, however far apart the repeats are.
    means: Vec<PlaceValue>,
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
    let reckoned = lifts.lift.iter().flat_map(|lift| &lift.places);
    lifts.means = reckoned.zip(from).map(|(place, read)| lifted(field, warm, place, &read)).collect();
    lifts
}

/// The mean clearance of a place as it is judged.
fn lifted(field: &Field<'_>, warm: Option<&Warm>, place: &lift::PlaceLift, read: &[Read]) -> PlaceValue {
    let unit = field.judged.characteristic.unit();
    let (spot, mean) = (place.place.name.clone(), &place.mean);
    let warmth = warm.and_then(Warm::of_clearance);
    let taken = uncertainty::Taken::Difference;
    let variance = known(field.inspection, (read, taken), &place.clearances, warmth.as_ref(), unit);
    let value = warm.map_or_else(|| mean.clone(), |warm| warm.clearance_20(mean));
    let fault = value.is_negative().then(|| below_nothing(&spot, &value, unit));
    PlaceValue { value, fault, ..value_of(spot, mean.clone(), variance, read) }
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
