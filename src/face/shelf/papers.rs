//! The files that forms fill in: fetched by kind, put in use or kept as drafts.

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::domain::entry::{Act, Replaces};
use crate::domain::inspection::Scene;
use crate::domain::rotor::Rotor;
use crate::records::paper::{Beside, Kind};
use crate::records::save_fault::SaveFault;

use super::super::effect::{Fault, PaperPut, Register};
use super::{RecordShelf, fault, wrong};

impl RecordShelf {
    /// Every file of a kind, with what its form needs to know besides.
    ///
    /// # Errors
    /// When a file or folder cannot be read.
    pub fn register(&self, kind: Kind) -> Result<Register, Fault> {
        let leaves = self.store.leaves(kind).map_err(fault)?;
        let told = if kind == Kind::Rotor { self.replaced() } else { BTreeMap::new() };
        // a people file that cannot be read shows among the people
        let people = self.store.people().unwrap_or_default();
        let looks = matches!(kind, Kind::Instrument | Kind::Rotor | Kind::Sheet);
        // rotors that cannot be read show among the rotors
        let listed = self.store.rotors().unwrap_or_default().into_iter();
        let rotors: Vec<_> = listed.filter_map(|listed| listed.rotor.ok()).collect();
        let invented = rotors.iter().any(|rotor| rotor.invented);
        let scene = if invented { self.scene_of_invented() } else { Scene::Real };
        let beside = Arc::new(if looks { self.beside(rotors) } else { Beside::default() });
        Ok(Register { kind, leaves, told, people, beside, day: self.clock.now().date(), wanted: None, scene })
    }

    /// What the folder of rotors that do not exist is for.
    pub(super) fn scene_of_invented(&self) -> Scene {
        if self.store.is_practice() { Scene::Practice } else { Scene::Invented }
    }

    /// The same without the draft of this name, and what was half typed into it.
    ///
    /// # Errors
    /// When the disk refuses.
    pub(super) fn discarded(&self, kind: Kind, draft: &str) -> Result<Register, Fault> {
        self.store.drop_paper_draft(kind, draft);
        self.store.keep_half_paper(kind, draft, None).map_err(fault)?;
        self.register(kind)
    }

    /// Sheets, checklists, rotors and people, as far as they can be read; what cannot shows among its own kind.
    fn beside(&self, rotors: Vec<Rotor>) -> Beside {
        let names = self.store.checklist_names().unwrap_or_default();
        let checklists = names.iter().filter_map(|name| self.store.checklist(name).ok()?).collect();
        let people = self.store.people().unwrap_or_default();
        Beside { sheets: self.store.sheets().unwrap_or_default(), checklists, rotors, people }
    }

    /// Puts a file in use when it is complete, else keeps it as a draft; what the disk refuses is a draft too.
    ///
    /// # Errors
    /// Why it is not in use.
    pub fn put_paper(&mut self, put: &PaperPut) -> Result<(), Fault> {
        let base = put.before.as_deref();
        if let Some(before) = base {
            self.store.put_older_draft_aside(put.kind, &put.draft, before).map_err(fault)?;
        }
        for void in &put.void {
            self.store.put_draft_aside(put.kind, void).map_err(fault)?;
        }
        let draft = || self.store.keep_paper_draft(put.kind, &put.draft, (&put.text, base)).map_err(fault);
        let Some(name) = &put.name else { return draft() };
        let before: Vec<&[u8]> = put.before.iter().map(String::as_bytes).collect();
        if let Err(refused) = self.store.put_paper(put.kind, name, &put.text, &before) {
            draft()?;
            // whoever typed the name gives another; what is there belongs to somebody
            let there =
                if let SaveFault::InTheWay { path } = &refused { Some(path.display().to_string()) } else { None };
            let mend = "Give this one another name, or open the one that is there and change it.";
            let what = |path| format!("{path} is there already. Nothing was written, it is kept as a draft.");
            return Err(there.map_or_else(|| fault(refused), |path| wrong(&what(path), mend)));
        }
        self.store.drop_paper_draft(put.kind, &put.draft);
        Ok(())
    }

    /// By rotor: which parts were fitted at which inspection, as the records have it.
    fn replaced(&self) -> BTreeMap<String, Vec<String>> {
        let mut told = BTreeMap::new();
        for listed in self.store.rotors().unwrap_or_default() {
            let Ok(rotor) = &listed.rotor else { continue };
            let mut lines = Vec::new();
            for path in self.store.records(&rotor.id).unwrap_or_default() {
                let Ok(opened) = self.store.open(&path) else { continue };
                let fitted = opened.inspection.standing_entries().filter_map(|entry| fitted(&entry.act));
                let checklist = &opened.inspection.head().checklist;
                let name = |id: &String| checklist.part(id).map_or_else(|| id.clone(), |part| part.short.clone());
                let parts: Vec<_> = fitted.map(name).collect();
                if !parts.is_empty() {
                    lines.push(format!("{}: fitted {}", opened.inspection.head().id, parts.join(", ")));
                }
            }
            if lines.is_empty() {
                lines.push("No record says that a part was replaced.".to_owned());
            }
            told.insert(listed.folder, lines);
        }
        told
    }
}

/// The part that an entry puts in the place of another.
fn fitted(act: &Act) -> Option<&String> {
    if let Act::PartFitted { part, replaces: Replaces::Yes, .. } = act { Some(part) } else { None }
}
