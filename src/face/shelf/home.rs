//! What the first screen shows, read from the folder each time: there is no index.

use crate::domain::checklist::Signing;
use crate::domain::due;
use crate::domain::gate;
use crate::domain::id::Id;
use crate::domain::inspection::Inspection;
use crate::domain::progress;
use crate::domain::signing;
use crate::domain::stamp::{Stamp, long_day};
use crate::domain::telling::name_of;
use crate::records::store::{Draft, HalfTyped};

use super::super::effect::{Due, Fault, Going, HomeFacts, RotorFacts, Waiting};
use super::super::screen::soak;
use super::{RecordShelf, fault};

impl RecordShelf {
    /// Everything of the first screen; what cannot be read is told as wrong and hides nothing else.
    pub(super) fn home(&self) -> Result<HomeFacts, Fault> {
        let now = self.clock.now();
        let mut facts = HomeFacts { folder: self.store.root().display().to_string(), ..HomeFacts::default() };
        for listed in self.store.rotors().map_err(fault)? {
            match listed.rotor {
                Ok(rotor) => {
                    facts.invented |= rotor.invented;
                    let id = rotor.id.clone();
                    facts.rotors.push(RotorFacts { rotor, last: None, manual: None });
                    self.records_of(&id, now, &mut facts);
                }
                Err(problems) => facts.wrong.push(problems.to_string()),
            }
        }
        facts.begun = self.store.begin_draft();
        facts.people = self.store.people().unwrap_or_default();
        self.checklists(&mut facts);
        match self.store.instruments() {
            Ok(gauges) => {
                let late = gauges.iter().filter(|gauge| gauge.is_past_date(now.date()));
                facts.wrong.extend(late.map(|gauge| format!("{} is past its date", gauge.id)));
            }
            Err(problems) => facts.wrong.push(problems.to_string()),
        }
        Ok(facts)
    }

    fn checklists(&self, facts: &mut HomeFacts) {
        for name in self.store.checklist_names().unwrap_or_default() {
            match self.store.checklist(&name) {
                Ok(Some(checklist)) => facts.checklists.push((checklist.id, checklist.title)),
                Ok(None) => {}
                Err(problems) => facts.wrong.push(problems.to_string()),
            }
        }
    }

    fn records_of(&self, rotor: &Id, now: Stamp, facts: &mut HomeFacts) {
        let mut read = Vec::new();
        for path in self.store.records(rotor).unwrap_or_default() {
            match self.store.open(&path) {
                Ok(opened) => {
                    let inspection = opened.inspection;
                    Self::remember(&inspection, facts);
                    if signing::standing_signature(&inspection, Signing::Close).is_none() {
                        facts.going.push(going(&inspection, self.store.draft(&path).as_ref(), now));
                    } else if let Some(waiting) = waiting(&inspection) {
                        facts.waiting.push(waiting);
                    }
                    read.push(inspection);
                }
                Err(problems) => facts.wrong.push(problems.to_string()),
            }
        }
        facts.due.extend(due::of_rotor(&read.iter().collect::<Vec<_>>()).into_iter().map(told));
    }

    /// Hours and manual of the latest record are offered at the next opening.
    fn remember(inspection: &Inspection, facts: &mut HomeFacts) {
        let (head, opening) = (inspection.head(), inspection.opening());
        let Some(known) = facts.rotors.iter_mut().find(|one| one.rotor.id == head.rotor.id) else { return };
        known.last = opening.machine_hours.map(|hours| (hours.to_string(), head.begun.date()));
        known.manual = opening.manual.as_ref().map(|manual| (manual.title.clone(), manual.edition.clone()));
    }
}

fn told(item: due::DueItem) -> Due {
    Due {
        because: item.reason(),
        rotor: item.rotor.to_string(),
        what: item.what,
        hours: item.at_hours.map_or_else(|| "-".to_owned(), |hours| format!("at {hours} h")),
        date: item.day.map_or_else(|| "-".to_owned(), long_day),
    }
}

fn going(inspection: &Inspection, draft: Option<&Draft>, now: Stamp) -> Going {
    let head = inspection.head();
    let step = draft.and_then(|draft| head.checklist.step(&draft.step)).or_else(|| progress::next_step(inspection));
    let position = step.map(|step| progress::position(inspection, &step.id));
    let stopped = step.map(|step| {
        let cell = draft.and_then(|draft| {
            progress::cells(inspection, step).into_iter().find(|cell| Some(cell.place()) == draft.place)
        });
        let place = cell.map(|cell| format!(", {}", cell.spoken())).unwrap_or_default();
        let typed = draft.and_then(|draft| {
            let here = |half: &&HalfTyped| half.step == step.id && Some(&half.place) == draft.place.as_ref();
            draft.typed.iter().find(here)
        });
        let typed = typed.map(|half| format!(", {} in the field", half.text)).unwrap_or_default();
        format!("at: {}{place}{typed}", gate::step_name(inspection, step))
    });
    let soaks =
        progress::soaking(inspection).into_iter().map(|one| format!("{}: {}", one.step.title, soak::said(&one, now).0));
    let begun = if head.begun.date() == now.date() { "today".to_owned() } else { long_day(head.begun.date()) };
    Going {
        inspection: head.id.clone(),
        rotor: head.rotor.id.to_string(),
        what: format!("{}, begun {begun} by {}", head.checklist.id, name_of(inspection, &head.by)),
        step: position.map_or_else(String::new, |(number, of)| format!("step {number} of {of}")),
        stopped,
        soaks: soaks.collect(),
    }
}

/// What a closed record still waits for.
fn waiting(inspection: &Inspection) -> Option<Waiting> {
    let head = inspection.head();
    let sign = signing::standing_signature(inspection, Signing::Close)?;
    let remarks = signing::open_remarks(inspection).len();
    let whom = match remarks {
        0 if signing::countersigned(inspection, sign.number).is_some() => return None,
        0 => "countersign pending".to_owned(),
        remarks => format!("came back: {remarks} remarks"),
    };
    Some(Waiting {
        inspection: head.id.clone(),
        rotor: head.rotor.id.to_string(),
        what: format!("{}, {}", head.checklist.id, long_day(head.begun.date())),
        whom,
    })
}
