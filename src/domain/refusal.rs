//! Refusals: values that say what, where, and how to mend it. They never lose what was typed.

mod kind;
mod name;
mod reversed;
mod unfit;

use std::fmt;

pub use kind::RefusalKind;
pub use reversed::Reversed;
pub use unfit::{Unfit, range};

/// Why something was not done.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub struct Refusal {
    /// What is wrong, as data.
    pub kind: RefusalKind,
    /// Where.
    pub spot: Spot,
}

/// Where a refusal arose.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub enum Spot {
    /// The field it is shown beside.
    #[default]
    Field,
    /// A step, or a place on it: `journal, compressor side, a 45`.
    Step(String),
    /// An entry of the record.
    Entry(u32),
}

impl Refusal {
    /// The same refusal, said of `spot`.
    #[must_use]
    pub fn at(mut self, spot: Spot) -> Self {
        self.spot = spot;
        self
    }
}

impl From<RefusalKind> for Refusal {
    fn from(kind: RefusalKind) -> Self {
        Self { kind, spot: Spot::default() }
    }
}

/// What, then where, then the mend, a sentence each.
impl fmt::Display for Refusal {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match &self.spot {
            Spot::Field => write!(out, "{} {}", self.kind.what(), self.kind.mend()),
            Spot::Step(step) => write!(out, "{} ({step}) {}", self.kind.what(), self.kind.mend()),
            Spot::Entry(number) => write!(out, "{} (entry {number}) {}", self.kind.what(), self.kind.mend()),
        }
    }
}
