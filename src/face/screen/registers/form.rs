//! A file filled in: fields one a row, or a table, and below them the field in hand.

use crate::records::paper::{Cell, Grid, Need, Row, To, list_of};

use super::super::super::filling::Filling;
use super::super::super::look::Tone;
use super::super::super::model::Model;
use super::super::super::pen::{Pen, tail, width, wrap};
use super::super::bench;

/// Rows below the grid.
const BELOW: usize = 8;
/// Rows in which a heading and one row of the grid are in sight.
const ROWS: usize = 2;
/// Where the values of fields begin.
const VALUE: usize = 30;
/// Where they begin in a list whose lines have numbers for names.
const NUMBERED: usize = 8;

/// ```text
///         from where               leads to  rule         where in the manual
///  Bush, turbine side: clearance
///    new   0.130..0.170 mm          (rework)  simple       page 3
///    alert >= 0.210 mm              (watch)   simple       page 3
///    limit > 0.220 mm               replace   guarded 1.65 ~ wanted
///  -- clearance, limit, where in the manual ---------------------------------
///     [ 3_                                                             ]
///     behind "INV-420 manual, edition 3": a page, or a table and line
///     Enter alone takes: page 3
/// ```
pub(super) fn view(pen: &mut Pen<'_>, model: &Model, filling: &Filling) {
    let grid = filling.grid();
    let room = pen.height().saturating_sub(BELOW);
    let at = filling.at();
    if grid.columns.len() == 1 {
        fields(&mut pen.rows(1, room.saturating_sub(1)), &grid, at);
    } else {
        table(&mut pen.rows(0, room), &grid, at);
    }
    field(&mut pen.rows(room, BELOW), model, filling, (&grid, room));
}

/// Lines as they are drawn: headings of groups, and rows; a value that does not fit goes on in the lines below its own.
fn lines(grid: &Grid, columns: usize) -> Vec<Line<'_>> {
    let mut lines = Vec::new();
    for (number, row) in grid.rows.iter().enumerate() {
        lines.extend(row.group.as_deref().map(Line::Group));
        let (text, tone) = row.cells.first().map_or_else(|| (String::new(), Tone::Plain), shown);
        let mut pieces = if width(&text) > columns { wrap(&text, columns) } else { vec![text] }.into_iter();
        lines.push(Line::Row(number, row, pieces.next().unwrap_or_default(), tone));
        lines.extend(pieces.map(|piece| Line::More(piece, tone)));
    }
    lines
}

enum Line<'a> {
    Group(&'a str),
    /// A row, and what fits of its first cell.
    Row(usize, &'a Row, String, Tone),
    More(String, Tone),
}

/// The lines that fit, with the hand in the middle where there are more.
fn in_sight(grid: &Grid, row: usize, (room, columns): (usize, usize)) -> Vec<Line<'_>> {
    let lines = lines(grid, columns);
    let hand = lines.iter().position(|line| matches!(line, Line::Row(number, ..) if *number == row)).unwrap_or(0);
    let first = hand.saturating_sub(room / 2).min(lines.len().saturating_sub(room));
    lines.into_iter().skip(first).take(room).collect()
}

/// What a cell shows when nobody types in it.
fn shown(cell: &Cell) -> (String, Tone) {
    if cell.fault.is_some() {
        return (format!("! {}", cell.text), Tone::Bad);
    }
    match (cell.text.is_empty(), cell.need, &cell.to) {
        (true, Need::Wanted, _) => ("~ wanted".to_owned(), Tone::Watch),
        (true, Need::Free, _) => ("-".to_owned(), Tone::Quiet),
        (false, _, To::Open(_)) => (format!("{} ...", cell.text), Tone::Plain),
        (false, ..) => (cell.text.clone(), Tone::Strong),
    }
}

fn value_column(grid: &Grid) -> usize {
    let widest = grid.rows.iter().map(|row| width(&row.label)).max().unwrap_or(0);
    if widest < NUMBERED - 3 { NUMBERED } else { VALUE.max(widest + 4).min(42) }
}

fn fields(pen: &mut Pen<'_>, grid: &Grid, (row, _): (usize, usize)) {
    let end = pen.width().saturating_sub(1);
    let room = pen.height();
    let value = value_column(grid);
    for (y, line) in in_sight(grid, row, (room, end.saturating_sub(value))).into_iter().enumerate() {
        match line {
            Line::Group(words) => drop(pen.cut_in((1, y), words, end, Tone::Key)),
            Line::More(text, tone) => drop(pen.put(value, y, &text, tone)),
            Line::Row(number, row_of, text, tone) => {
                let here = number == row;
                if here {
                    pen.wash(y, Tone::Here);
                }
                pen.cut_in((2, y), &row_of.label, value - 2, if here { Tone::Here } else { Tone::Plain });
                pen.put(value, y, &text, if here { Tone::Here } else { tone });
            }
        }
    }
}

fn table(pen: &mut Pen<'_>, grid: &Grid, (row, column): (usize, usize)) {
    let end = pen.width().saturating_sub(1);
    let label = grid.rows.iter().map(|row| width(&row.label)).max().unwrap_or(0).min(34);
    let left = if label > 0 { 3 + label + 1 } else { 2 };
    let mut edges = Vec::new();
    let mut x = left;
    let passed = passed(grid, column, end.saturating_sub(left));
    for (number, column) in grid.columns.iter().enumerate() {
        if number < passed {
            edges.push(None);
            continue;
        }
        edges.push(Some(x).filter(|x| *x < end));
        pen.cut_in((x, 0), &column.name, (x + column.width).min(end), Tone::Quiet);
        x += column.width + 1;
    }
    let room = pen.height().saturating_sub(1);
    for (y, line) in in_sight(grid, row, (room, usize::MAX)).into_iter().enumerate() {
        let y = y + 1;
        match line {
            Line::Group(words) => {
                pen.cut_in((1, y), words, end, Tone::Key);
            }
            Line::More(..) => {}
            Line::Row(number, one, ..) => {
                let mine = number == row;
                pen.cut_in((3, y), &one.label, left, if mine { Tone::Strong } else { Tone::Plain });
                for (at, cell) in one.cells.iter().enumerate() {
                    let (Some(Some(x)), Some(wide)) = (edges.get(at), grid.columns.get(at).map(|column| column.width))
                    else {
                        continue;
                    };
                    let (text, tone) = shown(cell);
                    let here = mine && at == column;
                    let text = if here { format!("{text:<wide$}") } else { text };
                    pen.cut_in((*x, y), &text, (x + wide).min(end), if here { Tone::Here } else { tone });
                }
            }
        }
    }
}

/// How many columns at the left make room for the one in hand.
fn passed(grid: &Grid, hand: usize, room: usize) -> usize {
    let wide =
        |from: usize| grid.columns.iter().take(hand + 1).skip(from).map(|column| column.width + 1).sum::<usize>();
    (0..=hand).find(|from| wide(*from) <= room + 1).unwrap_or(hand)
}

fn field(pen: &mut Pen<'_>, model: &Model, filling: &Filling, (grid, rows): (&Grid, usize)) {
    let end = pen.width().saturating_sub(1);
    let at = filling.at();
    let Some((cell, row)) = grid.cell(at).zip(grid.rows.get(at.0)) else { return };
    let column = grid.columns.get(at.1).map_or("", |column| column.name.as_str());
    let name: Vec<_> = [row.called.as_str(), column].into_iter().filter(|word| !word.is_empty()).collect();
    pen.rule(0, &name.join(", "));
    if matches!(cell.to, To::Nothing | To::Open(_)) && filling.typed().is_empty() {
        let words = if let To::Open(_) = cell.to { "Enter opens it" } else { "nothing to type here" };
        pen.put(3, 1, words, Tone::Plain);
    } else {
        pen.put(3, 1, "[ ", Tone::Plain);
        let room = end.saturating_sub(9).max(1);
        pen.put(5, 1, &format!("{}_", tail(filling.typed(), room)), Tone::Field);
        pen.put(end.saturating_sub(1), 1, "]", Tone::Plain);
    }
    let mut told: Vec<(String, Tone)> = Vec::new();
    let out = filling.takes_out().map(|what| format!("Enter takes out: {what}. Backspace keeps it."));
    told.extend(out.map(|words| (words, Tone::Watch)));
    told.extend(cell.fault.as_ref().map(|fault| (format!("! {fault}"), Tone::Bad)));
    let offer = cell.offer.as_ref().filter(|_| cell.text.is_empty());
    told.extend(offer.map(|offer| (format!("Enter alone takes: {offer}"), Tone::Strong)));
    // what does not fit its cell stands whole below, in a low window what stands at all
    let room = match grid.columns.as_slice() {
        _ if rows < ROWS => 0,
        [_] => usize::MAX,
        columns => columns.get(at.1).map_or(0, |column| column.width),
    };
    let whole = format!("stands, Tab takes it into the field: {}", cell.text);
    told.extend((width(&shown(cell).0) > room && !cell.text.is_empty()).then_some((whole, Tone::Strong)));
    told.push((filling.hint(cell), Tone::Quiet));
    told.push((list_of(&cell.offers), Tone::Plain));
    told.extend(filling.paper.first_wanted().filter(|_| cell.fault.is_none()).map(|words| (words, Tone::Watch)));
    told.extend(grid.told.iter().chain(filling.told_here()).map(|line| (line.clone(), Tone::Plain)));
    let columns = end.saturating_sub(4);
    let said = model.said.as_ref().map_or(0, |said| wrap(&said.text, columns).len()).min(BELOW - 3);
    let mut room = pen.height().saturating_sub(2 + said);
    let mut y = 2;
    for (text, tone) in told.iter().filter(|(text, _)| !text.is_empty()) {
        let lines = wrap(text, columns);
        // a sentence stands whole or not at all
        if lines.len() > room {
            continue;
        }
        room -= lines.len();
        for line in lines {
            pen.put(3, y, &line, *tone);
            y += 1;
        }
    }
    bench::said_line(pen, (pen.height().saturating_sub(said), said), model);
}
