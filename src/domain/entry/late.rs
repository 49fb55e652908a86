//! What is entered late from paper.

use super::super::stamp::{Stamp, on_paper};

/// An entry copied from paper later.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Late {
    /// When it was taken, as the paper says.
    pub taken: String,
    /// The hash of the sheet's photo; empty when there is none yet.
    pub sheet: Option<String>,
}

impl Late {
    /// The moment that the paper says, where it can be read; `15:20` alone is of the day of `entered`.
    pub fn when(&self, entered: Stamp) -> Option<Stamp> {
        on_paper(&self.taken, entered)
    }
}
