//! A figure in another unit, exactly.

use super::answer::Answers;
use super::formula::{Formula, Outcome, Output};
use super::given::Given;
use super::problem::{Problem, Trouble};
use super::quantity::float;
use super::shape::{Key, Range, Shape, is_below_absolute_zero};
use super::working::Working;
use crate::domain::exact::Exact;
use crate::domain::unit::{Dimension, Unit};

/// `convert/1`.
pub const FORMULA: Formula = Formula {
    name: "convert",
    number: 1,
    purpose: "a figure in another unit, exactly",
    keys: &[
        Key::required("value", Shape::AnyFigure(Range::Signed), "the figure with its unit"),
        Key::required("to", Shape::Text, "the unit wanted"),
        Key::default("difference", Shape::Flag, "false", "the figure is a difference of two temperatures"),
    ],
    outputs: &[
        Output::new("value", "the unit wanted", "the figure in that unit"),
        Output::new("unit", "", "the unit wanted"),
    ],
    source: "SI brochure, 9th edition; NIST SP 811:2008 appendix B; inch and pound of 1959",
    example: &["value=30 lbf.ft", "to=N.m"],
    expected: &[("value", "40.674538449942012"), ("unit", "N m")],
    impossible,
    reckon,
};

fn impossible(given: &Given) -> Vec<Problem> {
    let Some((size, Some(unit))) = given.with_unit_if("value") else { return Vec::new() };
    let warm = matches!(unit.dimension(), Dimension::Temperature | Dimension::TemperatureDifference);
    if given.is("difference") {
        let found = format!("A difference of a {} is that {0}.", unit.dimension().word());
        let needless =
            || Problem::impossible("difference", found, "Leave it out: temperatures alone tell the two apart.");
        return (!warm).then(needless).into_iter().collect();
    }
    let expected = "a temperature from -273.15 degC up, or difference=true";
    let cold = || Problem::new("value", Trouble::OutOfRange, format!("`{size} {unit}`"), expected);
    is_below_absolute_zero(&size, Some(unit)).then(cold).into_iter().collect()
}

fn reckon(given: &Given) -> Result<Outcome, Vec<Problem>> {
    let wrong = |key: &str, found: String, expected: String| Problem::new(key, Trouble::WrongUnit, found, expected);
    let mut problems = Vec::new();
    let (size, from) = given.with_unit_if("value").unwrap_or_default();
    if from.is_none() {
        problems.push(wrong("value", format!("`{size}` without a unit"), format!("one with it, such as `{size} mm`")));
    }
    let word = given.text("to")?;
    let to = Unit::parse(word);
    if to.is_none() {
        let units: Vec<_> = Unit::all().map(Unit::symbol).filter(|symbol| !symbol.ends_with(" diff")).collect();
        let meant =
            Unit::meant(word).map_or_else(|| format!("one of {}", units.join(", ")), |meant| format!("`{meant}`"));
        problems.push(wrong("to", format!("`{word}`"), meant));
    }
    let (Some(from), Some(to)) = (from, to) else { return Err(problems) };
    let (from, to) = if given.is("difference") { (from.as_difference(), to.as_difference()) } else { (from, to) };
    let Some(converted) = from.convert(&size, to) else {
        let expected = format!("a unit of {}", from.dimension().word());
        return Err(wrong("to", format!("`{word}`, a unit of {}", to.dimension().word()), expected).into());
    };
    // a factor with pi carries twenty digits: the figure is computed, no decimal of it is exact
    let computed = from.holds_pi() != to.holds_pi();
    let answers = if computed {
        Answers::new().number("value", float(&converted))
    } else {
        Answers::new().exact("value", &converted)
    };
    Ok(Outcome { answers: answers.text("unit", plain(to)), working: working((&size, from), (&converted, to)) })
}

/// The unit's word, without the mark of a difference.
fn plain(unit: Unit) -> &'static str {
    unit.symbol().trim_end_matches(" diff")
}

fn working((size, from): (&Exact, Unit), (converted, to): (&Exact, Unit)) -> Working {
    let mut working = Working::of(&FORMULA);
    let zero = from.convert(&Exact::zero(), to);
    let step = from.convert(&Exact::from(1), to).zip(zero).map(|(one, zero)| (&one - &zero, zero));
    if let Some((factor, shift)) = step {
        working.step(format!("1 {from}"), "", "", format!("{} {to}", factor.at_most(20)));
        if !shift.is_zero() {
            working.step(format!("0 {from}"), "", "", format!("{} {to}", shift.at_most(20)));
        }
    }
    if let Some((factor, shift)) = from.convert(&Exact::from(1), to).zip(from.convert(&Exact::zero(), to)) {
        let factor = (&factor - &shift).at_most(20);
        let shifted = if shift.is_zero() { String::new() } else { format!(" + ({} {to})", shift.at_most(20)) };
        let result = format!("{} {}", converted.at_most(20), plain(to));
        working.step("value", "", format!("{size} x {factor} {to}{shifted}"), result);
    }
    working.resulting(format!("{size} {} = {} {}", plain(from), converted.at_most(20), plain(to)))
}
