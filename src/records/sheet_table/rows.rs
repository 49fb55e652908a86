//! The rows of a sheet, from its description.

use std::collections::BTreeMap;

use crate::domain::characteristic::Characteristic;
use crate::domain::sheet::{Sheet, Which};
use crate::records::form;
use crate::records::settings_file::DecimalMark;
use crate::records::sheet_file;
use crate::records::yaml::{Node, What};

use super::{COLUMNS, FIGURES};

/// One row: what it is, about what, and its other cells by column.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(super) struct Row {
    pub(super) line: String,
    pub(super) name: String,
    pub(super) rest: BTreeMap<&'static str, String>,
}

impl Row {
    fn new(line: &str, name: &str) -> Self {
        Self { line: line.to_owned(), name: name.to_owned(), rest: BTreeMap::new() }
    }

    fn with(mut self, column: &str, cell: &str) -> Self {
        if let Some(column) = COLUMNS.into_iter().find(|known| *known == column) {
            self.rest.insert(column, cell.to_owned());
        }
        self
    }

    /// The cells in the order of the columns.
    pub(super) fn cells(&self, mark: DecimalMark) -> Vec<String> {
        let cell = |column: &str| match column {
            "line" => self.line.clone(),
            "name" => no_formula(&self.name),
            column => {
                let cell = self.rest.get(column).map_or("", String::as_str);
                match (FIGURES.contains(&column), mark) {
                    (true, DecimalMark::Comma) => cell.replace('.', ","),
                    (true, DecimalMark::Point) => cell.to_owned(),
                    (false, _) => no_formula(cell),
                }
            }
        };
        COLUMNS.iter().map(|column| cell(column)).collect()
    }
}

/// What begins like a formula, for spreadsheets.
const FORMULA: [char; 7] = ['=', '+', '-', '@', '\t', '\r', '\''];

fn no_formula(text: &str) -> String {
    if text.starts_with(FORMULA) { format!("'{text}") } else { text.to_owned() }
}

/// Takes off the apostrophe that [`no_formula`] put in front.
pub(super) fn with_formula(text: &str) -> &str {
    text.strip_prefix('\'').filter(|rest| rest.starts_with(FORMULA)).unwrap_or(text)
}

/// Every row of a sheet.
pub(super) fn rows(sheet: &Sheet) -> Vec<Row> {
    let root = form::write(|slot| drop(sheet_file::sheet(slot, Some(sheet))));
    let What::Map(_, pairs) = &root.what else { return Vec::new() };
    pairs.iter().flat_map(|(key, node)| of_key(&key.text, node)).collect()
}

/// The same with an empty row for each level that nothing is known of, so that a table to fill in lists all that is judged.
pub(super) fn rows_to_fill_in(sheet: &Sheet) -> Vec<Row> {
    let named = |row: &Row| Characteristic::parse(&row.name).is_some();
    let (of_levels, mut all): (Vec<_>, Vec<_>) = rows(sheet)
        .into_iter()
        .partition(|row| named(row) && !["absent", "changed since"].contains(&row.line.as_str()));
    for one in Characteristic::all().filter(|one| !sheet.absent.contains_key(one)) {
        for line in ["part number"].into_iter().chain(Which::ALL.map(Which::word)) {
            let before = all.len();
            all.extend(of_levels.iter().filter(|row| row.name == one.id() && row.line == line).cloned());
            if all.len() == before && line != "part number" {
                all.push(Row::new(line, one.id()));
            }
        }
    }
    all
}

fn of_key(key: &str, node: &Node) -> Vec<Row> {
    match key {
        "manual" => ["title", "edition"].map(|word| Row::new(&format!("manual {word}"), text(node, word))).to_vec(),
        "given" => node.items().iter().map(|item| named("given", item, "name")).collect(),
        "absent" => {
            let row = |item| Row::new("absent", text(item, "characteristic")).with("text", text(item, "reason"));
            node.items().iter().map(row).collect()
        }
        "levels" => node.items().iter().flat_map(of_levels).collect(),
        key => match &node.what {
            What::Text(text, _) => vec![Row::new(key, text)],
            What::List(_, items) => items.iter().map(|item| Row::new(key, item.as_text().unwrap_or(""))).collect(),
            What::Map(..) => vec![named(key, node, "name")],
        },
    }
}

fn text<'a>(node: &'a Node, key: &str) -> &'a str {
    node.get(key).and_then(Node::as_text).unwrap_or("")
}

/// A row with every text of a mapping under the column of its key.
fn named(line: &str, node: &Node, name: &str) -> Row {
    let What::Map(_, pairs) = &node.what else { return Row::new(line, "") };
    let rest = pairs.iter().filter(|(key, _)| key.text != name);
    rest.fold(Row::new(line, text(node, name)), |row, (key, value)| row.with(&key.text, value.as_text().unwrap_or("")))
}

fn of_levels(item: &Node) -> Vec<Row> {
    let name = text(item, "characteristic");
    let part_number = item.get("part number").and_then(Node::as_text);
    let mut rows: Vec<Row> =
        part_number.map(|number| Row::new("part number", name).with("text", number)).into_iter().collect();
    for line in ["new", "alert", "limit"] {
        rows.extend(item.get(line).map(|level| of_level(line, name, level)).unwrap_or_default());
    }
    rows
}

/// The level itself, then a row for each band of its tables.
fn of_level(line: &str, name: &str, level: &Node) -> Vec<Row> {
    let What::Map(_, pairs) = &level.what else { return Vec::new() };
    let mut first = Row::new(line, name);
    let mut bands = Vec::new();
    for (key, value) in pairs {
        if let Some(text) = value.as_text() {
            first = first.with(&key.text, text);
            continue;
        }
        let size = text(value, "size");
        let of_band = |band: &Node| {
            let row = Row::new(line, name).with("size", size).with(&key.text, text(band, "figure"));
            row.with("over", text(band, "over")).with("up to", text(band, "up to"))
        };
        bands.extend(value.get("bands").map(Node::items).unwrap_or_default().iter().map(of_band));
    }
    std::iter::once(first).chain(bands).collect()
}
