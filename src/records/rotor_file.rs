//! Rotors on the disk.

use std::collections::BTreeMap;

use crate::domain::figure::Figure;
use crate::domain::hours;
use crate::domain::rotor::{Fitted, Rotor};
use crate::domain::unit::Dimension;

use super::file::{self, Format};
use super::form::{Fields, Shape, Slot};
use super::words::{figure, id, name, text, yes_no};
use super::yaml::{Layout, Node, Problems};

/// A rotor's file.
pub const ROTOR: Format<Rotor> = Format { remark: "asfound rotor", body: rotor };

/// A rotor, as its file and a record hold it.
pub fn rotor(slot: &mut Slot<'_>, value: Option<&Rotor>) -> Option<Rotor> {
    slot.map(Layout::Block, |fields| {
        let id_read = fields.need("rotor", id, value.map(|rotor| &rotor.id));
        let serial = fields.need("serial", text, value.map(|rotor| &rotor.serial));
        let machine = fields.need("machine", id, value.map(|rotor| &rotor.machine));
        let plant = fields.may("plant", text, value.map(|rotor| &rotor.plant));
        let invented = fields.flag("invented", yes_no, value.map(|rotor| &rotor.invented));
        let parts = listed(fields, first_fitted, value.map(|rotor| &rotor.parts));
        Some(Rotor {
            id: id_read?,
            serial: serial?,
            machine: machine?,
            plant: plant?,
            invented: invented?,
            parts: parts?,
        })
    })
}

/// One part as fitted, with its name.
type Line = (String, Fitted);

/// The parts as a record begins with them, as a list under `parts`.
pub(super) fn parts(
    fields: &mut Fields<'_>,
    value: Option<&BTreeMap<String, Fitted>>,
) -> Option<BTreeMap<String, Fitted>> {
    listed(fields, fitted_keys, value)
}

/// How the keys of a part as fitted are read and written.
type Keys = fn(&mut Fields<'_>, Option<&Fitted>) -> Option<Fitted>;

fn listed(
    fields: &mut Fields<'_>,
    keys: Keys,
    value: Option<&BTreeMap<String, Fitted>>,
) -> Option<BTreeMap<String, Fitted>> {
    let lines = value.map(|parts| parts.iter().map(|(part, fitted)| (part.clone(), fitted.clone())).collect());
    let line = |slot: &mut Slot<'_>, value: Option<&Line>| line(slot, keys, value);
    let lines: Vec<Line> = fields.list("parts", line, lines.as_ref())?;
    let mut parts = BTreeMap::new();
    for (place, (part, fitted)) in lines.into_iter().enumerate() {
        if parts.contains_key(&part) {
            let found = format!("the part `{part}` a second time");
            fields.fault_at_item(("parts", place), &found, "each part once", "Keep one of the two.");
        }
        parts.insert(part, fitted);
    }
    Some(parts)
}

fn line(slot: &mut Slot<'_>, keys: Keys, value: Option<&Line>) -> Option<Line> {
    slot.map(Layout::Flow, |fields| {
        let part = fields.need("part", name, value.map(|(part, _)| part));
        let fitted = keys(fields, value.map(|(_, fitted)| fitted));
        Some((part?, fitted?))
    })
}

/// A part as fitted, without its name.
pub(super) fn fitted(slot: &mut Slot<'_>, value: Option<&Fitted>) -> Option<Fitted> {
    slot.map(Layout::Flow, |fields| fitted_keys(fields, value))
}

/// With what was doubted of it at a bench.
fn fitted_keys(fields: &mut Fields<'_>, value: Option<&Fitted>) -> Option<Fitted> {
    let first = first_fitted(fields, value);
    let doubts = fields.row("doubts", text, value.map(|fitted| &fitted.doubts))?;
    Some(Fitted { doubts, ..first? })
}

fn first_fitted(fields: &mut Fields<'_>, value: Option<&Fitted>) -> Option<Fitted> {
    let serial = fields.may("serial", text, value.map(|fitted| &fitted.serial));
    let hours = fields.need("hours", hours, value.map(|fitted| &fitted.hours));
    let machine = fields.need("machine", self::hours, value.map(|fitted| &fitted.machine));
    Some(Fitted { serial: serial?, hours: hours?, machine: machine?, doubts: Vec::new() })
}

/// What is expected of [`hours`].
const HOURS: &str = "hours, such as 24110 h";

/// A number of hours, or another time.
pub(super) fn hours(slot: &mut Slot<'_>, value: Option<&Figure>) -> Option<Figure> {
    if slot.tells(|| Shape::Text(HOURS.to_owned())) {
        return None;
    }
    let hours = figure(slot, value)?;
    if hours.dimension() != Dimension::Time {
        slot.fault(HOURS, "Put ` h` behind the number.");
        return None;
    }
    if hours::below_nothing(hours) {
        slot.fault("hours, not below nothing", "Take the minus out, or look the hours up again.");
        return None;
    }
    Some(hours)
}

/// Reads a rotor.
///
/// # Errors
/// Every fault.
pub fn read_rotor(file: &str, bytes: &[u8]) -> Result<Rotor, Problems> {
    file::read_checked(&ROTOR, file, bytes, |read, problems| {
        let lines = read.tree.get("parts").map(Node::items).unwrap_or_default();
        for line in lines {
            let part = line.get("part").and_then(Node::as_text).and_then(|part| read.value.parts.get(part));
            for (key, hours) in part.into_iter().flat_map(|one| [("hours", one.hours), ("machine", one.machine)]) {
                if let Some(plain) = hours::without_mark(hours) {
                    let at = line.get(key).unwrap_or(line).at;
                    let mend = format!("Write {plain} without a mark, or the hours with fewer digits behind it.");
                    problems.add(at, hours.to_string(), "hours without a mark of thousands", mend);
                }
            }
        }
    })
}
