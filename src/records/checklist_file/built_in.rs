//! The checklists that come with the program.

use crate::domain::checklist::Checklist;
use crate::domain::id::Id;
use crate::records::yaml::Problems;

/// Every file of the project's `checklists/` that holds an order, by the checklist's name.
const ORDERS: &[(&str, &str)] = &[
    ("overhaul", include_str!("../../../checklists/overhaul.order.yaml")),
    ("bearing", include_str!("../../../checklists/bearing.order.yaml")),
    ("cleaning", include_str!("../../../checklists/cleaning.order.yaml")),
];
/// Every file that holds a group, by the group's name.
const GROUPS: &[(&str, &str)] = &[
    ("after-start", include_str!("../../../checklists/after-start.yaml")),
    ("air-side", include_str!("../../../checklists/air-side.yaml")),
    ("balance", include_str!("../../../checklists/balance.yaml")),
    ("close", include_str!("../../../checklists/close.yaml")),
    ("drain", include_str!("../../../checklists/drain.yaml")),
    ("events-inside", include_str!("../../../checklists/events-inside.yaml")),
    ("events", include_str!("../../../checklists/events.yaml")),
    ("fasteners", include_str!("../../../checklists/fasteners.yaml")),
    ("filter-alone", include_str!("../../../checklists/filter-alone.yaml")),
    ("filter-off", include_str!("../../../checklists/filter-off.yaml")),
    ("filter-open", include_str!("../../../checklists/filter-open.yaml")),
    ("filter", include_str!("../../../checklists/filter.yaml")),
    ("floats", include_str!("../../../checklists/floats.yaml")),
    ("fragments", include_str!("../../../checklists/fragments.yaml")),
    ("gas-side", include_str!("../../../checklists/gas-side.yaml")),
    ("happened", include_str!("../../../checklists/happened.yaml")),
    ("journal-bearings", include_str!("../../../checklists/journal-bearings.yaml")),
    ("labyrinths", include_str!("../../../checklists/labyrinths.yaml")),
    ("leaks", include_str!("../../../checklists/leaks.yaml")),
    ("life", include_str!("../../../checklists/life.yaml")),
    ("new-parts", include_str!("../../../checklists/new-parts.yaml")),
    ("new-wheels", include_str!("../../../checklists/new-wheels.yaml")),
    ("orders", include_str!("../../../checklists/orders.yaml")),
    ("outside", include_str!("../../../checklists/outside.yaml")),
    ("ready", include_str!("../../../checklists/ready.yaml")),
    ("rebuild", include_str!("../../../checklists/rebuild.yaml")),
    ("running", include_str!("../../../checklists/running.yaml")),
    ("safe", include_str!("../../../checklists/safe.yaml")),
    ("seal-air", include_str!("../../../checklists/seal-air.yaml")),
    ("shaft", include_str!("../../../checklists/shaft.yaml")),
    ("side-by-side", include_str!("../../../checklists/side-by-side.yaml")),
    ("start", include_str!("../../../checklists/start.yaml")),
    ("thrust", include_str!("../../../checklists/thrust.yaml")),
    ("washing", include_str!("../../../checklists/washing.yaml")),
    ("wheels-inside", include_str!("../../../checklists/wheels-inside.yaml")),
    ("wheels-out", include_str!("../../../checklists/wheels-out.yaml")),
];

/// Names of the checklists that come with the program.
pub fn built_in_names() -> impl Iterator<Item = &'static str> {
    ORDERS.iter().map(|(name, _)| *name)
}

/// The checklist of this name that comes with the program.
///
/// # Errors
/// Every fault of its files; a test holds that there is none.
pub fn built_in(name: &str) -> Option<Result<Checklist, Problems>> {
    let (name, order) = order(name)?;
    let group = |wanted: &Id| Some((format!("checklists/{wanted}.yaml"), group(wanted.as_str())?.as_bytes().to_vec()));
    Some(super::join((&format!("checklists/{name}.order.yaml"), order.as_bytes()), group))
}

/// The name and the text of an order.
pub(super) fn order(name: &str) -> Option<(&'static str, &'static str)> {
    ORDERS.iter().find(|(known, _)| known.eq_ignore_ascii_case(name)).copied()
}

/// The text of a group.
pub(super) fn group(name: &str) -> Option<&'static str> {
    GROUPS.iter().find(|(known, _)| *known == name).map(|(_, text)| *text)
}
