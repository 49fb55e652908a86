//! What is wrong with the figures a reckoning was given: one value for each fault, all of them at once.

use std::fmt;

use crate::domain::refusal::RefusalKind;

/// One fault, with its key, what was found and what was expected.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Problem {
    /// Where: `limit`, or `places 2, pairs 3, 1`, counted from one; empty when it is about all of them.
    pub key: String,
    /// What kind of fault.
    pub trouble: Trouble,
    /// As given.
    pub found: String,
    /// What would do.
    pub expected: String,
}

/// The kinds of fault.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Trouble {
    /// A key that must be there is not.
    Missing,
    /// A key that the reckoning does not have.
    UnknownKey,
    /// A key that stands twice.
    Twice,
    /// A text where a list or a map belongs, or the other way round.
    WrongShape,
    /// A text that is no figure, no date, or none of the words that may stand there.
    Unreadable,
    /// `nan` or an infinity.
    NotFinite,
    /// A unit that is unknown or measures something else.
    WrongUnit,
    /// A figure that cannot be.
    OutOfRange,
    /// Figures that are right one by one and do not go together.
    Impossible,
}

impl Problem {
    /// A fault at `key`.
    pub fn new(
        key: impl Into<String>,
        trouble: Trouble,
        found: impl Into<String>,
        expected: impl Into<String>,
    ) -> Self {
        Self { key: key.into(), trouble, found: found.into(), expected: expected.into() }
    }

    /// Figures at `key` that do not go together: what is wrong, and what would do.
    pub fn impossible(key: impl Into<String>, found: impl Into<String>, expected: impl Into<String>) -> Self {
        Self::new(key, Trouble::Impossible, found, expected)
    }

    /// Whether the words themselves are wrong (exit code 2), not the figures behind them.
    pub fn is_wrong_word(&self) -> bool {
        match self.trouble {
            Trouble::UnknownKey | Trouble::Twice => true,
            Trouble::Missing
            | Trouble::WrongShape
            | Trouble::Unreadable
            | Trouble::NotFinite
            | Trouble::WrongUnit
            | Trouble::OutOfRange
            | Trouble::Impossible => false,
        }
    }
}

/// `limit: found `abc`, expected a figure in mm`.
impl fmt::Display for Problem {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { key, trouble, found, expected } = self;
        let colon = if key.is_empty() { "" } else { ": " };
        match trouble {
            Trouble::Missing => write!(out, "{key}{colon}missing, expected {expected}"),
            Trouble::UnknownKey => write!(out, "{key}{colon}no such key, {expected}"),
            Trouble::Twice => write!(out, "{key}{colon}given twice, expected once"),
            Trouble::NotFinite => write!(out, "{key}{colon}found {found}, which is not finite, expected {expected}"),
            Trouble::Impossible => write!(out, "{key}{colon}{found} {expected}"),
            Trouble::WrongShape | Trouble::Unreadable | Trouble::WrongUnit | Trouble::OutOfRange => {
                write!(out, "{key}{colon}found {found}, expected {expected}")
            }
        }
    }
}

/// A typed function's refusal, said of the whole.
impl From<RefusalKind> for Problem {
    fn from(kind: RefusalKind) -> Self {
        Self::impossible("", kind.what(), kind.mend())
    }
}

/// One problem is a list of one.
impl From<Problem> for Vec<Problem> {
    fn from(problem: Problem) -> Self {
        vec![problem]
    }
}

/// A typed function's refusal as the only problem.
impl From<RefusalKind> for Vec<Problem> {
    fn from(kind: RefusalKind) -> Self {
        vec![kind.into()]
    }
}
