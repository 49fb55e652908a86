//! What a reckoning was given, read and checked against its keys: nothing here is unknown, missing or out of range.

use chrono::NaiveDate;

use super::problem::{Problem, Trouble};
use super::shape::{Key, Shape};
use crate::domain::exact::Exact;
use crate::domain::unit::Unit;

/// A checked value.
#[derive(Debug, Clone)]
pub(super) enum Value {
    Figure(Exact, Option<Unit>),
    Whole(i64),
    Text(String),
    Flag(bool),
    Date(NaiveDate),
    List(Vec<Value>),
    Map(Given),
}

/// The checked values of a map by their keys. Figures are in the unit of their key.
///
/// A key that the table calls required is always there; the errors of the readers below are for a table that lies.
#[derive(Debug, Clone, Default)]
pub struct Given {
    pub(super) path: String,
    pub(super) keys: &'static [Key],
    pub(super) values: Vec<(&'static str, Value)>,
    /// The keys that stood there: what the others have is their default.
    pub(super) typed: Vec<&'static str>,
}

type Read<T> = Result<T, Vec<Problem>>;

impl Given {
    fn find(&self, key: &str) -> Option<&Value> {
        self.values.iter().find(|(name, _)| *name == key).map(|(_, value)| value)
    }

    /// The path of `key` as problems show it.
    pub fn path_of(&self, key: &str) -> String {
        if self.path.is_empty() { key.to_owned() } else { format!("{}, {key}", self.path) }
    }

    fn missing(&self, key: &str) -> Vec<Problem> {
        let shape = self.keys.iter().find(|known| known.name == key).map(|known| &known.shape);
        let expected = shape.map_or_else(|| "it to be given".to_owned(), Shape::words);
        Problem::new(self.path_of(key), Trouble::Missing, "nothing", expected).into()
    }

    /// Whether `key` was given, or has a default.
    pub fn has(&self, key: &str) -> bool {
        self.find(key).is_some()
    }

    /// Whether `key` was given, sound or not; a default is not given.
    pub fn is_typed(&self, key: &str) -> bool {
        self.typed.contains(&key)
    }

    /// How many items the list under `key` has, when it is given.
    pub fn count(&self, key: &str) -> Option<usize> {
        self.list_if(key).map(<[Value]>::len)
    }

    /// A figure in its key's unit.
    ///
    /// # Errors
    /// `Missing`.
    pub fn figure(&self, key: &str) -> Read<Exact> {
        self.figure_if(key).ok_or_else(|| self.missing(key))
    }

    /// A figure in its key's unit, when given.
    pub fn figure_if(&self, key: &str) -> Option<Exact> {
        self.with_unit_if(key).map(|(size, _)| size)
    }

    /// A figure of any unit with the unit it carries, when given.
    pub fn with_unit_if(&self, key: &str) -> Option<(Exact, Option<Unit>)> {
        if let Some(Value::Figure(size, unit)) = self.find(key) { Some((size.clone(), *unit)) } else { None }
    }

    /// A count.
    ///
    /// # Errors
    /// `Missing`.
    pub fn whole(&self, key: &str) -> Read<i64> {
        self.whole_if(key).ok_or_else(|| self.missing(key))
    }

    /// A count, when given.
    pub fn whole_if(&self, key: &str) -> Option<i64> {
        if let Some(Value::Whole(count)) = self.find(key) { Some(*count) } else { None }
    }

    /// Words, or the word chosen.
    ///
    /// # Errors
    /// `Missing`.
    pub fn text(&self, key: &str) -> Read<&str> {
        self.text_if(key).ok_or_else(|| self.missing(key))
    }

    /// Words, when given.
    pub fn text_if(&self, key: &str) -> Option<&str> {
        if let Some(Value::Text(text)) = self.find(key) { Some(text) } else { None }
    }

    /// Whether `key` is given and `true`.
    pub fn is(&self, key: &str) -> bool {
        matches!(self.find(key), Some(Value::Flag(true)))
    }

    /// A date.
    ///
    /// # Errors
    /// `Missing`.
    pub fn date(&self, key: &str) -> Read<NaiveDate> {
        if let Some(Value::Date(date)) = self.find(key) { Ok(*date) } else { Err(self.missing(key)) }
    }

    /// A map.
    ///
    /// # Errors
    /// `Missing`.
    pub fn map(&self, key: &str) -> Read<&Given> {
        self.map_if(key).ok_or_else(|| self.missing(key))
    }

    /// A map, when given.
    pub fn map_if(&self, key: &str) -> Option<&Given> {
        if let Some(Value::Map(map)) = self.find(key) { Some(map) } else { None }
    }

    fn list_if(&self, key: &str) -> Option<&[Value]> {
        if let Some(Value::List(items)) = self.find(key) { Some(items) } else { None }
    }

    /// A list of maps.
    ///
    /// # Errors
    /// `Missing`.
    pub fn maps(&self, key: &str) -> Read<Vec<&Given>> {
        let items = self.list_if(key).ok_or_else(|| self.missing(key))?;
        Ok(items.iter().filter_map(|item| if let Value::Map(map) = item { Some(map) } else { None }).collect())
    }

    /// A list of figures of any unit, each with the unit it carries; nothing when it is not given.
    pub fn carried(&self, key: &str) -> Vec<(Exact, Option<Unit>)> {
        let items = self.list_if(key).unwrap_or_default().iter();
        items
            .filter_map(|item| if let Value::Figure(size, unit) = item { Some((size.clone(), *unit)) } else { None })
            .collect()
    }

    /// A list of figures in the key's unit.
    ///
    /// # Errors
    /// `Missing`.
    pub fn figures(&self, key: &str) -> Read<Vec<Exact>> {
        self.figures_if(key).ok_or_else(|| self.missing(key))
    }

    /// A list of figures in the key's unit, when given.
    pub fn figures_if(&self, key: &str) -> Option<Vec<Exact>> {
        self.list_if(key).map(figures_of)
    }

    /// A list of lists of figures in the key's unit.
    ///
    /// # Errors
    /// `Missing`.
    pub fn rows(&self, key: &str) -> Read<Vec<Vec<Exact>>> {
        let items = self.list_if(key).ok_or_else(|| self.missing(key))?;
        Ok(items
            .iter()
            .filter_map(|item| if let Value::List(row) = item { Some(figures_of(row)) } else { None })
            .collect())
    }

    /// A list of texts, when given.
    pub fn texts_if(&self, key: &str) -> Option<Vec<&str>> {
        let items = self.list_if(key)?;
        Some(
            items
                .iter()
                .filter_map(|item| if let Value::Text(text) = item { Some(text.as_str()) } else { None })
                .collect(),
        )
    }
}

fn figures_of(items: &[Value]) -> Vec<Exact> {
    items.iter().filter_map(|item| if let Value::Figure(size, _) = item { Some(size.clone()) } else { None }).collect()
}
