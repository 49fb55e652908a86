//! Data folders with the demonstration's record in them, signed, with a photo.

use std::path::{Path, PathBuf};
use std::sync::OnceLock;

use asfound::domain::apply::apply;
use asfound::domain::checklist::Signing;
use asfound::domain::decide::decide;
use asfound::domain::entry::{Act, Entry, PhotoRef};
use asfound::domain::inspection::Inspection;
use asfound::domain::request::{Decision, Hand, Request};
use asfound::domain::signing;
use asfound::domain::standing::Standing;
use asfound::records::inspection_file::{InspectionFile, Opened};
use asfound::records::store::{LastEntry, Store};

use crate::content::answers::three;
use crate::rig::id;

pub(crate) const PHOTO: &[u8] = b"a picture of the dent (invented)";

/// The three inspections of the demonstration, played once.
pub(crate) fn played() -> &'static [Inspection] {
    static PLAYED: OnceLock<Vec<Inspection>> = OnceLock::new();
    PLAYED.get_or_init(three)
}

/// A data folder that goes away with its value.
pub(crate) struct Shelf {
    folder: tempfile::TempDir,
    pub(crate) store: Store,
}

impl Shelf {
    pub(crate) fn empty() -> Self {
        let folder = tempfile::tempdir().unwrap();
        let store = Store::at(folder.path());
        Self { folder, store }
    }

    pub(crate) fn root(&self) -> &Path {
        self.folder.path()
    }

    /// The present inspection as far as it was played, a photo, the decisions signed.
    pub(crate) fn signed() -> (Self, PathBuf) {
        let shelf = Self::empty();
        let path = shelf.keep(&played()[2], "2024-07-12-overhaul");
        let hash = asfound::records::seal::sha256(PHOTO);
        let photo = PhotoRef { hash, name: "dent.jpg".into() };
        shelf.store.keep_photo(&path, &photo, PHOTO).unwrap();
        shelf.add(&path, "fitter-a", Act::Photo { step: None, photo });
        if sign_of(&shelf.open(&path)).is_none() {
            shelf.sign(&path, "fitter-a", Signing::Decisions);
        }
        (shelf, path)
    }

    /// Writes an inspection as a record, its seals made anew.
    pub(crate) fn keep(&self, inspection: &Inspection, name: &str) -> PathBuf {
        let path = self.root().join(format!("rotors/{}/{name}.yaml", inspection.head().rotor.id));
        let mut file = InspectionFile::begin(&path, inspection.head(), &[]).unwrap();
        for entry in inspection.entries() {
            let mut entry = entry.clone();
            if let Act::Sign(signature) = &mut entry.act {
                let seal = file.seal_behind(&[]).unwrap();
                (signature.length, signature.sha256) = (seal.length, seal.sha256);
            }
            file.append(&[entry]).unwrap();
        }
        self.store.save_rotor(&inspection.head().rotor).unwrap();
        path
    }

    pub(crate) fn open(&self, path: &Path) -> Opened {
        self.store.open(path).unwrap_or_else(|problems| panic!("{problems}"))
    }

    /// Does it as `by`, or says why not; saved and noted.
    pub(crate) fn try_add(&self, path: &Path, by: &str, act: Act) -> Result<Entry, String> {
        let mut opened = self.open(path);
        let at = opened.inspection.entries().last().unwrap().at;
        let hand = Hand { by: id(by), writer: None, at, late: None, break_hours: 10_000 };
        match decide(&opened.inspection, &Request::Do(act), &hand) {
            Decision::Take(entry) => {
                opened.file.append(std::slice::from_ref(&entry)).map_err(|fault| fault.to_string())?;
                let last = LastEntry { invented: false, entry: entry.number, chain: opened.file.chain().to_owned() };
                self.store.note_last(path, &last).unwrap();
                Ok(*entry)
            }
            Decision::Refuse(refusal) => Err(refusal.kind.name()),
            Decision::Ask { .. } => Err("asked".to_owned()),
        }
    }

    pub(crate) fn add(&self, path: &Path, by: &str, act: Act) -> Entry {
        self.try_add(path, by, act).unwrap()
    }

    pub(crate) fn sign(&self, path: &Path, by: &str, what: Signing) -> Entry {
        self.try_add(path, by, Act::Resume).unwrap();
        let opened = self.open(path);
        let seal = opened.file.seal_behind(&[]).unwrap();
        let carried = Standing::of(&opened.inspection).holds_in_words();
        self.add(path, by, Act::Sign(signing::signature(&opened.inspection, what, (&seal, &carried))))
    }
}

/// The last signature: number and chain value.
pub(crate) fn sign_of(opened: &Opened) -> Option<(u32, String)> {
    let entries = opened.inspection.entries().iter().zip(&opened.chains);
    entries
        .rev()
        .find(|(entry, _)| matches!(entry.act, Act::Sign(_)))
        .map(|(entry, chain)| (entry.number, chain.clone()))
}

/// Copies a record with its folder.
pub(crate) fn copy(from: &Path, to: &Path) {
    std::fs::create_dir_all(to.parent().unwrap()).unwrap();
    std::fs::copy(from, to).unwrap();
    let (from, to) = (from.with_extension(""), to.with_extension(""));
    if from.is_dir() {
        std::fs::create_dir_all(&to).unwrap();
        for file in std::fs::read_dir(from).unwrap() {
            let file = file.unwrap().path();
            // the note belongs to the data folder, not to the record
            if !file.ends_with("last.yaml") {
                std::fs::copy(&file, to.join(file.file_name().unwrap())).unwrap();
            }
        }
    }
}

/// The inspection folded again with what was appended; for tests that look at it.
pub(crate) fn folded(opened: &Opened) -> Inspection {
    let mut again = Inspection::new(opened.inspection.head().clone());
    for entry in opened.inspection.entries() {
        drop(apply(&mut again, entry.clone()));
    }
    again
}
