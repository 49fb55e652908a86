//! Who is here: who reads and stands for it, who writes. Somebody unknown is entered by name.

use crate::domain::entry::Act;
use crate::domain::id::Id;
use crate::domain::inspection::Inspection;
use crate::domain::person::{Person, Role};
use crate::domain::request::Request;

use super::super::form::{Form, Line, Need};
use super::super::look::Tone;
use super::super::model::Model;
use super::asked::{self, Asked, Finish, Purpose};

/// Opens the form.
pub fn open(model: &mut Model) {
    let Some(job) = model.job() else { return };
    let names: Vec<String> = job.inspection.people().iter().map(|person| person.name.clone()).collect();
    let mut reads = Line::offered("who reads, and stands for it", "a number, or a name", names.clone(), Need::Wanted);
    reads.field = super::super::field::Field::holding(&job.name(&job.by));
    let mut writes = Line::offered("who writes", "empty: the same", names, Need::Free);
    if let Some(writer) = &job.writer {
        writes.field = super::super::field::Field::holding(&job.name(writer));
    }
    asked::open(model, Purpose::Hands, Form::new("who is here", vec![reads, writes]));
}

/// The id that a name would have.
pub fn id_of(name: &str) -> Option<Id> {
    let plain = |letter: char| if letter.is_ascii_alphanumeric() { letter.to_ascii_lowercase() } else { '-' };
    let id: String = name.trim().chars().map(plain).take(40).collect();
    id.trim_matches('-').parse().ok()
}

/// The person of a name: known, or new.
fn person(inspection: &Inspection, name: &str) -> Option<(Id, Option<Person>)> {
    let known = inspection.people().iter().find(|person| person.name.eq_ignore_ascii_case(name.trim()));
    if let Some(person) = known {
        return Some((person.id.clone(), None));
    }
    let id = id_of(name)?;
    let person = Person { id: id.clone(), name: name.trim().to_owned(), roles: vec![Role::Fitter], keys: Vec::new() };
    Some((id, Some(person)))
}

/// New people are entered; then the hands change.
pub fn finish(model: &mut Model, form: &Form) -> Finish {
    let Some(job) = model.job() else { return Finish::Done };
    let mut requests = Vec::new();
    for line in 0..2 {
        let Some(name) = form.answer(line) else { continue };
        match person(&job.inspection, &name) {
            Some((_, Some(new))) => requests.push(Request::Do(Act::Person(new))),
            Some((_, None)) => {}
            None => {
                return Finish::Wrong(
                    line,
                    format!("`{name}` holds no letter or digit. Type the name in Latin letters."),
                );
            }
        }
    }
    if requests.is_empty() {
        change(model, form);
        return Finish::Done;
    }
    Finish::Requests(requests)
}

/// After new people were entered.
pub fn settle(model: &mut Model, asked: &Asked) {
    if asked.purpose == Purpose::Hands {
        change(model, &asked.form);
    }
}

fn change(model: &mut Model, form: &Form) {
    let now = model.now.stamp;
    let Some(job) = model.job_mut() else { return };
    let id = |line: usize| form.answer(line).and_then(|name| person(&job.inspection, &name)).map(|(id, _)| id);
    let (reads, writes) = (id(0), id(1));
    if let Some(reads) = reads {
        job.by = reads;
    }
    job.writer = writes.filter(|writes| !writes.same_as(&job.by));
    job.look_at_gate(now);
    let words = hands(job);
    let again = job.shut.contains(&crate::domain::gate::Missing::SafetyAgain);
    model.say(Tone::Good, words);
    if again {
        super::question::ask_safe(model);
    }
}

/// `fitter A reads, fitter C writes`.
pub fn hands(job: &super::super::job::Job) -> String {
    let late = job.late.as_ref().map(|late| format!("  LATE FROM PAPER, {}", late.taken)).unwrap_or_default();
    match &job.writer {
        Some(writer) => format!("{} reads, {} writes{late}", job.name(&job.by), job.name(writer)),
        None => format!("{} reads and writes{late}", job.name(&job.by)),
    }
}
