//! Whether a ring wears square: the first harmonic of the depth worn off around it.

use uom::si::f64::{Angle, Length};

use crate::domain::exact::Exact;
use crate::domain::reckon::quantity::{angle, count, length};
use crate::domain::reckon::vector::Vector;
use crate::domain::reckon::{mean, range};

/// How far the wear leans.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Tilt {
    /// Fewer than three lands do not show it.
    NotShown,
    /// It does not lean.
    None,
    /// The amplitude of the first harmonic, and where most has worn off, land 1 at zero, in the lands' order.
    Leans(Length, Angle),
}

impl Tilt {
    /// The tilt of depths in mm at lands that stand evenly around the ring.
    pub fn of(depths: &[Exact]) -> Self {
        let Some(lands) = u32::try_from(depths.len()).ok().filter(|lands| *lands >= 3) else { return Self::NotShown };
        let spread = range(depths).unwrap_or_default();
        let even = mean(depths).unwrap_or_default();
        let still = Vector { x: length(&Exact::zero()), y: length(&Exact::zero()) };
        let sum = (0..lands).zip(depths).fold(still, |sum, (number, depth)| {
            let turned = Exact::fraction(i128::from(number) * 360, i128::from(lands)).unwrap_or_default();
            sum + Vector::polar(length(&(depth - &even)), angle(&turned))
        });
        let harmonic = sum.scaled((2.0 / count(depths.len())).into());
        // the even part is taken off exactly; what is a million million times smaller than the spread is what sums of doubles leave behind
        if harmonic.amount() <= length(&spread) * 1e-12 {
            Self::None
        } else {
            Self::Leans(harmonic.amount(), harmonic.direction())
        }
    }
}
