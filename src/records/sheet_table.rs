//! A limits sheet as a table for spreadsheets: a row for each line of the sheet.
//!
//! The rows come from the sheet's own description and go back through it, so that a table cannot say what a file
//! could not, and every fault is the one that the file's reader would tell, at its line and column.

mod cells;
mod changes;
mod rows;
mod tree;

use crate::domain::refusal::RefusalKind;
use crate::domain::sheet::Sheet;

use super::file::Read;
use super::form::{self, Unknown};
use super::settings_file::DecimalMark;
use super::sheet_file;
use super::yaml::{At, Problem, Problems};

use cells::Columns;

pub use changes::{Change, changes};

/// What stands in the first row; a table may have them in another order, and leave out what it does not need.
pub const COLUMNS: [&str; 15] = [
    "line",
    "name",
    "figure",
    "at or above",
    "above",
    "at or below",
    "below",
    "size",
    "over",
    "up to",
    "leads to",
    "rule",
    "factor",
    "source",
    "text",
];

/// Columns that bound a level.
const BOUNDS: [&str; 4] = ["at or above", "above", "at or below", "below"];
/// Columns whose cells are figures.
const FIGURES: [&str; 8] = ["figure", "at or above", "above", "at or below", "below", "over", "up to", "factor"];

/// The table as CSV in UTF-8: commas and decimal points, or semicolons and decimal commas.
///
/// Every level of everything judged has a row, an empty one where the sheet has none; empty ones come back as none.
/// A text that a spreadsheet would take for a formula begins with an apostrophe, which is taken off on the way back.
pub fn write_table(sheet: &Sheet, mark: DecimalMark) -> String {
    let separator = match mark {
        DecimalMark::Point => b',',
        DecimalMark::Comma => b';',
    };
    let mut writer = csv::WriterBuilder::new().delimiter(separator).from_writer(Vec::new());
    let mut rows = vec![COLUMNS.map(str::to_owned).to_vec()];
    rows.extend(rows::rows_to_fill_in(sheet).iter().map(|row| row.cells(mark)));
    // writing to memory does not fail
    let written = rows.iter().try_for_each(|row| writer.write_record(row)).is_ok();
    let bytes = writer.into_inner().ok().filter(|_| written).unwrap_or_default();
    // without the mark in front, some spreadsheets take UTF-8 for something else
    format!("\u{feff}{}", String::from_utf8_lossy(&bytes))
}

/// Reads a table back into a sheet.
///
/// # Errors
/// Every fault, with line and column of its cell.
pub fn read_table(file: &str, bytes: &[u8]) -> Result<Sheet, Problems> {
    let mut problems = Problems::of(file);
    let (columns, lines) = cells::lines(bytes, &mut problems);
    if lines.is_empty() {
        return Err(problems);
    }
    let root = tree::tree(&lines, &mut problems);
    match form::read(file, &root, Unknown::Refused, |slot| sheet_file::sheet(slot, None)) {
        Ok(sheet) => {
            sheet_file::check_tree(&Read { value: &sheet, tree: &root, whole: &root }, &mut problems);
            problems.unless_any(Some(sheet)).map_err(|problems| in_words_of_tables(problems, &columns))
        }
        Err(others) => {
            problems.join(others);
            Err(in_words_of_tables(problems, &columns))
        }
    }
}

/// The same faults, each with its cell as spreadsheets name it; of what is missing the cell that is to be filled.
fn in_words_of_tables(problems: Problems, columns: &Columns) -> Problems {
    let mut told = Problems::of(problems.file());
    let place = |wanted: &str| columns.iter().find(|(_, column)| **column == wanted).map(|(place, _)| *place);
    for problem in &problems.sorted() {
        let mut problem: Problem = problem.clone();
        let missing = problem.found.strip_prefix("no key `").and_then(|rest| rest.strip_suffix('`'));
        // what the whole sheet lacks is told as a row that is missing
        if missing.is_some() && problem.at.line <= 1 {
            continue;
        }
        if let Some(column) = missing {
            problem.at.column = place(column).unwrap_or(problem.at.column);
            problem.mend = format!("Fill the column `{column}` in this row.");
            problem.found = format!("nothing in the column `{column}`");
        }
        if problem.found == RefusalKind::NoBound.what() {
            problem.at.column = BOUNDS.into_iter().find_map(place).unwrap_or(problem.at.column);
        }
        if let Some(cell) = cell(problem.at) {
            problem.found = format!("{} (cell {cell})", problem.found);
        }
        told.take(problem);
    }
    told
}

/// `F14`.
fn cell(at: At) -> Option<String> {
    let letter = at.column.checked_sub(1).filter(|place| *place < 26)?;
    let letter = char::from_digit(letter + 10, 36)?.to_ascii_uppercase();
    (at.line > 1).then(|| format!("{letter}{}", at.line))
}
