//! Wear of a part against its new size, where the new size is known and no unworn place lies beside the worn one.

use super::answer::Answers;
use super::formula::{Formula, Outcome, Output};
use super::given::Given;
use super::impossible::namesakes;
use super::problem::Problem;
use super::shape::{Key, Range, Shape};
use super::working::{Working, added};
use crate::domain::exact::Exact;
use crate::domain::unit::Unit;

/// The readings of one place and what they say, in mm.
struct Place<'a> {
    name: &'a str,
    values: Vec<Exact>,
    mean: Exact,
    wear: Exact,
}

const SIZE: Shape = Shape::Figure(Unit::Millimetre, Range::Positive);

/// `wear/1`.
pub const FORMULA: Formula = Formula {
    name: "wear",
    number: 1,
    purpose: "new size less the mean at each place; the worst counts",
    keys: &[
        Key::required("new", SIZE, "size of a new part, from the limits sheet"),
        Key::required(
            "places",
            Shape::List(&Shape::Map(&[
                Key::required("place", Shape::Text, "name of the place"),
                Key::required("values", Shape::List(&SIZE), "the repeats there"),
            ])),
            "the places measured",
        ),
    ],
    outputs: &[
        Output::new("places: place, mean, wear", "mm", "each place in the order given"),
        Output::new("largest: place, wear", "mm", "place with the most wear"),
        Output::new(
            "smallest: place, wear",
            "mm",
            "place with the least; below zero a size was misread, or is within u",
        ),
    ],
    source: "mean JCGM 100:2008 4.2; difference: common practice, no source",
    example: &["new=12.00", "places=[{place: near, values: [10.72, 10.70]}, {place: far, values: [10.68, 10.69]}]"],
    expected: &[
        ("largest.place", "far"),
        ("largest.wear", "1.315"),
        ("smallest.wear", "1.29"),
        ("places.0.mean", "10.71"),
    ],
    impossible: |given| namesakes(given, "places", "place"),
    reckon,
};

fn reckon(given: &Given) -> Result<Outcome, Vec<Problem>> {
    let new = given.figure("new")?;
    let mut working = Working::of(&FORMULA);
    let mut places = Vec::new();
    for map in given.maps("places")? {
        let values = map.figures("values")?;
        let mean = super::mean(&values).unwrap_or_default();
        let place = Place { name: map.text("place")?, wear: &new - &mean, values, mean };
        place.steps(&new, &mut working);
        places.push(place);
    }
    let largest = places.iter().reduce(|worst, one| if one.wear > worst.wear { one } else { worst });
    let smallest = places.iter().reduce(|best, one| if one.wear < best.wear { one } else { best });
    let ends = |answers: Answers, key: &str, place: Option<&Place<'_>>| match place {
        Some(Place { name, wear, .. }) => answers.map(key, Answers::new().text("place", *name).exact("wear", wear)),
        None => answers,
    };
    let each = |place: &Place<'_>| {
        Answers::new().text("place", place.name).exact("mean", &place.mean).exact("wear", &place.wear)
    };
    let answers = Answers::new().maps("places", places.iter().map(each));
    let answers = ends(ends(answers, "largest", largest), "smallest", smallest);
    let told = |place: &Place<'_>| format!("{} mm at {}", place.wear.at_most(4), place.name);
    let [largest, smallest] = [largest, smallest].map(|place| place.map(told).unwrap_or_default());
    Ok(Outcome { answers, working: working.resulting(format!("largest {largest}, smallest {smallest}")) })
}

impl Place<'_> {
    fn steps(&self, new: &Exact, working: &mut Working) {
        let Self { name, values, mean, wear } = self;
        working.say(format!("{name}:"));
        let shown = format!("{} mm", mean.at_most(4));
        if values.len() > 1 {
            let put_in = format!("({}) / {}", added(values, " mm"), values.len());
            working.step("mean", "sum of x / n", put_in, shown.clone());
        }
        working.step("wear", "new - mean", format!("{new} mm - {shown}"), format!("{} mm", wear.at_most(4)));
        if wear.is_negative() {
            working.say("below nothing: a size was misread, unless the gauge may be so far off");
        }
    }
}
