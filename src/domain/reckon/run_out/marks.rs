//! Where the marks lie on the turn, and what they cannot tell.
#![expect(clippy::disallowed_types, reason = "whether two waves look alike at the marks")]

use std::fmt;

use uom::si::f64::Angle;

use super::{Base, waves};
use crate::domain::exact::{Exact, Rounding};
use crate::domain::reckon::least_squares::norm;
use crate::domain::reckon::quantity::{count, float, within_a_turn};
use crate::domain::refusal::RefusalKind;

/// What must be said with a run-out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Warning {
    /// These lobed shapes look like an eccentricity at these marks.
    Lobes {
        /// How many marks.
        marks: usize,
        /// The numbers of lobes.
        lobes: Vec<u32>,
    },
    /// The marks are not evenly spaced.
    Uneven,
    /// So much of the turn has no mark.
    Gap {
        /// In degrees.
        degrees: Exact,
    },
    /// As many marks as unknowns.
    NothingLeft,
    /// The full turn showed less than the marks did.
    SweptLess,
}

/// One sentence.
impl fmt::Display for Warning {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Lobes { marks, lobes } => {
                let lobes: Vec<_> = lobes.iter().map(ToString::to_string).collect();
                write!(out, "{marks} marks cannot tell {} lobes from an eccentricity.", lobes.join(" or "))
            }
            Self::Uneven => write!(out, "Marks unevenly spaced: solved by least squares."),
            Self::Gap { degrees } => {
                write!(out, "{} degrees of the turn have no mark: less sure.", degrees.rounded(0, Rounding::Nearest))
            }
            Self::NothingLeft => write!(out, "As many marks as unknowns: nothing is left to show a wrong reading."),
            Self::SweptLess => write!(out, "The full turn showed less than the marks: one of the two is misread."),
        }
    }
}

pub(super) fn too_close() -> RefusalKind {
    RefusalKind::NoAnswer {
        why: "The marks lie on less than half a turn.".to_owned(),
        mend: "Take the whole turn, best at eight or twelve even marks.",
    }
}

/// The ways between neighbouring marks, round the turn.
pub(super) struct Spacing {
    largest: Exact,
    smallest: Exact,
}

impl Spacing {
    /// Refuses marks at one angle and marks on less than half a turn.
    pub(super) fn of(marks: &[(Exact, Exact)]) -> Result<Self, RefusalKind> {
        let mut angles: Vec<_> = marks.iter().map(|(degrees, _)| within_a_turn(degrees)).collect();
        angles.sort();
        let turn = Exact::from(360);
        let round = angles.iter().skip(1).cloned().chain(angles.first().map(|first| first + &turn));
        let ways: Vec<_> = angles.iter().zip(round).map(|(angle, next)| &next - angle).collect();
        let (Some(largest), Some(smallest)) = (ways.iter().max(), ways.iter().min()) else { return Err(too_close()) };
        if smallest.is_zero() {
            return Err(RefusalKind::NoAnswer {
                why: "Two readings lie at the same mark (360 is 0 again).".to_owned(),
                mend: "Give the reading back at the first mark as the closing one.",
            });
        }
        if largest > &Exact::from(180) {
            return Err(too_close());
        }
        Ok(Self { largest: largest.clone(), smallest: smallest.clone() })
    }

    pub(super) fn warnings(&self, base: &Base, angles: &[Angle], tir: (&Exact, Option<&Exact>)) -> Vec<Warning> {
        let lobes = self.lobes(base, angles);
        let mut warnings = Vec::new();
        if !lobes.is_empty() {
            warnings.push(Warning::Lobes { marks: angles.len(), lobes });
        }
        if self.largest != self.smallest {
            warnings.push(Warning::Uneven);
        }
        if self.largest > Exact::from(120) {
            warnings.push(Warning::Gap { degrees: self.largest.clone() });
        }
        if angles.len() == 3 {
            warnings.push(Warning::NothingLeft);
        }
        if tir.1.is_some_and(|swept| swept < tir.0) {
            warnings.push(Warning::SweptLess);
        }
        warnings
    }

    /// The lobed shapes that the base takes whole, at least in part for an eccentricity. Past one more lobe than marks
    /// would fit the smallest way all repeats.
    fn lobes(&self, base: &Base, angles: &[Angle]) -> Vec<u32> {
        let most = Exact::from(360).over(&self.smallest).as_ref().map_or(0.0, float);
        let noise = 1e-9 * count(angles.len()).sqrt();
        let looks_alike = |lobes: &u32| {
            let waves = waves(angles, *lobes);
            let whole = waves.iter().all(|wave| norm(&base.left_of(wave)) < noise);
            let part = waves.iter().any(|wave| {
                let [_, x, y] = base.solve(wave);
                x.hypot(y) > 1e-6
            });
            whole && part
        };
        (2..=73).take_while(|lobes| f64::from(*lobes) < most + 1.5).filter(looks_alike).collect()
    }
}
