//! What stands beside a record, in the folder of its name: the note of its last entry.

use std::path::{Path, PathBuf};

use super::super::durable::replace_unsynced;
use super::super::file::{self, Format};
use super::super::form::keys;
use super::super::save_fault::SaveFault;
use super::super::seal::sha256;
use super::super::words::{count, verbatim, yes_no};
use super::{Store, folder};

/// The last entry that this data folder has seen of a record.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LastEntry {
    /// Belongs to a demonstration.
    pub invented: bool,
    /// Its number.
    pub entry: u32,
    /// The chain value behind it.
    pub chain: String,
}

keys! {
    fn last_entry -> LastEntry, Block {
        invented "invented" flag yes_no,
        entry "entry" need count,
        chain "chain" need verbatim,
    }
}

pub(super) const LAST: Format<LastEntry> = Format { remark: "asfound note of a record's last entry", body: last_entry };

impl Store {
    /// The folder beside a record.
    pub fn folder_of(&self, record: &Path) -> PathBuf {
        record.with_extension("")
    }

    /// Whether a record has a folder.
    pub(in crate::records) fn has_folder(&self, record: &Path) -> bool {
        folder::is_there(&self.folder_of(record))
    }

    /// Notes the last entry saved, so that a tail that is missing later is found.
    ///
    /// # Errors
    /// When the disk refuses; the record itself is saved all the same.
    pub fn note_last(&self, record: &Path, last: &LastEntry) -> Result<(), SaveFault> {
        // of a record without entries nothing can go missing
        if last.entry == 0 {
            return Ok(());
        }
        self.keep(&self.folder_of(record).join("last.yaml"), &file::write(&LAST, last))
    }

    /// The last entry noted; none when there is no note that can be read.
    pub fn noted_last(&self, record: &Path) -> Option<LastEntry> {
        self.kept(&self.folder_of(record).join("last.yaml"), &LAST)
    }

    /// Whether there is a note of the last entry, to be read or not.
    pub fn has_note(&self, record: &Path) -> bool {
        self.bytes_if_there(&self.folder_of(record).join("last.yaml")).is_some()
    }

    /// What a note beside holds; none when it cannot be read.
    pub(super) fn kept<T>(&self, path: &Path, format: &Format<T>) -> Option<T> {
        let bytes = self.disk.read(path).ok()??;
        file::read(format, &self.name_of(path), &bytes).ok()
    }

    /// Sets aside what is there and cannot be read, so that nothing is written over it; what is to be said, once.
    pub(super) fn aside<T>(&self, path: &Path, format: &Format<T>) -> Option<String> {
        // of an empty file, which a power cut may leave, nothing is lost
        let bytes = self.bytes_if_there(path).filter(|bytes| !bytes.is_empty())?;
        file::read(format, &self.name_of(path), &bytes).err()?;
        let name = path.file_name()?.to_string_lossy().into_owned();
        let kept = format!("unreadable-{}-{name}", sha256(&bytes).get(..8).unwrap_or_default());
        // when it cannot be moved it is told all the same
        drop(self.disk.rename(path, &path.with_file_name(&kept)));
        Some(format!("{name} beside it cannot be read; it is kept as {kept}."))
    }

    pub(super) fn keep(&self, path: &Path, text: &str) -> Result<(), SaveFault> {
        self.make_folder_of(path)?;
        replace_unsynced(self.disk.as_ref(), path, text.as_bytes())
    }
}
