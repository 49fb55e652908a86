//! Checklists on the disk: part groups, orders that join them, and whole ones as a record or an owner keeps them.

mod built_in;
mod check;
mod copy;
mod grid;
mod part;
mod step;

use std::collections::BTreeMap;

use crate::domain::checklist::{Checklist, Part, Step};
use crate::domain::id::Id;

use super::file::{self, Filling, Format, Gathered, Lost, Round};
use super::form::{Slot, keys};
use super::words::{count, id, text};
use super::yaml::{Node, Problem, Problems};

pub use built_in::{built_in, built_in_names};
pub use check::{holding_nothing_back, with_new_unchecked};
pub use copy::{copy_of, renamed};
pub use part::part;
pub use step::step;

/// The parts and steps of one part group.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Group {
    /// Its name.
    pub group: Id,
    /// Its parts.
    pub parts: Vec<Part>,
    /// Its steps, in the order of the work within each phase.
    pub steps: Vec<Step>,
}

/// Which groups make a checklist, in which order.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OrderOfGroups {
    /// The checklist's id.
    pub checklist: Id,
    /// Grows with every change.
    pub version: u32,
    /// What it is called.
    pub title: String,
    /// Groups by name.
    pub groups: Vec<Id>,
}

keys! {
    fn group_body -> Group, Block {
        group "group" need id,
        parts "parts" list part,
        steps "steps" list step,
    }

    fn order_body -> OrderOfGroups, Block {
        checklist "checklist" need id,
        version "version" need count,
        title "title" need text,
        groups "groups" row id,
    }
}

/// A whole checklist, as it stands in a record.
pub fn checklist(slot: &mut Slot<'_>, value: Option<&Checklist>) -> Option<Checklist> {
    slot.map(super::yaml::Layout::Block, |fields| {
        let id = fields.need("checklist", id, value.map(|value| &value.id));
        let version = fields.need("version", count, value.map(|value| &value.version));
        let title = fields.need("title", text, value.map(|value| &value.title));
        let parts = fields.list("parts", part, value.map(|value| &value.parts));
        let steps = fields.list("steps", step, value.map(|value| &value.steps));
        Some(Checklist { id: id?, version: version?, title: title?, parts: parts?, steps: steps? })
    })
}

/// A part group's file.
pub const GROUP: Format<Group> = Format { remark: "asfound checklist group", body: group_body };
/// An order's file.
pub const ORDER: Format<OrderOfGroups> = Format { remark: "asfound checklist", body: order_body };
/// A whole checklist's file.
pub const WHOLE: Format<Checklist> = Format { remark: "asfound checklist", body: checklist };

/// Reads a whole checklist and checks that it holds together.
///
/// # Errors
/// Every fault.
pub fn read_whole(file: &str, bytes: &[u8]) -> Result<Checklist, Problems> {
    file::steady(|filling| {
        let Gathered { value, tree, lost, mut problems, before, .. } = file::gathered(&WHOLE, file, bytes, filling)?;
        let unread = problems.count();
        if let Some(checklist) = &value {
            let sources = check::Sources {
                whole: Some(check::Source { file, node: &tree }),
                parts: items_of(file, &tree, "parts"),
                steps: items_of(file, &tree, "steps"),
            };
            check_rest(checklist, &sources, &lost, &mut problems);
        }
        Ok(Round { value, before, unread, problems })
    })
}

/// Joins an order with its groups: parts in the order of the groups, steps by phase, then group, then file.
///
/// `groups` gives the bytes of a group by its name, with what its file is called.
///
/// # Errors
/// Every fault of all files, and what does not hold together between them.
pub fn join(order: (&str, &[u8]), groups: impl Fn(&Id) -> Option<(String, Vec<u8>)>) -> Result<Checklist, Problems> {
    file::steady(|filling| joined(order, &groups, filling))
}

fn joined(
    (file, bytes): (&str, &[u8]),
    groups: impl Fn(&Id) -> Option<(String, Vec<u8>)>,
    filling: Filling,
) -> Result<Round<Checklist>, Problems> {
    let Gathered { value, tree, mut lost, mut problems, mut before, .. } =
        file::gathered(&ORDER, file, bytes, filling)?;
    let Some(order) = value else { return Err(problems.of_the_file().sorted()) };
    let mut read = Vec::new();
    let mut unread = false;
    for (place, name) in order.groups.iter().enumerate() {
        let at = tree.get("groups").and_then(|groups| groups.items().get(place)).map_or(tree.at, |item| item.at);
        let Some((file, bytes)) = groups(name) else {
            let mend = format!("Make the file {name}.yaml, or take the group out.");
            problems.add(at, format!("the group `{name}`"), "a group that has a file", mend);
            unread = true;
            continue;
        };
        if order.groups.iter().take(place).any(|other| other.same_as(name)) {
            problems.add(at, format!("the group `{name}` a second time"), "each group once", "Keep one of the two.");
            continue;
        }
        match file::gathered(&GROUP, &file, &bytes, filling) {
            Ok(group) => {
                // faults of several files have no common beginning
                before = before.or(group.before).map(|_| 0);
                problems.join(group.problems);
                lost.extend(group.lost);
                unread |= group.value.is_none();
                read.extend(group.value.map(|value| (file, value, group.tree)));
            }
            Err(others) => {
                problems.join(others);
                unread = true;
            }
        }
    }
    // what names something in a group that could not be read is not at fault for that
    if unread {
        return Err(problems.of_the_file().sorted());
    }
    let mut sources = check::Sources::default();
    let mut whole =
        Checklist { id: order.checklist, version: order.version, title: order.title, parts: vec![], steps: vec![] };
    let mut steps = Vec::new();
    for (file, group, node) in &read {
        whole.parts.extend(group.parts.iter().cloned());
        sources.parts.extend(items_of(file, node, "parts"));
        steps.extend(group.steps.iter().zip(items_of(file, node, "steps")));
    }
    // stable: groups, then files, keep their order within a phase
    steps.sort_by_key(|(step, _)| step.phase);
    for (step, source) in steps {
        whole.steps.push(step.clone());
        sources.steps.push(source);
    }
    let unread = problems.count();
    check_rest(&whole, &sources, &lost, &mut problems);
    Ok(Round { value: Some(whole), before, unread, problems })
}

/// What does not hold together, without what names something that could not be read.
fn check_rest(checklist: &Checklist, sources: &check::Sources<'_>, lost: &Lost, problems: &mut Problems) {
    let mut found = Problems::of(problems.file());
    check::check(checklist, sources, &mut found);
    // the part of a step may be what is missing there, and a name that nothing has may be
    let lacks =
        |all: &[check::Source<'_>], key| all.iter().any(|one| one.node.get(key).is_none_or(|name| name.at.line == 0));
    let astray = lacks(&sources.steps, "part");
    let nameless = lacks(&sources.steps, "step") || lacks(&sources.parts, "part");
    let shaky = |fault: &Problem| {
        (astray || !lost.is_empty()) && check::SHAKY.iter().any(|end| fault.found.ends_with(end))
            || nameless && fault.expected.contains(check::KNOWN)
    };
    for fault in &found {
        if !shaky(fault) && !lost.explains(fault) {
            problems.take(fault.clone());
        }
    }
}

fn items_of<'a>(file: &'a str, node: &'a Node, key: &str) -> Vec<check::Source<'a>> {
    let items = node.get(key).map(Node::items).unwrap_or_default();
    items.iter().map(|node| check::Source { file, node }).collect()
}

/// What a machine's sheet must give so that every grid of the checklist has its rows, by the step that asks first.
pub fn givens_wanted(checklist: &Checklist) -> BTreeMap<crate::domain::characteristic::Given, String> {
    check::givens_wanted(checklist)
}
