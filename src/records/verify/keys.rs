//! Whose signature by key is good, past, claimed, unknown or wrong; and what a seal without a key cannot prove.

use std::path::Path;

use crate::domain::entry::{Act, Entry};
use crate::records::inspection_file::Opened;
use crate::records::key::{self, Check, KeyState};
use crate::records::store::Store;

use super::Verified;

/// Said of a signature without a key.
pub(super) const NO_KEY: &str = "a seal without a key shows a change only to who does not reckon all chain values anew; \
it does not prove who signed.";

/// The bytes of an entry, as they are chained and signed; `lf` is the file with its line ends as LF.
pub(in crate::records) fn entry_bytes<'b>(opened: &Opened, lf: &'b [u8], number: u32) -> Option<&'b [u8]> {
    let place = opened.inspection.entries().iter().position(|entry| entry.number == number)?;
    lf.get(opened.stretches.get(place)?.entry.clone())
}

pub(super) fn look(store: &Store, file: &Path, opened: &Opened, verified: &mut Verified) {
    let lf: Vec<u8> = lf_bytes(opened);
    let signs: Vec<&Entry> =
        opened.inspection.entries().iter().filter(|entry| matches!(entry.act, Act::Sign(_))).collect();
    let with_key = |entry: &&&Entry| store.bytes_if_there(&store.signature_path(file, entry.number)).is_some();
    for entry in signs.iter().filter(|entry| !with_key(entry)) {
        verified.unseen.push(format!("Entry {} is not signed by key: {NO_KEY}", entry.number));
    }
    let keyed: Vec<_> = signs.iter().filter(with_key).collect();
    if keyed.is_empty() {
        return;
    }
    let people = match store.people() {
        Ok(people) => people,
        Err(problems) => {
            verified.unseen.push(format!("No key is known: the people file cannot be read. {problems}"));
            return;
        }
    };
    let (known, claimed) = match store.put_signers(&people, opened.inspection.people()) {
        Ok(written) => written,
        Err(fault) => {
            verified.unseen.push(format!("Signatures by key were not checked. {fault}"));
            return;
        }
    };
    for entry in keyed {
        let bytes = entry_bytes(opened, &lf, entry.number).unwrap_or_default();
        let signature = store.signature_path(file, entry.number);
        let check = Check {
            signature: &signature,
            bytes,
            signer: entry.by.as_str(),
            at: entry.at,
            known: &known,
            claimed: &claimed,
        };
        let keys = people.iter().find(|person| person.id.same_as(&entry.by)).map_or(0, |person| person.keys.len());
        said(entry, keys, key::state(&check), verified);
    }
    store.take_away(&claimed);
}

fn lf_bytes(opened: &Opened) -> Vec<u8> {
    String::from_utf8_lossy(opened.file.bytes()).replace("\r\n", "\n").into_bytes()
}

/// `keys` is how many keys of the signer this machine knows.
fn said(entry: &Entry, keys: usize, state: std::io::Result<KeyState>, verified: &mut Verified) {
    let (number, by) = (entry.number, &entry.by);
    match state {
        Ok(KeyState::Good) => {
            verified
                .holds
                .push(format!("Entry {number} is signed by key: good, by a key this machine knows as {by}'s."));
        }
        Ok(KeyState::Past) => verified.holds.push(format!(
            "Entry {number} is signed by key: good when it was signed, by a key of {by} whose time is over since."
        )),
        Ok(KeyState::Claimed) => verified.unseen.push(format!(
            "Entry {number} is signed by a key that only the record says is {by}'s: claimed, until people.yaml has it."
        )),
        Ok(KeyState::Unknown) => verified.faults.push(format!(
            "Entry {number} is signed by a key that is not known as {by}'s, neither here nor in the record: {}",
            if keys == 0 {
                "people.yaml has no key of that person. Put in the line of the .pub file, had from the person and not with the record."
            } else {
                "people.yaml has another key of that person. It may be the wrong one, or a new one that nobody entered."
            }
        )),
        Ok(KeyState::Wrong) => verified.faults.push(format!(
            "Entry {number}: the signature by key is not of this entry, it was changed or belongs to another record."
        )),
        Err(fault) => {
            verified.unseen.push(format!("Entry {number} is signed by key, and ssh-keygen cannot be run: {fault}."));
        }
    }
}
