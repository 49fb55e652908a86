//! Figures, bounds and sources in their short forms: `0.22` with the side of last time, `0.13..0.17`, `>=.21`.

use crate::domain::characteristic::Given;
use crate::domain::figure::{Figure, OF_A_METAL};
use crate::domain::sheet::Which;
use crate::domain::sides::{self, SIDES};
use crate::domain::typed;
use crate::domain::unit::Unit;
use crate::records::edit::Path;

use super::{Paper, Remembered};

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

/// The unit named behind one of several figures of a line is that of all that have none: `7..10 thou`.
fn named_unit<'a>(mut figures: impl Iterator<Item = &'a str>, bare: Unit) -> Unit {
    let named = figures.find_map(|figure| {
        let unit = typed::parse(figure, bare).ok()?.figure.unit();
        (unit != bare).then_some(unit)
    });
    named.unwrap_or(bare)
}

impl Paper {
    /// A typed figure with its unit: the one typed, else `bare`.
    pub(super) fn figure(typed: &str, bare: Unit) -> Result<Figure, String> {
        let taken = typed::parse(typed, bare).map_err(|refusal| refusal.to_string())?.figure;
        if taken.is_no_metals() { Err(format!("`{taken}` is not {OF_A_METAL}.")) } else { Ok(taken) }
    }

    /// The bounds of a level as typed.
    pub(super) fn bounds(&mut self, which: Which, typed: &str, bare: Unit) -> Result<Vec<BoundTyped>, String> {
        if let Some((from, to)) = sides::ends(typed) {
            let (lower, upper) = from_to(which);
            let unit = named_unit([to, from].into_iter(), bare);
            let ends = [(lower, from), (upper, to)].into_iter();
            let bound = |(word, typed)| {
                let amount = AmountTyped::Figure(Self::figure(typed, unit)?.to_string());
                Ok(BoundTyped { word, amount })
            };
            return ends.map(bound).collect();
        }
        let pieces = sides::pieces(typed);
        let unit = named_unit(pieces.iter().map(|(_, rest)| rest.as_str()), bare);
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
                None => AmountTyped::Figure(Self::figure(rest, unit)?.to_string()),
            };
            bounds.push(BoundTyped { word, amount });
        }
        for (side, words) in [("above", sides::ABOVE), ("below", sides::BELOW)] {
            if bounds.iter().filter(|bound| words.contains(&bound.word)).count() > 1 {
                return Err(format!("Two bounds are typed for the side {side}. Type one of them."));
            }
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
    ///
    /// # Errors
    /// When it reads as a level: the hand is in another column than the eye.
    pub(super) fn source(&self, typed: &str, bare: Unit) -> Result<String, String> {
        let typed = typed.trim();
        let whole = typed.strip_prefix('=').map(str::trim);
        if sides::is_level(whole.unwrap_or(typed), bare) {
            return Err(format!("`{typed}` reads as a level, and here stands where it is in the manual. Go left."));
        }
        if let Some(whole) = whole {
            return Ok(whole.to_owned());
        }
        let page = if typed.bytes().all(|byte| byte.is_ascii_digit()) { "page " } else { "" };
        Ok(format!("{}{page}{typed}", self.manual()))
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
