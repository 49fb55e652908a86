//! Permissible residual unbalance of a rigid rotor and its share per bearing plane.
//!
//! `U = 1000 G m / omega` in g mm; a bearing's share comes from the other one's distance. The shares are kept within
//! bounds: 0.3 to 0.7 between the bearings, 0.3 to 1.3 overhung. Source: ISO 21940-11:2016, 6.3.3 and 7.2 (the overhung
//! bounds from memory).
#![expect(clippy::disallowed_types, reason = "pi is in the speed: no decimal can sit exactly on the limit")]

use rust_decimal::Decimal;
use uom::si::f64::Ratio;
use uom::si::length::millimeter;
use uom::si::mass::gram;
use uom::si::ratio::ratio;

use super::conformity::Bench;
use super::guard::{guard, usual_factor};
use super::line::square;
use super::quantity::{float, mass, speed, velocity};
use crate::domain::exact::{Exact, Rounding};
use crate::domain::refusal::RefusalKind;

mod row;

pub use row::{FORMULA, working};

/// Where the centre of mass lies against the bearings; distances from each bearing to it, in millimetres.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Arrangement {
    /// Between them.
    Inboard {
        /// From bearing A.
        a: Exact,
        /// From bearing B.
        b: Exact,
    },
    /// Outside them.
    Overhung {
        /// From bearing A.
        a: Exact,
        /// From bearing B.
        b: Exact,
    },
    /// One plane alone.
    Single,
}

/// What the balancer showed in each plane, in g mm.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Measured {
    /// Plane A, or the single one.
    pub a: Exact,
    /// Plane B.
    pub b: Option<Exact>,
    /// Standard uncertainty; without one the bare limit judges.
    pub u: Option<Exact>,
}

/// What a grade allows, in g mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Allowed {
    /// In all.
    pub total: f64,
    /// At bearing A; the total for a single plane.
    pub a: f64,
    /// At bearing B.
    pub b: Option<f64>,
    /// Whether a bound changed a share.
    pub limited: Limited,
}

/// Whether a bound changed a share.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Limited {
    /// It did.
    Yes,
    /// The lever rule stands.
    No,
}

/// The allowed unbalance for a grade in mm/s, a mass in kg and a speed in r/min.
///
/// # Errors
/// `NoAnswer` when grade, mass, speed or a distance is not above zero, or overhung distances are equal.
pub fn allowed(grade: &Exact, kg: &Exact, rpm: &Exact, arrangement: &Arrangement) -> Result<Allowed, RefusalKind> {
    let refused = |why: &str, mend| RefusalKind::NoAnswer { why: why.to_owned(), mend };
    if [grade, kg, rpm].iter().any(|figure| figure.is_zero() || figure.is_negative()) {
        return Err(refused("Grade, mass or speed is not above zero.", "Give all three above zero."));
    }
    // unbalance is mass times distance: the distance is the grade over the speed
    let offset = velocity(grade) / speed(rpm);
    let total = (mass(kg) * offset).value / (gram_millimetre());
    let (a, b, top) = match arrangement {
        Arrangement::Single => return Ok(Allowed { total, a: total, b: None, limited: Limited::No }),
        Arrangement::Inboard { a, b } => (a, b, 7),
        Arrangement::Overhung { a, b } => (a, b, 13),
    };
    if [a, b].iter().any(|figure| figure.is_zero() || figure.is_negative()) {
        return Err(refused("A bearing's distance is not above zero.", "Give both distances above zero."));
    }
    let span = match arrangement {
        Arrangement::Overhung { .. } => (a - b).abs(),
        Arrangement::Inboard { .. } | Arrangement::Single => a + b,
    };
    let bounds = (Exact::fraction(3, 10), Exact::fraction(top, 10));
    let (Some(lever_a), Some(lever_b), (Some(least), Some(most))) = (b.over(&span), a.over(&span), bounds) else {
        return Err(refused(
            "Both bearings are at the same distance, so the mass is not outside them.",
            "Call it inboard, or correct the distances.",
        ));
    };
    let kept = |lever: &Exact| lever.clone().clamp(least.clone(), most.clone());
    let limited = if kept(&lever_a) == lever_a && kept(&lever_b) == lever_b { Limited::No } else { Limited::Yes };
    let share = |lever: &Exact| (Ratio::new::<ratio>(float(&kept(lever))) * total).value;
    Ok(Allowed { total, a: share(&lever_a), b: Some(share(&lever_b)), limited })
}

/// The shares at both bearings as a sheet's limits: in g mm, cut after the fourth figure, which is the safe side.
pub fn shares(grade: &Exact, kg: &Exact, rpm: &Exact, [a, b]: [Exact; 2]) -> Option<[Decimal; 2]> {
    let allowed = allowed(grade, kg, rpm, &Arrangement::Inboard { a, b }).ok()?;
    let cut = |share: f64| Exact::parse(&format!("{share:e}"))?.to_figures(4, Rounding::Down).decimal();
    Some([cut(allowed.a)?, cut(allowed.b?)?])
}

/// A gram millimetre in uom's base units.
fn gram_millimetre() -> f64 {
    let one = uom::si::f64::Mass::new::<gram>(1.0) * uom::si::f64::Length::new::<millimeter>(1.0);
    one.value
}

impl Allowed {
    /// The verdict of each plane: past its share, undecided where the guard reaches over it, else within.
    ///
    /// # Errors
    /// `NoAnswer` for a measured figure or uncertainty below zero, or a plane B with or without a share.
    pub fn verdicts(&self, measured: &Measured) -> Result<(Bench, Option<Bench>), RefusalKind> {
        let refused = |why: &str, mend| RefusalKind::NoAnswer { why: why.to_owned(), mend };
        let figures = [Some(&measured.a), measured.b.as_ref(), measured.u.as_ref()];
        if figures.into_iter().flatten().any(Exact::is_negative) {
            return Err(refused("A measured unbalance or its uncertainty is below zero.", "Give amounts, no signs."));
        }
        let guard = match &measured.u {
            None => Some(Exact::zero()),
            Some(u) => guard(&square(u), &usual_factor(), None),
        };
        let Some(guard) = guard else {
            return Err(refused("The uncertainty is out of all proportion.", "Give it in g mm."));
        };
        let judge = |shown: &Exact, share: f64| {
            if float(shown) > share {
                Bench::Past
            } else if float(&(shown + &guard)) > share {
                Bench::Undecided
            } else {
                Bench::Within
            }
        };
        let b = match (&measured.b, self.b) {
            (Some(shown), Some(share)) => Some(judge(shown, share)),
            (None, None) => None,
            (Some(_), None) => return Err(refused("A single plane has no plane B.", "Leave B out.")),
            (None, Some(_)) => return Err(refused("Plane B was not measured.", "Give both planes.")),
        };
        Ok((judge(&measured.a, self.a), b))
    }
}
