//! Who is here, and answers that the head could not yet hold.

use std::collections::BTreeMap;

use crate::domain::entry::Act;
use crate::domain::inspection::{Arrives, Manual, Opening};
use crate::domain::person::{Person, Role};
use crate::domain::request::Request;
use crate::domain::stamp::Stamp;
use crate::domain::unit::Unit;

use super::super::inquiry::{Answers, Reply, Stop, day, figure, id};
use super::super::step::act;
use super::super::{Deed, Session};

impl Session {
    /// Who stands for what is entered from now on, and who writes.
    pub(super) fn who(&self, answers: &mut Answers<'_>) -> Reply<Deed> {
        let names: Vec<_> =
            self.inspection.people().iter().map(|person| format!("{}, {}", person.id, person.name)).collect();
        let index = answers.choose("who takes the readings and stands for them", &names)?;
        let by = self.inspection.people().get(index).map_or_else(|| self.by.clone(), |person| person.id.clone());
        let typed = answers.maybe_with("who writes, its id, empty for the same", id)?;
        let writer = typed.filter(|writer| !writer.same_as(&by));
        if let Some(writer) = writer.as_ref().filter(|writer| self.inspection.person(writer).is_none()) {
            return Err(Stop::Wrong(format!("Nobody here is known as `{writer}`. Enter the person first.")));
        }
        Ok(Deed::Hands(by, writer))
    }
}

/// Somebody new: id, name, what they are.
pub(in super::super) fn enter(answers: &mut Answers<'_>) -> Reply<Person> {
    let id = answers.with("the id entries will carry, such as initials", id)?;
    let name = answers.sentence("the name shown")?;
    let roles: Vec<_> = Role::ALL.iter().map(|role| role.word().to_owned()).collect();
    let index = answers.choose("what they are", &roles)?;
    let roles = Role::ALL.get(index).copied().into_iter().collect();
    Ok(Person { id, name, roles, keys: Vec::new() })
}

pub(super) fn entered(person: Person) -> Deed {
    act(Act::Person(person))
}

/// Whatever of the opening can be answered now; an empty line leaves it as it was.
pub(super) fn opening(now: Stamp, answers: &mut Answers<'_>) -> Reply<Deed> {
    let opening = answers_of_opening((&Opening::default(), None), now, answers)?;
    if opening == Opening::default() {
        return Ok(Deed::Say(vec!["Nothing was answered.".to_owned()]));
    }
    Ok(act(Act::Opening(Box::new(opening))))
}

/// Every opening answer that `known` does not hold, each of which may be later; the last manual is offered.
pub(in super::super) fn answers_of_opening(
    (known, last): (&Opening, Option<&Manual>),
    now: Stamp,
    answers: &mut Answers<'_>,
) -> Reply<Opening> {
    let mut opening = known.clone();
    let text = |text: &str| Ok(text.to_owned());
    if opening.machine_hours.is_none() {
        opening.machine_hours = answers.maybe_with("hours of the machine, h, empty for later", figure(Unit::Hour))?;
    }
    if opening.part_hours.is_empty() {
        opening.part_hours = part_hours(answers)?;
    }
    if opening.reason.is_none() {
        opening.reason = answers.maybe_with("why it is opened, empty for later", text)?;
    }
    if opening.arrives.is_none() {
        opening.arrives = arrives(answers)?;
    }
    if opening.manual.is_none() {
        opening.manual = manual(last, now, answers)?;
    }
    if opening.letters.is_none() {
        let asked = "service letters looked up today: which, or `no letters`; empty for later";
        opening.letters = answers.maybe_with(asked, text)?;
    }
    if opening.next_hours.is_none() {
        let asked = "machine hours planned for the next opening, h, empty for later";
        opening.next_hours = answers.maybe_with(asked, figure(Unit::Hour))?;
    }
    if opening.next_date.is_none() {
        opening.next_date = answers.maybe_with("day planned for it, such as 2031-04-17, empty for later", day)?;
    }
    Ok(opening)
}

fn arrives(answers: &mut Answers<'_>) -> Reply<Option<Arrives>> {
    let ways = Arrives::ALL.map(Arrives::word).join(", ");
    answers.maybe_with(&format!("how it comes ({ways}), empty for later"), |text| {
        let like = Arrives::ALL.into_iter().find(|way| way.word().eq_ignore_ascii_case(text));
        like.ok_or_else(|| format!("`{text}` is none of: {ways}."))
    })
}

/// The manual as it lies on the bench today; the last one is taken by the word `same`.
fn manual(last: Option<&Manual>, now: Stamp, answers: &mut Answers<'_>) -> Reply<Option<Manual>> {
    let offered = last
        .map(|last| format!(", `same` for {}, edition {}, looked up today", last.title, last.edition))
        .unwrap_or_default();
    let title =
        answers.maybe_with(&format!("title of the manual{offered}, empty for later"), |text| Ok(text.to_owned()))?;
    let checked = now.date();
    match (title, last) {
        (None, _) => Ok(None),
        (Some(word), Some(last)) if word.eq_ignore_ascii_case("same") => Ok(Some(Manual { checked, ..last.clone() })),
        (Some(title), _) => {
            let edition = answers.sentence("its edition, looked up today")?;
            Ok(Some(Manual { title, edition, checked }))
        }
    }
}

/// `bush.ts 12130 h, nozzle 12130 h`; a part of which nothing is said runs with the machine.
fn part_hours(answers: &mut Answers<'_>) -> Reply<BTreeMap<String, crate::domain::figure::Figure>> {
    let asked = "hours of parts of their own, such as `bush.ts 12130; nozzle 12130`, empty for none or as known";
    let hours = answers.maybe_with(asked, |text| {
        let one = |pair: &str| {
            let (part, hours) =
                pair.trim().split_once(' ').ok_or_else(|| format!("`{pair}` is no part with its hours."))?;
            Ok((part.to_owned(), figure(Unit::Hour)(hours)?))
        };
        text.split(';').map(one).collect::<Result<BTreeMap<_, _>, String>>()
    })?;
    Ok(hours.unwrap_or_default())
}

/// The next opening, planned anew.
pub(super) fn plan(answers: &mut Answers<'_>) -> Reply<Deed> {
    let hours = answers.maybe_with("machine hours of the next opening, h, empty to leave it", figure(Unit::Hour))?;
    let date = answers.maybe_with("day of the next opening, empty to leave it", day)?;
    let reason = answers.sentence("why")?;
    Ok(Deed::Ask(vec![Request::Do(Act::Plan { hours, date, reason })]))
}

/// Nothing is written into a record that was changed outside before somebody has said, by name, that it was seen.
pub(super) fn outside(entry: u32, name: &str, answers: &mut Answers<'_>) -> Reply<Deed> {
    let at = if entry == 0 { "its line ends were turned".to_owned() } else { format!("from entry {entry} on") };
    let asked = format!("the record was changed outside this program, {at}. Seen by {name}");
    answers.word(&asked, &["seen"])?;
    let note = answers.sentence("what was seen, and what became of it")?;
    Ok(act(Act::SeenOutside { from: Some(entry).filter(|entry| *entry > 0), note }))
}
