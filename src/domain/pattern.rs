//! Patterns worth a second look. Each has an innocent explanation that is said with it; none is an accusation, none
//! changes a verdict.

mod alike;
mod hands;

use super::inspection::Inspection;
use super::standing::Standing;

pub use alike::disagreeing;

/// What is unusual.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Unusual {
    /// Every repeat at every place of a step gave the same figure.
    IdenticalRepeats,
    /// The figures that counted are those of the last opening, digit for digit.
    SameAsLast,
    /// Figures came faster than hands can move a gauge.
    Fast,
    /// All figures of a step end in the same digit.
    OneEnding,
    /// An entry is older than the one before it.
    Backwards,
    /// Two ways to one figure do not agree within their uncertainty.
    Disagree,
    /// Nobody but one person looked at or measured a part that is not within.
    OnePerson,
}

impl Unusual {
    /// Every pattern that is looked for.
    pub const ALL: [Self; 7] = [
        Self::IdenticalRepeats,
        Self::SameAsLast,
        Self::Fast,
        Self::OneEnding,
        Self::Backwards,
        Self::Disagree,
        Self::OnePerson,
    ];

    /// Its name in lists.
    pub fn name(self) -> &'static str {
        match self {
            Self::IdenticalRepeats => "all repeats identical",
            Self::SameAsLast => "same figures as last time",
            Self::Fast => "faster than hands",
            Self::OneEnding => "digits all ending alike",
            Self::Backwards => "times run backwards",
            Self::Disagree => "two ways disagree",
            Self::OnePerson => "one person only",
        }
    }

    /// How it comes about, also when all is well.
    pub fn explained(self) -> &'static str {
        match self {
            Self::IdenticalRepeats => {
                "A coarse scale gives the same figure every time, and so does a figure taken once and written down again."
            }
            Self::SameAsLast => {
                "A part that does not wear gives its figures again; so does copying. All figures are compared where the last record is at hand, else those that counted."
            }
            Self::Fast => {
                "By common practice, no rule, a figure takes 3 to 8 s by its gauge, a lift 10 s a pair. A gauge with a cable needs them too, typing from a list does not; entries late from paper are not counted."
            }
            Self::OneEnding => {
                "Figures rounded to the half or to the long strokes of the scale end alike; so may a gauge that sticks."
            }
            Self::Backwards => {
                "Two machines whose clocks differ, a clock that was put right, or a change of zone. The order of the entries holds."
            }
            Self::Disagree => {
                "An oil film or dirt under the lift, a gauge on the wrong ring, a part still warm: each shifts one way and not the other."
            }
            Self::OnePerson => {
                "On a small job there is only one pair of hands. What nobody else has looked at, within or not, may be worth another pair of eyes."
            }
        }
    }
}

/// One pattern that was found.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Pattern {
    /// Which.
    pub unusual: Unusual,
    /// Where, and how much: `Thrust ring, counter / lands on a print: 16 of 16 repeats`.
    pub what: String,
    /// The step, where it is one's.
    pub step: Option<String>,
    /// The first entry that shows it.
    pub entry: Option<u32>,
}

/// Every pattern in the record, in the order of [`Unusual::ALL`], each in the order of the work; `before` is the record
/// before it, where that is at hand.
pub fn patterns(inspection: &Inspection, standing: &Standing, before: Option<&Inspection>) -> Vec<Pattern> {
    let mut found = alike::identical_repeats(inspection);
    let grids = before.map(|before| alike::same_grid(inspection, before)).unwrap_or_default();
    let mut counted = alike::same_as_last(inspection, standing);
    counted.retain(|one| grids.iter().all(|grid| grid.step != one.step));
    found.extend(grids.into_iter().chain(counted));
    found.extend(hands::fast(inspection));
    found.extend(alike::one_ending(inspection));
    found.extend(hands::backwards(inspection));
    found.extend(disagreeing(inspection));
    found.extend(hands::one_person(inspection, standing));
    found
}
