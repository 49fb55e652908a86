//! The one bridge between exact figures and floats: figures in the table's units in, uom quantities between, numbers out.
//!
//! A length and an angle that crossed it cannot be added. Differences are taken exactly before they cross, so that no
//! digit is lost to a large part that readings have in common.
#![expect(clippy::disallowed_types, reason = "this is where figures become floats and back")]

use uom::si::angle::{degree, radian};
use uom::si::angular_velocity::radian_per_second;
use uom::si::f64::{Angle, AngularVelocity, Length, Mass, Velocity};
use uom::si::length::millimeter;
use uom::si::mass::kilogram;
use uom::si::velocity::millimeter_per_second;

use crate::domain::exact::{Exact, Rounding};

/// More figures than a double has say nothing.
const MOST_FIGURES: u32 = 20;

/// The nearest float.
pub fn float(exact: &Exact) -> f64 {
    // the text is a plain decimal, which always parses
    exact.as_long_decimal().parse().unwrap_or(f64::NAN)
}

/// The square root of what is not below zero.
pub fn root(exact: &Exact) -> f64 {
    float(exact).sqrt()
}

/// The number rounded to so many significant figures, without a power of ten, for workings.
pub fn shown(number: f64, figures: u32) -> String {
    match Exact::parse(&format!("{number:e}")) {
        Some(exact) => exact.to_figures(figures, Rounding::Nearest).to_string(),
        None => number.to_string(),
    }
}

/// The figure with so many significant figures, or as many more as it takes to stand to each of `marks` as it does in full:
/// what is shown beside a verdict never contradicts it.
pub fn apart(value: &Exact, marks: &[&Exact], figures: u32) -> String {
    let stands = |shown: &Exact| marks.iter().all(|mark| shown.cmp(mark) == value.cmp(mark));
    let rounded = (figures..=MOST_FIGURES).map(|figures| value.to_figures(figures, Rounding::Nearest));
    rounded.into_iter().find(stands).unwrap_or_else(|| value.clone()).to_string()
}

/// The same of a computed figure.
pub fn shown_apart(number: f64, marks: &[&Exact], figures: u32) -> String {
    match Exact::parse(&format!("{number:e}")) {
        Some(exact) => apart(&exact, marks, figures),
        None => number.to_string(),
    }
}

/// The number, or nothing where it is a million million times smaller than what it was reckoned from: sums of doubles leave
/// that behind.
pub fn without_noise(number: f64, beside: f64) -> f64 {
    if number.abs() <= beside.abs() * 1e-12 { 0.0 } else { number }
}

/// The figure for a pencil: as it was written, but five significant figures of one that never ends or is long.
pub(super) fn pencilled(exact: &Exact) -> String {
    const LONGEST: u32 = 9;
    let short = exact.places().is_some_and(|places| places <= LONGEST);
    if short { exact.to_string() } else { exact.to_figures(5, Rounding::Nearest).to_string() }
}

/// The number with its sign before it and a blank between, five figures, to stand behind another.
pub(super) fn signed(number: f64) -> String {
    let sign = if number < 0.0 { '-' } else { '+' };
    format!("{sign} {}", shown(number.abs(), 5))
}

/// A count as a float.
pub fn count(number: usize) -> f64 {
    u32::try_from(number).map_or(f64::INFINITY, f64::from)
}

/// A count as an exact number; `None` past four thousand million.
pub fn exact_count(number: usize) -> Option<Exact> {
    u32::try_from(number).ok().map(Exact::from)
}

/// A length given in millimetres.
pub fn length(millimetres: &Exact) -> Length {
    Length::new::<millimeter>(float(millimetres))
}

/// A length in millimetres.
pub fn millimetres(length: Length) -> f64 {
    length.get::<millimeter>()
}

/// A mass given in kilograms.
pub fn mass(kilograms: &Exact) -> Mass {
    Mass::new::<kilogram>(float(kilograms))
}

/// A velocity given in millimetres per second.
pub fn velocity(millimetres_per_second: &Exact) -> Velocity {
    Velocity::new::<millimeter_per_second>(float(millimetres_per_second))
}

/// A speed of rotation given in revolutions per minute.
pub fn speed(revolutions_per_minute: &Exact) -> AngularVelocity {
    AngularVelocity::new::<radian_per_second>(float(revolutions_per_minute) * std::f64::consts::TAU / 60.0)
}

/// An angle given in degrees; whole turns are taken off exactly.
pub fn angle(degrees: &Exact) -> Angle {
    Angle::new::<degree>(float(&within_a_turn(degrees)))
}

/// The angle in degrees from 0 up to 360; a hair under a full turn is 0.
pub fn degrees(angle: Angle) -> f64 {
    let turned = angle.get::<radian>().to_degrees().rem_euclid(360.0);
    if 360.0 - turned < 1e-9 { 0.0 } else { turned }
}

/// The angle less whole turns, from 0 up to 360, exactly.
pub fn within_a_turn(degrees: &Exact) -> Exact {
    let turn = Exact::from(360);
    let turns = degrees.over(&turn).map_or_else(Exact::zero, |turns| whole_below(&turns));
    degrees - &(&turns * &turn)
}

/// The largest whole number not above `exact`.
pub fn whole_below(exact: &Exact) -> Exact {
    let whole = exact.rounded(0, Rounding::Down).parse::<i128>().ok();
    whole.and_then(|whole| Exact::fraction(whole, 1)).unwrap_or_else(|| exact.clone())
}
