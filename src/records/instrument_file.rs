//! Instruments on the disk: one file each, its calibrations as a list.

use crate::domain::figure::Figure;
use crate::domain::instrument::{Calibration, Correction, Instrument, Repeatability};

use super::file::{self, Format};
use super::form::{Fields, Slot, keys};
use super::words::{count, day, decimal, figure, gauge_kind, id, text, verbatim, yes_no};
use super::yaml::{Layout, Problems};

/// An instrument's file.
pub const INSTRUMENT: Format<Instrument> = Format { remark: "asfound instrument", body: instrument };

keys! {
    /// An instrument, as its file and a record hold it.
    pub fn instrument -> Instrument, Block {
        id "instrument" need id,
        kind "kind" need gauge_kind,
        range "range" may range,
        resolution "resolution" may figure,
        turn "turn" may figure,
        prefix "prefix" may verbatim,
        corrections "corrections" list correction,
        expansion "expansion" may figure,
        repeatability "repeatability" may repeatability,
        calibrations "calibrations" list calibration,
        remark "remark" may text,
        invented "invented" flag yes_no,
    }

    fn correction -> Correction, Flow {
        piece "piece" need figure,
        shows "shows" need figure,
    }

    fn repeatability -> Repeatability, Flow {
        s "s" need figure,
        dof "dof" may count,
    }

    fn calibration -> Calibration, Flow {
        date "date" need day,
        expanded "expanded" need figure,
        k "k" need decimal,
        certificate "certificate" may text,
        due "due" may day,
    }
}

/// `{from: 0 mm, to: 1.0 mm}`.
fn range(slot: &mut Slot<'_>, value: Option<&(Figure, Figure)>) -> Option<(Figure, Figure)> {
    slot.map(Layout::Flow, |fields| {
        let from = fields.need("from", figure, value.map(|(from, _)| from));
        let to = fields.need("to", figure, value.map(|(_, to)| to));
        let (from, to) = (from?, to?);
        check_range(fields, from, to);
        Some((from, to))
    })
}

fn check_range(fields: &mut Fields<'_>, from: Figure, to: Figure) {
    let ends = from.to(to.unit()).zip(to.to(to.unit()));
    if ends.is_none_or(|(from, to)| from >= to) {
        let found = format!("a range from {from} to {to}");
        fields.fault(&found, "the smaller figure first, both of one kind", "Look at the two figures and their units.");
    }
}

/// Reads an instrument.
///
/// # Errors
/// Every fault.
pub fn read_instrument(file: &str, bytes: &[u8]) -> Result<Instrument, Problems> {
    let (instrument, node) = file::read_with_tree(&INSTRUMENT, file, bytes)?;
    let mut problems = Problems::of(file);
    let days: Vec<_> = instrument.calibrations.iter().map(|one| (one.date, one.due)).collect();
    for (place, (date, due)) in days.iter().enumerate() {
        let at = node.get("calibrations").and_then(|list| list.items().get(place)).map_or(node.at, |item| item.at);
        if due.is_some_and(|due| due < *date) {
            let mend = "Look at the two days.";
            problems.add(at, format!("a calibration due before its day {date}"), "a later day", mend);
        }
        if place > 0 && days.get(place - 1).is_some_and(|(before, _)| before > date) {
            let mend = "Put them in the order of their days.";
            problems.add(at, format!("a calibration of {date} behind a later one"), "the oldest first", mend);
        }
    }
    problems.unless_any(Some(instrument))
}
