//! A gap by feelers: the leaf that goes and the next that stops bracket it.

use super::answer::Answers;
use super::formula::{Formula, Outcome, Output};
use super::given::Given;
use super::impossible::not_less;
use super::problem::Problem;
use super::quantity::{float, root, shown};
use super::shape::{Key, Range, Shape};
use super::working::Working;
use crate::domain::exact::Exact;
use crate::domain::refusal::RefusalKind;
use crate::domain::unit::Unit;

/// A bracketed gap, in mm: it is at least what goes, and less than what stops.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Gap {
    /// The leaf that goes; a smallest limit is judged by it.
    pub goes: Exact,
    /// The leaf that stops; a largest limit is judged by it.
    pub stops: Exact,
    /// Halfway between.
    pub middle: Exact,
    /// Half the width of the bracket.
    pub half_width: Exact,
    /// The square of the standard uncertainty, `half_width` squared over 3. Source: JCGM 100:2008 4.3.7.
    pub variance: Exact,
}

/// The gap between two leaves, in mm.
///
/// # Errors
/// `NoAnswer` when the leaf that stops is not the thicker one.
pub fn feelers(goes: &Exact, stops: &Exact) -> Result<Gap, RefusalKind> {
    let width = stops - goes;
    if width.is_negative() || width.is_zero() {
        return Err(RefusalKind::NoAnswer {
            why: format!("The leaf that stops, {stops}, is not thicker than the one that goes, {goes}."),
            mend: "Exchange them, or try the next thicker leaf.",
        });
    }
    let part = |one: i128, of: i128| Exact::fraction(one, of).unwrap_or_else(Exact::zero);
    let half_width = &width * &part(1, 2);
    let variance = &(&half_width * &half_width) * &part(1, 3);
    Ok(Gap { goes: goes.clone(), stops: stops.clone(), middle: goes + &half_width, half_width, variance })
}

impl Gap {
    /// The working.
    pub fn working(&self) -> Working {
        let mut working = Working::of(&FORMULA);
        let Self { goes, stops, middle, half_width, .. } = self;
        working.step("middle", "(goes + stops) / 2", format!("({goes} mm + {stops} mm) / 2"), format!("{middle} mm"));
        let put_in = format!("({stops} mm - {goes} mm) / 2");
        working.step("half width", "(stops - goes) / 2", put_in, format!("{half_width} mm"));
        let u = format!("{} mm", shown(root(&self.variance), 3));
        working.step("u", "half width / sqrt 3", format!("{half_width} mm / 1.7321"), u);
        working.say("feelers read low: a largest limit is judged by the leaf that stops");
        working.resulting(format!("at least {goes} mm, less than {stops} mm"))
    }
}

const LEAF: Shape = Shape::Figure(Unit::Millimetre, Range::NotNegative);

/// `feelers/1`.
pub const FORMULA: Formula = Formula {
    name: "feelers",
    number: 1,
    purpose: "a gap between the leaf that goes and the leaf that stops",
    keys: &[
        Key::required("goes", LEAF, "thickest leaf that goes"),
        Key::required("stops", LEAF, "thinnest leaf that stops"),
    ],
    outputs: &[
        Output::new("for_smallest", "mm", "what a smallest limit is judged by: the leaf that goes"),
        Output::new("for_largest", "mm", "what a largest limit is judged by: the leaf that stops"),
        Output::new("middle", "mm", "halfway between"),
        Output::new("half_width", "mm", "half of what lies between"),
        Output::new("u", "mm", "standard uncertainty of the middle"),
    ],
    source: "uniform within the bracket, JCGM 100:2008 4.3.7",
    example: &["goes=0.35", "stops=0.40"],
    expected: &[("for_smallest", "0.35"), ("for_largest", "0.4"), ("middle", "0.375"), ("half_width", "0.025")],
    impossible: |given| not_less(given, "goes", "stops").into_iter().collect(),
    reckon,
};

fn reckon(given: &Given) -> Result<Outcome, Vec<Problem>> {
    let gap = feelers(&given.figure("goes")?, &given.figure("stops")?)?;
    // half width over root three keeps one digit more than the root of the variance
    let u = float(&gap.half_width) / root(&Exact::from(3));
    let answers = Answers::new()
        .exact("for_smallest", &gap.goes)
        .exact("for_largest", &gap.stops)
        .exact("middle", &gap.middle)
        .exact("half_width", &gap.half_width)
        .number("u", u);
    Ok(Outcome { answers, working: gap.working() })
}
