//! `asfound export`: the records of the data folder as tables, one record after the other, nothing held back.

use std::io::{self, Write};
use std::path::Path;

use serde_json::{Map, Value};

use crate::domain::inspection::Scene;
use crate::domain::signing::is_changed_outside;
use crate::exit::Exit;
use crate::face::shelf::reading::strange;
use crate::records::inspection_file::{Opened, Trust};
use crate::records::store::Store;
use crate::records::verify::all_records;
use crate::report::export::{Cell, Exported, TABLES, Table};

use super::out::Out;
use super::raw;

/// Writes the tables asked for; a record that is left out is named at the end.
///
/// # Errors
/// When stdout cannot be written.
pub(super) fn run(words: &raw::Export, store: &Store, out: &mut Out) -> io::Result<Exit> {
    let one = match &words.table {
        None => None,
        Some(name) => match TABLES.iter().find(|table| table.name == *name) {
            Some(table) => Some(table),
            None => return wrong(out, &format!("no table is called `{name}`. {}", names())),
        },
    };
    let tables: Vec<&Table> = TABLES.iter().filter(|table| one.is_none_or(|one| one.name == table.name)).collect();
    let form = match (words.csv, tables.as_slice()) {
        (false, _) => Form::Lines,
        (true, [table]) => {
            csv_line(out.page(), table.columns.iter().map(|column| column.name.to_owned()))?;
            Form::Csv
        }
        (true, _) => return wrong(out, &format!("CSV takes one table. {}", names())),
    };
    let records = match all_records(store) {
        Ok(records) => records,
        Err(problems) => {
            out.complain(&format!("asfound export: {problems}"))?;
            return Ok(Exit::NotDone);
        }
    };
    let mut left_out = Vec::new();
    for path in records {
        match readable(store, &path) {
            Ok((opened, trust)) => {
                let file = store.name_of(&path);
                let strange = strange(store, &path, &opened);
                let record = Exported::of(&opened.inspection, &opened.chains, (trust, &file), &strange);
                for table in &tables {
                    for row in (table.rows)(&record) {
                        write(out.page(), form, table, &row)?;
                    }
                }
            }
            Err(why) => left_out.push(why),
        }
    }
    for why in &left_out {
        out.complain(&format!("asfound export: left out: {why}"))?;
    }
    Ok(if left_out.is_empty() { Exit::Done } else { Exit::FallsShort })
}

fn wrong(out: &mut Out, why: &str) -> io::Result<Exit> {
    out.complain(&format!("asfound export: {why}"))?;
    Ok(Exit::WrongWords)
}

fn names() -> String {
    let names: Vec<_> = TABLES.iter().map(|table| table.name).collect();
    format!("Tables: {}.", names.join(", "))
}

/// A record of a machine that exists, read to its end, and whether it is as this program left it; else why not.
fn readable(store: &Store, path: &Path) -> Result<(Opened, &'static str), String> {
    let name = || store.name_of(path);
    let opened = store.open(path).map_err(|problems| problems.to_string())?;
    let trust = match opened.trust {
        // what others know of it says so too
        Trust::Whole | Trust::Seen { .. } if opened.outside().is_some() => "changed",
        Trust::Whole if !is_changed_outside(&opened.inspection) => "whole",
        Trust::Whole | Trust::Seen { .. } => "seen",
        Trust::Changed { .. } => "changed",
        Trust::Cut { entry } => return Err(format!("{}: it cannot be read from entry {entry} on", name())),
        Trust::Newer { format } => {
            return Err(format!(
                "{}: its format {format} is newer than this program; nothing of it is written",
                name()
            ));
        }
    };
    match opened.inspection.head().scene {
        Scene::Real => Ok((opened, trust)),
        Scene::Invented => Err(format!("{}: the rotor is invented", name())),
        Scene::Practice => Err(format!("{}: the rotor is for practice", name())),
    }
}

/// How rows are written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Form {
    /// Newline JSON, the table's name in each line.
    Lines,
    /// CSV of one table.
    Csv,
}

fn write(out: &mut dyn Write, form: Form, table: &Table, row: &[Cell]) -> io::Result<()> {
    match form {
        Form::Lines => writeln!(out, "{}", json(table, row)),
        Form::Csv => csv_line(out, row.iter().map(plain)),
    }
}

fn csv_line(out: &mut dyn Write, fields: impl Iterator<Item = String>) -> io::Result<()> {
    let mut csv = csv::Writer::from_writer(out);
    csv.write_record(fields).map_err(io::Error::from)?;
    csv.flush()
}

fn json(table: &Table, row: &[Cell]) -> Value {
    let cells = table.columns.iter().zip(row).map(|(column, cell)| {
        let value = match cell {
            Cell::Nothing => Value::Null,
            Cell::Text(text) => Value::String(text.clone()),
            Cell::Whole(count) => Value::from(*count),
            Cell::Flag(flag) => Value::Bool(*flag),
        };
        (column.name.to_owned(), value)
    });
    let name = ("table".to_owned(), Value::from(table.name));
    Value::Object(std::iter::once(name).chain(cells).collect::<Map<_, _>>())
}

fn plain(cell: &Cell) -> String {
    match cell {
        Cell::Nothing => String::new(),
        Cell::Text(text) => text.clone(),
        Cell::Whole(count) => count.to_string(),
        Cell::Flag(flag) => flag.to_string(),
    }
}
