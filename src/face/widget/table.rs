//! A grid of places laid out for the eye: rows, headings, and where each field stands, whatever the hand's order.

use crate::domain::checklist::{Cell, Grid};

/// A field on the table.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Spot {
    /// Its number in the hand's order.
    pub cell: usize,
    /// Its left column.
    pub x: usize,
}

/// One line of the table.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Line {
    /// Headings over their columns.
    Heading(Vec<(usize, String)>),
    /// A row of places.
    Places {
        /// Its label with its left column; several where rows stand side by side.
        labels: Vec<(usize, String)>,
        /// Its fields; none in a line that says what those above have come to.
        spots: Vec<Spot>,
        /// The spot whose value stands at the end; none where rows stand side by side.
        spot: Option<String>,
    },
}

/// The table.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Table {
    /// Its lines from above.
    pub lines: Vec<Line>,
    /// Columns of a field.
    pub width: usize,
}

/// Columns of one field: six digits, a sign or a mark, a blank.
const FIELD: usize = 8;

/// Columns behind the last figure of a row that is one place: its value, and its verdict in a word.
const VALUE: usize = 18;

/// Marks of a turn, the way back to the first one too: they stand in one row of narrower fields.
const NARROW: usize = 9;

/// Lays `grid` out in `columns`.
pub fn lay_out(grid: &Grid, cells: &[Cell], columns: usize) -> Table {
    // nine marks of a turn stay in one row
    let marks = grid.blocks.iter().map(|block| block.across.len()).max().unwrap_or(0);
    let narrow = marks == NARROW && columns >= 72;
    let mut table = Table { lines: Vec::new(), width: if narrow { FIELD - 1 } else { FIELD } };
    for block in 0..grid.blocks.len() {
        let numbered: Vec<(usize, &Cell)> = cells.iter().enumerate().filter(|(_, cell)| cell.block == block).collect();
        let mut rows: Vec<&str> = Vec::new();
        for (_, cell) in &numbered {
            if !rows.contains(&cell.row.as_str()) {
                rows.push(&cell.row);
            }
        }
        let label = rows.iter().map(|row| row.chars().count()).max().unwrap_or(0) + 2;
        let single =
            rows.first().is_some_and(|first| numbered.iter().filter(|(_, cell)| cell.row == *first).count() == 1);
        if single && rows.len() > 8 {
            side_by_side(&mut table, &numbered, (label, columns));
        } else {
            under_each_other(&mut table, &numbered, &rows, (label, columns));
        }
    }
    table
}

/// Rows of single fields, as many in a line as there is room for, numbered downwards.
fn side_by_side(table: &mut Table, cells: &[(usize, &Cell)], (label, columns): (usize, usize)) {
    let across = (columns / (label + FIELD + 1)).max(1);
    let lines = cells.len().div_ceil(across);
    for line in 0..lines {
        let mut labels = Vec::new();
        let mut spots = Vec::new();
        for (column, (number, cell)) in cells.iter().skip(line).step_by(lines.max(1)).enumerate() {
            let x = 1 + column * (label + FIELD + 1);
            labels.push((x, cell.spot()));
            spots.push(Spot { cell: *number, x: x + label });
        }
        table.lines.push(Line::Places { labels, spots, spot: None });
    }
}

/// A row each, its columns in as many lines as they need; the heading once for all rows that share it.
fn under_each_other(table: &mut Table, cells: &[(usize, &Cell)], rows: &[&str], (label, columns): (usize, usize)) {
    let of_row = |row: &str| cells.iter().filter(|(_, cell)| cell.row == row).copied().collect::<Vec<_>>();
    let count = rows.iter().map(|row| of_row(row).len()).max().unwrap_or(0);
    let one_place = cells.iter().all(|(_, cell)| cell.across.is_none());
    let behind = label + 1 + if one_place { VALUE } else { 0 };
    // a name keeps a blank before it, where there is room
    let longest = cells.iter().map(|(_, cell)| column_name(cell).chars().count()).max().unwrap_or(0);
    let wide = (longest + 2).max(table.width);
    let step = if behind + wide * count <= columns { wide } else { table.width };
    let column_name = if longest < step { column_name } else { short_name };
    let in_line = fields_in_line((columns.saturating_sub(label + 1) / step).max(1), cells, |in_line| {
        behind + last_line(count, in_line) * step <= columns
    });
    // in a small window a value with its verdict has a line of its own
    let below = one_place && behind + last_line(count, in_line) * step > columns;
    let mut heading: Option<Vec<(usize, String)>> = None;
    for row in rows {
        let mut here = of_row(row);
        // in the order of the columns, not of the hand: repeats side by side
        here.sort_by_key(|(number, cell)| (cell.repeat, *number));
        for (part, chunk) in here.chunks(in_line).enumerate() {
            let at = |index: usize| label + 1 + (index + 1) * step - table.width;
            let names: Vec<_> =
                chunk.iter().enumerate().map(|(index, (_, cell))| (at(index), column_name(cell))).collect();
            let is_told = heading.as_ref().is_some_and(|told| told.starts_with(&names));
            if !is_told && names.iter().any(|(_, name)| !name.is_empty()) {
                table.lines.push(Line::Heading(names.clone()));
                heading = Some(names);
            }
            let spots = chunk.iter().enumerate().map(|(index, (number, _))| Spot { cell: *number, x: at(index) });
            let labels = if part == 0 { vec![(1, (*row).to_owned())] } else { Vec::new() };
            // the value stands behind the last figure
            let ends = (part + 1) * in_line >= here.len();
            let spot = (one_place && ends).then(|| (*row).to_owned());
            let (beside, under) = if below { (None, spot) } else { (spot, None) };
            table.lines.push(Line::Places { labels, spots: spots.collect(), spot: beside });
            let under = under.map(|spot| Line::Places { labels: Vec::new(), spots: Vec::new(), spot: Some(spot) });
            table.lines.extend(under);
        }
    }
}

/// Fields in the last line of a row of `count`.
fn last_line(count: usize, in_line: usize) -> usize {
    match count % in_line {
        0 => in_line.min(count),
        rest => rest,
    }
}

/// As many fields in a line as leave room for what stands behind the last one; the figures of a repeat stay together.
fn fields_in_line(most: usize, cells: &[(usize, &Cell)], fits: impl Fn(usize) -> bool) -> usize {
    let first = cells.first().map(|(_, cell)| (cell.spot(), cell.repeat));
    let together = cells.iter().filter(|(_, cell)| Some((cell.spot(), cell.repeat)) == first).count().max(1);
    (1..=most / together).rev().map(|repeats| repeats * together).find(|in_line| fits(*in_line)).unwrap_or(most)
}

/// The figure's name alone, where there is no room for the number of its repeat too.
fn short_name(cell: &Cell) -> String {
    cell.figure.clone().unwrap_or_else(|| column_name(cell))
}

/// `45`, `1 down`, `up`: the number of a repeat stands over its first figure only.
fn column_name(cell: &Cell) -> String {
    let repeat = cell.repeat.map(|repeat| repeat.to_string());
    let parts = [cell.across.clone(), repeat, cell.figure.clone()];
    parts.into_iter().flatten().collect::<Vec<_>>().join(" ")
}

impl Table {
    /// The line that a field stands in.
    pub fn line_of(&self, cell: usize) -> usize {
        let has = |line: &Line| match line {
            Line::Heading(_) => false,
            Line::Places { spots, .. } => spots.iter().any(|spot| spot.cell == cell),
        };
        self.lines.iter().position(has).unwrap_or(0)
    }

    /// The field one line above or below, nearest to the same column.
    pub fn vertical(&self, cell: usize, down: Vertical) -> Option<usize> {
        let line = self.line_of(cell);
        let x = self.spots(line).iter().find(|spot| spot.cell == cell)?.x;
        let nearest = |line: usize| self.spots(line).iter().min_by_key(|spot| spot.x.abs_diff(x)).map(|spot| spot.cell);
        match down {
            Vertical::Down => (line + 1..self.lines.len()).find_map(nearest),
            Vertical::Up => (0..line).rev().find_map(nearest),
        }
    }

    /// The field to the left or right in the same line, or the end of the line before or the begin of the next.
    pub fn horizontal(&self, cell: usize, on: Horizontal) -> Option<usize> {
        let all: Vec<usize> = (0..self.lines.len()).flat_map(|line| self.spots(line)).map(|spot| spot.cell).collect();
        let at = all.iter().position(|other| *other == cell)?;
        let next = match on {
            Horizontal::Right => at + 1,
            Horizontal::Left => at.checked_sub(1)?,
        };
        all.get(next).copied()
    }

    fn spots(&self, line: usize) -> &[Spot] {
        match self.lines.get(line) {
            Some(Line::Places { spots, .. }) => spots,
            Some(Line::Heading(_)) | None => &[],
        }
    }
}

/// Up or down.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Vertical {
    /// Up.
    Up,
    /// Down.
    Down,
}

/// Left or right.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Horizontal {
    /// Left.
    Left,
    /// Right.
    Right,
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::checklist::{Block, Order};
    use crate::domain::instrument::GaugeKind;
    use crate::domain::unit::Unit;

    fn grid(rows: &[&str], across: &[&str], repeats: u32, figures: &[&str]) -> Grid {
        let owned = |words: &[&str]| words.iter().map(|word| (*word).to_owned()).collect::<Vec<_>>();
        Grid {
            unit: Unit::Millimetre,
            gauge: GaugeKind::Dial,
            blocks: vec![Block { rows: owned(rows), across: owned(across) }],
            repeats,
            figures: owned(figures),
            order: Order::ByRepeat,
            usual: None,
            against: None,
            worse: None,
            or: None,
            temperatures: None,
            units: std::collections::BTreeMap::new(),
        }
    }

    #[test]
    fn repeats_stand_side_by_side_whatever_the_hands_order() {
        let grid = grid(&["land 1..8"], &[], 2, &["taper", "flat"]);
        let cells = grid.cells(None);
        let table = lay_out(&grid, &cells, 70);
        assert_eq!(table.lines.len(), 9);
        // in the hand's order land 2 of the first transfer is next; on the table it stands below
        assert_eq!(table.vertical(0, Vertical::Down), Some(2));
        assert_eq!(table.horizontal(1, Horizontal::Right), Some(16));
        assert_eq!(table.horizontal(0, Horizontal::Left), None);
    }

    #[test]
    fn many_single_places_stand_side_by_side() {
        let grid = grid(&["vane 1..24"], &[], 1, &[]);
        let cells = grid.cells(None);
        let table = lay_out(&grid, &cells, 78);
        assert_eq!(table.lines.len(), 6);
        assert_eq!(table.vertical(0, Vertical::Down), Some(1));
        assert_eq!(table.horizontal(0, Horizontal::Right), Some(6));
    }

    #[test]
    fn a_row_too_long_for_the_screen_goes_on_below() {
        let marks = ["0", "45", "90", "135", "180", "225", "270", "315", "back"];
        let grid = grid(&["nose"], &marks, 1, &[]);
        let table = lay_out(&grid, &grid.cells(None), 60);
        assert_eq!(table.lines.len(), 4);
    }
}
