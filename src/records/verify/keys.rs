//! Whose signature by key is good, past, claimed, unknown or wrong; and what a seal without a key cannot prove.

use std::path::Path;

use crate::domain::entry::{Act, Entry};
use crate::records::inspection_file::{Opened, with_lf};
use crate::records::key::{self, Check, KeyState};
use crate::records::store::Store;

use super::{Kind, Sign, Told, Verified};

/// Said of a signature without a key.
pub(super) const NO_KEY: &str = "a seal without a key shows a change only to who does not reckon all chain values anew; \
it does not prove who signed.";

/// The bytes of an entry, as they are chained and signed; `lf` is the file with its line ends as LF.
pub(in crate::records) fn entry_bytes<'b>(opened: &Opened, lf: &'b [u8], number: u32) -> Option<&'b [u8]> {
    let place = opened.inspection.entries().iter().position(|entry| entry.number == number)?;
    lf.get(opened.stretches.get(place)?.entry.clone())
}

pub(super) fn look(store: &Store, file: &Path, opened: &Opened, verified: &mut Verified) {
    let lf = with_lf(opened.file.bytes());
    let signs: Vec<&Entry> =
        opened.inspection.entries().iter().filter(|entry| matches!(entry.act, Act::Sign(_))).collect();
    let with_key = |entry: &&&Entry| store.bytes_if_there(&store.signature_path(file, entry.number)).is_some();
    for entry in signs.iter().filter(|entry| !with_key(entry)) {
        let what = format!("Entry {} is not signed by key: {NO_KEY}", entry.number);
        verified.tell(Told::new(Sign::Unseen, Kind::Key, what).at(entry.number).named(&entry.by));
    }
    let keyed: Vec<_> = signs.iter().filter(with_key).collect();
    if keyed.is_empty() {
        return;
    }
    let unchecked = |what: String, verified: &mut Verified| {
        for entry in &keyed {
            let what = format!("Entry {} is signed by key, and that was not checked. {what}", entry.number);
            verified.tell(Told::new(Sign::Unchecked, Kind::Key, what).at(entry.number).named(&entry.by));
        }
    };
    let people = match store.people() {
        Ok(people) => people,
        Err(problems) => {
            return unchecked(format!("No key is known: the people file cannot be read. {problems}"), verified);
        }
    };
    let signers = match store.put_signers(&people, opened.inspection.people()) {
        Ok(written) => written,
        Err(fault) => return unchecked(fault.to_string(), verified),
    };
    for entry in &keyed {
        let bytes = entry_bytes(opened, &lf, entry.number).unwrap_or_default();
        let signature = store.signature_path(file, entry.number);
        let check = Check { signature: &signature, bytes, signer: entry.by.as_str(), at: entry.at, signers: &signers };
        let known = Known {
            keys: people.iter().find(|person| person.id.same_as(&entry.by)).map_or(0, |person| person.keys.len()),
            owner: key::owner(&check).ok().flatten(),
        };
        let (sign, what) = said(entry, &known, key::state(&check));
        verified.tell(Told::new(sign, Kind::Key, what).at(entry.number).named(&entry.by));
    }
    store.take_away_signers(&signers);
}

/// What this machine knows.
struct Known {
    /// How many keys of who signed.
    keys: usize,
    /// Whose key it is.
    owner: Option<String>,
}

fn said(entry: &Entry, known: &Known, state: std::io::Result<KeyState>) -> (Sign, String) {
    let (number, by) = (entry.number, &entry.by);
    let begin = format!("Entry {number} is signed by ");
    let state = match state {
        Ok(state) => state,
        Err(fault) => {
            let what = format!("{begin}key, and that was not checked: ssh-keygen cannot be run: {fault}.");
            return (Sign::Unchecked, what);
        }
    };
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
        KeyState::Another => {
            let owner = known.owner.as_deref().unwrap_or("somebody else");
            (Sign::Fault, format!("{begin}a key that people.yaml has as {owner}'s, not as {by}'s."))
        }
        KeyState::Unknown if known.keys == 0 => {
            let what = format!(
                "{begin}a key that is not known as {by}'s, neither here nor in the record: people.yaml has no key of that person. Put in the line of the .pub file, had from the person and not with the record."
            );
            (Sign::Unchecked, what)
        }
        KeyState::Unknown => {
            let what = format!(
                "{begin}a key that is not known as {by}'s, neither here nor in the record: people.yaml has another key of that person. It may be the wrong one, or a new one that nobody entered."
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
