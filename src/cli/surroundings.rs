//! What the process was started with: the environment, and whether somebody sits at its ends. Read once, here.
#![expect(clippy::disallowed_methods, reason = "the one place that reads the environment")]

use std::ffi::OsString;
use std::io::IsTerminal;

/// The environment and the ends of the process.
#[derive(Debug, Clone)]
#[expect(clippy::struct_excessive_bools, reason = "two ends of the process, each a terminal or not")]
pub(super) struct Surroundings {
    /// `ASFOUND_DATA`.
    pub(super) data: Option<OsString>,
    /// Whether lines are typed by somebody.
    pub(super) typed: bool,
    /// Whether what is printed goes to a terminal: a pipe gets no drawing.
    pub(super) shown: bool,
}

impl Surroundings {
    /// As the process was started.
    pub(super) fn of_process() -> Self {
        Self {
            data: std::env::var_os("ASFOUND_DATA"),
            typed: std::io::stdin().is_terminal(),
            shown: std::io::stdout().is_terminal(),
        }
    }
}
