//! The items of a list: their keys side by side, or one a row to be opened. The last row is for a new one.

use crate::records::edit::{Path, Step};
use crate::records::form::{Shape, ShapeField};
use crate::records::yaml::Node;

use super::Paper;
use super::cell::{Cell, Column, Grid, Place, Row, To};
use super::change::fields_of;
use super::fields::{self, name_of};
use super::kind::Kind;

/// Characters of a row on a screen of 80.
const ROOM: usize = 78;

fn items<'a>(paper: &'a Paper, path: &Path) -> &'a [Node] {
    path.find(&paper.root).map(Node::items).unwrap_or_default()
}

/// The key that a list stands under.
fn key_of(path: &Path) -> String {
    match path.parent() {
        Some((_, Step::Key(key))) => key.clone(),
        Some((_, Step::Item(_))) | None => String::new(),
    }
}

fn title(paper: &Paper, path: &Path) -> String {
    let key = key_of(path);
    let (label, _) = paper.kind.label(&key);
    if paper.called() == label { label.to_owned() } else { format!("{}: {label}", paper.called()) }
}

pub(super) fn table(paper: &Paper, path: &Path) -> Grid {
    let columns = match paper.shape_at(&path.item(0)) {
        Some(shape) => fields_of(&shape),
        None => Vec::new(),
    };
    let list = key_of(path);
    let mut rows = Vec::new();
    let there = items(paper, path).len();
    for item in 0..=there {
        let is_new = item == there;
        let cells = columns.iter().enumerate().map(|(column, field)| {
            let at = path.item(item).key(&field.key);
            let mut cell = fields::cell(paper, &at, &field.shape);
            let (_, hint) = paper.kind.label_in(&list, &field.key);
            if paper.kind == Kind::Rotor && field.key == "part" {
                of_the_checklists(paper, &mut cell);
            }
            if !hint.is_empty() {
                hint.clone_into(&mut cell.hint);
            }
            cell.need = (field.needed && !is_new).into();
            if is_new {
                cell.to = To::New(path.clone(), Some(field.key.clone()));
                cell.way = (column == 0).into();
            }
            cell
        });
        let mut cells: Vec<Cell> = cells.collect();
        // what is wrong with the item as a whole is said at its first cell
        if let Some(first) = cells.first_mut().filter(|_| !is_new)
            && first.fault.is_none()
        {
            first.fault = paper.fault_of_whole(&path.item(item));
        }
        rows.push(Row::named("", cells));
    }
    let widest = |(at, field): (usize, &ShapeField)| {
        let name = paper.kind.label_in(&list, &field.key).0.to_owned();
        // a cell to be mended has a mark before its text
        let wide = |cell: &Cell| cell.text.chars().count() + if cell.fault.is_some() { 2 } else { 0 };
        let longest = rows.iter().filter_map(|row| row.cells.get(at).map(wide)).max();
        // one more than the widest, so that headings never touch
        Column { width: longest.unwrap_or(0).max(name.chars().count()).max(8) + 1, name }
    };
    let mut columns: Vec<Column> = columns.iter().enumerate().map(widest).collect();
    if columns.iter().map(|column| column.width + 1).sum::<usize>() > ROOM {
        for column in &mut columns {
            column.width = column.width.min(25);
        }
    }
    Grid { title: title(paper, path), columns, rows, told: Vec::new() }
}

/// A part of a rotor under its name; one that no checklist knows is said.
fn of_the_checklists(paper: &Paper, cell: &mut Cell) {
    let pieces = paper.beside.pieces();
    cell.offers = pieces.iter().map(|(_, name)| (*name).to_owned()).collect();
    let known = pieces.iter().find(|(id, _)| *id == cell.text);
    if known.is_none() && !cell.text.is_empty() && !pieces.is_empty() && cell.fault.is_none() {
        cell.fault =
            Some("no checklist has such a part: its hours count for nothing. Type one of those below.".to_owned());
    }
    if let Some((_, name)) = known {
        (*name).clone_into(&mut cell.text);
    }
}

pub(super) fn list(paper: &Paper, path: &Path) -> Grid {
    let shape = paper.shape_at(&path.item(0)).unwrap_or_default();
    let scalars = !matches!(shape, Shape::Map(..));
    let key = fields_of(&shape).first().map(|field| field.key.clone());
    let mut rows: Vec<Row> = Vec::new();
    for (number, node) in items(paper, path).iter().enumerate() {
        let at = path.item(number);
        let to = if scalars { To::Item(at.clone()) } else { To::Open(Place::Fields(at.clone())) };
        let hint = "a few letters find a line; `to 3` puts this one there; - takes it out".to_owned();
        let hint = if scalars { String::new() } else { hint };
        let cell = Cell { fault: paper.fault_at(&at), hint, ..Cell::new(&name_of(node), to) };
        rows.push(Row::named(&format!("{}", number + 1), vec![cell]));
    }
    let hint = match &key {
        Some(key) => format!("a new one begins with its {key}"),
        None => "one line more".to_owned(),
    };
    let cell = Cell { hint, ..Cell::new("", To::New(path.clone(), key)) };
    rows.push(Row::named("new", vec![cell]));
    let columns = vec![Column { name: String::new(), width: 70 }];
    Grid { title: title(paper, path), columns, rows, told: Vec::new() }
}
