//! The guard of the guarded rule: how far short of its limit a figure must stay to be called within.
//!
//! Factor times standard uncertainty, an exact decimal: the uncertainty is first rounded up to two figures; the factor is
//! 1.65 unless given, or the one-sided t quantile rounded up to two decimals if that is larger (1.65 itself is 1.6449
//! rounded so). Source: ISO 14253-1:2017 for the 1.65 (from memory); JCGM 106:2012 for the guarded rule.
#![expect(clippy::disallowed_types, reason = "a first guess at the root and a quantile, both then rounded up exactly")]

use super::distribution::t_quantile;
use super::line::square;
use super::one_unit::{OneUnit, whole};
use super::quantity::{float, root, whole_below};
use super::working::Working;
use crate::domain::exact::{Exact, Rounding};

/// The smallest decimal of two figures whose square is not below `variance`; zero of zero. `None` out of all proportion.
pub fn two_figures_up(variance: &Exact) -> Option<Exact> {
    if variance.is_zero() {
        return Some(Exact::zero());
    }
    // the root may come a hair low, so the next steps are tried exactly
    let guess = Exact::parse(&format!("{:e}", root(variance)))?;
    let step = Exact::power_of_ten(guess.order()? - 1);
    let low = guess.to_figures(2, Rounding::Down);
    let steps = (0..=2_u32).map(|number| &low + &(&step * &Exact::from(number)));
    steps.into_iter().find(|rounded| &square(rounded) >= variance)
}

/// The factor in force: the one given, or the one-sided 95 % quantile of t for `dof` (cut to a whole number), if larger.
pub fn factor(given: &Exact, dof: Option<&Exact>) -> Option<Exact> {
    let Some(dof) = dof else { return Some(given.clone()) };
    let quantile = t_quantile(0.95, float(&whole_below(dof)));
    let hundredths = (1..=1_000_u32).find(|hundredth| f64::from(*hundredth) / 100.0 >= quantile)?;
    let rounded = Exact::fraction(hundredths.into(), 100)?;
    Some(rounded.max(given.clone()))
}

/// The guard for a squared standard uncertainty; `None` for a `dof` below one or a figure out of all proportion.
pub fn guard(variance: &Exact, given: &Exact, dof: Option<&Exact>) -> Option<Exact> {
    Some(&factor(given, dof)? * &two_figures_up(variance)?)
}

/// The guard's steps in a working: u as it is and rounded up, then the product.
pub(super) fn steps(working: &mut Working, (u, rounded): (String, &Exact), factor: &Exact, unit: OneUnit) {
    let up = unit.behind(whole(rounded));
    working.step("u, rounded up to two figures", "", u, up.clone());
    working.step("guard", "factor x u", format!("{factor} x {up}"), unit.behind(whole(&(factor * rounded))));
}

/// The factor unless another is given.
pub fn usual_factor() -> Exact {
    Exact::fraction(165, 100).unwrap_or_else(Exact::zero)
}
