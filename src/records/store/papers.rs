//! Files that forms fill in: as text, with what is half done beside them under `drafts/`.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use super::super::durable::{Known, replace, replace_unsynced};
use super::super::file;
use super::super::paper::{Kind, entered_by};
use super::super::reading::bytes_of;
use super::super::save_fault::SaveFault;
use super::super::seal::sha256;
use super::super::yaml::Problems;
use super::draft::{HalfPaper, PAPER};
use super::registers::stem_of;
use super::{Store, folder};

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
    /// Whether what was half done was begun on another state of the file than the one in use: it would undo what came since.
    pub older: bool,
    /// The second entries of a sheet, while somebody types them: each has one of his own.
    pub seconds: Vec<Second>,
    /// What is typed into its form and was not entered.
    pub typed: Option<HalfPaper>,
}

/// A second entry of a sheet, half done.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Second {
    /// The name of its draft.
    pub draft: String,
    /// Who types it; none where that cannot be read.
    pub by: Option<String>,
    /// What is entered; none where nothing was entered yet.
    pub text: Option<String>,
    /// What is typed into its form and was not entered.
    pub typed: Option<HalfPaper>,
}

/// Before the name of a sheet, where a second entry of it is kept.
const SECOND: &str = "second-";
/// Between it and whoever types it: no id holds a blank.
const BY: &str = " by ";

/// The name of the draft in which somebody types a sheet again.
pub fn second_draft(sheet: &str, by: &str) -> String {
    format!("{SECOND}{sheet}{BY}{by}")
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
            let older = text.as_ref().is_some_and(|text| self.is_older(kind, &name, text));
            let draft = self.paper_draft(kind, &name).filter(|_| !older);
            let seconds = if kind == Kind::Sheet { self.seconds_of(&name) } else { Vec::new() };
            let typed = self.half_paper(kind, &name);
            leaves.push(Leaf { name, text, draft, older, seconds, typed });
        }
        let (draft, typed) = (self.paper_draft(kind, NEW), self.half_paper(kind, NEW));
        if draft.is_some() || typed.is_some() {
            leaves.push(Leaf { name: NEW.to_owned(), text: None, draft, older: false, seconds: Vec::new(), typed });
        }
        Ok(leaves)
    }

    /// The second entries of a sheet; one without a name behind it was kept before each had his own.
    fn seconds_of(&self, sheet: &str) -> Vec<Second> {
        let second = |draft: String| {
            let by = draft.strip_prefix(SECOND)?.strip_prefix(sheet)?;
            let by = if by.is_empty() { None } else { Some(by.strip_prefix(BY)?.to_owned()) };
            let (text, typed) = (self.paper_draft(Kind::Sheet, &draft), self.half_paper(Kind::Sheet, &draft));
            let entered = text.as_ref().and_then(|text| entered_by(text));
            Some(Second { by: entered.or(by), draft, text, typed })
        };
        self.drafts_of(Kind::Sheet).into_iter().filter_map(second).collect()
    }

    /// The name of every draft of a kind, and of what is typed and not entered; not of what was put aside.
    fn drafts_of(&self, kind: Kind) -> BTreeSet<String> {
        let files = folder::files(&self.root().join("drafts").join(kind.word()), &["yaml", "typed"]);
        let names = files.unwrap_or_default().into_iter().map(|path| stem_of(&path));
        names.filter(|name| !name.contains(".older-")).collect()
    }

    /// Every form that was left half done, by kind: `limits sheet INV-9`.
    pub fn half_done(&self) -> Vec<String> {
        let named = |kind: Kind, name: &str| match (kind.one(), name.strip_prefix(SECOND)) {
            (one, _) if kind == Kind::People => one.to_owned(),
            (one, _) if name == NEW => format!("a new {one}"),
            (one, Some(name)) => match name.split_once(BY) {
                Some((name, by)) => format!("{one} {name}, second entry by {by}"),
                None => format!("{one} {name}, second entry"),
            },
            (one, None) => format!("{one} {name}"),
        };
        let of_kind = |kind| self.drafts_of(kind).into_iter().map(move |name| named(kind, &name));
        Kind::ALL.into_iter().flat_map(of_kind).collect()
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

    /// Keeps what is half done, begun on the text `before`: survives the end of this program, perhaps not a power cut.
    ///
    /// # Errors
    /// When the disk refuses.
    pub fn keep_paper_draft(
        &self,
        kind: Kind,
        name: &str,
        (text, before): (&str, Option<&str>),
    ) -> Result<(), SaveFault> {
        let path = self.draft_path(kind, name);
        self.make_folder_of(&path)?;
        if let Some(before) = before {
            replace_unsynced(self.disk(), &path.with_extension("base"), sha256(before.as_bytes()).as_bytes())?;
        }
        replace_unsynced(self.disk(), &path, text.as_bytes())
    }

    /// Whether a draft was begun on another text than this one.
    fn is_older(&self, kind: Kind, name: &str, in_use: &str) -> bool {
        let path = self.draft_path(kind, name);
        let base = || self.bytes_if_there(&path.with_extension("base")).unwrap_or_default();
        path.exists() && base() != sha256(in_use.as_bytes()).as_bytes()
    }

    /// Puts a draft that was begun on another text than the one in use beside, where nothing writes over it.
    ///
    /// # Errors
    /// When the disk refuses.
    pub fn put_older_draft_aside(&self, kind: Kind, name: &str, in_use: &str) -> Result<(), SaveFault> {
        let (path, there) = (self.draft_path(kind, name), self.paper_path(kind, name));
        // of a form that is itself behind, the draft is its own
        let is_now = self.bytes_if_there(&there).is_some_and(|bytes| bytes == in_use.as_bytes());
        if !is_now || !self.is_older(kind, name, in_use) {
            return Ok(());
        }
        self.put_aside(&path)
    }

    /// Puts a draft that counts no more beside, with what was half typed in it.
    ///
    /// # Errors
    /// When the disk refuses.
    pub fn put_draft_aside(&self, kind: Kind, name: &str) -> Result<(), SaveFault> {
        for path in [self.typed_path(kind, name), self.draft_path(kind, name)] {
            if path.exists() {
                self.put_aside(&path)?;
            }
        }
        Ok(())
    }

    /// Under a name that nothing writes over: `INV-7.older-0a1b2c3d.yaml`.
    fn put_aside(&self, path: &Path) -> Result<(), SaveFault> {
        let of = self.bytes_if_there(path).map(|bytes| sha256(&bytes)).unwrap_or_default();
        let [name, ending] =
            [path.file_stem(), path.extension()].map(|part| part.unwrap_or_default().to_string_lossy());
        let aside = path.with_file_name(format!("{name}.older-{}.{ending}", of.get(..8).unwrap_or_default()));
        self.disk().rename(path, &aside).map_err(|error| SaveFault::Disk {
            doing: "putting aside",
            path: path.to_owned(),
            source: error,
        })
    }

    /// Takes a draft away; with that of a new file, which has its own name from now on, what was typed beside it.
    pub fn drop_paper_draft(&self, kind: Kind, name: &str) {
        let typed = (name == NEW).then(|| self.typed_path(kind, name));
        let draft = self.draft_path(kind, name);
        let base = draft.with_extension("base");
        for path in [Some(draft), Some(base), typed].into_iter().flatten().filter(|path| path.exists()) {
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
