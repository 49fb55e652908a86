//! Diametral clearance of a bush by the lift method: dial with the bush pressed up, less dial with it let down.

use super::answer::{Answer, Answers};
use super::formula::{Formula, Outcome, Output};
use super::given::Given;
use super::impossible::namesakes;
use super::problem::Problem;
use super::shape::{Key, Range, Shape};
use super::working::{Working, counted};
use crate::domain::exact::Exact;
use crate::domain::refusal::RefusalKind;
use crate::domain::unit::Unit;

/// Repeats of one place may lie this many divisions apart; beyond, all are retaken. Common practice, no source.
const DIVISIONS_APART: u32 = 2;

/// One lift: the dial down, then up, in mm, in the plunger's sense.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Pair {
    /// Bush let down.
    pub down: Exact,
    /// Bush pressed up.
    pub up: Exact,
}

/// The repeats at one place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Place {
    /// `inner 0`.
    pub name: String,
    /// In the order taken, at least one.
    pub pairs: Vec<Pair>,
    /// Division of the dial it was taken with, in mm, where repeats are to be judged; the finer of two.
    pub division: Option<Exact>,
}

/// Whether the repeats of a place agree well enough.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Agreement {
    /// They do.
    Agree,
    /// They lie more than two divisions apart: retake all.
    Retake,
    /// The dial's division is not known, so nothing is judged.
    NotJudged,
}

/// The clearance at one place, in mm.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PlaceLift {
    /// The readings it comes from.
    pub place: Place,
    /// One for each repeat.
    pub clearances: Vec<Exact>,
    /// Their mean, exact.
    pub mean: Exact,
    /// Largest less smallest.
    pub range: Exact,
    /// Whether they agree.
    pub agreement: Agreement,
}

/// The clearances of a bush, in mm. Repeats are averaged, places never are: the largest and the smallest count.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Lift {
    /// In the order given.
    pub places: Vec<PlaceLift>,
    /// The place with the largest mean, the first of equals.
    pub largest: PlaceLift,
    /// The place with the smallest mean, the first of equals.
    pub smallest: PlaceLift,
}

/// The clearance of one repeat, in mm.
///
/// # Errors
/// `NoAnswer` when `up` is not above `down`: the dial stands the wrong way round, or a turn was missed.
pub fn clearance(pair: &Pair) -> Result<Exact, RefusalKind> {
    let clearance = &pair.up - &pair.down;
    if clearance.is_negative() || clearance.is_zero() {
        return Err(RefusalKind::NoAnswer {
            why: format!("Up {} is not above down {}.", pair.up, pair.down),
            mend: "Retake down, add the missed turn, or type up again.",
        });
    }
    Ok(clearance)
}

/// The clearances of all places, the repeats of each against its own dial. Common practice, no source.
///
/// # Errors
/// `TooFew` without a place, or with a place without a pair; `NoAnswer` as [`clearance`].
pub fn lift(places: &[Place]) -> Result<Lift, RefusalKind> {
    let places: Vec<_> = places.iter().map(at_place).collect::<Result<_, _>>()?;
    let none = || RefusalKind::TooFew { what: "places", given: 0, needed: 1 };
    let mut largest = places.first().ok_or_else(none)?;
    let mut smallest = largest;
    for place in &places {
        if place.mean > largest.mean {
            largest = place;
        }
        if place.mean < smallest.mean {
            smallest = place;
        }
    }
    let (largest, smallest) = (largest.clone(), smallest.clone());
    Ok(Lift { places, largest, smallest })
}

fn at_place(place: &Place) -> Result<PlaceLift, RefusalKind> {
    let clearances: Vec<_> = place.pairs.iter().map(clearance).collect::<Result<_, _>>()?;
    let none = || RefusalKind::TooFew { what: "lifts", given: 0, needed: 1 };
    let mean = super::mean(&clearances).ok_or_else(none)?;
    let range = super::range(&clearances).ok_or_else(none)?;
    let agreement = match &place.division {
        None => Agreement::NotJudged,
        Some(division) if range > division * &Exact::from(DIVISIONS_APART) => Agreement::Retake,
        Some(_) => Agreement::Agree,
    };
    Ok(PlaceLift { place: place.clone(), clearances, mean, range, agreement })
}

impl Lift {
    /// The working, place by place.
    pub fn working(&self) -> Working {
        let mut working = Working::of(&FORMULA);
        for place in &self.places {
            working.say(format!("{}:", place.place.name));
            for (number, (pair, clearance)) in (1..).zip(place.place.pairs.iter().zip(&place.clearances)) {
                let put_in = format!("{} mm - {}", pair.up, super::behind_sign(&format!("{} mm", pair.down)));
                working.step(format!("c{number}"), "up - down", put_in, format!("{clearance} mm"));
            }
            let count = place.clearances.len();
            if count > 1 {
                let sum: Exact = place.clearances.iter().sum();
                let mean = format!("{} mm", place.mean.at_most(4));
                working.step("mean", "sum of c / n", format!("{sum} mm / {count}"), mean);
                place.tell_range(&mut working);
            }
        }
        let worst = |place: &PlaceLift| format!("{} mm at {}", place.mean.at_most(4), place.place.name);
        working.resulting(format!("largest {}, smallest {}", worst(&self.largest), worst(&self.smallest)))
    }

    fn answers(&self) -> Answers {
        let worst = |place: &PlaceLift| Answers::new().text("place", &place.place.name).exact("mean", &place.mean);
        Answers::new()
            .maps("places", self.places.iter().map(PlaceLift::answers))
            .map("largest", worst(&self.largest))
            .map("smallest", worst(&self.smallest))
    }
}

impl PlaceLift {
    fn tell_range(&self, working: &mut Working) {
        let (Some(largest), Some(smallest)) = (self.clearances.iter().max(), self.clearances.iter().min()) else {
            return;
        };
        let put_in = format!("{largest} mm - {smallest} mm");
        working.step("range", "largest c - smallest c", put_in, format!("{} mm", self.range));
        let Some(division) = &self.place.division else { return };
        match self.agreement {
            Agreement::Retake => {
                working.say(format!("more than {DIVISIONS_APART} divisions of {division} mm apart: retake all"));
            }
            Agreement::Agree | Agreement::NotJudged => {
                working.say(format!("not more than {DIVISIONS_APART} divisions of {division} mm apart: they agree"));
            }
        }
    }

    fn answers(&self) -> Answers {
        let answers = Answers::new()
            .text("place", &self.place.name)
            .list("clearances", self.clearances.iter().map(Answer::exact))
            .exact("mean", &self.mean)
            .exact("range", &self.range);
        match self.agreement {
            Agreement::Agree => answers.flag("retake", false),
            Agreement::Retake => answers.flag("retake", true),
            Agreement::NotJudged => answers.absent("retake", "the dial's division is not given"),
        }
    }
}

const PAIRS: Shape = Shape::List(&Shape::List(&Shape::Figure(Unit::Millimetre, Range::Any)));

/// `lift/1`.
pub const FORMULA: Formula = Formula {
    name: "lift",
    number: 1,
    purpose: "clearance by lift, largest and smallest place",
    keys: &[
        Key::required(
            "places",
            Shape::List(&Shape::Map(&[
                Key::required("place", Shape::Text, "name of the place"),
                Key::required("pairs", PAIRS, "[down, up] of each repeat"),
            ])),
            "the places where the bush was lifted",
        ),
        Key::optional(
            "division",
            Shape::Figure(Unit::Millimetre, Range::Positive),
            "division of the dial; without it no retake is judged",
        ),
    ],
    outputs: &[
        Output::new("places: place, clearances, mean, range, retake", "mm", "each place in the order given"),
        Output::new("largest: place, mean", "mm", "place with the largest mean"),
        Output::new("smallest: place, mean", "mm", "place with the smallest mean"),
    ],
    source: "common practice, no source",
    example: &[
        "places=[{place: outer 0, pairs: [[0.020, 0.228], [0.020, 0.230], [0.022, 0.230]]}, \
         {place: outer 90, pairs: [[0.020, 0.224], [0.020, 0.224], [0.020, 0.226]]}]",
        "division=0.002",
    ],
    expected: &[
        ("largest.place", "outer 0"),
        ("largest.mean_exact", "313/1500"),
        ("smallest.mean_exact", "307/1500"),
        ("places.0.retake", "false"),
    ],
    impossible: |given| namesakes(given, "places", "place"),
    reckon,
};

fn reckon(given: &Given) -> Result<Outcome, Vec<Problem>> {
    let mut problems = Vec::new();
    let mut places = Vec::new();
    let division = given.figure_if("division");
    for map in given.maps("places")? {
        let mut pairs = Vec::new();
        for (number, row) in (1..).zip(map.rows("pairs")?) {
            let key = format!("{} {number}", map.path_of("pairs"));
            let [down, up] = row.as_slice() else {
                let found = format!("Found {}.", counted(row.len(), "figure"));
                problems.push(Problem::impossible(key, found, "Each pair is [down, up]."));
                continue;
            };
            let pair = Pair { down: down.clone(), up: up.clone() };
            problems.extend(clearance(&pair).err().map(|kind| Problem::impossible(key, kind.what(), kind.mend())));
            pairs.push(pair);
        }
        places.push(Place { name: map.text("place")?.to_owned(), pairs, division: division.clone() });
    }
    if !problems.is_empty() {
        return Err(problems);
    }
    let lift = lift(&places)?;
    Ok(Outcome { answers: lift.answers(), working: lift.working() })
}
