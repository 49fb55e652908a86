//! Writing so that a power cut leaves the old file or the new one: beside, synced, renamed over, the folder synced.

mod real;
#[cfg(test)]
mod stopping;
#[cfg(test)]
mod tests;

use std::io;
use std::path::{Path, PathBuf};

use super::save_fault::SaveFault;

pub(super) use real::RealDisk;

/// What saving needs of a disk; a pretended one stops at any call.
pub(super) trait Disk: Send + Sync {
    /// The bytes of a file; `None` when there is no such file.
    fn read(&self, path: &Path) -> io::Result<Option<Vec<u8>>>;
    /// Writes a new file, or over an old one. Nothing of it need survive a power cut before it is synced.
    fn write(&self, path: &Path, bytes: &[u8]) -> io::Result<Box<dyn Written>>;
    /// Gives a file another name, over whatever had it.
    fn rename(&self, from: &Path, to: &Path) -> io::Result<()>;
    /// Makes names in a folder survive a power cut.
    fn sync_folder(&self, folder: &Path) -> io::Result<()>;
    /// Takes a file away.
    fn remove(&self, path: &Path) -> io::Result<()>;
    /// Makes a folder with those above it, unless it is there; names that are new survive a power cut.
    fn make_folder(&self, folder: &Path) -> io::Result<()>;
}

/// A file just written and still open.
pub(super) trait Written {
    /// Makes its bytes survive a power cut.
    fn sync(&mut self) -> io::Result<()>;
}

/// What must stand on the disk before it is written over.
#[derive(Clone, Copy)]
pub(super) enum Known<'a> {
    /// Nothing yet.
    Nothing,
    /// One of these: as this program left it, or as a save left it whose end was not seen.
    OneOf(&'a [&'a [u8]]),
    /// Whatever it is: small files that nobody else writes.
    Anything,
}

/// Puts `bytes` at `path`: two syncs and a rename.
///
/// # Errors
/// When the file is not as it was known nothing is written; with any other fault the old file stands, or, when only the
/// last sync failed, perhaps the new one.
pub(super) fn replace(disk: &dyn Disk, path: &Path, known: Known<'_>, bytes: &[u8]) -> Result<(), SaveFault> {
    let beside = beside(path);
    let fault = |doing| move |source| SaveFault::Disk { doing, path: path.to_owned(), source };
    let mut written = disk.write(&beside, bytes).map_err(|source| {
        // what was begun only takes room; the fault to tell is the first one. Another program's stays
        if source.kind() != io::ErrorKind::WouldBlock {
            drop(disk.remove(&beside));
        }
        fault("writing")(source)
    })?;
    let ready = written.sync().map_err(fault("syncing")).and_then(|()| unchanged(disk, path, known));
    let renamed = ready.and_then(|()| disk.rename(&beside, path).map_err(fault("renaming")));
    drop(written);
    if renamed.is_err() {
        drop(disk.remove(&beside));
    }
    renamed?;
    disk.sync_folder(folder_of(path)).map_err(fault("syncing the folder of"))
}

/// Puts `bytes` at `path` without waiting for the disk: survives the end of this program, perhaps not a power cut.
pub(super) fn replace_unsynced(disk: &dyn Disk, path: &Path, bytes: &[u8]) -> Result<(), SaveFault> {
    let beside = beside(path);
    let fault = |doing| move |source| SaveFault::Disk { doing, path: path.to_owned(), source };
    let written = disk.write(&beside, bytes).map_err(fault("writing"))?;
    let renamed = disk.rename(&beside, path).map_err(fault("renaming"));
    drop(written);
    renamed
}

fn unchanged(disk: &dyn Disk, path: &Path, known: Known<'_>) -> Result<(), SaveFault> {
    let there = disk.read(path).map_err(|source| SaveFault::Disk { doing: "reading", path: path.to_owned(), source });
    match (known, there?) {
        (Known::Nothing, None) | (Known::Anything, _) => Ok(()),
        (Known::Nothing, Some(_)) => Err(SaveFault::InTheWay { path: path.to_owned() }),
        (Known::OneOf(_), None) => Err(SaveFault::Gone { path: path.to_owned() }),
        (Known::OneOf(known), Some(there)) if known.contains(&there.as_slice()) => Ok(()),
        (Known::OneOf(_), Some(_)) => Err(SaveFault::ChangedMeanwhile { path: path.to_owned(), entry: None }),
    }
}

/// The file that is written first: hidden, in the same folder, the same for every save, so that none piles up.
fn beside(path: &Path) -> PathBuf {
    let name = path.file_name().map(std::ffi::OsStr::to_string_lossy).unwrap_or_default();
    folder_of(path).join(format!(".{name}.saving"))
}

fn folder_of(path: &Path) -> &Path {
    path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."))
}
