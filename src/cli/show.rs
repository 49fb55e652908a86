//! `asfound show`: a record printed, for people or for programs.

use std::io;
use std::path::PathBuf;

use crate::domain::review::that_counts;
use crate::exit::Exit;
use crate::face::shelf::reading::kept;
use crate::records::inspection_file::{Opened, Trust};
use crate::records::store::Store;
use crate::report::{json, record};

use super::folder::NotFound;
use super::out::Out;
use super::{folder, raw};

/// Prints a record for people, or for programs.
///
/// # Errors
/// When stdout cannot be written.
pub(super) fn show(words: &raw::Show, store: &Store, out: &mut Out) -> io::Result<Exit> {
    let (store, path, opened) = match open(store, &words.record) {
        Ok(found) => found,
        Err(not_found) => return not_found.told("show", out),
    };
    let standing = that_counts(&opened.inspection);
    let kept = kept(&store, &path, &opened);
    if words.json {
        out.say(&json::of_record(&opened.inspection, &standing, &kept).to_string())?;
        return Ok(Exit::Done);
    }
    let faults = kept.faults.iter().map(|fault| format!("! {fault}")).collect::<Vec<_>>().into_iter();
    let lines = record::lines(&opened.inspection, &standing, &kept);
    for line in faults.chain(trust(&opened)).chain(lines) {
        out.say(&line)?;
    }
    Ok(Exit::Done)
}

fn open(store: &Store, name: &str) -> Result<(Store, PathBuf, Opened), NotFound> {
    let (store, path) = folder::record_named(store, name)?;
    let opened = store.open_whole_part(&path).map_err(|problems| problems.to_string())?;
    Ok((store, path, opened))
}

/// What must be known before the record is believed.
fn trust(opened: &Opened) -> Vec<String> {
    match opened.trust {
        // said with the file's other faults
        Trust::Cut { .. } | Trust::Whole => Vec::new(),
        Trust::Seen { .. } | Trust::Changed { .. } | Trust::Newer { .. } => {
            opened.breaks.iter().map(|one| format!("! CHANGED OUTSIDE: {}", one.what())).collect()
        }
    }
}
