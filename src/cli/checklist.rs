//! `asfound checklist`: a checklist of one's own, begun as a copy.

use std::io;

use crate::exit::Exit;
use crate::records::store::Store;

use super::out::Out;
use super::raw;

/// Copies a checklist into the data folder.
///
/// # Errors
/// When stdout cannot be written.
pub(super) fn run(words: &raw::Checklist, store: &Store, out: &mut Out) -> io::Result<Exit> {
    let raw::ChecklistVerb::Copy(words) = &words.what;
    let copied = words
        .new
        .clone()
        .map_or_else(|| words.name.parse().map_err(|refusal: crate::domain::refusal::Refusal| refusal.to_string()), Ok);
    match copied.and_then(|new| store.copy_checklist(&words.name, &new)) {
        Ok(path) => {
            out.say(&format!("{} is yours to change. `asfound check {0}` checks each change.", path.display()))?;
            Ok(Exit::Done)
        }
        Err(why) => {
            out.complain(&format!("asfound checklist copy: {why}"))?;
            Ok(Exit::NotDone)
        }
    }
}
