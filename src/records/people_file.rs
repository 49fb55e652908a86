//! The people file.

use crate::domain::person::Person;

use super::file::{self, Format};
use super::form::{Slot, keys};
use super::key::is_public_key;
use super::words::{id, role, text, verbatim};
use super::yaml::{Node, Problems};

/// The people file.
pub const PEOPLE: Format<People> = Format { remark: "asfound people", body: people };

/// The same of a demonstration: its first line says so, and goes on saying so.
pub const INVENTED_PEOPLE: Format<People> =
    Format { remark: "asfound people. INVENTED DEMONSTRATION: nobody of them exists.", body: people };

/// Everybody who may work on records here.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct People {
    /// In the order of the file.
    pub people: Vec<Person>,
}

keys! {
    fn people -> People, Block {
        people "people" list person,
    }

    /// A person, as the people file and a record hold one.
    pub fn person -> Person, Flow {
        id "id" need id,
        name "name" need text,
        roles "roles" need roles,
        keys "keys" row verbatim,
    }
}

fn roles(
    slot: &mut Slot<'_>,
    value: Option<&Vec<crate::domain::person::Role>>,
) -> Option<Vec<crate::domain::person::Role>> {
    slot.list(super::yaml::Layout::Flow, role, value.map(Vec::as_slice))
}

/// Reads the people file.
///
/// # Errors
/// Every fault; also an id twice, without regard to case, and somebody without a role.
pub fn read_people(file: &str, bytes: &[u8]) -> Result<Vec<Person>, Problems> {
    let (People { people }, node) = file::read_with_tree(&PEOPLE, file, bytes)?;
    let mut problems = Problems::of(file);
    let items = node.get("people").map(Node::items).unwrap_or_default();
    for (place, person) in people.iter().enumerate() {
        let at = items.get(place).map_or(node.at, |item| item.at);
        if people.iter().take(place).any(|other| other.id.same_as(&person.id)) {
            let found = format!("the id `{}` a second time", person.id);
            problems.add(at, found, "each id once, without regard to case", "Give one of the two another id.");
        }
        let keys = items.get(place).and_then(|item| item.get("keys")).map(Node::items).unwrap_or_default();
        for (key, node) in person.keys.iter().zip(keys).filter(|(key, _)| !is_public_key(key)) {
            let expected = "a public key: its kind, such as ssh-ed25519, and the letters behind it";
            problems.add(node.at, format!("`{key}`"), expected, "Put in the whole line of the key's .pub file.");
        }
        if person.roles.is_empty() {
            let found = format!("`{}` without a role", person.id);
            problems.add(at, found, "at least one of fitter, trainee, supervisor", "Put one between the brackets.");
        }
    }
    problems.unless_any(Some(people))
}
