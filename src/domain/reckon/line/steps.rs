//! How a line came about, step by step; the forecast shows the same.
#![expect(clippy::disallowed_types, reason = "computed figures on their way out")]

use super::{Line, Point, Spread};
use crate::domain::exact::Exact;
use crate::domain::reckon::behind_sign;
use crate::domain::reckon::one_unit::OneUnit;
use crate::domain::reckon::quantity::{float, root, shown, signed};
use crate::domain::reckon::working::{Working, counted};

/// More points than these are not listed.
const LISTED: usize = 24;

impl Line {
    /// Sums over so many points, slope, intercept, spread and uncertainties; units of x and y.
    pub(in crate::domain::reckon) fn steps(&self, working: &mut Working, points: usize, units: (OneUnit, OneUnit)) {
        let (along, up) = units;
        let known = matches!(self.spread, Spread::Known { .. });
        let weights = if known { "weighted by w = 1 / u^2" } else { "all alike, w = 1" };
        working.say(format!("{}, {weights}", counted(points, "point")));
        let whole = |share: &Exact| Exact::from(1).over(share).as_ref().map_or(0.0, float);
        let (squares, slope) = (whole(&self.slope_share), float(&self.slope));
        let products = shown(slope * squares, 6);
        let squares = shown(squares, 6);
        if self.is_anywhere() {
            working.step("sum of w", "", "", shown(whole(&self.height_share), 6));
            working.step("xm", "sum of w x / sum of w", "", along.behind(shown(float(&self.centre), 8)));
            working.step("ym", "sum of w y / sum of w", "", up.behind(shown(float(&self.height), 8)));
            working.step("Sxx", "sum of w (x - xm)^2", "", squares.clone());
            working.step("Sxy", "sum of w (x - xm)(y - ym)", "", products.clone());
        } else {
            working.step("Sxx", "sum of w x^2", "", squares.clone());
            working.step("Sxy", "sum of w x y", "", products.clone());
        }
        working.step("b", "Sxy / Sxx", format!("{products} / {squares}"), up.over(along, shown(slope, 6)));
        if self.is_anywhere() {
            let centre = along.behind(shown(float(&self.centre), 8));
            let put_in = format!(
                "{} - {} x {centre}",
                up.behind(shown(float(&self.height), 8)),
                behind_sign(&up.over(along, shown(slope, 6)))
            );
            working.step("a", "ym - b xm", put_in, up.behind(shown(float(&self.intercept()), 6)));
        }
        self.spread_steps(working, units);
    }

    /// Degrees of freedom of its uncertainty in words.
    pub(in crate::domain::reckon) fn certainty_words(&self) -> String {
        match self.spread {
            Spread::Known { .. } => "endless".to_owned(),
            Spread::Residuals { .. } | Spread::Written { .. } => self.dof().to_string(),
        }
    }

    fn is_anywhere(&self) -> bool {
        !self.height_share.is_zero()
    }

    fn spread_steps(&self, working: &mut Working, (along, up): (OneUnit, OneUnit)) {
        let dof = self.dof();
        let s = match &self.spread {
            Spread::Known { .. } if dof == 0 => "1",
            Spread::Known { chi_squared } => {
                let told = format!("{} on {dof}", shown(float(chi_squared), 4));
                working.step("chi-squared", "sum of ((y - a - b x) / u)^2", "", told);
                "1"
            }
            Spread::Residuals { variance: Some(variance) } => {
                let squares = up.squared(shown(float(variance) * f64::from(dof), 6));
                working.step("Q", "sum of (y - a - b x)^2", "", squares.clone());
                let s = up.behind(shown(root(variance), 4));
                working.step("s", "sqrt(Q / degrees of freedom)", format!("sqrt({squares} / {dof})"), s);
                "s"
            }
            Spread::Written { variance } => {
                working
                    .say("the points lie nearer to the line than the last place written: they spread by its rounding");
                working.step("s", "last place / sqrt 12", "", up.behind(shown(root(variance), 4)));
                "s"
            }
            Spread::Residuals { variance: None } => {
                return working.say("no spread: no points are left over to tell it, and no u was given");
            }
        };
        let Some((a, b, covariance)) = self.uncertainties() else { return };
        working.step("u(b)", format!("{s} / sqrt Sxx"), "", up.over(along, shown(b, 4)));
        if self.is_anywhere() {
            let rule = if s == "s" { "s sqrt(1 / n + xm^2 / Sxx)" } else { "sqrt(1 / sum of w + xm^2 / Sxx)" };
            working.step("u(a)", rule, "", up.behind(shown(a, 4)));
            working.step("covariance", "-xm u(b)^2", "", shown(covariance, 4));
        }
    }

    /// The line at `x`, its uncertainty with that of a new reading where `extra` is one, and both ends.
    pub(in crate::domain::reckon) fn value_steps(
        &self,
        working: &mut Working,
        x: &Exact,
        extra: &Exact,
        (along, up): (OneUnit, OneUnit),
    ) {
        let (a, b) = (float(&self.intercept()), float(&self.slope));
        let put_in = format!("{} {} x {}", up.behind(shown(a, 6)), signed(b), along.behind(x.at_most(6)));
        let at = format!("y at {}", along.behind(x.at_most(6)));
        working.step(at, "a + b x", put_in, up.behind(shown(float(&self.value(x)), 6)));
        let Some(variance) = self.variance(x) else { return };
        let own = shown(root(&variance), 4);
        let rule = if matches!(self.spread, Spread::Known { .. }) { "" } else { "s " };
        let inside = if self.is_anywhere() { "1 / sum of w + (x - xm)^2 / Sxx" } else { "x^2 / Sxx" };
        working.step("u of the line there", format!("{rule}sqrt({inside})"), "", up.behind(&own));
        if !extra.is_zero() {
            let one = shown(root(extra), 4);
            let both = up.behind(shown(root(&(&variance + extra)), 4));
            let put_in = format!("sqrt({own}^2 + {one}^2)");
            working.step("u of a new reading there", "sqrt(u of the line^2 + u of a reading^2)", put_in, both);
        }
    }

    /// Where the line meets `limit`.
    pub(in crate::domain::reckon) fn meeting_steps(
        &self,
        working: &mut Working,
        limit: &Exact,
        (along, up): (OneUnit, OneUnit),
    ) -> Option<f64> {
        let x = float(&(&(limit - &self.height).over(&self.slope)? + &self.centre));
        let (a, b) = (float(&self.intercept()), float(&self.slope));
        let put_in = format!("({} - {}) / {}", up.put(limit), behind_sign(&up.behind(shown(a, 6))), shown(b, 6));
        working.step("x at the limit", "(limit - a) / b", put_in, along.behind(shown(x, 8)));
        Some(x)
    }
}

/// The points, unless they are many.
pub(super) fn list(working: &mut Working, points: &[Point], (along, up): (OneUnit, OneUnit)) {
    if points.len() > LISTED {
        return;
    }
    for (number, Point { x, y, u }) in (1..).zip(points) {
        let u = u.as_ref().map_or_else(String::new, |u| format!(", u {}", up.behind(u.at_most(6))));
        working.say(format!("point {number}: x {}, y {}{u}", along.behind(x.at_most(6)), up.behind(y.at_most(6))));
    }
}
