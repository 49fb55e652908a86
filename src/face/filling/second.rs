//! Who types a sheet: it is typed a second time, blind, and compared with the first entry; who changes it is asked.

use crate::domain::person::Person;
use crate::records::paper::{self, Kind, Paper, Place};
use crate::records::store::{Leaf, Second, second_draft};

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
    /// The second entry of a sheet by somebody: begun, or his own gone on with.
    ///
    /// # Errors
    /// When the first is not complete, or was typed by the same person; when nobody of `people` is meant.
    pub fn second(leaf: &Leaf, by: &str, people: &[Person]) -> Result<Self, String> {
        let first = leaf.text.clone().ok_or("The first entry is not complete yet.")?;
        let by = paper::known(by, people)?.as_str();
        let is_own = |one: &&Second| match &one.by {
            Some(of) => paper::is_one_person(of, by, people),
            // half typed before each had his own
            None => one.text.is_none(),
        };
        let own = leaf.seconds.iter().find(is_own);
        let new = paper::second_of(&first, by, people).map_err(|why| match own {
            Some(_) => format!("{why} What {by} had typed of a second entry counts no more; it is kept under drafts."),
            None => why,
        })?;
        let text = own.and_then(|own| own.text.clone()).unwrap_or(new);
        let paper = Paper::open(Kind::Sheet, &leaf.name, &text).map_err(|problems| problems.to_string())?;
        let mut filling = Self::over(paper.same_hand(), Some(leaf.name.clone()), Some(first.clone()));
        let void: Vec<_> = leaf.seconds.iter().filter(|one| !counts(&first, one, people)).collect();
        filling.told = void.iter().filter_map(|one| Some(counts_no_more(one.by.as_ref()?))).collect();
        let void = void.into_iter().map(|one| one.draft.clone()).collect();
        let draft = own.map_or_else(|| second_draft(&leaf.name, by), |own| own.draft.clone());
        filling.entry = Entry::Second { first, draft, void };
        filling.hands = vec![Hand::on(Place::Again)];
        filling.left = own.and_then(|own| own.typed.clone());
        Ok(filling)
    }

    /// Whoever has begun a second entry of it that still counts.
    pub fn begun_by<'l>(leaf: &'l Leaf, people: &[Person]) -> Vec<&'l str> {
        let Some(first) = &leaf.text else { return Vec::new() };
        let counting = leaf.seconds.iter().filter(|one| counts(first, one, people));
        counting.filter_map(|one| one.by.as_deref()).collect()
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

    /// The second entry against the first: where they differ, or the sheet with both names.
    ///
    /// # Errors
    /// When one of them is not complete.
    pub fn compare(&self) -> Result<Compared, String> {
        let Entry::Second { first, draft, void } = &self.entry else { return Err("It is no second entry.".to_owned()) };
        let differences = paper::differences(first, self.paper.text())?;
        if !differences.is_empty() {
            let lines = differences.iter().map(|one| self.wanted_at(one.to_string(), &one.to));
            return Ok(Compared::Differ(lines.collect()));
        }
        let text = paper::taken_over(first, self.paper.text())?;
        let name = self.name.clone().unwrap_or_default();
        let (draft, before, void) = (draft.clone(), Some(first.clone()), void.clone());
        Ok(Compared::Agree(PaperPut { kind: Kind::Sheet, draft, name: Some(name), text, before, void }))
    }
}

/// Whether whoever types a second entry has not changed the first one since.
fn counts(first: &str, second: &Second, people: &[Person]) -> bool {
    second.text.as_ref().is_none_or(|text| paper::still_second(first, text, people))
}

fn counts_no_more(by: &str) -> String {
    format!("the second entry of {by} counts no more, for {by} changed the first one; it is kept apart under drafts")
}
