//! What is known before a record begins: rotors with what their last records tell, people, checklists.

use std::path::PathBuf;

use crate::domain::checklist::Signing;
use crate::domain::hours;
use crate::domain::signing;
use crate::records::inspection_file::{Opened, Trust};

use super::super::acts::begin::{Known, Last, Scope};
use super::super::effect::Fault;
use super::{RecordShelf, fault};

impl RecordShelf {
    /// Everything that a new record is asked about with.
    ///
    /// # Errors
    /// A register that cannot be read: its faults.
    pub fn known(&self) -> Result<Known, Fault> {
        let mut rotors = Vec::new();
        for listed in self.store.rotors().map_err(fault)? {
            let rotor = listed.rotor.map_err(fault)?;
            // another rotor's record tells nothing of this one
            let (all, _) = self.store.open_all(&rotor.id).map_err(fault)?;
            rotors.push((rotor, last_of(&all)));
        }
        let mut checklists = Vec::new();
        for name in self.store.checklist_names().map_err(fault)? {
            if let Some(checklist) = self.store.checklist(&name).map_err(fault)? {
                checklists.push(scope_of(&checklist));
            }
        }
        let people = self.store.people().map_err(fault)?;
        let mut known = Known { rotors, people, checklists, ..Known::default() };
        self.machines(&mut known);
        Ok(known)
    }

    /// Machine types that have a limits sheet, and those whose sheets are invented or cannot be read.
    pub(super) fn machines(&self, known: &mut Known) {
        let mut sheets = Vec::new();
        for (id, sheet) in self.store.sheets_one_by_one().unwrap_or_default() {
            match sheet {
                Ok(sheet) => sheets.push(sheet),
                Err(problems) => known.faulty.push((id, problems.to_string())),
            }
        }
        known.invented = sheets.iter().filter(|sheet| sheet.invented).map(|sheet| sheet.id.clone()).collect();
        known.sheets = sheets.into_iter().map(|sheet| sheet.id).collect();
    }
}

/// A checklist as a scope of the work.
pub(super) fn scope_of(checklist: &crate::domain::checklist::Checklist) -> Scope {
    let parts = checklist.parts.iter().map(|part| part.id.clone()).collect();
    Scope { id: checklist.id.clone(), title: checklist.title.clone(), parts }
}

/// What the records of a rotor, the first begun first, tell the next one.
pub(super) fn last_of(records: &[(PathBuf, Opened)]) -> Last {
    let Some((_, last)) = records.last() else { return Last::default() };
    let inspection = &last.inspection;
    let read: Vec<_> = records.iter().map(|(_, opened)| &opened.inspection).collect();
    let (head, opening) = (inspection.head(), inspection.opening());
    let is_closed = signing::standing_signature(inspection, Signing::Close).is_some();
    Last {
        unfinished: (!is_closed).then(|| head.id.clone()),
        manual: opening.manual.clone(),
        hours: opening.machine_hours,
        day: Some(head.begun.date()),
        changed: matches!(last.trust, Trust::Changed { .. }),
        parts: hours::carried_parts(&read),
    }
}
