//! `asfound resume`: goes on with a record that is not closed, at the place where somebody left.

use std::io;

use crate::exit::Exit;
use crate::records::store::Store;

use super::folder::NotFound;
use super::out::Out;
use super::surroundings::Surroundings;
use super::{bench, folder, raw};

/// Goes on with the record named, or with the only one that is not closed.
///
/// # Errors
/// When the page cannot be written or the input not be read.
pub(super) fn run(words: &raw::Resume, store: &Store, surroundings: &Surroundings, out: &mut Out) -> io::Result<Exit> {
    let found = match &words.record {
        Some(name) => folder::record_named(store, name),
        None => only(store).map_err(NotFound::from),
    };
    match found {
        Ok((store, path)) => {
            let way = surroundings.way(words.plain);
            bench::go_on((&store, &path), words.by.as_ref(), way, surroundings, out)
        }
        Err(not_found) => not_found.told("resume", out),
    }
}

fn only(store: &Store) -> Result<(Store, std::path::PathBuf), String> {
    let mut going = folder::going(store)?;
    let Some((path, _)) = going.pop() else {
        return Err(format!(
            "no record in {} is begun and not closed. Begin one with `asfound begin`.",
            store.root().display()
        ));
    };
    if going.is_empty() {
        return Ok((store.clone(), path));
    }
    let ids: Vec<_> = going.iter().map(|(_, opened)| opened.inspection.head().id.clone()).collect();
    Err(format!("{} and one more are not closed. Name one: asfound resume ID.", ids.join(", ")))
}
