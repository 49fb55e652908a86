//! The row of `circle`.

#![expect(clippy::disallowed_types, reason = "computed figures on their way out")]

use super::{Circle, Method, Points, circle};
use crate::domain::exact::Exact;
use crate::domain::reckon::impossible::uneven;
use crate::domain::reckon::quantity::{angle, float, length, millimetres, shown, without_noise};
use crate::domain::reckon::vector::Vector;
use crate::domain::reckon::working::counted;
use crate::domain::reckon::{
    Answer, Answers, Formula, Given, Key, Outcome, Output, Problem, Range, Shape, Trouble, Working, behind_sign,
};
use crate::domain::unit::Unit;

const LENGTHS: Shape = Shape::List(&Shape::Figure(Unit::Millimetre, Range::Any));

/// `circle/1`.
pub const FORMULA: Formula = Formula {
    name: "circle",
    number: 1,
    purpose: "least-squares circle through points, and roundness from it",
    keys: &[
        Key::optional("points", Shape::List(&LENGTHS), "[x, y] of each; or angles and radii"),
        Key::optional("angles", Shape::List(&Shape::Figure(Unit::Degree, Range::Any)), "of each point"),
        Key::optional(
            "radii",
            Shape::List(&Shape::Figure(Unit::Millimetre, Range::Positive)),
            "of each point, in the same order",
        ),
        Key::default(
            "method",
            Shape::Word(&["geometric", "algebraic"]),
            "geometric",
            "squared distances from the circle, or Kasa's differences of squares",
        ),
    ],
    outputs: &[
        Output::new("x, y, r", "mm", "centre and radius"),
        Output::new("deviations", "mm", "distance of each point from the centre, less the radius"),
        Output::new("roundness", "mm", "largest deviation less smallest; true round-table data only"),
    ],
    source: "least-squares reference circle in the terms of ISO 12181; Gander, Golub, Strebel 1994; Kasa 1976",
    example: &["points=[[8, -3], [5, 0], [2, -3], [5, -6]]"],
    expected: &[("x", "5"), ("y", "-3"), ("r", "3"), ("roundness", "0")],
    impossible: |given| uneven(given, "angles", &["radii"]),
    reckon,
};

fn reckon(given: &Given) -> Result<Outcome, Vec<Problem>> {
    let points = points(given)?;
    let method = if given.text("method")? == "algebraic" { Method::Algebraic } else { Method::Geometric };
    let got = circle(&points, method)?;
    let answers = Answers::new()
        .number("x", millimetres(got.x))
        .number("y", millimetres(got.y))
        .number("r", millimetres(got.r))
        .list("deviations", got.deviations.iter().map(|deviation| Answer::Number(millimetres(*deviation))))
        .number("roundness", millimetres(got.roundness()));
    Ok(Outcome { answers, working: working(&points, method, &got) })
}

fn points(given: &Given) -> Result<Points, Vec<Problem>> {
    match (given.has("points"), given.figures_if("angles"), given.figures_if("radii")) {
        (true, None, None) => {
            let mut plane = Vec::new();
            let mut problems = Vec::new();
            for (number, row) in (1..).zip(given.rows("points")?) {
                let [x, y] = row.as_slice() else {
                    let found = format!("Found {}.", counted(row.len(), "figure"));
                    problems.push(Problem::impossible(format!("points {number}"), found, "Each point is [x, y]."));
                    continue;
                };
                plane.push((x.clone(), y.clone()));
            }
            if problems.is_empty() { Ok(Points::Plane(plane)) } else { Err(problems) }
        }
        (false, Some(angles), Some(radii)) => Ok(Points::Polar(angles.into_iter().zip(radii).collect())),
        (true, _, _) => {
            Err(Problem::impossible("points", "Given beside angles or radii.", "Give one or the other.").into())
        }
        (false, _, _) => {
            Err(Problem::new("points", Trouble::Missing, "nothing", "`points`, or `angles` and `radii`").into())
        }
    }
}

fn working(points: &Points, method: Method, got: &Circle) -> Working {
    let mut working = Working::of(&FORMULA);
    let [over, up, r] = [got.x, got.y, got.r].map(millimetres);
    let deviations: Vec<_> = got.deviations.iter().map(|deviation| millimetres(*deviation)).collect();
    let size = over.abs() + up.abs() + r;
    let clean = |number: f64, figures: u32| shown(without_noise(number, size), figures);
    working.say(match method {
        Method::Geometric => "centre (a, b): sum of (distance from it - r)^2 made smallest",
        Method::Algebraic => "centre (a, b): sum of (x^2 + y^2 - 2 a x - 2 b y - c)^2 made smallest",
    });
    working.step("centre (a, b)", "", "", format!("{}, {} mm", clean(over, 7), clean(up, 7)));
    let distances: Vec<_> = deviations.iter().map(|deviation| r + deviation).collect();
    for (number, (point, distance)) in (1..).zip(plane(points).into_iter().zip(&distances)) {
        let part = |at: f64, centre: f64| format!("({} - {})^2", clean(at, 7), behind_sign(&clean(centre, 7)));
        let [x, y] = point;
        let put_in = format!("sqrt({} + {}) mm", part(x, over), part(y, up));
        working.step(
            format!("distance {number}"),
            "sqrt((x - a)^2 + (y - b)^2)",
            put_in,
            format!("{} mm", shown(*distance, 8)),
        );
    }
    let n = distances.len();
    let radius = format!("{} mm", shown(r, 8));
    match method {
        Method::Geometric => {
            let sum = shown(distances.iter().sum(), 8);
            working.step("r", "mean of the distances", format!("{sum} mm / {n}"), radius);
        }
        Method::Algebraic => {
            let squares = shown(distances.iter().map(|distance| distance * distance).sum(), 8);
            working.step("r", "sqrt(mean of distance^2)", format!("sqrt({squares} mm^2 / {n})"), radius);
        }
    }
    for (number, deviation) in (1..).zip(&deviations) {
        working.step(
            format!("d{number}"),
            format!("distance {number} - r"),
            "",
            format!("{} mm", clean(*deviation, 4)),
        );
    }
    let roundness = millimetres(got.roundness());
    let ends = deviations.iter().fold((f64::MIN, f64::MAX), |(high, low), d| (high.max(*d), low.min(*d)));
    let put_in = format!("{} mm - {}", clean(ends.0, 4), behind_sign(&format!("{} mm", clean(ends.1, 4))));
    working.step("roundness", "largest d - smallest d", put_in, format!("{} mm", clean(roundness, 4)));
    working.resulting(format!("r {} mm, roundness {} mm", shown(r, 7), clean(roundness, 3)))
}

/// The points by x and y.
fn plane(points: &Points) -> Vec<[f64; 2]> {
    match points {
        Points::Plane(points) => points.iter().map(|(x, y)| [float(x), float(y)]).collect(),
        Points::Polar(points) => {
            let at = |(degrees, radius): &(Exact, Exact)| Vector::polar(length(radius), angle(degrees));
            points.iter().map(at).map(|v| [millimetres(v.x), millimetres(v.y)]).collect()
        }
    }
}
