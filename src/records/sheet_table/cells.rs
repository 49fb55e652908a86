//! From the bytes of a table to its cells by column.

use std::collections::BTreeMap;

use crate::records::yaml::{At, MOST_BYTES, Problems, nearest};

use super::COLUMNS;

/// One cell that is not empty.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Cell {
    pub(super) at: At,
    pub(super) text: String,
}

/// One row with its cells by column; empty ones are left out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Line {
    pub(super) at: At,
    pub(super) cells: BTreeMap<&'static str, Cell>,
}

/// The column behind each place of the first row.
pub(super) type Columns = BTreeMap<u32, &'static str>;

/// The columns that the first row names, and every row behind it.
pub(super) fn lines(bytes: &[u8], problems: &mut Problems) -> (Columns, Vec<Line>) {
    let Some((text, skipped, separator)) = text_of(bytes, problems) else { return Default::default() };
    let mut reader =
        csv::ReaderBuilder::new().delimiter(separator).has_headers(false).flexible(true).from_reader(text.as_bytes());
    let mut rows = Vec::new();
    for record in reader.records() {
        let Ok(record) = record else { continue };
        let line = record.position().map_or(1, |begin| line_of(text, begin)).saturating_add(skipped);
        let line = u32::try_from(line).unwrap_or(u32::MAX);
        let cells = record.iter().zip(1..).filter(|(text, _)| !text.trim().is_empty());
        let cells: Vec<_> =
            cells.map(|(text, column)| Cell { at: At { line, column }, text: text.to_owned() }).collect();
        if !cells.is_empty() {
            rows.push((At { line, column: 1 }, cells));
        }
    }
    let mut rows = rows.into_iter();
    let Some((_, header)) = rows.next() else {
        problems.add(At { line: 1, column: 1 }, "an empty table", expected_columns(), HEADER);
        return Default::default();
    };
    let columns = columns(&header, problems);
    if !columns.values().any(|column| *column == "line") {
        // without it no row says what it is: the first one is what is to be mended
        return Default::default();
    }
    let lines = rows.map(|(at, cells)| Line { at, cells: by_column(cells, &columns, problems) }).collect();
    (columns, lines)
}

/// The line on which a row begins; the library counts from behind the row before, where empty lines may follow.
fn line_of(text: &str, begin: &csv::Position) -> u64 {
    let byte = usize::try_from(begin.byte()).unwrap_or(usize::MAX);
    let empty = text.get(byte..).into_iter().flat_map(str::chars).take_while(|letter| ['\r', '\n'].contains(letter));
    let more = u64::try_from(empty.filter(|letter| *letter == '\n').count()).unwrap_or(0);
    begin.line().saturating_add(more)
}

const HEADER: &str = "Begin with the row of columns that `asfound sheet export` writes.";

fn expected_columns() -> String {
    format!("a row with the columns {}", COLUMNS.join(", "))
}

/// The text, how many lines were taken off it, and what separates its cells.
fn text_of<'a>(bytes: &'a [u8], problems: &mut Problems) -> Option<(&'a str, u64, u8)> {
    let top = At { line: 1, column: 1 };
    if bytes.len() > MOST_BYTES {
        problems.add(top, format!("{} bytes", bytes.len()), format!("at most {MOST_BYTES}"), "Is this the right file?");
        return None;
    }
    let Ok(text) = std::str::from_utf8(bytes) else {
        let mend = "Save the table as CSV in UTF-8 from the spreadsheet.";
        problems.add(top, "bytes that are no UTF-8", "text in UTF-8", mend);
        return None;
    };
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    if text.matches('"').count() % 2 == 1 {
        let line = text.lines().position(|line| line.matches('"').count() % 2 == 1).unwrap_or(0);
        let at = At { line: u32::try_from(line + 1).unwrap_or(u32::MAX), column: 1 };
        problems.add(at, "a quote that is never closed", "quotes in pairs", "Look for a single \" in this row.");
        return None;
    }
    let (first, rest) = text.split_once('\n').unwrap_or((text, ""));
    // some spreadsheets write what separates on a line of its own
    if let Some(told) = first.trim_end().strip_prefix("sep=").and_then(|told| told.bytes().next()) {
        return Some((rest, 1, told));
    }
    let most = [b',', b';', b'\t'].into_iter().max_by_key(|one| first.bytes().filter(|byte| byte == one).count());
    Some((text, 0, most.unwrap_or(b',')))
}

fn columns(header: &[Cell], problems: &mut Problems) -> Columns {
    let mut columns = BTreeMap::new();
    let is_column = |cell: &Cell| {
        let word = cell.text.trim().to_lowercase();
        COLUMNS.contains(&word.as_str()) || nearest(&word, COLUMNS).is_some()
    };
    if !header.iter().any(is_column) {
        let first = header.first().map_or("", |cell| cell.text.trim());
        let found = format!("no table of a limits sheet: its first row is `{first}`");
        let mend = "Is this the right file? A table begins with the row of columns that `asfound sheet export` writes.";
        problems.add(At { line: 1, column: 1 }, found, expected_columns(), mend);
        return columns;
    }
    for cell in header {
        let word = cell.text.trim().to_lowercase();
        let Some(column) = COLUMNS.into_iter().find(|known| *known == word) else {
            let mend = match nearest(&word, COLUMNS) {
                Some(near) => format!("Did you mean `{near}`?"),
                None => HEADER.to_owned(),
            };
            problems.add(cell.at, format!("the column `{}`", cell.text), expected_columns(), mend);
            continue;
        };
        if columns.values().any(|other| *other == column) {
            problems.add(cell.at, format!("the column `{column}` a second time"), "each once", "Keep one of the two.");
        }
        columns.insert(cell.at.column, column);
    }
    for needed in ["line", "name"].into_iter().filter(|needed| !columns.values().any(|column| column == needed)) {
        problems.add(At { line: 1, column: 1 }, format!("no column `{needed}`"), expected_columns(), HEADER);
    }
    columns
}

fn by_column(cells: Vec<Cell>, columns: &Columns, problems: &mut Problems) -> BTreeMap<&'static str, Cell> {
    let mut found = BTreeMap::new();
    for cell in cells {
        if let Some(column) = columns.get(&cell.at.column) {
            found.insert(*column, cell);
        } else {
            let found = format!("`{}` in no column", cell.text);
            let mend = "Move it under a column, or empty the cell. A figure with a comma goes in quotes.";
            problems.add(cell.at, found, "cells under the named columns only", mend);
        }
    }
    found
}
