//! A record as it is read by somebody who was not there, and what can be done with it. The same for screen and line mode.

use crate::domain::entry::{Act, Remark};
use crate::domain::id::Id;
use crate::domain::inspection::Inspection;
use crate::domain::person::{Person, Role};
use crate::domain::review::{Item, Photos, Review};
use crate::domain::signing;
use crate::domain::stamp::long_day;
use crate::domain::standing::Standing;
use crate::domain::telling::name_of;
use crate::domain::verdict::{Consequence, Disposition};
use crate::records::store::ReviewDraft;

/// A record to read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Reading {
    /// Its file.
    pub file: String,
    /// It, every entry applied.
    pub inspection: Inspection,
    /// All verdicts.
    pub standing: Standing,
    /// Every page.
    pub review: Review,
    /// The chain value behind each entry.
    pub chains: Vec<String>,
    /// Everybody who could review: the record's people, then this machine's.
    pub people: Vec<Person>,
    /// Who reviews, where that was said.
    pub by: Option<Id>,
    /// Something to be said about the file, such as lines that were changed outside.
    pub remark: Option<String>,
    /// What somebody who read it before has not sent.
    pub unsent: Option<ReviewDraft>,
}

/// A signature that waits for its countersignature.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Pending {
    /// Its entry.
    pub entry: u32,
    /// The chain value behind it.
    pub chain: String,
    /// Who signed.
    pub by: Id,
    /// `the decisions, signed by fitter A on 12 July 2024, 16:20`.
    pub words: String,
}

impl Pending {
    /// Its countersignature.
    pub fn countersign(self) -> Act {
        Act::Countersign { sign: self.entry, chain: self.chain }
    }
}

/// What a concession says, and what it allows; asked in this order, after the line that it is about.
pub const CONCESSION: [&str; 4] = ["who gave it", "which document", "under which conditions", "until when"];

/// What a concession may allow.
pub const ALLOWS: [Consequence; 4] =
    [Consequence::Nothing, Consequence::Watch, Consequence::Rework, Consequence::Replace];

impl Reading {
    /// Everything about a record that its file says, and the record before it where that is at hand; `people` are this
    /// machine's.
    pub fn new(
        file: String,
        (inspection, before): (Inspection, Option<&Inspection>),
        chains: Vec<String>,
        photos: &Photos,
        people: Vec<Person>,
    ) -> Self {
        let standing = Standing::of(&inspection);
        let review = Review::of(&inspection, &standing, photos, before);
        let strangers = people.into_iter().filter(|person| inspection.person(&person.id).is_none());
        let people = inspection.people().iter().cloned().chain(strangers).collect();
        Self { file, standing, review, chains, people, by: None, remark: None, unsent: None, inspection }
    }

    /// Signatures that wait, the decisions before the close.
    pub fn pending(&self) -> Vec<Pending> {
        let waiting = signing::countersign_pending(&self.inspection).into_iter();
        let pending = waiting.filter_map(|entry| {
            let place = self.inspection.entries().iter().position(|one| one.number == entry.number)?;
            let Act::Sign(signature) = &entry.act else { return None };
            let (name, day) = (name_of(&self.inspection, &entry.by), long_day(entry.at.date()));
            Some(Pending {
                entry: entry.number,
                chain: self.chains.get(place)?.clone(),
                by: entry.by.clone(),
                words: format!("the {}, signed by {name} on {day}, {}", signature.what.word(), entry.at.clock()),
            })
        });
        pending.collect()
    }

    /// Supervisors who could decide here.
    pub fn supervisors(&self) -> impl Iterator<Item = &Person> {
        self.people.iter().filter(|person| person.is(Role::Supervisor))
    }

    /// What waits and was signed by somebody else; all of it where all is one's own, and `decide` says why not.
    pub fn to_countersign(&self, by: &Id) -> Vec<Pending> {
        let all = self.pending();
        let others: Vec<_> = all.iter().filter(|one| !one.by.same_as(by)).cloned().collect();
        if others.is_empty() { all } else { others }
    }

    /// The last signature sent back with these remarks.
    pub fn send_back(&self, remarks: Vec<Remark>) -> Option<Act> {
        self.pending().pop().map(|one| Act::Return { sign: one.entry, chain: one.chain, remarks })
    }

    /// A concession about a line that was referred; `answers` in the order of [`CONCESSION`], then what it allows.
    pub fn concession(item: &Item, answers: &[String]) -> Option<Act> {
        let [who, document, conditions, until, allows] = answers else { return None };
        Some(Act::Concession {
            part: item.part.clone()?,
            about: item.about.clone()?,
            who: who.clone(),
            document: document.clone(),
            conditions: conditions.clone(),
            until: until.clone(),
            allows: ALLOWS.into_iter().find(|one| one.word() == allows)?,
        })
    }

    /// Another disposition for a part, by a named supervisor; `answers` are part, disposition, supervisor, reason.
    pub fn overrule(&self, answers: &[String]) -> Option<Act> {
        let [part, to, supervisor, reason] = answers else { return None };
        let part = self.standing.parts.iter().find(|one| one.id == *part || one.short == *part)?.id.clone();
        let supervisor = self.id_of(supervisor)?;
        Some(Act::Overrule { part, to: Disposition::parse(to)?, supervisor, reason: reason.clone() })
    }

    /// The id of somebody named by name or id.
    pub fn id_of(&self, named: &str) -> Option<Id> {
        let is = |person: &&Person| person.name == named || person.id.as_str().eq_ignore_ascii_case(named);
        self.people.iter().find(is).map(|person| person.id.clone())
    }
}
