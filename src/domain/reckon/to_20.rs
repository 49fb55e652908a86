//! A length read in the warm or the cold, brought to 20 degC: part and gauge both expand.

use super::answer::Answers;
use super::formula::{Formula, Outcome, Output};
use super::given::Given;
use super::impossible::nothing;
use super::problem::Problem;
use super::shape::{Key, Need, Range, Shape};
use super::working::Working;
use crate::domain::exact::Exact;
use crate::domain::refusal::RefusalKind;
use crate::domain::unit::Unit;

/// Reference temperature in degC. Source: ISO 1.
const REFERENCE: u32 = 20;

/// A body, its temperature in degC and its coefficient of expansion in 1/K.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Body {
    /// In degC.
    pub temperature: Exact,
    /// In 1/K.
    pub expansion: Exact,
}

impl Body {
    /// How much longer it is than at 20 degC, as a factor, exact.
    fn growth(&self) -> Exact {
        let warmer = &self.temperature - &Exact::from(REFERENCE);
        &Exact::from(1) + &(&self.expansion * &warmer)
    }
}

/// The part's length at 20 degC, in the unit of `reading`; without a `gauge` it is taken to be at 20 degC.
///
/// `reading (1 + a_gauge dT_gauge) / (1 + a_part dT_part)`. Source: ISO 1, definition of the coefficient of expansion.
///
/// # Errors
/// `NoAnswer` when the part would have shrunk to nothing: the coefficient is in another unit.
pub fn to_20(reading: &Exact, part: &Body, gauge: Option<&Body>) -> Result<Exact, RefusalKind> {
    let growth = part.growth();
    let gauge = gauge.map_or(Exact::from(1), Body::growth);
    let nothing = |growth: &Exact| growth.is_negative() || growth.is_zero();
    match (reading * &gauge).over(&growth) {
        Some(length) if !nothing(&growth) && !nothing(&gauge) => Ok(length),
        Some(_) | None => Err(RefusalKind::NoAnswer {
            why: "With that expansion nothing would be left at that temperature.".to_owned(),
            mend: "Give the expansion in 1/K, such as 11.5e-6, or with its unit, 11.5 um/m/K.",
        }),
    }
}

const BODY: &[Key] = &[
    Key {
        name: "temperature",
        shape: Shape::Figure(Unit::Celsius, Range::Within("-100", "700")),
        need: Need::Required,
        doc: "temperature",
    },
    Key {
        name: "expansion",
        shape: Shape::Figure(Unit::PerKelvin, Range::Within("0", "0.001")),
        need: Need::Required,
        doc: "coefficient of expansion",
    },
];

/// `to-20/1`.
pub const FORMULA: Formula = Formula {
    name: "to-20",
    number: 1,
    purpose: "a length at 20 degC from one read at another temperature",
    keys: &[
        Key::required("length", Shape::Figure(Unit::Millimetre, Range::Positive), "as read"),
        Key::required("part", Shape::Map(BODY), "the part"),
        Key::optional("gauge", Shape::Map(BODY), "the gauge; without it it is at 20 degC"),
    ],
    outputs: &[
        Output::new("length_20", "mm", "the length at 20 degC"),
        Output::new("correction", "mm", "what the reading changes by"),
    ],
    source: "reference temperature ISO 1; definition of the coefficient of expansion",
    example: &[
        "length=60.042",
        "part={temperature: 30, expansion: 18e-6}",
        "gauge={temperature: 30, expansion: 11.5 um/m/K}",
    ],
    expected: &[("length_20", "60.03809797236497"), ("length_20_exact", "6004890483/100018000")],
    impossible: nothing,
    reckon,
};

fn body(map: &Given) -> Result<Body, Vec<Problem>> {
    Ok(Body { temperature: map.figure("temperature")?, expansion: map.figure("expansion")? })
}

fn reckon(given: &Given) -> Result<Outcome, Vec<Problem>> {
    let reading = given.figure("length")?;
    let part = body(given.map("part")?)?;
    let gauge = given.map_if("gauge").map(body).transpose()?;
    let length = to_20(&reading, &part, gauge.as_ref())?;
    let correction = &length - &reading;
    let mut working = Working::of(&FORMULA);
    let growth = |body: &Body| format!("1 + {} /K x ({} - {REFERENCE}) K", body.expansion, body.temperature);
    let factor = |body: &Body| body.growth().at_most(9);
    working.step("part", "1 + a dT", growth(&part), factor(&part));
    let above = gauge.as_ref().map_or("1".to_owned(), factor);
    if let Some(gauge) = &gauge {
        working.step("gauge", "1 + a dT", growth(gauge), factor(gauge));
    }
    let put_in = format!("{reading} mm x {above} / {}", factor(&part));
    working.step("length at 20 degC", "reading x gauge / part", put_in, format!("{} mm", length.at_most(6)));
    let put_in = format!("{} mm - {reading} mm", length.at_most(6));
    working.step("correction", "length at 20 degC - reading", put_in, format!("{} mm", correction.at_most(6)));
    let result = format!("{} mm, correction {} mm", length.at_most(4), correction.at_most(4));
    let answers = Answers::new().exact("length_20", &length).exact("correction", &correction);
    Ok(Outcome { answers, working: working.resulting(result) })
}
