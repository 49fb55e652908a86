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
    /// When something was done: what the paper says, where it can be read, else when it was entered; `15:20` alone is of
    /// that day.
    pub fn when(late: Option<&Self>, entered: Stamp) -> Stamp {
        late.and_then(|late| on_paper(&late.taken, entered)).unwrap_or(entered)
    }
}
