//! What keeps a file from being used, each with the way to its cell; what an entry made wrong elsewhere; what `-` takes out.

use crate::records::paper::{Grid, Need, Paper, Place, To};

use super::{Filling, Hand};

/// A place, and the cell in it.
type Spot = (Place, (usize, usize));

/// One cell that is refused or still empty.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Wanted {
    /// The cell, and what is wrong with it.
    pub words: String,
    /// From the first place of the form to the cell; none where no cell holds it.
    way: Vec<Spot>,
}

impl Filling {
    /// Whether anything was entered.
    pub fn is_begun(&self) -> bool {
        self.in_use.is_some() || self.paper.text() != Paper::new(self.paper.kind).text()
    }

    /// Every cell that is refused or still empty, in the order of the form.
    pub fn wanted(&self) -> Vec<Wanted> {
        let mut found = Vec::new();
        if let Some(top) = self.hands.first() {
            gather(&self.paper, (&[], &top.place), "", &mut found);
        }
        if found.is_empty() {
            found.extend(self.paper.first_wanted().map(|words| Wanted { words, way: Vec::new() }));
        }
        found
    }

    /// A cell of the form, by where its text goes.
    pub(super) fn wanted_at(&self, words: String, to: &To) -> Wanted {
        let way = self.hands.first().and_then(|top| way_to(&self.paper, &top.place, to)).unwrap_or_default();
        Wanted { words, way }
    }

    /// Puts the hand on the cell; what is half typed on the way there stays.
    pub fn go_to(&mut self, wanted: &Wanted) {
        if wanted.way.is_empty() {
            return;
        }
        let old = std::mem::take(&mut self.hands);
        let mut old = old.into_iter();
        let hand = |(place, at): &Spot| {
            let same = old.next().filter(|hand| hand.place == *place);
            Hand { at: *at, ..same.unwrap_or_else(|| Hand::on(place.clone())) }
        };
        self.hands = wanted.way.iter().map(hand).collect();
    }

    /// What Enter would take out, where `-` alone is typed.
    pub fn takes_out(&self) -> Option<String> {
        if self.typed().trim() != super::OUT {
            return None;
        }
        self.paper.takes_out(&self.cell()?)
    }
}

/// The first cell besides the one at `at` that became wrong by what was entered there.
pub(super) fn wrong_elsewhere(before: &Grid, now: &Grid, at: (usize, usize)) -> Option<String> {
    let was = |spot| before.cell(spot).is_some_and(|cell| cell.fault.is_some());
    let cells = now.rows.iter().enumerate().flat_map(|(row, line)| (0..line.cells.len()).map(move |cell| (row, cell)));
    cells.filter(|spot| *spot != at && !was(*spot)).find_map(|spot| {
        let fault = now.cell(spot)?.fault.as_ref()?;
        Some(format!("{}: {fault}", called(now, "", spot)))
    })
}

/// From a place to the cell whose text goes there.
fn way_to(paper: &Paper, place: &Place, to: &To) -> Option<Vec<Spot>> {
    let grid = paper.grid(place);
    let rows = grid.rows.iter().enumerate();
    let mut cells = rows.flat_map(|(row, line)| line.cells.iter().enumerate().map(move |(at, cell)| ((row, at), cell)));
    cells.find_map(|(at, cell)| {
        let inner = if let To::Open(inner) = &cell.to { way_to(paper, inner, to) } else { None };
        let below = if cell.to == *to { Some(Vec::new()) } else { inner };
        below.map(|below| [vec![(place.clone(), at)], below].concat())
    })
}

fn gather(paper: &Paper, (way, place): (&[Spot], &Place), before: &str, found: &mut Vec<Wanted>) {
    let grid = paper.grid(place);
    for (row, line) in grid.rows.iter().enumerate() {
        for (column, cell) in line.cells.iter().enumerate() {
            let is_missing = cell.need == Need::Wanted && cell.text.is_empty();
            if cell.fault.is_none() && !is_missing {
                continue;
            }
            let name = called(&grid, before, (row, column));
            let here = [way, &[(place.clone(), (row, column))]].concat();
            let known = found.len();
            if let To::Open(inner) = &cell.to {
                gather(paper, (&here, inner), &name, found);
            }
            if found.len() == known {
                let words =
                    cell.fault.as_ref().map_or_else(|| format!("{name}: wanted"), |why| format!("{name}: {why}"));
                found.push(Wanted { words, way: here });
            }
        }
    }
}

/// `calibrations, 2, date`.
fn called(grid: &Grid, before: &str, (row, column): (usize, usize)) -> String {
    let line = grid.rows.get(row).map(|line| line.called.clone()).filter(|name| !name.is_empty());
    let line = line.unwrap_or_else(|| format!("{}", row + 1));
    let column = grid.columns.get(column).map_or("", |column| column.name.as_str());
    let words = [before, &line, column].into_iter().filter(|word| !word.is_empty());
    words.collect::<Vec<_>>().join(", ")
}
