//! `asfound resume`: goes on with a record that is not closed, at the place where somebody left.

use std::io;
use std::path::PathBuf;

use crate::exit::Exit;
use crate::records::store::Store;

use super::folder::{Going, NotFound};
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
        None => only(store, out)?.map_err(NotFound::from),
    };
    match found {
        Ok((store, path)) => {
            let way = surroundings.way(words.plain);
            bench::go_on((&store, &path), words.by.as_ref(), way, surroundings, out)
        }
        Err(not_found) => not_found.told("resume", out),
    }
}

/// The only record that is begun and not closed, of this folder, or else of its demonstration.
fn only(store: &Store, out: &mut Out) -> io::Result<Result<(Store, PathBuf), String>> {
    let read = match folder::going(store) {
        Ok(read) => read,
        Err(why) => return Ok(Err(why)),
    };
    let is_empty = |(going, unread): &Going| going.is_empty() && unread.is_empty();
    if !is_empty(&read) {
        return pick(store, read, out);
    }
    let demo = store.demo();
    match folder::going(&demo) {
        Ok(of_demo) if !is_empty(&of_demo) => {
            out.say(&format!("Nothing is begun in {}: this is its demonstration.", store.root().display()))?;
            pick(&demo, of_demo, out)
        }
        Ok(_) | Err(_) => pick(store, read, out),
    }
}

/// The only one of these. One that cannot be read is named: it may be the one that is meant.
fn pick(store: &Store, (mut going, unread): Going, out: &mut Out) -> io::Result<Result<(Store, PathBuf), String>> {
    if !unread.is_empty() {
        out.complain(&format!("asfound resume: these cannot be read, and may be the record you mean:\n{unread}"))?;
    }
    let root = store.root().display();
    let Some((path, _)) = going.pop() else {
        return Ok(Err(if unread.is_empty() {
            format!("no record is begun and not closed. Begin one with `asfound begin`.{}", folder::looked_in(store))
        } else {
            format!(
                "no record in {root} that can be read is begun and not closed. Mend those first, or fetch a whole copy."
            )
        }));
    };
    if going.is_empty() {
        return Ok(Ok((store.clone(), path)));
    }
    let ids: Vec<_> = going.iter().map(|(_, opened)| opened.inspection.head().id.clone()).collect();
    Ok(Err(format!("{} and one more are not closed. Name one: asfound resume ID.", ids.join(", "))))
}
