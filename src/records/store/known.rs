//! What else knows of a record's end, the note of its last entry, a signature by key, a later record; and why a record is
//! not to be believed as it lies.

use std::path::{Path, PathBuf};

use crate::domain::apply::changed_outside;
use crate::domain::entry::{Act, Entry};
use crate::domain::inspection::{Inspection, Previous};

use super::super::inspection_file::{Opened, Trust, open_on};
use super::{Store, folder};

/// So many bytes hold the first lines of a head, the record before among them.
const HEAD: u64 = 16 * 1024;

/// Where a record was changed, as a reader counts.
pub fn at_words(entry: u32) -> String {
    if entry == 0 { "in its line ends".to_owned() } else { format!("from entry {entry} on") }
}

/// Said of a record whose end is not the one that this data folder knows.
pub(super) fn missing_words(entry: u32) -> String {
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
pub(in crate::records) const ANY: u32 = 1;

/// From which entry on it is another record, or the first that is missing, when somebody knows the one with this number by
/// its chain value.
fn missing((inspection, chains): (&Inspection, &[String]), (number, named): (u32, &str)) -> Option<u32> {
    // what was brought stands here under another number
    if inspection.brought_as(named).is_some() {
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

impl Opened {
    /// Why a record is not to be believed as it lies, a sentence each; empty when nothing speaks against it.
    pub fn faults(&self) -> Vec<String> {
        let trust = match self.trust {
            Trust::Whole | Trust::Seen { .. } => None,
            Trust::Changed { entry } => {
                let first = self.breaks.first().map(|one| format!(" {}", one.what())).unwrap_or_default();
                let more = self.breaks.len().saturating_sub(1);
                let more = if more == 0 { String::new() } else { format!(" And {more} more: asfound verify.") };
                Some(format!("CHANGED OUTSIDE {}, and nobody has said so under a name.{first}{more}", at_words(entry)))
            }
            Trust::Cut { entry } => {
                let what = self.problems.iter().flatten().next();
                let what = what.map(|one| format!(" (line {}: found {})", one.at.line, one.found)).unwrap_or_default();
                Some(format!(
                    "NOT WHOLE: it cannot be read from entry {entry} on{what}. Only what stands before that is told here; nothing is written to it. Fetch a whole copy."
                ))
            }
            Trust::Newer { format } => {
                let broken = if self.breaks.is_empty() {
                    ""
                } else {
                    " And its chain does not hold as this program reckons it: CHANGED OUTSIDE, or reckoned otherwise there. Verify it with the newer program."
                };
                let unread = self.unread;
                Some(format!("Format {format} is newer than this program: {unread} entries could not be read.{broken}"))
            }
        };
        trust.into_iter().chain(self.missing.map(missing_words)).collect()
    }

    /// From which entry on a record was changed outside, 0 in its line ends, where nobody has said that it was seen.
    pub fn outside(&self) -> Option<u32> {
        if let Trust::Changed { entry } = self.trust { Some(entry) } else { self.missing }
    }
}

impl Store {
    /// The same record, where a note or another one knows an entry of it that is another now: no signature over that holds.
    pub(super) fn as_known(&self, record: &Path, mut opened: Opened) -> Opened {
        opened.missing = self.missing_from(record, (&opened.inspection, &opened.chains), opened.trust);
        if let Some(entry) = opened.missing.filter(|entry| opened.inspection.entry(*entry).is_some()) {
            changed_outside(&mut opened.inspection, [entry].into());
        }
        opened
    }

    /// The last entry of which a signature by key lies beside the record and that the record has not; none once somebody has
    /// seen that it is missing.
    pub(in crate::records) fn signed_beyond(&self, record: &Path, inspection: &Inspection) -> Option<u32> {
        let last = inspection.entries().last().map_or(0, |last| last.number);
        self.signature_numbers(record, inspection).into_iter().filter(|number| *number > last).max()
    }

    /// The entries of which a signature by key lies beside the record and that take none: it was made for another one.
    pub(in crate::records) fn signed_astray(&self, record: &Path, inspection: &Inspection) -> Vec<u32> {
        let numbers = self.signature_numbers(record, inspection).into_iter();
        numbers.filter(|number| inspection.entry(*number).is_some_and(|entry| !entry.deed().takes_key())).collect()
    }

    /// The entries of which a signature by key lies beside the record, up to where somebody has seen that its tail is missing.
    fn signature_numbers(&self, record: &Path, inspection: &Inspection) -> Vec<u32> {
        let signatures = folder::files(&self.folder_of(record), &["sig"]).unwrap_or_default();
        let numbers = signatures.iter().filter_map(|path| path.file_stem()?.to_str()?.parse::<u32>().ok());
        // who says that the tail is missing stands where it was
        let tail =
            |entry: &&Entry| matches!(entry.act, Act::SeenOutside { from: Some(from), .. } if from == entry.number);
        let seen = inspection.entries().iter().rfind(tail).map_or(u32::MAX, |entry| entry.number);
        numbers.filter(|number| *number < seen).collect()
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
}
