//! What a form says of itself: how it stands, and what helps to fill a cell in.

use crate::domain::unit::Unit;
use crate::records::paper::Cell;

use super::{Entry, Filling};

/// `without a unit: mm`.
pub(in crate::face) fn bare(unit: Unit) -> String {
    format!("without a unit: {unit}")
}

impl Filling {
    /// What helps to fill a cell in, and first which unit a figure gets that has none.
    pub fn hint(&self, cell: &Cell) -> String {
        let bare = self.paper.bare_unit(&cell.to).map(bare);
        let words = bare.into_iter().chain([cell.hint.clone()].into_iter().filter(|hint| !hint.is_empty()));
        words.collect::<Vec<_>>().join("; ")
    }

    /// How it stands: in use, or a draft and what it still wants.
    pub fn state(&self) -> String {
        // as the form shows them: what it wants stands at its own cell, though the reader may miss them together
        let faults = if self.paper.is_complete() { 0 } else { self.wanted().len() };
        match (&self.entry, faults) {
            (Entry::Second { .. }, 0) => "second entry, blind; Esc compares".to_owned(),
            (Entry::Second { .. }, _) => format!("second entry, blind; {faults} to mend"),
            (Entry::First, 0) if self.in_use.as_deref() == Some(self.paper.text()) => "saved, in use".to_owned(),
            (Entry::First, wanted) if self.paper.is_blank() => {
                let wanted = match wanted {
                    0 => String::new(),
                    1 => ": 1 thing wanted".to_owned(),
                    more => format!(": {more} things wanted"),
                };
                format!("EMPTY, nothing is kept{wanted}")
            }
            (Entry::First, 0) => "complete, not in use".to_owned(),
            (Entry::First, 1) => "DRAFT, not in use: 1 thing wanted".to_owned(),
            (Entry::First, _) => format!("DRAFT, not in use: {faults} things wanted"),
        }
    }
}
