//! The straight line through points by least squares, and where it or its bound meets a limit.
//!
//! Slope, sums and variances are kept as exact fractions, centred on the mean of x, until one root is taken at the end:
//! hours like 100 000 to 100 010 lose no digits. Sources: ISO/TS 28037:2010 clause 6; JCGM 100:2008 H.3.
#![expect(clippy::disallowed_types, reason = "roots and quantiles; the sums before them are exact")]

use super::quantity::{float, root};
use crate::domain::exact::{Exact, Rounding};
use crate::domain::refusal::RefusalKind;

mod meeting;
mod row;
mod steps;

pub use super::judge::Side;
pub use meeting::{Crossing, Reached};
pub use row::FORMULA;

/// Significant figures of a weight.
const WEIGHT_FIGURES: u32 = 40;

/// A point of the line; `u` is the standard uncertainty of `y`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Point {
    /// Along, known without doubt.
    pub x: Exact,
    /// What was read there.
    pub y: Exact,
    /// Its standard uncertainty, above zero; unknown for all points or for none.
    pub u: Option<Exact>,
}

/// Whether the line may cut the axis where it likes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Through {
    /// It may.
    Anywhere,
    /// It goes through zero.
    Origin,
}

/// Where the spread of the points about the line is known from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Spread {
    /// From the points' own uncertainties; the sum of squared residuals over them is chi-squared.
    Known {
        /// The sum.
        chi_squared: Exact,
    },
    /// From the residuals: their sum of squares over the degrees of freedom. `None` when none are left.
    Residuals {
        /// The squared spread.
        variance: Option<Exact>,
    },
    /// The residuals are smaller than the rounding of what was written down: that rounding.
    Written {
        /// The squared spread.
        variance: Exact,
    },
}

/// A fitted line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Line {
    pub(super) centre: Exact,
    pub(super) height: Exact,
    slope: Exact,
    /// Variances of height and slope, before the spread is counted in.
    height_share: Exact,
    slope_share: Exact,
    spread: Spread,
    dof: u32,
    last_u: Option<Exact>,
}

/// The value at some x, with its interval.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Band {
    /// On the line.
    pub value: f64,
    /// Standard uncertainty.
    pub u: f64,
    /// Lower end.
    pub low: f64,
    /// Upper end.
    pub high: f64,
}

impl Line {
    /// Fits the line: weighted by 1/u2 where the uncertainties are known, else all points alike.
    ///
    /// # Errors
    /// `TooFew` below two points (one through the origin); `NoAnswer` when all x are equal or uncertainties are missing
    /// for some points only.
    pub fn fit(points: &[Point], through: Through) -> Result<Self, RefusalKind> {
        let unknowns = match through {
            Through::Anywhere => 2,
            Through::Origin => 1,
        };
        if points.len() < unknowns {
            return Err(RefusalKind::TooFew { what: "points", given: points.len(), needed: unknowns });
        }
        let weights = weights(points)?;
        let weighed = |of: &dyn Fn(&Point) -> Exact| -> Exact {
            points.iter().zip(&weights).map(|(point, weight)| weight * &of(point)).fold(Exact::zero(), |a, b| &a + &b)
        };
        let total: Exact = weights.iter().sum();
        let (centre, height, height_share) = match through {
            Through::Origin => (Exact::zero(), Exact::zero(), Exact::zero()),
            Through::Anywhere => {
                let mean = |sum: Exact| sum.over(&total).unwrap_or_else(Exact::zero);
                (mean(weighed(&|p| p.x.clone())), mean(weighed(&|p| p.y.clone())), mean(Exact::from(1)))
            }
        };
        let along = |p: &Point| &p.x - &centre;
        let squares = weighed(&|p| square(&along(p)));
        let products = weighed(&|p| &along(p) * &(&p.y - &height));
        let (Some(slope), Some(slope_share)) = (products.over(&squares), Exact::from(1).over(&squares)) else {
            return Err(RefusalKind::NoAnswer {
                why: "All points lie at the same place along the line.".to_owned(),
                mend: "Give points at different places.",
            });
        };
        let left = weighed(&|p| square(&(&(&p.y - &height) - &(&slope * &along(p)))));
        let dof = u32::try_from(points.len() - unknowns).unwrap_or(u32::MAX);
        let last_u = points.last().and_then(|point| point.u.clone());
        let spread = match &last_u {
            Some(_) => Spread::Known { chi_squared: left },
            None => Spread::Residuals { variance: left.over(&Exact::from(dof)) },
        };
        Ok(Self { centre, height, slope, height_share, slope_share, spread, dof, last_u })
    }

    /// The same line, its points spread by no less than this variance where only the residuals tell how far they do.
    #[must_use]
    pub fn spread_at_least(mut self, least: Option<Exact>) -> Self {
        if let (Spread::Residuals { variance: Some(variance) }, Some(least)) = (&self.spread, least)
            && *variance < least
        {
            self.spread = Spread::Written { variance: least };
        }
        self
    }

    /// The slope, exactly.
    pub fn slope(&self) -> &Exact {
        &self.slope
    }

    /// Where the line cuts x = 0, exactly.
    pub fn intercept(&self) -> Exact {
        self.value(&Exact::zero())
    }

    /// The line at `x`, exactly.
    pub fn value(&self, x: &Exact) -> Exact {
        &self.height + &(&self.slope * &(x - &self.centre))
    }

    /// Points less unknowns.
    pub fn dof(&self) -> u32 {
        self.dof
    }

    /// How the points spread about it.
    pub fn spread(&self) -> &Spread {
        &self.spread
    }

    /// Degrees of freedom of its uncertainty: endless where the points brought their own.
    pub fn certainty_dof(&self) -> f64 {
        match self.spread {
            Spread::Known { .. } => f64::INFINITY,
            Spread::Residuals { .. } | Spread::Written { .. } => f64::from(self.dof),
        }
    }

    /// What the shares of variance are multiplied by; `None` when nothing is left to judge the spread from.
    fn factor(&self) -> Option<Exact> {
        match &self.spread {
            Spread::Known { .. } => Some(Exact::from(1)),
            Spread::Residuals { variance } => variance.clone(),
            Spread::Written { variance } => Some(variance.clone()),
        }
    }

    /// The squared uncertainty of one new reading: the last point's own, or the spread about the line.
    pub fn new_reading(&self) -> Option<Exact> {
        match &self.spread {
            Spread::Known { .. } => self.last_u.as_ref().map(square),
            Spread::Residuals { variance } => variance.clone(),
            Spread::Written { variance } => Some(variance.clone()),
        }
    }

    /// The squared uncertainty of the line at `x`.
    pub fn variance(&self, x: &Exact) -> Option<Exact> {
        let along = square(&(x - &self.centre));
        Some(&self.factor()? * &(&self.height_share + &(&along * &self.slope_share)))
    }

    /// The squared uncertainties of height at the centre and of slope.
    fn variances(&self) -> Option<(Exact, Exact)> {
        let factor = self.factor()?;
        Some((&factor * &self.height_share, &factor * &self.slope_share))
    }

    /// Standard uncertainties of intercept and slope, and their covariance.
    pub fn uncertainties(&self) -> Option<(f64, f64, f64)> {
        let (_, slope) = self.variances()?;
        let covariance = -&(&slope * &self.centre);
        Some((root(&self.variance(&Exact::zero())?), root(&slope), float(&covariance)))
    }

    /// The line at `x` and `k` times its uncertainty to both sides; `extra` is the squared uncertainty of a new reading.
    pub fn band(&self, x: &Exact, k: f64, extra: &Exact) -> Option<Band> {
        let value = float(&self.value(x));
        let u = root(&(&self.variance(x)? + extra));
        Some(Band { value, u, low: value - k * u, high: value + k * u })
    }
}

fn weights(points: &[Point]) -> Result<Vec<Exact>, RefusalKind> {
    let known = points.iter().filter(|point| point.u.is_some()).count();
    if known == 0 {
        return Ok(points.iter().map(|_| Exact::from(1)).collect());
    }
    if known < points.len() {
        return Err(RefusalKind::NoAnswer {
            why: format!("{known} of {} points have an uncertainty.", points.len()),
            mend: "Give it for all points or for none.",
        });
    }
    // so many figures that no double sees the rest, and hundreds of different weights still add up at once
    let kept = |weight: Exact| weight.to_figures(WEIGHT_FIGURES, Rounding::Nearest);
    let weight = |u: &Exact| if u.is_negative() { None } else { Exact::from(1).over(&square(u)).map(kept) };
    points.iter().map(|point| point.u.as_ref().and_then(weight)).collect::<Option<_>>().ok_or_else(|| {
        RefusalKind::NoAnswer {
            why: "An uncertainty is not above zero.".to_owned(),
            mend: "Give a standard uncertainty above zero.",
        }
    })
}

pub(super) fn square(exact: &Exact) -> Exact {
    exact * exact
}
