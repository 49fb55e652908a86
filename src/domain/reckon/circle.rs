//! The least-squares circle through points: geometric (squared distances from the circle), or algebraic after Kasa.
//!
//! The algebraic one is the start of the geometric one and, with large form, biased. Roundness is the largest deviation
//! less the smallest, in the terms of ISO 12181 (least-squares reference circle; true round-table data only).
#![expect(clippy::disallowed_types, reason = "an iterated fit; nothing is judged here")]

use uom::si::f64::Length;
use uom::si::length::millimeter;

use super::least_squares::{Base, dot};
use super::quantity::{angle, count, float, length, millimetres};
use super::vector::Vector;
use crate::domain::exact::Exact;
use crate::domain::refusal::RefusalKind;

mod row;

pub use row::FORMULA;

/// What is made small.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Method {
    /// The squared distances from the circle.
    Geometric,
    /// The squared differences of squares, Kasa 1976.
    Algebraic,
}

/// Where the points come from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Points {
    /// Two coordinates each.
    Plane(Vec<(Exact, Exact)>),
    /// Degrees and radius each.
    Polar(Vec<(Exact, Exact)>),
}

/// A fitted circle.
#[derive(Debug, Clone, PartialEq)]
pub struct Circle {
    /// Centre.
    pub x: Length,
    /// Centre.
    pub y: Length,
    /// Radius.
    pub r: Length,
    /// Distance of each point from the centre less the radius.
    pub deviations: Vec<Length>,
}

impl Circle {
    /// Largest deviation less smallest.
    pub fn roundness(&self) -> Length {
        let deviations = || self.deviations.iter().copied();
        let (largest, smallest) = (deviations().reduce(Length::max), deviations().reduce(Length::min));
        largest.zip(smallest).map_or_else(Length::default, |(largest, smallest)| largest - smallest)
    }
}

/// Fits a circle.
///
/// # Errors
/// `TooFew` below three points; `NoAnswer` when they lie on a straight line, or too nearly for a circle to be found.
pub fn circle(points: &Points, method: Method) -> Result<Circle, RefusalKind> {
    let (Points::Plane(given) | Points::Polar(given)) = points;
    if given.len() < 3 {
        return Err(RefusalKind::TooFew { what: "points", given: given.len(), needed: 3 });
    }
    let (origin, xs, ys) = centred(points);
    let straight = || RefusalKind::NoAnswer {
        why: "The points lie on a straight line, or as good as.".to_owned(),
        mend: "Give points from more of the circle.",
    };
    let start = kasa(&xs, &ys).ok_or_else(straight)?;
    let (x, y, r) = match method {
        Method::Algebraic => start,
        Method::Geometric => geometric(&xs, &ys, start).ok_or_else(straight)?,
    };
    let mm = Length::new::<millimeter>;
    let deviations = distances(&xs, &ys, x, y).into_iter().map(|distance| mm(distance - r)).collect();
    Ok(Circle { x: mm(x) + mm(origin.0), y: mm(y) + mm(origin.1), r: mm(r), deviations })
}

/// The points in millimetres, seen from their mean, which is taken off before digits are lost to it.
fn centred(points: &Points) -> ((f64, f64), Vec<f64>, Vec<f64>) {
    match points {
        Points::Plane(points) => {
            let of = |part: fn(&(Exact, Exact)) -> &Exact| {
                let values: Vec<_> = points.iter().map(|point| part(point).clone()).collect();
                let mean = super::mean(&values).unwrap_or_else(Exact::zero);
                let off = values.iter().map(|value| float(&(value - &mean))).collect::<Vec<_>>();
                (float(&mean), off)
            };
            let ((x, xs), (y, ys)) = (of(|(x, _)| x), of(|(_, y)| y));
            ((x, y), xs, ys)
        }
        Points::Polar(points) => {
            let at = |(degrees, radius): &(Exact, Exact)| Vector::polar(length(radius), angle(degrees));
            let vectors: Vec<_> = points.iter().map(at).collect();
            let part = |of: fn(&Vector) -> f64| vectors.iter().map(of).collect();
            ((0.0, 0.0), part(|v| millimetres(v.x)), part(|v| millimetres(v.y)))
        }
    }
}

/// `x^2 + y^2 = 2 a x + 2 b y + c` by linear least squares.
fn kasa(xs: &[f64], ys: &[f64]) -> Option<(f64, f64, f64)> {
    let twice = |of: &[f64]| of.iter().map(|x| 2.0 * x).collect::<Vec<_>>();
    let squares: Vec<_> = xs.iter().zip(ys).map(|(x, y)| x * x + y * y).collect();
    let [c, a, b] = Base::of([vec![1.0; xs.len()], twice(xs), twice(ys)])?.solve(&squares);
    Some((a, b, (c + a * a + b * b).sqrt()))
}

fn distances(xs: &[f64], ys: &[f64], a: f64, b: f64) -> Vec<f64> {
    xs.iter().zip(ys).map(|(x, y)| (x - a).hypot(y - b)).collect()
}

/// Gauss-Newton; a step that makes things worse is halved until it does not.
fn geometric(xs: &[f64], ys: &[f64], (mut a, mut b, r): (f64, f64, f64)) -> Option<(f64, f64, f64)> {
    // the best radius of a centre is the mean distance, so only the centre is searched
    let spread = |a: f64, b: f64| {
        let distances = distances(xs, ys, a, b);
        let radius = distances.iter().sum::<f64>() / count(distances.len());
        let off: Vec<_> = distances.iter().map(|distance| distance - radius).collect();
        (radius, dot(&off, &off), off, distances)
    };
    let (mut radius, mut squares, mut off, mut away) = spread(a, b);
    for _ in 0..500 {
        let toward = |of: &[f64], centre: f64| of.iter().zip(&away).map(|(x, d)| (x - centre) / d).collect::<Vec<_>>();
        let base = Base::of([vec![1.0; xs.len()], toward(xs, a), toward(ys, b)])?;
        let [_, mut by_a, mut by_b] = base.solve(&off);
        let mut next = spread(a + by_a, b + by_b);
        for _ in 0..40 {
            // distances round in the sixteenth digit of the radius, so small forms are not compared closer than this
            if next.1 <= squares * (1.0 + 1e-9) + (1e-14 * radius).powi(2) {
                break;
            }
            (by_a, by_b) = (by_a / 2.0, by_b / 2.0);
            next = spread(a + by_a, b + by_b);
        }
        (a, b) = (a + by_a, b + by_b);
        (radius, squares, off, away) = next;
        if by_a.hypot(by_b) <= 1e-15 * radius {
            return Some((a, b, radius));
        }
        if !radius.is_finite() || radius > 1e6 * r {
            return None;
        }
    }
    None
}
