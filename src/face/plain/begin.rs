//! Beginning a record: which rotor, who, and the opening answers, each of which but rotor, hours and name may be later.

use std::io::{self, BufRead, Write};

use crate::domain::figure::Figure;
use crate::domain::id::Id;
use crate::domain::inspection::{Manual, Opening};
use crate::domain::person::Person;
use crate::domain::rotor::Rotor;
use crate::domain::stamp::Stamp;
use crate::domain::unit::Unit;

use super::inquiry::{Answers, Reply, Stop, figure, id};
use super::run::{Echo, next_line};
use super::what_else::{enter, opening_answers};

/// What the folder knows before anything is asked.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Known {
    /// Every rotor, and what its last record tells.
    pub rotors: Vec<(Rotor, Last)>,
    /// Everybody.
    pub people: Vec<Person>,
    /// Checklists by name.
    pub checklists: Vec<String>,
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
}

/// Answers that came with the command.
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
    /// What becomes of the answers that are missing.
    pub rest: Rest,
    /// Whether a rotor entered now is an invented one.
    pub invented: Invented,
}

/// What becomes of opening answers that did not come with the command.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Rest {
    /// They are asked, line by line.
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
    pub checklist: String,
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
    /// Refused: why.
    Refused(String),
    /// The input ended at this question; nothing was begun.
    Ended(String),
}

/// Asks what is missing, one line a question.
///
/// # Errors
/// When the page cannot be written or the input not be read.
pub fn ask_beginning(
    known: &Known,
    given: &Given,
    (input, page): (&mut dyn BufRead, &mut dyn Write),
    echo: Echo,
    now: Stamp,
) -> io::Result<Begun> {
    let mut answers: Vec<String> = Vec::new();
    loop {
        match beginning(known, given, &mut Answers::new(&answers), now) {
            Ok(begun) => return Ok(begun),
            Err(Stop::Wrong(words)) if answers.pop().is_none() => return Ok(Begun::Refused(words)),
            Err(Stop::Wrong(words)) => writeln!(page, "{words}")?,
            Err(Stop::Ask(question)) => {
                for line in &question.before {
                    writeln!(page, "{line}")?;
                }
                writeln!(page, "{}", question.text)?;
                page.flush()?;
                let Some(line) = next_line(input, page)? else { return Ok(Begun::Ended(question.text)) };
                if echo == Echo::Printed {
                    writeln!(page, "> {line}")?;
                }
                answers.push(line);
            }
        }
    }
}

/// The answers, or the next question.
fn beginning(known: &Known, given: &Given, answers: &mut Answers<'_>, now: Stamp) -> Reply<Begun> {
    let rotors: Vec<_> = known
        .rotors
        .iter()
        .map(|(rotor, _)| format!("{}, {}, serial {}", rotor.id, rotor.machine, rotor.serial))
        .collect();
    let id = match &given.rotor {
        Some(id) => id.clone(),
        None => id(answers.line(rotors, "which rotor (its id, a new one too)?")?).map_err(Stop::Wrong)?,
    };
    let found = known.rotors.iter().find(|(rotor, _)| rotor.id.same_as(&id));
    let (rotor, last) = match found {
        Some((rotor, last)) => (known_rotor(rotor, given, answers)?, last.clone()),
        None => (new_rotor(id, given, answers)?, Last::default()),
    };
    if let Some(unfinished) = last.unfinished {
        let asked = format!("{unfinished} is begun and not closed. Go on with it, or begin another");
        if answers.word(&asked, &["go on", "another"])? == 0 {
            return Ok(Begun::GoOn(unfinished));
        }
    }
    let by = who(known, given, answers)?;
    let machine_hours = if let Some(hours) = given.opening.machine_hours {
        hours
    } else {
        let then = last.hours.map(|hours| format!(", {hours} at the last opening")).unwrap_or_default();
        answers.with(&format!("hours of the machine, h{then}"), figure(Unit::Hour))?
    };
    let checklist = checklist(known, given, answers)?;
    let mut opening = Opening { machine_hours: Some(machine_hours), ..given.opening.clone() };
    if given.rest == Rest::Asked {
        opening = opening_answers((&opening, last.manual.as_ref()), now, answers)?;
    }
    Ok(Begun::New(Box::new(Beginning { rotor, by, checklist, opening })))
}

/// The serial number is typed from the part and must match, blanks and case aside.
fn known_rotor(rotor: &Rotor, given: &Given, answers: &mut Answers<'_>) -> Reply<Rotor> {
    let typed = match &given.serial {
        Some(serial) => serial.clone(),
        None => answers.sentence("serial number, typed from the part")?,
    };
    let plain = |text: &str| text.split_whitespace().collect::<String>().to_uppercase();
    if plain(&typed) == plain(&rotor.serial) {
        return Ok(rotor.clone());
    }
    let (id, serial) = (&rotor.id, &rotor.serial);
    Err(Stop::Wrong(format!(
        "`{typed}` is not the serial number of {id}, which is {serial}. Read it off the part again, or choose the other rotor."
    )))
}

fn new_rotor(id: Id, given: &Given, answers: &mut Answers<'_>) -> Reply<Rotor> {
    let machine = answers
        .with(&format!("{id} is new here: its machine type, the name of its limits sheet"), super::inquiry::id)?;
    let serial = match &given.serial {
        Some(serial) => serial.clone(),
        None => answers.sentence("its serial number, typed from the part")?,
    };
    let plant = answers.maybe("the engine or plant it sits on")?;
    let invented = given.invented == Invented::Yes;
    Ok(Rotor { id, serial, machine, plant, invented, parts: std::collections::BTreeMap::new() })
}

fn who(known: &Known, given: &Given, answers: &mut Answers<'_>) -> Reply<Person> {
    let find = |id: &Id| known.people.iter().find(|person| person.id.same_as(id)).cloned();
    if let Some(id) = &given.by {
        let ids: Vec<_> = known.people.iter().map(|person| person.id.to_string()).collect();
        let wrong = || Stop::Wrong(format!("Nobody here is known as `{id}`. Known are: {}.", ids.join(", ")));
        return find(id).ok_or_else(wrong);
    }
    let people: Vec<_> = known.people.iter().map(|person| format!("{}, {}", person.id, person.name)).collect();
    let typed = answers.line(people, "who begins (the id, or `new`)?")?;
    if typed.eq_ignore_ascii_case("new") {
        return enter(answers);
    }
    let id = id(typed).map_err(Stop::Wrong)?;
    find(&id).ok_or_else(|| Stop::Wrong(format!("Nobody here is known as `{id}`. Type `new` to enter somebody.")))
}

fn checklist(known: &Known, given: &Given, answers: &mut Answers<'_>) -> Reply<String> {
    if let Some(name) = &given.checklist {
        let found = known.checklists.iter().find(|one| one.eq_ignore_ascii_case(name));
        let names = known.checklists.join(", ");
        return found
            .cloned()
            .ok_or_else(|| Stop::Wrong(format!("No checklist is called `{name}`. There are: {names}.")));
    }
    let index = answers.choose("which checklist", &known.checklists)?;
    Ok(known.checklists.get(index).cloned().unwrap_or_default())
}
