//! A record opened to be written: the lock first; then what a killed save left is put away, and the end of the record is
//! compared with the note of its last entry.

use std::path::{Path, PathBuf};

use crate::domain::apply::another_is_known;
use crate::domain::entry::{Act, Entry};
use crate::domain::id::Id;
use crate::domain::inspection::{Inspection, Previous};
use crate::domain::stamp::Stamp;

use super::super::inspection_file::{Opened, Trust, open_on};
use super::super::lock::{Lock, LockFault, abandoned};
use super::super::seal::sha256;
use super::super::yaml::Problems;
use super::{Store, folder};

/// So many bytes hold the first lines of a head, the record before among them.
const HEAD: u64 = 16 * 1024;

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

/// Where a record was changed, as a reader counts.
pub fn at_words(entry: u32) -> String {
    if entry == 0 { "in its line ends".to_owned() } else { format!("from entry {entry} on") }
}

/// Said of a record whose end is not the one that this data folder knows.
fn missing_words(entry: u32) -> String {
    let what = match entry {
        ANY => "Another record was saved here once, from which entry on is not known".to_owned(),
        entry => format!("Entry {entry} was saved here once and is missing now"),
    };
    format!("{what}: fetch a whole copy and bring it in.")
}

/// The number of the entry to come.
fn behind(inspection: &Inspection) -> u32 {
    inspection.entries().last().map_or(1, |last| last.number.saturating_add(1))
}

/// Where a chain value is another, everything before it may be: from which entry on it is, nobody knows.
const ANY: u32 = 1;

/// From which entry on it is another record, or the first that is missing, when somebody knows the one with this number by
/// its chain value.
fn missing((inspection, chains): (&Inspection, &[String]), (number, named): (u32, &str)) -> Option<u32> {
    // what was brought stands here under another number
    if inspection.entries().iter().any(|entry| entry.brought_chain() == Some(named)) {
        return None;
    }
    let known = inspection.entries().iter().zip(chains).find(|(entry, _)| entry.number == number);
    known.map_or_else(|| Some(behind(inspection)), |(_, chain)| (chain != named).then_some(ANY))
}

/// Whether a record's head may name this one as the record before it, by a look at its lines.
fn names_before(bytes: &[u8], id: &str) -> bool {
    let mut lines = bytes.split(|byte| *byte == b'\n').skip_while(|line| !line.starts_with(b"previous:"));
    let first = lines.next().into_iter();
    let link = first.chain(lines.take_while(|line| line.first().is_some_and(u8::is_ascii_whitespace)));
    link.into_iter().any(|line| line.windows(id.len().max(1)).any(|part| part == id.as_bytes()))
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
        if let Some(entry) = self.missing_from(record, (&opened.inspection, &opened.chains), opened.trust) {
            opened.file.go_on_once_seen(entry);
            opened.trust = Trust::Changed { entry };
            remarks.push(missing_words(entry));
        } else if let Trust::Changed { entry } = opened.trust {
            remarks.push(format!("Changed outside this program {}: look before going on.", at_words(entry)));
        }
        Ok(Held { lock, opened, remarks })
    }

    /// Why a record is not to be believed as it lies, a sentence each; empty when nothing speaks against it.
    pub fn faults_of(&self, record: &Path, opened: &Opened) -> Vec<String> {
        let missing = self.missing_from(record, (&opened.inspection, &opened.chains), opened.trust);
        let trust = match opened.trust {
            Trust::Whole | Trust::Seen { .. } => None,
            Trust::Changed { entry } => {
                let first = opened.breaks.first().map(|one| format!(" {}", one.what())).unwrap_or_default();
                let more = opened.breaks.len().saturating_sub(1);
                let more = if more == 0 { String::new() } else { format!(" And {more} more: asfound verify.") };
                Some(format!("CHANGED OUTSIDE {}, and nobody has said so under a name.{first}{more}", at_words(entry)))
            }
            Trust::Cut { entry } => {
                let what = opened.problems.iter().flatten().next();
                let what = what.map(|one| format!(" (line {}: found {})", one.at.line, one.found)).unwrap_or_default();
                Some(format!(
                    "NOT WHOLE: it cannot be read from entry {entry} on{what}. Only what stands before that is told here; nothing is written to it. Fetch a whole copy."
                ))
            }
            Trust::Newer { format } => {
                let broken = if opened.breaks.is_empty() {
                    ""
                } else {
                    " And its chain does not hold as this program reckons it: CHANGED OUTSIDE, or reckoned otherwise there. Verify it with the newer program."
                };
                let unread = opened.unread;
                Some(format!("Format {format} is newer than this program: {unread} entries could not be read.{broken}"))
            }
        };
        trust.into_iter().chain(missing.map(missing_words)).collect()
    }

    /// From which entry on a record was changed outside, 0 in its line ends, where nobody has said that it was seen.
    pub fn outside(&self, record: &Path, opened: &Opened) -> Option<u32> {
        if let Trust::Changed { entry } = opened.trust {
            return Some(entry);
        }
        self.missing_from(record, (&opened.inspection, &opened.chains), opened.trust)
    }

    /// The same record, where a note or another one knows an entry of it that is another now: no signature over that holds.
    pub(super) fn as_known(&self, record: &Path, mut opened: Opened) -> Opened {
        let missing = self.missing_from(record, (&opened.inspection, &opened.chains), opened.trust);
        if let Some(entry) = missing.filter(|entry| opened.inspection.entry(*entry).is_some()) {
            another_is_known(&mut opened.inspection, entry);
        }
        opened
    }

    /// The last entry of which a signature by key lies beside the record and that the record has not; none once somebody has
    /// seen that it is missing.
    pub(in crate::records) fn signed_beyond(&self, record: &Path, inspection: &Inspection) -> Option<u32> {
        let signatures = folder::files(&self.folder_of(record), &["sig"]).unwrap_or_default();
        let numbers = signatures.iter().filter_map(|path| path.file_stem()?.to_str()?.parse::<u32>().ok());
        // who says that the tail is missing stands where it was
        let tail =
            |entry: &&Entry| matches!(entry.act, Act::SeenOutside { from: Some(from), .. } if from == entry.number);
        let seen = inspection.entries().iter().rfind(tail).map_or(u32::MAX, |entry| entry.number);
        let last = inspection.entries().last().map_or(0, |last| last.number);
        numbers.filter(|number| *number > last && *number < seen).max()
    }

    /// The first entry that the note of this data folder, or a signature by key, knows and the record has not, or has as
    /// another.
    pub(in crate::records) fn missing_from(
        &self,
        record: &Path,
        (inspection, chains): (&Inspection, &[String]),
        trust: Trust,
    ) -> Option<u32> {
        if !matches!(trust, Trust::Whole | Trust::Seen { .. }) {
            return None;
        }
        if self.signed_beyond(record, inspection).is_some() {
            return Some(behind(inspection));
        }
        let noted = self.noted_last(record);
        let folder = record.parent().unwrap_or(Path::new(""));
        let by_note = noted.and_then(|noted| missing((inspection, chains), (noted.entry, &noted.chain)));
        by_note.or_else(|| self.missing_to_later(folder, (inspection, chains)))
    }

    /// The first entry that a record in this folder, begun later, names and this one has not, or has as another; none once
    /// somebody has seen that it is missing.
    pub(in crate::records) fn missing_to_later(
        &self,
        folder: &Path,
        (inspection, chains): (&Inspection, &[String]),
    ) -> Option<u32> {
        let id = &inspection.head().id;
        // reading them all would cost the first screen its time: only one that may name it is read
        let begins = |path: &Path| folder::beginning_of(path, HEAD).unwrap_or_default();
        let others = self.records_in(folder).unwrap_or_default();
        // as it lies: what others know of that one is not asked again
        let as_it_lies = |path: &PathBuf| open_on(&self.disk, path).ok();
        let laters = others.iter().filter(|path| names_before(&begins(path), id)).filter_map(as_it_lies);
        // of two that were begun under one id the other may be meant
        let is_twin = |one: &Opened, link: &Previous| {
            let ((twin, chains), mine) = ((&one.inspection, one.chains.as_slice()), inspection.head());
            // a copy of this one is no twin: what it has more is missing here
            let begun_elsewhere = twin.head().id == *id && twin.head() != mine;
            begun_elsewhere && missing((twin, chains), (link.entry, &link.chain)).is_none()
        };
        let has_twin = |link: &Previous| others.iter().filter_map(as_it_lies).any(|one| is_twin(&one, link));
        let named = laters.filter_map(|later| {
            let head = later.inspection.head();
            let link = head.previous.as_ref().filter(|link| link.inspection == *id)?;
            // who says so stands where the missing tail was, or names the entry that is another
            let is_it = |number: u32, from: u32| from == ANY || from == number && number <= link.entry;
            let seen = |entry: &Entry| {
                matches!(entry.act, Act::SeenOutside { from: Some(from), .. } if is_it(entry.number, from))
                    && entry.at.moment() > head.begun.moment()
            };
            let missing = missing((inspection, chains), (link.entry, &link.chain))?;
            (!inspection.entries().iter().any(seen) && !has_twin(link)).then_some(missing)
        });
        named.min()
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
