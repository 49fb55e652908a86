//! Whether a decision counts: made by somebody who may make it, about something that is there.
//!
//! Nothing is entered here that is not entitled. A copy that continues a record brings entries that were never asked for
//! here: those that are not entitled stay in the record, are said wherever they are shown, and count for nothing.

use std::collections::{BTreeMap, BTreeSet};

use super::entry::{Act, Entry, FindingMade, Remark};
use super::id::Id;
use super::inspection::Inspection;
use super::person::{Person, Role};
use super::refusal::{Refusal, RefusalKind};
use super::signing;
use super::standing::{Standing, signed_for};
use super::telling;
use super::verdict::Consequence;

/// Yes, or why not.
pub type May = Result<(), Refusal>;

/// Decisions that do not count, found as each was entered.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(in crate::domain) struct Passed {
    /// Entries that count for nothing, and why.
    pub(in crate::domain) over: BTreeMap<u32, RefusalKind>,
    /// Overrulings that count toward the safer side alone, and why.
    pub(in crate::domain) only_safer: BTreeMap<u32, RefusalKind>,
}

/// What is found of `entry`, which is to stand behind the others.
pub(in crate::domain) fn look(inspection: &Inspection, entry: &Entry) -> Passed {
    let one = |kind| BTreeMap::from([(entry.number, kind)]);
    if let Err(refusal) = may(inspection, entry) {
        return Passed { over: one(refusal.kind), ..Passed::default() };
    }
    let Act::Overrule { part, supervisor, .. } = entry.deed() else { return Passed::default() };
    match less_safe(inspection, part, supervisor) {
        Err(refusal) => Passed { only_safer: one(refusal.kind), ..Passed::default() },
        Ok(()) => Passed::default(),
    }
}

fn may(inspection: &Inspection, entry: &Entry) -> May {
    let (act, by) = (entry.deed(), entry.doer());
    if let Act::Countersign { sign, .. } = act {
        return countersign(inspection, *sign, by);
    }
    if let Act::Return { sign, remarks, .. } = act {
        return send_back(inspection, (*sign, remarks), by);
    }
    if let Act::Unjudged { supervisor, reason, .. } | Act::Plan { supervisor: Some(supervisor), reason, .. } = act {
        supervises(inspection, supervisor)?;
        worded(reason)?;
    }
    if let Act::Overrule { supervisor, reason, .. } = act {
        known_person(inspection, supervisor)?;
        worded(reason)?;
    }
    if let Act::Concession { part, about, .. } = act {
        concedes(inspection, (part, about), by)?;
    }
    if let Act::Strike { entry, .. } = act {
        strikes(inspection, *entry, by)?;
    }
    let decides = matches!(
        act,
        Act::Unjudged { .. }
            | Act::Overrule { .. }
            | Act::Concession { .. }
            | Act::Answer { .. }
            | Act::RemarkAnswered { .. }
            | Act::Sign(_)
    );
    if decides { known_person(inspection, by) } else { Ok(()) }
}

/// It takes a supervisor who has not signed, and a signature that holds.
///
/// # Errors
/// Who may not, and why.
pub fn countersign(inspection: &Inspection, number: u32, by: &Id) -> May {
    let sign = signed(inspection, number)?;
    supervises(inspection, by)?;
    if sign.doer().same_as(by) {
        return Err(RefusalKind::OwnSignature.into());
    }
    not_sent_back(inspection, number)?;
    if signing::is_shaken(inspection, number) { Err(RefusalKind::Shaken.into()) } else { Ok(()) }
}

/// It takes a supervisor and at least one remark in words.
///
/// # Errors
/// Who may not, and why.
pub fn send_back(inspection: &Inspection, (number, remarks): (u32, &[Remark]), by: &Id) -> May {
    signed(inspection, number)?;
    supervises(inspection, by)?;
    not_sent_back(inspection, number)?;
    if remarks.is_empty() {
        return Err(RefusalKind::NoWords.into());
    }
    remarks.iter().try_for_each(|remark| worded(&remark.text))
}

/// A crack, and what the rules have replaced, take a supervisor to be conceded; a referral anybody who is known enters, as
/// a claim.
///
/// # Errors
/// Who may not.
pub fn concedes(inspection: &Inspection, (part, about): (&str, &str), by: &Id) -> May {
    let replaces = match about.parse().ok().and_then(|number| inspection.entry(number)).map(|entry| &entry.act) {
        Some(Act::Finding(found)) => {
            let cracked = inspection.kind_of(found).is_some_and(|kind| kind.crack);
            cracked || inspection.consequence_of(found) == Consequence::Replace
        }
        Some(_) => false,
        None => Standing::replaces(inspection, part, about),
    };
    if replaces { supervises(inspection, by) } else { known_person(inspection, by) }
}

/// Toward the less safe side it takes a supervisor, and never goes for a crack.
///
/// # Errors
/// Who may not, or that a crack stands.
pub fn less_safe(inspection: &Inspection, part: &str, supervisor: &Id) -> May {
    supervises(inspection, supervisor)?;
    let cracked = inspection.standing_entries().any(|entry| {
        let Act::Finding(finding) = &entry.act else { return false };
        finding.part == part && inspection.kind_of(finding).is_some_and(|kind| kind.crack)
    });
    if cracked { Err(RefusalKind::NeverForCracks.into()) } else { Ok(()) }
}

/// What somebody has decided, and a crack that somebody has seen, is taken back by that person, or by a supervisor who
/// was known before the job began, where any was. Readings, ticks and looks are anybody's to strike and take again.
///
/// # Errors
/// Who may not.
pub fn strikes(inspection: &Inspection, number: u32, by: &Id) -> May {
    let Some(entry) = inspection.entry(number) else { return Ok(()) };
    let cracked = |found: &FindingMade| inspection.kind_of(found).is_some_and(|kind| kind.crack);
    let decided = matches!(
        entry.deed(),
        Act::Call { .. }
            | Act::Condemned { .. }
            | Act::Overrule { .. }
            | Act::Concession { .. }
            | Act::Level { .. }
            | Act::Given { .. }
    ) || matches!(entry.deed(), Act::Finding(found) if cracked(found));
    // what was typed on somebody's behalf is that person's once that person has signed for it
    let whose = signed_for(inspection, entry).unwrap_or(entry).doer();
    if !decided || whose.same_as(by) || decides(inspection, by) {
        return Ok(());
    }
    let why = format!("Entry {number} is {}'s to take back.", telling::name_of(inspection, whose));
    let mend = "Have that person strike it, or a supervisor known when the job began.";
    Err(RefusalKind::NoAnswer { why, mend }.into())
}

/// Whether this person is a supervisor whose word settles things: known before the job began, where any was.
pub fn decides(inspection: &Inspection, id: &Id) -> bool {
    let mut known = inspection.head().people.iter().filter(|one| one.is(Role::Supervisor)).peekable();
    let was_known = known.peek().is_none() || known.any(|one| one.id.same_as(id));
    was_known && supervises(inspection, id).is_ok()
}

/// Whether the record knows this person as a supervisor.
///
/// # Errors
/// Nobody of that name, or no supervisor.
pub fn supervises(inspection: &Inspection, id: &Id) -> May {
    known_person(inspection, id)?;
    let supervisor = inspection.person(id).is_some_and(|person| person.is(Role::Supervisor));
    if supervisor { Ok(()) } else { Err(RefusalKind::NoSupervisor(id.to_string()).into()) }
}

/// Whether a trainee may work under the eyes of this person: a fitter or a supervisor, whom the record knew when the job
/// began where it knew any. Anybody can enter a name since.
///
/// # Errors
/// Nobody of that name, or who may not.
pub fn watches(inspection: &Inspection, mentor: &Id) -> May {
    known_person(inspection, mentor)?;
    let name = telling::name_of(inspection, mentor);
    let no =
        |why| Err(RefusalKind::NoAnswer { why, mend: "Name another, or have a fitter sign: Esc, who is here." }.into());
    if !inspection.person(mentor).is_some_and(Person::may_watch) {
        return no(format!("{name} is no fitter and no supervisor, and watches nobody."));
    }
    let mut known = inspection.head().people.iter().filter(|one| one.may_watch()).peekable();
    if known.peek().is_none() || known.any(|one| one.id.same_as(mentor)) {
        return Ok(());
    }
    no(format!("{name} was not known here when the job began: only the record says who that is."))
}

/// Whether the record knows this person.
///
/// # Errors
/// Nobody of that name.
pub fn known_person(inspection: &Inspection, id: &Id) -> May {
    if inspection.person(id).is_some() { Ok(()) } else { Err(RefusalKind::UnknownPerson { id: id.to_string() }.into()) }
}

/// Whether anything is written.
///
/// # Errors
/// Nothing is.
pub fn written(text: &str) -> May {
    if text.trim().is_empty() { Err(RefusalKind::NoWords.into()) } else { Ok(()) }
}

/// Whether there are words: a point, a number of a list or a single letter says nothing.
///
/// # Errors
/// There are none.
pub fn worded(text: &str) -> May {
    let letters = text.chars().filter(|one| one.is_alphabetic()).count();
    if letters < 2 { Err(RefusalKind::NoWords.into()) } else { Ok(()) }
}

/// Words that answer other questions, or none: where lines come from a file, one too many slips into the next.
const NO_REASON: [&str; 26] = [
    "no",
    "not here",
    "not yet",
    "done",
    "again",
    "insist",
    "in",
    "out",
    "nothing more",
    "n/a",
    "na",
    "none",
    "nothing",
    "later",
    "sign",
    "seen",
    "skip",
    "leave",
    "back",
    "newest",
    "as above",
    "same as above",
    "see above",
    "see below",
    "as before",
    "ditto",
];

/// Words that say yes, and nothing more however many of them stand in a row: `it is ok`.
const YES: [&str; 13] =
    ["yes", "yep", "ok", "okay", "fine", "good", "right", "it", "it's", "is", "all", "that", "this"];

/// Whether a text is nothing but yes or no: the answer to another question.
pub fn is_yes_or_no(text: &str) -> bool {
    let any_of = |words: &[&str], one: &str| words.iter().any(|word| word.eq_ignore_ascii_case(one));
    let mut words = text.split(|one: char| one.is_whitespace() || ".,;!".contains(one)).filter(|word| !word.is_empty());
    any_of(&["no"], text.trim()) || words.all(|word| any_of(&YES, word))
}

/// Whether a reason says something: no word alone by which another question is answered, or none.
///
/// # Errors
/// It does not.
pub fn reasoned(text: &str) -> May {
    worded(text)?;
    let said = text.trim_matches(|one: char| one.is_whitespace() || ".,;!".contains(one));
    if !is_yes_or_no(said) && !NO_REASON.iter().any(|word| word.eq_ignore_ascii_case(said)) {
        return Ok(());
    }
    let why = format!("`{said}` gives no reason.");
    Err(RefusalKind::NoAnswer { why, mend: "Say why in a few words." }.into())
}

/// How many words there are.
pub fn words(text: &str) -> usize {
    text.split_whitespace().filter(|word| word.chars().any(char::is_alphabetic)).count()
}

/// The same of what stands in the place of a picture: a single word tells nobody why there is none.
///
/// # Errors
/// It does not say so.
pub fn excuses_picture(text: &str) -> May {
    reasoned(text)?;
    if words(text) > 1 {
        return Ok(());
    }
    let why = format!("`{}` does not say why there is no picture.", text.trim());
    Err(RefusalKind::NoAnswer { why, mend: "Say why in two words or more, or attach the picture." }.into())
}

/// The same of a plan: it may be as it was.
///
/// # Errors
/// It says nothing.
pub fn reasoned_plan(text: &str) -> May {
    if text.trim().eq_ignore_ascii_case("as before") { Ok(()) } else { reasoned(text) }
}

fn signed(inspection: &Inspection, number: u32) -> Result<&Entry, Refusal> {
    let entry = inspection.entry(number).filter(|entry| matches!(entry.act, Act::Sign(_)));
    let entry = entry.filter(|entry| inspection.passed_over(entry.number).is_none());
    entry.ok_or_else(|| RefusalKind::NoSuchEntry { entry: number }.into())
}

fn not_sent_back(inspection: &Inspection, number: u32) -> May {
    if signing::sent_back(inspection, number).is_some() { Err(RefusalKind::SentBack.into()) } else { Ok(()) }
}

/// Every decision that stands in the record and does not count, by its entry: what it says, who made it, why it does not.
pub fn told(inspection: &Inspection) -> BTreeMap<u32, String> {
    let mut all: BTreeMap<u32, RefusalKind> = inspection.passed().over.clone();
    let parts: BTreeSet<_> =
        inspection.passed().only_safer.keys().filter_map(|number| part_of(inspection, *number)).collect();
    for part in parts {
        let refused = Standing::of_part(inspection, part).map(|part| part.not_overruled).unwrap_or_default();
        let why = |number| Some((number, inspection.passed().only_safer.get(&number)?.clone()));
        all.extend(refused.into_iter().filter_map(why));
    }
    let told = all.into_iter().filter_map(|(number, why)| {
        let entry = inspection.entry(number)?;
        let (what, who) = (telling::of_deed(inspection, entry), telling::hands_of(inspection, entry));
        Some((number, format!("Entry {number} does not count: {what}, {who}. {}", why.what())))
    });
    told.collect()
}

fn part_of(inspection: &Inspection, number: u32) -> Option<&str> {
    inspection.entry(number)?.deed().part()
}
