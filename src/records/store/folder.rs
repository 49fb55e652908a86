//! What stands in a folder; nothing is written here.
#![expect(
    clippy::disallowed_methods,
    clippy::disallowed_types,
    reason = "folders are looked into here and nowhere else"
)]

use std::fs::{self, File};
use std::io::{self, Read, Seek, SeekFrom};
use std::path::{Path, PathBuf};
use std::time::SystemTime;

use rustix::fs::Access;

/// Files of a folder that end so, sorted by name; none when there is no such folder. Hidden ones are left out.
pub(super) fn files(folder: &Path, endings: &[&str]) -> io::Result<Vec<PathBuf>> {
    let wanted = |path: &PathBuf| {
        let ending = path.extension().and_then(|ending| ending.to_str()).unwrap_or("");
        path.is_file() && endings.iter().any(|one| one.eq_ignore_ascii_case(ending))
    };
    Ok(names(folder)?.into_iter().filter(wanted).collect())
}

/// Everything in a folder that is no file with one of these endings, sorted by name.
pub(super) fn others(folder: &Path, endings: &[&str]) -> Vec<PathBuf> {
    let read = files(folder, endings).unwrap_or_default();
    names(folder).unwrap_or_default().into_iter().filter(|path| !read.contains(path)).collect()
}

/// Whether there is such a folder.
pub(super) fn is_there(folder: &Path) -> bool {
    folder.is_dir()
}

/// Folders of a folder, sorted by name.
pub(super) fn folders(folder: &Path) -> io::Result<Vec<PathBuf>> {
    Ok(names(folder)?.into_iter().filter(|path| path.is_dir()).collect())
}

/// Files that a save writes first and a killed one leaves behind; none when there is no such folder.
pub(super) fn left_over(folder: &Path) -> Vec<PathBuf> {
    let ours = |path: &PathBuf| {
        let name = path.file_name().unwrap_or_default().to_string_lossy();
        let plain = fs::symlink_metadata(path).is_ok_and(|found| found.is_file());
        plain && name.starts_with('.') && name.ends_with(".saving")
    };
    let entries = fs::read_dir(folder).into_iter().flatten().flatten();
    entries.map(|entry| entry.path()).filter(ours).collect()
}

fn names(folder: &Path) -> io::Result<Vec<PathBuf>> {
    let entries = match fs::read_dir(folder) {
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(Vec::new()),
        entries => entries?,
    };
    let mut names = Vec::new();
    for entry in entries {
        let entry = entry?;
        if !entry.file_name().to_string_lossy().starts_with('.') {
            names.push(entry.path());
        }
    }
    names.sort();
    Ok(names)
}

/// The last bytes of a file, at most `most`, and whether they are all of it.
pub(super) fn end_of(path: &Path, most: u64) -> io::Result<(Vec<u8>, bool)> {
    let mut file = File::open(path)?;
    let length = file.metadata()?.len();
    let whole = length <= most;
    if !whole {
        file.seek(SeekFrom::Start(length - most))?;
    }
    let mut bytes = Vec::new();
    file.take(most).read_to_end(&mut bytes)?;
    Ok((bytes, whole))
}

/// The first bytes of a file, at most `most`.
pub(super) fn beginning_of(path: &Path, most: u64) -> io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    File::open(path)?.take(most).read_to_end(&mut bytes)?;
    Ok(bytes)
}

/// Whether a path leads into a folder: typed from the root or from here, through a link or not.
pub(super) fn lies_in(path: &Path, folder: &Path) -> bool {
    match (fs::canonicalize(path), fs::canonicalize(folder)) {
        (Ok(path), Ok(folder)) => path.starts_with(folder),
        (_, _) => path.starts_with(folder),
    }
}

/// When a file was last written.
pub(super) fn written(path: &Path) -> io::Result<SystemTime> {
    fs::metadata(path)?.modified()
}

/// Since when a file has nothing in it; none of any other.
pub(super) fn emptied(path: &Path) -> Option<SystemTime> {
    let found = fs::metadata(path).ok().filter(|found| found.is_file() && found.len() == 0)?;
    found.modified().ok()
}

/// Room left on the disk of a folder that may not be there yet; none where the system does not say.
pub(super) fn free_bytes(folder: &Path) -> Option<u64> {
    let there = folder.ancestors().find(|folder| folder.exists())?;
    let disk = rustix::fs::statvfs(there).ok()?;
    disk.f_bavail.checked_mul(disk.f_frsize)
}

/// Why nothing can be put into a folder, which may not be there yet; none where the system sees no reason.
pub(super) fn shut(folder: &Path) -> Option<String> {
    let named = |folder: &&Path| !folder.as_os_str().is_empty();
    let there = folder.ancestors().filter(named).find(|folder| folder.exists()).unwrap_or_else(|| Path::new("."));
    if !there.is_dir() {
        return Some(format!("{} is a file, no folder", there.display()));
    }
    let error = rustix::fs::access(there, Access::WRITE_OK | Access::EXEC_OK).err()?;
    Some(format!("nothing can be written in {}: {}", there.display(), io::Error::from(error)))
}
