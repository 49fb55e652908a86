//! Whether a gauge is fit for a limit, and the largest figure it can pass under the guarded rule.
//!
//! Ratios by common practice, no source: the way from new to the limit (or half the way between two limits) over the
//! gauge's expanded uncertainty and, whole, over its resolution. The figure it can pass: the limit less the guard of the
//! uncertainty that the bench would have, see [`uncertainty`](super::uncertainty) and [`guard`](super::guard).

use super::budget::Budget;
use super::guard::guard;
use super::line::square;
use super::quantity::exact_count;
use super::repeats::{Certainty, Source};
use super::uncertainty::{Gauge, Taken, Warmth, of_repeats};
use crate::domain::exact::Exact;
use crate::domain::refusal::RefusalKind;

mod row;

pub use row::FORMULA;

/// What the gauge is to judge.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Room {
    /// One limit, seen from the figure of a new part.
    Wear {
        /// The new part's.
        new: Exact,
        /// The limit, above or below it.
        limit: Exact,
    },
    /// Two limits.
    Between {
        /// Smallest allowed.
        lower: Exact,
        /// Largest allowed.
        upper: Exact,
    },
}

/// What a gauge can do.
#[derive(Debug, Clone, PartialEq)]
pub struct Capable {
    /// Room over resolution.
    pub resolution_ratio: Option<Exact>,
    /// Room over expanded uncertainty, `(L - new)/U` or `T/(2U)`.
    pub uncertainty_ratio: Option<Exact>,
    /// The largest figure it can pass, where there is an upper limit.
    pub up_to: Option<Exact>,
    /// The smallest figure it can pass, where there is a lower limit.
    pub down_to: Option<Exact>,
    /// The guard taken off.
    pub guard: Exact,
    /// The uncertainty behind the guard.
    pub budget: Budget,
}

impl Capable {
    /// Whether both guards leave nothing between two limits.
    pub fn passes_nothing(&self) -> bool {
        matches!((&self.up_to, &self.down_to), (Some(up), Some(down)) if up < down)
    }

    /// Whether it can pass the part as new; where no new size is named nothing is said against it.
    pub fn passes_new(&self, room: &Room) -> bool {
        let Room::Wear { new, .. } = room else { return true };
        self.up_to.as_ref().is_none_or(|up| new <= up) && self.down_to.as_ref().is_none_or(|down| new >= down)
    }
}

/// Reckons what `gauge` can pass when each figure is the mean of `repeats`; the gauge brings its pooled repeatability.
///
/// # Errors
/// `NoAnswer` when limit and new figure are the same or limits the wrong way round, or of a
/// gauge below zero; `TooFew` without a repeat.
pub fn capable(
    room: &Room,
    gauge: &Gauge,
    repeats: usize,
    (taken, warmth): (Taken, Option<&Warmth>),
    given: &Exact,
) -> Result<Capable, RefusalKind> {
    let refused = |why: &str, mend| RefusalKind::NoAnswer { why: why.to_owned(), mend };
    let (way, (lower, upper)) = match room {
        Room::Wear { new, limit } if new < limit => (limit - new, (None, Some(limit))),
        Room::Wear { new, limit } => (new - limit, (Some(limit), None)),
        Room::Between { lower, upper } => (upper - lower, (Some(lower), Some(upper))),
    };
    if way.is_zero() || way.is_negative() {
        return Err(refused("There is no room before the limit.", "Give a new figure apart from the limit."));
    }
    let (guard, budget) = guard_with(gauge, repeats, (taken, warmth), given)?;
    let against = match room {
        Room::Wear { .. } => gauge.expanded.clone(),
        Room::Between { .. } => &gauge.expanded + &gauge.expanded,
    };
    Ok(Capable {
        resolution_ratio: way.over(&gauge.resolution),
        uncertainty_ratio: way.over(&against),
        up_to: upper.map(|upper| upper - &guard),
        down_to: lower.map(|lower| lower + &guard),
        guard,
        budget,
    })
}

/// The guard that the mean of `repeats` has to keep with `gauge`, and the budget behind it.
///
/// # Errors
/// `NoAnswer` of a gauge below zero; `TooFew` without a repeat.
pub fn guard_with(
    gauge: &Gauge,
    repeats: usize,
    (taken, warmth): (Taken, Option<&Warmth>),
    given: &Exact,
) -> Result<(Exact, Budget), RefusalKind> {
    let refused = |why: &str, mend| RefusalKind::NoAnswer { why: why.to_owned(), mend };
    let too_few = || RefusalKind::TooFew { what: "repeats", given: repeats, needed: 1 };
    let certainty = match &gauge.pooled {
        Some(pooled) => {
            let shared = exact_count(repeats).and_then(|n| square(&pooled.s).over(&n));
            let variance = shared.filter(|_| !pooled.s.is_negative()).ok_or_else(too_few)?;
            Some(Certainty { variance, dof: pooled.dof.clone(), from: Source::Pooled })
        }
        None => None,
    };
    let budget = of_repeats(gauge, certainty.as_ref(), taken, warmth)?;
    match guard(&budget.variance, given, budget.dof.as_ref()) {
        Some(guard) => Ok((guard, budget)),
        None => Err(refused("The uncertainty is out of all proportion.", "Give it in the unit of the limit.")),
    }
}
