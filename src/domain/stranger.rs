//! Who decided as a supervisor, held against the people of this machine: a record says of everybody what it likes.

use super::entry::{Act, Entry};
use super::id::Id;
use super::inspection::Inspection;
use super::person::{Person, Role};
use super::telling::hands_of;

/// The supervisor who stands for an entry, and what was done.
fn supervisor(entry: &Entry) -> Option<(&Id, &'static str)> {
    let deed = entry.deed();
    if let Act::Overrule { supervisor, .. } = deed {
        return Some((supervisor, "overruled"));
    }
    if let Act::Unjudged { supervisor, .. } = deed {
        return Some((supervisor, "accepted unjudged"));
    }
    if let Act::Plan { supervisor: Some(supervisor), .. } = deed {
        return Some((supervisor, "planned a sooner opening"));
    }
    let did = match deed.kind() {
        "countersign" => "countersigned",
        "return" => "sent back",
        "concession" => "conceded",
        _ => return None,
    };
    Some((entry.doer(), did))
}

/// Whom a record has to be told of before `id` does something in it: somebody whom only this machine knows, or knows as
/// a supervisor by now.
pub fn to_introduce(people: &[Person], inspection: &Inspection, id: &Id) -> Option<Person> {
    let here = people.iter().find(|person| person.id.same_as(id))?;
    inspection.person(id).map_or_else(|| Some(here.clone()), |known| known.risen(here))
}

/// A sentence for each of these entries by somebody whom this machine does not know as a supervisor: entry, who, what.
/// Of what does not count anyway nothing more is said.
pub fn strangers<'e>(
    people: &[Person],
    inspection: &Inspection,
    entries: impl IntoIterator<Item = &'e Entry>,
) -> Vec<(u32, Id, String)> {
    let told = entries.into_iter().filter_map(|entry| {
        let (who, did) = supervisor(entry).filter(|_| inspection.passed_over(entry.number).is_none())?;
        // toward the safer side anybody overrules, under the own name
        inspection.person(who).filter(|person| person.is(Role::Supervisor))?;
        let why = match people.iter().find(|person| person.id.same_as(who)) {
            Some(known) if known.is(Role::Supervisor) => return None,
            Some(_) => "is no supervisor in people.yaml of this machine",
            None => "is not in people.yaml of this machine",
        };
        let number = entry.number;
        let what = format!(
            "Entry {number}, {did} by {who}: {who} {why}; that it is a supervisor only the record says, until people.yaml \
             has it as one."
        );
        Some((number, who.clone(), what))
    });
    told.collect()
}

/// A sentence for each supervisor who was entered into a record that knew none when the job began: there any counts.
pub fn entered_as_supervisor(inspection: &Inspection) -> Vec<(u32, Id, String)> {
    if inspection.head().people.iter().any(|person| person.is(Role::Supervisor)) {
        return Vec::new();
    }
    let told = inspection.entries().iter().filter_map(|entry| {
        let Act::Person(person) = entry.deed() else { return None };
        let (number, by, name) = (entry.number, hands_of(inspection, entry), &person.name);
        let what = format!(
            "No supervisor was known when the job began. {name} was entered as one in entry {number}, by {by}, and counts \
             as one: that it is one only the record says."
        );
        person.is(Role::Supervisor).then(|| (number, person.id.clone(), what))
    });
    told.collect()
}
