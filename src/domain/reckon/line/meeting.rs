//! Where a line, or the bound beside it, meets a limit.
#![expect(
    clippy::disallowed_types,
    reason = "roots of a quadratic; whether the line has met the limit is decided exactly"
)]

use super::Line;
use crate::domain::exact::Exact;
use crate::domain::reckon::judge::Side;
use crate::domain::reckon::quantity::{float, root};

impl Side {
    fn sign(self) -> f64 {
        match self {
            Self::Largest => 1.0,
            Self::Smallest => -1.0,
        }
    }

    /// Whether `value` is at or past `limit`.
    pub fn reached(self, value: &Exact, limit: &Exact) -> bool {
        match self {
            Self::Largest => value >= limit,
            Self::Smallest => value <= limit,
        }
    }
}

/// When a limit is met.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Reached {
    /// At the last point already.
    Already,
    /// So far after the last point.
    After(f64),
    /// Not at all.
    Never,
}

/// Where the line meets a value, and between which places it may.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Crossing {
    /// On the line.
    pub x: f64,
    /// Standard uncertainty of `x`, first order.
    pub u: f64,
    /// Both ends; `None` where the slope is too uncertain for an interval that ends.
    pub between: Option<(f64, f64)>,
}

/// The line seen from its centre, in floats.
struct Centred {
    slope: f64,
    rise: f64,
    height_variance: f64,
    slope_variance: f64,
}

impl Centred {
    /// `extra` joins the variance of the height; `rise` is the way from the height to the limit.
    fn of(line: &Line, limit: &Exact, extra: &Exact) -> Option<Self> {
        let (height, slope) = line.variances()?;
        Some(Self {
            slope: float(line.slope()),
            rise: float(&(limit - &line.height)),
            height_variance: float(&(&height + extra)),
            slope_variance: float(&slope),
        })
    }

    /// The two places where a bound `k` uncertainties off the line meets the limit, and the leading coefficient. The
    /// discriminant is multiplied out so that nothing cancels.
    fn places(&self, k: f64) -> (f64, Option<(f64, f64)>) {
        let Self { slope, rise, height_variance, slope_variance } = self;
        let leading = slope * slope - k * k * slope_variance;
        let last = rise * rise - k * k * height_variance;
        let discriminant = k
            * k
            * (slope * slope * height_variance + slope_variance * rise * rise
                - k * k * height_variance * slope_variance);
        if discriminant < 0.0 {
            return (leading, None);
        }
        let half = slope * rise;
        let far = half + discriminant.sqrt().copysign(half);
        (leading, Some((far / leading, last / far)))
    }

    /// How far the bound is past the limit at `along`, and how fast that grows.
    fn past(&self, sign: f64, k: f64, along: f64) -> (f64, f64) {
        let u = (self.height_variance + self.slope_variance * along * along).sqrt();
        let grows = sign * self.slope + if u > 0.0 { k * self.slope_variance * along / u } else { 0.0 };
        (sign * (self.slope * along - self.rise) + k * u, grows)
    }
}

impl Line {
    /// Where the line meets `value`; `None` when it is level. `k` uncertainties, those of a new reading in `extra`, to
    /// both sides. Source: ISO/TS 28037:2010 6.3 for the uncertainty; the ends are where the line's band meets the value.
    pub fn crossing(&self, value: &Exact, k: f64, extra: &Exact) -> Option<Crossing> {
        let along = (value - &self.height).over(self.slope())?;
        let x = &along + &self.centre;
        let u = root(&(&self.variance(&x)? + extra)) / float(self.slope()).abs();
        let (leading, places) = Centred::of(self, value, extra)?.places(k);
        let centre = float(&self.centre);
        let between = places.filter(|_| leading > 0.0).map(|(a, b)| (centre + a.min(b), centre + a.max(b)));
        Some(Crossing { x: float(&x), u, between })
    }

    /// How far after `last` the line meets `limit`.
    pub fn reaches(&self, limit: &Exact, side: Side, last: &Exact) -> Reached {
        if side.reached(&self.value(last), limit) {
            return Reached::Already;
        }
        let away = (limit - &self.value(last)).over(self.slope());
        away.filter(|away| !away.is_negative()).map_or(Reached::Never, |away| Reached::After(float(&away)))
    }

    /// How far after `last` the bound, `k` uncertainties beyond the line, meets `limit`; `None` without an uncertainty.
    pub fn bound_reaches(&self, limit: &Exact, side: Side, last: &Exact, (k, extra): (f64, &Exact)) -> Option<Reached> {
        let centred = Centred::of(self, limit, extra)?;
        let (sign, start) = (side.sign(), float(&(last - &self.centre)));
        if side.reached(&self.value(last), limit) || centred.past(sign, k, start).0 >= 0.0 {
            return Some(Reached::Already);
        }
        // how far the bound is past the limit is a convex curve, below zero at the start: it comes up once or never
        let meets =
            |along: &f64| *along > start && sign * (centred.slope * along - centred.rise) <= 1e-12 * centred.rise.abs();
        let found = centred.places(k).1.and_then(|(a, b)| [a, b].into_iter().filter(meets).reduce(f64::min));
        let Some(mut along) = found else { return Some(Reached::Never) };
        for _ in 0..4 {
            let (past, grows) = centred.past(sign, k, along);
            if grows > 0.0 {
                along -= past / grows;
            }
        }
        Some(Reached::After(along - start))
    }
}
