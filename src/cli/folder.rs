//! Which data folder: `--data`, else `ASFOUND_DATA`, else the system's usual place.
#![expect(clippy::disallowed_methods, reason = "the environment is asked for the data folder here")]

use std::path::PathBuf;

use crate::records::store::{Store, usual_root};

/// The data folder; the reason in words when none can be found.
pub(super) fn store(given: Option<PathBuf>) -> Result<Store, String> {
    let root = usual_root(given, std::env::var_os("ASFOUND_DATA"));
    root.map(Store::at).ok_or_else(|| "No data folder is known here. Name one: --data DIR.".to_owned())
}
