//! Inspection records on the disk: opened, begun, appended to. Their bytes never change; they only grow.

mod cut;
mod grown;
mod layout;
mod read;
mod tail;
mod trust;

use std::path::{Path, PathBuf};
use std::sync::Arc;

use crate::domain::entry::{Act, Entry};
use crate::domain::inspection::{Head, Inspection, Scene};
use crate::domain::signing::Seal;

use super::durable::{Disk, Known, RealDisk, replace};
use super::file::FORMAT;
use super::form;
use super::head_file::head_keys;
use super::save_fault::SaveFault;
use super::seal::chain_of_head;
use super::store::LastEntry;
use super::yaml::{Key, Layout, Node, Problems, Quoting, What, emit};

pub(super) use cut::{is_begun, is_record, read_before};
use grown::Grown;
pub use layout::Stretch;
pub(super) use layout::with_lf;
pub(super) use read::{Read, line_of, line_of_entry, read};
pub use tail::{Glance, Whole, glance};
pub use trust::{Break, Flaw, Trust};

/// What every record begins with: how to read it without this program, and how to check it.
const REMARK: &str = "\
# asfound inspection record. Figures are as typed; nothing above a signature may change.
# How to check: an entry's bytes run from its `- entry:` up to its `chain:` line. chain: the first 16 hex digits of the
# SHA-256 over the chain value before and these bytes; before the first entry, of all bytes up to the line `entries:`.
# A `sign` entry states length and SHA-256 of all bytes before its own: head -c LENGTH FILE | sha256sum
";

/// A record that can be appended to.
pub struct InspectionFile {
    path: PathBuf,
    disk: Arc<dyn Disk>,
    /// As this program left them on the disk.
    bytes: Vec<u8>,
    /// As a save may have left them whose end was not seen.
    perhaps: Option<Vec<u8>>,
    chain: String,
    next: u32,
    scene: Scene,
    writing: Writing,
}

/// Whether entries may be appended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Writing {
    Free,
    /// Only after somebody has said that the change was seen.
    OnceSeen {
        entry: u32,
    },
    Never {
        format: u32,
    },
    /// Never: it cannot be read to its end.
    Cut {
        entry: u32,
    },
}

/// An opened record.
pub struct Opened {
    /// To append to.
    pub file: InspectionFile,
    /// Head and entries, folded.
    pub inspection: Inspection,
    /// Chain value behind each entry, as it stands in the file.
    pub chains: Vec<String>,
    /// Where each entry stands in the file, line ends as LF.
    pub stretches: Vec<Stretch>,
    /// Whether it is as this program left it.
    pub trust: Trust,
    /// From which entry on what else knows of its end has more, or another record; none where it was not asked.
    pub missing: Option<u32>,
    /// Everything that does not hold, seen or not.
    pub breaks: Vec<Break>,
    /// Entries of a newer format that could not be read.
    pub unread: usize,
    /// What is wrong behind the last entry that could be read, where the rest cannot.
    pub problems: Option<Problems>,
}

/// Opens a record.
///
/// # Errors
/// Every fault of the file when it cannot be read; it is then neither changed nor moved.
pub fn open(path: &Path) -> Result<Opened, Problems> {
    let disk: Arc<dyn Disk> = Arc::new(RealDisk);
    open_on(&disk, path)
}

pub(super) fn open_on(disk: &Arc<dyn Disk>, path: &Path) -> Result<Opened, Problems> {
    let bytes = super::reading::bytes_of(disk.as_ref(), path)?;
    let read = read(&path.display().to_string(), &bytes)?;
    Ok(opened((disk, path), bytes, read, None))
}

/// A copy as it was before mail or an editor turned its line ends; whether they had been.
pub(super) fn open_turned_back_on(disk: &Arc<dyn Disk>, path: &Path) -> Result<(Opened, bool), Problems> {
    let bytes = super::reading::bytes_of(disk.as_ref(), path)?;
    let lf = with_lf(&bytes).into_owned();
    let turned = lf.len() != bytes.len();
    let read = read(&path.display().to_string(), &lf)?;
    Ok((opened((disk, path), lf, read, None), turned))
}

/// Opens a record to read only: of one that cannot be read to its end, what stands before the entry that is broken.
pub(super) fn open_before_on(disk: &Arc<dyn Disk>, path: &Path) -> Result<Opened, Problems> {
    let bytes = super::reading::bytes_of(disk.as_ref(), path)?;
    let (read, problems) = read_before(&path.display().to_string(), &bytes)?;
    Ok(opened((disk, path), bytes, read, problems))
}

fn opened((disk, path): (&Arc<dyn Disk>, &Path), bytes: Vec<u8>, read: Read, problems: Option<Problems>) -> Opened {
    let writing = match read.trust {
        Trust::Whole | Trust::Seen { .. } => Writing::Free,
        Trust::Changed { entry } => Writing::OnceSeen { entry },
        Trust::Newer { format } => Writing::Never { format },
        Trust::Cut { entry } => Writing::Cut { entry },
    };
    let file = InspectionFile {
        path: path.to_owned(),
        disk: Arc::clone(disk),
        bytes,
        perhaps: None,
        chain: read.chains.last().cloned().unwrap_or(read.chain_of_head),
        next: read.inspection.entries().iter().map(|entry| entry.number).max().unwrap_or(0).saturating_add(1),
        scene: read.inspection.head().scene,
        writing,
    };
    Opened {
        file,
        inspection: read.inspection,
        chains: read.chains,
        stretches: read.stretches,
        trust: read.trust,
        missing: None,
        breaks: read.breaks,
        unread: read.unread,
        problems,
    }
}

/// The bytes of a record without entries, up to and including the line `entries:`.
pub fn head_text(head: &Head) -> String {
    let body = form::write(|slot| drop(slot.map(Layout::Block, |fields| head_keys(fields, Some(head)))));
    let mut pairs = vec![(Key::new("format"), Node::text(FORMAT.to_string(), Quoting::Bare))];
    if let What::Map(_, rest) = body.what {
        pairs.extend(rest);
    }
    format!("{REMARK}{}entries:\n", emit(&Node::new(What::Map(Layout::Block, pairs))))
}

impl InspectionFile {
    /// Begins a record at `path` with its first entries, numbered from 1.
    ///
    /// # Errors
    /// When a file is there already, when the disk refuses, or when the entries' numbers do not follow.
    pub fn begin(path: &Path, head: &Head, entries: &[Entry]) -> Result<Self, SaveFault> {
        Self::begin_on(Arc::new(RealDisk), path, head, entries)
    }

    pub(super) fn begin_on(
        disk: Arc<dyn Disk>,
        path: &Path,
        head: &Head,
        entries: &[Entry],
    ) -> Result<Self, SaveFault> {
        let bytes = head_text(head).into_bytes();
        let chain = chain_of_head(&bytes);
        let (path, writing) = (path.to_owned(), Writing::Free);
        let mut file = Self { path, disk, bytes, perhaps: None, chain, next: 1, scene: head.scene, writing };
        let grown = file.grown(entries)?;
        if let Some(folder) = file.path.parent() {
            let fault = |source| SaveFault::Disk { doing: "making the folder of", path: file.path.clone(), source };
            file.disk.make_folder(folder).map_err(fault)?;
        }
        replace(file.disk.as_ref(), &file.path, Known::Nothing, &grown.bytes)?;
        file.take(grown);
        Ok(file)
    }

    /// Saves entries behind the last one; all of them or, with an error, none that counts.
    ///
    /// # Errors
    /// When the file on the disk is not as this program left it, when the disk refuses, when the record may not be
    /// written, when the numbers do not follow, when a signature does not state what stands before it.
    pub fn append(&mut self, entries: &[Entry]) -> Result<(), SaveFault> {
        self.may_write(entries)?;
        let grown = self.grown(entries)?;
        let known: Vec<&[u8]> =
            [Some(&self.bytes), self.perhaps.as_ref()].into_iter().flatten().map(Vec::as_slice).collect();
        if let Err(fault) = replace(self.disk.as_ref(), &self.path, Known::OneOf(&known), &grown.bytes) {
            return Err(self.not_saved(fault, grown));
        }
        self.take(grown);
        Ok(())
    }

    /// Takes nothing more before somebody has said that what is wrong from `entry` on was seen.
    pub(super) fn go_on_once_seen(&mut self, entry: u32) {
        self.writing = Writing::OnceSeen { entry };
    }

    /// Goes on with another disk that holds the same bytes.
    #[cfg(test)]
    pub(super) fn go_on_with(&mut self, disk: Arc<dyn Disk>) {
        self.disk = disk;
    }

    /// What a save that failed means, with the entry at which another program changed the file.
    fn not_saved(&mut self, fault: SaveFault, grown: Grown) -> SaveFault {
        match fault {
            // the rename may have happened: the next save must know these bytes as its own
            SaveFault::Disk { .. } => self.perhaps = Some(grown.bytes),
            SaveFault::ChangedMeanwhile { path, .. } => {
                let there = self.disk.read(&path).ok().flatten().unwrap_or_default();
                let entry = Some(layout::entry_at_difference(&self.bytes, &there).unwrap_or(self.next));
                return SaveFault::ChangedMeanwhile { path, entry };
            }
            SaveFault::Gone { .. }
            | SaveFault::InTheWay { .. }
            | SaveFault::NotSeen { .. }
            | SaveFault::Cut { .. }
            | SaveFault::Newer { .. }
            | SaveFault::Number { .. }
            | SaveFault::Unsealed { .. } => {}
        }
        fault
    }

    fn may_write(&self, entries: &[Entry]) -> Result<(), SaveFault> {
        // who has seen it may have to be introduced first
        let first = entries.iter().find(|entry| !matches!(entry.act, Act::Person(_)));
        let seen = first.is_some_and(|entry| matches!(entry.act, Act::SeenOutside { .. }));
        match self.writing {
            Writing::Free => Ok(()),
            Writing::OnceSeen { .. } if seen => Ok(()),
            Writing::OnceSeen { entry } => Err(SaveFault::NotSeen { path: self.path.clone(), entry }),
            Writing::Cut { entry } => Err(SaveFault::Cut { path: self.path.clone(), entry }),
            Writing::Never { format } => Err(SaveFault::Newer { path: self.path.clone(), format }),
        }
    }

    /// The record with `entries` behind it.
    fn grown(&self, entries: &[Entry]) -> Result<Grown, SaveFault> {
        let mut grown = Grown { bytes: self.bytes.clone(), chain: self.chain.clone(), next: self.next };
        for entry in entries {
            if entry.number != grown.next {
                return Err(SaveFault::Number { next: grown.next, found: entry.number });
            }
            if let Act::Sign(signature) = &entry.act {
                let seal = grown.seal();
                if seal.length != signature.length || seal.sha256 != signature.sha256 {
                    return Err(SaveFault::Unsealed { entry: entry.number });
                }
            }
            grown.push(&grown.with_what_was_seen(entry));
        }
        Ok(grown)
    }

    fn take(&mut self, grown: Grown) {
        (self.bytes, self.chain, self.next) = (grown.bytes, grown.chain, grown.next);
        self.perhaps = None;
        self.writing = Writing::Free;
    }

    /// What a signature behind these entries, not yet saved, must state.
    ///
    /// # Errors
    /// When the entries' numbers do not follow.
    pub fn seal_behind(&self, entries: &[Entry]) -> Result<Seal, SaveFault> {
        self.grown(entries).map(|grown| grown.seal())
    }

    /// Where it is.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// All saved bytes.
    pub fn bytes(&self) -> &[u8] {
        &self.bytes
    }

    /// The chain value behind the last saved entry.
    pub fn chain(&self) -> &str {
        &self.chain
    }

    /// The number of the next entry.
    pub fn next(&self) -> u32 {
        self.next
    }

    /// What is noted beside it of its last entry.
    pub fn last_entry(&self) -> LastEntry {
        let invented = self.scene != Scene::Real;
        LastEntry { invented, entry: self.next.saturating_sub(1), chain: self.chain.clone() }
    }

    /// Writes what is saved and `entries` to a new file of the same name in another folder, and goes on there.
    ///
    /// # Errors
    /// As [`Self::begin`].
    pub fn go_on_in(&mut self, folder: &Path, entries: &[Entry]) -> Result<(), SaveFault> {
        self.may_write(entries)?;
        let grown = self.grown(entries)?;
        let path = folder.join(self.path.file_name().unwrap_or_default());
        let fault = |source| SaveFault::Disk { doing: "making the folder of", path: path.clone(), source };
        self.disk.make_folder(folder).map_err(fault)?;
        replace(self.disk.as_ref(), &path, Known::Nothing, &grown.bytes)?;
        self.path = path;
        self.take(grown);
        Ok(())
    }
}
