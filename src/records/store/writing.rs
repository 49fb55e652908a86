//! A record opened to be written: the lock first; then what a killed save left is put away.

use std::path::{Path, PathBuf};

use crate::domain::id::Id;
use crate::domain::stamp::Stamp;

use super::super::inspection_file::{Opened, Trust};
use super::super::lock::{Lock, LockFault, abandoned};
use super::super::seal::sha256;
use super::super::yaml::Problems;
use super::known::missing_words;
use super::{Store, at_words, folder};

/// How every file of this program begins.
const OURS: &[u8] = b"# asfound";

/// A record that nobody else writes until the lock is dropped.
pub struct Held {
    /// The right to write.
    pub lock: Lock,
    /// The record, as it stands on the disk.
    pub opened: Opened,
    /// What must be known before going on, a sentence each.
    pub remarks: Vec<String>,
}

/// Why a record was not opened to be written.
#[derive(Debug, thiserror::Error)]
pub enum HoldFault {
    /// It cannot be read.
    #[error("{0}")]
    Unreadable(Problems),
    /// Somebody writes it, or the system gives no lock.
    #[error(transparent)]
    Locked(#[from] LockFault),
}

impl Store {
    /// Opens a record to write it, for `who`, else for who began it. The lock is that of the folder in which it lies, so that
    /// a record on a stick leaves nothing in this data folder.
    ///
    /// # Errors
    /// When it cannot be read, when another process writes in its folder, when the system refuses the lock.
    pub fn hold(&self, record: &Path, who: Option<&Id>, since: Stamp) -> Result<Held, HoldFault> {
        let before = self.open(record).map_err(HoldFault::Unreadable)?;
        let who = who.unwrap_or(&before.inspection.head().by).clone();
        let folder = record.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
        let lock = Lock::take(folder, who.as_str(), since)?;
        // from here on nobody else writes: what was read before counts when it still stands there
        let stands = self.bytes_if_there(record).is_some_and(|bytes| bytes == before.file.bytes());
        let mut opened = if stands { before } else { self.open(record).map_err(HoldFault::Unreadable)? };
        let mut remarks = Vec::new();
        self.tidy_registers();
        for kept in self.tidy(folder) {
            remarks.push(format!(
                "A save was cut off before it was done. What it held more than the record is kept in {}.",
                kept.display()
            ));
        }
        if let Some(entry) = opened.missing {
            opened.file.go_on_once_seen(entry);
            opened.trust = Trust::Changed { entry };
            remarks.push(missing_words(entry));
        } else if let Trust::Changed { entry } = opened.trust {
            remarks.push(format!("Changed outside this program {}: look before going on.", at_words(entry)));
        }
        Ok(Held { lock, opened, remarks })
    }

    /// Takes away what killed saves left beside registers, rotors and forms: nobody was told that it is saved, and the file
    /// itself stands as it was. What another program is writing now stays.
    pub fn tidy_registers(&self) {
        let folders = |folder: PathBuf| folder::folders(&folder).unwrap_or_default();
        let kinds = ["instruments", "sheets", "checklists"].map(|kind| self.root.join(kind));
        let forms = folders(self.root.join("drafts"));
        let all = [self.root.clone()].into_iter().chain(kinds).chain(forms);
        let rotors = folders(self.root.join("rotors")).into_iter();
        // records have their own rule, under their folder's lock
        let of_rotors = rotors.map(|rotor| rotor.join(".rotor.yaml.saving")).filter(|left| left.is_file());
        for left in all.flat_map(|folder| folder::left_over(&folder)).chain(of_rotors) {
            let ours = left.file_name().is_some_and(|name| name.to_string_lossy().ends_with(".yaml.saving"));
            if let Some(held) = abandoned(&left).filter(|_| ours) {
                self.take_away(&left);
                drop(held);
            }
        }
    }

    /// Puts away what killed saves left in a rotor's folder, whichever record they were of: nothing that a record does not
    /// hold is taken away; where that was kept.
    ///
    /// Only under the folder's lock: without it the file may be another program's that is saving right now.
    fn tidy(&self, folder: &Path) -> Vec<PathBuf> {
        let records = self.records_in(folder).unwrap_or_default();
        for left in records.iter().flat_map(|record| folder::left_over(&self.folder_of(record))) {
            // a draft, a note, or a copy of a picture that still is where it came from
            self.take_away(&left);
        }
        folder::left_over(folder).into_iter().filter_map(|left| self.put_away(&left)).collect()
    }

    /// Takes away what a killed save left of a record, or keeps it where the record has not all of it.
    fn put_away(&self, left: &Path) -> Option<PathBuf> {
        let name = left.file_name()?.to_str()?.strip_prefix('.')?.strip_suffix(".saving")?;
        let record = left.with_file_name(name);
        // all that this program writes so; a hidden file of another one is let alone
        if record.extension().is_none_or(|ending| ending != "yaml") {
            return None;
        }
        let held = self.bytes_if_there(left)?;
        let there = self.bytes_if_there(&record);
        // of a record that never came to be nothing was called saved, and its answers still are a draft
        let never_was = there.is_none() && held.starts_with(OURS);
        if never_was || there.unwrap_or_default().starts_with(&held) {
            self.take_away(left);
            return None;
        }
        let kept = format!("unsaved-{}.yaml", sha256(&held).get(..16).unwrap_or_default());
        let kept = self.folder_of(&record).join(kept);
        self.make_folder_of(&kept).ok()?;
        // when it cannot be moved it stays, and the next save writes over it as it always did
        self.disk.rename(left, &kept).ok()?;
        Some(kept)
    }
}
