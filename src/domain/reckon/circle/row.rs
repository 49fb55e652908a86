//! The row of `circle`.

use super::{Circle, Method, Points, circle};
use crate::domain::exact::Exact;
use crate::domain::reckon::quantity::shown;
use crate::domain::reckon::{
    Answer, Answers, Formula, Given, Key, Outcome, Output, Problem, Range, Shape, Trouble, Working,
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
        Key::optional("radii", LENGTHS, "of each point, in the same order"),
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
    reckon,
};

fn reckon(given: &Given) -> Result<Outcome, Vec<Problem>> {
    let points = points(given)?;
    let method = if given.text("method")? == "algebraic" { Method::Algebraic } else { Method::Geometric };
    let got = circle(&points, method)?;
    let answers = Answers::new()
        .number("x", got.x)
        .number("y", got.y)
        .number("r", got.r)
        .list("deviations", got.deviations.iter().map(|deviation| Answer::Number(*deviation)))
        .number("roundness", got.roundness());
    Ok(Outcome { answers, working: working(&points, method, &got) })
}

fn points(given: &Given) -> Result<Points, Vec<Problem>> {
    let pairs = |firsts: Vec<Exact>, seconds: Vec<Exact>| firsts.into_iter().zip(seconds).collect();
    match (given.has("points"), given.figures_if("angles"), given.figures_if("radii")) {
        (true, None, None) => {
            let mut plane = Vec::new();
            let mut problems = Vec::new();
            for (number, row) in (1..).zip(given.rows("points")?) {
                let [x, y] = row.as_slice() else {
                    let found = format!("Found {} figures.", row.len());
                    problems.push(Problem::impossible(format!("points {number}"), found, "Each point is [x, y]."));
                    continue;
                };
                plane.push((x.clone(), y.clone()));
            }
            if problems.is_empty() { Ok(Points::Plane(plane)) } else { Err(problems) }
        }
        (false, Some(angles), Some(radii)) if angles.len() == radii.len() => Ok(Points::Polar(pairs(angles, radii))),
        (false, Some(angles), Some(radii)) => {
            let found = format!("{} angles, {} radii.", angles.len(), radii.len());
            Err(Problem::impossible("radii", found, "Give one radius for each angle.").into())
        }
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
    let (Points::Plane(given) | Points::Polar(given)) = points;
    let rule = match method {
        Method::Geometric => "sum of (distance from the centre - r)^2 made smallest",
        Method::Algebraic => "sum of (x^2 + y^2 - 2 a x - 2 b y - c)^2 made smallest",
    };
    working.say(format!("{} points: {rule}", given.len()));
    working.step("centre", "", "", format!("{}, {} mm", shown(got.x, 7), shown(got.y, 7)));
    working.step("r", "", "", format!("{} mm", shown(got.r, 8)));
    for (number, deviation) in (1..).zip(&got.deviations) {
        working.step(format!("d{number}"), "distance - r", "", format!("{} mm", shown(*deviation, 4)));
    }
    working.step("roundness", "largest d - smallest d", "", format!("{} mm", shown(got.roundness(), 4)));
    working.resulting(format!("r {} mm, roundness {} mm", shown(got.r, 7), shown(got.roundness(), 3)))
}
