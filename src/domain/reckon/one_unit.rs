//! Figures of one kind, in whatever unit they come: millimetres for lengths, else the first unit carried.
//!
//! A plain figure beside lengths is in millimetres, as everywhere. Beside any other unit a plain one is refused: nobody can
//! say what it is in. A plain zero is zero in all of them.

use super::answer::Answers;
use super::given::Given;
use super::problem::{Problem, Trouble};
use crate::domain::exact::Exact;
use crate::domain::unit::{Dimension, Unit};

/// A figure and the unit it carries.
pub(super) type Carried = (Exact, Option<Unit>);

/// The unit that figures of one kind share; none when none carries one.
#[derive(Debug, Clone, Copy)]
pub(super) struct OneUnit(Option<Unit>);

impl OneUnit {
    /// The unit of these figures.
    pub(super) fn of<'a>(figures: impl IntoIterator<Item = &'a Carried>) -> Self {
        Self::led_by(figures.into_iter().find_map(|(_, unit)| *unit))
    }

    fn led_by(first: Option<Unit>) -> Self {
        Self(first.map(|unit| if unit.dimension() == Dimension::Length { Unit::Millimetre } else { unit }))
    }

    /// That unit.
    pub(super) fn fixed(unit: Unit) -> Self {
        Self(Some(unit))
    }

    /// The unit of the figures under these keys.
    pub(super) fn across(given: &Given, keys: &[&str]) -> Self {
        Self::led_by(keys.iter().find_map(|key| given.with_unit_if(key)?.1))
    }

    /// The figure in the shared unit. Thermometer scales are not turned into each other here: the uncertainties beside
    /// them are differences.
    ///
    /// # Errors
    /// `WrongUnit` at `path` for another dimension, or no unit where others have one.
    pub(super) fn take(self, path: &str, (size, carried): &Carried) -> Result<Exact, Problem> {
        let (shared, carried) = match (self.0, *carried) {
            (Some(shared), Some(carried)) => (shared, carried),
            (Some(shared), None) if !size.is_zero() && shared.dimension() != Dimension::Length => {
                let expected = format!("its unit, as others have one ({shared})");
                return Err(Problem::new(path, Trouble::WrongUnit, format!("`{size}` alone"), expected));
            }
            (Some(_) | None, _) => return Ok(size.clone()),
        };
        let sound = shared == carried || shared.dimension() != Dimension::Temperature;
        carried.convert(size, shared).filter(|_| sound).ok_or_else(|| {
            Problem::new(path, Trouble::WrongUnit, format!("`{size} {carried}`"), format!("a figure in {shared}"))
        })
    }

    /// The figure under `key`, when given.
    ///
    /// # Errors
    /// As [`OneUnit::take`].
    pub(super) fn take_if(self, given: &Given, key: &str) -> Result<Option<Exact>, Problem> {
        given.with_unit_if(key).map(|carried| self.take(&given.path_of(key), &carried)).transpose()
    }

    /// The figure under a key that must be there.
    ///
    /// # Errors
    /// As [`OneUnit::take`]; `Missing`.
    pub(super) fn take_required(self, given: &Given, key: &str) -> Result<Exact, Vec<Problem>> {
        given.figure(key)?;
        Ok(self.take_if(given, key)?.unwrap_or_default())
    }

    /// All figures of a list under `key`.
    ///
    /// # Errors
    /// Every figure of another dimension.
    pub(super) fn take_list(self, given: &Given, key: &str) -> Result<Vec<Exact>, Vec<Problem>> {
        let path = given.path_of(key);
        let taken = (1..).zip(given.carried(key)).map(|(n, carried)| self.take(&format!("{path} {n}"), &carried));
        let (figures, problems): (Vec<_>, Vec<_>) = taken.partition(Result::is_ok);
        let problems: Vec<_> = problems.into_iter().filter_map(Result::err).collect();
        if problems.is_empty() { Ok(figures.into_iter().filter_map(Result::ok).collect()) } else { Err(problems) }
    }

    /// Says under `key` what unit the figures are in, where any carried one.
    pub(super) fn said(self, answers: Answers, key: &str) -> Answers {
        match self.0 {
            Some(unit) => answers.text(key, unit.symbol()),
            None => answers,
        }
    }

    /// The square of a figure with its unit behind it, `0.0012 mm^2`.
    pub(super) fn squared(self, text: impl std::fmt::Display) -> String {
        match self.0 {
            Some(unit) if unit != Unit::One => format!("{text} {unit}^2"),
            Some(_) | None => text.to_string(),
        }
    }

    /// `text` with this unit over another behind it, `0.002 mm/h`.
    pub(super) fn over(self, other: Self, text: impl std::fmt::Display) -> String {
        let other = other.0.filter(|unit| *unit != Unit::One);
        match (self.0.filter(|unit| *unit != Unit::One), other) {
            (Some(unit), Some(other)) => format!("{text} {unit}/{other}"),
            (Some(unit), None) => format!("{text} {unit}"),
            (None, Some(other)) => format!("{text} /{other}"),
            (None, None) => text.to_string(),
        }
    }

    /// A figure as it was written with its unit behind it, in brackets behind a sign; one whose decimal never ends is rounded.
    pub(super) fn put(self, figure: &Exact) -> String {
        super::behind_sign(&self.behind(whole(figure)))
    }

    /// What stands behind a figure: ` mm`.
    pub(super) fn tail(self) -> String {
        self.behind("")
    }

    /// `text` with the unit behind it.
    pub(super) fn behind(self, text: impl std::fmt::Display) -> String {
        match self.0 {
            Some(unit) if unit != Unit::One => format!("{text} {unit}"),
            Some(_) | None => text.to_string(),
        }
    }
}

/// All digits where the decimal ends, else twelve places.
pub(super) fn whole(figure: &Exact) -> String {
    if figure.places().is_some() { figure.to_string() } else { figure.at_most(12) }
}
