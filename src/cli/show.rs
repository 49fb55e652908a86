//! `asfound show`: a record printed, for people or for programs.

use std::io;

use crate::domain::standing::Standing;
use crate::exit::Exit;
use crate::records::inspection_file::{Opened, Trust};
use crate::records::store::Store;
use crate::report::{json, record};

use super::out::Out;
use super::{folder, raw};

/// Prints a record for people, or for programs.
///
/// # Errors
/// When stdout cannot be written.
pub(super) fn show(words: &raw::Show, store: &Store, out: &mut Out) -> io::Result<Exit> {
    let opened = match open(store, &words.record) {
        Ok(opened) => opened,
        Err(why) => {
            out.complain(&format!("asfound show: {why}"))?;
            return Ok(Exit::NotDone);
        }
    };
    let standing = Standing::of(&opened.inspection);
    if words.json {
        out.say(&json::of_record(&opened.inspection, &standing).to_string())?;
        return Ok(Exit::Done);
    }
    for line in trust(&opened).into_iter().chain(record::lines(&opened.inspection, &standing)) {
        out.say(&line)?;
    }
    Ok(Exit::Done)
}

fn open(store: &Store, name: &str) -> Result<Opened, String> {
    let (store, path) = folder::record_named(store, name)?;
    store.open(&path).map_err(|problems| problems.to_string())
}

/// What must be known before the record is believed.
fn trust(opened: &Opened) -> Vec<String> {
    match opened.trust {
        Trust::Whole => Vec::new(),
        Trust::Seen { .. } | Trust::Changed { .. } => {
            opened.breaks.iter().map(|one| format!("! CHANGED OUTSIDE: {}", one.what())).collect()
        }
        Trust::Newer { format } => {
            vec![format!("! Format {format} is newer than this program: {} entries could not be read.", opened.unread)]
        }
    }
}
