//! What a table would change in a sheet, row by row.

use std::collections::{BTreeMap, BTreeSet};

use crate::domain::sheet::Sheet;

use super::COLUMNS;
use super::rows::{Row, rows};

/// One line of a sheet that is not the same any more.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Change {
    /// `limit bush.ts.clearance`.
    pub what: String,
    /// What it says now; `None` for a line that is new.
    pub was: Option<String>,
    /// What it would say; `None` for a line that would go.
    pub now: Option<String>,
}

/// Every line that differs, in the order of the new sheet; lines that would go come last.
pub fn changes(was: Option<&Sheet>, now: &Sheet) -> Vec<Change> {
    let before = was.map(told).unwrap_or_default();
    let after = told(now);
    let known: BTreeMap<&str, &str> = before.iter().map(|(what, says)| (what.as_str(), says.as_str())).collect();
    let kept: BTreeSet<&str> = after.iter().map(|(what, _)| what.as_str()).collect();
    let new = after.iter().filter(|(what, says)| known.get(what.as_str()) != Some(&says.as_str()));
    let new = new.map(|(what, says)| Change {
        what: what.clone(),
        was: known.get(what.as_str()).map(|says| (*says).to_owned()),
        now: Some(says.clone()),
    });
    let gone = before.iter().filter(|(what, _)| !kept.contains(what.as_str()));
    let gone = gone.map(|(what, says)| Change { what: what.clone(), was: Some(says.clone()), now: None });
    new.chain(gone).collect()
}

/// Each line of the sheet and what it says; rows of one level are one line.
fn told(sheet: &Sheet) -> Vec<(String, String)> {
    let mut lines: Vec<(String, String)> = Vec::new();
    for row in rows(sheet) {
        let alone = row.rest.is_empty();
        let what = if alone { row.line.clone() } else { format!("{} {}", row.line, row.name) };
        let says = if alone { row.name.clone() } else { says(&row) };
        match lines.iter_mut().find(|(known, _)| *known == what) {
            Some((_, before)) => *before = format!("{before}; {says}"),
            None => lines.push((what, says)),
        }
    }
    lines
}

/// `above 0.220 mm, leads to replace, source ...`.
fn says(row: &Row) -> String {
    let cells = COLUMNS.iter().filter_map(|column| {
        let cell = row.rest.get(column)?;
        Some(if ["figure", "text"].contains(column) { cell.clone() } else { format!("{column} {cell}") })
    });
    cells.collect::<Vec<_>>().join(", ")
}
