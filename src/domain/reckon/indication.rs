//! Indications of a penetrant test: linear or rounded, and which lie so near that they count as one.

use super::answer::{Answer, Answers};
use super::formula::{Formula, Outcome, Output};
use super::given::Given;
use super::impossible::nothing;
use super::problem::{Problem, Trouble};
use super::quantity::shown;
use super::shape::{Key, Range, Shape};
use super::working::{Working, counted};
use crate::domain::exact::Exact;
use crate::domain::refusal::RefusalKind;
use crate::domain::unit::Unit;

mod groups;

pub use groups::{Group, Lying, group};

/// Linear when longer than this many widths. Source: ISO 23277:2015 clause 3 (from memory).
const WIDTHS: u32 = 3;

/// What an indication looks like.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Class {
    /// Longer than three times its width.
    Linear,
    /// All others; exactly three times is rounded.
    Rounded,
}

impl Class {
    /// The word in files.
    pub fn word(self) -> &'static str {
        match self {
            Self::Linear => "linear",
            Self::Rounded => "rounded",
        }
    }

    /// The class of an indication of that length and width, in one unit.
    ///
    /// # Errors
    /// `NoAnswer` when it is wider than long: length is the longer of the two.
    pub fn of(length: &Exact, width: &Exact) -> Result<Self, RefusalKind> {
        if length < width {
            return Err(RefusalKind::NoAnswer {
                why: format!("The length {length} is less than the width {width}."),
                mend: "Length is the longer of the two: exchange them.",
            });
        }
        Ok(if length > &(width * &Exact::from(WIDTHS)) { Self::Linear } else { Self::Rounded })
    }
}

const LENGTH: Shape = Shape::Figure(Unit::Millimetre, Range::Positive);
const PLACE: Shape = Shape::Figure(Unit::Millimetre, Range::Any);

/// `indication/1`.
pub const FORMULA: Formula = Formula {
    name: "indication",
    number: 1,
    purpose: "indications linear or rounded, and what lies near",
    keys: &[
        Key::required(
            "indications",
            Shape::List(&Shape::Map(&[
                Key::required("length", LENGTH, "longest extent"),
                Key::required("width", LENGTH, "extent across"),
                Key::optional("x", PLACE, "of its middle; needed for groups"),
                Key::optional("y", PLACE, "of its middle; needed for groups"),
                Key::optional(
                    "direction",
                    Shape::Figure(Unit::Degree, Range::Any),
                    "of its length, from x toward y; needed for groups unless as long as wide",
                ),
            ])),
            "what shows after development",
        ),
        Key::optional("gap", LENGTH, "what lies nearer than this, edge to edge, is one group"),
    ],
    outputs: &[
        Output::new("indications: class", "", "linear or rounded"),
        Output::new("groups: members, length", "mm", "numbers from 1, and the whole extent, edge to edge"),
    ],
    source: "ISO 23277:2015 clause 3 (from memory); ISO 3452-1 practice",
    example: &[
        "indications=[{length: 3.1, width: 1, x: 0, y: 0, direction: 0}, \
         {length: 2, width: 1, x: 3.5, y: 0, direction: 0}, {length: 1, width: 1, x: 20, y: 0}]",
        "gap=2",
    ],
    expected: &[
        ("indications.0.class", "linear"),
        ("indications.1.class", "rounded"),
        ("groups.0.members", "[1, 2]"),
        ("groups.1.members", "[3]"),
    ],
    impossible: nothing,
    reckon,
};

fn reckon(given: &Given) -> Result<Outcome, Vec<Problem>> {
    let mut problems = Vec::new();
    let gap = given.figure_if("gap");
    let mut working = Working::of(&FORMULA);
    let (mut maps, mut lying) = (Vec::new(), Vec::new());
    for (number, map) in (1..).zip(given.maps("indications")?) {
        let (length, width) = (map.figure("length")?, map.figure("width")?);
        match Class::of(&length, &width) {
            Ok(class) => {
                let sign = if class == Class::Linear { ">" } else { "<=" };
                let bound = &width * &Exact::from(WIDTHS);
                let told = format!("length {length} mm {sign} {WIDTHS} x width = {WIDTHS} x {width} mm = {bound} mm");
                working.say(format!("{number}: {told}: {}", class.word()));
                maps.push(Answers::new().text("class", class.word()));
            }
            Err(kind) => problems.push(Problem::impossible(map.path_of("length"), kind.what(), kind.mend())),
        }
        if gap.is_some() {
            lying.extend(lies(map, length, width, &mut problems));
        }
    }
    if !problems.is_empty() {
        return Err(problems);
    }
    let linear = maps.iter().filter(|map| map.at("class") == Some(&Answer::Text("linear".to_owned()))).count();
    let result = format!("{linear} linear, {} rounded", maps.len() - linear);
    let answers = Answers::new().maps("indications", maps);
    let Some(gap) = gap else {
        let answers = answers.absent("groups", "gap is not given");
        return Ok(Outcome { answers, working: working.resulting(result) });
    };
    let groups = group(&lying, &gap);
    for (one, other, between) in groups::near(&lying, &gap) {
        working
            .say(format!("{one} to {other}: {} mm edge to edge, nearer than {gap} mm: one group", shown(between, 4)));
    }
    for (number, Group { members, length }) in (1..).zip(&groups) {
        let numbers: Vec<_> = members.iter().map(usize::to_string).collect();
        working.say(format!("group {number}: {}; {} mm from edge to edge", numbers.join(", "), shown(*length, 4)));
    }
    let result = format!("{result}, in {}", counted(groups.len(), "group"));
    let map = |Group { members, length }: &Group| {
        let numbers = members.iter().filter_map(|member| i64::try_from(*member).ok()).map(Answer::Whole);
        Answers::new().list("members", numbers).number("length", *length)
    };
    Ok(Outcome { answers: answers.maps("groups", groups.iter().map(map)), working: working.resulting(result) })
}

/// Where an indication lies; what is missing for that is a problem.
fn lies(map: &Given, length: Exact, width: Exact, problems: &mut Vec<Problem>) -> Option<Lying> {
    let mut needed = |key: &str, without: Option<Exact>| {
        let found = map.figure_if(key).or(without);
        if found.is_none() {
            let expected = "a figure, which groups need";
            problems.push(Problem::new(map.path_of(key), Trouble::Missing, "nothing", expected));
        }
        found
    };
    // what is as long as wide has no direction
    let any = (length == width).then(Exact::zero);
    let (x, y, direction) = (needed("x", None), needed("y", None), needed("direction", any));
    Some(Lying { length, width, x: x?, y: y?, direction: direction? })
}
