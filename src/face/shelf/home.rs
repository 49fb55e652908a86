//! What the first screen shows, read from the folder each time: there is no index.

use std::path::Path;

use crate::domain::at_once::twin;
use crate::domain::checklist::Signing;
use crate::domain::due;
use crate::domain::entry::Entry;
use crate::domain::gate;
use crate::domain::id::Id;
use crate::domain::inspection::Inspection;
use crate::domain::progress;
use crate::domain::review::{awaited, unsigned_claims};
use crate::domain::signing;
use crate::domain::stamp::{Stamp, long_day};
use crate::domain::telling::name_of;
use crate::records::inspection_file::{Opened, Trust};
use crate::records::store::{Draft, HalfTyped};

use super::super::acts::begin;
use super::super::effect::{Due, Fault, Going, HomeFacts, Waiting};
use super::super::screen::soak;
use super::known::{last_of, scope_of};
use super::{RecordShelf, fault, reading};

/// Less room than this is told before a save fails: some thousand records.
const LITTLE_ROOM: u64 = 200_000_000;

impl RecordShelf {
    /// Everything of the first screen; what cannot be read is told as wrong and hides nothing else.
    pub(super) fn home(&self) -> Result<HomeFacts, Fault> {
        let now = self.clock.now();
        let mut facts = HomeFacts { folder: self.store.root().display().to_string(), ..HomeFacts::default() };
        self.room(&mut facts);
        let mut due = Vec::new();
        for listed in self.store.rotors().map_err(fault)? {
            match listed.rotor {
                Ok(rotor) => {
                    if rotor.invented {
                        facts.scene = self.scene_of_invented();
                    }
                    let id = rotor.id.clone();
                    facts.known.rotors.push((rotor, begin::Last::default()));
                    due.extend(self.records_of(&id, now, &mut facts));
                }
                Err(problems) => facts.wrong.push(problems.to_string()),
            }
        }
        facts.due = due::nearest_first(due).into_iter().map(|item| told(item, now)).collect();
        self.store.tidy_registers();
        facts.wrong.extend(self.store.set_begun_aside());
        facts.begun = self.store.begin_draft();
        facts.half_done = self.store.half_done();
        match self.store.people() {
            Ok(people) => facts.known.people = people,
            Err(problems) => facts.wrong.push(problems.to_string()),
        }
        self.machines(&mut facts.known);
        self.checklists(&mut facts);
        let (gauges, out) = self.store.instruments();
        facts.wrong.extend((!out.is_empty()).then(|| out.to_string()));
        let late = gauges.iter().filter_map(|gauge| {
            let due = gauge.calibration(now.date())?.due.filter(|due| *due < now.date())?;
            let days = (now.date() - due).num_days();
            Some(format!("{} is {days} {} past its date", gauge.id, if days == 1 { "day" } else { "days" }))
        });
        facts.wrong.extend(late);
        Ok(facts)
    }

    fn room(&self, facts: &mut HomeFacts) {
        facts.wrong.extend(self.store.shut());
        let Some(free) = self.store.free_bytes() else { return };
        let words = if free >= 10_000_000_000 {
            format!("{} GB free", free / 1_000_000_000)
        } else {
            format!("{} MB free", free / 1_000_000)
        };
        if free < LITTLE_ROOM {
            facts.wrong.push(format!("only {words} where the records lie: make room before readings cannot be saved"));
        }
        facts.room = words;
    }

    fn checklists(&self, facts: &mut HomeFacts) {
        for name in self.store.checklist_names().unwrap_or_default() {
            match self.store.checklist(&name) {
                Ok(Some(checklist)) => facts.known.checklists.push(scope_of(&checklist)),
                Ok(None) => {}
                Err(problems) => facts.wrong.push(problems.to_string()),
            }
        }
    }

    fn records_of(&self, rotor: &Id, now: Stamp, facts: &mut HomeFacts) -> Vec<due::DueItem> {
        let (all, wrong) = self.store.open_all(rotor).unwrap_or_default();
        facts.wrong.extend(wrong.iter().map(ToString::to_string));
        for (number, (path, opened)) in all.iter().enumerate() {
            let twins = all.iter().take(number).filter_map(|(other, before)| {
                let words = twin(&opened.inspection, &before.inspection)?;
                let (other, one) = (self.store.name_of(other), self.store.name_of(path));
                Some(format!("{other} and {one} {words}"))
            });
            facts.wrong.extend(twins);
            self.record(path, opened, now, facts);
        }
        if let Some((_, last)) = facts.known.rotors.iter_mut().find(|(known, _)| known.id == *rotor) {
            *last = last_of(&all);
        }
        due::of_rotor(&all.iter().map(|(_, opened)| &opened.inspection).collect::<Vec<_>>())
    }

    fn record(&self, path: &Path, opened: &Opened, now: Stamp, facts: &mut HomeFacts) {
        let inspection = &opened.inspection;
        let strange = reading::strange(&self.store, path, opened);
        let since = signing::pending_here(inspection, &strange).last().map(|sign| since_words(sign, now));
        let pending = awaited(inspection, &strange).zip(since).map(|(words, since)| format!("{words}, {since}"));
        let pending = pending.or_else(|| unsigned_claims(inspection));
        if let Trust::Changed { entry } = opened.trust {
            let at = if entry == 0 { "its line ends were turned".to_owned() } else { format!("from entry {entry} on") };
            facts.wrong.push(format!("{} was changed outside this program, {at}", inspection.head().id));
        } else {
            let faults = opened.faults().into_iter();
            facts.wrong.extend(faults.map(|fault| format!("{}: {fault}", inspection.head().id)));
        }
        let came_back = !signing::open_remarks(inspection).is_empty();
        if came_back || signing::standing_signature(inspection, Signing::Close).is_some() {
            facts.waiting.extend(waiting((path, inspection), pending));
        } else {
            facts.going.push(going((path, inspection), self.store.draft(path).as_ref(), (now, pending)));
        }
    }
}

fn told(item: due::DueItem, now: Stamp) -> Due {
    Due {
        overdue: item.days_over(now.date()).map(counted_days),
        because: item.reason(),
        rotor: item.rotor.to_string(),
        what: item.what,
        hours: item.at_hours.map_or_else(|| "-".to_owned(), |hours| format!("at {hours} h")),
        date: item.day.map_or_else(|| "-".to_owned(), long_day),
    }
}

fn going(
    (path, inspection): (&Path, &Inspection),
    draft: Option<&Draft>,
    (now, pending): (Stamp, Option<String>),
) -> Going {
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
    let mut soaks = progress::soaking(inspection);
    soaks.sort_by_key(|one| soak::due(one));
    let soaks = soaks.into_iter().map(|one| format!("{}: {}", one.step.title, soak::said(&one, now).0));
    let begun = if head.begun.date() == now.date() { "today".to_owned() } else { long_day(head.begun.date()) };
    Going {
        file: path.display().to_string(),
        rotor: head.rotor.id.to_string(),
        what: format!("{}, begun {begun} by {}", head.checklist.id, name_of(inspection, &head.by)),
        step: position.map_or_else(String::new, |(number, of)| format!("step {number} of {of}")),
        stopped,
        soaks: soaks.chain(pending).collect(),
    }
}

fn counted_days(days: i64) -> String {
    if days == 1 { "1 day".to_owned() } else { format!("{days} days") }
}

/// `70 days`.
fn since_words(sign: &Entry, now: Stamp) -> String {
    match (now.date() - sign.at.date()).num_days() {
        0 => "since today".to_owned(),
        days => counted_days(days),
    }
}

/// What a record still waits for: answers to remarks, or a countersignature.
fn waiting((path, inspection): (&Path, &Inspection), pending: Option<String>) -> Option<Waiting> {
    let head = inspection.head();
    let (whom, is_returned) = match signing::came_back(inspection) {
        Some(words) => {
            let behind = pending.map(|words| format!("; {words}")).unwrap_or_default();
            // what is said of no step is met at none
            let on_all =
                signing::remarks_on_all(inspection, None).into_iter().map(|(_, remark)| format!("; {}", remark.text));
            (format!("{words}{}{behind}", on_all.collect::<String>()), true)
        }
        None => match pending {
            Some(words) => (words, false),
            None if signing::gone_on(inspection) => (signing::GONE_ON.to_owned(), false),
            None => return None,
        },
    };
    Some(Waiting {
        file: path.display().to_string(),
        rotor: head.rotor.id.to_string(),
        what: format!("{}, {}", head.checklist.id, long_day(head.begun.date())),
        whom,
        is_returned,
    })
}
