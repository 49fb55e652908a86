//! Clearance of a plain bearing over its diameter, in parts per thousand.

use super::answer::Answers;
use super::formula::{Formula, Outcome, Output};
use super::given::Given;
use super::impossible::not_less;
use super::problem::Problem;
use super::shape::{Key, Range, Shape};
use super::working::Working;
use crate::domain::exact::Exact;
use crate::domain::unit::Unit;

/// Diametral clearance over diameter, in parts per thousand; `None` of no diameter. Source: ISO 7902-1.
pub fn relative_clearance(clearance: &Exact, diameter: &Exact) -> Option<Exact> {
    (clearance * &Exact::from(1000)).over(diameter)
}

/// `relative-clearance/1`.
pub const FORMULA: Formula = Formula {
    name: "relative-clearance",
    number: 1,
    purpose: "clearance of a bearing over its diameter, per mille",
    keys: &[
        Key::required("clearance", Shape::Figure(Unit::Millimetre, Range::NotNegative), "diametral clearance"),
        Key::required("diameter", Shape::Figure(Unit::Millimetre, Range::Positive), "diameter of the bearing"),
    ],
    outputs: &[Output::new("per_mille", "per mille", "clearance over diameter")],
    source: "relative bearing clearance, ISO 7902-1",
    example: &["clearance=0.12", "diameter=45"],
    expected: &[("per_mille_exact", "8/3")],
    impossible: |given| not_less(given, "clearance", "diameter").into_iter().collect(),
    reckon,
};

fn reckon(given: &Given) -> Result<Outcome, Vec<Problem>> {
    let (clearance, diameter) = (given.figure("clearance")?, given.figure("diameter")?);
    let per_mille = relative_clearance(&clearance, &diameter).unwrap_or_default();
    Ok(Outcome {
        answers: Answers::new().exact("per_mille", &per_mille),
        working: working(&clearance, &diameter, &per_mille),
    })
}

/// The working for a clearance and a diameter in mm.
pub fn working(clearance: &Exact, diameter: &Exact, per_mille: &Exact) -> Working {
    let mut working = Working::of(&FORMULA);
    let shown = format!("{} per mille", per_mille.at_most(3));
    let put_in = format!("1000 x {} mm / {} mm", clearance.at_most(6), diameter.at_most(6));
    working.step("psi", "1000 x clearance / diameter", put_in, shown.clone());
    working.resulting(shown)
}
