//! The one place that changes an inspection. It never refuses: an entry that today's rules would not take is kept.

use std::collections::BTreeSet;

use super::entitled;
use super::entry::{Act, Entry, Replaces};
use super::figure::Figure;
use super::id::Id;
use super::inspection::{Inspection, Ledger};
use super::missed;
use super::outdated;
use super::refusal::RefusalKind;
use super::signing;

/// What an entry changed, so that a screen knows what to look at anew.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Change {
    /// One step and what it judges.
    Step(String),
    /// Anything.
    Whole,
}

/// Puts `entry` behind the others and says what it changes.
pub fn apply(inspection: &mut Inspection, entry: Entry) -> Change {
    let target =
        if let Act::Strike { entry: struck, .. } = &entry.act { inspection.entry(*struck) } else { Some(&entry) };
    let change = target.map_or(Change::Whole, |target| change(target.deed()));
    let found = entitled::look(inspection, &entry);
    let passed = &mut inspection.ledger_mut().passed;
    passed.over.extend(found.over);
    passed.only_safer.extend(found.only_safer);
    let again = enter(inspection, &entry);
    let change = if again { Change::Whole } else { change };
    inspection.push(entry);
    forget(inspection, &change);
    change
}

/// What the figures of a step oblige is reckoned anew where they, or the temperatures they were taken at, have changed.
fn forget(inspection: &Inspection, change: &Change) {
    inspection.held_against_start().retain(|_| false);
    inspection.standing_of_parts().retain(|_| false);
    inspection.unclaimed().retain(|_| false);
    inspection.behind_decisions().retain(|_| false);
    let Change::Step(changed) = change else { return inspection.obliged_by_figures().retain(|_| false) };
    let steps = &inspection.head().checklist.steps;
    let warmed = steps.iter().filter(|step| step.takes.temperatures() == Some(changed.as_str()));
    let warmed: Vec<_> = warmed.map(|step| step.id.clone()).collect();
    inspection.obliged_by_figures().retain(|step| step != changed && !warmed.iter().any(|one| one == step));
}

/// A finding may ask for other steps, a signature opens them: what reaches beyond its step is looked at as a whole.
fn change(act: &Act) -> Change {
    match (act.step(), act) {
        (None, _) | (_, Act::Finding(_)) => Change::Whole,
        (Some(step), _) => Change::Step(step.to_owned()),
    }
}

/// The inspection as it stood before the entry with this number.
pub fn before(inspection: &Inspection, number: u32) -> Inspection {
    let mut earlier = Inspection::new(inspection.head().clone());
    let passed = inspection.passed().over.iter().filter(|(over, _)| **over < number);
    earlier.ledger_mut().passed.over = passed.map(|(over, why)| (*over, why.clone())).collect();
    for entry in inspection.entries().iter().take_while(|entry| entry.number < number) {
        apply(&mut earlier, entry.clone());
    }
    earlier
}

/// Puts the hours of the next opening in, as if it had been planned so all along.
pub(in crate::domain) fn planned_at(inspection: &mut Inspection, next: Figure) {
    inspection.ledger_mut().opening.next_hours = Some(next);
    forget(inspection, &Change::Whole);
}

/// The inspection as it would stand if these entries had not been made; they stay in it, struck.
pub fn without(inspection: &Inspection, numbers: &[u32]) -> Inspection {
    let mut other = inspection.clone();
    other.ledger_mut().struck.extend(numbers.iter().map(|number| (*number, *number)));
    refold(&mut other);
    forget(&other, &Change::Whole);
    other
}

/// The last entry names a signature by a chain value that is not that signature's: it is about nothing here.
pub fn about_nothing(inspection: &mut Inspection, sign: u32) {
    let Some(last) = inspection.entries().last().map(|last| last.number) else { return };
    inspection.ledger_mut().passed.over.insert(last, RefusalKind::NoSuchEntry { entry: sign });
    forget(inspection, &Change::Whole);
}

/// The file, or somebody else who knows them, shows that these entries are not as they were written: no signature over
/// them holds, whoever has seen it or not.
pub fn changed_outside(inspection: &mut Inspection, entries: BTreeSet<u32>) {
    inspection.ledger_mut().changed.extend(entries);
    forget(inspection, &Change::Whole);
}

/// Enters it in the ledger; whether other steps have to be done again for it.
fn enter(inspection: &mut Inspection, entry: &Entry) -> bool {
    if let Act::Strike { entry: number, .. } = &entry.act
        && inspection.passed_over(entry.number).is_none()
    {
        inspection.ledger_mut().struck.entry(*number).or_insert(entry.number);
        let taken_back = |act: &Act| matches!(act, Act::Given { .. } | Act::Level { .. } | Act::GaugeCheck { .. });
        let reaches_on = |act: &Act| taken_back(act) || outdated::concerns(act);
        if outdated::struck(inspection, entry).is_some_and(reaches_on) {
            refold(inspection);
        }
    }
    if let Some(gauge) = missed::by(inspection, entry) {
        inspection.ledger_mut().missed.insert(gauge.clone());
    }
    let again = outdated::by(inspection, inspection.ledger(), entry);
    let machine = inspection.head().rotor.machine.clone();
    post(inspection.ledger_mut(), (entry, &again), &machine);
    !again.is_empty()
}

/// Reckons the ledger anew: what a struck level or part had put out of force is in force again.
fn refold(inspection: &mut Inspection) {
    let machine = inspection.head().rotor.machine.clone();
    let mut ledger = Ledger::new(inspection.head());
    ledger.struck.clone_from(&inspection.ledger_mut().struck);
    ledger.passed.clone_from(inspection.passed());
    for entry in inspection.entries() {
        let counts = !ledger.struck.contains_key(&entry.number);
        let again = if counts { outdated::by(inspection, &ledger, entry) } else { Vec::new() };
        let taken_back =
            matches!(entry.act, Act::Given { .. } | Act::Level { .. } | Act::PartFitted { .. } | Act::Plan { .. });
        if counts || !taken_back {
            post(&mut ledger, (entry, &again), &machine);
        }
        ledger.missed.extend(missed::by(inspection, entry).filter(|_| counts).cloned());
    }
    *inspection.ledger_mut() = ledger;
}

fn post(ledger: &mut Ledger, (entry, again): (&Entry, &[String]), machine: &Id) {
    ledger.outdated.extend(again.iter().map(|step| (step.clone(), entry.number)));
    if let Act::Reading { step, place, .. } = &entry.act {
        ledger.readings.entry(step.clone()).or_default().entry(place.clone()).or_default().push(entry.number);
    }
    if let Some(step) = entry.act.step() {
        ledger.by_step.entry(step.to_owned()).or_default().push(entry.number);
    }
    if signing::is_about(entry.deed()) {
        ledger.of_signatures.push(entry.number);
    }
    if let Act::Repeat { step, place } = &entry.act {
        ledger.further.entry(step.clone()).or_default().push((entry.number, place.clone()));
    }
    if let Act::Skip { step, place: Some(place), .. } = &entry.act {
        ledger.left_out.entry(step.clone()).or_default().entry(place.clone()).or_default().push(entry.number);
    }
    if let Act::Opening(later) = &entry.act {
        ledger.opening.take_in(later);
    }
    if let Act::Plan { hours, date, .. } = &entry.act {
        ledger.opening.next_hours = hours.or(ledger.opening.next_hours);
        ledger.opening.next_date = date.or(ledger.opening.next_date);
    }
    if let Act::Gauge(gauge) = &entry.act {
        ledger.instruments.retain(|known| !known.id.same_as(&gauge.id));
        ledger.instruments.push((**gauge).clone());
    }
    if let Act::Person(person) = entry.deed() {
        ledger.people.retain(|known| !known.id.same_as(&person.id));
        ledger.people.push(person.clone());
    }
    if let Act::Given { given, figure } = &entry.act {
        ledger.put_in(machine, |sheet| {
            sheet.typed_anew(given.name(), entry.by.as_str());
            sheet.given.insert(*given, figure.clone());
        });
    }
    if let Act::Level { characteristic, levels, .. } = &entry.act {
        ledger.put_in(machine, |sheet| {
            sheet.typed_anew(characteristic.id(), entry.by.as_str());
            sheet.levels.insert(*characteristic, (**levels).clone());
        });
    }
    if let Act::PartFitted { part, fitted, replaces } = &entry.act {
        ledger.parts.insert(part.clone(), fitted.clone());
        if *replaces == Replaces::Yes {
            ledger.replaced.insert(part.clone(), entry.number);
        } else if !ledger.replaced.contains_key(part) {
            ledger.found.insert(part.clone(), fitted.clone());
            // what was said of its hours before is said anew
            ledger.opening.part_hours.remove(part);
        }
    }
}
