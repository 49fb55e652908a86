//! Wear and form of a journal from two-point diameters: step wear, ovality, taper.

use super::answer::Answers;
use super::formula::{Formula, Outcome, Output};
use super::given::Given;
use super::impossible::namesakes;
use super::problem::Problem;
use super::shape::{Key, Range, Shape};
use super::working::Working;
use crate::domain::exact::Exact;
use crate::domain::refusal::RefusalKind;
use crate::domain::unit::Unit;

/// Diameters of one plane, in mm, in the same directions on every plane.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Plane {
    /// `a`.
    pub name: String,
    /// One for each direction, at least one.
    pub diameters: Vec<Exact>,
}

/// A figure and where it was found.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Worst {
    /// In mm.
    pub value: Exact,
    /// A plane, a direction, or both; the first of equals.
    pub place: String,
}

/// What a journal's diameters say, in mm. Source: two-point size, terms of ISO 14405-1.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Journal {
    /// Largest unworn diameter less the smallest worn one; where: that of the smallest.
    pub step_wear: Worst,
    /// Largest range within a plane; `None` from a single direction, which cannot show it.
    pub ovality: Option<Worst>,
    /// Largest range along one direction; `None` from a single plane.
    pub taper: Option<Worst>,
    /// The smallest worn diameter.
    pub smallest: Worst,
    /// The largest unworn diameter.
    pub unworn: Exact,
    directions: usize,
    /// The range of each plane, and along each direction.
    planes: Vec<Spread>,
    lines: Vec<Spread>,
}

/// The largest and the smallest of some diameters, and whose they are.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Spread {
    place: String,
    largest: Exact,
    smallest: Exact,
}

impl Spread {
    /// `None` of nothing.
    fn of(place: String, row: &[Exact]) -> Option<Self> {
        Some(Self { place, largest: row.iter().max()?.clone(), smallest: row.iter().min()?.clone() })
    }

    fn range(&self) -> Exact {
        &self.largest - &self.smallest
    }
}

/// Reckons a journal; `directions` names the directions, else they are numbered from 1.
///
/// # Errors
/// `TooFew` without an unworn diameter, a plane or a diameter; `NoAnswer` when the planes have not all the same number of
/// directions.
pub fn journal(unworn: &[Exact], planes: &[Plane], directions: &[&str]) -> Result<Journal, RefusalKind> {
    let too_few = |what| RefusalKind::TooFew { what, given: 0, needed: 1 };
    let unworn = unworn.iter().max().ok_or_else(|| too_few("unworn diameters"))?;
    let count = planes.first().ok_or_else(|| too_few("planes"))?.diameters.len();
    if let Some(odd) = planes.iter().find(|plane| plane.diameters.len() != count) {
        return Err(RefusalKind::NoAnswer {
            why: format!("Plane {} has {} diameters, the first has {count}.", odd.name, odd.diameters.len()),
            mend: "Measure the same directions on every plane.",
        });
    }
    let direction = |number: usize| {
        directions.get(number).map_or_else(|| format!("direction {}", number + 1), |name| (*name).to_owned())
    };
    let spots = planes.iter().flat_map(|plane| {
        let spot = move |(number, diameter): (usize, &Exact)| {
            (format!("{} {}", plane.name, direction(number)), diameter.clone())
        };
        plane.diameters.iter().enumerate().map(spot)
    });
    let smallest = spots
        .reduce(|smallest, spot| if spot.1 < smallest.1 { spot } else { smallest })
        .map(|(place, value)| Worst { value, place })
        .ok_or_else(|| too_few("diameters"))?;
    let along = |number: usize| -> Vec<Exact> {
        planes.iter().filter_map(|plane| plane.diameters.get(number).cloned()).collect()
    };
    let across: Vec<_> = planes.iter().filter_map(|plane| Spread::of(plane.name.clone(), &plane.diameters)).collect();
    let lines: Vec<_> = (0..count).filter_map(|number| Spread::of(direction(number), &along(number))).collect();
    Ok(Journal {
        step_wear: Worst { value: unworn - &smallest.value, place: smallest.place.clone() },
        ovality: if count > 1 { widest(&across) } else { None },
        taper: if planes.len() > 1 { widest(&lines) } else { None },
        smallest,
        unworn: unworn.clone(),
        directions: count,
        planes: across,
        lines,
    })
}

/// The largest of the ranges, and whose it is; the first of equals.
fn widest(spreads: &[Spread]) -> Option<Worst> {
    let ranges = spreads.iter().map(|spread| Worst { value: spread.range(), place: spread.place.clone() });
    ranges.reduce(|worst, one| if one.value > worst.value { one } else { worst })
}

/// What can be asked of a journal.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Wear {
    /// Unworn less smallest.
    Step,
    /// Two-point range in a plane.
    Ovality,
    /// Largest difference along one line.
    Taper,
}

impl Journal {
    /// The figure asked for, and where it was found; `None` when these diameters cannot show it.
    pub fn worst(&self, wear: Wear) -> Option<&Worst> {
        match wear {
            Wear::Step => Some(&self.step_wear),
            Wear::Ovality => self.ovality.as_ref(),
            Wear::Taper => self.taper.as_ref(),
        }
    }

    /// The working of one of them.
    pub fn working_of(&self, wear: Wear) -> Working {
        let mut working = Working::of(&FORMULA);
        self.steps(wear, &mut working);
        working.purpose = match wear {
            Wear::Step => "largest unworn diameter less smallest worn one",
            Wear::Ovality => "largest less smallest diameter in one plane",
            Wear::Taper => "largest less smallest diameter along one line",
        };
        let result = self.worst(wear).map(|worst| format!("{} mm at {}", worst.value, worst.place));
        working.resulting(result.unwrap_or_else(|| NOT_SHOWN.to_owned()))
    }

    /// The working.
    pub fn working(&self) -> Working {
        let mut working = Working::of(&FORMULA);
        for wear in [Wear::Step, Wear::Ovality, Wear::Taper] {
            self.steps(wear, &mut working);
        }
        if self.directions == 2 {
            working.say("two directions can miss an oval wholly; four are better");
        }
        let worst = |worst: &Option<Worst>| worst.as_ref().map_or("none".to_owned(), |worst| worst.value.to_string());
        working.resulting(format!(
            "step wear {}, ovality {}, taper {} mm",
            self.step_wear.value,
            worst(&self.ovality),
            worst(&self.taper)
        ))
    }

    fn steps(&self, wear: Wear, working: &mut Working) {
        let (name, formula, spreads) = match wear {
            Wear::Step => return self.step_wear_steps(working),
            Wear::Ovality => ("ovality", "largest range in a plane", &self.planes),
            Wear::Taper => ("taper", "largest range along a direction", &self.lines),
        };
        for spread in spreads.iter().filter(|_| self.worst(wear).is_some()) {
            let Spread { place, largest, smallest } = spread;
            let put_in = format!("{largest} mm - {smallest} mm");
            working.step(format!("range, {place}"), "largest - smallest", put_in, format!("{} mm", spread.range()));
        }
        let result = self.worst(wear).map(|worst| format!("{} mm, {}", worst.value, worst.place));
        working.step(name, formula, "", result.unwrap_or_else(|| NOT_SHOWN.to_owned()));
    }

    fn step_wear_steps(&self, working: &mut Working) {
        let Worst { value: smallest, place } = &self.smallest;
        working.step("unworn", "largest beside the wear", "", format!("{} mm", self.unworn));
        working.step("smallest", "", "", format!("{smallest} mm at {place}"));
        let (put_in, wear) = (format!("{} mm - {smallest} mm", self.unworn), &self.step_wear.value);
        working.step("step wear", "unworn - smallest", put_in, format!("{wear} mm"));
        if wear.is_negative() {
            working.say("below nothing: a size was misread, unless the gauge may be so far off");
        }
    }

    fn answers(&self) -> Answers {
        let worst = |worst: &Worst| Answers::new().exact("value", &worst.value).text("where", &worst.place);
        let answers = Answers::new().map("step_wear", worst(&self.step_wear));
        let answers = match &self.ovality {
            Some(ovality) => answers.map("ovality", worst(ovality)),
            None => answers.absent("ovality", "one direction does not show it"),
        };
        let answers = match &self.taper {
            Some(taper) => answers.map("taper", worst(taper)),
            None => answers.absent("taper", "one plane does not show it"),
        };
        answers.map("smallest", worst(&self.smallest))
    }
}

const NOT_SHOWN: &str = "not shown by these diameters";

const DIAMETERS: Shape = Shape::List(&Shape::Figure(Unit::Millimetre, Range::Positive));

/// `journal/1`.
pub const FORMULA: Formula = Formula {
    name: "journal",
    number: 1,
    purpose: "step wear, ovality and taper of a journal",
    keys: &[
        Key::required("unworn", DIAMETERS, "diameters beside the worn part; the largest counts"),
        Key::required(
            "planes",
            Shape::List(&Shape::Map(&[
                Key::required("plane", Shape::Text, "name of the plane"),
                Key::required("diameters", DIAMETERS, "in the same directions on every plane"),
            ])),
            "the planes across the worn part",
        ),
        Key::optional("directions", Shape::List(&Shape::Text), "names of the directions, such as 0; 45; 90; 135"),
    ],
    outputs: &[
        Output::new("step_wear: value, where", "mm", "largest unworn less smallest worn diameter"),
        Output::new("ovality: value, where", "mm", "largest range within a plane"),
        Output::new("taper: value, where", "mm", "largest range along one direction"),
        Output::new("smallest: value, where", "mm", "smallest worn diameter"),
    ],
    source: "two-point size, terms of ISO 14405-1",
    example: &[
        "unworn=59.931; 59.931",
        "planes=[{plane: a, diameters: [59.917, 59.915, 59.916, 59.918]}, \
         {plane: c, diameters: [59.912, 59.909, 59.911, 59.913]}]",
        "directions=0; 45; 90; 135",
    ],
    expected: &[
        ("step_wear.value", "0.022"),
        ("step_wear.where", "c 45"),
        ("ovality.value", "0.004"),
        ("taper.value", "0.006"),
        ("taper.where", "45"),
    ],
    impossible,
    reckon,
};

fn impossible(given: &Given) -> Vec<Problem> {
    let mut problems = namesakes(given, "planes", "plane");
    let maps = given.maps("planes").unwrap_or_default();
    let Some(wanted) = maps.first().and_then(|first| first.count("diameters")) else { return problems };
    for map in maps {
        if let Some(count) = map.count("diameters").filter(|count| *count != wanted) {
            let found = format!("Found {count}, the first plane has {wanted}.");
            let expected = "Measure the same directions on every plane.";
            problems.push(Problem::impossible(map.path_of("diameters"), found, expected));
        }
    }
    if let Some(count) = given.count("directions").filter(|count| *count != wanted) {
        let found = format!("Found {count}, each plane has {wanted}.");
        problems.push(Problem::impossible("directions", found, "Name each direction once."));
    }
    problems
}

fn reckon(given: &Given) -> Result<Outcome, Vec<Problem>> {
    let mut planes = Vec::new();
    for map in given.maps("planes")? {
        planes.push(Plane { name: map.text("plane")?.to_owned(), diameters: map.figures("diameters")? });
    }
    let directions = given.texts_if("directions").unwrap_or_default();
    let journal = journal(&given.figures("unworn")?, &planes, &directions)?;
    Ok(Outcome { answers: journal.answers(), working: journal.working() })
}
