//! What holds of a record: chain, seals, photos, and the links between a rotor's records. What `asfound verify` says.

mod keys;
mod pictures;

pub(in crate::records) use keys::entry_bytes;

use std::path::{Path, PathBuf};

use crate::domain::entry::Act;

use super::inspection_file::{Opened, Trust};
use super::seal::chain_after;
use super::store::Store;
use super::yaml::Problems;

/// What holds of one record, and what does not.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Verified {
    /// The file.
    pub file: String,
    /// The inspection's id; empty when the file cannot be read.
    pub id: String,
    /// What holds, a sentence each.
    pub holds: Vec<String>,
    /// What does not, a sentence each.
    pub faults: Vec<String>,
    /// What this check cannot see, a sentence each.
    pub unseen: Vec<String>,
}

impl Verified {
    /// Whether nothing was found to be wrong.
    pub fn is_fine(&self) -> bool {
        self.faults.is_empty()
    }

    /// Every sentence with its sign: `X` does not hold, `+` holds, `?` cannot be seen.
    pub fn lines(&self) -> Vec<String> {
        let signed = [('X', &self.faults), ('+', &self.holds), ('?', &self.unseen)].into_iter();
        signed.flat_map(|(sign, lines)| lines.iter().map(move |line| format!("{sign} {line}"))).collect()
    }
}

/// Said of every record whose end nothing names.
pub const TAIL_UNSEEN: &str =
    "A missing tail cannot be seen: no later signature, record or note of this data folder names the last entry.";

/// Verifies records; other records of their folders are read for what they say about them.
pub fn verify(store: &Store, files: &[PathBuf]) -> Vec<Verified> {
    files.iter().map(|file| verify_one(store, file)).collect()
}

/// Every record of a data folder.
///
/// # Errors
/// When a folder cannot be read.
pub fn all_records(store: &Store) -> Result<Vec<PathBuf>, Problems> {
    let mut all = Vec::new();
    for listed in store.rotors()? {
        all.extend(store.records_in(&store.root().join("rotors").join(listed.folder))?);
    }
    Ok(all)
}

fn verify_one(store: &Store, file: &Path) -> Verified {
    let mut verified = Verified { file: store.name_of(file), ..Verified::default() };
    let opened = match store.open_whole_part(file) {
        Ok(opened) => opened,
        Err(problems) => {
            verified.faults.push(format!("It cannot be read. {problems}"));
            return verified;
        }
    };
    opened.inspection.head().id.clone_into(&mut verified.id);
    chain(&opened, &mut verified);
    signatures(&opened, &mut verified);
    keys::look(store, file, &opened, &mut verified);
    brought(&opened, &mut verified);
    pictures::look(store, file, &opened, &mut verified);
    let others = others(store, file, &mut verified);
    before(&opened, &others, &mut verified);
    let named = later(&opened, &others, &mut verified) | note(store, file, &opened, &mut verified);
    if !named {
        verified.unseen.push(TAIL_UNSEEN.to_owned());
    }
    verified
}

/// Other records of the same folder; what one that cannot be read would say is told as not seen.
fn others(store: &Store, file: &Path, verified: &mut Verified) -> Vec<Opened> {
    let records = file.parent().and_then(|folder| store.records_in(folder).ok()).unwrap_or_default();
    let mut others = Vec::new();
    for other in records.iter().filter(|other| other.as_path() != file) {
        match store.open(other) {
            Ok(opened) => others.push(opened),
            Err(_) => verified.unseen.push(format!(
                "{} beside it cannot be read: what it says of this record is not known.",
                store.name_of(other)
            )),
        }
    }
    others
}

fn chain(opened: &Opened, verified: &mut Verified) {
    match opened.trust {
        Trust::Whole => {
            verified.holds.push(match opened.inspection.entries().len() {
                1 => "The chain holds through its one entry.".to_owned(),
                count => format!("The chain holds through all {count} entries."),
            });
        }
        Trust::Newer { format } => {
            verified.unseen.push(format!("Format {format} is newer than this program: verify it with the newer one."));
        }
        Trust::Cut { entry } => {
            let count = opened.inspection.entries().len();
            verified.faults.push(format!(
                "It cannot be read from entry {entry} on; the {count} entries before it were read. {}",
                opened.problems.as_ref().map(ToString::to_string).unwrap_or_default()
            ));
            verified.faults.extend(opened.breaks.iter().map(super::inspection_file::Break::what));
        }
        Trust::Seen { .. } | Trust::Changed { .. } => {
            verified.faults.extend(opened.breaks.iter().map(super::inspection_file::Break::what));
        }
    }
    if let Trust::Seen { .. } = opened.trust {
        verified.holds.push("A later entry says that somebody has seen it.".to_owned());
    }
}

fn signatures(opened: &Opened, verified: &mut Verified) {
    let entries = opened.inspection.entries();
    for entry in entries {
        let number = entry.number;
        if let Act::Sign(signature) = &entry.act
            && !opened.breaks.iter().any(|one| one.entry <= number)
        {
            let (what, by, length) = (signature.what.word(), &entry.by, signature.length);
            verified.holds.push(format!(
                "Entry {number}, {what} signed by {by}: length {length} and SHA-256 of all before it are right."
            ));
        }
        let (Act::Countersign { sign, chain } | Act::Return { sign, chain, .. }) = entry.deed() else { continue };
        let word = if matches!(entry.deed(), Act::Return { .. }) { "sent back" } else { "countersigned" };
        if chain_at(opened, *sign) == Some(chain.as_str()) {
            let by = entry.doer();
            verified
                .holds
                .push(format!("Entry {number}, {word} by {by}, is about the signature {sign}, which is there."));
        } else {
            verified.faults.push(format!(
                "Entry {number} is about the signature {sign} with chain {chain}, which is not in this record."
            ));
        }
    }
}

/// The originals of brought entries: each must be what its chain value was taken of, behind a value known here.
fn brought(opened: &Opened, verified: &mut Verified) {
    let mut known: Vec<&str> = opened.chains.iter().map(String::as_str).collect();
    for entry in opened.inspection.entries() {
        let Act::Brought { bytes, chain, .. } = &entry.act else { continue };
        let number = entry.number;
        if known.iter().any(|before| chain_after(before, bytes.as_bytes()) == *chain) {
            verified.holds.push(format!("Entry {number} holds the original's bytes, as its chain value says."));
        } else {
            verified
                .faults
                .push(format!("Entry {number} was brought, and is not what its original's chain value says."));
        }
        if entry.original().is_none() {
            verified
                .faults
                .push(format!("Entry {number} was brought, and names nothing that it is about: it does not count."));
        }
        known.push(chain);
    }
}

/// The record that this one names as the one before.
fn before(opened: &Opened, others: &[Opened], verified: &mut Verified) {
    let Some(previous) = &opened.inspection.head().previous else { return };
    let Some(other) = others.iter().find(|other| other.inspection.head().id == previous.inspection) else {
        verified.unseen.push(format!("The record before, {}, is not here.", previous.inspection));
        return;
    };
    match chain_at(other, previous.entry) {
        Some(chain) if chain == previous.chain => {
            verified.holds.push(format!("The record before, {}, stands as it stood then.", previous.inspection));
        }
        Some(_) => verified.faults.push(format!(
            "The record before, {}, is another than the one that stood there: entry {} has another chain value.",
            previous.inspection, previous.entry
        )),
        None => verified.faults.push(format!(
            "The record before, {}, had {} entries then and has fewer now.",
            previous.inspection, previous.entry
        )),
    }
}

/// What later records say of this one; whether one names its last entry.
fn later(opened: &Opened, others: &[Opened], verified: &mut Verified) -> bool {
    let id = &opened.inspection.head().id;
    let mut named = false;
    for other in others {
        let Some(previous) = other.inspection.head().previous.as_ref().filter(|link| link.inspection == *id) else {
            continue;
        };
        let later = &other.inspection.head().id;
        named |= told(opened, previous.entry, &previous.chain, &format!("The later record {later}"), verified);
    }
    named
}

/// What the data folder's note says; whether it names the last entry.
fn note(store: &Store, file: &Path, opened: &Opened, verified: &mut Verified) -> bool {
    let Some(last) = store.noted_last(file) else { return false };
    told(opened, last.entry, &last.chain, "The note of this data folder", verified)
}

/// Compares what somebody else knows of an entry; whether it is the last one.
fn told(opened: &Opened, entry: u32, chain: &str, who: &str, verified: &mut Verified) -> bool {
    match chain_at(opened, entry) {
        Some(known) if known == chain => {
            verified.holds.push(format!("{who} names entry {entry}, which is there."));
            opened.inspection.entries().last().is_some_and(|last| last.number == entry)
        }
        Some(_) => {
            verified
                .faults
                .push(format!("{who} names entry {entry} with another chain value: the record was replaced."));
            true
        }
        None => {
            verified.faults.push(format!("{who} names entry {entry}, which is missing: the tail was cut off."));
            true
        }
    }
}

fn chain_at(opened: &Opened, entry: u32) -> Option<&str> {
    let place = opened.inspection.entries().iter().position(|other| other.number == entry)?;
    opened.chains.get(place).map(String::as_str)
}
