//! A save that failed: nothing more is taken, and the same ways out as on the screen are offered.

use super::{Session, Want};

const WAYS: &str = "again, folder PATH to go on in another folder, copy PATH for a copy elsewhere such as a stick, \
                    or lose to end here without";

impl Session {
    /// Why entries are not on the disk, and what can be done.
    pub(super) fn not_saved(&self, why: &str, said: &mut Vec<String>) -> Want {
        said.push(format!("{}, {} NOT. {why}", self.saved(), self.waiting.len()));
        said.push(format!("Nothing typed is lost yet: {WAYS}?"));
        Want::Line
    }

    /// A typed line while entries wait: a way out, or the save is tried again and the line is not taken.
    pub(super) fn unsaved(&self, line: &str, said: &mut Vec<String>) -> Want {
        let (word, path) = line.split_once(char::is_whitespace).unwrap_or((line, ""));
        let (path, waiting) = (path.trim().trim_matches(['"', '\'']).to_owned(), self.waiting.clone());
        match (word, path.is_empty()) {
            ("" | "again", true) => Want::Save(waiting),
            ("folder", false) => Want::Elsewhere(path, waiting),
            ("copy", false) => Want::Copy(path, waiting),
            ("folder" | "copy", true) => {
                said.push(format!("`{word}` wants the path of a folder behind it. Nothing typed is lost yet: {WAYS}?"));
                Want::Line
            }
            ("lose", true) => Want::Leave,
            _ => {
                said.push(format!("`{line}` was not taken: first what waits is saved."));
                Want::Save(waiting)
            }
        }
    }

    /// The copy is written, or not; the record itself still lacks what waits.
    pub(super) fn copied(&self, done: Result<String, String>, said: &mut Vec<String>) -> Want {
        let told = done.map(|path| format!("A copy with all that waits: {path}. The record itself still lacks it."));
        self.not_saved(&told.unwrap_or_else(|why| why), said)
    }
}
