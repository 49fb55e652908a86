//! What earlier openings measured, as far as it was measured on what is here now.

use super::super::characteristic::Characteristic;
use super::super::rotor::{Fitted, is_same_number};
use super::{Inspection, Past};

impl Inspection {
    /// Whether the piece found bears another number than the one that the records before knew.
    pub fn is_another(&self, part: &str) -> bool {
        let number = |fitted: Option<&Fitted>| fitted.filter(|one| one.is_numbered())?.serial.clone();
        let (known, found) = (number(self.head.parts.get(part)), number(self.found_fitted(part)));
        known.zip(found).is_some_and(|(known, found)| !is_same_number(&known, &found))
    }

    /// Figures of earlier openings, oldest first: of a piece found with another number, or of a pair with such a one,
    /// there are none.
    pub fn history_of(&self, characteristic: Characteristic) -> impl DoubleEndedIterator<Item = &Past> {
        let another = self.another_in(characteristic).is_some();
        self.head.history.iter().filter(move |past| !another && past.characteristic == characteristic)
    }

    /// Why nothing of earlier openings is told of a characteristic: a piece in it was found with another number.
    pub fn another_in(&self, characteristic: Characteristic) -> Option<String> {
        let piece = characteristic.pieces().find(|piece| self.is_another(piece))?;
        let name = self.head.checklist.part(piece).map_or(piece, |part| part.short.as_str());
        Some(format!("{name}: found with another number than at the last opening, its history starts here"))
    }
}
