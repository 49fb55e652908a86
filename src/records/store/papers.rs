//! Files that forms fill in: as text, with what is half done beside them under `drafts/`.

use std::path::PathBuf;

use super::super::durable::{Known, replace, replace_unsynced};
use super::super::file;
use super::super::paper::Kind;
use super::super::reading::bytes_of;
use super::super::save_fault::SaveFault;
use super::super::yaml::Problems;
use super::Store;
use super::draft::{HalfPaper, PAPER};
use super::registers::stem_of;

/// The name under which the draft of a new file is kept.
pub const NEW: &str = "new";

/// One file of a kind, or the draft of one.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Leaf {
    /// Its name without ending: the id that it had when it was made.
    pub name: String,
    /// What is on the disk and in use; none where there is a draft alone.
    pub text: Option<String>,
    /// What is half done.
    pub draft: Option<String>,
    /// The second entry of a sheet, while somebody types it.
    pub second: Option<String>,
    /// What is typed into its form and was not entered.
    pub typed: Option<HalfPaper>,
    /// The same of the second entry.
    pub second_typed: Option<HalfPaper>,
}

impl Store {
    /// Every file of a kind, in the order of their names, then the draft of a new one.
    ///
    /// # Errors
    /// When a file or folder cannot be read at all.
    pub fn leaves(&self, kind: Kind) -> Result<Vec<Leaf>, Problems> {
        let names: Vec<String> = match kind {
            Kind::People => vec!["people".to_owned()],
            Kind::Rotor => self.rotors()?.into_iter().map(|rotor| rotor.folder).collect(),
            Kind::Instrument | Kind::Sheet | Kind::Checklist => {
                self.files(kind.word())?.iter().map(|path| stem_of(path)).collect()
            }
        };
        let mut leaves = Vec::new();
        for name in names {
            let path = self.paper_path(kind, &name);
            let text = if path.exists() { Some(text_of(&bytes_of(self.disk(), &path)?)) } else { None };
            let draft = self.paper_draft(kind, &name);
            let second = self.paper_draft(kind, &format!("second-{name}"));
            let typed = self.half_paper(kind, &name);
            let second_typed = self.half_paper(kind, &format!("second-{name}"));
            leaves.push(Leaf { name, text, draft, second, typed, second_typed });
        }
        let (draft, typed) = (self.paper_draft(kind, NEW), self.half_paper(kind, NEW));
        if draft.is_some() || typed.is_some() {
            leaves.push(Leaf { name: NEW.to_owned(), text: None, draft, second: None, typed, second_typed: None });
        }
        Ok(leaves)
    }

    /// Puts a file in use, in the place of what was there when it was read, and takes its draft away.
    ///
    /// # Errors
    /// When another program wrote it meanwhile, when one of that name is there already, when the disk refuses.
    pub fn put_paper(&self, kind: Kind, name: &str, text: &str, before: &[&[u8]]) -> Result<(), SaveFault> {
        // a new one may be there already under another file's name
        let held = self.holders(kind.word(), name).into_iter().next().filter(|_| before.is_empty());
        let path = held.unwrap_or_else(|| self.paper_path(kind, name));
        self.make_folder_of(&path)?;
        let known = if before.is_empty() { Known::Nothing } else { Known::OneOf(before) };
        replace(self.disk(), &path, known, text.as_bytes())
    }

    /// Keeps what is half done: survives the end of this program, perhaps not a power cut.
    ///
    /// # Errors
    /// When the disk refuses.
    pub fn keep_paper_draft(&self, kind: Kind, name: &str, text: &str) -> Result<(), SaveFault> {
        let path = self.draft_path(kind, name);
        self.make_folder_of(&path)?;
        replace_unsynced(self.disk(), &path, text.as_bytes())
    }

    /// Takes a draft away; with that of a new file, which has its own name from now on, what was typed beside it.
    pub fn drop_paper_draft(&self, kind: Kind, name: &str) {
        let typed = (name == NEW).then(|| self.typed_path(kind, name));
        for path in [Some(self.draft_path(kind, name)), typed].into_iter().flatten().filter(|path| path.exists()) {
            self.take_away(&path);
        }
    }

    /// Keeps what is typed into a form and not entered; none takes it away.
    ///
    /// # Errors
    /// When the disk refuses.
    pub fn keep_half_paper(&self, kind: Kind, name: &str, half: Option<&HalfPaper>) -> Result<(), SaveFault> {
        let path = self.typed_path(kind, name);
        if let Some(half) = half {
            return self.keep(&path, &file::write(&PAPER, half));
        }
        if path.exists() {
            self.take_away(&path);
        }
        Ok(())
    }

    fn half_paper(&self, kind: Kind, name: &str) -> Option<HalfPaper> {
        self.kept(&self.typed_path(kind, name), &PAPER)
    }

    fn typed_path(&self, kind: Kind, name: &str) -> PathBuf {
        self.draft_path(kind, name).with_extension("typed")
    }

    fn paper_draft(&self, kind: Kind, name: &str) -> Option<String> {
        self.bytes_if_there(&self.draft_path(kind, name)).map(|bytes| text_of(&bytes))
    }

    fn draft_path(&self, kind: Kind, name: &str) -> PathBuf {
        self.root().join("drafts").join(kind.word()).join(format!("{name}.yaml"))
    }

    fn paper_path(&self, kind: Kind, name: &str) -> PathBuf {
        match kind {
            Kind::People => self.root().join("people.yaml"),
            Kind::Rotor => self.folder_named(name).join("rotor.yaml"),
            Kind::Instrument | Kind::Sheet | Kind::Checklist => self.file_named(kind.word(), name),
        }
    }
}

fn text_of(bytes: &[u8]) -> String {
    String::from_utf8_lossy(bytes).into_owned()
}
