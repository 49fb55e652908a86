//! Rotors and their records.

use std::path::{Path, PathBuf};

use chrono::{DateTime, Local, NaiveDate};

use crate::domain::id::Id;
use crate::domain::inspection::{Head, Inspection, Scene};
use crate::domain::rotor::Rotor;
use crate::domain::stamp::{Stamp, long_day};

use super::super::file;
use super::super::inspection_file::{
    Glance, Opened, Whole, glance, is_begun, open_before_on, open_on, open_turned_back_on,
};
use super::super::lock::{Lock, LockFault};
use super::super::reading::{bytes_of, place_under};
use super::super::rotor_file::{ROTOR, read_rotor};
use super::super::save_fault::SaveFault;
use super::super::yaml::{At, Problems, line_under};
use super::registers::unreadable;
use super::{Store, folder};

/// How much of a record's end home reads.
const END: u64 = 64 * 1024;

/// How much of a record's beginning is looked at for its id, which stands below the first remark.
const BEGINNING: u64 = 4 * 1024;

/// How an emptied record comes back.
const EMPTIED: &str = "Bring in a copy, from a stick, a backup or the folder of its name beside it: asfound bring COPY. It comes into this place. If there is none, put the file away: what it held is lost.";

/// A rotor's folder and what its file says.
pub struct RotorListed {
    /// The folder's name.
    pub folder: String,
    /// The rotor, or what is wrong with its file.
    pub rotor: Result<Rotor, Problems>,
}

/// Where a new record goes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NewRecord {
    /// The file, which is not there yet.
    pub path: PathBuf,
    /// The inspection's id: `DEMO-1/2031-04-17-overhaul`.
    pub id: String,
}

impl Store {
    /// Every rotor.
    ///
    /// # Errors
    /// When the folder cannot be read; a rotor's own file that cannot be read is told with it.
    pub fn rotors(&self) -> Result<Vec<RotorListed>, Problems> {
        let folders = folder::folders(&self.root.join("rotors")).map_err(|error| unreadable("rotors", &error))?;
        let listed = folders.into_iter().map(|folder| {
            let path = folder.join("rotor.yaml");
            let bytes = bytes_of(self.disk.as_ref(), &path);
            RotorListed {
                folder: folder.file_name().unwrap_or_default().to_string_lossy().into_owned(),
                rotor: bytes.and_then(|bytes| read_rotor(&self.name_of(&path), &bytes)),
            }
        });
        Ok(listed.collect())
    }

    /// What the folder is for, as the first of its rotors says: thousands need not be read to know it.
    pub fn scene(&self) -> Scene {
        let read = |folder: PathBuf| {
            let path = folder.join("rotor.yaml");
            read_rotor(&self.name_of(&path), &bytes_of(self.disk.as_ref(), &path).ok()?).ok()
        };
        let first = folder::folders(&self.root.join("rotors")).ok().and_then(|all| all.into_iter().find_map(read));
        match first {
            _ if self.is_practice() => Scene::Practice,
            Some(rotor) if rotor.invented => Scene::Invented,
            Some(_) | None => Scene::Real,
        }
    }

    /// Saves a rotor's file.
    ///
    /// # Errors
    /// When the disk refuses.
    pub fn save_rotor(&self, rotor: &Rotor) -> Result<(), SaveFault> {
        self.put(&self.rotor_folder(&rotor.id).join("rotor.yaml"), &file::write(&ROTOR, rotor))
    }

    /// The folder of a rotor; one whose name differs in case only is the same.
    pub fn rotor_folder(&self, rotor: &Id) -> PathBuf {
        self.folder_named(rotor.as_str())
    }

    pub(super) fn folder_named(&self, rotor: &str) -> PathBuf {
        let rotors = self.root.join("rotors");
        let same =
            |path: &PathBuf| path.file_name().is_some_and(|name| name.to_string_lossy().eq_ignore_ascii_case(rotor));
        let known = folder::folders(&rotors).unwrap_or_default().into_iter().find(same);
        known.unwrap_or_else(|| rotors.join(rotor))
    }

    /// Takes the right to write in a rotor's folder.
    ///
    /// # Errors
    /// When another process has it, with who and since when; when the system refuses.
    pub fn lock(&self, rotor: &Id, who: &str, since: Stamp) -> Result<Lock, LockFault> {
        Lock::take(&self.rotor_folder(rotor), who, since)
    }

    /// Takes the right to write in the folder of every rotor.
    ///
    /// # Errors
    /// When another process has one of them, with who and since when; when the system refuses.
    pub fn lock_all(&self, who: &str, since: Stamp) -> Result<Vec<Lock>, LockFault> {
        let folders = folder::folders(&self.root.join("rotors")).unwrap_or_default();
        folders.iter().map(|folder| Lock::take(folder, who, since)).collect()
    }

    /// The files of a rotor's records, the oldest day first.
    ///
    /// # Errors
    /// When the folder cannot be read.
    pub fn records(&self, rotor: &Id) -> Result<Vec<PathBuf>, Problems> {
        self.records_in(&self.rotor_folder(rotor))
    }

    pub(in crate::records) fn records_in(&self, folder: &Path) -> Result<Vec<PathBuf>, Problems> {
        let files = folder::files(folder, &["yaml"]).map_err(|error| unreadable(&self.name_of(folder), &error))?;
        let mut records: Vec<_> = files.into_iter().filter(|path| !path.ends_with("rotor.yaml")).collect();
        records.sort_by_cached_key(|path| order_of(path));
        Ok(records)
    }

    /// The record with this inspection id; none where no file has it.
    ///
    /// # Errors
    /// When the folder cannot be read; when several files have the id: neither is preferred, a person chooses.
    pub fn record_of_id(&self, id: &str) -> Result<Option<PathBuf>, String> {
        let Some(rotor) = id.split_once('/').and_then(|(rotor, _)| rotor.parse::<Id>().ok()) else { return Ok(None) };
        let records = self.records(&rotor).map_err(|problems| problems.to_string())?;
        let same = |path: &PathBuf| self.id_in(path).is_some_and(|written| written.eq_ignore_ascii_case(id));
        let mut found: Vec<_> = records.into_iter().filter(same).collect();
        if found.len() > 1 {
            let told = |path: &PathBuf| {
                let whole = if self.open(path).is_ok() { "" } else { " (which cannot be read to its end)" };
                format!("{}{whole}", path.display())
            };
            let files: Vec<_> = found.iter().map(told).collect();
            return Err(format!(
                "{} files have the id {id}: {}. Name the file that is meant.",
                found.len(),
                files.join(", ")
            ));
        }
        Ok(found.pop())
    }

    /// The inspection id in a record's file, whatever else may be wrong there: of most, a look at its beginning is enough.
    /// One that was emptied, or breaks off before it, was called as its file is.
    pub(in crate::records) fn id_in(&self, record: &Path) -> Option<String> {
        let beginning = folder::beginning_of(record, BEGINNING).unwrap_or_default();
        let by_name = || {
            let rotor = record.parent()?.file_name()?.to_string_lossy();
            is_begun(&beginning)
                .then(|| format!("{rotor}/{}", record.file_stem().unwrap_or_default().to_string_lossy()))
        };
        line_under("inspection", &beginning)
            .or_else(|| Some(self.open_whole_part(record).ok()?.inspection.head().id.clone()))
            .or_else(by_name)
    }

    /// What the records here are probably called, by the names of their files: for a hint, nothing is opened.
    pub fn likely_ids(&self) -> Vec<String> {
        let rotors = self.rotors().unwrap_or_default().into_iter();
        let ids = rotors.flat_map(|rotor| {
            let records = self.records_in(&self.root.join("rotors").join(&rotor.folder)).unwrap_or_default();
            let id = move |path: &PathBuf| Some(format!("{}/{}", rotor.folder, path.file_stem()?.to_string_lossy()));
            records.iter().filter_map(id).collect::<Vec<_>>()
        });
        ids.collect()
    }

    /// Where a new record of that day goes: a second one gets `-2` behind its name.
    pub fn new_record(&self, rotor: &Id, day: NaiveDate, checklist: &Id) -> NewRecord {
        let folder = self.rotor_folder(rotor);
        let taken: Vec<_> = self.records_in(&folder).unwrap_or_default();
        let is_free = |name: &String| {
            let same = |path: &PathBuf| path.file_stem().is_some_and(|stem| stem.eq_ignore_ascii_case(name));
            !taken.iter().any(same)
        };
        let first = format!("{day}-{checklist}");
        let names = std::iter::once(first.clone()).chain((2..).map(|number: u32| format!("{first}-{number}")));
        let name = names.into_iter().find(is_free).unwrap_or(first);
        NewRecord { path: folder.join(format!("{name}.yaml")), id: format!("{rotor}/{name}") }
    }

    /// A look at a record's end.
    ///
    /// # Errors
    /// When the file cannot be read, or when its end holds no entry that can be.
    pub fn glance(&self, record: &Path) -> Result<Glance, Problems> {
        let name = self.name_of(record);
        let (end, whole) = folder::end_of(record, END).map_err(|error| unreadable(&name, &error))?;
        let whole = if whole { Whole::Yes } else { Whole::No };
        glance(&end, whole).ok_or_else(|| {
            let found = std::io::Error::other("its end holds no whole entry");
            unreadable(&name, &found)
        })
    }

    /// Nothing of a record, where something has emptied it.
    ///
    /// # Errors
    /// Since when nothing is in it, and where an older state may lie.
    pub(in crate::records) fn emptied(record: &Path, name: String) -> Result<(), Problems> {
        let Some(since) = folder::emptied(record) else { return Ok(()) };
        let since = Stamp::from(DateTime::<Local>::from(since).fixed_offset());
        let mut problems = Problems::of(name);
        let found = format!("an empty file, nothing in it since {}, {}", long_day(since.date()), since.clock());
        problems.add(At::WHOLE, found, "an inspection record", EMPTIED);
        Err(problems)
    }

    /// Opens a record of this folder.
    ///
    /// # Errors
    /// Every fault of the file.
    pub fn open(&self, record: &Path) -> Result<Opened, Problems> {
        Self::emptied(record, record.display().to_string())?;
        open_on(&self.disk, record).map(|opened| self.as_known(record, opened))
    }

    /// Opens a copy with its line ends as they were; whether they had been turned.
    ///
    /// # Errors
    /// Every fault of the file.
    pub fn open_turned_back(&self, copy: &Path) -> Result<(Opened, bool), Problems> {
        Self::emptied(copy, copy.display().to_string())?;
        open_turned_back_on(&self.disk, copy)
    }

    /// The record that another one names as the one before it, when it lies in the same folder.
    pub fn before(&self, record: &Path, inspection: &Inspection) -> Option<Opened> {
        let previous = inspection.head().previous.as_ref()?;
        let files = self.records_in(record.parent()?).ok()?;
        let others = files.iter().rev().filter(|path| path.as_path() != record);
        others.filter_map(|path| self.open(path).ok()).find(|one| one.inspection.head().id == previous.inspection)
    }

    /// Opens a record to read only: of one that cannot be read to its end, what stands before the broken entry.
    ///
    /// # Errors
    /// Every fault of the file, when its head cannot be read.
    pub fn open_whole_part(&self, record: &Path) -> Result<Opened, Problems> {
        Self::emptied(record, record.display().to_string())?;
        open_before_on(&self.disk, record).map(|opened| self.as_known(record, opened))
    }

    /// A rotor's records so far, the oldest first, whatever this computer's clock says of today: one that is set back takes
    /// no history away. What cannot be read is told with its file.
    ///
    /// # Errors
    /// When the folder cannot be read.
    pub fn earlier(&self, rotor: &Id) -> Result<(Vec<Opened>, Problems), Problems> {
        let mut problems = Problems::default();
        let mut earlier = Vec::new();
        for record in self.records(rotor)? {
            match self.open(&record) {
                Ok(opened) if !opened.inspection.head().rotor.id.same_as(rotor) => {
                    problems.join(self.foreign(&record, rotor, opened.inspection.head()));
                }
                Ok(opened) => earlier.push(opened),
                Err(others) => problems.join(others),
            }
        }
        earlier.sort_by_key(|opened| opened.inspection.head().begun);
        Ok((earlier, problems))
    }
}

/// A rotor's own records with their files, and what is wrong with the others.
type Own = (Vec<(PathBuf, Opened)>, Vec<Problems>);

impl Store {
    /// A record that lies among those of another rotor: its readings were taken on something else.
    pub(in crate::records) fn foreign(&self, record: &Path, rotor: &Id, head: &Head) -> Problems {
        let of = &head.rotor.id;
        let mut problems = Problems::of(self.name_of(record));
        let (found, expected) = (format!("a record of {of}"), format!("records of {rotor} in its folder"));
        let at = place_under(self.disk(), record, &["rotor", "rotor"]);
        problems.add(at, found, expected, format!("Put it into the folder of {of}."));
        problems
    }

    /// A rotor's own records in the order in which they were begun, and what is wrong with the others.
    ///
    /// # Errors
    /// When the folder cannot be read.
    pub fn open_all(&self, rotor: &Id) -> Result<Own, Problems> {
        let (mut all, mut wrong) = (Vec::new(), Vec::new());
        for path in self.records(rotor)? {
            match self.open(&path) {
                Ok(one) if one.inspection.head().rotor.id.same_as(rotor) => all.push((path, one)),
                Ok(one) => wrong.push(self.foreign(&path, rotor, one.inspection.head())),
                Err(problems) => wrong.push(problems),
            }
        }
        // a file's name tells the day alone
        all.sort_by_key(|(_, one)| one.inspection.head().begun);
        Ok((all, wrong))
    }
}

/// Sorts `2031-04-17-overhaul` before its `-2`, and that before its `-10`.
fn order_of(path: &Path) -> (String, u32) {
    let stem = path.file_stem().unwrap_or_default().to_string_lossy().into_owned();
    let numbered = stem.rsplit_once('-').and_then(|(name, number)| {
        // the day itself ends in a number too
        let number = number.parse().ok().filter(|_| name.len() > "2031-04-17".len())?;
        Some((name.to_owned(), number))
    });
    numbered.unwrap_or((stem, 1))
}
