//! From an outcome to an exit code: one table, also the source of that page in the docs.

use std::process::ExitCode;

/// How a run of the program ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Exit {
    /// What was asked is done; also when the reader of a pipe went away.
    Done,
    /// It could not be done; the reason is on stderr.
    NotDone,
    /// The words were wrong: an unknown verb, name or key.
    WrongWords,
    /// What was checked falls short.
    FallsShort,
    /// Nothing was found to be wrong, and not all that is there to be checked could be.
    NotChecked,
    /// Ended by the signal of that number.
    Signal(u8),
}

/// Code and meaning, as the docs list them.
pub const TABLE: &[(&str, &str)] = &[
    ("0", "done; also when the reader of a pipe went away"),
    ("1", "it could not be done, the reason is on stderr"),
    ("2", "wrong words: unknown verb, name or key"),
    ("3", "faults found by check, verify, import; left out by export, list, bring"),
    ("4", "verify found nothing wrong, but could not check every key or format"),
    ("128+n", "ended by signal n"),
];

impl Exit {
    /// The number the shell sees.
    pub fn code(self) -> u8 {
        match self {
            Self::Done => 0,
            Self::NotDone => 1,
            Self::WrongWords => 2,
            Self::FallsShort => 3,
            Self::NotChecked => 4,
            Self::Signal(number) => 128_u8.saturating_add(number),
        }
    }
}

impl From<Exit> for ExitCode {
    fn from(exit: Exit) -> Self {
        Self::from(exit.code())
    }
}
