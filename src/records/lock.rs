//! Who writes in a rotor's folder: a lock held by the system, released when the process dies.
#![expect(clippy::disallowed_methods, clippy::disallowed_types, reason = "only an open file can be locked")]

use std::fs::{self, File, OpenOptions, TryLockError};
use std::io::{self, Read, Write};
use std::path::{Path, PathBuf};

use crate::domain::stamp::Stamp;

/// The name of the lock file in a rotor's folder.
const NAME: &str = "lock";

/// The right to write in a rotor's folder, until it is dropped or the process ends.
#[derive(Debug)]
pub struct Lock {
    file: File,
}

/// Why the right to write was not given.
#[derive(Debug, thiserror::Error)]
pub enum LockFault {
    /// Another process has it.
    #[error("{} is being written: {holder}. Close it there, or read it with `asfound show` or `asfound review`.", folder.display())]
    Held {
        /// The rotor's folder.
        folder: PathBuf,
        /// Who, and since when; what the lock file says.
        holder: String,
    },
    /// The system refused.
    #[error("the lock in {} cannot be had: {source}. {}", folder.display(), mend(source))]
    System {
        /// The rotor's folder.
        folder: PathBuf,
        /// What the system said.
        source: io::Error,
    },
}

impl Lock {
    /// Takes the right to write in `folder`, for `who` from `since`.
    ///
    /// # Errors
    /// When another process has it, with who and since when; when the system refuses.
    pub fn take(folder: &Path, who: &str, since: Stamp) -> Result<Self, LockFault> {
        let system = |source| LockFault::System { folder: folder.to_owned(), source };
        fs::create_dir_all(folder).map_err(system)?;
        let path = folder.join(NAME);
        let open = OpenOptions::new().read(true).write(true).create(true).truncate(false).open(path);
        let mut file = open.map_err(system)?;
        match file.try_lock() {
            Ok(()) => {}
            Err(TryLockError::WouldBlock) => {
                return Err(LockFault::Held { folder: folder.to_owned(), holder: holder(&mut file) });
            }
            Err(TryLockError::Error(source)) => return Err(system(source)),
        }
        file.set_len(0).map_err(system)?;
        writeln!(file, "{who}, process {}, since {since}", std::process::id()).map_err(system)?;
        Ok(Self { file })
    }
}

impl Drop for Lock {
    fn drop(&mut self) {
        // its words are only for others to read; let go by itself, for a program that is being started holds the file open too
        drop((self.file.set_len(0), self.file.unlock()));
    }
}

/// A file that a save writes first, when no save is at it: it stays so until what comes back is dropped.
pub(super) fn abandoned(path: &Path) -> Option<File> {
    let file = File::open(path).ok()?;
    file.try_lock().is_ok().then_some(file)
}

fn holder(file: &mut File) -> String {
    const LONGEST: u64 = 200;
    let mut words = String::new();
    let read = file.take(LONGEST).read_to_string(&mut words);
    match (read, words.trim()) {
        (Err(_), _) | (Ok(_), "") => "by another process".to_owned(),
        (Ok(_), words) => format!("by {words}"),
    }
}

fn mend(source: &io::Error) -> &'static str {
    let full = matches!(source.kind(), io::ErrorKind::StorageFull | io::ErrorKind::QuotaExceeded);
    if full { "Make room on the disk." } else { "Look who may write there." }
}
