//! How sure a figure is within its limits, and what rules with a guard say of it.
//!
//! Sources: JCGM 106:2012 7 for the probability; ISO 14253-1:2017 for the guarded rule.
#![expect(clippy::disallowed_types, reason = "probabilities; the verdicts beside them are compared exactly")]

use super::distribution::t_below;
use super::guard::guard;
pub use super::judge::Bench;
use super::line::square;
use super::quantity::float;
use crate::domain::exact::Exact;
use crate::domain::refusal::RefusalKind;

mod row;

pub use row::{FORMULA, chance};

/// A figure, its standard uncertainty and its limits.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Judged {
    /// The figure.
    pub value: Exact,
    /// Standard uncertainty, above zero.
    pub u: Exact,
    /// Its degrees of freedom; `None`: endless.
    pub dof: Option<Exact>,
    /// Smallest allowed.
    pub lower: Option<Exact>,
    /// Largest allowed.
    pub upper: Option<Exact>,
}

/// A verdict of the standard's rule.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Standard {
    /// Shown to be within.
    Conforms,
    /// Neither shown.
    Undecided,
    /// Shown to be outside.
    Fails,
}

/// What is known of a figure against its limits.
#[derive(Debug, Clone, PartialEq)]
pub struct Conformity {
    /// Probability that the true value is within.
    pub within: f64,
    /// Probability that it is not; kept apart because a far tail vanishes in one less the other.
    pub outside: f64,
    /// The guard.
    pub guard: Exact,
    /// By the bare limits.
    pub simple: Standard,
    /// By the limits with the guard on both of their sides.
    pub guarded: Standard,
    /// By the bench's rule.
    pub bench: Bench,
}

/// Reckons the conformity of a figure.
///
/// # Errors
/// `NoAnswer` without a limit, with limits the wrong way round, without an uncertainty above zero, or with less than one
/// degree of freedom.
pub fn conformity(judged: &Judged, given: &Exact) -> Result<Conformity, RefusalKind> {
    let refused = |why: &str, mend| RefusalKind::NoAnswer { why: why.to_owned(), mend };
    let Judged { u, dof, lower, upper, .. } = judged;
    match (lower, upper) {
        (None, None) => return Err(refused("There is no limit to judge by.", "Give `lower`, `upper` or both.")),
        (Some(low), Some(high)) if low >= high => {
            return Err(refused("The lower limit is not below the upper one.", "Exchange them."));
        }
        (Some(_), _) | (None, Some(_)) => {}
    }
    if u.is_zero() || u.is_negative() {
        return Err(refused("The uncertainty is not above zero.", "Give a standard uncertainty above zero."));
    }
    if dof.as_ref().is_some_and(|dof| dof < &Exact::from(1)) || given.is_negative() {
        return Err(refused("Degrees of freedom below one, or a factor below zero.", "Leave it out, or correct it."));
    }
    let Some(guard) = guard(&square(u), given, dof.as_ref()) else {
        return Err(refused("The uncertainty is out of all proportion.", "Give it in the unit of the value."));
    };
    let (within, outside) = probabilities(judged);
    Ok(Conformity {
        within,
        outside,
        simple: standard(judged, &Exact::zero()),
        guarded: standard(judged, &guard),
        bench: bench(judged, &guard),
        guard,
    })
}

/// Inside and outside, each from the tails that make it up.
fn probabilities(judged: &Judged) -> (f64, f64) {
    let dof = judged.dof.as_ref().map_or(f64::INFINITY, float);
    let away = |limit: &Exact| (limit - &judged.value).over(&judged.u).as_ref().map_or(f64::NAN, float);
    match (judged.lower.as_ref().map(away), judged.upper.as_ref().map(away)) {
        (Some(low), Some(high)) => {
            let (below, above) = (t_below(low, dof), t_below(-high, dof));
            let inside = if low > 0.0 {
                t_below(-low, dof) - above
            } else if high < 0.0 {
                t_below(high, dof) - below
            } else {
                1.0 - (below + above)
            };
            (inside, below + above)
        }
        (Some(low), None) => (t_below(-low, dof), t_below(low, dof)),
        (None, Some(high)) => (t_below(high, dof), t_below(-high, dof)),
        (None, None) => (1.0, 0.0),
    }
}

/// Touching the accepting limit is still accepted, touching the rejecting one is not yet rejected.
fn standard(judged: &Judged, guard: &Exact) -> Standard {
    let Judged { value, lower, upper, .. } = judged;
    let short = |limit: &Exact, inward: &Exact| value >= &(limit + inward);
    let under = |limit: &Exact, inward: &Exact| value <= &(limit - inward);
    let accepted =
        lower.as_ref().is_none_or(|low| short(low, guard)) && upper.as_ref().is_none_or(|up| under(up, guard));
    let outward = -guard;
    let kept =
        lower.as_ref().is_none_or(|low| short(low, &outward)) && upper.as_ref().is_none_or(|up| under(up, &outward));
    match (accepted, kept) {
        (true, _) => Standard::Conforms,
        (false, true) => Standard::Undecided,
        (false, false) => Standard::Fails,
    }
}

fn bench(judged: &Judged, guard: &Exact) -> Bench {
    match (standard(judged, &Exact::zero()), standard(judged, guard)) {
        (Standard::Fails | Standard::Undecided, _) => Bench::Past,
        (Standard::Conforms, Standard::Conforms) => Bench::Within,
        (Standard::Conforms, Standard::Undecided | Standard::Fails) => Bench::Undecided,
    }
}
