//! What is typed into a form and not entered: kept by row and cell, and by what the row is called, for the file may have
//! changed when the form is opened again.

use crate::records::paper::{Grid, Row, To};
use crate::records::store::{HalfCell, HalfHand, HalfPaper};

use super::super::field::Field;
use super::{Filling, Hand};

impl Filling {
    /// The same with what was typed and not entered when it was left; what no longer fits is passed over.
    pub(super) fn taking_up(mut self, half: Option<&HalfPaper>) -> Self {
        for (deep, kept) in half.map(|half| half.hands.as_slice()).unwrap_or_default().iter().enumerate() {
            if deep > 0 {
                // the cell before opens this place, as Enter does
                match self.cell().map(|cell| cell.to) {
                    Some(To::Open(place)) => self.hands.push(Hand::on(place)),
                    Some(_) | None => return self,
                }
            }
            let grid = self.grid();
            let Some(hand) = self.hands.last_mut() else { return self };
            let at = there(&grid, (kept.row, kept.column), kept.of.as_deref());
            hand.at = at.unwrap_or(hand.at);
            let typed = kept.typed.iter().filter_map(|cell| {
                let at = there(&grid, (cell.row, cell.column), cell.of.as_deref())?;
                Some((at, Field::holding(&cell.text)))
            });
            hand.typed = typed.collect();
            if at.is_none() {
                break;
            }
        }
        self
    }

    /// The name of its draft, and what is typed and not entered; none where nothing is.
    pub fn half(&self) -> (String, Option<HalfPaper>) {
        let count = |number: usize| u32::try_from(number).unwrap_or(u32::MAX);
        let hands = self.hands.iter().map(|hand| {
            let grid = self.grid_of(hand);
            let of = |row: usize| grid.rows.get(row).map(|row| name_of(row).to_owned());
            let typed = hand.typed.iter().filter(|(_, field)| !field.text().is_empty());
            let typed = typed.map(|((row, column), field)| HalfCell {
                row: count(*row),
                column: count(*column),
                of: of(*row),
                text: field.text().to_owned(),
            });
            let typed = typed.collect();
            HalfHand { row: count(hand.at.0), column: count(hand.at.1), of: of(hand.at.0), typed }
        });
        let hands: Vec<_> = hands.collect();
        let any = hands.iter().any(|hand| !hand.typed.is_empty());
        (self.draft_name(), any.then_some(HalfPaper { hands }))
    }
}

/// What a row is: its name, in a table or a list what stands in its first cell; of one to be begun, nothing.
fn name_of(row: &Row) -> &str {
    let numbered = row.called.parse::<usize>().is_ok();
    if row.called.is_empty() || numbered { row.cells.first().map_or("", |cell| &cell.text) } else { &row.called }
}

/// Where a cell is by now: in its old place where the row there is called as it was, else in the only row that is.
fn there(grid: &Grid, (row, column): (u32, u32), of: Option<&str>) -> Option<(usize, usize)> {
    let [row, column] = [row, column].map(|number| usize::try_from(number).unwrap_or(usize::MAX));
    let is_it = |at: &usize| grid.rows.get(*at).is_some_and(|row| of.is_none_or(|of| name_of(row) == of));
    let mut others = (0..grid.rows.len()).filter(is_it);
    let row = Some(row).filter(is_it).or_else(|| others.next().filter(|_| others.next().is_none()))?;
    grid.cell((row, column)).map(|_| (row, column))
}
