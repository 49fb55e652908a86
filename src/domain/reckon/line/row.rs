//! The row of `line`.
#![expect(clippy::disallowed_types, reason = "computed figures on their way out")]

use super::steps::list;
use super::{Line, Point, Spread, Through};
use crate::domain::exact::Exact;
use crate::domain::reckon::distribution::t_quantile;
use crate::domain::reckon::impossible::uneven;
use crate::domain::reckon::one_unit::OneUnit;
use crate::domain::reckon::quantity::{float, shown, signed};
use crate::domain::reckon::working::of_freedom;
use crate::domain::reckon::{Answers, Formula, Given, Key, Outcome, Output, Problem, Range, Shape, Working};
use crate::domain::unit::Unit;

const FIGURE: Shape = Shape::AnyFigure(Range::Any);

/// `line/1`.
pub const FORMULA: Formula = Formula {
    name: "line",
    number: 1,
    purpose: "straight line through points, with intervals",
    keys: &[
        Key::required("x", Shape::List(&FIGURE), "along, known without doubt"),
        Key::required("y", Shape::List(&FIGURE), "what was read there"),
        Key::optional(
            "u",
            Shape::List(&Shape::AnyFigure(Range::Positive)),
            "standard uncertainty of each y, or one for all",
        ),
        Key::default("through_origin", Shape::Flag, "false", "true for y = b x"),
        Key::optional("at", FIGURE, "an x to tell y at"),
        Key::optional("limit", FIGURE, "a y to tell x at"),
        Key::default(
            "p",
            Shape::Figure(Unit::One, Range::Between("0", "1")),
            "0.95",
            "coverage of the intervals, two-sided",
        ),
        Key::default(
            "new_reading",
            Shape::Flag,
            "true",
            "intervals of a new reading (u as the last one's, or s), not of the line",
        ),
    ],
    outputs: &[
        Output::new("intercept, slope", "as given", "of the line"),
        Output::new("u_intercept, u_slope, covariance", "as given", "standard uncertainties, and their covariance"),
        Output::new("s", "as given", "spread about the line, where u is not given"),
        Output::new("chi2", "", "sum of squared residuals over u, where it is given"),
        Output::new("dof", "", "points less unknowns"),
        Output::new("at: value, u, low, high", "as given", "the line there, and its interval"),
        Output::new("crossing: x, u, low, high", "as given", "where it meets the limit, and between which x it may"),
        Output::new("unit, x_unit", "", "of y and x: mm for lengths, else the first given; left out where none was"),
    ],
    source: "ISO/TS 28037:2010 6.3, Annex E; JCGM 100:2008 H.3",
    example: &["x=1; 2; 3; 4; 5; 6", "y=3.3; 5.6; 7.1; 9.3; 10.7; 12.1", "u=0.5", "limit=10.5"],
    expected: &[("slope", "1.7571428571428571"), ("intercept", "1.8666666666666667"), ("dof", "4")],
    impossible: uneven_points,
    reckon,
};

/// Intervals to both sides.
struct Asked {
    at: Option<Exact>,
    limit: Option<Exact>,
    p: f64,
    k: Option<f64>,
    extra: Exact,
}

fn uneven_points(given: &Given) -> Vec<Problem> {
    let alone = given.count("u") == Some(1);
    uneven(given, "x", if alone { &["y"] } else { &["y", "u"] })
}

fn reckon(given: &Given) -> Result<Outcome, Vec<Problem>> {
    let carried = |lists: [&str; 2], single: &str| {
        let lists = lists.iter().flat_map(|key| given.carried(key));
        OneUnit::of(&lists.chain(given.with_unit_if(single)).collect::<Vec<_>>())
    };
    let (along, up) = (carried(["x", "x"], "at"), carried(["y", "u"], "limit"));
    let points = points(along.take_list(given, "x")?, up.take_list(given, "y")?, up.take_list(given, "u")?);
    let through = if given.is("through_origin") { Through::Origin } else { Through::Anywhere };
    let line = Line::fit(&points, through)?;
    let p = float(&given.figure("p")?);
    let known = line.uncertainties().is_some();
    let asked = Asked {
        at: along.take_if(given, "at")?,
        limit: up.take_if(given, "limit")?,
        p,
        k: known.then(|| t_quantile(p.midpoint(1.0), line.certainty_dof())),
        extra: if given.is("new_reading") { line.new_reading().unwrap_or_default() } else { Exact::zero() },
    };
    let answers = along.said(up.said(line.answers(&asked), "unit"), "x_unit");
    Ok(Outcome { answers, working: line.working(&points, &asked, (along, up)) })
}

/// One u stands for all points.
fn points(x: Vec<Exact>, y: Vec<Exact>, mut u: Vec<Exact>) -> Vec<Point> {
    if let [one] = u.as_slice() {
        u = vec![one.clone(); x.len()];
    }
    let u = u.into_iter().map(Some).chain(std::iter::repeat(None));
    x.into_iter().zip(y).zip(u).map(|((x, y), u)| Point { x, y, u }).collect()
}

impl Line {
    fn answers(&self, asked: &Asked) -> Answers {
        const NO_SPREAD: &str = "no points are left over to tell the spread, and no u was given";
        let answers = Answers::new().number("intercept", float(&self.intercept())).number("slope", float(self.slope()));
        let keys = ["u_intercept", "u_slope", "covariance"];
        let answers = match self.uncertainties() {
            Some((intercept, slope, covariance)) => {
                let values = keys.iter().zip([intercept, slope, covariance]);
                values.fold(answers, |answers, (key, value)| answers.number(key, value))
            }
            None => keys.iter().fold(answers, |answers, key| answers.absent(key, NO_SPREAD)),
        };
        let answers = match self.spread() {
            Spread::Known { chi_squared } => {
                answers.absent("s", "the points brought their own u").number("chi2", float(chi_squared))
            }
            Spread::Residuals { variance: Some(variance) } | Spread::Written { variance } => {
                answers.number("s", float(variance).sqrt()).absent("chi2", "the points have no u")
            }
            Spread::Residuals { variance: None } => {
                answers.absent("s", NO_SPREAD).absent("chi2", "the points have no u")
            }
        };
        let answers = answers.whole("dof", self.dof().into());
        let answers = self.answer_at(answers, asked);
        self.answer_crossing(answers, asked)
    }

    fn answer_at(&self, answers: Answers, asked: &Asked) -> Answers {
        let Some(at) = &asked.at else { return answers };
        let value = Answers::new().number("value", float(&self.value(at)));
        let there = match asked.k.and_then(|k| self.band(at, k, &asked.extra)) {
            Some(band) => value.number("u", band.u).number("low", band.low).number("high", band.high),
            None => ["u", "low", "high"].iter().fold(value, |value, key| value.absent(key, "the spread is not known")),
        };
        answers.map("at", there)
    }

    fn answer_crossing(&self, answers: Answers, asked: &Asked) -> Answers {
        let Some(limit) = &asked.limit else { return answers };
        let ends = |crossing: Answers, why: &str| crossing.absent("low", why).absent("high", why);
        let level = || answers.clone().absent("crossing", "the line is level and meets it nowhere");
        let Some(crossing) = self.crossing(limit, asked.k.unwrap_or(0.0), &asked.extra) else {
            return match (limit - &self.value(&Exact::zero())).over(self.slope()) {
                None => level(),
                Some(x) => {
                    let there = Answers::new().number("x", float(&x)).absent("u", "the spread is not known");
                    answers.map("crossing", ends(there, "the spread is not known"))
                }
            };
        };
        let there = Answers::new().number("x", crossing.x).number("u", crossing.u);
        let there = match crossing.between {
            Some((low, high)) => there.number("low", low).number("high", high),
            None => ends(there, "the slope is too uncertain for an interval that ends"),
        };
        answers.map("crossing", there)
    }

    fn working(&self, points: &[Point], asked: &Asked, (along, up): (OneUnit, OneUnit)) -> Working {
        let mut working = Working::of(&FORMULA);
        list(&mut working, points, (along, up));
        self.steps(&mut working, points.len(), (along, up));
        if let Some(k) = asked.k.filter(|_| asked.at.is_some() || asked.limit.is_some()) {
            let dof = of_freedom(self.certainty_words());
            working.step("k", format!("t for {} %, two-sided, and {dof}", shown(100.0 * asked.p, 6)), "", shown(k, 5));
        }
        if let Some(at) = &asked.at {
            self.value_steps(&mut working, at, &asked.extra, (along, up));
            if let Some((k, band)) = asked.k.and_then(|k| Some((k, self.band(at, k, &asked.extra)?))) {
                let put_in = format!("{} -+ {} x {}", shown(band.value, 6), shown(k, 5), shown(band.u, 4));
                let ends = format!("{} to {}", shown(band.low, 6), up.behind(shown(band.high, 6)));
                working.step("interval", "y -+ k u", put_in, ends);
            }
        }
        self.crossing_steps(&mut working, asked, (along, up));
        let (slope, intercept) = (float(self.slope()), float(&self.intercept()));
        working.resulting(format!("y = {} {} x", shown(intercept, 5), signed(slope)))
    }

    fn crossing_steps(&self, working: &mut Working, asked: &Asked, (along, up): (OneUnit, OneUnit)) {
        let Some(limit) = &asked.limit else { return };
        if self.meeting_steps(working, limit, (along, up)).is_none() {
            return working.say("the line is level and meets the limit nowhere");
        }
        let Some(crossing) = self.crossing(limit, asked.k.unwrap_or(0.0), &asked.extra) else { return };
        working.step("u of that x", "u of y there / |b|", "", along.behind(shown(crossing.u, 4)));
        match crossing.between {
            Some((low, high)) => {
                let ends = format!("{} to {}", shown(low, 6), along.behind(shown(high, 6)));
                working.step("between", "where y - k u and y + k u meet the limit", "", ends);
            }
            None => working.say("the slope is too uncertain for an interval that ends"),
        }
    }
}
