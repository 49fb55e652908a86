//! A record as it is read by somebody who was not there, and what can be done with it. The same for screen and line mode.

use std::collections::BTreeMap;

use crate::domain::apply::apply;
use crate::domain::decide::decide;
use crate::domain::entitled::{concedes, less_safe};
use crate::domain::entry::{Act, Entry, Remark};
use crate::domain::id::Id;
use crate::domain::inspection::Inspection;
use crate::domain::person::{Person, Role};
use crate::domain::refusal::Refusal;
use crate::domain::request::{Decision, Hand, Request};
use crate::domain::review::{Difference, Item, Kept, Review, claim_words, key_words, signature_words, that_counts};
use crate::domain::signing;
use crate::domain::standing::{PartStanding, Standing, approved_with, behind_claims};
use crate::domain::stranger::to_introduce;
use crate::domain::telling::{hands_of, of_entry};
use crate::domain::until;
use crate::domain::verdict::Disposition;
use crate::records::store::{ReviewDraft, at_words};

use super::acts::id_of;

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
    /// What its files say.
    pub kept: Kept,
    /// What somebody who read it before has not sent.
    pub unsent: Option<ReviewDraft>,
    /// Supervisors whom this machine knows.
    pub supervisors_here: Vec<Id>,
    /// From which entry on it was changed outside, 0 in its line ends, until somebody has said that this was seen.
    pub outside: Option<u32>,
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
    pub title: String,
    /// The same, whether there is a key, and what has changed since.
    pub words: String,
}

impl Pending {
    /// Its countersignature.
    pub fn countersign(self) -> Act {
        Act::Countersign { sign: self.entry, chain: self.chain }
    }
}

/// What a concession says, and what it allows; asked in this order, after the line that it is about.
pub const CONCESSION: [&str; 5] = [
    "who gave it",
    "which document",
    "under which conditions",
    "until when: a day such as 2031-04-17, hours such as 36000 h, or the next opening",
    "what it allows at worst",
];

impl Reading {
    /// Everything about a record that its files say; `people` are this machine's.
    pub fn new(file: String, inspection: Inspection, chains: Vec<String>, kept: Kept, people: &[Person]) -> Self {
        let standing = that_counts(&inspection);
        let review = Review::of(&inspection, &standing, &kept);
        let here = people.iter().filter(|person| person.is(Role::Supervisor));
        let supervisors_here = here.map(|person| person.id.clone()).collect();
        // whom only this machine knows, or as more than the record does
        let more: Vec<_> = people.iter().filter_map(|person| to_introduce(people, &inspection, &person.id)).collect();
        let known = inspection.people().iter().filter(|known| !more.iter().any(|one| one.id.same_as(&known.id)));
        let people = known.chain(&more).cloned().collect();
        let (by, unsent, outside) = (None, None, None);
        Self { file, inspection, standing, review, chains, people, by, kept, unsent, supervisors_here, outside }
    }

    /// The chain value behind the last entry: what is decided now is decided looking at this.
    pub fn shown(&self) -> &str {
        self.chains.last().map_or("", String::as_str)
    }

    /// Signatures that wait, the decisions before the close.
    pub fn pending(&self) -> Vec<Pending> {
        let waiting: BTreeMap<_, _> = signing::pending_here(&self.inspection, &self.kept.strange)
            .into_iter()
            .chain(behind_claims(&self.inspection))
            .map(|entry| (entry.number, entry))
            .collect();
        let pending = waiting.into_values().filter_map(|entry| {
            let place = self.inspection.entries().iter().position(|one| one.number == entry.number)?;
            let Act::Sign(signature) = &entry.act else { return None };
            let title = signature_words(&self.inspection, entry, signature.what);
            let key = key_words(&self.kept.keyed, entry.number);
            let shaken = signing::is_shaken(&self.inspection, entry.number).then(|| "CHANGED OUTSIDE since".to_owned());
            let since = self.review.since.iter().filter(|one| one.entry == entry.number).map(Difference::since_words);
            let since: Vec<_> = shaken.into_iter().chain(since).collect();
            let since = if since.is_empty() { String::new() } else { format!("; ! since then: {}", since.join("; ")) };
            Some(Pending {
                entry: entry.number,
                chain: self.chains.get(place)?.clone(),
                by: entry.by.clone(),
                words: format!("{title}, {key}{since}"),
                title,
            })
        });
        pending.collect()
    }

    /// What page 1 warns of, said once more before a name is put under the record.
    pub fn warned(&self) -> impl Iterator<Item = String> {
        self.review.warnings.iter().map(|warning| format!("! {warning}"))
    }

    /// Supervisors who could decide here.
    pub fn supervisors(&self) -> impl Iterator<Item = &Person> {
        self.people.iter().filter(|person| person.is(Role::Supervisor))
    }

    /// The one supervisor, of those whom this machine knows or else of the record's, who has signed nothing that waits; none
    /// where several may be meant: nobody signs under the name of another for having overlooked it.
    pub fn only_supervisor(&self) -> Option<&Person> {
        let pending = self.pending();
        let mut others: Vec<_> =
            self.supervisors().filter(|person| !pending.iter().any(|one| one.by.same_as(&person.id))).collect();
        if others.iter().any(|person| self.supervisors_here.contains(&person.id)) {
            others.retain(|person| self.supervisors_here.contains(&person.id));
        }
        others.pop().filter(|_| others.is_empty())
    }

    /// What waits for this hand: signed by somebody else, and not countersigned by this one already; all of it where that is
    /// nothing, and `decide` says why not.
    pub fn to_countersign(&self, by: &Id) -> Vec<Pending> {
        let all = self.pending();
        let done = |one: &&Pending| one.by.same_as(by) || signing::has_countersigned(&self.inspection, one.entry, by);
        let others: Vec<_> = all.iter().filter(|one| !done(one)).cloned().collect();
        if others.is_empty() { all } else { others }
    }

    /// What countersigning these approves besides, a line each: decisions that so far are only claimed.
    pub fn approves(&self, which: &[Pending], by: &Id) -> Vec<String> {
        let last = which.iter().map(|one| one.entry).max().unwrap_or(0);
        let claims = approved_with(&self.inspection, last, by).into_iter();
        claims.map(|claim| format!("! approves besides: {}", claim_words(&self.inspection, claim))).collect()
    }

    /// Why no signature waits: for a countersignature, then for a remark.
    pub fn none_waits(&self) -> [&'static str; 2] {
        if signing::standing_signatures(&self.inspection).next().is_some() {
            return ["no signature waits"; 2];
        }
        if signing::open_remarks(&self.inspection).is_empty() {
            return ["not signed: the fitter signs first"; 2];
        }
        ["sent back: the fitter signs again first", "sent back already: add it when the fitter has signed again"]
    }

    /// What is sent back with remarks: the last signature that waits.
    pub fn sent_back(&self) -> String {
        self.pending().pop().map_or_else(|| "nothing".to_owned(), |one| one.title)
    }

    /// The step where a remark on a line starts: its own, or the one that made its part so.
    pub fn step_of(&self, item: &Item) -> Option<String> {
        let of_part = || self.review.lines.iter().find(|line| Some(&line.part) == item.part.as_ref());
        item.step.clone().or_else(|| of_part()?.step.clone())
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
            allows: Disposition::parse(allows)?.into(),
        })
    }

    /// What becomes of a part by a decision on it, before it is entered; how the end of a concession is understood.
    pub fn outcome(&self, by: &Id, act: &Act) -> Vec<String> {
        let mut lines = Vec::new();
        if let Act::Concession { until, .. } = act {
            lines.push(format!("until {until}: {}", until::understood(until)));
        }
        let (mut then, hand) = self.knowing(by);
        if let (Some(part), Decision::Take(entry)) = (act.part(), decide(&then, &Request::Do(act.clone()), &hand)) {
            drop(apply(&mut then, *entry));
            let told = |part: Option<&PartStanding>| part.map(in_words).unwrap_or_default();
            let (now, then) = (told(self.standing.part(part)), told(Standing::of_part(&then, part).as_ref()));
            lines.push(format!("now:  {now}"));
            lines.push(format!("then: {then}"));
        }
        lines
    }

    /// Whether `by` may enter a concession on this line at all: nobody answers six questions to be refused then.
    ///
    /// # Errors
    /// Who may not.
    pub fn may_concede(&self, by: &Id, item: &Item) -> Result<(), Refusal> {
        let about = item.part.as_deref().zip(item.about.as_deref());
        about.map_or(Ok(()), |about| concedes(&self.knowing(by).0, about, by))
    }

    /// The record as it stands once it knows `by`, who is introduced first where only this machine does; with the hand.
    fn knowing(&self, by: &Id) -> (Inspection, Hand) {
        let at = self.inspection.entries().last().map_or(self.inspection.head().begun, |last| last.at);
        let hand = Hand { by: by.clone(), writer: None, at, late: None, break_hours: u32::MAX / 3600 };
        let mut known = self.inspection.clone();
        if let Some(person) = to_introduce(&self.people, &known, by)
            && let Decision::Take(entry) = decide(&known, &Request::Do(Act::Person(person)), &hand)
        {
            drop(apply(&mut known, *entry));
        }
        (known, hand)
    }

    /// Another disposition for a part; `answers` are part, disposition, who decides, reason.
    pub fn overrule(&self, answers: &[String]) -> Option<Act> {
        let [part, to, supervisor, reason] = answers else { return None };
        let part = self.part(part)?.id.clone();
        let supervisor = self.id_of(supervisor)?;
        Some(Act::Overrule { part, to: Disposition::parse(to)?, supervisor, reason: reason.clone() })
    }

    /// Whether this is toward the safer side: who enters it decides, no supervisor is asked for.
    pub fn is_safer(&self, part: &str, to: &str) -> bool {
        self.part(part).zip(Disposition::parse(to)).is_some_and(|(part, to)| part.is_safer(to))
    }

    /// Why nobody at all may overrule the part to this; none where a supervisor may.
    pub fn is_never(&self, part: &str, to: &str) -> Option<Refusal> {
        let any = self.inspection.people().iter().find(|person| person.is(Role::Supervisor))?;
        let refused = less_safe(&self.inspection, &self.part(part)?.id, &any.id).err();
        refused.filter(|_| !self.is_safer(part, to))
    }

    /// The last entry of this hand that could be signed by key and is not, or not by a good one: its number, and what it
    /// says. Nobody signs what another has entered.
    pub fn keyless(&self, by: &Id) -> Option<(u32, String)> {
        let waits = |number: &u32| !self.kept.keyed.contains_key(number) || self.kept.rekey.contains(number);
        let takes_key = |entry: &&Entry| entry.deed().takes_key() && entry.doer().same_as(by) && waits(&entry.number);
        let entry = self.inspection.entries().iter().rfind(takes_key)?;
        let who = hands_of(&self.inspection, entry);
        Some((entry.number, format!("entry {}, {}, {who}", entry.number, of_entry(&self.inspection, entry))))
    }

    /// Who has entered what waits for a key: who reviews, or everybody while that was not said.
    pub fn keyless_people(&self) -> impl Iterator<Item = &Person> {
        let reviews = |person: &&Person| self.by.as_ref().is_none_or(|by| by.same_as(&person.id));
        self.people.iter().filter(reviews).filter(|person| self.keyless(&person.id).is_some())
    }

    /// Parts that can be overruled.
    pub fn parts(&self) -> impl Iterator<Item = &PartStanding> {
        self.standing.parts.iter().filter(|part| part.can_be_overruled())
    }

    /// The one of that id, or of that name, in full or as in tables.
    pub fn part(&self, named: &str) -> Option<&PartStanding> {
        let is = |name: &str| name.eq_ignore_ascii_case(named);
        self.parts().find(|one| is(&one.id) || is(&one.short) || is(&one.name))
    }

    /// That the change from outside was seen, by somebody who is introduced first where nobody here knows the name; who
    /// that is. None where nothing was changed, or where the name holds no letter.
    pub fn seen(&self, named: &str, note: &str) -> Option<(Id, Vec<Act>)> {
        let seen = Act::seen(self.outside?, note.to_owned());
        if let Some(known) = self.id_of(named) {
            return Some((known, vec![seen]));
        }
        let id = id_of(named)?;
        let new = Person { id: id.clone(), name: named.to_owned(), roles: vec![Role::Fitter], keys: Vec::new() };
        Some((id, vec![Act::Person(new), seen]))
    }

    /// What must be said before anything is written; none where nothing was changed outside.
    pub fn outside_words(&self) -> Option<String> {
        let at = at_words(self.outside?);
        Some(format!("Changed outside {at}: nothing is written before somebody has said, by name, that this was seen."))
    }

    /// The id of somebody named by name or id.
    pub fn id_of(&self, named: &str) -> Option<Id> {
        self.people.iter().find(|person| person.is_called(named)).map(|person| person.id.clone())
    }
}

/// `> shaft: watch; referred`.
fn in_words(part: &PartStanding) -> String {
    let (sign, words) = part.told();
    let mut said = vec![format!("{sign} {}: {words}", part.short)];
    said.extend(part.verdict.holds.iter().map(|hold| hold.word().to_owned()));
    said.dedup();
    said.join("; ")
}
