//! Instruments on the disk: one file each, its calibrations as a list.

use rust_decimal::Decimal;

use crate::domain::exact::Exact;
use crate::domain::figure::{Figure, OF_A_METAL};
use crate::domain::instrument::{Calibration, Correction, GaugeKind, Instrument, Repeatability, is_prefix};
use crate::domain::unit::{Dimension, Unit};

use super::file::{self, Format};
use super::form::{Fields, Shape, ShapeField, Slot, keys, shape_of};
use super::words::{count, day, decimal, figure, gauge_kind, id, text, verbatim, yes_no};
use super::yaml::{At, Layout, Node, Problems};

/// An instrument's file.
pub const INSTRUMENT: Format<Instrument> = Format { remark: "asfound instrument", body: of_file };

/// An instrument's own file: what it tells of two keys is narrower than what an older record may hold.
fn of_file(slot: &mut Slot<'_>, value: Option<&Instrument>) -> Option<Instrument> {
    let narrower = || {
        let mut shape = shape_of(|slot| instrument(slot, None));
        narrow(&mut shape);
        shape
    };
    if slot.tells(narrower) { None } else { instrument(slot, value) }
}

/// What is expected of a prefix, and of degrees of freedom.
const LETTERS: &str = "letters alone, such as N";
const DEGREES: &str = "a whole number from 1";

fn narrow(shape: &mut Shape) {
    let Shape::Map(fields, _) = shape else { return };
    for ShapeField { key, shape, .. } in fields {
        match key.as_str() {
            "prefix" => *shape = Shape::Text(LETTERS.to_owned()),
            "dof" => *shape = Shape::Text(DEGREES.to_owned()),
            _ => narrow(shape),
        }
    }
}

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
    file::read_checked(&INSTRUMENT, file, bytes, |read, problems| {
        check_scale(read.value, read.tree, problems);
        check_prefix(read.value, read.tree, problems);
        check_calibrations(read.value, read.tree, problems);
        check_against_range(read.value, read.tree, problems);
        check_pieces(read.value, read.tree, problems);
    })
}

/// What the gauge's figures must be of, where its kind or its range says so.
fn dimension(instrument: &Instrument) -> Option<Dimension> {
    match instrument.kind {
        GaugeKind::Micrometer
        | GaugeKind::Dial
        | GaugeKind::Bore
        | GaugeKind::Feelers
        | GaugeKind::Calliper
        | GaugeKind::Ultrasonic => Some(Dimension::Length),
        GaugeKind::Gaussmeter => Some(Dimension::FluxDensity),
        GaugeKind::Wrench => Some(Dimension::Torque),
        GaugeKind::Balancer => Some(Dimension::Unbalance),
        GaugeKind::Other => instrument.range.map(|(from, _)| from.dimension()),
    }
}

/// Whether all its figures are of one kind, and none is what no gauge can have.
fn check_scale(instrument: &Instrument, node: &Node, problems: &mut Problems) {
    let at = |key: &str| node.get(key).map_or(node.at, |node| node.at);
    let step = instrument.resolution;
    let pooled = instrument.repeatability.as_ref().map(|one| one.s);
    let figures = [
        ("range", instrument.range.map(|(_, to)| to)),
        ("resolution", step),
        ("turn", instrument.turn),
        ("repeatability", pooled),
    ];
    for (key, figure) in figures {
        let Some(figure) = figure else { continue };
        if let Some(wanted) = dimension(instrument).filter(|wanted| figure.dimension() != *wanted) {
            let found = format!("`{figure}`, {}, of a {}", figure.dimension().one(), instrument.kind.word());
            let mend = "Put the unit behind the figure, one of that kind.";
            problems.add(at(key), found, wanted.one(), mend);
        } else if key != "range" && is_nothing(figure) {
            let mend = "Write the figure, or take it out.";
            problems.add(at(key), format!("`{key}: {figure}`"), "a figure above 0", mend);
        }
    }
    if let Some(expansion) = instrument.expansion.filter(|one| one.is_no_metals()) {
        problems.add(at("expansion"), format!("`{expansion}`"), OF_A_METAL, LOOK);
    }
    if instrument.is_too_coarse() {
        problems.add(at("resolution"), "a scale coarser than the whole range", "a step within the range", LOOK);
    }
    if instrument.is_past_range(instrument.turn) {
        problems.add(at("turn"), "a turn larger than the whole range", "a turn within the range", LOOK);
    }
    let turn = instrument.turn.zip(step).and_then(|(turn, step)| Some(turn.to(turn.unit())? < step.to(turn.unit())?));
    if turn == Some(true) {
        problems.add(at("turn"), "a turn smaller than the step of the scale", "a turn of many steps", LOOK);
    }
}

/// A prefix that would take digits of the figure with it, and a repeatability of no degree, by which nothing can be passed.
fn check_prefix(instrument: &Instrument, node: &Node, problems: &mut Problems) {
    let at = |node: Option<&Node>| node.map_or(At::default(), |node| node.at);
    if let Some(prefix) = instrument.prefix.as_ref().filter(|prefix| !is_prefix(prefix)) {
        let mend = "Write what the gauge types before each figure, or take the line out.";
        problems.add(at(node.get("prefix")), format!("the prefix `{prefix}`"), LETTERS, mend);
    }
    if instrument.repeatability.as_ref().is_some_and(|one| one.dof == Some(0)) {
        let mend = "One less than the readings it comes from, or take `dof` out where they were many.";
        let dof = node.get("repeatability").and_then(|one| one.get("dof"));
        problems.add(at(dof), "`dof: 0`", DEGREES, mend);
    }
}

/// A piece that the gauge cannot take, a correction or an uncertainty as large as a good part of its range: a unit that
/// slipped, and every reading would be moved by it.
fn check_against_range(instrument: &Instrument, node: &Node, problems: &mut Problems) {
    let Some((from, to)) = instrument.range else { return };
    let unit = to.unit();
    let Some((low, high)) = from.to(unit).zip(to.to(unit)) else { return };
    let quarter = (&high - &low).over(&Exact::from(4)).unwrap_or_else(Exact::zero);
    for (place, Correction { piece, shows }) in instrument.corrections.iter().enumerate() {
        let at = |key: &str| place_of(node, ("corrections", place), key);
        let Some((size, shown)) = piece.to(unit).zip(shows.to(unit)) else {
            let wrong = if piece.to(unit).is_none() { "piece" } else { "shows" };
            problems.add(at(wrong), format!("a piece of {piece}, showing {shows}"), format!("figures in {unit}"), LOOK);
            continue;
        };
        if size < low || size > high {
            problems.add(at("piece"), format!("a piece of {piece}"), format!("one within {from} to {to}"), LOOK);
        } else if (&size - &shown).abs() > quarter {
            let found = format!("a piece of {piece}, showing {shows}");
            problems.add(at("shows"), found, "the two nearer than a quarter of the range", LOOK);
        }
    }
    for (place, one) in instrument.calibrations.iter().enumerate() {
        if one.expanded.to(unit).is_some_and(|expanded| expanded > quarter) {
            let found = format!("an expanded uncertainty of {}", one.expanded);
            let at = place_of(node, ("calibrations", place), "expanded");
            problems.add(at, found, "less than a quarter of the range", LOOK);
        }
    }
}

/// A piece has one line in the correction table: of two, nobody can say which corrects.
fn check_pieces(instrument: &Instrument, node: &Node, problems: &mut Problems) {
    for (place, Correction { piece, .. }) in instrument.corrections.iter().enumerate() {
        let is_same = |other: &&Correction| other.piece.to(piece.unit()) == piece.to(piece.unit());
        if instrument.corrections.iter().take(place).any(|other| is_same(&other)) {
            let (found, at) =
                (format!("the piece {piece} a second time"), place_of(node, ("corrections", place), "piece"));
            problems.add(at, found, "each piece once", "Keep one of the two, or the mean of what both show.");
        }
    }
}

/// Where a key of an item of a list stands; the item, where it has no such key.
fn place_of(node: &Node, (list, place): (&str, usize), key: &str) -> At {
    let item = node.get(list).and_then(|list| list.items().get(place)).unwrap_or(node);
    item.get(key).unwrap_or(item).at
}

const LOOK: &str = "Look at the two figures and their units.";

fn is_nothing(figure: Figure) -> bool {
    figure.decimal().is_zero() || figure.decimal().is_sign_negative()
}

/// Between these lies the coverage factor of any calibration: no certificate states less than the standard uncertainty
/// itself, nor more than 95 % by three readings, 4.5. Our own choice: a larger one would make a gauge of any quality.
const SMALLEST_K: Decimal = Decimal::ONE;
const LARGEST_K: Decimal = Decimal::from_parts(5, 0, 0, false, 0);

/// Whether calibrations follow each other, and say how well in figures that can be.
fn check_calibrations(instrument: &Instrument, node: &Node, problems: &mut Problems) {
    for (place, one) in instrument.calibrations.iter().enumerate() {
        let at = |key: &str| place_of(node, ("calibrations", place), key);
        if one.k < SMALLEST_K || one.k > LARGEST_K {
            let found = format!("a coverage factor k of {}", one.k);
            let expected = format!("a factor from {SMALLEST_K} to {LARGEST_K}");
            problems.add(at("k"), found, expected, "Write it as the certificate has it, usually 2: U is k times u.");
        }
        let kinds = [dimension(instrument), Some(Dimension::Ratio)];
        if is_nothing(one.expanded) {
            let found = format!("an expanded uncertainty of {}", one.expanded);
            problems.add(
                at("expanded"),
                found,
                "a figure above 0",
                "No calibration is without: write it as the certificate has it.",
            );
        } else if one.expanded.unit() == Unit::One && dimension(instrument) != Some(Dimension::Ratio) {
            let mend = "Put the unit of the gauge behind it, or % for a share of the reading.";
            problems.add(at("expanded"), one.expanded.to_string(), "a figure with its unit", mend);
        } else if dimension(instrument).is_some() && !kinds.contains(&Some(one.expanded.dimension())) {
            let found = format!("an expanded uncertainty of {}, {}", one.expanded, one.expanded.dimension().one());
            let mend = "Put the unit of the gauge behind it, or % for a share of the reading.";
            problems.add(at("expanded"), found, "a figure of what the gauge shows", mend);
        }
    }
    let days: Vec<_> = instrument.calibrations.iter().map(|one| (one.date, one.due)).collect();
    for (place, (date, due)) in days.iter().enumerate() {
        let at = |key: &str| place_of(node, ("calibrations", place), key);
        if due.is_some_and(|due| due < *date) {
            let mend = "Look at the two days.";
            problems.add(at("due"), format!("a calibration due before its day {date}"), "a later day", mend);
        }
        if place > 0 && days.get(place - 1).is_some_and(|(before, _)| before > date) {
            let mend = "Put them in the order of their days.";
            problems.add(at("date"), format!("a calibration of {date} behind a later one"), "the oldest first", mend);
        }
    }
}
