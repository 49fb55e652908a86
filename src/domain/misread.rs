//! What a figure that cannot be, or hardly can, was perhaps meant to be.

use rust_decimal::Decimal;

use super::figure::Figure;
use super::unit::Unit;

/// Units that are taken for each other at the bench.
const UNITS: [Unit; 7] =
    [Unit::Millimetre, Unit::Inch, Unit::Thou, Unit::Micrometre, Unit::Celsius, Unit::Fahrenheit, Unit::Kelvin];

/// The likeliest cause that makes a figure `fit`: the same number in another unit, then a point one place off. In words:
/// `72 degF, another unit`, `59.93 mm, a digit missed`.
pub(super) fn meant(figure: Figure, fits: impl Fn(Figure) -> bool) -> Option<String> {
    let typed = figure.decimal();
    let others = UNITS.into_iter().filter(|unit| *unit != figure.unit() && unit.dimension() == figure.dimension());
    let other = others.map(|unit| Figure::new(typed, unit)).find(|other| fits(*other));
    let moved = |decimal: Option<Decimal>, cause: &'static str| {
        let moved = Figure::new(decimal?.normalize(), figure.unit());
        (!typed.is_zero() && fits(moved)).then(|| format!("{moved}, {cause}"))
    };
    other
        .map(|other| format!("{other}, another unit"))
        .or_else(|| moved(typed.checked_mul(Decimal::TEN), "a digit missed"))
        .or_else(|| moved(typed.checked_div(Decimal::TEN), "a digit or a point too many"))
}
