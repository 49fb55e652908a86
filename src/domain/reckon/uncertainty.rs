//! The uncertainty of a characteristic at the bench, from its gauge, its repeats and, where it matters, temperature.
//!
//! A difference of two readings of one gauge: the zero error cancels, the gauge's expanded uncertainty counts once, each
//! of the two readings brings its resolution. Repeats do not average the resolution away. Source: JCGM 100:2008 4.2, 4.3.

use super::budget::{self, Budget, Kind, Term, budget};
use super::one_unit::OneUnit;
use super::repeats::{Certainty, Pooled, Repeats, Source, repeats};
use super::working::Working;
use crate::domain::exact::Exact;
use crate::domain::refusal::RefusalKind;
use crate::domain::unit::Unit;

/// What a gauge's certificate and the method's record say.
#[derive(Debug, Clone, PartialEq)]
pub struct Gauge {
    /// Expanded uncertainty, in the characteristic's unit.
    pub expanded: Exact,
    /// Its coverage factor.
    pub k: Exact,
    /// The step of its display or scale.
    pub resolution: Exact,
    /// Pooled repeatability of the method.
    pub pooled: Option<Pooled>,
}

/// How a characteristic comes out of readings.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Taken {
    /// One reading each time.
    Single,
    /// Two readings of one gauge each time, one taken from the other.
    Difference,
}

/// How far the temperature of part against gauge may be off.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Warmth {
    /// The length that expands.
    pub length: Exact,
    /// By how much per kelvin: of the part, or the difference of two expansions.
    pub expansion: Exact,
    /// Half the width of the interval the temperature lies in, in kelvin.
    pub half_width: Exact,
}

/// The budget of the mean of `values`, each of them `taken` with that gauge.
///
/// # Errors
/// `TooFew` without a value; `NoAnswer` of a gauge below zero.
pub fn of_values(
    gauge: &Gauge,
    values: &[Exact],
    taken: Taken,
    warmth: Option<&Warmth>,
) -> Result<(Repeats, Budget), RefusalKind> {
    let repeats = repeats(values, gauge.pooled.as_ref())?;
    let budget = of_repeats(gauge, repeats.certainty.as_ref(), taken, warmth)?;
    Ok((repeats, budget))
}

/// The budget of a mean whose repeats are known by their certainty. Without one, as of a single reading and no record of
/// the method, they are taken to scatter within the step of the scale, which is counted anyhow, and the budget says so.
///
/// # Errors
/// `NoAnswer` of a gauge with a figure below zero or a coverage factor of zero.
pub fn of_repeats(
    gauge: &Gauge,
    certainty: Option<&Certainty>,
    taken: Taken,
    warmth: Option<&Warmth>,
) -> Result<Budget, RefusalKind> {
    let scatter = certainty.map(|known| {
        let name = match known.from {
            Source::Sample => "repeats, s / sqrt n",
            Source::Pooled => "repeats, pooled s / sqrt n",
        };
        Term::new(name, Kind::Squared, known.variance.clone(), known.dof.clone())
    });
    let readings: &[&str] = match (taken, &scatter) {
        (Taken::Single, Some(_)) => &["resolution"],
        (Taken::Difference, Some(_)) => &["resolution, first reading", "resolution, second reading"],
        (Taken::Single, None) => &["resolution; repeats not known, taken as within it"],
        (Taken::Difference, None) => &[
            "resolution, first reading; repeats not known, taken as within it",
            "resolution, second reading; repeats not known, taken as within it",
        ],
    };
    let mut terms: Vec<Term> = scatter.into_iter().collect();
    terms.extend(readings.iter().map(|name| Term::new(name, Kind::Resolution, gauge.resolution.clone(), None)));
    terms.push(Term::new("gauge, expanded", Kind::Expanded { k: gauge.k.clone() }, gauge.expanded.clone(), None));
    if let Some(Warmth { length, expansion, half_width }) = warmth {
        let sensitivity = length * expansion;
        let off = Term::new("temperature", Kind::Uniform, half_width.clone(), None);
        terms.push(Term { sensitivity, own_unit: Some(Unit::Kelvin), ..off });
    }
    budget(terms)
}

/// The budget's table as a working, its figures in `unit`, with the expanded uncertainty for 95 %.
pub fn working(budget: &Budget, unit: Unit) -> Working {
    let unit = OneUnit::fixed(unit);
    let mut working = Working::of(&budget::FORMULA);
    budget.steps(&mut working, unit);
    budget.expanded(working, unit, 0.95)
}
