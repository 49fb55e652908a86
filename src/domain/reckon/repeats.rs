//! Repeated readings at one place: mean, spread, uncertainty of the mean, and Grubbs' test, which drops nothing.
//!
//! Sums and squares are exact fractions until the root is taken. Sources: JCGM 100:2008 4.2; Grubbs 1950 with the formula
//! of the NIST/SEMATECH e-Handbook 1.3.5.17.1 (printed tables differ from it in the last digit).
#![expect(clippy::disallowed_types, reason = "roots and quantiles; the sums before them are exact")]

use super::distribution::t_quantile;
use super::line::square;
use super::mean;
use super::quantity::{count, exact_count, float, root};
use crate::domain::exact::Exact;
use crate::domain::refusal::RefusalKind;

mod row;

pub use row::FORMULA;

/// The method's own spread, pooled from many earlier sets; `dof` endless when not given.
#[derive(Debug, Clone, PartialEq)]
pub struct Pooled {
    /// Standard deviation of one reading.
    pub s: Exact,
    /// Its degrees of freedom.
    pub dof: Option<Exact>,
}

/// On which sides Grubbs' test looks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sides {
    /// Is the largest too large?
    Largest,
    /// Is the one farthest from the mean too far?
    Both,
}

/// What repeats say.
#[derive(Debug, Clone, PartialEq)]
pub struct Repeats {
    /// How many.
    pub n: usize,
    /// Their mean, exactly.
    pub mean: Exact,
    /// The squared sample standard deviation (n - 1), exactly; `None` of a single reading.
    pub variance: Option<Exact>,
    /// Largest less smallest, exactly.
    pub range: Exact,
    /// The squared uncertainty of the mean and its degrees of freedom, from the larger of sample and pooled spread; `None`
    /// where neither shows one, as of equal readings without a pooled figure: the gauge's step hides their scatter.
    pub certainty: Option<Certainty>,
}

/// A squared standard uncertainty and its degrees of freedom.
#[derive(Debug, Clone, PartialEq)]
pub struct Certainty {
    /// The square, exactly.
    pub variance: Exact,
    /// `None`: endless.
    pub dof: Option<Exact>,
    /// Whether it came from the pooled figure.
    pub from: Source,
}

/// Where a spread was known from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Source {
    /// These repeats.
    Sample,
    /// The pooled figure of the method.
    Pooled,
}

/// Grubbs' test of one reading.
#[derive(Debug, Clone, PartialEq)]
pub struct Grubbs {
    /// The reading under suspicion.
    pub suspect: Exact,
    /// How far it is off, in standard deviations; `None` when all readings are equal.
    pub g: Option<f64>,
    /// From here on it would be called an outlier.
    pub critical: f64,
    /// The share of t that the critical figure comes from, and its quantile.
    pub quantile: (f64, f64),
}

impl Grubbs {
    /// Whether the test calls it an outlier; `None` when all readings are equal. It is dropped in no case.
    pub fn outlier(&self) -> Option<bool> {
        self.g.map(|g| g > self.critical)
    }
}

/// Reckons the repeats of one place.
///
/// # Errors
/// `TooFew` of none; `NoAnswer` of a pooled figure below zero or with no degree of freedom.
pub fn repeats(values: &[Exact], pooled: Option<&Pooled>) -> Result<Repeats, RefusalKind> {
    let n = values.len();
    let (Some(mean), Some(largest), Some(smallest)) = (mean(values), values.iter().max(), values.iter().min()) else {
        return Err(RefusalKind::TooFew { what: "readings", given: 0, needed: 1 });
    };
    if pooled.is_some_and(|p| p.s.is_negative() || p.dof.as_ref().is_some_and(|dof| dof < &Exact::from(1))) {
        return Err(RefusalKind::NoAnswer {
            why: "A pooled spread is not below zero and has at least one degree of freedom.".to_owned(),
            mend: "Give it as the method's own record has it.",
        });
    }
    let squares: Exact = values.iter().map(|value| square(&(value - &mean))).fold(Exact::zero(), |a, b| &a + &b);
    let variance = exact_count(n - 1).and_then(|dof| squares.over(&dof));
    let range = largest - smallest;
    let certainty = certainty(n, variance.as_ref(), pooled);
    Ok(Repeats { n, mean, variance, range, certainty })
}

fn certainty(n: usize, sample: Option<&Exact>, pooled: Option<&Pooled>) -> Option<Certainty> {
    let of_mean = |variance: &Exact| variance.over(&exact_count(n)?);
    let pooled = pooled.map(|pooled| (square(&pooled.s), pooled.dof.clone()));
    match (sample, pooled) {
        (Some(sample), Some((pooled, _))) if sample > &pooled => {
            Some(Certainty { variance: of_mean(sample)?, dof: exact_count(n - 1), from: Source::Sample })
        }
        (_, Some((pooled, dof))) => Some(Certainty { variance: of_mean(&pooled)?, dof, from: Source::Pooled }),
        // a step too wide for the scatter shows none: that is no certainty
        (Some(sample), None) if sample.is_zero() => None,
        (Some(sample), None) => {
            Some(Certainty { variance: of_mean(sample)?, dof: exact_count(n - 1), from: Source::Sample })
        }
        (None, None) => None,
    }
}

/// So many repeats are tested by themselves. Common practice, no source: with three, two equal ones condemn the third.
const TESTED_FROM: usize = 5;

impl Repeats {
    /// Grubbs' test in words, for five repeats and more; it drops nothing.
    pub fn grubbs_in_words(&self, values: &[Exact]) -> Option<String> {
        let alpha = Exact::fraction(5, 100).filter(|_| self.n >= TESTED_FROM)?;
        let grubbs = self.grubbs(values, &alpha, Sides::Both)?;
        let (g, outlier) = (grubbs.g?, grubbs.outlier()?);
        let word = if outlier { "look for its cause; only a strike takes it out" } else { "no outlier" };
        let (suspect, critical) = (&grubbs.suspect, grubbs.critical);
        Some(format!("Grubbs, alpha 0.05: {suspect} is {g:.3} s off the mean, critical {critical:.3}: {word}"))
    }

    /// Sample standard deviation.
    pub fn s(&self) -> Option<f64> {
        self.variance.as_ref().map(root)
    }

    /// Standard deviation of the mean, from the sample alone.
    pub fn s_mean(&self) -> Option<f64> {
        self.variance.as_ref()?.over(&exact_count(self.n)?).as_ref().map(root)
    }

    /// Standard uncertainty of the mean.
    pub fn u(&self) -> Option<f64> {
        self.certainty.as_ref().map(|certainty| root(&certainty.variance))
    }

    /// Grubbs' test at the level `alpha`; `None` below three readings or for a level outside 0 to 1.
    pub fn grubbs(&self, values: &[Exact], alpha: &Exact, sides: Sides) -> Option<Grubbs> {
        let alpha = float(alpha);
        if self.n < 3 || !(alpha > 0.0 && alpha < 1.0) {
            return None;
        }
        let off = |value: &Exact| (value - &self.mean).abs();
        let suspect = match sides {
            Sides::Largest => values.iter().max()?,
            // the first of equals
            Sides::Both => values.iter().rev().max_by_key(|value| off(value))?,
        };
        let squared = square(&off(suspect)).over(self.variance.as_ref()?);
        let n = count(self.n);
        let share = match sides {
            Sides::Largest => alpha / n,
            Sides::Both => alpha / (2.0 * n),
        };
        let t = t_quantile(share, n - 2.0);
        let critical = (n - 1.0) / n.sqrt() * (t * t / (n - 2.0 + t * t)).sqrt();
        Some(Grubbs { suspect: suspect.clone(), g: squared.as_ref().map(root), critical, quantile: (share, -t) })
    }
}
