//! From cells to the tree that the sheet's reader takes.

use std::collections::BTreeMap;

use crate::domain::characteristic::Characteristic;
use crate::records::yaml::{At, Key, Layout, Node, Problems, Quoting, What, nearest};

use super::cells::{Cell, Line};
use super::rows::with_formula;
use super::{BOUNDS, FIGURES};

type Pairs = Vec<(Key, Node)>;

/// A sheet being put together.
#[derive(Default)]
struct Sheet<'a> {
    head: Pairs,
    manual: Pairs,
    lists: Vec<(&'static str, Node)>,
    /// Levels by characteristic.
    levels: BTreeMap<String, Levels<'a>>,
}

struct Levels<'a> {
    at: At,
    part_number: Option<&'a Line>,
    /// Rows of `new`, `alert`, `limit`.
    rows: BTreeMap<&'static str, Vec<&'a Line>>,
}

/// The tree of a table.
pub(super) fn tree(lines: &[Line], problems: &mut Problems) -> Node {
    let mut sheet = Sheet::default();
    for line in lines {
        take(line, &mut sheet, problems);
    }
    let top = At { line: 1, column: 1 };
    for needed in
        ["sheet", "origin"].into_iter().filter(|needed| !sheet.head.iter().any(|(key, _)| key.text == *needed))
    {
        missing(needed, problems);
    }
    for needed in
        ["title", "edition"].into_iter().filter(|needed| !sheet.manual.iter().any(|(key, _)| key.text == *needed))
    {
        missing(&format!("manual {needed}"), problems);
    }
    let mut pairs = sheet.head;
    pairs.push((key("manual", top), map(top, sheet.manual)));
    for name in ["entered by", "changed since", "changed by", "given", "absent"] {
        let items = sheet.lists.iter().filter(|(list, _)| *list == name).map(|(_, item)| item.clone());
        pairs.push((key(name, top), list(top, items.collect())));
    }
    let levels = sheet.levels.values().map(|levels| of_levels(levels, problems)).collect();
    pairs.push((key("levels", top), list(top, levels)));
    map(top, pairs)
}

fn missing(line: &str, problems: &mut Problems) {
    let expected = format!("a row that begins with `{line}`");
    problems.add(
        At { line: 1, column: 1 },
        format!("no row `{line}`"),
        expected,
        "Put it, its value in the column `name`.",
    );
}

fn take<'a>(line: &'a Line, sheet: &mut Sheet<'a>, problems: &mut Problems) {
    let Some(word) = line.cells.get("line") else {
        let expected = "a word in the column `line`, such as limit";
        problems.add(line.at, "a row that does not say what it is", expected, "Say what it is, or empty the row.");
        return;
    };
    let what = word.text.trim().to_lowercase();
    let Some(name) = line.cells.get("name") else {
        let found = format!("`{what}` without a name");
        problems.add(line.at, found, "what it is about, in the column `name`", "Fill the cell, or empty the row.");
        return;
    };
    let is_level = ["new", "alert", "limit"].contains(&what.as_str());
    if is_level && line.cells.len() == 2 {
        // a level that was not filled in; a name that nothing has is still told
        if Characteristic::parse(name.text.trim()).is_none() {
            let near = nearest(name.text.trim(), Characteristic::all().map(Characteristic::id));
            let mend = near.map_or_else(|| "Empty the row.".to_owned(), |near| format!("Did you mean `{near}`?"));
            problems.add(name.at, format!("`{}`", name.text), "a characteristic, such as bush.ts.clearance", mend);
        }
        return;
    }
    if !HEAD.contains(&what.as_str()) && !ROWS.contains(&what.as_str()) {
        // what its cells should be nobody can tell
        return unknown(&what, word.at, problems);
    }
    let uses = |column: &str| match what.as_str() {
        "given" => ["figure", "source"].contains(&column),
        "absent" | "part number" => column == "text",
        "new" | "alert" | "limit" => !["figure", "text"].contains(&column),
        _ => false,
    };
    for (column, cell) in line.cells.iter().filter(|(column, _)| !["line", "name"].contains(column)) {
        if !uses(column) {
            let found = format!("`{}` under `{column}`", cell.text);
            let expected = format!("nothing there in a row of `{what}`");
            problems.add(cell.at, found, expected, "Empty the cell, or look under which column it goes.");
        }
    }
    match what.as_str() {
        "manual title" => put(&mut sheet.manual, key("title", word.at), value(name), problems),
        "manual edition" => put(&mut sheet.manual, key("edition", word.at), value(name), problems),
        "entered by" => sheet.lists.push(("entered by", value(name))),
        "changed since" => sheet.lists.push(("changed since", value(name))),
        "changed by" => sheet.lists.push(("changed by", value(name))),
        "given" => sheet.lists.push(("given", item(line, "name", &[("figure", "figure"), ("source", "source")]))),
        "absent" => sheet.lists.push(("absent", item(line, "characteristic", &[("text", "reason")]))),
        "part number" => {
            let levels = levels_of(sheet, name);
            if levels.part_number.is_some() {
                problems.add(word.at, "a second part number", "one for each characteristic", "Keep one of the two.");
            }
            levels.part_number = Some(line);
        }
        "new" => levels_of(sheet, name).rows.entry("new").or_default().push(line),
        "alert" => levels_of(sheet, name).rows.entry("alert").or_default().push(line),
        "limit" => levels_of(sheet, name).rows.entry("limit").or_default().push(line),
        head => put(&mut sheet.head, key(head, word.at), value(name), problems),
    }
}

/// Words of the rows of which each sheet has one at most, as its keys are called.
const HEAD: [&str; 3] = ["sheet", "origin", "invented"];

/// Words of the other rows.
const ROWS: [&str; 11] = [
    "manual title",
    "manual edition",
    "entered by",
    "changed since",
    "changed by",
    "given",
    "absent",
    "part number",
    "new",
    "alert",
    "limit",
];

fn unknown(word: &str, at: At, problems: &mut Problems) {
    let known = || HEAD.into_iter().chain(ROWS);
    let expected = format!("one of {}", known().collect::<Vec<_>>().join(", "));
    let mend = match nearest(word, known()) {
        Some(near) => format!("Did you mean `{near}`?"),
        None => "Look how the word is spelt, or empty the row.".to_owned(),
    };
    problems.add(at, format!("a row of `{word}`, not known here"), expected, mend);
}

fn levels_of<'a, 's>(sheet: &'s mut Sheet<'a>, name: &Cell) -> &'s mut Levels<'a> {
    let new = || Levels { at: name.at, part_number: None, rows: BTreeMap::new() };
    sheet.levels.entry(name.text.trim().to_owned()).or_insert_with(new)
}

fn put(pairs: &mut Pairs, key: Key, value: Node, problems: &mut Problems) {
    if pairs.iter().any(|(known, _)| known.text == key.text) {
        problems.add(key.at, format!("`{}` a second time", key.text), "each once", "Keep one of the two rows.");
        return;
    }
    pairs.push((key, value));
}

fn item(line: &Line, name: &str, columns: &[(&'static str, &str)]) -> Node {
    let named = line.cells.get("name").map(|cell| (key(name, cell.at), value(cell)));
    let rest = columns.iter().filter_map(|(column, known)| {
        let cell = line.cells.get(column)?;
        Some((key(known, cell.at), of_column(column, cell)))
    });
    map(line.at, named.into_iter().chain(rest).collect())
}

fn of_levels(levels: &Levels<'_>, problems: &mut Problems) -> Node {
    let first = levels.part_number.into_iter().chain(levels.rows.values().flatten().copied());
    let name = first.filter_map(|line| line.cells.get("name")).min_by_key(|cell| cell.at);
    let mut pairs: Pairs = name.map(|cell| (key("characteristic", cell.at), value(cell))).into_iter().collect();
    if let Some(cell) = levels.part_number.and_then(|line| line.cells.get("text")) {
        pairs.push((key("part number", cell.at), value(cell)));
    }
    for (word, rows) in &levels.rows {
        pairs.push((key(word, levels.at), of_level(rows, problems)));
    }
    map(levels.at, pairs)
}

/// One level from its rows: bounds of one figure, bounds by a size a row for each band, and what else it says.
fn of_level(rows: &[&Line], problems: &mut Problems) -> Node {
    let at = rows.first().map_or(At::default(), |line| line.at);
    let mut pairs = Pairs::new();
    let mut tables: BTreeMap<&str, Table<'_>> = BTreeMap::new();
    for line in rows {
        let size = line.cells.get("size");
        for bound in BOUNDS {
            let Some(cell) = line.cells.get(bound) else { continue };
            match size {
                None => once(&mut pairs, (key(bound, cell.at), of_column(bound, cell)), problems),
                Some(size) => {
                    let table = tables.entry(bound).or_insert_with(|| Table { size, bands: Vec::new() });
                    same_size(table.size, size, problems);
                    table.bands.push(band(line, cell));
                }
            }
        }
        for column in ["leads to", "rule", "factor", "source"] {
            if let Some(cell) = line.cells.get(column) {
                once(&mut pairs, (key(column, cell.at), of_column(column, cell)), problems);
            }
        }
    }
    for (bound, Table { size, bands }) in tables {
        let inner = vec![(key("size", size.at), value(size)), (key("bands", size.at), list(size.at, bands))];
        once(&mut pairs, (key(bound, size.at), map(size.at, inner)), problems);
    }
    map(at, pairs)
}

/// A bound by a size of the machine.
struct Table<'a> {
    size: &'a Cell,
    bands: Vec<Node>,
}

fn same_size(first: &Cell, size: &Cell, problems: &mut Problems) {
    if first.text.trim() != size.text.trim() {
        let expected = format!("`{}`, as in the rows before", first.text);
        problems.add(size.at, format!("the size `{}`", size.text), expected, "One table goes by one size.");
    }
}

fn band(line: &Line, figure: &Cell) -> Node {
    let ends = ["over", "up to"].into_iter().filter_map(|column| {
        let cell = line.cells.get(column)?;
        Some((key(column, cell.at), of_column(column, cell)))
    });
    map(line.at, ends.chain([(key("figure", figure.at), of_column("figure", figure))]).collect())
}

/// Takes a cell of a level; the same again, as a column filled downward has it, is no fault.
fn once(pairs: &mut Pairs, (key, value): (Key, Node), problems: &mut Problems) {
    let Some((_, known)) = pairs.iter().find(|(known, _)| known.text == key.text) else {
        pairs.push((key, value));
        return;
    };
    if known.as_text().is_none() || known.as_text() != value.as_text() {
        let expected = format!("{}, as in a row before", known.said());
        problems.add(
            value.at,
            format!("{} under `{}`", value.said(), key.text),
            expected,
            "Each level has one; keep the right one.",
        );
    }
}

fn key(text: &str, at: At) -> Key {
    Key { at, bytes: 0..0, text: text.to_owned() }
}

fn value(cell: &Cell) -> Node {
    // blanks around a word are a slip of typing
    text_at(cell.at, with_formula(&cell.text).trim())
}

fn of_column(column: &str, cell: &Cell) -> Node {
    if FIGURES.contains(&column) { text_at(cell.at, cell.text.trim()) } else { value(cell) }
}

fn text_at(at: At, text: &str) -> Node {
    Node { at, bytes: 0..0, what: What::Text(text.to_owned(), Quoting::Bare) }
}

fn map(at: At, pairs: Pairs) -> Node {
    Node { at, bytes: 0..0, what: What::Map(Layout::Block, pairs) }
}

fn list(at: At, items: Vec<Node>) -> Node {
    Node { at, bytes: 0..0, what: What::List(Layout::Block, items) }
}
