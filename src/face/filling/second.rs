//! A sheet typed a second time, blind, and compared with the first entry.

use crate::domain::person::Person;
use crate::records::paper::{self, Kind, Paper, Place};
use crate::records::store::Leaf;

use super::super::effect::PaperPut;
use super::{Entry, Filling, Hand};

/// What the comparison of two entries says.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Compared {
    /// They differ, a line each.
    Differ(Vec<String>),
    /// They agree: the sheet with both names.
    Agree(PaperPut),
}

impl Filling {
    /// The second entry of a sheet: begun by `by`, or gone on with.
    ///
    /// # Errors
    /// When the first is not complete, or was typed by the same person; when nobody of `people` is meant.
    pub fn second(leaf: &Leaf, by: &str, people: &[Person]) -> Result<Self, String> {
        let first = leaf.text.clone().ok_or("The first entry is not complete yet.")?;
        let text = match &leaf.second {
            Some(text) => text.clone(),
            None => paper::second_of(&first, paper::known(by, people)?.as_str())?,
        };
        let paper = Paper::open(Kind::Sheet, &leaf.name, &text).map_err(|problems| problems.to_string())?;
        let mut filling = Self::over(paper.same_hand(), Some(leaf.name.clone()), Some(first.clone()));
        filling.entry = Entry::Second { first };
        filling.hands = vec![Hand::on(Place::Again)];
        Ok(filling.taking_up(leaf.second_typed.as_ref()))
    }

    /// The second entry against the first: where they differ, or the sheet with both names.
    ///
    /// # Errors
    /// When one of them is not complete.
    pub fn compare(&self) -> Result<Compared, String> {
        let Entry::Second { first } = &self.entry else { return Err("It is no second entry.".to_owned()) };
        let differences = paper::differences(first, self.paper.text())?;
        if !differences.is_empty() {
            let lines =
                differences.iter().map(|one| format!("{}: first {}; second {}", one.what, one.first, one.second));
            return Ok(Compared::Differ(lines.collect()));
        }
        let text = paper::taken_over(first, self.paper.text())?;
        let name = self.name.clone().unwrap_or_default();
        let draft = format!("second-{name}");
        let before = Some(first.clone());
        Ok(Compared::Agree(PaperPut { kind: Kind::Sheet, draft, name: Some(name), text, before }))
    }
}
