//! The desk of the line mode: a record of the data folder, its lock, and the clock.

use std::path::Path;

use crate::domain::entry::{Entry, PhotoRef};
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

    fn keep(&mut self, session: &Session, now: Stamp) {
        let Some((step, place)) = session.place(now) else { return };
        // what is half typed on the screen stays with its place, and what is half answered with its step
        let Draft { step: there, form: of_screen, mut aside, .. } = self.found.clone();
        let (own, left) = session.half(&step);
        let (here, elsewhere) = if there == step { (of_screen, None) } else { (None, of_screen) };
        aside.extend(elsewhere.and_then(|form| laid_aside(&there, form)).into_iter().chain(left));
        let form = own.or(here);
        let invented = session.inspection().head().scene != Scene::Real;
        let ((reads, writes), late) = (session.hands(), session.late().cloned());
        let draft = Draft { invented, step, place, reads, writes, late, form, aside, ..self.found.clone() };
        if self.kept.as_ref() == Some(&draft) {
            return;
        }
        if self.store.keep_draft(self.file.path(), &draft).is_ok() {
            self.kept = Some(draft);
        }
    }
}
