//! The keys of a mapping, one a row: which there are and whether each is needed says the description of the file.

use crate::records::edit::{Path, Step};
use crate::records::form::{Shape, ShapeField};
use crate::records::rotor_file::read_rotor;
use crate::records::yaml::{Layout, Node, What, nearest};

use super::Paper;
use super::cell::{Cell, Column, Grid, Place, Row, To};
use super::change::fields_of;
use super::kind::Kind;
use super::passes;

pub(super) fn grid(paper: &Paper, path: &Path) -> Grid {
    let shape = paper.shape_at(path).unwrap_or_default();
    let mut rows = Vec::new();
    rows_of(paper, path, &shape, "", &mut rows);
    if path.parent().is_none() {
        rows.extend(passes::rows(paper));
    }
    let title = path.find(&paper.root).map(name_of).filter(|name| !name.is_empty());
    let title = title.filter(|_| path.parent().is_some()).unwrap_or_else(|| paper.called().to_owned());
    Grid { title, columns: vec![Column { name: String::new(), width: 50 }], rows, told: Vec::new() }
}

/// Those that open the lists of a sheet: all that has a figure in it, and nothing that only the first entry says.
pub(super) fn again(paper: &Paper) -> Grid {
    let mut grid = grid(paper, &Path::root());
    grid.rows.retain(|row| {
        let to = row.cells.first().map(|cell| &cell.to);
        matches!(to, Some(To::Open(Place::Given | Place::Absent | Place::Levels)))
    });
    grid.told = vec!["All of it is typed again, from the manual: none of it is shown.".to_owned()];
    grid
}

fn rows_of(paper: &Paper, path: &Path, shape: &Shape, before: &str, rows: &mut Vec<Row>) {
    let mut known: Vec<String> = Vec::new();
    for field in fields_of(shape) {
        // what was changed since nobody types: the form says it above the levels
        let told = paper.kind == Kind::Sheet && ["changed since", "changed by"].contains(&field.key.as_str());
        if told || known.contains(&field.key) || !belongs(paper, path, &field) {
            continue;
        }
        known.push(field.key.clone());
        let at = path.key(&field.key);
        let manual = path.steps().last() == Some(&Step::Key("manual".to_owned()));
        let (label, hint) = paper.kind.label(&field.key);
        let label = if before.is_empty() { label.to_owned() } else { format!("{before}, {label}") };
        // a small mapping stands in the same form, a key a row
        if let Shape::Map(..) = &field.shape
            && fields_of(&field.shape).iter().all(|inner| matches!(inner.shape, Shape::Text(_) | Shape::Words(_)))
        {
            let before = if field.key == "manual" { "" } else { label.as_str() };
            let first = rows.len();
            rows_of(paper, &at, &field.shape, before, rows);
            // what is wrong between its keys is said at the first
            let cell = rows.get_mut(first).and_then(|row| row.cells.first_mut());
            if let Some(cell) = cell.filter(|cell| cell.fault.is_none()) {
                cell.fault = paper.fault_of_whole(&at);
            }
            continue;
        }
        let mut cell = cell(paper, &at, &field.shape);
        // what an optional mapping needs is wanted once the mapping is there
        cell.need = (field.needed && (manual || path.find(&paper.root).is_some())).into();
        if !hint.is_empty() {
            hint.clone_into(&mut cell.hint);
        }
        match (paper.kind, field.key.as_str()) {
            (Kind::Rotor, "machine") => of_the_machine(paper, &mut cell),
            (Kind::Rotor, "serial") => of_the_serial(paper, &mut cell),
            (Kind::Sheet, "entered by") => {
                cell.offers = paper.beside.people.iter().map(|person| person.id.to_string()).collect();
            }
            (_, _) => {}
        }
        rows.push(Row::named(&label, vec![cell]));
    }
}

/// Without a sheet of its name nothing on a rotor is judged: said while it is typed, and which sheets there are.
fn of_the_machine(paper: &Paper, cell: &mut Cell) {
    cell.offers = paper.beside.sheets.iter().map(|sheet| sheet.id.to_string()).collect();
    let known = cell.offers.iter().any(|sheet| sheet.eq_ignore_ascii_case(&cell.text));
    if !known && !cell.text.is_empty() && cell.fault.is_none() {
        let near = nearest(&cell.text, cell.offers.iter().map(String::as_str))
            .map(|near| format!(" Did you mean {near}?"))
            .unwrap_or_default();
        cell.fault = Some(format!("no limits sheet is called {}: nothing is judged.{near}", cell.text));
    }
}

/// The serial number alone keeps a record off the wrong rotor: another rotor that bears it is said.
fn of_the_serial(paper: &Paper, cell: &mut Cell) {
    let Ok(rotor) = read_rotor(&paper.name, paper.text.as_bytes()) else { return };
    if let Some(other) = paper.beside.rotors.iter().find(|other| other.is_stamped_as(&rotor)) {
        cell.fault = Some(format!("the rotor {} bears it too: a record may be begun on the wrong one.", other.id));
    }
}

/// Whether a key belongs with the words chosen so far.
fn belongs(paper: &Paper, path: &Path, field: &ShapeField) -> bool {
    let Some((key, word)) = &field.only_with else { return true };
    paper.said(&path.key(key)) == word
}

/// A cell for what may stand at a path.
pub(super) fn cell(paper: &Paper, path: &Path, shape: &Shape) -> Cell {
    let node = path.find(&paper.root);
    let mut cell = match shape {
        Shape::Words(words) if words.len() <= 20 => {
            let to = To::Value { path: path.clone(), expected: String::new() };
            Cell { offers: words.clone(), ..Cell::new(paper.said(path), to) }
        }
        Shape::List(Layout::Flow, inner) if !matches!(**inner, Shape::Map(..)) => {
            let offers = if let Shape::Words(words) = &**inner { words.clone() } else { Vec::new() };
            let hint = "several apart by commas".to_owned();
            Cell { offers, hint, ..Cell::new(&node.map(row_text).unwrap_or_default(), To::Row(path.clone())) }
        }
        Shape::List(_, inner) => open(paper, path, inner),
        Shape::Pairs(_) => {
            let hint = "such as light: watch, deep: replace, torn: [replace, refer]".to_owned();
            Cell { hint, ..Cell::new(&node.map(pairs_text).unwrap_or_default(), To::Pairs(path.clone())) }
        }
        Shape::Map(..) => Cell::new(&node.map(name_of).unwrap_or_default(), To::Open(Place::Fields(path.clone()))),
        Shape::Either(shapes) => return cell(paper, path, shapes.first().unwrap_or(&Shape::Nothing)),
        Shape::Text(expected) => {
            let to = To::Value { path: path.clone(), expected: expected.clone() };
            let hint = if expected.ends_with("text") { String::new() } else { expected.clone() };
            Cell { hint, ..Cell::new(paper.said(path), to) }
        }
        Shape::Nothing | Shape::Words(_) => {
            Cell::new(paper.said(path), To::Value { path: path.clone(), expected: "text".to_owned() })
        }
    };
    if !matches!(cell.to, To::Open(_)) {
        cell.fault = paper.fault_at(path);
    }
    cell
}

/// A list that is opened by itself: levels and figures of a sheet in their own way, short items as a table.
fn open(paper: &Paper, path: &Path, inner: &Shape) -> Cell {
    let top = path.steps().len() == 1;
    let is = |key: &str| paper.kind == Kind::Sheet && top && *path == Path::root().key(key);
    let flat = |field: &ShapeField| match &field.shape {
        Shape::List(Layout::Flow, inner) => !matches!(**inner, Shape::Map(..)),
        Shape::Text(_) | Shape::Words(_) | Shape::Nothing => true,
        Shape::List(..) | Shape::Pairs(_) | Shape::Map(..) | Shape::Either(_) => false,
    };
    let place = if is("levels") {
        Place::Levels
    } else if is("given") {
        Place::Given
    } else if is("absent") {
        Place::Absent
    } else if !fields_of(inner).is_empty() && fields_of(inner).iter().all(flat) {
        Place::Table(path.clone())
    } else {
        Place::List(path.clone())
    };
    let count = path.find(&paper.root).map_or(0, |node| node.items().len());
    let text = match count {
        0 => "none yet".to_owned(),
        count => format!("{count} entered"),
    };
    Cell {
        fault: paper.fault_at(path).map(|_| "something in it is to be mended".to_owned()),
        ..Cell::new(&text, To::Open(place))
    }
}

/// `a, b`.
pub(super) fn row_text(node: &Node) -> String {
    node.items().iter().filter_map(Node::as_text).collect::<Vec<_>>().join(", ")
}

fn pairs_text(node: &Node) -> String {
    let What::Map(_, pairs) = &node.what else { return String::new() };
    let value = |node: &Node| node.as_text().map_or_else(|| format!("[{}]", row_text(node)), str::to_owned);
    let pairs = pairs.iter().map(|(key, node)| format!("{}: {}", key.text, value(node)));
    pairs.collect::<Vec<_>>().join(", ")
}

/// What an item is called: its first texts.
pub(super) fn name_of(node: &Node) -> String {
    match &node.what {
        What::Text(text, _) => text.clone(),
        What::List(..) => String::new(),
        What::Map(_, pairs) => {
            let texts = pairs.iter().filter_map(|(_, node)| node.as_text()).filter(|text| !text.is_empty());
            texts.take(2).collect::<Vec<_>>().join("  ")
        }
    }
}
