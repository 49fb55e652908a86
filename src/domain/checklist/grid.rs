//! Grids: where readings are taken, in the hand's order.

use std::collections::BTreeMap;

use super::super::characteristic::Given;
use super::super::figure::Figure;
use super::super::instrument::GaugeKind;
use super::super::sheet::Sheet;
use super::super::unit::{Dimension, Unit};

/// What the hand runs through first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Order {
    /// All repeats at one place, then the next place.
    ByPlace,
    /// All places once, then all again: transfers of a print.
    ByRepeat,
}

/// Where figures usually lie.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Usual {
    /// From here.
    pub from: Figure,
    /// To here; none where more does no harm.
    pub to: Option<Figure>,
}

/// Which way a figure is worse than the one it is compared with.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Worse {
    /// Vibration, temperatures.
    More,
    /// Oil pressure.
    Less,
}

/// What the figures of an earlier step, place by place, are to these.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Against {
    /// Shown beside them once they are taken: after the start against before the stop.
    Compared(String),
    /// They must be the same: counted in against counted out.
    Equal(String),
}

impl Against {
    /// The earlier step.
    pub fn step(&self) -> &str {
        match self {
            Self::Compared(step) | Self::Equal(step) => step,
        }
    }
}

/// Rows that share their columns.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Block {
    /// `inner 0`; a range `land 1..{thrust.lands}` stands for one row a number, its end from the sheet.
    pub rows: Vec<String>,
    /// Columns that are places too, such as directions; empty when a row is one place.
    pub across: Vec<String>,
}

/// The places, repeats and figures of a step.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Grid {
    /// The unit of a figure typed without one.
    pub unit: Unit,
    /// A unit of another sort that a figure may be in instead: the angle of a joint that is not tightened by torque.
    pub or: Option<Unit>,
    /// The gauge it asks for.
    pub gauge: GaugeKind,
    /// Where.
    pub blocks: Vec<Block>,
    /// How often at each place, at least 1.
    pub repeats: u32,
    /// The figures of one repeat, such as `down`, `up`; empty when it is a single one.
    pub figures: Vec<String>,
    /// In which order.
    pub order: Order,
    /// Where such figures usually lie; one outside is asked about. Common practice or a standard's window, never a limit.
    pub usual: Option<Usual>,
    /// The step whose figures at the same places these stand against.
    pub against: Option<Against>,
    /// Which way its figures are worse than those they are compared with; none where neither way is.
    pub worse: Option<Worse>,
    /// The step that takes the temperature of the part, then of the gauge, where sizes are brought to 20 degC.
    pub temperatures: Option<String>,
    /// Rows, columns and figures that are in a unit of their own, by their name.
    pub units: BTreeMap<String, Unit>,
}

/// One field of a grid.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Cell {
    /// The block it stands in.
    pub block: usize,
    /// The row's label.
    pub row: String,
    /// The column's label where columns are places.
    pub across: Option<String>,
    /// From 1; `None` where there is only one.
    pub repeat: Option<u32>,
    /// The figure's name where there are several.
    pub figure: Option<String>,
}

impl Cell {
    /// Where on the part: `inner 0`, `a 45`.
    pub fn spot(&self) -> String {
        match &self.across {
            Some(across) => format!("{} {across}", self.row),
            None => self.row.clone(),
        }
    }

    /// The place as kept in the record: `inner 0 / 3 / up`.
    pub fn place(&self) -> String {
        let repeat = self.repeat.map(|repeat| format!(" / {repeat}")).unwrap_or_default();
        let figure = self.figure.as_ref().map(|figure| format!(" / {figure}")).unwrap_or_default();
        format!("{}{repeat}{figure}", self.spot())
    }

    /// The place as said: `inner 0, third up`.
    pub fn spoken(&self) -> String {
        const ORDINALS: [&str; 9] =
            ["first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth"];
        let ordinal = self.repeat.map(|repeat| {
            let word = usize::try_from(repeat).ok().and_then(|repeat| ORDINALS.get(repeat.checked_sub(1)?));
            word.map_or_else(|| format!("number {repeat}"), |word| (*word).to_owned())
        });
        let rest: Vec<_> = [ordinal, self.figure.clone()].into_iter().flatten().collect();
        if rest.is_empty() { self.spot() } else { format!("{}, {}", self.spot(), rest.join(" ")) }
    }
}

impl Grid {
    /// Every field in the hand's order, ranges taken from the sheet; a range without its figure gives no row.
    pub fn cells(&self, sheet: Option<&Sheet>) -> Vec<Cell> {
        let repeats: Vec<_> = if self.repeats > 1 { (1..=self.repeats).map(Some).collect() } else { vec![None] };
        let mut cells = Vec::new();
        match self.order {
            Order::ByPlace => self.each_spot(sheet, &mut |spot| {
                for repeat in &repeats {
                    self.each_figure(spot, *repeat, &mut cells);
                }
            }),
            Order::ByRepeat => {
                for repeat in &repeats {
                    self.each_spot(sheet, &mut |spot| self.each_figure(spot, *repeat, &mut cells));
                }
            }
        }
        cells
    }

    fn each_spot(&self, sheet: Option<&Sheet>, take: &mut dyn FnMut(&Cell)) {
        for (block, rows) in self.blocks.iter().enumerate() {
            for row in rows.rows.iter().flat_map(|row| expand(row, sheet)) {
                let cell = Cell { block, row, across: None, repeat: None, figure: None };
                if rows.across.is_empty() {
                    take(&cell);
                }
                for across in &rows.across {
                    take(&Cell { across: Some(across.clone()), ..cell.clone() });
                }
            }
        }
    }

    fn each_figure(&self, spot: &Cell, repeat: Option<u32>, cells: &mut Vec<Cell>) {
        let cell = Cell { repeat, ..spot.clone() };
        if self.figures.is_empty() {
            cells.push(cell);
            return;
        }
        cells.extend(self.figures.iter().map(|figure| Cell { figure: Some(figure.clone()), ..cell.clone() }));
    }

    /// The unit of a figure typed without one in this field.
    pub fn unit_of(&self, cell: &Cell) -> Unit {
        let names = [cell.figure.as_ref(), cell.across.as_ref(), Some(&cell.row)];
        names.into_iter().flatten().find_map(|name| self.units.get(name)).copied().unwrap_or(self.unit)
    }

    /// The grid as this field has it: in its own unit.
    #[must_use]
    pub fn as_at(&self, cell: &Cell) -> Self {
        Self { unit: self.unit_of(cell), ..self.clone() }
    }

    /// Whether a figure of this sort may stand in the grid.
    pub fn takes_a(&self, dimension: Dimension) -> bool {
        self.unit.dimension() == dimension || self.or.is_some_and(|or| or.dimension() == dimension)
    }

    /// Whether pieces are counted: plain numbers, from no gauge.
    pub fn counts(&self) -> bool {
        self.unit == Unit::One && self.gauge == GaugeKind::Other
    }

    /// Givens its ranges need from a sheet.
    pub fn needs(&self) -> Vec<Given> {
        let rows = self.blocks.iter().flat_map(|block| &block.rows);
        rows.filter_map(|row| Given::parse(row.split_once("..{")?.1.strip_suffix('}')?)).collect()
    }
}

/// The rows that one written row stands for.
fn expand(row: &str, sheet: Option<&Sheet>) -> Vec<String> {
    let Some((begin, end)) = row.split_once("..") else { return vec![row.to_owned()] };
    let (word, first) = begin.rsplit_once(' ').unwrap_or(("", begin));
    let last = match end.strip_prefix('{').and_then(|name| name.strip_suffix('}')) {
        Some(name) => Given::parse(name).and_then(|given| sheet?.given(given)).map(|number| number.to_string()),
        None => Some(end.to_owned()),
    };
    let numbers = first.parse::<u32>().ok().zip(last.and_then(|last| last.parse::<u32>().ok()));
    let rows = numbers
        .map(|(first, last)| (first..=last.min(first.saturating_add(199))).map(|number| format!("{word} {number}")));
    rows.into_iter().flatten().map(|row| row.trim_start().to_owned()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn places(grid: &Grid) -> Vec<String> {
        grid.cells(None).iter().map(Cell::place).collect()
    }

    #[test]
    fn cells_come_in_the_hands_order() {
        let mut grid = Grid {
            unit: Unit::Millimetre,
            or: None,
            gauge: GaugeKind::Dial,
            blocks: vec![Block { rows: vec!["land 1..2".into()], across: vec![] }],
            repeats: 2,
            figures: vec!["down".into(), "up".into()],
            order: Order::ByPlace,
            usual: None,
            against: None,
            worse: None,
            temperatures: None,
            units: BTreeMap::new(),
        };
        let first: Vec<_> = places(&grid).into_iter().take(3).collect();
        assert_eq!(first, ["land 1 / 1 / down", "land 1 / 1 / up", "land 1 / 2 / down"]);
        assert_eq!(grid.cells(None)[3].spoken(), "land 1, second up");
        grid.order = Order::ByRepeat;
        assert_eq!(places(&grid)[2], "land 2 / 1 / down");
        grid.blocks = vec![Block { rows: vec!["a".into()], across: vec!["0".into(), "45".into()] }];
        grid.repeats = 1;
        grid.figures.clear();
        assert_eq!(places(&grid), ["a 0", "a 45"]);
    }
}
