//! Tables of what a record holds: the inspection itself, its entries, its readings, its findings.

use super::{Cell, Column, Exported, Kind, LAYOUT, Table, column, count, decimal, maybe, number, text};
use crate::domain::entry::{Act, Entry};
use crate::domain::exact::Exact;
use crate::domain::figure::Figure;
use crate::domain::inspection::{Arrives, Inspection};
use crate::domain::signing::{self, Signed};
use crate::domain::telling;
use crate::domain::unit::Unit;

/// One row for each record.
pub(super) const INSPECTIONS: Table =
    Table { name: "inspections", doc: "a record", columns: &INSPECTION, key: &["file"], rows: inspections };

const INSPECTION: [Column; 24] = [
    column("layout", Kind::Whole, "number of this layout of tables"),
    column("inspection", Kind::Text, "id of the record"),
    column("file", Kind::Text, "its file, below the data folder"),
    column("rotor", Kind::Text, "id of the rotor"),
    column("serial", Kind::Text, "its serial number"),
    column("machine", Kind::Text, "machine type"),
    column("plant", Kind::Text, "engine or plant"),
    column("checklist", Kind::Text, "which checklist"),
    column("checklist_version", Kind::Whole, "its version"),
    column("begun", Kind::Moment, "when it was begun"),
    column("begun_by", Kind::Text, "id of who began it"),
    column("reason", Kind::Text, "why it was opened"),
    column("arrives", Kind::Text, "in place, cartridge or stripped"),
    column("machine_hours", Kind::Decimal, "hours of the machine, h"),
    column("next_hours", Kind::Decimal, "machine hours planned for the next opening, h"),
    column("next_date", Kind::Day, "day planned for it"),
    column("previous", Kind::Text, "id of the record before"),
    column("entries", Kind::Whole, "entries, struck ones included"),
    column("readings", Kind::Whole, "readings, struck ones included"),
    column("signed", Kind::Text, "the signature that counts: close, decisions or unsigned"),
    column("signed_entry", Kind::Whole, "its entry"),
    column(
        "countersigned",
        Kind::Flag,
        "whether it is countersigned by somebody known here, and nothing under it changed since",
    ),
    column("grown_since", Kind::Flag, "whether entries came after it that nobody has signed"),
    column(
        "trust",
        Kind::Text,
        "whole, seen, changed: whether the file is as the program left it; changed ones are to be looked at",
    ),
];

fn inspections(record: &Exported<'_>) -> Vec<Vec<Cell>> {
    let (head, opening) = (record.inspection.head(), record.inspection.opening());
    let hours =
        |figure: Option<Figure>| figure.and_then(|one| one.to(Unit::Hour)).map_or(Cell::Nothing, |h| decimal(&h));
    let sign = record.signed.as_ref().and_then(|(_, entry, _)| record.inspection.entry(*entry));
    let of_sign = |asked: &dyn Fn(&Entry) -> bool| sign.map_or(Cell::Nothing, |entry| Cell::Flag(asked(entry)));
    let pending = signing::pending_here(record.inspection, record.strange);
    let row: [Cell; 24] = [
        Cell::Whole(LAYOUT),
        record.id(),
        text(record.file),
        text(head.rotor.id.as_str()),
        text(&head.rotor.serial),
        text(head.rotor.machine.as_str()),
        maybe(head.rotor.plant.as_ref()),
        text(head.checklist.id.as_str()),
        number(head.checklist.version),
        text(head.begun.to_string()),
        text(head.by.as_str()),
        maybe(opening.reason.as_ref()),
        maybe(opening.arrives.map(Arrives::word)),
        hours(opening.machine_hours),
        hours(opening.next_hours),
        maybe(opening.next_date),
        maybe(head.previous.as_ref().map(|previous| &previous.inspection)),
        count(record.inspection.entries().len()),
        count(record.inspection.reading_count()),
        text(record.signed_word()),
        record.sign_entry(),
        of_sign(&|entry| !pending.contains(&entry)),
        of_sign(&|entry| signing::grown_since(record.inspection, entry) == Signed::Grown),
        text(record.trust),
    ];
    vec![row.into()]
}

/// One row for each entry.
pub(super) const ENTRIES: Table =
    Table { name: "entries", doc: "an entry of a record", columns: &ENTRY, key: &["file", "entry"], rows: entries };

const ENTRY: [Column; 13] = [
    column("layout", Kind::Whole, "number of this layout of tables"),
    column("inspection", Kind::Text, "id of the record"),
    column("file", Kind::Text, "its file, below the data folder"),
    column("entry", Kind::Whole, "number in the record, from 1"),
    column("at", Kind::Moment, "when it was made"),
    column("by", Kind::Text, "id of who stands for it"),
    column("writer", Kind::Text, "id of who wrote, where that was another"),
    column("kind", Kind::Text, "as in the record: reading, finding, strike and so on"),
    column("step", Kind::Text, "step it belongs to"),
    column("part", Kind::Text, "part it names"),
    column("struck_by", Kind::Whole, "entry that took it back"),
    column("told", Kind::Text, "what was done, in words"),
    column("chain", Kind::Text, "chain value behind it, as in the file"),
];

fn entries(record: &Exported<'_>) -> Vec<Vec<Cell>> {
    let chains = record.chains.iter().map(Some).chain(std::iter::repeat(None));
    let rows = record.inspection.entries().iter().zip(chains).map(|(entry, chain)| {
        let row: [Cell; 13] = [
            Cell::Whole(LAYOUT),
            record.id(),
            text(record.file),
            number(entry.number),
            text(entry.at.to_string()),
            text(entry.by.as_str()),
            maybe(entry.writer.as_ref()),
            text(entry.act.kind()),
            maybe(entry.act.step()),
            maybe(entry.act.part()),
            struck(record.inspection, entry),
            text(telling::of_entry(record.inspection, entry)),
            maybe(chain),
        ];
        row.into()
    });
    rows.collect()
}

/// One row for each reading.
pub(super) const READINGS: Table = Table {
    name: "readings",
    doc: "a reading, struck ones too",
    columns: &READING,
    key: &["file", "entry"],
    rows: readings,
};

const READING: [Column; 14] = [
    column("layout", Kind::Whole, "number of this layout of tables"),
    column("inspection", Kind::Text, "id of the record"),
    column("file", Kind::Text, "its file, below the data folder"),
    column("entry", Kind::Whole, "entry it was made by"),
    column("at", Kind::Moment, "when it was made"),
    column("by", Kind::Text, "id of who stands for it"),
    column("step", Kind::Text, "step"),
    column("place", Kind::Text, "place, repeat and figure, as in the record"),
    column("typed", Kind::Text, "as typed"),
    column("taken", Kind::Decimal, "what it was taken for, nothing added; in the unit beside it"),
    column("unit", Kind::Text, "unit"),
    column("gauge", Kind::Text, "id of the instrument"),
    column("doubts", Kind::Text, "doubts insisted on, semicolons between them"),
    column("struck_by", Kind::Whole, "entry that took it back"),
];

fn readings(record: &Exported<'_>) -> Vec<Vec<Cell>> {
    let rows = record.inspection.entries().iter().filter_map(|entry| {
        let Act::Reading { step, place, typed, taken, gauge, doubts } = &entry.act else { return None };
        let row: [Cell; 14] = [
            Cell::Whole(LAYOUT),
            record.id(),
            text(record.file),
            number(entry.number),
            text(entry.at.to_string()),
            text(entry.by.as_str()),
            text(step),
            text(place),
            text(typed),
            decimal(&Exact::from(taken.decimal())),
            text(taken.unit().to_string()),
            maybe(gauge.as_ref()),
            maybe(Some(doubts.join("; ")).filter(|doubts| !doubts.is_empty())),
            struck(record.inspection, entry),
        ];
        Some(row.into())
    });
    rows.collect()
}

/// One row for each finding.
pub(super) const FINDINGS: Table = Table {
    name: "findings",
    doc: "something seen, struck ones too",
    columns: &FINDING,
    key: &["file", "entry"],
    rows: findings,
};

const FINDING: [Column; 14] = [
    column("layout", Kind::Whole, "number of this layout of tables"),
    column("inspection", Kind::Text, "id of the record"),
    column("file", Kind::Text, "its file, below the data folder"),
    column("entry", Kind::Whole, "entry it was made by"),
    column("at", Kind::Moment, "when it was made"),
    column("by", Kind::Text, "id of who stands for it"),
    column("part", Kind::Text, "part"),
    column("step", Kind::Text, "step it was seen at"),
    column("kind", Kind::Text, "kind, as in the checklist"),
    column("grade", Kind::Text, "grade, as in the checklist"),
    column("details", Kind::Text, "number, place, size and so on as typed: `length: 1.8; depth: 0.6`"),
    column("note", Kind::Text, "in words"),
    column("photos", Kind::Whole, "pictures"),
    column("struck_by", Kind::Whole, "entry that took it back"),
];

fn findings(record: &Exported<'_>) -> Vec<Vec<Cell>> {
    let rows = record.inspection.entries().iter().filter_map(|entry| {
        let Act::Finding(finding) = &entry.act else { return None };
        let details: Vec<_> = finding.details.iter().map(|(what, typed)| format!("{what}: {typed}")).collect();
        let row: [Cell; 14] = [
            Cell::Whole(LAYOUT),
            record.id(),
            text(record.file),
            number(entry.number),
            text(entry.at.to_string()),
            text(entry.by.as_str()),
            text(&finding.part),
            text(&finding.step),
            text(&finding.kind),
            text(&finding.grade),
            maybe(Some(details.join("; ")).filter(|details| !details.is_empty())),
            maybe(finding.note.as_ref()),
            count(finding.photos.len()),
            struck(record.inspection, entry),
        ];
        Some(row.into())
    });
    rows.collect()
}

fn struck(inspection: &Inspection, entry: &Entry) -> Cell {
    inspection.struck_by(entry.number).map_or(Cell::Nothing, number)
}
