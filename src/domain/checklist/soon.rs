//! How soon a step follows a wait before it.

use super::super::entry::TimerMark;
use super::super::figure::Figure;

/// The longest time from a wait to what shows nothing any more later: the dye has dried, its lines have run together.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Soon {
    /// The step that waits.
    pub after: String,
    /// From its beginning, or its end.
    pub since: TimerMark,
    /// At most so long.
    pub to: Figure,
}

impl Soon {
    /// `at most 30 min after the wait before was over`.
    pub fn in_words(&self) -> String {
        format!("at most {} {}", self.to, self.since_in_words())
    }

    /// `after the wait before was over`.
    pub fn since_in_words(&self) -> &'static str {
        match self.since {
            TimerMark::Started => "after the wait before began",
            TimerMark::Ended => "after the wait before was over",
        }
    }
}
