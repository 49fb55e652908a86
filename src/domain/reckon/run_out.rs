//! Run-out of a shaft turned past a dial: TIR, and the first harmonic by least squares on whatever marks there are.
//!
//! Readings: plunger pushed in is positive, so the harmonic points to the high spot. TIR is exact in decimals; half of it
//! is never called an eccentricity. What is left after the harmonic is not roundness: V-blocks distort form.
#![expect(clippy::disallowed_types, reason = "a harmonic fit; TIR and closure beside it are exact")]

use uom::si::f64::{Angle, Length};

use super::least_squares::{Base, norm};
use super::mean;
use super::quantity::{angle, count, float, length, within_a_turn};
use super::vector::Vector;
use crate::domain::exact::Exact;
use crate::domain::refusal::RefusalKind;

mod marks;
pub(super) mod row;

pub use marks::Warning;
pub use row::FORMULA;

/// What was read in one turn.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Turn {
    /// Degrees and millimetres at each mark.
    pub marks: Vec<(Exact, Exact)>,
    /// The dial back at the first mark.
    pub closing: Option<Exact>,
    /// The dial's division: a set that closes worse than that is void.
    pub division: Option<Exact>,
    /// Largest and smallest of one slow full turn.
    pub swept: Option<(Exact, Exact)>,
}

/// What a turn says.
#[derive(Debug, Clone, PartialEq)]
pub struct RunOut {
    /// Largest less smallest: swept or by the marks, whichever is more.
    pub tir: Exact,
    /// By the marks alone.
    pub tir_marks: Exact,
    /// Swept.
    pub tir_swept: Option<Exact>,
    /// The first harmonic; `None` when it is nothing but rounding.
    pub eccentricity: Option<Vector>,
    /// The mean of the readings, of the fit.
    pub mean: Length,
    /// What the harmonic leaves at each mark.
    pub rest: Vec<Length>,
    /// Largest less smallest of what the harmonic leaves.
    pub residual: Length,
    /// Its root mean square.
    pub rms_residual: Length,
    /// Closing reading less the first.
    pub closure: Option<Exact>,
    /// What must be said with it.
    pub warnings: Vec<Warning>,
}

impl RunOut {
    /// How far the axis is off; zero when there is no harmonic.
    pub fn amount(&self) -> Length {
        self.eccentricity.map_or_else(|| length(&Exact::zero()), Vector::amount)
    }

    /// Where the high spot is; `None` when there is none.
    pub fn high_spot(&self) -> Option<Angle> {
        self.eccentricity.map(Vector::direction)
    }
}

/// Reckons a turn.
///
/// # Errors
/// `TooFew` below three marks; `NoAnswer` for two readings at one mark, marks on less than half a turn, a swept pair the
/// wrong way round, or a set void because it does not close.
pub fn run_out(turn: &Turn) -> Result<RunOut, RefusalKind> {
    let marks = &turn.marks;
    if marks.len() < 3 {
        return Err(RefusalKind::TooFew { what: "marks", given: marks.len(), needed: 3 });
    }
    let spacing = marks::Spacing::of(marks)?;
    let closure = closure(turn)?;
    let readings: Vec<_> = marks.iter().map(|(_, reading)| reading.clone()).collect();
    let (Some(mean), Some(largest), Some(smallest)) = (mean(&readings), readings.iter().max(), readings.iter().min())
    else {
        return Err(RefusalKind::TooFew { what: "marks", given: 0, needed: 3 });
    };
    let tir_marks = largest - smallest;
    let tir_swept = swept(turn)?;
    let angles: Vec<Angle> = marks.iter().map(|(degrees, _)| angle(&within_a_turn(degrees))).collect();
    let Some(base) = base(&angles) else { return Err(marks::too_close()) };
    let readings: Vec<f64> = readings.iter().map(|reading| float(&(reading - &mean))).collect();
    let [more, x, y] = base.solve(&readings);
    let left = base.left_of(&readings);
    // a harmonic a million million times smaller than the run-out is what sums of doubles leave behind
    let nothing = float(&tir_marks) * 1e-12;
    let size = |millimetres: f64| Length::new::<uom::si::length::millimeter>(millimetres);
    let eccentricity = (x.hypot(y) > nothing).then(|| Vector { x: size(x), y: size(y) });
    let (high, low) = left.iter().fold((0.0_f64, 0.0_f64), |(high, low), x| (high.max(*x), low.min(*x)));
    let warnings = spacing.warnings(&base, &angles, (&tir_marks, tir_swept.as_ref()));
    Ok(RunOut {
        tir: tir_swept.clone().map_or_else(|| tir_marks.clone(), |swept| swept.max(tir_marks.clone())),
        tir_marks,
        tir_swept,
        eccentricity,
        mean: size(float(&mean) + more),
        rest: left.iter().map(|left| size(*left)).collect(),
        residual: size(high - low),
        rms_residual: size(norm(&left) / count(left.len()).sqrt()),
        closure,
        warnings,
    })
}

/// Mean and first harmonic at the marks.
fn base(angles: &[Angle]) -> Option<Base> {
    let [cosine, sine] = waves(angles, 1);
    Base::of([vec![1.0; angles.len()], cosine, sine])
}

/// What a shape of that many lobes shows at the marks, and the same shape turned by a quarter of a lobe.
fn waves(angles: &[Angle], lobes: u32) -> [Vec<f64>; 2] {
    let wave = |of: fn(f64) -> f64| angles.iter().map(|angle| of((*angle * f64::from(lobes)).value)).collect();
    [wave(f64::cos), wave(f64::sin)]
}

/// The closing reading less the first, in mm.
///
/// # Errors
/// `NoAnswer` when it is more than the division: the set is void.
pub fn closure(turn: &Turn) -> Result<Option<Exact>, RefusalKind> {
    let (Some(closing), Some((_, first))) = (&turn.closing, turn.marks.first()) else { return Ok(None) };
    let closure = closing - first;
    match &turn.division {
        Some(division) if &closure.abs() > division => Err(RefusalKind::NoAnswer {
            why: format!("The set is void: it closes {closure} off, more than the division {division}."),
            mend: "Find what moved (dial, end stop, block) and take the whole turn again.",
        }),
        Some(_) | None => Ok(Some(closure)),
    }
}

fn swept(turn: &Turn) -> Result<Option<Exact>, RefusalKind> {
    let Some((largest, smallest)) = &turn.swept else { return Ok(None) };
    let tir = largest - smallest;
    if tir.is_negative() {
        return Err(RefusalKind::NoAnswer {
            why: "The largest reading of the full turn is below the smallest.".to_owned(),
            mend: "Give the largest first, then the smallest.",
        });
    }
    Ok(Some(tir))
}
