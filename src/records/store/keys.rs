//! Signatures by key beside a record, and the files that `ssh-keygen` reads.

use std::path::{Path, PathBuf};

use crate::domain::entry::Entry;
use crate::domain::person::Person;

use super::super::durable::{Known, replace};
use super::super::inspection_file::{Opened, with_lf};
use super::super::key::{self, Check, KeyFault, KeyState, Signers, Times};
use super::super::save_fault::SaveFault;
use super::super::verify::entry_bytes;
use super::Store;

/// A signature by key that was made.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SignedByKey {
    /// Where it is kept.
    pub path: PathBuf,
    /// What it is worth on this machine; none when that cannot be checked.
    pub state: Option<KeyState>,
}

impl SignedByKey {
    /// What was done, and what is still wanted before anybody can tell whose key it is.
    pub fn words(&self) -> String {
        let name = self.path.file_name().unwrap_or_default().to_string_lossy();
        let kept = format!("Signed by key: {name}, beside the record.");
        match &self.state {
            Some(KeyState::Claimed | KeyState::Unknown | KeyState::Other) => {
                format!("{kept} people.yaml has not this key as yours: enter its .pub line (first screen, people).")
            }
            Some(KeyState::Another(owner)) => {
                format!("{kept} ! people.yaml has this key as {owner}'s: verify will say that it is the wrong one.")
            }
            Some(KeyState::Past | KeyState::Over) => format!("{kept} people.yaml says that this key's time is over."),
            Some(KeyState::Early) => format!("{kept} people.yaml says that this key's time has not begun."),
            Some(KeyState::Wrong) => {
                format!("{kept} The record was changed meanwhile: it is not of what stands there.")
            }
            Some(KeyState::Good) | None => kept,
        }
    }
}

impl Store {
    /// Signs the bytes of an entry with a key, and keeps the signature beside the record.
    ///
    /// # Errors
    /// When a signature is there already, when `ssh-keygen` refuses or the disk does; the sign entry itself stands all
    /// the same.
    pub fn sign_by_key(&self, record: &Path, (entry, bytes): (u32, &[u8]), key: &Path) -> Result<PathBuf, KeyFault> {
        let path = self.signature_path(record, entry);
        if self.bytes_if_there(&path).is_some() {
            return Err(KeyFault::Signed { entry, path });
        }
        if self.bytes_if_there(key).is_none() {
            return Err(KeyFault::NoKey(key.to_owned()));
        }
        let signature = key::sign(key, bytes)?;
        self.keep_file(&path, &signature)?;
        Ok(path)
    }

    /// The same for an entry of a record on the disk.
    ///
    /// # Errors
    /// When the record cannot be read or has no such entry, when `ssh-keygen` refuses or the disk does.
    pub fn sign_entry_by_key(&self, record: &Path, entry: u32, key: &Path) -> Result<SignedByKey, KeyFault> {
        let opened = self.open(record).map_err(|problems| KeyFault::Unread(problems.to_string()))?;
        let lf = with_lf(opened.file.bytes());
        let bytes = entry_bytes(&opened, &lf, entry);
        let bytes = bytes.ok_or_else(|| KeyFault::Unread(format!("There is no entry {entry} in it.")))?;
        let path = self.sign_by_key(record, (entry, bytes), key)?;
        let state = self.keyed(record, &opened).into_iter().find(|(one, _)| one.number == entry);
        let state = state.and_then(|(_, state)| state.ok());
        Ok(SignedByKey { path, state })
    }

    /// What the signature by key of each entry that has one is worth here, or why that was not checked.
    pub fn keyed<'o>(&self, record: &Path, opened: &'o Opened) -> Vec<(&'o Entry, Result<KeyState, String>)> {
        let has_key = |entry: &&Entry| {
            entry.act.takes_key() && self.bytes_if_there(&self.signature_path(record, entry.number)).is_some()
        };
        let entries: Vec<_> = opened.inspection.entries().iter().filter(has_key).collect();
        if entries.is_empty() {
            return Vec::new();
        }
        let people = self.people().map_err(|why| format!("No key is known: the people file cannot be read. {why}"));
        let signers = people
            .as_ref()
            .map_err(String::clone)
            .and_then(|people| self.put_signers(people, opened.inspection.people()).map_err(|fault| fault.to_string()));
        let has_another = |entry: &Entry| {
            let mut people = people.iter().flatten();
            people.any(|person| person.id.same_as(&entry.by) && !person.keys.is_empty())
        };
        let lf = with_lf(opened.file.bytes());
        let state = |entry: &Entry| {
            let signers = signers.as_ref().map_err(String::clone)?;
            let bytes = entry_bytes(opened, &lf, entry.number).unwrap_or_default();
            let signature = &self.signature_path(record, entry.number);
            let check = Check { signature, bytes, signer: entry.by.as_str(), at: entry.at, signers };
            let state = key::state(&check).map_err(|fault| format!("ssh-keygen cannot be run: {fault}."))?;
            Ok(if state == KeyState::Unknown && has_another(entry) { KeyState::Other } else { state })
        };
        let all = entries.into_iter().map(|entry| (entry, state(entry))).collect();
        if let Ok(signers) = &signers {
            self.take_away_signers(signers);
        }
        all
    }

    /// Writes the allowed-signers file of this machine's people and, to be taken away after the check, the others.
    pub(in crate::records) fn put_signers(&self, people: &[Person], claimed: &[Person]) -> Result<Signers, SaveFault> {
        let put = |name: &str, people: &[Person], times: Times| {
            let path = self.root.join(name);
            self.put(&path, &key::allowed_signers(people, times)).map(|()| path)
        };
        Ok(Signers {
            known: put("allowed_signers", people, Times::Both)?,
            unending: put(".unending_signers", people, Times::BeginOnly)?,
            timeless: put(".timeless_signers", people, Times::Neither)?,
            claimed: put(".claimed_signers", claimed, Times::Both)?,
        })
    }

    /// Takes away what was written for one check.
    pub(in crate::records) fn take_away_signers(&self, signers: &Signers) {
        for path in [&signers.unending, &signers.timeless, &signers.claimed] {
            self.take_away(path);
        }
    }

    /// Where the signature by key of an entry is kept.
    pub fn signature_path(&self, record: &Path, entry: u32) -> PathBuf {
        key::signature_path(&self.folder_of(record), entry)
    }

    /// Takes away a file that was written for one check.
    pub(in crate::records) fn take_away(&self, path: &Path) {
        // nothing rests on it: the next check writes it anew
        drop(self.disk.remove(path));
    }

    /// The bytes of a file, when it is there and can be read.
    pub(in crate::records) fn bytes_if_there(&self, path: &Path) -> Option<Vec<u8>> {
        self.disk.read(path).ok().flatten()
    }

    /// Keeps a file beside a record, whatever was there.
    pub(in crate::records) fn keep_file(&self, path: &Path, bytes: &[u8]) -> Result<(), SaveFault> {
        self.make_folder_of(path)?;
        replace(self.disk.as_ref(), path, Known::Anything, bytes)
    }

    /// Puts a record in the place of the bytes it had; nothing where it was not there.
    pub(in crate::records) fn put_record(
        &self,
        path: &Path,
        before: Option<&[u8]>,
        bytes: &[u8],
    ) -> Result<(), SaveFault> {
        self.make_folder_of(path)?;
        let known = before.map(|before| [before]);
        match &known {
            Some(known) => replace(self.disk.as_ref(), path, Known::OneOf(known), bytes),
            None => replace(self.disk.as_ref(), path, Known::Nothing, bytes),
        }
    }
}
