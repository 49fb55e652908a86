//! A file filled in line by line: one question a line, the same cells in the same order as on the screen.

use crate::domain::sides::SIDES;
use crate::records::paper::{Cell, Grid, Need, To, Way, list_of};

use super::super::effect::PaperPut;
use super::super::filling::{Compared, Done, Filling, Put, bare};

/// What a line did.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(super) struct Filled {
    /// To be printed, a line each.
    pub said: Vec<String>,
    /// To be put on the disk.
    pub put: Option<PaperPut>,
    /// The form is left.
    pub left: bool,
}

/// The question that stands, place before value.
pub(super) fn question(filling: &Filling) -> String {
    let (grid, at) = (filling.grid(), filling.at());
    let Some(cell) = grid.cell(at) else { return grid.title };
    if filling.asks() {
        return "Who types this? An id or a name; asked once, kept in the sheet. Empty: the figure is not taken."
            .to_owned();
    }
    if let Some(what) = filling.takes_out() {
        return format!("Take out {what}? - once more takes it out, any other line keeps it.");
    }
    format!("{}, {}{}{}?", grid.title, name(&grid, at), stands(filling, cell), beside(&grid, at))
}

/// What the cell is called, its row before its column.
fn name(grid: &Grid, (row, column): (usize, usize)) -> String {
    let called = grid.rows.get(row).map(|row| row.called.clone()).filter(|called| !called.is_empty());
    let column = grid.columns.get(column).map_or("", |column| column.name.as_str());
    let item = called.unwrap_or_else(|| format!("{}", row + 1));
    [item.as_str(), column].into_iter().filter(|word| !word.is_empty()).collect::<Vec<_>>().join(", ")
}

/// The signs of a bound in words: they are read aloud.
fn in_words(bounds: &str) -> String {
    SIDES.iter().fold(bounds.to_owned(), |words, (sign, word)| words.replace(&format!("{sign} "), &format!("{word} ")))
}

/// The words of a form for somebody who has a line and no keys.
pub(super) fn by_line(words: &str) -> String {
    let keys = [
        ("Esc, then", "! goes out, < goes back to"),
        ("Esc", "!"),
        ("Delete takes it away, then Enter opens it", "y opens it"),
        ("Enter opens it", "y opens it"),
        ("Tab turns through them", "? lists them"),
    ];
    keys.iter().fold(words.to_owned(), |words, (key, line)| words.replace(key, line))
}

/// What of the row is not asked by itself, and stands all the same: `; beside it rule simple: > goes there`.
fn beside(grid: &Grid, (row, column): (usize, usize)) -> String {
    let cells = grid.rows.get(row).map(|row| row.cells.as_slice()).unwrap_or_default();
    let named = cells.iter().zip(&grid.columns).enumerate();
    let others = named.filter(|(at, (cell, _))| *at != column && cell.way == Way::Beside && !cell.text.is_empty());
    let others: Vec<_> = others.map(|(_, (cell, column))| format!("{} {}", column.name, cell.text)).collect();
    if others.is_empty() { String::new() } else { format!("; beside it {}: > goes there", others.join(", ")) }
}

/// What stands in a cell, or is offered.
fn stands(filling: &Filling, cell: &Cell) -> String {
    let unit = filling.paper.bare_unit(&cell.to).map(|unit| format!("; {}", bare(unit))).unwrap_or_default();
    if let Some(fault) = &cell.fault {
        return format!(" (stands: {}; {fault}{unit})", cell.text);
    }
    match (&cell.to, cell.text.as_str(), &cell.offer) {
        (To::Open(_), text, _) => format!(" ({text}; y opens it, empty goes on)"),
        (_, "", Some(offer)) => format!(" (empty takes: {offer}{unit})"),
        (_, "", None) if cell.need == Need::Wanted => format!(" (wanted{unit})"),
        (_, "", None) => format!(" (empty: none{unit})"),
        (_, text, _) => format!(" (stands: {text}; empty keeps it, - takes it out{unit})"),
    }
}

/// Takes a line: an answer, `?` for what is wanted, `<` one row back, `>` to what stands beside, `!` out of this place.
pub(super) fn hear(filling: &mut Filling, line: &str) -> Filled {
    let said = |text: String| Filled { said: vec![text], ..Filled::default() };
    let cell = filling.cell();
    let asked = filling.takes_out().is_some();
    if filling.asks() {
        return who(filling, line);
    }
    if asked && line.trim() != "-" {
        empty(filling);
        return said("Kept.".to_owned());
    }
    match (line.trim(), cell) {
        ("?", Some(cell)) => {
            let words = [filling.hint(&cell), list_of(&cell.offers), filling.grid().told.join(" ")];
            let words = words.into_iter().filter(|words| !words.is_empty());
            let mut said: Vec<_> = words.chain(filling.told.clone()).collect();
            if said.is_empty() {
                said.push("Nothing more is known of it; ! goes out.".to_owned());
            }
            Filled { said, ..Filled::default() }
        }
        ("<", _) => {
            filling.go((-1, 0));
            Filled::default()
        }
        (">", _) => {
            if !filling.go_beside() {
                return said("Nothing else stands in this row.".to_owned());
            }
            Filled::default()
        }
        ("!", _) | (_, None) => out(filling),
        ("y", Some(cell)) if matches!(cell.to, To::Open(_)) => {
            drop(filling.enter());
            Filled::default()
        }
        ("", Some(cell)) if matches!(cell.to, To::Open(_) | To::Nothing) => on(filling),
        (typed, Some(_)) => {
            if let Some(field) = filling.field_mut() {
                *field = super::super::field::Field::holding(typed);
            }
            if !asked && filling.takes_out().is_some() {
                return Filled::default();
            }
            entered(filling, Filling::enter)
        }
    }
}

/// What came of Enter in a cell.
fn entered(filling: &mut Filling, enter: impl FnOnce(&mut Filling) -> Result<Done, String>) -> Filled {
    let (before, name) = (filling.at(), name(&filling.grid(), filling.at()));
    let takes_out = filling.takes_out().is_some();
    match enter(filling) {
        Ok(Done::Put(Put { paper, told, taken })) => {
            let state = filling.state();
            let is_wrong = filling.cell().is_some_and(|cell| cell.fault.is_some());
            let last = filling.at() == before && !takes_out && !is_wrong;
            let left = if last { out(filling) } else { Filled::default() };
            let taken = taken.map(|figure| format!("{name}: {}", in_words(&figure)));
            let said = taken.into_iter().chain(told).chain([state]).chain(left.said);
            Filled { said: said.collect(), put: Some(*paper), left: left.left }
        }
        Ok(Done::Went) if filling.at() == before => out(filling),
        Ok(Done::Went | Done::Asks) => Filled::default(),
        Err(why) => {
            if !filling.asks() {
                empty(filling);
            }
            Filled { said: vec![why], ..Filled::default() }
        }
    }
}

/// Who types what stands in the field; nobody named: it is not taken.
fn who(filling: &mut Filling, line: &str) -> Filled {
    let who = Some(line.trim()).filter(|who| !["", "!"].contains(who));
    if who.is_none() {
        drop(filling.typed_by(None));
        empty(filling);
        let left = if line.trim().is_empty() { Filled::default() } else { out(filling) };
        return Filled { said: std::iter::once("Not taken.".to_owned()).chain(left.said).collect(), ..left };
    }
    entered(filling, |filling| filling.typed_by(who))
}

fn empty(filling: &mut Filling) {
    if let Some(field) = filling.field_mut() {
        field.take();
    }
}

/// To the next row; behind the last, out.
fn on(filling: &mut Filling) -> Filled {
    let before = filling.at();
    filling.go((1, 0));
    if filling.at().0 == before.0 { out(filling) } else { Filled::default() }
}

/// Out of a place; out of the first one the form is left, a second entry compared.
fn out(filling: &mut Filling) -> Filled {
    if filling.back() {
        // the row that was opened is done
        filling.go((1, 0));
        return Filled::default();
    }
    let mut filled = Filled { left: true, ..Filled::default() };
    if filling.is_second() {
        match filling.compare() {
            Ok(Compared::Differ(lines)) => {
                filled.said.push("The two entries differ. Look in the manual.".to_owned());
                filled.said.extend(lines.into_iter().map(|line| line.words));
            }
            Ok(Compared::Agree(put)) => {
                filled.said.push("Both entries agree: the sheet now says that two people entered it.".to_owned());
                filled.put = Some(put);
            }
            Err(why) => filled.said.push(why),
        }
    }
    if let Some(wanted) = filling.paper.first_wanted().filter(|_| !filling.paper.is_blank()) {
        filled.said.push(format!("Kept as a draft, not in use; {wanted}"));
    }
    filled
}
