//! Everything that can reach the model: keys, the clock's word, answers of the writer, the end.

use crate::domain::stamp::Stamp;

use super::effect::{Answer, Fault};
use super::input::Key;

/// A moment: what the clock shows, and a count that never runs back.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Moment {
    /// Day and time.
    pub stamp: Stamp,
    /// Milliseconds since the program began.
    pub millis: u64,
}

/// Something happened.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Message {
    /// A key, and when it was read.
    Key(Key, Moment),
    /// A paste in its brackets.
    Paste(String, Moment),
    /// The window has so many columns and rows.
    Resized(u16, u16),
    /// The moment that the model asked for has come.
    Woke(Moment),
    /// The screen shows the model; what was read before is typed ahead.
    Painted(Moment),
    /// Entries up to this number are on the disk.
    Saved(u32),
    /// They are not, and why.
    NotSaved(Fault),
    /// What was asked for.
    Answered(Box<Answer>, Moment),
    /// The end, from outside.
    Ended(Ending),
}

/// Why the program ends without having been asked by a key.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ending {
    /// A signal.
    Signal(i32),
    /// The terminal is gone.
    Gone,
}
