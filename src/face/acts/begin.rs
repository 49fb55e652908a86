//! Beginning a record: which rotor, who, hours, and the opening answers. Rotor, hours and a name are enough to begin;
//! every other answer may be later. What is known is offered, never taken silently.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use crate::domain::figure::Figure;
use crate::domain::hours;
use crate::domain::id::Id;
use crate::domain::inspection::{Doubted, Manual, Opening};
use crate::domain::person::{Person, Role};
use crate::domain::rotor::{Fitted, Rotor, is_same_number};
use crate::domain::stamp::{Stamp, long_day};

use super::super::inquiry::{Answers, Reply, Stop, id, named, refused};
use super::opening::hours_of;
use super::{KnownOpening, answers_of_opening, enter_person, id_of};

/// What the folder knows before anything is asked.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Known {
    /// Every rotor, and what its last record tells.
    pub rotors: Vec<(Rotor, Last)>,
    /// Everybody.
    pub people: Vec<Person>,
    /// Every checklist.
    pub checklists: Vec<Scope>,
    /// Machine types whose limits sheets are invented ones.
    pub invented: Vec<Id>,
    /// Every machine type that has a limits sheet.
    pub sheets: Vec<Id>,
    /// Machine types whose sheets cannot be read, with what is wrong there.
    pub faulty: Vec<(String, String)>,
}

/// A checklist: what an inspection takes in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Scope {
    /// Its name.
    pub id: Id,
    /// What it is called.
    pub title: String,
    /// Its parts by their ids.
    pub parts: Vec<String>,
}

/// What a rotor's last record tells.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Last {
    /// A record begun and not closed.
    pub unfinished: Option<String>,
    /// The manual then; offered, never taken silently.
    pub manual: Option<Manual>,
    /// Hours of the machine then.
    pub hours: Option<Figure>,
    /// The day of it.
    pub day: Option<NaiveDate>,
    /// Whether it was changed outside since: what it tells is to be looked at.
    pub changed: bool,
    /// Parts as fitted then.
    pub parts: BTreeMap<String, Fitted>,
}

/// Answers that came before the first question.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Given {
    /// Which rotor.
    pub rotor: Option<Id>,
    /// Its serial number, typed from the part.
    pub serial: Option<String>,
    /// Who begins.
    pub by: Option<Id>,
    /// Which checklist.
    pub checklist: Option<String>,
    /// Opening answers.
    pub opening: Opening,
    /// Hours of the parts, in words.
    pub part_hours: Option<String>,
    /// What becomes of the answers that are missing.
    pub rest: Rest,
    /// Whether a rotor entered now is an invented one.
    pub invented: Invented,
}

/// What becomes of opening answers that did not come before.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Rest {
    /// They are asked, one by one.
    #[default]
    Asked,
    /// They are left for later, and hold until they are given.
    Later,
}

/// Whether a rotor entered now is an invented one.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Invented {
    /// A machine of somebody's.
    #[default]
    No,
    /// For trying out; every screen and file says so.
    Yes,
}

/// What a record begins with.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Beginning {
    /// The rotor; one that the folder does not know goes into it.
    pub rotor: Rotor,
    /// Who begins; somebody whom the folder does not know goes into it.
    pub by: Person,
    /// Which checklist.
    pub checklist: Id,
    /// The opening answers so far.
    pub opening: Opening,
}

/// What the answers come to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Begun {
    /// A new record.
    New(Box<Beginning>),
    /// The record that is not closed is gone on with.
    GoOn(String),
}

/// The answers, or the next question.
///
/// # Errors
/// The next question, or why the last answer will not do.
pub fn beginning(known: &Known, given: &Given, answers: &mut Answers<'_>, now: Stamp) -> Reply<Begun> {
    let id = match &given.rotor {
        Some(id) => id.clone(),
        None => which(known, answers)?,
    };
    let found = known.rotors.iter().find(|(rotor, _)| rotor.id.same_as(&id));
    let (rotor, last) = match found {
        Some((rotor, last)) => {
            may_be_judged(known, rotor)?;
            parts_are_known(known, rotor)?;
            (known_rotor(known, rotor, given, answers)?, last.clone())
        }
        None => (new_rotor(id, known, given, answers)?, Last::default()),
    };
    if last.unfinished.is_none() {
        unjudged(known, &rotor, answers)?;
    }
    if let Some(unfinished) = &last.unfinished {
        let asked = format!("{unfinished} is begun and not closed. Go on with it, or begin another");
        if answers.word(&asked, &["go on", "another"])? == 0 {
            return Ok(Begun::GoOn(unfinished.clone()));
        }
    }
    right_day(&last, now, answers)?;
    let by = who(known, given, answers)?;
    let (machine, doubted) = machine_hours(given.opening.machine_hours, (&last, &rotor), now, answers)?;
    let mut opening = Opening { machine_hours: Some(machine), ..given.opening.clone() };
    if doubted == Doubted::Yes {
        opening.doubts.push(hours::doubt_of(machine, last.hours.or(hours::at_fitting(&rotor.parts))));
    }
    // a plan that came before the questions; one that is typed is refused at its own
    hours::planned(&opening, now.date()).map_err(|refusal| Stop::Wrong(refused(&refusal)))?;
    let scope = checklist(known, given, answers)?;
    let hours = hours::known_of(&last.parts, machine, last.hours);
    let known = KnownOpening {
        opening: &opening,
        manual: last.manual.as_ref(),
        part_hours: given.part_hours.as_deref(),
        parts: &scope.parts,
        hours: &hours,
        last: last.hours.zip(last.day),
    };
    let opening = answers_of_opening((known, given.rest), now, answers)?;
    Ok(Begun::New(Box::new(Beginning { rotor, by, checklist: scope.id.clone(), opening })))
}

/// A clock that stands before the last opening dates every entry wrongly, and no wear is reckoned by it.
fn right_day(last: &Last, now: Stamp, answers: &mut Answers<'_>) -> Reply<()> {
    let Some(day) = last.day.filter(|day| *day > now.date()) else { return Ok(()) };
    let (last, today) = (long_day(day), long_day(now.date()));
    let asked =
        format!("The last opening was begun on {last}, and this computer's clock says {today}. Begin all the same");
    if answers.word(&asked, &["not yet", "begin"])? == 0 {
        return Err(Stop::Wrong("Set the clock first: every entry carries its time.".to_owned()));
    }
    Ok(())
}

/// Hours that are odd beside the last opening's are asked about once: a digit too few or too many moves every forecast.
fn machine_hours(
    given: Option<Figure>,
    (last, rotor): (&Last, &Rotor),
    now: Stamp,
    answers: &mut Answers<'_>,
) -> Reply<(Figure, Doubted)> {
    let hours = match given {
        Some(hours) => hours,
        None => answers.with(&asked_hours(last), hours_of)?,
    };
    hours::possible(&[hours]).map_err(|refusal| Stop::Wrong(refused(&refusal)))?;
    // before there is any record, the rotor's own file tells
    let fitted = if last.hours.is_none() { hours::odd_fitted(hours, &rotor.parts) } else { None };
    let doubts = hours::doubts(hours, now.date(), last.hours.zip(last.day));
    let doubts: Vec<_> = doubts.into_iter().chain(fitted).collect();
    if doubts.is_empty() {
        return Ok((hours, Doubted::No));
    }
    // who insists has read all of them
    match (answers.word(&doubts.join(". "), &["again", "insist"])?, given) {
        (1, _) => Ok((hours, Doubted::Yes)),
        (_, Some(_)) => machine_hours(None, (last, rotor), now, answers),
        (_, None) => Err(Stop::Again("Type the hours again.".to_owned())),
    }
}

/// `hours of the machine, h, 36240 h at the last opening on 8 June 2022`.
fn asked_hours(last: &Last) -> String {
    let then = last.hours.map(|hours| format!(", {hours} at the last opening")).unwrap_or_default();
    let day = last.day.filter(|_| last.hours.is_some()).map(|day| format!(" on {}", long_day(day)));
    let changed = if last.changed { " (that record was CHANGED OUTSIDE: verify says where)" } else { "" };
    format!("hours of the machine, h{then}{}{changed}", day.unwrap_or_default())
}

fn which(known: &Known, answers: &mut Answers<'_>) -> Reply<Id> {
    let words = |rotor: &Rotor| {
        let plant = rotor.plant.as_ref().map(|plant| format!(", {plant}")).unwrap_or_default();
        let invented = if rotor.invented { ", invented" } else { "" };
        format!("{}{plant}{invented}", rotor.machine)
    };
    let rotors: Vec<_> = known.rotors.iter().map(|(rotor, _)| (rotor.id.to_string(), words(rotor))).collect();
    let typed = answers.keyed("which rotor (its id, a new one too)", &rotors)?;
    id(&typed).map_err(Stop::Wrong)
}

/// An invented rotor lies on no bench to be read off.
fn asked_serial(rotor: &Rotor) -> String {
    let stamped = if rotor.invented { format!("; on the invented one: {}", rotor.serial) } else { String::new() };
    format!("serial number of {}, typed from the part{stamped}", rotor.id)
}

/// The serial number is typed from the part and must match, blanks and case aside. What stands in the files is not said
/// of a real one: it would be copied.
fn known_rotor(known: &Known, rotor: &Rotor, given: &Given, answers: &mut Answers<'_>) -> Reply<Rotor> {
    let typed = match &given.serial {
        Some(serial) => serial.clone(),
        None => answers.sentence(&format!("{}{}", asked_serial(rotor), no_sheets(known)))?,
    };
    if is_same_number(&typed, &rotor.serial) {
        return Ok(rotor.clone());
    }
    Err(Stop::Wrong(format!(
        "`{typed}` is not the serial number of {}. Read it off the part again, or choose the other rotor.",
        rotor.id
    )))
}

fn new_rotor(id: Id, known: &Known, given: &Given, answers: &mut Answers<'_>) -> Reply<Rotor> {
    let asked = format!("machine type of {id}, new here: the name of its limits sheet{}", no_sheets(known));
    let machine = answers.with(&asked, super::super::inquiry::id)?;
    let invented = given.invented == Invented::Yes;
    let rotor = Rotor { id, serial: String::new(), machine, plant: None, invented, parts: BTreeMap::new() };
    may_be_judged(known, &rotor)?;
    let serial = match &given.serial {
        Some(serial) => serial.clone(),
        None => answers.sentence("its serial number, typed from the part")?,
    };
    named(&serial).map_err(Stop::Wrong)?;
    let same = |(other, _): &&(Rotor, Last)| is_same_number(&other.serial, &serial);
    if let Some((other, _)) = known.rotors.iter().find(same) {
        let asked = format!(
            "{} has this serial number already, and its history. Choose that rotor, or begin another one with the same number",
            other.id
        );
        if answers.word(&asked, &["choose", "another"])? == 0 {
            return Err(Stop::Wrong(format!("Then go back to the first question and type {}.", other.id)));
        }
    }
    let plant = answers.maybe("the engine or plant it sits on")?;
    Ok(Rotor { serial, plant, ..rotor })
}

/// Limits made up for a demonstration never judge a real machine, and those that cannot be read none: said before anything
/// else is asked.
fn may_be_judged(known: &Known, rotor: &Rotor) -> Reply<()> {
    let machine = rotor.machine.as_str();
    if let Some((_, fault)) = known.faulty.iter().find(|(id, _)| id.eq_ignore_ascii_case(machine)) {
        return Err(Stop::Wrong(format!("The limits sheet of {machine} cannot be read, mend it first. {fault}")));
    }
    if rotor.invented || !known.invented.iter().any(|machine| machine.same_as(&rotor.machine)) {
        return Ok(());
    }
    Err(Stop::Wrong(format!(
        "The limits sheet of {} is an invented one and {} is not: enter the sheet of the real machine first.",
        rotor.machine, rotor.id
    )))
}

/// The hours of a part that no checklist has would count for nothing, and its life be begun anew.
fn parts_are_known(known: &Known, rotor: &Rotor) -> Reply<()> {
    let is_known = |part: &&String| known.checklists.iter().any(|scope| scope.parts.contains(part));
    match rotor.parts.keys().find(|part| !is_known(part)) {
        Some(part) => Err(Stop::Wrong(format!(
            "{} has a part `{part}`, which no checklist here has: its hours would be lost. Mend its name among the rotors first.",
            rotor.id
        ))),
        None => Ok(()),
    }
}

/// Where nobody has entered a sheet yet there is nothing to be asked about, but to be known.
fn no_sheets(known: &Known) -> &'static str {
    let none = known.sheets.is_empty() && known.faulty.is_empty();
    if none { " (there is no limits sheet here yet: nothing will be judged)" } else { "" }
}

/// A machine type that was mistyped has no limits either: asked where there are others that may be meant.
fn unjudged(known: &Known, rotor: &Rotor, answers: &mut Answers<'_>) -> Reply<()> {
    let faulty = known.faulty.iter().map(|(id, _)| id.as_str());
    let there: Vec<_> = known.sheets.iter().map(Id::as_str).chain(faulty).collect();
    if there.is_empty() || known.sheets.iter().any(|sheet| sheet.same_as(&rotor.machine)) {
        return Ok(());
    }
    let (sheets, machine) = (there.join(", "), &rotor.machine);
    let asked = format!("No limits sheet is called {machine}, there is {sheets}: nothing would be judged. Begin so");
    if answers.word(&asked, &["not yet", "begin"])? == 0 {
        let wrong = format!("Enter the sheet {machine} first, or mend the machine type of {}.", rotor.id);
        return Err(Stop::Wrong(wrong));
    }
    Ok(())
}

fn who(known: &Known, given: &Given, answers: &mut Answers<'_>) -> Reply<Person> {
    let find = |text: &str| {
        let mut people = known.people.iter();
        people.find(|person| person.is_called(text))
    };
    if let Some(id) = &given.by {
        let ids: Vec<_> = known.people.iter().map(|person| person.id.to_string()).collect();
        let wrong = || Stop::Wrong(format!("Nobody here is known as `{id}`. Known are: {}.", ids.join(", ")));
        return find(id.as_str()).cloned().ok_or_else(wrong);
    }
    let people: Vec<_> = known.people.iter().map(|person| (person.id.to_string(), person.name.clone())).collect();
    let typed = answers.keyed("who begins (the id or the name, or `new`)", &people)?;
    if typed.eq_ignore_ascii_case("new") {
        return enter_person(answers);
    }
    if let Some(person) = find(&typed) {
        return Ok(person.clone());
    }
    let Some(id) = id_of(&typed).filter(|id| id.as_str().contains(|letter: char| letter.is_ascii_alphabetic())) else {
        return Err(Stop::Wrong(format!("`{typed}` holds no letter, no name does. Type the name in Latin letters.")));
    };
    let asked = format!("Nobody here is known as `{typed}`. Enter {typed} as a fitter, or look at the list");
    if answers.word(&asked, &["enter", "look"])? == 1 {
        return Err(Stop::Again("Nobody was entered.".to_owned()));
    }
    Ok(Person { id, name: typed, roles: vec![Role::Fitter], keys: Vec::new() })
}

/// The checklist that leaves nothing out: what is begun with where the other answers are left for later.
const WHOLE: &str = "overhaul";

fn checklist<'k>(known: &'k Known, given: &Given, answers: &mut Answers<'_>) -> Reply<&'k Scope> {
    let named = |name: &str| known.checklists.iter().find(|one| one.id.as_str().eq_ignore_ascii_case(name));
    if let Some(name) = &given.checklist {
        let names: Vec<_> = known.checklists.iter().map(|one| one.id.to_string()).collect();
        let wrong = || Stop::Wrong(format!("No checklist is called `{name}`. There are: {}.", names.join(", ")));
        return named(name).ok_or_else(wrong);
    }
    if given.rest == Rest::Later
        && let Some(whole) = named(WHOLE)
    {
        return Ok(whole);
    }
    let titles: Vec<_> = known.checklists.iter().map(|one| format!("{}, {}", one.id, one.title)).collect();
    let later = answers.unread().is_some_and(|typed| typed.trim().eq_ignore_ascii_case("later"));
    let index = answers.choose("which checklist", &titles).map_err(|stop| match stop {
        Stop::Wrong(_) if later => {
            let many = titles.len();
            Stop::Wrong(format!("Needed to begin, it cannot wait. Type a number from 1 to {many}, or the words."))
        }
        stop @ (Stop::Ask(_) | Stop::Wrong(_) | Stop::Again(_)) => stop,
    })?;
    known.checklists.get(index).ok_or_else(|| Stop::Wrong("There is no such checklist.".to_owned()))
}
