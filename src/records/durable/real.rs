//! The disk itself.
#![expect(clippy::disallowed_methods, clippy::disallowed_types, reason = "the one place that writes")]

use std::fs::{self, File, OpenOptions, TryLockError};
use std::io::{self, Write};
use std::path::Path;

use super::{Disk, Written, folder_of};

/// The disk itself.
pub(in crate::records) struct RealDisk;

impl Written for File {
    fn sync(&mut self) -> io::Result<()> {
        self.sync_all()
    }
}

impl Disk for RealDisk {
    fn read(&self, path: &Path) -> io::Result<Option<Vec<u8>>> {
        match fs::read(path) {
            Ok(bytes) => Ok(Some(bytes)),
            Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(None),
            Err(error) => Err(error),
        }
    }

    fn write(&self, path: &Path, bytes: &[u8]) -> io::Result<Box<dyn Written>> {
        let mut file = OpenOptions::new().write(true).create(true).truncate(false).open(path)?;
        // held until it has its own name: what nobody holds, a save that was killed has left
        if let Err(TryLockError::WouldBlock) = file.try_lock() {
            return Err(io::Error::new(io::ErrorKind::WouldBlock, "another program is saving it at this moment"));
        }
        if file.metadata()?.len() > 0 {
            file.set_len(0)?;
        }
        file.write_all(bytes)?;
        Ok(Box::new(file))
    }

    fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        fs::rename(from, to)
    }

    fn sync_folder(&self, folder: &Path) -> io::Result<()> {
        // only there a folder can be opened; elsewhere the system keeps names in order itself
        if cfg!(unix) { File::open(folder)?.sync_all() } else { Ok(()) }
    }

    fn remove(&self, path: &Path) -> io::Result<()> {
        fs::remove_file(path)
    }

    fn make_folder(&self, folder: &Path) -> io::Result<()> {
        if folder.is_dir() {
            return Ok(());
        }
        let above = folder_of(folder);
        if above != folder {
            self.make_folder(above)?;
        }
        match fs::create_dir(folder) {
            Err(error) if error.kind() != io::ErrorKind::AlreadyExists => Err(error),
            Ok(()) | Err(_) => self.sync_folder(above),
        }
    }
}
