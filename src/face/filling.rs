//! A file while it is filled in: the hand on a cell, what is half typed there, what goes to the disk. The same for the bench
//! and the line mode; what may stand where, and whether it is right, is the file's own reader's to say.

mod half;
mod list;
mod second;
mod told;
mod wanted;

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::domain::id::Id;
use crate::records::checklist_file::copy_of;
use crate::records::paper::{Cell, Entered, Grid, Kind, Paper, Place, To, Way};
use crate::records::store::{HalfPaper, Leaf, NEW};

use super::effect::{PaperPut, Register};
use super::field::Field;
use super::form::Go;

pub use second::Compared;
pub(super) use told::bare;
pub use wanted::Wanted;

/// Typed alone it takes out what stands in a cell.
const OUT: &str = "-";

/// Said where a draft would undo what came since.
const OLDER: &str = "a change left half done was begun on an older state of this file; it is kept apart under drafts";

/// The hand on a place.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Hand {
    place: Place,
    at: (usize, usize),
    typed: BTreeMap<(usize, usize), Field>,
}

impl Hand {
    fn on(place: Place) -> Self {
        Self { place, at: (0, 0), typed: BTreeMap::new() }
    }
}

/// Whose entry it is.
#[derive(Debug, Clone, PartialEq, Eq)]
enum Entry {
    /// The file itself.
    First,
    /// A sheet typed again, blind, beside the first entry; drafts of others that count no more.
    Second { first: String, draft: String, void: Vec<String> },
}

/// A file while it is filled in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Filling {
    /// It.
    pub paper: Paper,
    /// What its form tells besides: which parts were replaced when.
    pub told: Vec<String>,
    /// The name of its file; none while there is none.
    name: Option<String>,
    /// The text in use, as this program knows it.
    in_use: Option<String>,
    entry: Entry,
    hands: Vec<Hand>,
    /// Who types is asked before what stands in the field is taken.
    asks: bool,
    /// What was half typed when it was left, until it is known among what it lies.
    left: Option<HalfPaper>,
}

/// What Enter did.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Done {
    /// The text changed.
    Put(Put),
    /// The hand went on, or another place was opened.
    Went,
    /// Not yet: who types it is asked first.
    Asks,
}

/// A change of the text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Put {
    /// This goes to the disk.
    pub paper: Box<PaperPut>,
    /// What is to be said of it.
    pub told: Option<String>,
    /// The figure as it was taken, with its unit, for who does not see its cell.
    pub taken: Option<String>,
}

impl Filling {
    /// A new file of a kind.
    pub fn new(kind: Kind) -> Self {
        Self::over(Paper::new(kind), None, None)
    }

    fn over(paper: Paper, name: Option<String>, in_use: Option<String>) -> Self {
        let place = paper.kind.first_place();
        let hands = vec![Hand::on(place)];
        Self { paper, told: Vec::new(), name, in_use, entry: Entry::First, hands, asks: false, left: None }
    }

    /// A file that is there, or the draft of one.
    ///
    /// # Errors
    /// What keeps its text from being read at all.
    pub fn open(kind: Kind, leaf: &Leaf) -> Result<Self, String> {
        let text = leaf.draft.as_ref().or(leaf.text.as_ref());
        let half = leaf.typed.clone();
        let Some(text) = text else { return Ok(Self { left: half, ..Self::over(Paper::new(kind), None, None) }) };
        let paper = Paper::open(kind, &leaf.name, text).map_err(|problems| problems.to_string())?;
        let name = leaf.text.as_ref().map(|_| leaf.name.clone());
        let told = leaf.older.then(|| OLDER.to_owned()).into_iter().collect();
        Ok(Self { told, left: half, ..Self::over(paper, name, leaf.text.clone()) })
    }

    /// The name under which its draft is kept.
    fn draft_name(&self) -> String {
        match &self.entry {
            Entry::Second { draft, .. } => draft.clone(),
            Entry::First => self.name.clone().unwrap_or_else(|| NEW.to_owned()),
        }
    }

    /// The same with what its form tells besides: what the records say of it, what it is set against.
    #[must_use]
    pub fn among(self, register: &Register) -> Self {
        let told = self.name.as_ref().and_then(|name| register.told.get(name)).cloned().unwrap_or_default();
        let told = self.told.into_iter().chain(told).collect();
        let (paper, left) = (self.paper.beside(Arc::clone(&register.beside)), self.left);
        // rows are called as what lies beside calls them
        Self { told, paper, left: None, ..self }.taking_up(left.as_ref())
    }

    /// A copy of one of the program's own checklists, to be changed.
    ///
    /// # Errors
    /// When there is none of that name, or it cannot be copied.
    pub fn copy(name: &str) -> Result<Self, String> {
        let id = name.parse::<Id>().map_err(|refusal| refusal.to_string())?;
        let text = copy_of(name, &id).unwrap_or_else(|| Err(format!("There is no checklist `{name}`.")))?;
        let paper = Paper::open(Kind::Checklist, NEW, &text).map_err(|problems| problems.to_string())?;
        Ok(Self::over(paper, None, None))
    }

    /// The place on the screen.
    pub fn grid(&self) -> Grid {
        let mut grid = self.hands.last().map_or_else(|| self.paper.grid(&Place::Levels), |hand| self.grid_of(hand));
        // an id that names a file stays
        if let (true, Some(row)) = (self.name.is_some() && self.is_top(), grid.rows.first_mut())
            && self.paper.kind.id_key().is_some()
            && let (Entry::First, Some(cell)) = (&self.entry, row.cells.first_mut())
        {
            cell.to = To::Nothing;
            "it names the file and stands in records: it stays".clone_into(&mut cell.hint);
        }
        grid
    }

    fn grid_of(&self, hand: &Hand) -> Grid {
        self.paper.grid(&hand.place)
    }

    fn is_top(&self) -> bool {
        self.hands.len() <= 1
    }

    fn place(&self) -> &Place {
        const LEVELS: &Place = &Place::Levels;
        self.hands.last().map_or(LEVELS, |hand| &hand.place)
    }

    /// What the form tells besides, where the hand is at its first place.
    pub fn told_here(&self) -> &[String] {
        if self.is_top() { &self.told } else { &[] }
    }

    /// The row and column of the hand.
    pub fn at(&self) -> (usize, usize) {
        self.hands.last().map_or((0, 0), |hand| hand.at)
    }

    /// The cell under the hand.
    pub fn cell(&self) -> Option<Cell> {
        self.grid().cell(self.at()).cloned()
    }

    /// What is half typed under the hand.
    pub fn typed(&self) -> &str {
        self.hands.last().and_then(|hand| hand.typed.get(&hand.at)).map_or("", Field::text)
    }

    /// The field under the hand.
    pub fn field_mut(&mut self) -> Option<&mut Field> {
        let hand = self.hands.last_mut()?;
        Some(hand.typed.entry(hand.at).or_default())
    }

    /// Whether it is a second entry.
    pub fn is_second(&self) -> bool {
        matches!(self.entry, Entry::Second { .. })
    }

    /// Enter: takes what is typed, or what is offered, and goes on; opens what is opened.
    ///
    /// # Errors
    /// Why the text was not taken; it stays in the field.
    pub fn enter(&mut self) -> Result<Done, String> {
        let (grid, at) = (self.grid(), self.at());
        let Some(cell) = grid.cell(at).cloned() else { return Ok(Done::Went) };
        let typed = self.typed().trim().to_owned();
        let offered = cell.offer.clone().filter(|_| cell.text.is_empty() && typed.is_empty());
        match (&cell.to, typed.is_empty()) {
            (To::Open(place), true) => {
                self.hands.push(Hand::on(place.clone()));
                return Ok(Done::Went);
            }
            (To::Open(Place::Fields(item)), false) if typed != OUT && matches!(self.place(), Place::List(_)) => {
                return self.in_list(&grid, item, &typed);
            }
            (_, true) if offered.is_none() => {
                // nothing typed: on; past the rest of the row where its first cell is empty
                let next = if cell.text.is_empty() && at.1 == 0 { grid.below(at.0) } else { grid.next(at) };
                self.hand_to(next.unwrap_or(at));
                return Ok(Done::Went);
            }
            (_, _) => {}
        }
        let (out, unit) = (self.takes_out(), self.paper.bare_unit(&cell.to));
        let entered = self.paper.enter(&cell, &offered.unwrap_or(typed))?;
        self.asks = entered == Entered::Asks;
        if self.asks {
            return Ok(Done::Asks);
        }
        self.empty_field();
        let now = self.grid();
        // what is refused keeps the hand, and so does a row that is gone
        let stays = out.is_some() || now.cell(at).is_some_and(|cell| cell.fault.is_some());
        let taken = unit.and_then(|_| now.cell(at)).filter(|cell| !cell.text.is_empty());
        let taken = taken.map(|cell| cell.text.clone());
        let told = match out {
            Some(what) => Some(format!("Taken out: {what}.")),
            None => wanted::wrong_elsewhere(&grid, &now, at),
        };
        match entered {
            Entered::Taken | Entered::Asks if stays => {}
            Entered::Taken | Entered::Asks => self.hand_to(now.next(at).unwrap_or(at)),
            Entered::Opens(place) => self.hands.push(Hand::on(place)),
        }
        Ok(Done::Put(Put { paper: Box::new(self.put()), told, taken }))
    }

    fn empty_field(&mut self) {
        if let Some(hand) = self.hands.last_mut() {
            hand.typed.remove(&hand.at);
        }
    }

    /// What goes to the disk: in use when the reader takes it, a draft else.
    fn put(&mut self) -> PaperPut {
        let kind = self.paper.kind;
        let id = self.paper.id().map(str::to_owned).or((kind == Kind::People).then(|| "people".to_owned()));
        let text = self.paper.text().to_owned();
        let before = self.in_use.clone();
        let draft = self.draft_name();
        if let Entry::Second { void, .. } = &self.entry {
            return PaperPut { kind, draft, name: None, text, before, void: void.clone() };
        }
        let name = self.name.clone().or(id).filter(|_| self.paper.is_complete());
        if name.is_some() {
            self.name.clone_from(&name);
            self.in_use = Some(text.clone());
        }
        PaperPut { kind, draft, name, text, before, void: Vec::new() }
    }

    /// The disk did not take it: it is a draft again.
    pub fn not_saved(&mut self, put: &PaperPut) {
        if let Entry::First = self.entry {
            self.in_use.clone_from(&put.before);
            if put.before.is_none() {
                self.name = None;
            }
        }
    }

    fn hand_to(&mut self, at: (usize, usize)) {
        if let Some(hand) = self.hands.last_mut() {
            hand.at = at;
        }
    }

    /// One cell further; up and down keep the column as far as the row has it.
    pub fn go(&mut self, (rows, columns): (isize, isize)) {
        let (grid, (row, column)) = (self.grid(), self.at());
        let row = row.saturating_add_signed(rows).min(grid.rows.len().saturating_sub(1));
        let cells = grid.rows.get(row).map_or(0, |row| row.cells.len());
        self.hand_to((row, column.saturating_add_signed(columns).min(cells.saturating_sub(1))));
    }

    /// To the next cell of the row that Enter passes by, behind the last the first; says whether there is one.
    pub fn go_beside(&mut self) -> bool {
        let (grid, (row, column)) = (self.grid(), self.at());
        let cells = grid.rows.get(row).map(|row| row.cells.as_slice()).unwrap_or_default();
        let is_beside = |at: &usize| cells.get(*at).is_some_and(|cell| cell.way == Way::Beside);
        let next = (column + 1..cells.len()).chain(0..column).find(is_beside);
        self.hand_to((row, next.unwrap_or(column)));
        next.is_some()
    }

    /// To the next row with a name of its own, or back.
    pub fn leap(&mut self, by: Go) {
        let (grid, (row, _)) = (self.grid(), self.at());
        let named = |number: &usize| grid.rows.get(*number).is_some_and(|row| row.first);
        let to = match by {
            Go::On => (row + 1..grid.rows.len()).find(named),
            Go::Back => (0..row).rev().find(named),
        };
        self.hand_to((to.unwrap_or(row), 0));
    }

    /// Puts the next word on offer into the field; where none is, what stands there, to be changed, or what Enter alone
    /// would take. Says whether there was any.
    pub fn turn(&mut self, by: Go) -> bool {
        let Some(cell) = self.cell().filter(|cell| !matches!(cell.to, To::Open(_) | To::Nothing)) else { return true };
        let count = cell.offers.len();
        if count == 0 {
            let text = cell.offer.filter(|_| cell.text.is_empty()).unwrap_or(cell.text);
            if let Some(field) = self.field_mut().filter(|field| field.text().is_empty()) {
                *field = Field::holding(&text);
            }
            return !text.is_empty();
        }
        let now = if self.typed().is_empty() { cell.text } else { self.typed().to_owned() };
        let next = match (cell.offers.iter().position(|offer| *offer == now), by) {
            (None, Go::On) => 0,
            (None, Go::Back) => count - 1,
            (Some(at), Go::On) => (at + 1) % count,
            (Some(at), Go::Back) => (at + count - 1) % count,
        };
        if let (Some(offer), Some(field)) = (cell.offers.get(next).cloned(), self.field_mut()) {
            *field = Field::holding(&offer);
        }
        true
    }

    /// Back to the place before; says whether there was one.
    pub fn back(&mut self) -> bool {
        let deeper = self.hands.len() > 1;
        if deeper {
            self.hands.pop();
        }
        deeper
    }
}
