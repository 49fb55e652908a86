//! Figures, bounds and sources in their short forms: `0.22` with the unit and side of last time, `0.13..0.17`, `>=.21`.

use std::collections::BTreeSet;

use crate::domain::characteristic::Given;
use crate::domain::figure::Figure;
use crate::domain::sheet::{Sheet, Which, most_used};
use crate::domain::sides::{self, SIDES};
use crate::domain::typed;
use crate::domain::unit::Unit;
use crate::records::edit::Path;
use crate::records::yaml::{Node, What};

use super::{Kind, Paper, Remembered};

/// One bound of a level as it stands in the file: its word, and a figure or the size that a table goes by.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct BoundTyped {
    pub(super) word: &'static str,
    pub(super) amount: AmountTyped,
}

#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum AmountTyped {
    Figure(String),
    /// Bands by this size.
    Table(String),
}

/// The words that `a..b` stands for: of new what is allowed, of alert and limit where failing begins.
pub(super) fn from_to(which: Which) -> (&'static str, &'static str) {
    if which == Which::New { ("at or above", "at or below") } else { ("below", "above") }
}

/// Every figure below a node.
fn figures(node: &Node, found: &mut Vec<Figure>) {
    match &node.what {
        What::Text(text, _) => found.extend(text.parse::<Figure>()),
        What::List(_, items) => items.iter().for_each(|item| figures(item, found)),
        What::Map(_, pairs) => pairs.iter().for_each(|(_, value)| figures(value, found)),
    }
}

impl Paper {
    /// A typed figure with its unit: the one typed, else that of last time where it is of the same kind, else `usual`.
    pub(super) fn figure(&mut self, typed: &str, usual: Unit) -> Result<String, String> {
        let unit = self.unit(usual);
        let taken = typed::parse(typed, unit).map_err(|refusal| refusal.to_string())?.figure;
        if taken.unit() != unit {
            self.last.insert(Remembered::Unit(taken.dimension()), taken.unit().to_string());
        }
        Ok(taken.to_string())
    }

    /// The unit a bare number gets: that of last time, else that of most figures of the sheet, else the one that every
    /// sheet of the workshop has, else `usual`.
    pub(super) fn unit(&self, usual: Unit) -> Unit {
        let last = self.last.get(&Remembered::Unit(usual.dimension())).and_then(|unit| Unit::parse(unit));
        last.unwrap_or_else(|| if self.kind == Kind::Sheet { self.unit_of_sheet(usual) } else { usual })
    }

    fn unit_of_sheet(&self, usual: Unit) -> Unit {
        let mut here = Vec::new();
        for key in ["levels", "given"] {
            self.root.get(key).into_iter().for_each(|node| figures(node, &mut here));
        }
        let elsewhere = |sheet: &Sheet| sheet.unit_of(usual);
        let others: BTreeSet<Unit> = self.beside.sheets.iter().map(elsewhere).collect();
        let other = others.first().copied().filter(|_| others.len() == 1).unwrap_or(usual);
        if here.iter().any(|figure| figure.dimension() == usual.dimension()) {
            most_used(usual, here.into_iter())
        } else {
            other
        }
    }

    /// The bounds of a level as typed.
    pub(super) fn bounds(&mut self, which: Which, typed: &str, usual: Unit) -> Result<Vec<BoundTyped>, String> {
        if let Some((from, to)) = sides::ends(typed) {
            let (lower, upper) = from_to(which);
            let upper_figure = self.figure(to, usual)?;
            let unit = typed::parse(to, self.unit(usual)).map_or(usual, |taken| taken.figure.unit());
            let lower_figure = self.figure(from, unit)?;
            let bound = |word, figure| BoundTyped { word, amount: AmountTyped::Figure(figure) };
            return Ok(vec![bound(lower, lower_figure), bound(upper, upper_figure)]);
        }
        let pieces = sides::pieces(typed);
        let mut bounds = Vec::new();
        for (word, rest) in &pieces {
            let word = match word {
                Some(word) => *word,
                None => self.side(which).ok_or_else(|| {
                    "On which side? Put > (above), >= (at or above), < (below) or <= (at or below) before it."
                        .to_owned()
                })?,
            };
            let amount = match rest.strip_prefix("table").or_else(|| rest.strip_prefix("by ")) {
                Some(size) => {
                    let plain = |given: &Given| given.plain() == size.trim();
                    let known = if let Some(given) = Given::all().find(plain) { given.name() } else { size.trim() };
                    AmountTyped::Table(if known.is_empty() { "journal.diameter" } else { known }.to_owned())
                }
                None => AmountTyped::Figure(self.figure(rest, usual)?),
            };
            bounds.push(BoundTyped { word, amount });
        }
        if let [BoundTyped { word, .. }] = bounds.as_slice() {
            self.last.insert(Remembered::Side(which), (*word).to_owned());
        }
        Ok(bounds)
    }

    /// The side of last time.
    pub(super) fn side(&self, which: Which) -> Option<&'static str> {
        let last = self.last.get(&Remembered::Side(which))?;
        SIDES.iter().map(|(_, word)| *word).find(|word| word == last)
    }

    /// What every source begins with: title and edition of the manual.
    fn manual(&self) -> String {
        let manual = Path::root().key("manual");
        let (title, edition) = (self.said(&manual.key("title")), self.said(&manual.key("edition")));
        if title.is_empty() { String::new() } else { format!("{title}, edition {edition}, ") }
    }

    /// A source in full: what is typed behind the manual's title and edition; after `=` it is taken as it is.
    pub(super) fn source(&self, typed: &str) -> String {
        let typed = typed.trim();
        if let Some(whole) = typed.strip_prefix('=') {
            return whole.trim().to_owned();
        }
        let page = if typed.bytes().all(|byte| byte.is_ascii_digit()) { "page " } else { "" };
        format!("{}{page}{typed}", self.manual())
    }

    /// A source without the manual that the whole sheet has.
    pub(super) fn short_source(&self, source: &str) -> String {
        let manual = self.manual();
        source.strip_prefix(manual.as_str()).filter(|_| !manual.is_empty()).unwrap_or(source).to_owned()
    }

    /// The source of last time, as Enter takes it.
    pub(super) fn source_offer(&self) -> Option<String> {
        self.last.get(&Remembered::Source).map(|source| self.short_source(source))
    }

    pub(super) fn source_hint(&self) -> String {
        match self.manual() {
            manual if manual.is_empty() => "where it stands; first give the manual's title and edition".to_owned(),
            manual => {
                format!("behind \"{}\": a page, or a table and line; =... as it is", manual.trim_end_matches(", "))
            }
        }
    }
}
