//! The shelf of the bench: the records of a data folder, their locks, drafts and pictures. Slow and fallible work; the
//! writer's thread alone calls it.

mod begin;
mod home;
mod known;
mod papers;
pub mod reading;

use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex};

use crate::domain::entry::{Entry, PhotoRef};
use crate::domain::id::Id;
use crate::domain::inspection::Inspection;
use crate::records::clock::Clock;
use crate::records::inspection_file::{InspectionFile, Opened as Read, Trust};
use crate::records::lock::Lock;
use crate::records::store::{Held, Store, Watched};
use crate::records::yaml::Problems;

use super::acts::Files;
use super::effect::{Answer, Fault, Opened, Query, Register};
use super::half::Half;
use super::reviewing::Reading;
use super::writer::{Keeper, Shelf};

/// The records of a data folder.
pub struct RecordShelf {
    store: Store,
    clock: Arc<dyn Clock>,
    open: Option<Open>,
    place: Place,
}

/// The record that is open: its id and its file. The keeper looks here too.
type Place = Arc<Mutex<Option<(String, PathBuf)>>>;

/// The record that is written to.
struct Open {
    file: InspectionFile,
    /// Held until the record is put down.
    lock: Lock,
    /// The folder in which new photos appear.
    watched: Watched,
}

/// A fault said by somebody else, who names the mend too.
fn fault(said: impl std::fmt::Display) -> Fault {
    Fault { what: said.to_string(), mend: String::new() }
}

fn wrong(what: &str, mend: &str) -> Fault {
    Fault { what: what.to_owned(), mend: mend.to_owned() }
}

/// Gauges and people of the folder, whom of the record it does not know, and which of its files are out: a broken one
/// hides no sound gauge.
pub fn files_of(store: &Store, record: &Path, opened: &Read) -> (Files, Vec<String>) {
    let ((gauges, out), people) = (store.instruments(), store.people());
    let people_out = people.as_ref().err().into_iter().flat_map(Problems::iter);
    let mut names: Vec<_> = out.iter().chain(people_out).map(|problem| problem.file.clone()).collect();
    names.dedup();
    let told = names.iter().map(|name| format!("{name} cannot be read and is out: asfound check says why."));
    let (strange, keyed) = reading::strange_and_keyed(store, record, opened);
    (Files { gauges, people: people.unwrap_or_default(), lost: Vec::new(), strange, keyed }, told.collect())
}

impl RecordShelf {
    /// The shelf of `store`, with nothing taken down.
    pub fn new(store: Store, clock: Arc<dyn Clock>) -> Self {
        Self { store, clock, open: None, place: Place::default() }
    }

    fn lies_at(&self, inspection: &Inspection, path: &Path) {
        if let Ok(mut place) = self.place.lock() {
            *place = Some((inspection.head().id.clone(), path.to_owned()));
        }
    }

    /// The file of a record, by its path or its id.
    fn find(&self, name: &str) -> Result<PathBuf, Fault> {
        let path = Path::new(name);
        if path.is_file() {
            return Ok(path.to_owned());
        }
        let found = self.store.record_of_id(name).map_err(|why| wrong(&why, ""))?;
        found.ok_or_else(|| {
            wrong(&format!("There is no record `{name}`."), "Name its file, or an id of the first screen.")
        })
    }

    fn read(&self, path: &Path, by: Option<Id>) -> Result<Box<Reading>, Fault> {
        let reading = reading::read(&self.store, path).map_err(fault)?;
        Ok(Box::new(Reading { by, ..reading }))
    }

    fn take_down(&mut self, path: &Path) -> Result<Opened, Fault> {
        self.open = None;
        let settings = self.store.settings().map_err(fault)?;
        let Held { lock, opened, mut remarks } = self.store.hold(path, None, self.clock.now()).map_err(fault)?;
        remarks.extend(self.store.set_unreadable_aside(path));
        let outside = match opened.trust {
            Trust::Whole | Trust::Seen { .. } => None,
            Trust::Changed { entry } => Some(entry),
            Trust::Cut { entry } => {
                let what = format!("{} cannot be read from entry {entry} on.", path.display());
                return Err(wrong(
                    &what,
                    "Fetch a whole copy and bring it in; what stands before can be read: asfound review.",
                ));
            }
            Trust::Newer { format } => {
                let what = format!("{} has format {format}, newer than this program writes.", path.display());
                return Err(wrong(&what, "Go on with the newer program; this one can read it: asfound review."));
            }
        };
        let (files, out) = files_of(&self.store, path, &opened);
        remarks.extend(out);
        let remark = (!remarks.is_empty()).then(|| remarks.join(" "));
        let watched = Watched::new(settings.photos, &opened.inspection);
        let draft = self.store.draft(path).map(Box::new);
        self.lies_at(&opened.inspection, path);
        self.open = Some(Open { file: opened.file, lock, watched });
        Ok(Opened { inspection: opened.inspection, draft, break_hours: settings.break_hours, outside, files, remark })
    }

    /// The same with somebody's hand in the place of the one that left.
    fn take_down_as(&mut self, path: &Path, by: &Id) -> Result<Opened, Fault> {
        let mut opened = self.take_down(path)?;
        if opened.inspection.person(by).is_none() {
            self.open = None;
            let known: Vec<_> = opened.inspection.people().iter().map(|person| person.id.to_string()).collect();
            let mend = format!("Known are: {}.", known.join(", "));
            return Err(wrong(&format!("Nobody in this record is known as `{by}`."), &mend));
        }
        let mut draft = opened.draft.take().unwrap_or_default();
        (draft.reads, draft.writes) = (Some(by.clone()), None);
        opened.draft = Some(draft);
        Ok(opened)
    }

    fn photo(&self, path: Option<&str>) -> Result<PhotoRef, Fault> {
        let open = self.opened()?;
        let newest = || {
            let folder = open.watched.folder.as_ref().ok_or_else(|| {
                wrong("No folder is watched for photos.", "Type the picture's path, or set `photos` in settings.yaml.")
            })?;
            open.watched.newest(&self.store).ok_or_else(|| {
                wrong(&format!("No picture in {folder} is newer than the last entry."), "Type the picture's path.")
            })
        };
        let from = path.map_or_else(newest, |path| Ok(PathBuf::from(path)))?;
        let (photo, bytes) = self.store.read_photo(&from).map_err(fault)?;
        self.store.keep_photo(open.file.path(), &photo, &bytes).map_err(fault)?;
        Ok(photo)
    }

    fn opened(&self) -> Result<&Open, Fault> {
        self.open.as_ref().ok_or_else(|| wrong("No record is open.", "Open one on the first screen."))
    }

    /// The record with what waits, in another folder; work goes on there.
    fn go_elsewhere(&mut self, folder: &str, waiting: &[Entry]) -> Result<String, Fault> {
        let open = self.open.as_mut().ok_or_else(|| wrong("No record is open.", "Open one on the first screen."))?;
        open.file.go_on_in(Path::new(folder), waiting).map_err(fault)?;
        let path = open.file.path().to_owned();
        if let Ok(mut place) = self.place.lock()
            && let Some((_, file)) = place.as_mut()
        {
            file.clone_from(&path);
        }
        Ok(path.display().to_string())
    }

    /// A copy with what waits; the record stays where it is.
    fn copy(&self, folder: &str, waiting: &[Entry]) -> Result<String, Fault> {
        let mut copy = self.store.open(self.opened()?.file.path()).map_err(fault)?.file;
        copy.go_on_in(Path::new(folder), waiting).map_err(fault)?;
        Ok(copy.path().display().to_string())
    }
}

/// Keeps what is half done beside the record that is open.
struct Beside {
    store: Store,
    place: Place,
}

impl Keeper for Beside {
    fn keep(&mut self, half: &Half) {
        let kept = match half {
            Half::Begin(answers) => self.store.keep_begin(answers.as_ref()),
            Half::Paper(kind, name, half) => self.store.keep_half_paper(*kind, name, half.as_ref()),
            Half::Job(inspection, draft) => {
                let place = self.place.lock().ok().and_then(|place| place.clone());
                match place.filter(|(open, _)| open == inspection) {
                    Some((_, record)) => self.store.keep_draft(&record, draft),
                    None => Ok(()),
                }
            }
            Half::Review(file, draft) => self.store.keep_review(Path::new(file), draft.as_deref()),
        };
        // a disk that refuses is told by the next save, which meets it too
        drop(kept);
    }
}

impl Shelf for RecordShelf {
    fn fetch(&mut self, query: &Query, waiting: &[Entry]) -> Answer {
        match query {
            Query::Home => Answer::Home(self.home().map(Box::new)),
            Query::Open(name) => Answer::Opened(self.find(name).and_then(|path| self.take_down(&path)).map(Box::new)),
            Query::OpenAs(file, by) => Answer::Opened(self.take_down_as(Path::new(file), by).map(Box::new)),
            Query::Read(name, by) => Answer::Read(self.find(name).and_then(|path| self.read(&path, by.clone()))),
            Query::Deed { file, by, acts, shown } => {
                let path = Path::new(file);
                let put = reading::put(&self.store, self.clock.as_ref(), path, (by, acts.clone()), shown);
                match (put, self.read(path, Some(by.clone()))) {
                    (Err(fault), Ok(reading)) if reading.shown() != shown => Answer::Grown(reading, fault),
                    (put, read) => Answer::Deed(put.and(read)),
                }
            }
            Query::Verify(file) => Answer::Verified(reading::verified(&self.store, Path::new(file))),
            Query::Waiting => Answer::Waiting(reading::waiting(&self.store).map_err(fault)),
            Query::Begin(beginning) => {
                Answer::Opened(self.begin(beginning).and_then(|path| self.take_down(&path)).map(Box::new))
            }
            Query::Photo(path) => Answer::Photo(self.photo(path.as_deref())),
            Query::Move(folder) => Answer::Elsewhere(self.go_elsewhere(folder, waiting)),
            Query::Register(kind) => Answer::Register(self.register(*kind)),
            Query::Fill(kind, wanted) => {
                let wanted = Some(wanted.clone());
                Answer::Register(self.register(*kind).map(|register| Register { wanted, ..register }))
            }
            Query::Discard(kind, draft) => Answer::Register(self.discarded(*kind, draft)),
            Query::Put(put) => Answer::Put(put.clone(), self.put_paper(put)),
            Query::Copy(folder) => Answer::Elsewhere(self.copy(folder, waiting)),
            Query::Key(entry, key) => {
                let signed = self.opened().and_then(|open| {
                    self.store.sign_entry_by_key(open.file.path(), *entry, Path::new(key)).map_err(fault)
                });
                Answer::Key(signed.map(|signed| signed.words()))
            }
            Query::KeyOf(file, entry, key) => {
                let path = Path::new(file);
                match reading::sign_by_key(&self.store, path, *entry, Path::new(key)) {
                    Ok(words) => Answer::Keyed(words, self.read(path, None)),
                    Err(why) => Answer::Key(Err(fault(why))),
                }
            }
            Query::Seal => Answer::Seal(self.opened().and_then(|open| self.store.seal_of(&open.file).map_err(fault))),
        }
    }

    fn append(&mut self, entries: &[Entry]) -> Result<(), Fault> {
        let open = self.open.as_mut().ok_or_else(|| wrong("No record is open.", "Open one on the first screen."))?;
        open.file.append(entries).map_err(fault)?;
        open.watched.saved(entries);
        if !entries.is_empty() {
            // the record itself is saved; without the note only a tail missing later is harder to see
            drop(self.store.note_last(open.file.path(), &open.file.last_entry()));
        }
        Ok(())
    }

    fn keeper(&self) -> Box<dyn Keeper> {
        Box::new(Beside { store: self.store.clone(), place: Arc::clone(&self.place) })
    }

    fn put_down(&mut self) {
        if let Some(open) = self.open.take() {
            drop(open.lock);
        }
    }
}
