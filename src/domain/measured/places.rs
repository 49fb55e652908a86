//! Grids whose places are judged one by one: lifts, plain readings, wear against a new size, life hours.

use super::super::characteristic::Given;
use super::super::checklist::Cell;
use super::super::exact::{Exact, Rounding};
use super::super::id::Id;
use super::super::inspection::{Doubted, Taken};
use super::super::reckon::budget::Budget;
use super::super::reckon::lift::{self, Agreement, Pair, Place};
use super::super::reckon::uncertainty;
use super::super::reckon::working::Working;
use super::super::unit::Unit;
use super::known::{corrected, division, known};
use super::warmth::{Warm, tell_as_read};
use super::{Fault, Field, Measured, PlaceValue, known as gauges};

/// A cell with what was taken there, in the judged unit.
#[derive(Debug, Clone)]
pub(super) struct Read {
    pub(super) cell: Cell,
    pub(super) taken: Taken,
    /// With the gauge's correction.
    pub(super) size: Exact,
}

impl Field<'_> {
    /// Every field that is taken, in the hand's order.
    pub(super) fn read(&self, unit: Unit) -> Vec<Read> {
        let read = self.cells.iter().filter_map(|cell| {
            let taken = self.inspection.reading(&self.step.id, &cell.place())?;
            let size = corrected(self.inspection, &taken, unit)?;
            Some(Read { cell: cell.clone(), taken, size })
        });
        read.collect()
    }

    /// Spots in the hand's order, each with its readings, complete ones only.
    pub(super) fn complete_spots(&self, unit: Unit) -> Vec<(String, Vec<Read>)> {
        let read = self.read(unit);
        let mut spots: Vec<String> = Vec::new();
        for cell in &self.cells {
            if !spots.contains(&cell.spot()) {
                spots.push(cell.spot());
            }
        }
        let with_readings = spots.into_iter().map(|spot| {
            let here: Vec<_> = read.iter().filter(|read| read.cell.spot() == spot).cloned().collect();
            (spot, here)
        });
        let wanted = |spot: &str| self.cells.iter().filter(|cell| cell.spot() == spot).count();
        with_readings.filter(|(spot, here)| here.len() == wanted(spot)).collect()
    }

    pub(super) fn is_first_figure(&self, cell: &Cell) -> bool {
        let first = self.cells.first().and_then(|cell| cell.figure.as_ref());
        cell.figure.as_ref() == first
    }

    pub(super) fn given(&self, name: &str) -> Option<Exact> {
        self.inspection.sheet()?.given(Given::parse(name)?)
    }
}

/// Clearance or float by two dial positions.
pub(super) fn lift(field: &Field<'_>, mut measured: Measured) -> Measured {
    let unit = measured.unit;
    let mut places = Vec::new();
    let mut from = Vec::new();
    for (spot, read) in field.complete_spots(unit) {
        let pairs = read.chunks(2).filter_map(|pair| match pair {
            [down, up] => Some(Pair { down: down.size.clone(), up: up.size.clone() }),
            _ => None,
        });
        places.push(Place { name: spot, pairs: pairs.collect() });
        from.push(read);
    }
    let division = division(field.inspection, from.first(), unit);
    if places.is_empty() {
        return measured;
    }
    let lift = match lift::lift(&places, division.as_ref()) {
        Ok(lift) => lift,
        Err(refusal) => return measured.fault(refusal.what()),
    };
    let warm = Warm::of_lift(field);
    for (place, read) in lift.places.iter().zip(from) {
        let taken = (&read[..], uncertainty::Taken::Difference);
        let warmth = warm.as_ref().ok().and_then(Warm::of_clearance);
        let variance = known(field.inspection, taken, &place.clearances, warmth.as_ref(), unit);
        let value = warm.as_ref().map_or_else(|_| place.mean.clone(), |warm| warm.clearance_20(&place.mean));
        let as_read = value_of(place.place.name.clone(), place.mean.clone(), variance, &read);
        let mut one = PlaceValue { value, ..as_read };
        if place.agreement == Agreement::Retake {
            let (name, apart) = (&place.place.name, shown(&place.range));
            let words = format!("{name}: repeats {apart} {unit} apart, more than two divisions: strike all and retake");
            one.fault = Some(Fault { word: "retake", words });
        }
        measured.values.push(one);
    }
    let mut working = lift.working();
    tell_as_read(warm.as_ref().map_err(|why| *why), unit, &mut working);
    measured.working.push(working);
    measured.working.extend(warm.map(|warm| warm.working(&measured.values, unit)));
    measured
}

/// Plain readings: the mean of the repeats at each place.
pub(super) fn repeats(field: &Field<'_>, measured: Measured) -> Measured {
    means(field, measured, "mean of the repeats at each place; the worst place counts", &|mean| mean.clone())
}

/// Wear against the new size that the sheet gives.
pub(super) fn wear(field: &Field<'_>, measured: Measured) -> Measured {
    let Some(new) = field.given("bush.pin-width") else {
        return measured.fault(format!("the limits sheet does not give: {}", "new width of the locking pin"));
    };
    let mut measured = means(field, measured, "new size less the mean at each place", &|mean| &new - mean);
    for one in &mut measured.values {
        gauges::deny_below_nothing(field, one);
    }
    measured
}

fn means(
    field: &Field<'_>,
    mut measured: Measured,
    purpose: &'static str,
    judged: &dyn Fn(&Exact) -> Exact,
) -> Measured {
    let unit = measured.unit;
    let warm = Warm::of_size_at(field);
    let mut working = Working {
        rule: field.judged.reckoning.clone(),
        purpose,
        source: "GUM 4.2; common practice",
        lines: Vec::new(),
        result: String::new(),
    };
    for (spot, read) in field.complete_spots(unit) {
        let sizes: Vec<_> = read.iter().map(|read| read.size.clone()).collect();
        let sum: Exact = sizes.iter().sum();
        let Some(mean) = u32::try_from(sizes.len()).ok().and_then(|count| sum.over(&Exact::from(count))) else {
            continue;
        };
        let value = judged(&mean);
        let value_20 = warm.as_ref().map_or_else(|_| value.clone(), |warm| warm.size_20(&value));
        let put_in = read.iter().map(|read| read.taken.figure.to_string()).collect::<Vec<_>>().join(", ");
        working.step(spot.clone(), put_in, "", format!("{} {unit}", shown(&value)));
        let warmth = warm.as_ref().ok().map(|warm| warm.of_size(&value));
        let taken = (&read[..], uncertainty::Taken::Single);
        let variance = known(field.inspection, taken, &sizes, warmth.as_ref(), unit);
        measured.values.push(PlaceValue { value: value_20, ..value_of(spot, value, variance, &read) });
    }
    if !measured.values.is_empty() {
        tell_as_read(warm.as_ref().map_err(|why| *why), unit, &mut working);
        measured.working.push(working);
        measured.working.extend(warm.map(|warm| warm.working(&measured.values, unit)));
    }
    measured
}

/// Hours of the part against its change interval.
pub(super) fn life(field: &Field<'_>, mut measured: Measured) -> Measured {
    measured.of = 1;
    let part = field.judged.characteristic.part();
    let Some(hours) = super::super::hours::of_part(field.inspection, part) else {
        return measured.fault("the hours of the part are not known");
    };
    measured.done = 1;
    let mut working = Working {
        rule: field.judged.reckoning.clone(),
        purpose: "hours of the part since new",
        source: "counting",
        lines: Vec::new(),
        result: String::new(),
    };
    working.step("hours", "", "", format!("{} h", shown(&hours)));
    measured.working.push(working);
    measured.values.push(PlaceValue {
        spot: "hours".to_owned(),
        as_read: hours.clone(),
        value: hours,
        side: None,
        trend: None,
        variance: None,
        entries: Vec::new(),
        gauges: Vec::new(),
        doubted: Doubted::No,
        fault: None,
    });
    measured
}

/// All digits where the decimal ends, else four places.
pub(super) fn shown(exact: &Exact) -> String {
    exact.as_decimal().unwrap_or_else(|| exact.rounded(4, Rounding::Nearest))
}

pub(super) fn value_of(spot: String, value: Exact, variance: Option<Budget>, read: &[Read]) -> PlaceValue {
    let mut gauges: Vec<Id> = Vec::new();
    for gauge in read.iter().filter_map(|read| read.taken.gauge.as_ref()) {
        if !gauges.contains(gauge) {
            gauges.push(gauge.clone());
        }
    }
    let doubted = read.iter().map(|read| read.taken.doubted).max().unwrap_or(Doubted::No);
    let entries = read.iter().map(|read| read.taken.entry).collect();
    PlaceValue {
        spot,
        as_read: value.clone(),
        value,
        side: None,
        trend: None,
        variance,
        entries,
        gauges,
        doubted,
        fault: None,
    }
}
