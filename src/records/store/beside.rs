//! What stands beside a record, in the folder of its name: the draft, and the note of its last entry.

use std::path::{Path, PathBuf};

use crate::domain::id::Id;

use super::super::durable::replace_unsynced;
use super::super::file::{self, Format};
use super::super::form::keys;
use super::super::save_fault::SaveFault;
use super::super::words::{count, id, name, text, verbatim};
use super::Store;

/// A half-typed field.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Draft {
    /// The step.
    pub step: String,
    /// The place, where the step has places.
    pub place: Option<String>,
    /// The gauge in hand.
    pub gauge: Option<Id>,
    /// What is typed so far; may be empty.
    pub typed: String,
}

/// The last entry that this data folder has seen of a record.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LastEntry {
    /// Its number.
    pub entry: u32,
    /// The chain value behind it.
    pub chain: String,
}

keys! {
    fn draft -> Draft, Block {
        step "step" need name,
        place "place" may text,
        gauge "gauge" may id,
        typed "typed" need verbatim,
    }

    fn last_entry -> LastEntry, Block {
        entry "entry" need count,
        chain "chain" need verbatim,
    }
}

const DRAFT: Format<Draft> = Format { remark: "asfound draft: a field not yet entered", body: draft };
const LAST: Format<LastEntry> = Format { remark: "asfound note of a record's last entry", body: last_entry };

impl Store {
    /// The folder beside a record.
    pub fn folder_of(&self, record: &Path) -> PathBuf {
        record.with_extension("")
    }

    /// Keeps the half-typed field: survives the end of this program, perhaps not a power cut.
    ///
    /// # Errors
    /// When the disk refuses.
    pub fn keep_draft(&self, record: &Path, draft: &Draft) -> Result<(), SaveFault> {
        self.keep(&self.folder_of(record).join("draft.yaml"), &file::write(&DRAFT, draft))
    }

    /// The half-typed field; none when there is none that can be read.
    pub fn draft(&self, record: &Path) -> Option<Draft> {
        let path = self.folder_of(record).join("draft.yaml");
        let bytes = self.disk.read(&path).ok()??;
        file::read(&DRAFT, &self.name_of(&path), &bytes).ok()
    }

    /// Notes the last entry saved, so that a tail that is missing later is found.
    ///
    /// # Errors
    /// When the disk refuses; the record itself is saved all the same.
    pub fn note_last(&self, record: &Path, last: &LastEntry) -> Result<(), SaveFault> {
        self.keep(&self.folder_of(record).join("last.yaml"), &file::write(&LAST, last))
    }

    /// The last entry noted; none when there is no note that can be read.
    pub fn noted_last(&self, record: &Path) -> Option<LastEntry> {
        let path = self.folder_of(record).join("last.yaml");
        let bytes = self.disk.read(&path).ok()??;
        file::read(&LAST, &self.name_of(&path), &bytes).ok()
    }

    fn keep(&self, path: &Path, text: &str) -> Result<(), SaveFault> {
        self.make_folder_of(path)?;
        replace_unsynced(self.disk.as_ref(), path, text.as_bytes())
    }
}
