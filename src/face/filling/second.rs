//! Who types a sheet: it is typed a second time, blind, and compared with the first entry; who changes it is asked.

use crate::domain::person::Person;
use crate::records::paper::{self, Kind, Paper, Place};
use crate::records::store::Leaf;

use super::super::effect::PaperPut;
use super::{Done, Entry, Filling, Hand, Wanted};

/// What the comparison of two entries says.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Compared {
    /// They differ, a line each, with the way to its cell.
    Differ(Vec<Wanted>),
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
            Some(text) if paper::still_second(&first, text, people) => text.clone(),
            Some(_) | None => paper::second_of(&first, paper::known(by, people)?.as_str(), people)?,
        };
        let paper = Paper::open(Kind::Sheet, &leaf.name, &text).map_err(|problems| problems.to_string())?;
        let mut filling = Self::over(paper.same_hand(), Some(leaf.name.clone()), Some(first.clone()));
        filling.entry = Entry::Second { first };
        filling.hands = vec![Hand::on(Place::Again)];
        Ok(filling.taking_up(leaf.second_typed.as_ref()))
    }

    /// Whether who types is asked before what stands in the field is taken.
    pub fn asks(&self) -> bool {
        self.asks
    }

    /// The answer to it, for as long as this form is open: then Enter, as it was meant. None: the text stays in the field.
    ///
    /// # Errors
    /// When nobody is known so, or why the text was not taken.
    pub fn typed_by(&mut self, who: Option<&str>) -> Result<Done, String> {
        if let Some(who) = who {
            self.paper.typed_by(who)?;
        }
        self.asks = false;
        if who.is_some() { self.enter() } else { Ok(Done::Went) }
    }

    /// Whether a second entry of it is begun that can be gone on with.
    pub fn is_second_begun(leaf: &Leaf, people: &[Person]) -> bool {
        leaf.second
            .as_ref()
            .zip(leaf.text.as_ref())
            .is_some_and(|(text, first)| paper::still_second(first, text, people))
    }

    /// The second entry against the first: where they differ, or the sheet with both names.
    ///
    /// # Errors
    /// When one of them is not complete.
    pub fn compare(&self) -> Result<Compared, String> {
        let Entry::Second { first } = &self.entry else { return Err("It is no second entry.".to_owned()) };
        let differences = paper::differences(first, self.paper.text())?;
        if !differences.is_empty() {
            let lines = differences.iter().map(|one| self.wanted_at(one.to_string(), &one.to));
            return Ok(Compared::Differ(lines.collect()));
        }
        let text = paper::taken_over(first, self.paper.text())?;
        let name = self.name.clone().unwrap_or_default();
        let draft = format!("second-{name}");
        let before = Some(first.clone());
        Ok(Compared::Agree(PaperPut { kind: Kind::Sheet, draft, name: Some(name), text, before }))
    }
}
