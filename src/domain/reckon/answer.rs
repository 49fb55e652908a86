//! What a reckoning gives back to programs: an ordered tree of exact texts, numbers, words, lists and maps.
#![expect(clippy::disallowed_types, reason = "computed figures leave as floats with all their digits")]

use crate::domain::exact::Exact;

/// A full turn in degrees.
const TURN: f64 = 360.0;
/// Directions this near below a full turn, in degrees, are zero: the rest is rounding.
const HAIR: f64 = 1e-9;

/// A value of the result.
#[derive(Debug, Clone, PartialEq)]
pub enum Answer {
    /// There is none; the key beside it ending in `_why` says why.
    Nothing,
    /// Yes or no.
    Flag(bool),
    /// A count.
    Whole(i64),
    /// A computed figure, always finite.
    Number(f64),
    /// A word, or an exact decimal or fraction.
    Text(String),
    /// Several.
    List(Vec<Answer>),
    /// Named ones.
    Map(Answers),
}

/// Named values in their order.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Answers(Vec<(String, Answer)>);

impl Answers {
    /// None yet.
    pub fn new() -> Self {
        Self::default()
    }

    /// Adds a value.
    #[must_use]
    pub fn put(mut self, key: &str, answer: Answer) -> Self {
        self.0.push((key.to_owned(), answer));
        self
    }

    /// Adds an exact figure: its decimal as a text, or, where that never ends, the number and the fraction as `_exact`.
    #[must_use]
    pub fn exact(self, key: &str, exact: &Exact) -> Self {
        match exact.as_decimal() {
            Some(decimal) => self.text(key, decimal),
            None => self
                .number(key, exact.as_long_decimal().parse().unwrap_or(f64::NAN))
                .text(&format!("{key}_exact"), exact.as_fraction()),
        }
    }

    /// Adds a computed figure; one that is infinite or undefined leaves nothing, and why.
    #[must_use]
    pub fn number(self, key: &str, number: f64) -> Self {
        if number.is_finite() {
            self.put(key, Answer::Number(number))
        } else {
            self.absent(key, if number.is_nan() { "not defined" } else { "infinite" })
        }
    }

    /// Adds degrees of freedom: a count where they are whole, nothing where they are endless.
    #[must_use]
    pub fn dof(self, key: &str, dof: Option<&Exact>) -> Self {
        match dof.map(|dof| (dof, dof.as_whole())) {
            Some((_, Some(whole))) => self.whole(key, whole),
            Some((dof, None)) => self.number(key, super::quantity::float(dof)),
            None => self.absent(key, "endless: nothing behind it has degrees of freedom"),
        }
    }

    /// Adds a direction in degrees, from 0 up to 360.
    #[must_use]
    pub fn angle(self, key: &str, degrees: f64) -> Self {
        let turned = degrees.rem_euclid(TURN);
        self.number(key, if TURN - turned < HAIR { 0.0 } else { turned })
    }

    /// Adds a word.
    #[must_use]
    pub fn text(self, key: &str, text: impl Into<String>) -> Self {
        self.put(key, Answer::Text(text.into()))
    }

    /// Adds yes or no.
    #[must_use]
    pub fn flag(self, key: &str, answer: impl Into<bool>) -> Self {
        self.put(key, Answer::Flag(answer.into()))
    }

    /// Adds a count.
    #[must_use]
    pub fn whole(self, key: &str, count: i64) -> Self {
        self.put(key, Answer::Whole(count))
    }

    /// Adds a map.
    #[must_use]
    pub fn map(self, key: &str, map: Self) -> Self {
        self.put(key, Answer::Map(map))
    }

    /// Adds a list of maps.
    #[must_use]
    pub fn maps(self, key: &str, maps: impl IntoIterator<Item = Self>) -> Self {
        self.put(key, Answer::List(maps.into_iter().map(Answer::Map).collect()))
    }

    /// Adds a list.
    #[must_use]
    pub fn list(self, key: &str, items: impl IntoIterator<Item = Answer>) -> Self {
        self.put(key, Answer::List(items.into_iter().collect()))
    }

    /// Adds nothing under `key`, and why beside it.
    #[must_use]
    pub fn absent(self, key: &str, why: impl Into<String>) -> Self {
        self.put(key, Answer::Nothing).text(&format!("{key}_why"), why)
    }

    /// The values in their order.
    pub fn entries(&self) -> &[(String, Answer)] {
        &self.0
    }

    /// The value at a path such as `largest.mean` or `places.0.range`; lists count from zero, as JSON does.
    pub fn at(&self, path: &str) -> Option<&Answer> {
        let (first, rest) = path.split_once('.').map_or((path, None), |(first, rest)| (first, Some(rest)));
        let (_, found) = self.0.iter().find(|(key, _)| key == first)?;
        rest.map_or(Some(found), |rest| found.at(rest))
    }
}

impl Answer {
    /// An exact decimal as a text; one that never ends as its fraction, for lists, which have no key beside.
    pub fn exact(exact: &Exact) -> Self {
        Self::Text(exact.to_string())
    }

    fn at(&self, path: &str) -> Option<&Self> {
        match self {
            Self::Map(map) => map.at(path),
            Self::List(items) => {
                let (first, rest) = path.split_once('.').map_or((path, None), |(first, rest)| (first, Some(rest)));
                let found = items.get(first.parse::<usize>().ok()?)?;
                rest.map_or(Some(found), |rest| found.at(rest))
            }
            Self::Nothing | Self::Flag(_) | Self::Whole(_) | Self::Number(_) | Self::Text(_) => None,
        }
    }

    /// The value as plain text, for worked examples.
    pub fn shown(&self) -> String {
        match self {
            Self::Nothing => "none".to_owned(),
            Self::Flag(flag) => flag.to_string(),
            Self::Whole(count) => count.to_string(),
            Self::Number(number) => number.to_string(),
            Self::Text(text) => text.clone(),
            Self::List(items) => format!("[{}]", items.iter().map(Self::shown).collect::<Vec<_>>().join(", ")),
            Self::Map(map) => {
                let entries = map.entries().iter().map(|(key, value)| format!("{key}: {}", value.shown()));
                format!("{{{}}}", entries.collect::<Vec<_>>().join(", "))
            }
        }
    }
}
