//! The data folder: where each file is, and the registers in it.
//!
//! `settings.yaml people.yaml instruments/ sheets/ checklists/ rotors/<id>/`, and `demo/` and `practice/` of the same
//! shape. There is no index: what is there is what the folders hold, and the id inside a file counts, not its name.

mod beside;
mod draft;
mod folder;
mod keys;
mod known;
mod papers;
mod photos;
mod registers;
mod rotors;
mod tables;
#[cfg(test)]
mod tests;
mod writing;

use std::ffi::OsString;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::durable::{Disk, Known, RealDisk, replace};
use super::lock::Lock;
use super::save_fault::SaveFault;

pub use beside::LastEntry;
pub use draft::{
    Draft, GaugeChosen, HalfCell, HalfForm, HalfHand, HalfPaper, HalfTyped, LaidAside, ReviewDraft, Unseen, Unsent,
};
pub use keys::{SignedByKey, has_key};
pub(super) use known::ANY;
pub use known::at_words;
pub use papers::{Leaf, NEW, Second, second_draft};
pub use photos::{PhotoKept, Pictured, Watched};
pub(super) use registers::{stem_of, twice};
pub use rotors::{NewRecord, RotorListed};
pub use writing::{Held, HoldFault};

/// The name of the practice rotors' folder.
const PRACTICE: &str = "practice";

/// A data folder.
#[derive(Clone)]
pub struct Store {
    root: PathBuf,
    disk: Arc<dyn Disk>,
}

/// Where the data folder is: as given with `--data`, else what the environment says, else the system's usual place.
///
/// `None` when nothing is given and the system knows no home.
pub fn usual_root(given: Option<PathBuf>, environment: Option<OsString>) -> Option<PathBuf> {
    let environment = environment.filter(|folder| !folder.is_empty()).map(PathBuf::from);
    let usual = || directories::ProjectDirs::from("", "", "asfound").map(|folders| folders.data_dir().to_owned());
    given.or(environment).or_else(usual)
}

impl Store {
    /// The data folder at `root`; nothing is made before something is saved.
    pub fn at(root: impl Into<PathBuf>) -> Self {
        Self { root: root.into(), disk: Arc::new(RealDisk) }
    }

    /// The folder.
    pub fn root(&self) -> &Path {
        &self.root
    }

    /// The demonstration's folder: never read by export, due or where.
    #[must_use]
    pub fn demo(&self) -> Self {
        Self { root: self.root.join("demo"), disk: Arc::clone(&self.disk) }
    }

    /// The practice rotors' folder.
    #[must_use]
    pub fn practice(&self) -> Self {
        Self { root: self.root.join(PRACTICE), disk: Arc::clone(&self.disk) }
    }

    /// Whether this is the practice rotors' folder: what is begun in it is practice.
    pub fn is_practice(&self) -> bool {
        self.root.file_name().is_some_and(|name| name == PRACTICE)
    }

    /// Whether a file lies in this folder, however its path is typed.
    pub fn holds(&self, path: &Path) -> bool {
        folder::lies_in(path, &self.root)
    }

    pub(super) fn disk(&self) -> &dyn Disk {
        self.disk.as_ref()
    }

    /// Sets the whole folder aside under another name, nothing lost; says under which. `held` are the locks of all its rotors:
    /// nobody begins to write while it is moved.
    ///
    /// # Errors
    /// When the disk refuses.
    pub fn set_aside(&self, held: Vec<Lock>) -> Result<PathBuf, SaveFault> {
        let name = self.root.file_name().unwrap_or_default().to_string_lossy().into_owned();
        let names = (1_u32..).map(|number| self.root.with_file_name(format!("{name}-before-{number}")));
        let free = names.into_iter().find(|path| !path.exists()).unwrap_or_else(|| self.root.clone());
        // some systems move no folder in which a file is open
        let moved = self.disk.rename(&self.root, &free).or_else(|_| {
            drop(held);
            self.disk.rename(&self.root, &free)
        });
        moved.map_err(|source| SaveFault::Disk { doing: "setting aside", path: self.root.clone(), source })?;
        Ok(free)
    }

    /// Puts a register's file, whatever was there.
    fn put(&self, path: &Path, text: &str) -> Result<(), SaveFault> {
        self.make_folder_of(path)?;
        replace(self.disk.as_ref(), path, Known::Anything, text.as_bytes())
    }

    fn make_folder_of(&self, path: &Path) -> Result<(), SaveFault> {
        let Some(folder) = path.parent() else { return Ok(()) };
        let made = self.disk.make_folder(folder);
        made.map_err(|source| SaveFault::Disk { doing: "making the folder of", path: path.to_owned(), source })
    }

    /// Room left on the disk, in bytes; none where the system does not say.
    pub fn free_bytes(&self) -> Option<u64> {
        folder::free_bytes(&self.root)
    }

    /// Why nothing can be put here, where that is seen beforehand.
    pub fn shut(&self) -> Option<String> {
        folder::shut(&self.root)
    }

    /// What a file of this folder is called in messages: its path below the folder.
    pub fn name_of(&self, path: &Path) -> String {
        path.strip_prefix(&self.root).unwrap_or(path).display().to_string()
    }
}
