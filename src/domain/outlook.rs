//! Whether it will last to the next planned opening: the forecast of one characteristic on the hours of its part.

use super::characteristic::{Characteristic, Given};
use super::exact::Exact;
use super::hours;
use super::inspection::{Inspection, Past};
use super::judge::{self, Side};
use super::measured::PlaceValue;
use super::reckon::forecast::{self, AtNext, NewReading, NoForecast, Question};
use super::reckon::lands::flat_of;
use super::reckon::line;
use super::reckon::told::{self, Now, Told};
use super::reckon::working::Working;
use super::sheet::{Bound, Sheet};
use super::unit::Unit;
use super::verdict::Consequence;

/// What the readings let expect.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Outlook {
    /// A forecast.
    Told {
        /// Its figures, in the unit the trend runs in.
        told: Box<Told>,
        /// That unit.
        unit: Unit,
        /// The limit it is held against, in that unit.
        limit: Exact,
        /// What it leads to: the limit's consequence where the line reaches it, watch where only the bound does.
        leads_to: Consequence,
        /// Whether the part's limit is a ratio of lands and the trend runs on the flat.
        on_flat: Trend,
    },
    /// Why there is none; that changes no disposition, and is said.
    None(String),
    /// It does not move toward its limit, in words: no line meets it. That changes nothing either, and is said.
    Still(String),
}

/// What the line runs on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Trend {
    /// The characteristic itself.
    Value,
    /// The flat of the land, which grows evenly; a line through the ratios would condemn early.
    Flat,
    /// Hours counted, nothing fitted.
    Hours,
}

/// Looks ahead from `value`, the figure that counted, to the next planned opening; how it came about, where a line is drawn.
pub fn outlook(
    inspection: &Inspection,
    characteristic: Characteristic,
    values: &[PlaceValue],
) -> (Outlook, Option<Working>) {
    let (outlook, working) =
        look(inspection, characteristic, values).unwrap_or_else(|(why, working)| (Outlook::None(why), working));
    (outlook, working.map(|working| *working))
}

/// An outlook with its working, or why there is none, with the working that shows it.
type Looked = Result<(Outlook, Option<Box<Working>>), (String, Option<Box<Working>>)>;

fn look(inspection: &Inspection, characteristic: Characteristic, values: &[PlaceValue]) -> Looked {
    let none = |why: &str| (why.to_owned(), None);
    let sheet = inspection.sheet().ok_or_else(|| none("no limits sheet"))?;
    let limit = sheet.levels.get(&characteristic).and_then(|levels| levels.limit.as_ref());
    let limit = limit.ok_or_else(|| none("no limit on the sheet"))?;
    let to_next = hours::to_next(inspection).ok_or_else(|| none("the hours of the next opening are not planned"))?;
    if characteristic.unit() == Unit::Hour {
        let (bound, _) = judge::bounds(limit).next().ok_or_else(|| none("no limit on the sheet"))?;
        let now = &values.first().ok_or_else(|| none(hours::NOT_KNOWN))?.value;
        return life(now, &(now + &to_next), (bound, limit.leads_past()), sheet);
    }
    let part = hours::part_of(characteristic);
    let now = hours::told_of_part(inspection, part).map_err(none)?;
    let next_hours = &now + &to_next;
    let trend = if values.iter().any(|value| value.trend.is_some()) { Trend::Flat } else { Trend::Value };
    let mut worst = Err(none("no limit on the sheet"));
    for (bound, side) in judge::bounds(limit) {
        let size = limit_of_trend(trend, bound, characteristic.unit(), sheet)
            .ok_or_else(|| none("the limit cannot be turned into a flat"))?;
        let side = if trend == Trend::Flat { other(side) } else { side };
        let points = points(inspection, characteristic, (trend, side), (&now, values));
        let asked = question(size.clone(), side, next_hours.clone());
        let unit = if trend == Trend::Flat { Unit::Millimetre } else { characteristic.unit() };
        let leads_past = limit.leads_past();
        let told = |told: Told| Outlook::Told {
            leads_to: match told.at_next {
                AtNext::Within => Consequence::Nothing,
                AtNext::Watch => Consequence::Watch,
                AtNext::Past => leads_past,
            },
            told: Box::new(told),
            unit,
            limit: size,
            on_flat: trend,
        };
        let one = reckoned(points, &asked, unit, told);
        worst = worse_of(worst, one);
    }
    let another = inspection.another_in(characteristic);
    worst.map_err(|(why, working)| (another.unwrap_or(why), working))
}

fn question(limit: Exact, side: Side, next_hours: Exact) -> Question {
    Question {
        limit,
        side: match side {
            Side::Upper => line::Side::Largest,
            Side::Lower => line::Side::Smallest,
        },
        next_hours,
        p: Exact::fraction(95, 100).unwrap_or_else(Exact::zero),
        new_reading: NewReading::Counted,
    }
}

/// Hours of the machine at which a limit is met before the next planned opening, by the line through earlier openings alone or
/// by its bound: for what nobody measures at this one. None where none is, or where they cannot tell.
pub fn met_before_next(inspection: &Inspection, characteristic: Characteristic) -> Option<Exact> {
    let sheet = inspection.sheet()?;
    let limit = sheet.levels.get(&characteristic)?.limit.as_ref()?;
    let now = hours::told_of_part(inspection, hours::part_of(characteristic)).ok()?;
    let next_hours = &now + &hours::to_next(inspection)?;
    let trend = if characteristic.is_reckoned_by("lands", None) { Trend::Flat } else { Trend::Value };
    let met = |(bound, side): (&Bound, Side)| {
        let size = limit_of_trend(trend, bound, characteristic.unit(), sheet)?;
        let side = if trend == Trend::Flat { other(side) } else { side };
        let points = earlier(inspection, (characteristic, side), &next_hours);
        let mut points = with_new(inspection, characteristic, trend, points);
        let last = points.last()?.hours.clone();
        lend_largest(&mut points);
        let got = forecast::forecast(&points, &question(size, side, next_hours.clone())).ok()?;
        let told = got.forecast.as_ref().ok().and_then(|ahead| Told::of(ahead, &got))?;
        let left = told.hours_by_line.into_iter().chain(told.hours_by_bound).min()?;
        let met = &last + &left;
        let machine = hours::of_machine(inspection)?;
        (told.at_next != AtNext::Within).then(|| &met + &(&machine - &now))
    };
    judge::bounds(limit).filter_map(met).min()
}

/// The forecast through these points, told in `unit`.
fn reckoned(
    mut points: Vec<forecast::Inspection>,
    asked: &Question,
    unit: Unit,
    told: impl FnOnce(Told) -> Outlook,
) -> Looked {
    let lent = lend_largest(&mut points);
    let got = forecast::forecast(&points, asked).map_err(|refusal| (refusal.what(), None))?;
    let working = got.working(&points, asked, unit);
    let working = Some(Box::new(match lent {
        Some(largest) => working.about(format!("u of an opening that has none: the largest, {largest} {unit}")),
        None => working,
    }));
    match got.forecast.as_ref().map(|ahead| Told::of(ahead, &got)) {
        Ok(Some(ahead)) => Ok((told(ahead), working)),
        Ok(None) => Err(("figures too large".to_owned(), None)),
        Err(NoForecast::OneReading) => Err(("one opening since the part was new, no forecast".to_owned(), None)),
        Err(NoForecast::NotWorsening(_)) => {
            Ok((Outlook::Still("it does not move toward its limit, no forecast".to_owned()), working))
        }
    }
}

/// Hours counted against a change interval: no line is needed.
fn life(now: &Exact, next: &Exact, (bound, leads_to): (&Bound, Consequence), sheet: &Sheet) -> Looked {
    let limit =
        judge::size_of(bound, Unit::Hour, sheet).ok_or_else(|| ("the change interval is no time".to_owned(), None))?;
    let left = (&limit - now).max(Exact::zero());
    let past = judge::fails(next, &limit, Side::Upper, bound.touching);
    let told = Told {
        next: next.clone(),
        bound: next.clone(),
        basis: forecast::Basis::Line,
        fit: "hours counted".to_owned(),
        hours_by_line: Some(left.clone()),
        hours_by_bound: Some(left),
        at_next: if past { AtNext::Past } else { AtNext::Within },
        now: if judge::fails(now, &limit, Side::Upper, bound.touching) { Now::Past } else { Now::Within },
    };
    let leads_to = if past { leads_to } else { Consequence::Nothing };
    Ok((Outlook::Told { told: Box::new(told), unit: Unit::Hour, limit, leads_to, on_flat: Trend::Hours }, None))
}

/// The figures that a forecast runs through: hours of the part and value at each opening, the present one last.
///
/// In the unit that the forecast is told in; of two sides the one whose limit it is held against.
pub fn track(
    inspection: &Inspection,
    characteristic: Characteristic,
    values: &[PlaceValue],
) -> Vec<forecast::Inspection> {
    let (told, _) = outlook(inspection, characteristic, values);
    let Some(now) = hours::of_part(inspection, hours::part_of(characteristic)) else { return Vec::new() };
    let limit = inspection.sheet().and_then(|sheet| Some((sheet, sheet.levels.get(&characteristic)?.limit.as_ref()?)));
    let (trend, side) = match (&told, limit) {
        (Outlook::Told { limit: against, on_flat, .. }, Some((sheet, limit))) => {
            let is =
                |bound: &Bound| limit_of_trend(*on_flat, bound, characteristic.unit(), sheet).as_ref() == Some(against);
            let side = judge::bounds(limit).find(|(bound, _)| is(bound)).map_or(Side::Upper, |(_, side)| side);
            (*on_flat, if *on_flat == Trend::Flat { other(side) } else { side })
        }
        (Outlook::Told { on_flat, .. }, None) => (*on_flat, Side::Upper),
        (Outlook::None(_) | Outlook::Still(_), limit) => {
            let side = limit.and_then(|(_, limit)| judge::bounds(limit).next()).map_or(Side::Upper, |(_, side)| side);
            (Trend::Value, side)
        }
    };
    points(inspection, characteristic, (trend, side), (&now, values))
}

/// Earlier openings of the same part, then now.
fn points(
    inspection: &Inspection,
    characteristic: Characteristic,
    (trend, side): (Trend, Side),
    (now, values): (&Exact, &[PlaceValue]),
) -> Vec<forecast::Inspection> {
    let of_trend =
        |value: &PlaceValue| if trend == Trend::Flat { value.trend.clone() } else { Some(value.value.clone()) };
    let worst = values.iter().filter_map(|value| Some((of_trend(value)?, value))).reduce(|a, b| {
        let b_is_worse = match side {
            Side::Upper => b.0 > a.0,
            Side::Lower => b.0 < a.0,
        };
        if b_is_worse { b } else { a }
    });
    let Some((value, place)) = worst else { return Vec::new() };
    let edge = || inspection.sheet()?.given(Given::parse("thrust.edge")?);
    let u = match trend {
        Trend::Flat => edge(),
        Trend::Value | Trend::Hours => place.variance.as_ref().and_then(|variance| told::u_kept(&variance.variance)),
    };
    let mut points: Vec<_> = earlier(inspection, (characteristic, side), now);
    points.push(forecast::Inspection { hours: now.clone(), value, step: None, u, replaced: false });
    with_new(inspection, characteristic, trend, points)
}

/// The only opening since a part was new, behind what it was then, where that is known: no wear, and the flat of a new land.
fn with_new(
    inspection: &Inspection,
    characteristic: Characteristic,
    trend: Trend,
    mut points: Vec<forecast::Inspection>,
) -> Vec<forecast::Inspection> {
    let is_wear = [("wear", None), ("journal", Some("step_wear"))];
    let new = match trend {
        Trend::Flat => inspection.sheet().and_then(|sheet| sheet.given(Given::parse("thrust.flat")?)),
        Trend::Value => is_wear.iter().any(|(by, of)| characteristic.is_reckoned_by(by, *of)).then(Exact::zero),
        Trend::Hours => None,
    };
    if let ([only], Some(value)) = (points.as_slice(), new)
        && !only.replaced
        && only.hours > Exact::zero()
    {
        let new = forecast::Inspection { hours: Exact::zero(), value, step: None, u: None, replaced: true };
        points.insert(0, new);
    }
    points
}

/// A line is weighted by all uncertainties or by none: what is known of one opening is not thrown away for another, which
/// is given the largest. That one, where any lacked its own.
fn lend_largest(points: &mut [forecast::Inspection]) -> Option<Exact> {
    let largest = points.iter().filter_map(|point| point.u.clone()).max()?;
    let lacking = points.iter_mut().filter(|point| point.u.is_none());
    let lent = lacking.map(|point| point.u = Some(largest.clone())).count();
    (lent > 0).then_some(largest)
}

fn earlier(
    inspection: &Inspection,
    (characteristic, side): (Characteristic, Side),
    now: &Exact,
) -> Vec<forecast::Inspection> {
    let mine = inspection.history_of(characteristic).filter(|past| past.side.is_none_or(|of| of == side));
    let point = |past: &Past| {
        let hours = past.hours.to(Unit::Hour)?;
        let u = past.u.clone().filter(|u| !u.is_zero());
        Some(forecast::Inspection { hours, value: past.value.clone(), step: None, u, replaced: past.as_left })
    };
    let all: Vec<_> = mine.filter_map(point).collect();
    let start = all.iter().rposition(|point| point.replaced).unwrap_or(0);
    all.into_iter().skip(start).filter(|point| point.hours < *now).collect()
}

/// Why what a part was cannot tell what it will be: nothing is said of its hours, or figures of it lie at more of them.
pub fn out_of_hours(inspection: &Inspection, characteristic: Characteristic) -> Option<&'static str> {
    let mine: Vec<_> = inspection.history_of(characteristic).collect();
    let start = mine.iter().rposition(|past| past.as_left).unwrap_or(0);
    let mut since = mine.iter().skip(start).peekable();
    match hours::told_of_part(inspection, hours::part_of(characteristic)) {
        Ok(now) => since
            .any(|past| past.hours.to(Unit::Hour).is_some_and(|then| then > now))
            .then_some("the hours of the part are fewer than at the last opening"),
        Err(why) => since.peek().map(|_| why),
    }
}

/// The limit in the unit the trend runs in: a ratio r of taper to flat is met at the flat (Lt0 + Lf0) / (1 + r).
fn limit_of_trend(trend: Trend, bound: &Bound, unit: Unit, sheet: &Sheet) -> Option<Exact> {
    let size = judge::size_of(bound, unit, sheet)?;
    match trend {
        Trend::Value | Trend::Hours => Some(size),
        Trend::Flat => {
            let given = |name| sheet.given(Given::parse(name)?);
            flat_of(&(&given("thrust.taper")? + &given("thrust.flat")?), &size)
        }
    }
}

fn other(side: Side) -> Side {
    match side {
        Side::Upper => Side::Lower,
        Side::Lower => Side::Upper,
    }
}

/// Of two sides the one that says more: a graver consequence, else a forecast before none, else the nearer limit.
fn worse_of(a: Looked, b: Looked) -> Looked {
    let rank = |one: &Looked| match one {
        Ok((Outlook::Told { leads_to, .. }, _)) => (1, Some(*leads_to)),
        Ok((Outlook::None(_) | Outlook::Still(_), _)) | Err(_) => (0, None),
    };
    if rank(&b) >= rank(&a) { b } else { a }
}
