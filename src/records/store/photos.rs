//! Photos: kept under their hash, so that a changed one shows.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use chrono::{DateTime, Local};

use crate::domain::entry::{Entry, PhotoRef};
use crate::domain::inspection::Inspection;
use crate::domain::signing::Seal;
use crate::domain::stamp::Stamp;

use super::super::durable::{Known, replace};
use super::super::inspection_file::InspectionFile;
use super::super::reading::bytes_of;
use super::super::save_fault::SaveFault;
use super::super::seal::sha256;
use super::super::yaml::{At, Problems};
use super::{Store, folder};

/// Endings of picture files.
const PICTURES: [&str; 7] = ["jpg", "jpeg", "png", "heic", "webp", "tif", "tiff"];

/// What has become of a photo.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum PhotoKept {
    /// There, with the bytes it had.
    Whole,
    /// There, with other bytes.
    Changed,
    /// Not there.
    Missing,
}

/// A photo that a record names.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Pictured<'r> {
    /// The entry that names it.
    pub entry: u32,
    /// How.
    pub photo: &'r PhotoRef,
    /// What has become of it.
    pub kept: PhotoKept,
}

impl Pictured<'_> {
    /// `photo IMG 0412.png of entry 15 is not there`; none when it has the bytes it had.
    pub fn lost(&self) -> Option<String> {
        let fate = match self.kept {
            PhotoKept::Whole => return None,
            PhotoKept::Changed => "was changed",
            PhotoKept::Missing => "is not there",
        };
        Some(format!("photo {} of entry {} {fate}", self.photo.name, self.entry))
    }
}

impl Store {
    /// What has become of each photo that a record names, in the order of its entries.
    pub fn pictures<'r>(&self, record: &Path, inspection: &'r Inspection) -> Vec<Pictured<'r>> {
        let named = inspection.entries().iter().flat_map(|entry| {
            entry.deed().photos().iter().map(|photo| Pictured {
                entry: entry.number,
                photo,
                kept: self.photo_kept(record, photo),
            })
        });
        named.collect()
    }

    /// What a signature behind all that is on the disk must state, and which photos it would miss.
    ///
    /// # Errors
    /// When the record cannot be read again.
    pub fn seal_of(&self, file: &InspectionFile) -> Result<Seal, String> {
        let seal = file.seal_behind(&[]).map_err(|fault| fault.to_string())?;
        let inspection = self.open(file.path()).map_err(|problems| problems.to_string())?.inspection;
        let mut pictures = self.pictures(file.path(), &inspection);
        pictures.retain(|one| inspection.struck_by(one.entry).is_none());
        Ok(Seal { lost: pictures.iter().filter_map(Pictured::lost).collect(), ..seal })
    }

    /// Reads a photo: its bytes, and how a record names it.
    ///
    /// # Errors
    /// When it cannot be read, or holds no picture.
    pub fn read_photo(&self, from: &Path) -> Result<(PhotoRef, Vec<u8>), Problems> {
        let bytes = bytes_of(self.disk.as_ref(), from)?;
        if !is_picture(&bytes) {
            let mut problems = Problems::of(from.display().to_string());
            let mend = "Look at its name; a picture is kept as the camera wrote it.";
            problems.add(At::WHOLE, "no picture", "JPEG, PNG, HEIC, WebP or TIFF", mend);
            return Err(problems);
        }
        let name = from.file_name().unwrap_or_default().to_string_lossy().into_owned();
        Ok((PhotoRef { hash: sha256(&bytes), name }, bytes))
    }

    /// Keeps a photo beside the record, under its hash.
    ///
    /// # Errors
    /// When the disk refuses.
    pub fn keep_photo(&self, record: &Path, photo: &PhotoRef, bytes: &[u8]) -> Result<(), SaveFault> {
        let path = self.photo_path(record, photo);
        self.make_folder_of(&path)?;
        replace(self.disk.as_ref(), &path, Known::Anything, bytes)
    }

    /// Where a photo is kept.
    pub fn photo_path(&self, record: &Path, photo: &PhotoRef) -> PathBuf {
        // the hash may come from a record somebody else wrote: it must not lead to another folder
        let hash: String = photo.hash.chars().filter(char::is_ascii_alphanumeric).collect();
        let ending = Path::new(&photo.name).extension().and_then(|ending| ending.to_str());
        let ending = ending.filter(|ending| PICTURES.iter().any(|known| known.eq_ignore_ascii_case(ending)));
        let name = ending.map_or_else(|| hash.clone(), |ending| format!("{hash}.{}", ending.to_lowercase()));
        self.folder_of(record).join(name)
    }

    /// Whether a photo is there with the bytes it had.
    pub fn photo_kept(&self, record: &Path, photo: &PhotoRef) -> PhotoKept {
        match self.disk.read(&self.photo_path(record, photo)) {
            Ok(Some(bytes)) if sha256(&bytes) == photo.hash => PhotoKept::Whole,
            Ok(Some(_)) => PhotoKept::Changed,
            Ok(None) | Err(_) => PhotoKept::Missing,
        }
    }
}

/// Whether a file begins as pictures of the kinds that are kept do.
fn is_picture(bytes: &[u8]) -> bool {
    let begins: [&[u8]; 4] = [b"\xff\xd8\xff", b"\x89PNG\r\n\x1a\n", b"II*\0", b"MM\0*"];
    let inside = |at: usize, word: &[u8]| bytes.get(at..).is_some_and(|rest| rest.starts_with(word));
    begins.iter().any(|begin| bytes.starts_with(begin))
        || inside(4, b"ftyp")
        || (bytes.starts_with(b"RIFF") && inside(8, b"WEBP"))
}

/// A folder in which new pictures appear, beside a record that is written to.
#[derive(Debug)]
pub struct Watched {
    /// Where; none where no folder is watched.
    pub folder: Option<String>,
    /// When the last entry was made: a newer picture belongs to what comes now.
    since: Stamp,
    /// Hashes of the pictures that the record names: none of them is new, whatever a camera's clock says.
    named: BTreeSet<String>,
}

impl Watched {
    /// Beside this record.
    pub fn new(folder: Option<String>, inspection: &Inspection) -> Self {
        let mut watched = Self { folder, since: inspection.head().begun, named: BTreeSet::new() };
        watched.saved(inspection.entries());
        watched
    }

    /// These have been saved.
    pub fn saved(&mut self, entries: &[Entry]) {
        self.since = entries.last().map_or(self.since, |last| last.at);
        let photos = entries.iter().flat_map(|entry| entry.deed().photos());
        self.named.extend(photos.map(|photo| photo.hash.clone()));
    }

    /// The newest picture since the last entry; none where the record has the newest already.
    pub fn newest(&self, store: &Store) -> Option<PathBuf> {
        let pictures = folder::files(Path::new(self.folder.as_ref()?), &PICTURES).ok()?;
        let dated =
            pictures.into_iter().filter_map(|path| Some((DateTime::<Local>::from(folder::written(&path).ok()?), path)));
        let (_, newest) = dated.filter(|(written, _)| *written >= self.since.moment()).max()?;
        let named = |bytes: Vec<u8>| self.named.contains(&sha256(&bytes));
        (!bytes_of(store.disk.as_ref(), &newest).is_ok_and(named)).then_some(newest)
    }
}
