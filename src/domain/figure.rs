//! A figure with its unit, as a person or a file gives it: an exact decimal that keeps its digits.

use std::fmt;
use std::str::FromStr;

use rust_decimal::Decimal;

use super::exact::Exact;
use super::refusal::Refusal;
use super::typed;
use super::unit::{Dimension, Unit};

/// How far a metal grows, by common practice, no source, and how that is written.
pub const OF_A_METAL: &str = "one of a metal, 0.1 to 100 um/m/K, such as 17.5 um/m/K or 0.0000175 1/K";

/// A decimal and the unit it is in; `0.20 mm` and `0.2 mm` are equal in size and different in digits.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Figure {
    decimal: Decimal,
    unit: Unit,
}

impl Figure {
    /// The figure `decimal` `unit`.
    pub fn new(decimal: Decimal, unit: Unit) -> Self {
        Self { decimal, unit }
    }

    /// The decimal with the digits it was given with.
    pub fn decimal(self) -> Decimal {
        self.decimal
    }

    /// The unit it was given in.
    pub fn unit(self) -> Unit {
        self.unit
    }

    /// What it measures.
    pub fn dimension(self) -> Dimension {
        self.unit.dimension()
    }

    /// Whether it can say how many: a plain whole number, not below nothing.
    pub fn is_count(self) -> bool {
        self.unit == Unit::One && self.decimal.fract().is_zero() && !self.decimal.is_sign_negative()
    }

    /// Whether a coefficient of expansion is none that a metal has: one meant in the other unit.
    pub fn is_no_metals(self) -> bool {
        let Some(growth) = self.to(Unit::MicrometrePerMetreKelvin) else { return false };
        growth > Exact::from(100) || Exact::fraction(1, 10).is_none_or(|least| growth < least)
    }

    /// Its size in `unit`, exactly; `None` when the dimensions differ.
    pub fn to(self, unit: Unit) -> Option<Exact> {
        self.unit.convert(&Exact::from(self.decimal), unit)
    }

    /// The same as it is judged and compared: of a pole its amount.
    pub fn amount(self, unit: Unit) -> Option<Exact> {
        self.to(unit).map(|size| unit.amount(size))
    }

    /// Whether its sign is that of a pole.
    pub fn is_of_the_other_pole(self) -> bool {
        self.dimension() == Dimension::FluxDensity && self.decimal.is_sign_negative() && !self.decimal.is_zero()
    }
}

/// `0.232 mm`, the form kept in files.
impl fmt::Display for Figure {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "{}", self.decimal)?;
        if self.unit == Unit::One { Ok(()) } else { write!(out, " {}", self.unit) }
    }
}

/// Reads the form kept in files; a figure without a unit is a plain number.
///
/// # Errors
/// The refusals of [`typed::parse`].
impl FromStr for Figure {
    type Err = Refusal;

    fn from_str(text: &str) -> Result<Self, Refusal> {
        typed::parse(text, Unit::One).map(|typed| typed.figure)
    }
}
