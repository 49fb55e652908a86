//! A place of a file laid out as rows of cells.

use crate::domain::characteristic::{Characteristic, Given};
use crate::domain::id::Id;
use crate::domain::sheet::Which;
use crate::records::edit::Path;

/// What is shown of a file at a time.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Place {
    /// The keys of a mapping, one a row.
    Fields(Path),
    /// What a second person types again: figures of the machine, what it does not have, levels.
    Again,
    /// The items of a list, their keys side by side.
    Table(Path),
    /// The items of a list, one a row, each opened by itself.
    List(Path),
    /// A sheet's levels, by characteristic.
    Levels,
    /// A sheet's figures of the machine, by name.
    Given,
    /// What the machine of a sheet does not have, by name.
    Absent,
    /// What a gauge can pass by the sheet of this machine type; told, not typed.
    Passes(Id),
}

/// Where a typed text goes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum To {
    /// A scalar; `figure`: a bare number gets a unit.
    Value {
        /// Where.
        path: Path,
        /// What the reader expects there.
        expected: String,
    },
    /// A list of scalars between brackets, typed apart by commas.
    Row(Path),
    /// Keys with values between brackets, typed as `light: watch, deep: replace`.
    Pairs(Path),
    /// A list of scalars on lines of its own: one item.
    Item(Path),
    /// A new item of a list, made by this key of it; none: a scalar.
    New(Path, Option<String>),
    /// The bounds of a level.
    Bounds(Characteristic, Which),
    /// What failing a level leads to.
    LeadsTo(Characteristic, Which),
    /// How uncertainty counts at a level.
    Rule(Characteristic, Which),
    /// Where a level stands in the manual.
    Source(Characteristic, Which),
    /// The number to order by.
    PartNumber(Characteristic),
    /// A figure of the machine.
    Given(Given),
    /// Where that stands.
    GivenSource(Given),
    /// Why the machine does not have it.
    Absent(Characteristic),
    /// Another place, with how much stands there.
    Open(Place),
    /// It is told, not typed.
    Nothing,
}

/// Whether the file is refused without a value.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Need {
    /// It is.
    Wanted,
    /// It may be left out.
    Free,
}

impl From<bool> for Need {
    fn from(is: bool) -> Self {
        if is { Self::Wanted } else { Self::Free }
    }
}

/// Whether Enter stops at a cell.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Way {
    /// It does.
    On,
    /// Only arrows reach it.
    Beside,
}

impl From<bool> for Way {
    fn from(is: bool) -> Self {
        if is { Self::On } else { Self::Beside }
    }
}

impl Row {
    /// A row with a name of its own.
    pub(super) fn named(label: &str, cells: Vec<Cell>) -> Self {
        Self { label: label.to_owned(), called: label.to_owned(), first: true, group: None, cells }
    }
}

/// One cell.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Cell {
    /// What stands there.
    pub text: String,
    /// Where a typed text goes.
    pub to: To,
    /// Whether the file is refused without it.
    pub need: Need,
    /// What may be typed, or was typed last.
    pub offers: Vec<String>,
    /// What Enter on an empty field takes, while nothing stands there.
    pub offer: Option<String>,
    /// What helps to fill it in.
    pub hint: String,
    /// What the reader says about it.
    pub fault: Option<String>,
    /// Whether Enter stops here on its way; arrows reach every cell.
    pub way: Way,
}

impl Cell {
    /// A cell on the way, nothing known of it but where it goes.
    pub(super) fn new(text: &str, to: To) -> Self {
        Self {
            text: text.to_owned(),
            to,
            need: Need::Free,
            offers: Vec::new(),
            offer: None,
            hint: String::new(),
            fault: None,
            way: Way::On,
        }
    }
}

/// One row.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Row {
    /// What stands before it; empty where its cells say it.
    pub label: String,
    /// What it is called in full.
    pub called: String,
    /// Whether it is the first of its name: page up and down go there.
    pub first: bool,
    /// The heading above it, where it begins a group.
    pub group: Option<String>,
    /// Its cells.
    pub cells: Vec<Cell>,
}

/// A column's heading and how wide it wants to be.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Column {
    /// Its heading.
    pub name: String,
    /// Characters.
    pub width: usize,
}

/// A place laid out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Grid {
    /// Its heading.
    pub title: String,
    /// One where each row is a label and a value.
    pub columns: Vec<Column>,
    /// Its rows.
    pub rows: Vec<Row>,
    /// What is said of the whole, such as what still has no levels.
    pub told: Vec<String>,
}

impl Grid {
    /// A cell by row and column.
    pub fn cell(&self, (row, column): (usize, usize)) -> Option<&Cell> {
        self.rows.get(row)?.cells.get(column)
    }

    /// The cell that Enter goes to after this one: further right, else below; none behind the last.
    pub fn next(&self, (row, column): (usize, usize)) -> Option<(usize, usize)> {
        let right = self.rows.get(row)?.cells.iter().skip(column + 1).position(|cell| cell.way == Way::On);
        right.map(|right| (row, column + 1 + right)).or_else(|| self.below(row))
    }

    /// The first cell on the way in a row below.
    pub fn below(&self, row: usize) -> Option<(usize, usize)> {
        let mut below = self.rows.iter().enumerate().skip(row + 1);
        below.find_map(|(number, row)| {
            row.cells.iter().position(|cell| cell.way == Way::On).map(|column| (number, column))
        })
    }
}
