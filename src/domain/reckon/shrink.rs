//! The temperature that opens a bore far enough to slip over its shaft.

use super::answer::Answers;
use super::formula::{Formula, Outcome, Output};
use super::given::Given;
use super::impossible::not_less;
use super::problem::Problem;
use super::quantity::pencilled;
use super::shape::{Key, Range, Shape};
use super::working::Working;
use crate::domain::exact::Exact;
use crate::domain::refusal::RefusalKind;
use crate::domain::unit::Unit;

/// What is to be shrunk on. Lengths in mm, temperatures in degC, expansion in 1/K.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Shrink {
    /// Diameter of the bore.
    pub bore: Exact,
    /// Interference of the fit.
    pub interference: Exact,
    /// Clearance wanted while it is slipped on.
    pub clearance: Exact,
    /// Of the heated part.
    pub expansion: Exact,
    /// Where it starts.
    pub room: Exact,
    /// The hottest that the material may get, from the limits sheet.
    pub largest_allowed: Exact,
}

/// Whether it can be done.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Heat {
    /// Heat to this, in degC.
    To(Exact),
    /// It would take this, in degC, which is more than the material may get.
    TooHot(Exact),
}

impl Shrink {
    /// The temperature wanted: `room + (interference + clearance) / (expansion x bore)`. Source: definition of expansion.
    ///
    /// # Errors
    /// `NoAnswer` without a bore or an expansion above zero.
    pub fn heat(&self) -> Result<Heat, RefusalKind> {
        let growth = &self.interference + &self.clearance;
        let Some(warmer) = growth.over(&(&self.expansion * &self.bore)) else {
            return Err(RefusalKind::NoAnswer {
                why: "A bore or an expansion of nothing never opens.".to_owned(),
                mend: "Give both above zero.",
            });
        };
        let wanted = &self.room + &warmer;
        Ok(if wanted > self.largest_allowed { Heat::TooHot(wanted) } else { Heat::To(wanted) })
    }

    fn working(&self, heat: &Heat) -> Working {
        let mut working = Working::of(&FORMULA);
        let Self { bore, interference, clearance, expansion, room, largest_allowed } = self;
        let growth = interference + clearance;
        let put_in = format!("{interference} mm + {clearance} mm");
        working.step("growth", "interference + clearance", put_in, format!("{growth} mm"));
        let (Heat::To(wanted) | Heat::TooHot(wanted)) = heat;
        let put_in = format!("{room} degC + {growth} mm / ({expansion} /K x {bore} mm)");
        working.step(
            "t",
            "room + growth / (expansion x bore)",
            put_in,
            format!("{} degC", beside(wanted, largest_allowed)),
        );
        working.step("largest allowed", "", "", format!("{} degC", pencilled(largest_allowed)));
        working.resulting(match heat {
            Heat::To(wanted) => format!("heat to {} degC", up_to_tenth(wanted, largest_allowed)),
            Heat::TooHot(_) => format!("refused: {}", too_hot(wanted, largest_allowed)),
        })
    }
}

/// Rounded up to a tenth, so that the bore opens, unless that passes what the material may get.
fn up_to_tenth(wanted: &Exact, largest: &Exact) -> String {
    let up = wanted.rounded(1, crate::domain::exact::Rounding::Up);
    match Exact::parse(&up) {
        Some(tenth) if &tenth <= largest => up,
        Some(_) | None => wanted.at_most(6),
    }
}

fn too_hot(wanted: &Exact, largest: &Exact) -> String {
    format!("it takes {} degC, the material may get {} degC", beside(wanted, largest), pencilled(largest))
}

/// Four figures, or as many as tell it from the largest allowed.
fn beside(wanted: &Exact, largest: &Exact) -> String {
    super::quantity::apart(wanted, &[largest], 4)
}

const LENGTH: Shape = Shape::Figure(Unit::Millimetre, Range::NotNegative);
const TEMPERATURE: Shape = Shape::Figure(Unit::Celsius, Range::Within("-200", "1000"));

/// `shrink/1`.
pub const FORMULA: Formula = Formula {
    name: "shrink",
    number: 1,
    purpose: "temperature that opens a bore for a shrink fit",
    keys: &[
        Key::required("bore", Shape::Figure(Unit::Millimetre, Range::Positive), "diameter of the bore"),
        Key::required("interference", LENGTH, "interference of the fit"),
        Key::required("clearance", LENGTH, "clearance wanted while it is slipped on"),
        Key::required(
            "expansion",
            Shape::Figure(Unit::PerKelvin, Range::Within("0.0000001", "0.001")),
            "of the heated part",
        ),
        Key::required("room", TEMPERATURE, "temperature at the start"),
        Key::required("largest_allowed", TEMPERATURE, "hottest that the material may get, from the limits sheet"),
    ],
    outputs: &[
        Output::new("heat_to", "degC", "temperature to heat to"),
        Output::new("refused", "", "in its place, why not, when the material may not get so hot"),
    ],
    source: "definition of the coefficient of expansion",
    example: &[
        "bore=60",
        "interference=45 um",
        "clearance=60 um",
        "expansion=11.5e-6",
        "room=20",
        "largest_allowed=250",
    ],
    expected: &[("heat_to_exact", "3960/23")],
    impossible,
    reckon,
};

fn impossible(given: &Given) -> Vec<Problem> {
    let pairs = [("interference", "bore"), ("clearance", "bore"), ("room", "largest_allowed")];
    pairs.into_iter().filter_map(|(small, large)| not_less(given, small, large)).collect()
}

fn reckon(given: &Given) -> Result<Outcome, Vec<Problem>> {
    let shrink = Shrink {
        bore: given.figure("bore")?,
        interference: given.figure("interference")?,
        clearance: given.figure("clearance")?,
        expansion: given.figure("expansion")?,
        room: given.figure("room")?,
        largest_allowed: given.figure("largest_allowed")?,
    };
    let heat = shrink.heat()?;
    let answers = match &heat {
        Heat::To(wanted) => Answers::new().exact("heat_to", wanted),
        Heat::TooHot(wanted) => Answers::new().text("refused", too_hot(wanted, &shrink.largest_allowed)),
    };
    Ok(Outcome { answers, working: shrink.working(&heat) })
}
