//! An eccentricity as a vector in the plane across the shaft.

use std::ops::{Add, Sub};

use uom::si::f64::{Angle, Length, Ratio};
use uom::si::length::millimeter;

use super::quantity::{angle, degrees, length, millimetres};
use crate::domain::exact::Exact;

/// A vector as a record keeps it: decimals.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Polar {
    /// How long it is, in millimetres, to a hundred-thousandth.
    pub eccentricity: Exact,
    /// Where it points, in degrees, to a tenth; zero of a vector of no length.
    pub high_spot: Exact,
}

/// Amount and direction, kept as two lengths.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Vector {
    /// Along the zero mark.
    pub x: Length,
    /// A quarter turn on.
    pub y: Length,
}

impl Vector {
    /// The vector of that length in that direction.
    pub fn polar(amount: Length, direction: Angle) -> Self {
        Self { x: amount * direction.cos(), y: amount * direction.sin() }
    }

    /// The vector that a record kept.
    pub fn kept(polar: &Polar) -> Self {
        Self::polar(length(&polar.eccentricity), angle(&polar.high_spot))
    }

    /// The vector for a record to keep; `None` out of all proportion.
    pub fn keep(self) -> Option<Polar> {
        let eccentricity = Exact::parse(&format!("{:.5}", millimetres(self.amount())))?;
        let high_spot = if eccentricity.is_zero() {
            Exact::zero()
        } else {
            Exact::parse(&format!("{:.1}", degrees(self.direction())))?
        };
        Some(Polar { eccentricity, high_spot })
    }

    /// The vector of no length.
    pub fn nothing() -> Self {
        Self { x: Length::new::<millimeter>(0.0), y: Length::new::<millimeter>(0.0) }
    }

    /// How long it is.
    pub fn amount(self) -> Length {
        self.x.hypot(self.y)
    }

    /// Where it points; of a vector of no length it means nothing.
    pub fn direction(self) -> Angle {
        self.y.atan2(self.x)
    }

    /// The vector `share` times as long.
    #[must_use]
    pub fn scaled(self, share: Ratio) -> Self {
        Self { x: self.x * share, y: self.y * share }
    }
}

impl Add for Vector {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self { x: self.x + other.x, y: self.y + other.y }
    }
}

impl Sub for Vector {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self { x: self.x - other.x, y: self.y - other.y }
    }
}
