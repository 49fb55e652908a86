//! `asfound check`: every file read, and all that is wrong with them.

use std::io;

use crate::exit::Exit;
use crate::records::check::{check_files, check_folder};
use crate::records::store::Store;

use super::out::Out;
use super::raw;

/// Reads every file of the folder, or those named, and lists all that is wrong.
///
/// # Errors
/// When stdout cannot be written.
pub(super) fn check(words: &raw::Files, store: &Store, out: &mut Out) -> io::Result<Exit> {
    let report = if words.files.is_empty() { check_folder(store) } else { check_files(&words.files) };
    out.say(&report.text())?;
    Ok(if report.is_fine() { Exit::Done } else { Exit::FallsShort })
}
