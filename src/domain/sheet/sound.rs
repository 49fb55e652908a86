//! Whether the levels of a characteristic hold together: a sheet's file and a level typed at the bench pass the same door.

use std::cmp::Ordering;

use super::super::characteristic::Characteristic;
use super::super::exact::{Exact, Rounding};
use super::super::figure::Figure;
use super::super::hours;
use super::super::judge::{self, Side};
use super::super::sides::is_level;
use super::super::unit::{Dimension, Unit};
use super::super::verdict::Consequence;
use super::{Amount, Bound, Level, Levels, Sheet, Touching, Which};

/// What is wrong with levels, and where.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fault {
    /// Which of the three.
    pub level: Which,
    /// The side whose bound it is about; none: what stands at `key`.
    pub side: Option<Side>,
    /// `leads to`, or `source`.
    pub key: &'static str,
    /// As found.
    pub found: String,
    /// As it should be.
    pub expected: String,
    /// How to mend it, one sentence.
    pub mend: String,
}

impl Fault {
    fn new(level: Which, side: Option<Side>, found: impl Into<String>, expected: &str, mend: &str) -> Self {
        Self { level, side, key: "leads to", found: found.into(), expected: expected.to_owned(), mend: mend.to_owned() }
    }

    /// A source that reads as a level.
    pub fn of_source(level: Which, source: &str) -> Self {
        let mend = "Write where it stands in the manual: a page, or a table and line.";
        let found = format!("the source `{source}`, which reads as a level");
        Self { key: "source", ..Self::new(level, None, found, "where it stands in the manual", mend) }
    }

    /// What is wrong, one sentence.
    pub fn what(&self) -> String {
        format!("The {} has {}, not {}.", self.level.word(), self.found, self.expected)
    }

    /// A figure of one kind where another is wanted: as found, as expected, and the mend.
    pub fn of_dimension(figure: Figure, wanted: Dimension) -> (String, String, &'static str) {
        let found = format!("`{figure}`, {}", figure.dimension().one());
        (found, wanted.one(), "Put the unit behind the figure, one of that kind.")
    }
}

/// Every fault of the levels of `one` on the machine of `sheet`.
pub fn faults(sheet: &Sheet, one: Characteristic, levels: &Levels) -> Vec<Fault> {
    let of_level = |(which, level): (Which, &Level)| {
        let mut found: Vec<_> = idle(which, level).into_iter().chain(no_source(which, one, level)).collect();
        found.extend(unmet(sheet, which, one, level));
        found.extend(sides(sheet, which, one, level));
        found.extend(lee_side(which, one, level));
        found.extend(never_right(which, one, level));
        found.extend(far_off(sheet, which, one, level));
        found.extend(thousands(sheet, which, level));
        found.extend(beyond_all(sheet, which, one, level));
        found
    };
    let there = Which::ALL.into_iter().filter_map(|which| Some((which, levels.of(which)?)));
    there.flat_map(of_level).chain(order(sheet, one, levels)).collect()
}

/// No limit, no green: nor one past which nothing follows.
fn idle(which: Which, level: &Level) -> Option<Fault> {
    let mend = "What is past a level is never called good: write watch, refer, rework or replace.";
    let idle = level.leads_to() == Consequence::Nothing;
    idle.then(|| Fault::new(which, None, "a level that leads to nothing", "watch or graver", mend))
}

/// The eye in one column and the hand in another.
fn no_source(which: Which, one: Characteristic, level: &Level) -> Option<Fault> {
    let source = level.source();
    is_level(source, one.unit()).then(|| Fault::of_source(which, source))
}

/// Figures of another dimension, and bands into which the machine does not fall.
fn unmet(sheet: &Sheet, which: Which, one: Characteristic, level: &Level) -> Vec<Fault> {
    let of_bound = |(bound, side): (&Bound, Side)| {
        let figures: Vec<Figure> = match &bound.amount {
            Amount::Fixed(figure) => vec![*figure],
            Amount::BySize { bands, .. } => bands.iter().map(|band| band.figure).collect(),
        };
        let wrong = figures.into_iter().find(|figure| figure.dimension() != one.dimension()).map(|figure| {
            let (found, expected, mend) = Fault::of_dimension(figure, one.dimension());
            Fault::new(which, Some(side), found, &expected, mend)
        });
        wrong.into_iter().chain(in_no_band(sheet, (which, side), &bound.amount)).collect::<Vec<_>>()
    };
    judge::bounds(level).flat_map(of_bound).collect()
}

fn in_no_band(sheet: &Sheet, (which, side): (Which, Side), amount: &Amount) -> Option<Fault> {
    let Amount::BySize { size, .. } = amount else { return None };
    if sheet.amount(amount).is_some() {
        return None;
    }
    let found = match sheet.given.get(size) {
        Some(given) => format!("bands that leave out the {} {}", size.plain(), given.figure),
        None => format!("bands by the {}, which the sheet does not give", size.plain()),
    };
    let mend = format!("Give it, `{}`, among the figures of the machine, so that it falls into a band.", size.name());
    Some(Fault::new(which, Some(side), found, "a limit that can be reached", &mend))
}

/// A bound's size on this machine, in the characteristic's unit; none of another dimension, which is a fault of its own.
fn size(sheet: &Sheet, one: Characteristic, bound: Option<&Bound>) -> Option<Exact> {
    judge::size_of(bound?, one.unit(), sheet)
}

/// The same as the sheet gives it, in its own unit.
fn stated(sheet: &Sheet, bound: &Bound) -> Option<String> {
    sheet.amount(&bound.amount).map(|figure| figure.to_string())
}

/// Between two bounds of one level there is room; nothing fails below nothing.
fn sides(sheet: &Sheet, which: Which, one: Characteristic, level: &Level) -> Vec<Fault> {
    let (upper, lower) = (size(sheet, one, level.upper()), size(sheet, one, level.lower()));
    let at_lower = |found: &str, expected, mend| Fault::new(which, Some(Side::Lower), found, expected, mend);
    let mut faults = Vec::new();
    let said = |bound: Option<&Bound>| bound.and_then(|bound| stated(sheet, bound)).unwrap_or_default();
    if let (Some(_), Some(_)) = (&upper, &lower)
        && lower > upper
    {
        let (lower, upper) = (said(level.lower()), said(level.upper()));
        let found = format!("nothing between the lower bound {lower} and the upper bound {upper}");
        faults.push(at_lower(&found, "room between the two", "Look whether the two are the wrong way round."));
    }
    let fails_below_nothing = which != Which::New && lower.is_some_and(|lower| lower.is_zero() || lower.is_negative());
    if fails_below_nothing && one.dimension() != Dimension::Temperature {
        let found = "a lower bound that no figure can fall below";
        let mend = "Put a figure above 0, or take this side out.";
        faults.push(at_lower(found, "a limit that can be reached", mend));
    }
    if upper.is_some_and(|upper| upper.is_negative()) {
        let found = "an upper bound below 0";
        faults.push(Fault::new(which, Some(Side::Upper), found, "a figure above 0", "Look at its sign."));
    }
    faults
}

/// A level on the side alone to which nothing wears lets through whatever wears.
fn lee_side(which: Which, one: Characteristic, level: &Level) -> Option<Fault> {
    let worse = one.worsens()?;
    let (side, found, expected, mend) = match (worse, level.upper(), level.lower()) {
        (Side::Upper, None, Some(_)) => (
            Side::Lower,
            "falls short",
            "a bound for what is too large",
            "It grows with wear: give the largest figure.",
        ),
        (Side::Lower, Some(_), None) => (
            Side::Upper,
            "goes beyond",
            "a bound for what is too small",
            "It shrinks with wear: give the smallest figure.",
        ),
        (Side::Upper | Side::Lower, _, _) => return None,
    };
    Some(Fault::new(which, Some(side), format!("a bound for what {found} alone"), expected, mend))
}

/// Less run-out than there may be, or more wall: nothing is wrong with it.
fn never_right(which: Which, one: Characteristic, level: &Level) -> Option<Fault> {
    let side = one.never_bad().filter(|_| which != Which::New)?;
    // alone on that side it is told already
    let is_there = level.upper().is_some() && level.lower().is_some();
    let better = if side == Side::Lower { "less" } else { "more" };
    let found = format!("a bound that is failed by {better}, and {better} is always better");
    let expected = "a limit that can be right";
    is_there.then(|| Fault::new(which, Some(side), found, expected, "Take this side out."))
}

/// No play, wear or run-out of such a machine is ever so large, in mm. Source: common practice.
const NEVER: u32 = 25;

/// A unit that slipped: metres for micrometres, a diameter for a clearance.
fn far_off(sheet: &Sheet, which: Which, one: Characteristic, level: &Level) -> Vec<Fault> {
    let sized = one.reckonings().next().is_none_or(|(name, _)| name == "repeats");
    if sized || one.unit() != Unit::Millimetre {
        return Vec::new();
    }
    let too_large = |(bound, side): (&Bound, Side)| {
        let most = Exact::from(NEVER);
        let figure =
            sheet.amount(&bound.amount).filter(|figure| figure.to(one.unit()).is_some_and(|size| size > most))?;
        let (unit, own) = (figure.unit(), format!("{NEVER} {}", one.unit()));
        let in_its = one.unit().convert(&most, unit).filter(|_| unit != one.unit());
        let in_its = in_its.map(|most| format!("{} {unit} ({own})", most.rounded(2, Rounding::Down)));
        let expected = format!("at most {}", in_its.unwrap_or(own));
        Some(Fault::new(which, Some(side), format!("{} at {figure}", one.name()), &expected, "Look at the unit."))
    };
    judge::bounds(level).filter_map(too_large).collect()
}

/// Hours with a mark of thousands: `60,000 h` would be sixty.
fn thousands(sheet: &Sheet, which: Which, level: &Level) -> Vec<Fault> {
    let marked = |(bound, side): (&Bound, Side)| {
        let figure = sheet.amount(&bound.amount)?;
        let mend = format!("Write {} without a mark.", hours::without_mark(figure)?);
        Some(Fault::new(which, Some(side), figure.to_string(), "hours without a mark of thousands", &mend))
    };
    judge::bounds(level).filter_map(marked).collect()
}

/// Wear up to all that there is: the piece is gone before it fails.
fn beyond_all(sheet: &Sheet, which: Which, one: Characteristic, level: &Level) -> Option<Fault> {
    let from = one.worn_from()?;
    let all = sheet.given.get(&from)?.figure;
    let bound = size(sheet, one, level.upper())?;
    let found = format!("{} at {} of the {}, {all}", one.name(), stated(sheet, level.upper()?)?, from.what());
    let mend = "Look at the figure: nothing wears by more than its size.";
    (bound >= all.to(one.unit())?)
        .then(|| Fault::new(which, Some(Side::Upper), found, "a limit that can be reached", mend))
}

/// Seen from the new range: first alert, then limit, on each side; what fails above lies above what fails below.
fn order(sheet: &Sheet, one: Characteristic, levels: &Levels) -> Vec<Fault> {
    let mend = "Look whether the two figures are the wrong way round.";
    let mut faults = Vec::new();
    for (side, word, beyond) in [(Side::Upper, "above", Ordering::Greater), (Side::Lower, "below", Ordering::Less)] {
        let of_side = |which| {
            let (bound, _) = judge::bounds(levels.of(which)?).find(|(_, of)| *of == side)?;
            Some((size(sheet, one, Some(bound))?, bound.touching, stated(sheet, bound)?))
        };
        let (new, alert, limit) = (of_side(Which::New), of_side(Which::Alert), of_side(Which::Limit));
        if let (Some((alert, first, at)), Some((limit, last, end))) = (&alert, &limit) {
            let expected = "an alert that comes before the limit";
            if alert.cmp(limit) == beyond {
                let found = format!("an alert at {at}, {word} the limit at {end}");
                faults.push(Fault::new(Which::Alert, Some(side), found, expected, mend));
            } else if alert == limit && (*first, *last) != (Touching::Fails, Touching::Passes) {
                let found = format!("an alert at {at}, which the limit reaches no later");
                faults.push(Fault::new(
                    Which::Alert,
                    Some(side),
                    found,
                    expected,
                    "Give another figure, or leave it out.",
                ));
            }
        }
        if let (Some((new, _, at)), Some((limit, _, end))) = (&new, &limit)
            && new.cmp(limit) == beyond
        {
            let found = format!("a new range that goes to {at}, {word} the limit at {end}");
            faults.push(Fault::new(Which::New, Some(side), found, "a new range inside the limit", mend));
        }
    }
    faults
}
