//! A figure against one limit: within, undecided or past. Every level of every characteristic is judged here, exactly.
//!
//! Past the limit is past, whatever the uncertainty; only short of it, by less than the guard, is a figure undecided.

use crate::domain::exact::Exact;
use crate::domain::sheet::Touching;

mod row;
mod units;

pub use row::FORMULA;

/// Which figures fail a limit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// The limit is the largest that passes: larger figures fail.
    Largest,
    /// The limit is the smallest that passes: smaller figures fail.
    Smallest,
}

/// How a figure stands to a limit; a later variant is worse.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Bench {
    /// Short of the limit by the guard or more.
    Within,
    /// Short of the limit by less than the guard: more repeats, a better gauge, else the limit's consequence.
    Undecided,
    /// Past the limit, or on it where touching fails.
    Past,
}

impl Bench {
    /// The word on screens and in files.
    pub fn word(self) -> &'static str {
        match self {
            Self::Within => "within",
            Self::Undecided => "undecided",
            Self::Past => "past",
        }
    }
}

/// A limit on one side.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Limit {
    /// The figure of the limit, in the unit of what is judged.
    pub at: Exact,
    /// Which figures fail it.
    pub side: Side,
    /// Whether the figure of the limit itself fails it.
    pub touching: Touching,
}

impl Limit {
    /// How far `value` is short of the limit; below zero beyond it.
    pub fn room(&self, value: &Exact) -> Exact {
        match self.side {
            Side::Largest => &self.at - value,
            Side::Smallest => value - &self.at,
        }
    }

    /// Judges `value`, which is in the limit's unit. The `guard` is zero by the simple rule; see [`super::guard::guard`].
    ///
    /// Source: JCGM 106:2012 for the guard band, ISO 14253-1:2017 for its factor (from memory); past the limit is past
    /// by this project's own rule, stricter than the standard, which leaves a band undecided on both sides.
    pub fn judge(&self, value: &Exact, guard: &Exact) -> Bench {
        let room = self.room(value);
        let touches = room.is_zero() && self.touching == Touching::Fails;
        if room.is_negative() || touches {
            Bench::Past
        } else if &room < guard {
            Bench::Undecided
        } else {
            Bench::Within
        }
    }
}
