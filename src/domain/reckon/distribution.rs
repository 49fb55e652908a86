//! Probabilities and quantiles of the normal, Student's t and chi-squared distributions: the one place that asks for them.
//!
//! All from the library, with two mends. Its complementary error function is off in the eleventh digit (`erfc` at
//! 0.5951 gives 0.40000000004), so the normal distribution is taken through the incomplete gamma function instead, which
//! keeps fourteen. Its inverse incomplete functions end their search at the tenth digit, so the quantiles of t and chi-squared are
//! finished with Newton steps on the distribution.
#![expect(clippy::disallowed_types, reason = "probabilities are floats by nature; no verdict is compared here")]

use std::f64::consts::PI;

use statrs::distribution::{ChiSquared, Continuous, ContinuousCDF, Normal, StudentsT};
use statrs::function::gamma::checked_gamma_ur;

/// Above this many degrees of freedom the incomplete beta function loses digits, and Hill's expansion has them all.
const MANY: f64 = 10_000.0;

/// Tails smaller than this are far.
const FAR: f64 = 1e-8;

/// Probability that a standard normal deviate is below `z`; small values keep their digits.
pub fn normal_below(z: f64) -> f64 {
    if z.is_nan() {
        return z;
    }
    let half = 0.5 * z * z;
    // the gamma function refuses zero and the endless; beyond 745 the tail is zero in doubles
    let tail = if half < 745.0 { 0.5 * checked_gamma_ur(0.5, half).unwrap_or(1.0) } else { 0.0 };
    if z <= 0.0 { tail } else { 1.0 - tail }
}

/// Probability that a t deviate with `dof` degrees of freedom (infinite: normal) is below `t`.
pub fn t_below(t: f64, dof: f64) -> f64 {
    if t.is_nan() {
        return t;
    }
    if dof.is_infinite() {
        return normal_below(t);
    }
    if dof >= MANY {
        return normal_below(hill(t, dof));
    }
    StudentsT::new(0.0, 1.0, dof).map_or(f64::NAN, |student| student.cdf(t))
}

/// The normal deviate with the same probability below it as `t`. Source: Hill, CACM algorithm 395 (1970), from memory.
fn hill(t: f64, dof: f64) -> f64 {
    let a = dof - 0.5;
    let b = 48.0 * a * a;
    let y = (a * (t * t / dof).ln_1p()).sqrt();
    let first = (y.powi(3) + 3.0 * y) / b;
    let second = (4.0 * y.powi(7) + 33.0 * y.powi(5) + 240.0 * y.powi(3) + 855.0 * y) / (10.0 * b * b);
    (y + first - second).copysign(t)
}

fn t_density(t: f64, dof: f64) -> f64 {
    if dof >= MANY {
        // good to a part in dof, and only the step of a search leans on it
        return (-0.5 * t * t).exp() / (2.0 * PI).sqrt();
    }
    StudentsT::new(0.0, 1.0, dof).map_or(f64::NAN, |student| student.pdf(t))
}

/// The deviate below which a share `p` of the normal distribution lies; 0.95 gives 1.6449.
pub fn normal_quantile(p: f64) -> f64 {
    if p > 0.0 && p < 1.0 { Normal::standard().inverse_cdf(p) } else { f64::NAN }
}

/// The deviate below which a share `p` of Student's t distribution lies (infinite `dof`: normal).
///
/// Any `dof` above zero, whole or not. NaN for `p` outside 0 to 1 or `dof` not above zero.
pub fn t_quantile(p: f64, dof: f64) -> f64 {
    if !(p > 0.0 && p < 1.0 && dof > 0.0) {
        return f64::NAN;
    }
    // the lower tail keeps its digits, the upper one is its mirror image
    let (tail, sign) = if p > 0.5 { (1.0 - p, -1.0) } else { (p, 1.0) };
    if dof.is_infinite() {
        return sign * normal_quantile(tail);
    }
    let start = match StudentsT::new(0.0, 1.0, dof) {
        // the library's search leaves its own range in the far tail, and stops the program there
        Ok(_) if dof < MANY && tail < FAR => halved(|t| t_below(-t, dof) > tail),
        Ok(student) if dof < MANY => student.inverse_cdf(tail),
        Ok(_) | Err(_) => normal_quantile(tail),
    };
    sign * newton(start, |t| (t_below(t, dof) - tail) / t_density(t, dof))
}

/// The value below which a share `p` of the chi-squared distribution with `dof` degrees of freedom lies.
///
/// NaN for `p` outside 0 to 1 or `dof` not above zero.
pub fn chi_squared_quantile(p: f64, dof: f64) -> f64 {
    match ChiSquared::new(dof) {
        Ok(chi) if p > 0.0 && p < 1.0 => newton(chi.inverse_cdf(p), |x| (chi.cdf(x) - p) / chi.pdf(x)),
        Ok(_) | Err(_) => f64::NAN,
    }
}

/// Minus the positive value up to which `holds` holds, by halving its power of two, then itself.
fn halved(holds: impl Fn(f64) -> bool) -> f64 {
    let (mut low, mut high) = (-10.0_f64, 1020.0_f64);
    for _ in 0..60 {
        let middle = low.midpoint(high);
        if holds(middle.exp2()) { low = middle } else { high = middle }
    }
    -low.exp2()
}

/// Finishes a root that is nearly right: `step` is how far too large it still is.
fn newton(start: f64, step: impl Fn(f64) -> f64) -> f64 {
    let mut root = start;
    for _ in 0..8 {
        let by = step(root);
        if !by.is_finite() {
            break;
        }
        root -= by;
        if by.abs() <= 1e-15 * root.abs() {
            break;
        }
    }
    root
}
