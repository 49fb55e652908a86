//! What a wearing part will measure at the next inspection, and how many hours it has left.
//!
//! A weighted line through (hours of the part, value) since the part was last replaced. Its bound is that of a new reading
//! with the last one's uncertainty. Two readings: the interval comes from their own uncertainty, straightness unchecked.
//! A line that fits poorly (chi-squared above its 95 % quantile) gives way to the last rate where that is worse. A value
//! that does not worsen has no forecast, never an endless life. What has reached its limit has no hours left. Readings that
//! lie on a line by their rounding spread by that rounding at least. Sources: JCGM 100:2008 F.2.2.1 for that spread; ISO/TS 28037:2010 6.3; JCGM 100:2008 H.3; the
//! last rate and the rule for no forecast are common practice, no source.
#![expect(
    clippy::disallowed_types,
    reason = "quantiles and bounds; whether the line meets the limit is compared exactly"
)]

use super::distribution::{chi_squared_quantile, t_quantile};
use super::judge::Side;
use super::line::{Band, Line, Point, Reached, Spread, Through};
use super::quantity::float;
use crate::domain::exact::Exact;
use crate::domain::refusal::RefusalKind;

mod first;
mod row;

pub use first::FORMULA as FIRST;
pub use row::FORMULA;

/// The share of good lines that the test of straightness lets pass.
const STRAIGHT: f64 = 0.95;

/// One inspection of the part.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Inspection {
    /// Hours.
    pub hours: Exact,
    /// What was read; as left, for a part replaced then.
    pub value: Exact,
    /// One of the last place it was written to, in the value's unit; none where that is the value's own last place.
    pub step: Option<Exact>,
    /// Standard uncertainty of the value.
    pub u: Option<Exact>,
    /// Whether the part was new then: what lies before belongs to another part.
    pub replaced: bool,
}

impl Inspection {
    /// As a point of the line.
    fn point(&self) -> Point {
        Point { x: self.hours.clone(), y: self.value.clone(), u: self.u.clone() }
    }

    /// How finely it was written; another unit has other places.
    fn step(&self) -> Option<Exact> {
        self.step.clone().or_else(|| last_place(&self.value))
    }
}

/// Whether the bound counts the uncertainty of one new reading.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NewReading {
    /// It does.
    Counted,
    /// It is the bound of the line alone.
    LeftOut,
}

/// What is asked.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Question {
    /// The limit.
    pub limit: Exact,
    /// On which side of it the value must stay.
    pub side: Side,
    /// Hours at the next inspection.
    pub next_hours: Exact,
    /// One-sided share of the bound, between 0.5 and 1.
    pub p: Exact,
    /// Whether the bound is that of a new reading.
    pub new_reading: NewReading,
}

/// What the forecast leans on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Basis {
    /// The line through all readings.
    Line,
    /// The last two readings.
    LastRate,
}

/// How well the line fits.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Fit {
    /// Two readings always lie on a line.
    Unchecked,
    /// The spread is taken from the residuals, so they cannot also judge it.
    FromResiduals,
    /// Chi-squared below its quantile.
    Good(ChiSquared),
    /// Above.
    Poor(ChiSquared),
}

/// Chi-squared, its degrees of freedom, and the quantile it is held against.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ChiSquared {
    /// Sum of squared residuals over uncertainties.
    pub value: f64,
    /// Readings less two.
    pub dof: u32,
    /// Its 95 % quantile.
    pub quantile: f64,
}

/// A verdict in time.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum AtNext {
    /// Line and bound stay short of the limit.
    Within,
    /// The bound alone reaches it.
    Watch,
    /// The line reaches it.
    Past,
}

/// A forecast.
#[derive(Debug, Clone, PartialEq)]
pub struct Forecast {
    /// The line it leans on.
    pub line: Line,
    /// Which one that is.
    pub basis: Basis,
    /// How the line through all readings fits.
    pub fit: Fit,
    /// Coverage factor of the bound.
    pub k: f64,
    /// At the next inspection; low and high are `k` uncertainties off.
    pub next: Band,
    /// The end of that band on the side of the limit.
    pub bound: f64,
    /// Hours from the last inspection until the line meets the limit.
    pub left_by_line: Reached,
    /// Until the bound does.
    pub left_by_bound: Reached,
    /// At the next inspection.
    pub at_next: AtNext,
}

/// Why there is no forecast. It changes no disposition, and is said.
#[derive(Debug, Clone, PartialEq)]
pub enum NoForecast {
    /// One reading since the part was new.
    OneReading,
    /// The value does not move toward its limit; the line, for its slope.
    NotWorsening(Box<Line>),
}

/// Which rule a forecast goes by; a record signed with an older one can be reckoned by it again.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Rule {
    /// On the limit is not past; hours are counted from a reading past it, too; equal residuals of nothing are no spread.
    First,
    /// The present one.
    Second,
}

/// What is known of the part.
#[derive(Debug, Clone, PartialEq)]
pub struct Outlook {
    /// By which rule.
    pub rule: Rule,
    /// How many inspections belong to the part.
    pub counted: usize,
    /// The last value, exactly, is on the limit or past it; by the first rule past it alone.
    pub past_now: bool,
    /// The forecast, or why there is none.
    pub forecast: Result<Forecast, NoForecast>,
}

/// Reckons the outlook of a part from its inspections in their order.
///
/// # Errors
/// `TooFew` of none; `NoAnswer` when hours do not rise, the next inspection is not after the last, uncertainties are given
/// for some readings only, are not above zero, or are missing where only two readings carry the line.
pub fn forecast(inspections: &[Inspection], asked: &Question) -> Result<Outlook, RefusalKind> {
    by_rule(Rule::Second, inspections, asked)
}

fn by_rule(rule: Rule, inspections: &[Inspection], asked: &Question) -> Result<Outlook, RefusalKind> {
    let start = inspections.iter().rposition(|inspection| inspection.replaced).unwrap_or(0);
    let part = inspections.get(start..).unwrap_or(inspections);
    let Some(last) = part.last() else {
        return Err(RefusalKind::TooFew { what: "inspections", given: 0, needed: 1 });
    };
    check(part, last, asked)?;
    let past_now = asked.side.reached(&last.value, &asked.limit) && (rule == Rule::Second || last.value != asked.limit);
    let points: Vec<_> = part.iter().map(Inspection::point).collect();
    let outlook = |forecast| Outlook { rule, counted: part.len(), past_now, forecast };
    if part.len() == 1 {
        return Ok(outlook(Err(NoForecast::OneReading)));
    }
    let mut all = Line::fit(&points, Through::Anywhere)?;
    if rule == Rule::Second {
        all = all.spread_at_least(written_variance(part));
    }
    let fit = fit(&all);
    let (line, basis) = match (fit, last_rate(&points)) {
        (Fit::Poor(_), Some(rate)) if worse(asked.side, &rate, &all, &asked.next_hours) => (rate, Basis::LastRate),
        _ => (all, Basis::Line),
    };
    if !worsens(asked.side, line.slope()) {
        return Ok(outlook(Err(NoForecast::NotWorsening(Box::new(line)))));
    }
    let mut forecast = ahead(line, (basis, fit), last, asked)?;
    if past_now && rule == Rule::Second {
        (forecast.left_by_line, forecast.left_by_bound) = (Reached::Already, Reached::Already);
        forecast.at_next = AtNext::Past;
    }
    Ok(outlook(Ok(forecast)))
}

/// The variance of the rounding of the coarsest reading, a twelfth of its last place squared.
fn written_variance(part: &[Inspection]) -> Option<Exact> {
    let step = part.iter().filter_map(Inspection::step).max()?;
    (&step * &step).over(&Exact::from(12))
}

/// One of the last place that a figure was written to.
fn last_place(value: &Exact) -> Option<Exact> {
    Some(Exact::power_of_ten(-i32::try_from(value.last_place()?).ok()?))
}

fn check(part: &[Inspection], last: &Inspection, asked: &Question) -> Result<(), RefusalKind> {
    let refused = |why: String, mend| Err(RefusalKind::NoAnswer { why, mend });
    if let Some((_, after)) = part.iter().zip(part.iter().skip(1)).find(|(one, next)| next.hours <= one.hours) {
        return refused(
            format!("The hours do not rise at {} h.", after.hours),
            "Give inspections in their order; where the part was new, say that it was replaced.",
        );
    }
    if asked.next_hours <= last.hours {
        return refused(
            format!("The next inspection, {} h, is not after the last, {} h.", asked.next_hours, last.hours),
            "Give the part's own hours at the next inspection.",
        );
    }
    if part.len() == 2 && part.iter().all(|inspection| inspection.u.is_none()) {
        return refused(
            "Two readings give an interval only from their own uncertainty.".to_owned(),
            "Give `u` for both.",
        );
    }
    Ok(())
}

fn fit(line: &Line) -> Fit {
    match line.spread() {
        Spread::Residuals { .. } | Spread::Written { .. } => Fit::FromResiduals,
        Spread::Known { .. } if line.dof() == 0 => Fit::Unchecked,
        Spread::Known { chi_squared } => {
            let (value, dof) = (float(chi_squared), line.dof());
            let quantile = chi_squared_quantile(STRAIGHT, f64::from(dof));
            let chi_squared = ChiSquared { value, dof, quantile };
            if value > quantile { Fit::Poor(chi_squared) } else { Fit::Good(chi_squared) }
        }
    }
}

/// The line through the last two readings.
fn last_rate(points: &[Point]) -> Option<Line> {
    let last = points.get(points.len().checked_sub(2)?..)?;
    Line::fit(last, Through::Anywhere).ok()
}

fn worse(side: Side, rate: &Line, line: &Line, at: &Exact) -> bool {
    let (rate, line) = (rate.value(at), line.value(at));
    match side {
        Side::Largest => rate > line,
        Side::Smallest => rate < line,
    }
}

fn worsens(side: Side, slope: &Exact) -> bool {
    match side {
        Side::Largest => slope > &Exact::zero(),
        Side::Smallest => slope < &Exact::zero(),
    }
}

fn ahead(line: Line, (basis, fit): (Basis, Fit), last: &Inspection, asked: &Question) -> Result<Forecast, RefusalKind> {
    let k = t_quantile(float(&asked.p), line.certainty_dof());
    let extra = match asked.new_reading {
        NewReading::Counted => line.new_reading().unwrap_or_else(Exact::zero),
        NewReading::LeftOut => Exact::zero(),
    };
    let band = line.band(&asked.next_hours, k, &extra);
    let bound_reaches = line.bound_reaches(&asked.limit, asked.side, &last.hours, (k, &extra));
    let (Some(next), Some(left_by_bound)) = (band, bound_reaches) else {
        return Err(RefusalKind::TooFew { what: "inspections without an uncertainty", given: 2, needed: 3 });
    };
    let limit = float(&asked.limit);
    let (bound, bound_there) = match asked.side {
        Side::Largest => (next.high, next.high >= limit),
        Side::Smallest => (next.low, next.low <= limit),
    };
    let at_next = if asked.side.reached(&line.value(&asked.next_hours), &asked.limit) {
        AtNext::Past
    } else if bound_there {
        AtNext::Watch
    } else {
        AtNext::Within
    };
    let left_by_line = line.reaches(&asked.limit, asked.side, &last.hours);
    Ok(Forecast { line, basis, fit, k, next, bound, left_by_line, left_by_bound, at_next })
}
