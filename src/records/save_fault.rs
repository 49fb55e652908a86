//! Why something was not saved.

use std::io;
use std::path::PathBuf;

/// Why something was not saved, and what to do: what, where, how to mend.
#[derive(Debug, thiserror::Error)]
pub enum SaveFault {
    /// Another program wrote the file after this one had.
    #[error(
        "changed by another program{}. Nothing was written, its bytes stand. Close what else writes it (an editor, \
         a synced folder) and open it again, or save to another folder. It is {}", at_entry(*entry), path.display()
    )]
    ChangedMeanwhile {
        /// The file.
        path: PathBuf,
        /// In a record, the first entry that is another now; 0 for its head.
        entry: Option<u32>,
    },
    /// The file is no longer there.
    #[error("{} is no longer there. Nothing was written. Plug the disk in again, or save to another folder.", path.display())]
    Gone {
        /// The file.
        path: PathBuf,
    },
    /// A file of that name is there already.
    #[error("{} is there already. Nothing was written. Begin again: another name will be found.", path.display())]
    InTheWay {
        /// The file.
        path: PathBuf,
    },
    /// The disk refused.
    #[error("{doing} {} failed: {source}. {}", path.display(), mend(source))]
    Disk {
        /// What was being done.
        doing: &'static str,
        /// The file.
        path: PathBuf,
        /// What the system said.
        source: io::Error,
    },
    /// The record was changed outside and nobody has said that it was seen.
    #[error(
        "{} was changed outside this program at entry {entry}. Look what was changed, say under your name that you \
         have seen it, then go on.", path.display()
    )]
    NotSeen {
        /// The file.
        path: PathBuf,
        /// The first entry that does not hold.
        entry: u32,
    },
    /// The record cannot be read to its end.
    #[error(
        "{} cannot be read from entry {entry} on. It is not written to: fetch a whole copy and bring it in.", path.display()
    )]
    Cut {
        /// The file.
        path: PathBuf,
        /// The entry that is broken.
        entry: u32,
    },
    /// A newer program wrote the record.
    #[error("{} has format {format}, newer than this program writes. Go on with the newer program.", path.display())]
    Newer {
        /// The file.
        path: PathBuf,
        /// Its format.
        format: u32,
    },
    /// An entry with another number than the next.
    #[error("entry {found} does not follow: the next is {next}. Close the record and open it again.")]
    Number {
        /// The next number.
        next: u32,
        /// The number it carries.
        found: u32,
    },
    /// A signature that states other bytes than those before it.
    #[error("the signature, entry {entry}, does not state what stands before it. Sign again.")]
    Unsealed {
        /// Its number.
        entry: u32,
    },
}

fn at_entry(entry: Option<u32>) -> String {
    match entry {
        None => String::new(),
        Some(0) => " above its first entry".to_owned(),
        Some(entry) => format!(" at entry {entry}"),
    }
}

fn mend(source: &io::Error) -> &'static str {
    #[expect(clippy::wildcard_enum_match_arm, reason = "the system's list of faults is long and grows")]
    match source.kind() {
        io::ErrorKind::StorageFull | io::ErrorKind::QuotaExceeded => {
            "Make room on the disk, or save to another folder."
        }
        io::ErrorKind::PermissionDenied | io::ErrorKind::ReadOnlyFilesystem => {
            "Ask for the right to write there, or save to another folder."
        }
        io::ErrorKind::NotFound => "Look whether the folder is still there, or save to another folder.",
        _ => "Try again; if it stays, save to another folder.",
    }
}
