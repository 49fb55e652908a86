//! One inspection: its head, and the fold over its entries.

mod history;
mod ledger;
mod opening;
mod reckoned;
mod taken;

use std::collections::BTreeMap;

use chrono::NaiveDate;

use super::carried::Carried;
use super::characteristic::Characteristic;
use super::checklist::{Checklist, FindingKind};
use super::entitled::Passed;
use super::entry::{Act, Entry, FindingMade};
use super::exact::Exact;
use super::figure::Figure;
use super::id::Id;
use super::instrument::Instrument;
use super::judge::Side;
use super::person::Person;
use super::reckon::vector::Polar;
use super::refusal::RefusalKind;
use super::rotor::{Fitted, Rotor};
use super::sheet::Sheet;
use super::stamp::Stamp;
use super::taken_out::TakenOut;
use super::verdict::Consequence;

pub(in crate::domain) use ledger::Ledger;
pub use opening::{Arrives, Manual, Opening, OwnHours};
use reckoned::Reckoned;
pub use taken::{Doubted, Taken};

/// Where the record before this one stood when this one began; it may have grown since.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Previous {
    /// Its id.
    pub inspection: String,
    /// Its last entry then.
    pub entry: u32,
    /// The chain value there.
    pub chain: String,
}

/// One characteristic at an earlier opening.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Past {
    /// The inspection's id.
    pub inspection: String,
    /// Its day.
    pub date: NaiveDate,
    /// What was judged.
    pub characteristic: Characteristic,
    /// Hours of the part then.
    pub hours: Figure,
    /// The figure that counted, in the characteristic's unit.
    pub value: Exact,
    /// Its standard uncertainty in that unit, as a decimal; none known.
    pub u: Option<Exact>,
    /// The place that counted.
    pub place: Option<String>,
    /// The side toward which it is the worst of all places; none where one figure was all there was, or one side counts.
    pub side: Option<Side>,
    /// As left with a new part, from which the hours run.
    pub as_left: bool,
    /// Of a run-out: the eccentricity and where it pointed. None of anything else, and in records made before it was kept.
    pub vector: Option<Polar>,
}

/// Whether the rotor exists.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub enum Scene {
    /// A machine of somebody's.
    #[default]
    Real,
    /// Belongs to a demonstration or a test; every screen and file says so.
    Invented,
    /// A rehearsal with hidden faults, for learning.
    Practice,
}

impl Scene {
    /// What stands above everything of a scene that is not real.
    pub fn mark(self) -> Option<&'static str> {
        match self {
            Self::Real => None,
            Self::Invented => Some("INVENTED DEMONSTRATION"),
            Self::Practice => Some("PRACTICE, INVENTED"),
        }
    }
}

/// All that is written before the first entry, and never changed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Head {
    /// `DEMO-1/2024-07-12-overhaul`; this counts, not the file's name.
    pub id: String,
    /// When it was begun.
    pub begun: Stamp,
    /// Who began it.
    pub by: Id,
    /// Whether it is a real machine.
    pub scene: Scene,
    /// The record before.
    pub previous: Option<Previous>,
    /// The rotor as known then.
    pub rotor: Rotor,
    /// The opening answers.
    pub opened: Opening,
    /// Whole, as in force.
    pub checklist: Checklist,
    /// Whole, as in force; a machine type without one can be inspected, everything stays open.
    pub sheet: Option<Sheet>,
    /// Whole.
    pub instruments: Vec<Instrument>,
    /// Whole.
    pub people: Vec<Person>,
    /// Earlier openings, so that the record stands alone.
    pub history: Vec<Past>,
    /// Concessions of earlier openings whose conditions come up now.
    pub carried: Vec<Carried>,
    /// Pieces taken out at earlier openings.
    pub taken_out: Vec<TakenOut>,
    /// Parts fitted when it began.
    pub parts: BTreeMap<String, Fitted>,
}

/// The inspection after some entry: a fold, `apply` being its only step.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Inspection {
    head: Head,
    entries: Vec<Entry>,
    ledger: Ledger,
    reckoned: Reckoned,
}

impl Inspection {
    /// The inspection before its first entry.
    pub fn new(head: Head) -> Self {
        let ledger = Ledger::new(&head);
        Self { head, entries: Vec::new(), ledger, reckoned: Reckoned::default() }
    }

    /// What was written before the first entry.
    pub fn head(&self) -> &Head {
        &self.head
    }

    /// Every entry so far, struck ones included.
    pub fn entries(&self) -> &[Entry] {
        &self.entries
    }

    /// The entry with this number.
    pub fn entry(&self, number: u32) -> Option<&Entry> {
        let index = usize::try_from(number.checked_sub(1)?).ok()?;
        self.entries.get(index).filter(|entry| entry.number == number)
    }

    /// Entries that nobody has struck and that are not passed over, oldest first.
    pub fn standing_entries(&self) -> impl DoubleEndedIterator<Item = &Entry> {
        self.counted_entries().filter(|entry| !self.ledger.struck.contains_key(&entry.number))
    }

    /// What the checklist says of such a finding.
    pub fn kind_of(&self, found: &FindingMade) -> Option<&FindingKind> {
        self.head.checklist.part(&found.part)?.finding(&found.kind)
    }

    /// All that a finding leads to, what disposes of the part first; one that the checklist does not know is referred.
    pub fn consequences_of(&self, found: &FindingMade) -> Vec<Consequence> {
        self.kind_of(found).map_or_else(|| vec![Consequence::Refer], |kind| kind.consequences(&found.grade))
    }

    /// The first of all that a finding leads to.
    pub fn consequence_of(&self, found: &FindingMade) -> Consequence {
        self.consequences_of(found).first().copied().unwrap_or(Consequence::Refer)
    }

    /// The steps that a finding obliges; one that leads to nothing obliges none.
    pub fn obliged_by_finding(&self, found: &FindingMade) -> &[String] {
        let kind = self.kind_of(found).filter(|kind| kind.consequence(&found.grade) != Consequence::Nothing);
        kind.map_or(&[], |kind| &kind.obliges)
    }

    /// The answers to the entry with this number, oldest first.
    pub fn answers_to(&self, number: u32) -> impl Iterator<Item = &Entry> {
        let answers = move |later: &&Entry| matches!(later.deed(), Act::Answer { entry, .. } if *entry == number);
        self.standing_entries().filter(answers)
    }

    /// Whether somebody has answered the entry with this number.
    pub fn is_answered(&self, number: u32) -> bool {
        self.answers_to(number).next().is_some()
    }

    /// Entries that count, struck ones included, oldest first.
    pub fn counted_entries(&self) -> impl DoubleEndedIterator<Item = &Entry> {
        self.entries.iter().filter(|entry| self.passed_over(entry.number).is_none())
    }

    /// Entries about signatures that count, oldest first: few, and asked for at every key.
    pub(in crate::domain) fn entries_of_signatures(&self) -> impl DoubleEndedIterator<Item = &Entry> {
        let numbers = self.ledger.of_signatures.iter().filter(|number| self.passed_over(**number).is_none());
        numbers.filter_map(|number| self.entry(*number))
    }

    /// Why a decision does not count.
    pub fn passed_over(&self, number: u32) -> Option<&RefusalKind> {
        self.ledger.passed.over.get(&number)
    }

    pub(in crate::domain) fn passed(&self) -> &Passed {
        &self.ledger.passed
    }

    /// Entries about a step that nobody has struck, oldest first.
    pub fn standing_entries_of(&self, step: &str) -> impl DoubleEndedIterator<Item = &Entry> {
        let numbers = self.ledger.by_step.get(step).into_iter().flatten();
        let standing = numbers.filter(|number| !self.ledger.struck.contains_key(number));
        standing.filter_map(|number| self.entry(*number)).filter(|entry| self.outdated_by(entry).is_none())
    }

    /// The entry since which what this one did at its step counts no more: the step is to be done again.
    pub fn outdated_by(&self, entry: &Entry) -> Option<u32> {
        let by = *self.ledger.outdated.get(entry.act.step()?)?;
        (entry.number < by && entry.act.does_step()).then_some(by)
    }

    /// Places at which a further repeat stands asked for, one for each.
    pub(in crate::domain) fn further_repeats(&self, step: &str) -> Vec<&str> {
        let asked = self.ledger.further.get(step).into_iter().flatten();
        asked.filter(|(entry, _)| self.stands_at(step, *entry)).map(|(_, place)| place.as_str()).collect()
    }

    /// Whether a doubt about the levels in force was insisted on when they were typed.
    pub fn doubted_levels(&self, characteristic: Characteristic) -> Doubted {
        let mut typed = self.standing_entries().rev().filter_map(|entry| {
            let Act::Level { characteristic: of, doubts, .. } = &entry.act else { return None };
            (*of == characteristic).then_some(doubts)
        });
        if typed.next().is_some_and(|doubts| !doubts.is_empty()) { Doubted::Yes } else { Doubted::No }
    }

    /// Whether a place was left out with a reason.
    pub fn is_left_out(&self, step: &str, place: &str) -> bool {
        let numbers = self.ledger.left_out.get(step).and_then(|places| places.get(place));
        numbers.is_some_and(|numbers| numbers.iter().any(|number| self.stands_at(step, *number)))
    }

    /// Whether a reading was struck at a place and none stands there since.
    pub fn is_struck(&self, step: &str, place: &str) -> bool {
        let struck = |entry: &&Entry| self.struck_by(entry.number).is_some() && self.outdated_by(entry).is_none();
        self.reading(step, place).is_none() && self.readings_at(step, place).iter().any(struck)
    }

    /// Whether what an entry did at a step is neither struck nor out of date.
    pub(in crate::domain) fn stands_at(&self, step: &str, number: u32) -> bool {
        let since = self.ledger.outdated.get(step).copied().unwrap_or_default();
        number > since && !self.ledger.struck.contains_key(&number)
    }

    /// The entry that struck this one.
    pub fn struck_by(&self, number: u32) -> Option<u32> {
        self.ledger.struck.get(&number).copied()
    }

    /// The strike that took this entry back, and its reason.
    pub fn strike_of(&self, number: u32) -> Option<(&Entry, &str)> {
        let strike = self.entry(self.struck_by(number)?)?;
        let Act::Strike { reason, .. } = &strike.act else { return None };
        Some((strike, reason))
    }

    /// How many entries were struck.
    pub fn struck_count(&self) -> usize {
        self.ledger.struck.len()
    }

    /// How many readings it holds, struck ones included: what `saved` counts on every screen.
    pub fn reading_count(&self) -> usize {
        self.ledger.readings.values().flat_map(BTreeMap::values).map(Vec::len).sum()
    }

    /// Every reading ever taken at a place, oldest first, struck ones included.
    pub fn readings_at(&self, step: &str, place: &str) -> Vec<&Entry> {
        let numbers = self.ledger.readings.get(step).and_then(|places| places.get(place));
        numbers.into_iter().flatten().filter_map(|number| self.entry(*number)).collect()
    }

    /// The reading that counts at a place: the last one neither struck nor out of date.
    pub fn reading(&self, step: &str, place: &str) -> Option<Taken> {
        self.reading_before(step, place, u32::MAX)
    }

    /// The one that counted there just before the entry with this number.
    pub(in crate::domain) fn reading_before(&self, step: &str, place: &str, number: u32) -> Option<Taken> {
        let is_struck = |entry: &Entry| self.struck_by(entry.number).is_some_and(|by| by < number);
        let standing =
            |entry: &&&Entry| entry.number < number && !is_struck(entry) && self.outdated_by(entry).is_none();
        let all = self.readings_at(step, place);
        let entry = all.iter().rev().find(standing)?;
        let Act::Reading { taken, gauge, doubts, .. } = &entry.act else { return None };
        let missed = gauge.as_ref().is_some_and(|gauge| self.ledger.missed.contains(gauge));
        Some(Taken {
            entry: entry.number,
            figure: *taken,
            gauge: gauge.clone(),
            doubted: if doubts.is_empty() && !missed { Doubted::No } else { Doubted::Yes },
        })
    }

    /// The opening answers, later ones put in.
    pub fn opening(&self) -> &Opening {
        &self.ledger.opening
    }

    /// The limits in force, levels given later put in.
    pub fn sheet(&self) -> Option<&Sheet> {
        self.ledger.sheet.as_ref()
    }

    /// The gauge with this id.
    pub fn gauge(&self, id: &Id) -> Option<&Instrument> {
        self.ledger.instruments.iter().find(|gauge| gauge.id.same_as(id))
    }

    /// The gauge of a reading, where it was past its date on that day.
    pub fn past_date(&self, entry: &Entry) -> Option<&Instrument> {
        let Act::Reading { gauge: Some(id), .. } = &entry.act else { return None };
        self.gauge(id).filter(|gauge| gauge.is_past_date(entry.when().date()))
    }

    /// Every gauge known to the record.
    pub fn gauges(&self) -> &[Instrument] {
        &self.ledger.instruments
    }

    /// The person with this id.
    pub fn person(&self, id: &Id) -> Option<&Person> {
        self.ledger.people.iter().find(|person| person.id.same_as(id))
    }

    /// Everybody known to the record.
    pub fn people(&self) -> &[Person] {
        &self.ledger.people
    }

    /// Every part as fitted now, by its id.
    pub fn parts(&self) -> &BTreeMap<String, Fitted> {
        &self.ledger.parts
    }

    /// The part as fitted now.
    pub fn fitted(&self, part: &str) -> Option<&Fitted> {
        self.ledger.parts.get(part)
    }

    /// The part that was found, as it was fitted: by the records before, or identified late.
    pub fn found_fitted(&self, part: &str) -> Option<&Fitted> {
        self.ledger.found.get(part)
    }

    /// Whether the part was replaced during this inspection.
    pub fn is_replaced(&self, part: &str) -> bool {
        self.replaced_at(part).is_some()
    }

    /// The entry by which the part was replaced during this inspection.
    pub fn replaced_at(&self, part: &str) -> Option<u32> {
        self.ledger.replaced.get(part).copied()
    }

    pub(in crate::domain) fn ledger(&self) -> &Ledger {
        &self.ledger
    }

    pub(in crate::domain) fn ledger_mut(&mut self) -> &mut Ledger {
        &mut self.ledger
    }

    pub(in crate::domain) fn push(&mut self, entry: Entry) {
        self.entries.push(entry);
    }
}
