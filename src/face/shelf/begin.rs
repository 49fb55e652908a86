//! A new record: head and first entry, with everything that is in force written into it whole.

use std::path::PathBuf;

use crate::domain::carried::carried_on;
use crate::domain::decide::decide;
use crate::domain::entry::{Act, Entry};
use crate::domain::hours;
use crate::domain::inspection::{Head, Inspection, Previous, Scene};
use crate::domain::request::{Decision, Hand, Request};
use crate::domain::rotor::Rotor;
use crate::domain::sheet::Sheet;
use crate::domain::stamp::Stamp;
use crate::domain::standing::history_after;
use crate::domain::taken_out::taken_out_after;
use crate::records::inspection_file::{self, InspectionFile};

use super::super::acts::begin::Beginning;
use super::super::effect::Fault;
use super::{RecordShelf, fault, wrong};

impl RecordShelf {
    /// Begins a record; says where it is.
    ///
    /// # Errors
    /// Why nothing was begun.
    pub fn begin(&self, beginning: &Beginning) -> Result<PathBuf, Fault> {
        let now = self.clock.now();
        let rotor = beginning.rotor.clone();
        // a sheet that may not judge it is told before anything is written
        let sheet = self.sheet(&rotor)?;
        self.enter_rotor(&rotor)?;
        let lock = self.store.lock(&rotor.id, beginning.by.id.as_str(), now).map_err(fault)?;
        let mut people = self.store.people().map_err(fault)?;
        if !people.iter().any(|person| person.id.same_as(&beginning.by.id)) {
            people.push(beginning.by.clone());
            self.store.save_people(&people).map_err(fault)?;
        }
        let name = beginning.checklist.to_string();
        let checklist = self.store.checklist(&name).map_err(fault)?;
        let checklist =
            checklist.ok_or_else(|| wrong(&format!("There is no checklist `{name}`."), "Choose another one."))?;
        let (earlier, problems) = self.store.earlier(&rotor.id).map_err(fault)?;
        if !problems.is_empty() {
            let what = format!("Earlier records of {} cannot be read: {problems}", rotor.id);
            return Err(wrong(&what, "Mend them first, or its history would be cut short."));
        }
        let new = self.store.new_record(&rotor.id, now.date(), &checklist.id);
        let last = earlier.last();
        let read: Vec<_> = earlier.iter().map(|one| &one.inspection).collect();
        let head = Head {
            id: new.id,
            begun: now,
            by: beginning.by.id.clone(),
            scene: match (rotor.invented, self.store.is_practice()) {
                (true, true) => Scene::Practice,
                (true, false) => Scene::Invented,
                (false, _) => Scene::Real,
            },
            previous: last.map(previous),
            parts: last.map_or_else(|| rotor.parts.clone(), |_| hours::carried_parts(&read)),
            opened: beginning.opening.clone(),
            checklist,
            sheet,
            instruments: self.store.instruments().0,
            people,
            history: earlier.iter().fold(Vec::new(), |history, one| history_after(history, &one.inspection)),
            carried: last.map(|last| carried_on(&last.inspection)).unwrap_or_default(),
            taken_out: earlier.iter().fold(Vec::new(), |out, one| taken_out_after(out, &one.inspection)),
            rotor,
        };
        InspectionFile::begin(&new.path, &head, &[first_entry(&head, now)?]).map_err(fault)?;
        drop(lock);
        Ok(new.path)
    }

    /// A rotor that the folder does not know goes into it.
    fn enter_rotor(&self, rotor: &Rotor) -> Result<(), Fault> {
        let listed = self.store.rotors().map_err(fault)?;
        let is_known = listed.iter().any(|one| one.rotor.as_ref().is_ok_and(|known| known.id.same_as(&rotor.id)));
        if is_known { Ok(()) } else { self.store.save_rotor(rotor).map_err(fault) }
    }

    /// Limits made up for a demonstration never judge a real machine.
    fn sheet(&self, rotor: &Rotor) -> Result<Option<Sheet>, Fault> {
        let sheet = self.store.sheet(&rotor.machine).map_err(fault)?;
        if sheet.as_ref().is_some_and(|sheet| sheet.invented) && !rotor.invented {
            let what = format!("The limits sheet of {} is an invented one and {} is not.", rotor.machine, rotor.id);
            return Err(wrong(&what, "Enter the sheet of the real machine."));
        }
        Ok(sheet)
    }
}

fn previous(last: &inspection_file::Opened) -> Previous {
    Previous {
        inspection: last.inspection.head().id.clone(),
        entry: last.inspection.entries().last().map_or(0, |entry| entry.number),
        chain: last.file.chain().to_owned(),
    }
}

fn first_entry(head: &Head, now: Stamp) -> Result<Entry, Fault> {
    let hand = Hand { by: head.by.clone(), writer: None, at: now, late: None, break_hours: u32::MAX / 3600 };
    match decide(&Inspection::new(head.clone()), &Request::Do(Act::Begin), &hand) {
        Decision::Take(entry) => Ok(*entry),
        Decision::Refuse(refusal) => Err(fault(refusal)),
        Decision::Ask { .. } => Err(wrong("A record that begins is doubted.", "Begin again.")),
    }
}
