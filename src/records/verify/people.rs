//! Who decided as a supervisor, held against the people of this machine: a record says of everybody what it likes.

use crate::domain::entry::{Act, Entry};
use crate::domain::id::Id;
use crate::domain::inspection::Inspection;
use crate::domain::person::{Person, Role};
use crate::records::store::Store;

use super::{Kind, Sign, Told, Verified};

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
        let what =
            format!("Entry {number}, {did} by {who}: {who} {why}; that it is a supervisor only the record says.");
        Some((number, who.clone(), what))
    });
    told.collect()
}

pub(super) fn look(store: &Store, inspection: &Inspection, verified: &mut Verified) {
    // a people file that cannot be read knows nobody
    let people = store.people().unwrap_or_default();
    for (entry, who, what) in strangers(&people, inspection, inspection.entries()) {
        verified.tell(Told::new(Sign::Unseen, Kind::Person, what).at(entry).named(&who));
    }
}
