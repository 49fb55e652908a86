//! Limits and fits: limits of size of a zone, and the clearances of a pair, from the tables of ISO 286.
//!
//! Grades 5 to 9, sizes over 3 up to and including 120 mm; H for holes, f g h k m n p for shafts, where the table here
//! holds them. A size on a boundary belongs to the lower band.

use super::answer::Answers;
use super::formula::{Formula, Outcome, Output};
use super::given::Given;
use super::impossible::nothing;
use super::problem::{Problem, Trouble};
use super::shape::{Key, Shape};
use super::working::Working;
use crate::domain::exact::Exact;

mod tables;

use tables::Zone;

/// Limits of size, in mm.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sizes {
    /// Smallest.
    pub min: Exact,
    /// Largest.
    pub max: Exact,
}

/// A size with its zone, such as `50 H7`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Feature {
    /// In mm.
    pub nominal: Exact,
    zone: Zone,
}

/// Inside or outside.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// Capital letters.
    Hole,
    /// Small letters.
    Shaft,
}

/// Why a text is no zone held here: what was found, and what is expected.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NoZone {
    /// What is wrong.
    pub found: String,
    /// What would do.
    pub expected: String,
}

impl Feature {
    /// Reads `50 H7` or `50H7`.
    ///
    /// # Errors
    /// [`NoZone`]: not a size with a zone, a zone of the other kind, or one that the table does not hold for that size.
    pub fn parse(text: &str, kind: Kind) -> Result<Self, NoZone> {
        let text = text.trim();
        let example = match kind {
            Kind::Hole => "a size and a zone such as `50 H7`",
            Kind::Shaft => "a size and a zone such as `50 f7`",
        };
        let refused = |found: String, expected: &str| NoZone { found, expected: expected.to_owned() };
        let end = text.find(|c: char| c.is_ascii_alphabetic() || c.is_whitespace()).unwrap_or(text.len());
        let (size, zone) = text.split_at(end);
        let Some(nominal) = Exact::parse(size) else { return Err(refused(format!("`{text}`"), example)) };
        let zone = zone.trim();
        let zone = Zone::find(zone, kind, &nominal).map_err(|expected| refused(format!("`{text}`"), &expected))?;
        Ok(Self { nominal, zone })
    }

    /// Its limits of size.
    pub fn sizes(&self) -> Sizes {
        let size = |micrometres: i32| &self.nominal + &micrometres_as_mm(micrometres);
        Sizes { min: size(self.zone.lower), max: size(self.zone.upper) }
    }
}

fn micrometres_as_mm(micrometres: i32) -> Exact {
    (&Exact::whole(micrometres.into()) * &Exact::power_of_ten(-3)).written(3)
}

/// Smallest and largest clearance of a pair, in mm; below zero is interference.
pub fn clearance(hole: &Sizes, shaft: &Sizes) -> Sizes {
    Sizes { min: &hole.min - &shaft.max, max: &hole.max - &shaft.min }
}

/// `fit/1`.
pub const FORMULA: Formula = Formula {
    name: "fit",
    number: 1,
    purpose: "limits of size of a zone, clearances of a pair",
    keys: &[
        Key::optional("hole", Shape::Text, "size and zone, 50 H7"),
        Key::optional("shaft", Shape::Text, "size and zone, 50 f7"),
        Key::optional("pair", Shape::Text, "both in one, 50 H7/f7"),
    ],
    outputs: &[
        Output::new("hole: min, max", "mm", "limits of size of the hole"),
        Output::new("shaft: min, max", "mm", "limits of size of the shaft"),
        Output::new("clearance: min, max", "mm", "below zero is interference"),
    ],
    source: "ISO 286-1:2010 table 1, ISO 286-2:2010 (compared with a public copy of the tables)",
    example: &["hole=50 H7", "shaft=50 f7"],
    expected: &[("hole.max", "50.025"), ("shaft.min", "49.95"), ("clearance.min", "0.025"), ("clearance.max", "0.075")],
    impossible: nothing,
    reckon,
};

/// Hole and shaft of `50 H7/f7`; the shaft has the size of the hole.
fn pair(text: &str) -> (String, String) {
    let (hole, shaft) = text.split_once('/').unwrap_or((text, ""));
    let end = hole.trim().find(|c: char| c.is_ascii_alphabetic() || c.is_whitespace());
    let size = end.and_then(|end| hole.trim().get(..end)).unwrap_or_default();
    (hole.trim().to_owned(), format!("{size} {}", shaft.trim()))
}

fn reckon(given: &Given) -> Result<Outcome, Vec<Problem>> {
    let mut problems = Vec::new();
    let pair = given.text_if("pair").map(pair);
    if pair.is_some() && (given.has("hole") || given.has("shaft")) {
        return Err(Problem::impossible("pair", "A pair beside a hole or a shaft.", "Give one or the other.").into());
    }
    let mut read = |key: &str, kind: Kind| {
        let of_pair = pair.as_ref().map(|(hole, shaft)| if kind == Kind::Hole { hole } else { shaft }.as_str());
        let text = of_pair.or_else(|| given.text_if(key))?;
        let feature = Feature::parse(text, kind);
        feature.map_err(|no| problems.push(Problem::new(key, Trouble::Unreadable, no.found, no.expected))).ok()
    };
    let (hole, shaft) = (read("hole", Kind::Hole), read("shaft", Kind::Shaft));
    if let (Some(hole), Some(shaft)) = (&hole, &shaft)
        && hole.nominal != shaft.nominal
    {
        let found = format!("The hole is {}, the shaft {}.", hole.nominal, shaft.nominal);
        problems.push(Problem::impossible("", found, "A pair has one nominal size."));
    }
    if pair.is_none() && !given.has("hole") && !given.has("shaft") {
        problems.push(Problem::new("hole", Trouble::Missing, "nothing", "hole, shaft or both"));
    }
    if !problems.is_empty() {
        return Err(problems);
    }
    let mut working = Working::of(&FORMULA);
    let mut answers = Answers::new();
    let mut said = Vec::new();
    let pair = [("hole", hole.as_ref().map(Feature::sizes)), ("shaft", shaft.as_ref().map(Feature::sizes))];
    for ((name, sizes), feature) in pair.iter().zip([&hole, &shaft]) {
        if let (Some(sizes), Some(feature)) = (sizes, feature) {
            let Zone { upper, lower, .. } = feature.zone;
            let result = format!("{} to {} mm", sizes.min, sizes.max);
            working.say(format!("{name}, by the table: {lower:+} um to {upper:+} um"));
            for (end, deviation, size) in [("smallest", lower, &sizes.min), ("largest", upper, &sizes.max)] {
                let (sign, off) = if deviation < 0 { ("-", -deviation) } else { ("+", deviation) };
                let put_in = format!("{} mm {sign} {} mm", feature.nominal, micrometres_as_mm(off));
                working.step(format!("{end} {name}"), "nominal + deviation", put_in, format!("{size} mm"));
            }
            said.push(format!("{name} {result}"));
            answers = answers.map(name, shown(sizes));
        }
    }
    if let [(_, Some(hole)), (_, Some(shaft))] = &pair {
        let clearance = clearance(hole, shaft);
        let smallest = format!("{} mm - {} mm", hole.min, shaft.max);
        working.step("smallest clearance", "smallest hole - largest shaft", smallest, format!("{} mm", clearance.min));
        let largest = format!("{} mm - {} mm", hole.max, shaft.min);
        working.step("largest clearance", "largest hole - smallest shaft", largest, format!("{} mm", clearance.max));
        said = vec![format!("clearance {} to {} mm", clearance.min, clearance.max)];
        answers = answers.map("clearance", shown(&clearance));
    }
    Ok(Outcome { answers, working: working.resulting(said.join(", ")) })
}

fn shown(sizes: &Sizes) -> Answers {
    Answers::new().exact("min", &sizes.min).exact("max", &sizes.max)
}
