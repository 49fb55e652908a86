//! Whose signature by key is good, past, claimed, unknown or wrong; and what a seal without a key cannot prove.

use std::path::Path;

use crate::domain::entry::{Act, Entry};
use crate::records::inspection_file::Opened;
use crate::records::key::KeyState;
use crate::records::store::Store;

use super::{Kind, Sign, Told, Verified};

/// Said of a signature without a key.
const NO_KEY: &str = "a seal without a key shows a change only to who does not reckon all chain values anew; \
it does not prove who signed.";

/// The bytes of an entry as a key signs them: as they are chained, of a brought one as they were where it was made; `lf`
/// is the file with its line ends as LF.
pub(in crate::records) fn entry_bytes<'b>(opened: &'b Opened, lf: &'b [u8], number: u32) -> Option<&'b [u8]> {
    let entries = opened.inspection.entries();
    let place = entries.iter().position(|entry| entry.number == number)?;
    if let Some(Act::Brought { bytes, .. }) = entries.get(place).map(|entry| &entry.act) {
        return Some(bytes.as_bytes());
    }
    lf.get(opened.stretches.get(place)?.entry.clone())
}

pub(super) fn look(store: &Store, file: &Path, opened: &Opened, verified: &mut Verified) {
    let mut keyed = store.keyed(file, opened);
    // of what does not count nothing more is said
    let counts =
        opened.inspection.entries().iter().filter(|entry| opened.inspection.passed_over(entry.number).is_none());
    for entry in counts.filter(|entry| entry.deed().takes_key()) {
        let number = entry.number;
        let state = keyed.iter().position(|(one, _)| one.number == number).map(|at| keyed.swap_remove(at).1);
        let (sign, what) = match state {
            None => (Sign::Unseen, format!("Entry {number}{} is not signed by key: {NO_KEY}", deed_of(entry))),
            Some(Err(why)) => {
                (Sign::Unchecked, format!("Entry {number} is signed by key, and that was not checked. {why}"))
            }
            Some(Ok(state)) => said(entry, state),
        };
        verified.tell(Told::new(sign, Kind::Key, what).at(number).named(entry.doer()));
    }
    for number in store.signed_astray(file, &opened.inspection) {
        let what = format!(
            "{number}.sig beside it is a signature by key, and entry {number} takes none: it was made for another entry or record."
        );
        verified.tell(Told::new(Sign::Fault, Kind::Key, what).at(number));
    }
}

/// `, countersigned by supervisor-b,`.
fn deed_of(entry: &Entry) -> String {
    let word = match entry.deed().kind() {
        "countersign" => "countersigned",
        "return" => "sent back",
        _ => return String::new(),
    };
    format!(", {word} by {},", entry.doer())
}

/// What is said of it.
fn said(entry: &Entry, state: KeyState) -> (Sign, String) {
    let (number, by) = (entry.number, entry.doer());
    let begin = format!("Entry {number} is signed by ");
    match state {
        KeyState::Good => (Sign::Holds, format!("{begin}key: good, by a key this machine knows as {by}'s.")),
        KeyState::Past => {
            let what = format!("{begin}key: good when it was signed, by a key of {by} whose time is over since.");
            (Sign::Holds, what)
        }
        KeyState::Over => {
            let what = format!("{begin}a key of {by} whose time was over already when it was signed.");
            (Sign::Fault, what)
        }
        KeyState::Early => {
            let what = format!("{begin}a key of {by} whose time had not begun when it was signed.");
            (Sign::Fault, what)
        }
        KeyState::Claimed => {
            let what = format!("{begin}a key that only the record says is {by}'s: claimed, until people.yaml has it.");
            (Sign::Unchecked, what)
        }
        KeyState::Another(owner) => {
            (Sign::Fault, format!("{begin}a key that people.yaml has as {owner}'s, not as {by}'s."))
        }
        KeyState::Unknown => {
            let what = format!(
                "{begin}a key that is not known as {by}'s, neither here nor in the record: people.yaml has no key of that person. Put in the line of the .pub file, had from the person and not with the record."
            );
            (Sign::Unchecked, what)
        }
        KeyState::Other => {
            let what = format!(
                "{begin}a key that is not known here as {by}'s: people.yaml has another key of that person. It may be the wrong one, or a new one that nobody entered."
            );
            (Sign::Fault, what)
        }
        KeyState::Wrong => {
            let what = format!(
                "Entry {number}: the signature by key is not of this entry, it was changed or belongs to another record."
            );
            (Sign::Fault, what)
        }
    }
}
