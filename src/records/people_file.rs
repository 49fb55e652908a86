//! The people file.

use crate::domain::person::Person;

use super::file::{self, Format};
use super::form::{Slot, keys};
use super::key::is_public_key;
use super::words::{id, role, text, verbatim};
use super::yaml::{Node, Problems, What};

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
    let read = file::read_checked(&PEOPLE, file, bytes, |read, problems| {
        let people = || read.whole.get("people").map(Node::items).unwrap_or_default().iter();
        let ids = people().map(|item| item.get("id").and_then(Node::as_text).unwrap_or_default());
        for (place, (item, id)) in people().zip(ids.clone()).enumerate() {
            if !id.is_empty() && ids.clone().take(place).any(|other| other.eq_ignore_ascii_case(id)) {
                let found = format!("the id `{id}` a second time");
                let expected = "each id once, without regard to case";
                problems.add(item.at, found, expected, "Give one of the two another id.");
            }
            let keys = item.get("keys").map(Node::items).unwrap_or_default();
            for (key, node) in keys.iter().filter_map(|node| Some((node.as_text()?, node))) {
                if !is_public_key(key) {
                    let expected = "a public key: its kind, such as ssh-ed25519, and the letters behind it";
                    problems.add(
                        node.at,
                        format!("`{key}`"),
                        expected,
                        "Put in the whole line of the key's .pub file.",
                    );
                }
            }
            if item.get("roles").is_some_and(|roles| matches!(&roles.what, What::List(_, all) if all.is_empty())) {
                let found = format!("`{id}` without a role");
                let expected = "at least one of fitter, trainee, supervisor";
                problems.add(item.at, found, expected, "Put one between the brackets.");
            }
        }
    });
    read.map(|people| people.people)
}
