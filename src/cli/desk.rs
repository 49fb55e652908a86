//! The desk of the line mode: a record of the data folder, its lock, and the clock.

use std::path::Path;

use crate::domain::entry::{Entry, PhotoRef};
use crate::domain::id::Id;
use crate::domain::inspection::Scene;
use crate::domain::signing::Seal;
use crate::domain::stamp::Stamp;
use crate::face::half::laid_aside;
use crate::face::plain::{Desk, Session};
use crate::records::clock::{Clock, RealClock};
use crate::records::inspection_file::InspectionFile;
use crate::records::lock::Lock;
use crate::records::store::{Draft, Store, Watched};

/// An open record, to be written.
pub(super) struct RecordDesk {
    pub(super) store: Store,
    pub(super) file: InspectionFile,
    pub(super) lock: Lock,
    pub(super) clock: RealClock,
    /// The folder in which new photos appear.
    pub(super) watched: Watched,
    /// The draft as it was found, without what goes on line by line.
    pub(super) found: Draft,
    /// The draft that lies on the disk.
    pub(super) kept: Option<Draft>,
    /// The session as it was when it was kept last, or looked at first.
    pub(super) seen: Option<Seen>,
}

/// What of a session a draft has, and how many entries there are.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Seen {
    place: Option<(String, Option<String>)>,
    hands: (Option<Id>, Option<Id>),
    entries: usize,
}

impl Seen {
    /// The place that the work has gone on to since.
    fn moved_since(&self, last: &Self) -> bool {
        last.place.is_some() && self.place != last.place
    }

    /// Whether there are other hands, or these have taken something.
    fn hands_since(&self, last: &Self) -> bool {
        self.hands != last.hands || self.entries != last.entries
    }
}

impl Desk for RecordDesk {
    fn now(&mut self) -> Stamp {
        self.clock.now()
    }

    fn save(&mut self, entries: &[Entry]) -> Result<(), String> {
        self.file.append(entries).map_err(|fault| fault.to_string())?;
        self.watched.saved(entries);
        if !entries.is_empty() {
            // the record itself is saved; without the note only a tail missing later is harder to see
            drop(self.store.note_last(self.file.path(), &self.file.last_entry()));
        }
        Ok(())
    }

    fn elsewhere(&mut self, folder: &str, entries: &[Entry]) -> Result<(), String> {
        self.file.go_on_in(Path::new(folder), entries).map_err(|fault| fault.to_string())
    }

    fn copy(&mut self, folder: &str, entries: &[Entry]) -> Result<String, String> {
        let mut copy = self.store.open(self.file.path()).map_err(|fault| fault.to_string())?.file;
        copy.go_on_in(Path::new(folder), entries).map_err(|fault| fault.to_string())?;
        Ok(copy.path().display().to_string())
    }

    fn seal(&mut self) -> Result<Seal, String> {
        self.store.seal_of(&self.file)
    }

    fn key(&mut self, entry: u32, path: &str) -> Result<String, String> {
        let signed = self.store.sign_entry_by_key(self.file.path(), entry, Path::new(path));
        signed.map(|signed| signed.words()).map_err(|fault| fault.to_string())
    }

    fn photo(&mut self, path: Option<&str>) -> Result<PhotoRef, String> {
        let newest = match (path, &self.watched.folder) {
            (Some(path), _) => Path::new(path).to_owned(),
            (None, None) => {
                return Err(
                    "No folder is watched for photos. Name the picture's file, or set `photos` in settings.yaml."
                        .to_owned(),
                );
            }
            (None, Some(folder)) => self.watched.newest(&self.store).ok_or_else(|| {
                format!("No picture in {folder} is newer than the last entry. Name the picture's file.")
            })?,
        };
        let (photo, bytes) = self.store.read_photo(&newest).map_err(|problems| problems.to_string())?;
        self.store.keep_photo(self.file.path(), &photo, &bytes).map_err(|fault| fault.to_string())?;
        Ok(photo)
    }

    /// Looking in is no work: step, place and hands stay as they were left, on the screen perhaps elsewhere, until something is
    /// taken or gone to.
    fn keep(&mut self, session: &Session, now: Stamp) {
        let place = session.place(now).or_else(|| self.seen.as_ref().and_then(|seen| seen.place.clone()));
        let seen = Seen { place, hands: session.hands(), entries: session.inspection().entries().len() };
        let last = self.seen.replace(seen.clone());
        let since = |is_new: fn(&Seen, &Seen) -> bool| last.as_ref().is_some_and(|last| is_new(&seen, last));
        let first = self.kept.is_none();
        let kept = self.kept.clone().unwrap_or_default();
        let Draft { step: there, form: of_screen, aside, .. } = self.found.clone();
        let mut draft = Draft { aside, ..kept };
        draft.invented = session.inspection().head().scene != Scene::Real;
        draft.late = session.late().cloned();
        if first || since(Seen::hands_since) {
            (draft.reads, draft.writes) = seen.hands.clone();
        }
        // whatever is half answered here is work too
        let is_at = |(step, _): &(String, Option<String>)| session.half(step, now).0.is_some();
        let moved = |place: &(String, Option<String>)| first || since(Seen::moved_since) || is_at(place);
        if let Some((step, place)) = seen.place.clone().filter(moved) {
            (draft.step, draft.place) = (step, place);
        }
        // what is half typed on the screen stays with its place, and what is half answered with its step
        let (own, left) = session.half(&draft.step, now);
        let (here, elsewhere) = if there == draft.step { (of_screen, None) } else { (None, of_screen) };
        draft.aside.extend(elsewhere.and_then(|form| laid_aside(&there, form)).into_iter().chain(left));
        draft.form = own.or(here);
        if draft.step.is_empty() || self.kept.as_ref() == Some(&draft) {
            return;
        }
        if self.store.keep_draft(self.file.path(), &draft).is_ok() {
            self.kept = Some(draft);
        }
    }
}
