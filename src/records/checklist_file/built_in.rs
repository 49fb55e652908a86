//! The checklists that come with the program.

use crate::domain::checklist::Checklist;
use crate::domain::id::Id;
use crate::records::yaml::Problems;

/// Every file of the project's `checklists/` that holds an order, by the checklist's name.
const ORDERS: &[(&str, &str)] = &[];
/// Every file that holds a group, by the group's name.
const GROUPS: &[(&str, &str)] = &[];

/// Names of the checklists that come with the program.
pub fn built_in_names() -> impl Iterator<Item = &'static str> {
    ORDERS.iter().map(|(name, _)| *name)
}

/// The checklist of this name that comes with the program.
///
/// # Errors
/// Every fault of its files; a test holds that there is none.
pub fn built_in(name: &str) -> Option<Result<Checklist, Problems>> {
    let (name, order) = ORDERS.iter().find(|(known, _)| known.eq_ignore_ascii_case(name))?;
    let group = |wanted: &Id| {
        let (name, text) = GROUPS.iter().find(|(known, _)| *known == wanted.as_str())?;
        Some((format!("checklists/{name}.yaml"), text.as_bytes().to_vec()))
    };
    Some(super::join((&format!("checklists/{name}.order.yaml"), order.as_bytes()), group))
}
