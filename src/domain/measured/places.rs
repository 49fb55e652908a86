//! Grids whose places are judged one by one: plain readings, wear against a new size, life hours.

use super::super::characteristic::Given;
use super::super::checklist::Cell;
use super::super::exact::{Exact, Rounding};
use super::super::figure::Figure;
use super::super::hours;
use super::super::id::Id;
use super::super::inspection::{Doubted, Taken};
use super::super::judge::{Condition, Side};
use super::super::reckon::budget::Budget;
use super::super::reckon::repeats::{self, repeats as reckon_repeats};
use super::super::reckon::working::Working;
use super::super::reckon::{uncertainty, wear};
use super::super::repeated;
use super::super::unit::Unit;
use super::known::{corrected, known};
use super::warmth::{Warm, tell_as_read};
use super::{Field, Measured, PlaceValue, known as gauges};

/// A cell with what was taken there, in the judged unit.
#[derive(Debug, Clone)]
pub(super) struct Read {
    pub(super) cell: Cell,
    pub(super) taken: Taken,
    /// With the gauge's correction.
    pub(super) size: Exact,
}

/// A place, and what was read there.
pub(super) type Spot = (String, Vec<Read>);

/// A place of which something is missing.
pub(super) struct Short {
    spot: String,
    /// What stands of it.
    pub(super) left: Vec<Read>,
    /// After a strike, what stood there when it was whole.
    before: Option<Vec<Read>>,
}

impl Short {
    /// What it comes to on each side: what is left says, and after a strike no more than the whole had said, since the strike
    /// of one that reads low makes no place worse before it is taken again.
    pub(super) fn comes_to(&self, reckon: impl Fn(&str, &[Read]) -> Option<PlaceValue>) -> Vec<(Side, PlaceValue)> {
        let Some(left) = reckon(&self.spot, &self.left) else { return Vec::new() };
        let before = self.before.as_ref().and_then(|read| reckon(&self.spot, read));
        let milder = |side: Side| {
            let is_milder = |before: &&PlaceValue| match side {
                Side::Upper => before.value < left.value,
                Side::Lower => before.value > left.value,
            };
            let entries = left.entries.clone();
            let before = before.as_ref().filter(is_milder).map(|before| PlaceValue { entries, ..before.clone() });
            before.unwrap_or_else(|| left.clone())
        };
        [Side::Upper, Side::Lower].map(|side| (side, milder(side))).into()
    }
}

impl Field<'_> {
    /// Every field that is taken, in the hand's order.
    pub(super) fn read(&self, unit: Unit) -> Vec<Read> {
        self.cells.iter().filter_map(|cell| self.read_before(cell, u32::MAX, unit)).collect()
    }

    /// What counted in a field just before an entry.
    fn read_before(&self, cell: &Cell, entry: u32, unit: Unit) -> Option<Read> {
        let taken = self.inspection.reading_before(&self.step.id, &cell.place(), entry)?;
        let size = corrected(self.inspection, &taken, unit)?;
        Some(Read { cell: cell.clone(), taken, size })
    }

    /// Spots in the hand's order, each with its readings, complete ones only.
    pub(super) fn complete_spots(&self, unit: Unit) -> Vec<Spot> {
        let all = self.spots(unit);
        all.into_iter().filter(|(spot, here)| here.len() == self.cells_at(spot).count()).collect()
    }

    /// Spots of which readings are struck or left out, or were asked for once more, and none is still to be taken for the first
    /// time: with what is left of what stood there. What was taken since a strike belongs to a set that is not whole again, and
    /// says nothing before its last repeat; nor does what is left of a set that never was whole.
    pub(super) fn short_spots(&self, unit: Unit) -> Vec<Short> {
        let short = self.spots(unit).into_iter().filter_map(|(spot, here)| {
            let gone: Vec<&Cell> = self.cells_at(&spot).filter(|cell| self.is_gone(cell)).collect();
            if gone.is_empty() || here.len() + gone.len() != self.cells_at(&spot).count() {
                return None;
            }
            if !gone.iter().any(|cell| self.waits_for_retake(cell)) {
                return Some(Short { spot, left: here, before: None });
            }
            let whole = self.last_whole(&spot)?;
            let before = self.cells_at(&spot).filter_map(|cell| self.read_before(cell, whole, unit)).collect();
            let left = here.into_iter().filter(|read| read.taken.entry < whole).collect();
            Some(Short { spot, left, before: Some(before) })
        });
        short.filter(|short| !short.left.is_empty()).collect()
    }

    /// The strike before which every reading of a spot stood the last time; what is left out, or waits for its first, never did.
    fn last_whole(&self, spot: &str) -> Option<u32> {
        let readings = self.cells_at(spot).flat_map(|cell| self.inspection.readings_at(&self.step.id, &cell.place()));
        let strikes = readings.filter_map(|reading| self.inspection.struck_by(reading.number));
        let stood = |cell: &Cell, by: u32| self.inspection.reading_before(&self.step.id, &cell.place(), by).is_some();
        let whole = |by: &u32| self.cells_at(spot).all(|cell| self.is_waived(cell) || stood(cell, *by));
        strikes.filter(whole).max()
    }

    fn is_gone(&self, cell: &Cell) -> bool {
        self.is_waived(cell) || self.inspection.is_struck(&self.step.id, &cell.place())
    }

    /// Whether the place was whole without this field.
    fn is_waived(&self, cell: &Cell) -> bool {
        self.inspection.is_left_out(&self.step.id, &cell.place())
            || repeated::is_awaited(self.inspection, self.step, cell)
    }

    /// Whether a field was struck to be taken again.
    fn waits_for_retake(&self, cell: &Cell) -> bool {
        let (step, place) = (&self.step.id, cell.place());
        self.inspection.is_struck(step, &place) && !self.inspection.is_left_out(step, &place)
    }

    /// Whether what was read in a field was struck behind this entry.
    pub(super) fn was_struck_after(&self, cell: &Cell, entry: u32) -> bool {
        let readings = self.inspection.readings_at(&self.step.id, &cell.place());
        readings.iter().any(|reading| self.inspection.struck_by(reading.number).is_some_and(|by| by > entry))
    }

    fn cells_at<'a>(&'a self, spot: &'a str) -> impl Iterator<Item = &'a Cell> {
        self.cells.iter().filter(move |cell| cell.spot() == spot)
    }

    fn spots(&self, unit: Unit) -> Vec<Spot> {
        let read = self.read(unit);
        let mut spots: Vec<String> = Vec::new();
        for cell in &self.cells {
            if !spots.contains(&cell.spot()) {
                spots.push(cell.spot());
            }
        }
        let at = |spot: &String| read.iter().filter(|read| read.cell.spot() == *spot).cloned().collect();
        spots.into_iter().map(|spot| (spot.clone(), at(&spot))).collect()
    }

    pub(super) fn is_first_figure(&self, cell: &Cell) -> bool {
        let first = self.cells.first().and_then(|cell| cell.figure.as_ref());
        cell.figure.as_ref() == first
    }

    pub(super) fn given(&self, name: &str) -> Option<Exact> {
        self.inspection.sheet()?.given(Given::parse(name)?)
    }
}

/// Plain readings: the mean of the repeats at each place.
pub(super) fn repeats(field: &Field<'_>, measured: Measured) -> Measured {
    let purpose = "mean of the repeats at each place; the worst place counts";
    means(field, measured, &Means { purpose, from: None })
}

/// Wear against the new size that the sheet gives.
pub(super) fn wear(field: &Field<'_>, measured: Measured) -> Measured {
    let Some(new) = field.given("bush.pin-width") else {
        return measured.fault(format!("the limits sheet does not give: {}", "new width of the locking pin"));
    };
    let purpose = "new size less the mean at each place";
    let mut measured = means(field, measured, &Means { purpose, from: Some(new) });
    for one in measured.values.iter_mut().chain(measured.left.iter_mut().map(|(_, one)| one)) {
        gauges::deny_below_nothing(field, one);
    }
    measured
}

/// How the mean of a place becomes the figure that is judged.
struct Means {
    purpose: &'static str,
    /// The size it is taken from; none where the mean itself is judged.
    from: Option<Exact>,
}

impl Means {
    fn judged(&self, mean: &Exact) -> Exact {
        self.from.as_ref().map_or_else(|| mean.clone(), |from| from - mean)
    }

    /// `12 mm - 10.72 mm`; several readings as their mean.
    fn put_in(&self, read: &[Read], unit: Unit) -> String {
        let one = |figure: Figure| {
            let pole = if figure.is_of_the_other_pole() { "amount of " } else { "" };
            format!("{pole}{figure}")
        };
        let typed: Vec<_> = read.iter().map(|read| one(read.taken.figure)).collect();
        let typed = if typed.len() > 1 { format!("mean of {}", typed.join(", ")) } else { typed.concat() };
        self.from.as_ref().map_or_else(|| typed.clone(), |from| format!("{} {unit} - {typed}", shown(from)))
    }
}

fn means(field: &Field<'_>, mut measured: Measured, how: &Means) -> Measured {
    let unit = measured.unit;
    let warm = Warm::of_size_at(field);
    let mut working = Working {
        // the mean is the mean, whatever it is held against
        rule: if how.from.is_some() { wear::FORMULA.id() } else { repeats::FORMULA.id() },
        purpose: how.purpose,
        source: "GUM 4.2; common practice",
        lines: Vec::new(),
        result: String::new(),
    };
    for (spot, read) in field.complete_spots(unit) {
        let Some((value, sizes)) = mean_at(field, how, warm.as_ref().ok(), (&spot, &read)) else { continue };
        working.step(spot.clone(), how.put_in(&read, unit), "", format!("{} {unit}", shown(&value.as_read)));
        tell_grubbs(&spot, &sizes, &mut working);
        measured.values.push(value);
    }
    let mean = |spot: &str, read: &[Read]| Some(mean_at(field, how, warm.as_ref().ok(), (spot, read))?.0);
    measured.left = field.short_spots(unit).iter().flat_map(|short| short.comes_to(mean)).collect();
    if !measured.values.is_empty() {
        working.result = ends_in_words(&measured.values, unit);
        tell_as_read(warm.as_ref().map_err(|why| *why), unit, &mut working);
        measured.working.push(working);
        measured.working.extend(warm.map(|warm| warm.working(&measured.values, unit)));
    }
    measured
}

/// The mean at a place as it is judged, and what it is the mean of.
fn mean_at(
    field: &Field<'_>,
    how: &Means,
    warm: Option<&Warm>,
    (spot, read): (&str, &[Read]),
) -> Option<(PlaceValue, Vec<Exact>)> {
    let unit = field.judged.characteristic.unit();
    let sizes: Vec<_> = read.iter().map(|read| read.size.clone()).collect();
    let sum: Exact = sizes.iter().sum();
    let value = how.judged(&sum.over(&Exact::from(u32::try_from(sizes.len()).ok()?))?);
    let warmth = warm.map(|warm| warm.of_size(&value));
    let variance = known(field.inspection, (read, uncertainty::Taken::Single), &sizes, warmth.as_ref(), unit);
    let value_20 = warm.map_or_else(|| value.clone(), |warm| warm.size_20(&value));
    Some((PlaceValue { value: value_20, ..value_of(spot.to_owned(), value, variance, read) }, sizes))
}

/// `largest 1.40 mm at near the tip, smallest 1.28 mm at near the root`; a single place for itself.
fn ends_in_words(values: &[PlaceValue], unit: Unit) -> String {
    let one = |value: &PlaceValue| format!("{} {unit} at {}", shown(&value.as_read), value.spot);
    let largest = values.iter().reduce(|a, b| if b.as_read > a.as_read { b } else { a });
    let smallest = values.iter().reduce(|a, b| if b.as_read < a.as_read { b } else { a });
    match (largest, smallest) {
        (Some(largest), Some(smallest)) if values.len() > 1 => {
            format!("largest {}, smallest {}", one(largest), one(smallest))
        }
        (Some(only), _) => one(only),
        (None, _) => String::new(),
    }
}

/// From five repeats up at a place, whether one of them lies apart; reported only.
pub(super) fn tell_grubbs(spot: &str, sizes: &[Exact], working: &mut Working) {
    let told = reckon_repeats(sizes, None).ok().and_then(|repeats| repeats.grubbs_in_words(sizes));
    if let Some(told) = told {
        working.say(format!("{spot}: {told}"));
    }
}

/// Hours of the part against its change interval.
pub(super) fn life(field: &Field<'_>, mut measured: Measured) -> Measured {
    measured.of = 1;
    let part = field.judged.characteristic.part();
    let as_left = field.step.condition() == Condition::AsLeft;
    if as_left && !field.inspection.is_replaced(part) {
        return measured;
    }
    let hours = if as_left {
        hours::of_renewed(field.inspection, part).ok_or(hours::NOT_KNOWN)
    } else {
        hours::told_of_part(field.inspection, part)
    };
    let hours = match hours {
        Ok(hours) => hours,
        Err(why) => {
            (measured.done, measured.of) = (1, 1);
            return measured.fault(why);
        }
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
    measured.working.push(working.resulting(format!("{} h", shown(&hours))));
    measured.values.push(PlaceValue {
        spot: "hours".to_owned(),
        as_read: hours.clone(),
        value: hours,
        side: None,
        trend: None,
        variance: None,
        entries: Vec::new(),
        gauges: Vec::new(),
        doubted: if as_left { Doubted::No } else { hours::doubted(field.inspection, part) },
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
