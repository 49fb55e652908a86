//! Bow of a rotor: the eccentricity at each station less the line through the journals, where that line is real.
//!
//! The line's uncertainty grows outside the journals, so a journal vector that may be nothing is not drawn out over the
//! overhang: without significance the stations' own vectors stand. Source: geometry; significance by chi-squared, 95 %.
#![expect(clippy::disallowed_types, reason = "geometry of fitted vectors; nothing is judged here")]

use uom::si::f64::{Length, Ratio};
use uom::si::ratio::ratio;

use super::distribution::chi_squared_quantile;
use super::quantity::{float, length};
use super::vector::Vector;
use crate::domain::exact::Exact;
use crate::domain::refusal::RefusalKind;

mod row;

pub use row::{FORMULA, change, working};

/// One station along the rotor.
#[derive(Debug, Clone, PartialEq)]
pub struct Station {
    /// What it is called.
    pub name: String,
    /// Where along the rotor, in millimetres.
    pub at: Exact,
    /// Its eccentricity.
    pub vector: Vector,
    /// Standard uncertainty of each of the vector's two parts, in millimetres.
    pub u: Option<Exact>,
}

/// What is known at a station.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bow {
    /// Where along the line: 0 at the first journal, 1 at the second.
    pub along: Ratio,
    /// The line there; nothing when it is not justified.
    pub line: Vector,
    /// The station's vector less the line.
    pub bow: Vector,
    /// Standard uncertainty of each part of the bow; zero at a journal the line goes through.
    pub u: Option<Length>,
}

/// Whether the line through the journals is taken off.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Justified {
    /// The journals' eccentricities are more than their uncertainties explain, by their chi-squared.
    Yes(f64),
    /// They are not: no line is taken off.
    No(f64),
    /// The uncertainties are not known: taken off unchecked.
    Unchecked,
}

/// Reckons the bow at each station, and whether the line through the two named journals was taken off.
///
/// # Errors
/// `NoAnswer` for a journal that is no station, two journals at one place, or an uncertainty not above zero.
pub fn bow(stations: &[Station], journals: [&str; 2]) -> Result<(Justified, Vec<Bow>), RefusalKind> {
    let refused = |why: String, mend| RefusalKind::NoAnswer { why, mend };
    let named = |name: &str| {
        let found = stations.iter().find(|station| station.name == name);
        found.ok_or_else(|| refused(format!("No station is called `{name}`."), "Name two of the stations as journals."))
    };
    let twice =
        stations.iter().enumerate().find(|(n, one)| stations.iter().take(*n).any(|other| other.name == one.name));
    if let Some((_, station)) = twice {
        return Err(refused(format!("Two stations are called `{}`.", station.name), "Give each its own name."));
    }
    let [first, second] = journals;
    let (first, second) = (named(first)?, named(second)?);
    let span = &second.at - &first.at;
    if span.is_zero() {
        return Err(refused("Both journals are at the same place.".to_owned(), "Name two stations apart."));
    }
    if let Some(station) = stations.iter().find(|s| s.u.as_ref().is_some_and(|u| u.is_zero() || u.is_negative())) {
        return Err(refused(
            format!("The uncertainty at `{}` is not above zero.", station.name),
            "Give a standard uncertainty above zero, or leave it out.",
        ));
    }
    let justified = justified(first, second);
    let bows = stations.iter().map(|station| {
        let nothing = Vector::nothing();
        let share = (&station.at - &first.at).over(&span).as_ref().map_or(0.0, float);
        let along = Ratio::new::<ratio>(share);
        if let Justified::No(_) = justified {
            return Bow { along, line: nothing, bow: station.vector, u: station.u.as_ref().map(length) };
        }
        let line = first.vector + (second.vector - first.vector).scaled(along);
        if station.name == first.name || station.name == second.name {
            // the line goes through it: no bow, and none but rounding would come out
            return Bow {
                along,
                line: station.vector,
                bow: nothing,
                u: station.u.as_ref().map(|_| length(&Exact::zero())),
            };
        }
        let part = |u: &Option<Exact>, share: f64| u.as_ref().map(|u| length(u) * share);
        let parts = (part(&station.u, 1.0), part(&first.u, 1.0 - share), part(&second.u, share));
        let u = if let (Some(own), Some(a), Some(b)) = parts { Some(own.hypot(a.hypot(b))) } else { None };
        Bow { along, line, bow: station.vector - line, u }
    });
    Ok((justified, bows.collect()))
}

/// Chi-squared from here on is more than chance: its 95 % quantile for four degrees of freedom.
fn significant() -> f64 {
    chi_squared_quantile(0.95, 4.0)
}

/// Four parts of two vectors over their uncertainties, squared and summed, follow chi-squared if there is nothing.
fn justified(first: &Station, second: &Station) -> Justified {
    let over = |station: &Station| {
        let u = length(station.u.as_ref()?);
        Some((station.vector.amount() / u).value.powi(2))
    };
    match (over(first), over(second)) {
        (Some(a), Some(b)) if a + b > significant() => Justified::Yes(a + b),
        (Some(a), Some(b)) => Justified::No(a + b),
        (None, _) | (_, None) => Justified::Unchecked,
    }
}
