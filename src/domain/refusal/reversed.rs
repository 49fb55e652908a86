//! A lift whose two readings cannot both be right.

use crate::domain::figure::Figure;

/// Two dial readings of which the second should be the larger.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Reversed {
    /// Name of the first reading.
    pub low: String,
    /// Name of the second.
    pub high: String,
    /// The first reading.
    pub down: Figure,
    /// The second.
    pub up: Figure,
    /// The second with one turn of the dial more.
    pub one_turn_more: Option<Figure>,
}

impl Reversed {
    /// How to mend it, one or two sentences.
    pub(super) fn mend(&self) -> String {
        let Self { low, high, .. } = self;
        match self.one_turn_more {
            Some(turn) => format!("Was a turn missed ({high} {turn})? Add it, type {high} again, or retake {low}."),
            None => format!("Type {high} again, or retake {low}: is the dial the right way round?"),
        }
    }
}
