//! A forecast as the bench tells it: decimals for the screen, nothing that a verdict hangs on.
#![expect(clippy::disallowed_types, reason = "turns floats into decimals at the border of this folder")]

use rust_decimal::Decimal;

use super::forecast::{AtNext, Basis, Fit, Forecast, Outlook};
use super::line::Reached;
use crate::domain::exact::{Exact, Rounding};

/// A forecast in decimals.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Told {
    /// The value on the line at the next opening.
    pub next: Exact,
    /// Its bound toward the limit.
    pub bound: Exact,
    /// What it leans on.
    pub basis: Basis,
    /// How straight the readings lie, in words.
    pub fit: String,
    /// Hours until the line meets the limit: none when it never does, zero when it has.
    pub hours_by_line: Option<Exact>,
    /// Hours until the bound does.
    pub hours_by_bound: Option<Exact>,
    /// At the next opening.
    pub at_next: AtNext,
    /// The last reading.
    pub now: Now,
}

/// Where the last reading stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Now {
    /// Short of its limit.
    Within,
    /// On it or past it: no hours are left.
    Past,
}

impl Told {
    /// The forecast in decimals; `None` for a figure too large to be one.
    pub fn of(forecast: &Forecast, outlook: &Outlook) -> Option<Self> {
        Some(Self {
            now: if outlook.past_now { Now::Past } else { Now::Within },
            next: decimal(forecast.next.value)?,
            bound: decimal(forecast.bound)?,
            basis: forecast.basis,
            fit: fit(forecast.fit),
            hours_by_line: hours(forecast.left_by_line),
            hours_by_bound: hours(forecast.left_by_bound),
            at_next: forecast.at_next,
        })
    }
}

fn decimal(figure: f64) -> Option<Exact> {
    format!("{figure:.9}").parse::<Decimal>().ok().map(Exact::from)
}

fn hours(reached: Reached) -> Option<Exact> {
    match reached {
        Reached::Already => Some(Exact::zero()),
        Reached::After(hours) => decimal(hours),
        Reached::Never => None,
    }
}

fn fit(fit: Fit) -> String {
    match fit {
        Fit::Unchecked => "two readings: straightness unchecked".to_owned(),
        Fit::FromResiduals => "spread taken from the readings about the line".to_owned(),
        Fit::Good(chi) => format!("straight enough: chi-squared {:.1} on {}", chi.value, chi.dof),
        Fit::Poor(chi) => {
            format!("not straight: chi-squared {:.1} on {}, above {:.1}", chi.value, chi.dof, chi.quantile)
        }
    }
}

/// The square root of a variance, rounded up to six figures, for reckonings that go on with it: two would hide a bend.
pub fn u_kept(variance: &Exact) -> Option<Exact> {
    Some(Exact::parse(&format!("{:e}", super::quantity::root(variance)))?.to_figures(6, Rounding::Up))
}

/// The square root of a variance, rounded up to two figures, for the screen.
pub fn u_shown(variance: &Exact) -> Option<Exact> {
    super::guard::two_figures_up(variance)
}
