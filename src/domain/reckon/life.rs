//! Hours of a part since new, and what its change interval leaves.

use super::answer::Answers;
use super::formula::{Formula, Outcome, Output};
use super::given::Given;
use super::problem::{Problem, Trouble};
use super::shape::{Key, Range, Shape};
use super::working::Working;
use crate::domain::unit::Unit;

const HOURS: Shape = Shape::Figure(Unit::Hour, Range::NotNegative);

/// `life/1`.
pub const FORMULA: Formula = Formula {
    name: "life",
    number: 1,
    purpose: "hours of a part since new, against its change interval",
    keys: &[
        Key::required("machine", HOURS, "hours of the machine now"),
        Key::default("machine_then", HOURS, "0", "hours of the machine when the part was fitted"),
        Key::default("part_then", HOURS, "0", "hours the part had then"),
        Key::optional("interval", Shape::Figure(Unit::Hour, Range::Positive), "change interval, from the limits sheet"),
    ],
    outputs: &[
        Output::new("hours", "h", "of the part since new"),
        Output::new("left", "h", "of the interval; below zero it is overdrawn"),
    ],
    source: "counting",
    example: &["machine=36000", "machine_then=24000", "part_then=1500", "interval=25000"],
    expected: &[("hours", "13500"), ("left", "11500")],
    impossible,
    reckon,
};

/// A counter that stands lower than at the fitting has been renewed, and tells nothing of the hours before.
fn impossible(given: &Given) -> Vec<Problem> {
    let (Some(now), Some(then)) = (given.figure_if("machine"), given.figure_if("machine_then")) else {
        return Vec::new();
    };
    let expected = || format!("`machine_then`, {then} h, or more; of a renewed counter add the old one's hours");
    let lower = || Problem::new("machine", Trouble::OutOfRange, format!("`{now}`"), expected());
    (now < then).then(lower).into_iter().collect()
}

fn reckon(given: &Given) -> Result<Outcome, Vec<Problem>> {
    let (now, then, part) = (given.figure("machine")?, given.figure("machine_then")?, given.figure("part_then")?);
    let hours = &part + &(&now - &then);
    let mut working = Working::of(&FORMULA);
    let put_in = format!("{part} h + {now} h - {then} h");
    working.step("hours", "part then + machine now - machine then", put_in, format!("{hours} h"));
    let answers = Answers::new().exact("hours", &hours);
    let Some(interval) = given.figure_if("interval") else {
        let answers = answers.absent("left", "interval is not given");
        return Ok(Outcome { answers, working: working.resulting(format!("{hours} h since new")) });
    };
    let left = &interval - &hours;
    working.step("left", "interval - hours", format!("{interval} h - {hours} h"), format!("{left} h"));
    let result = format!("{hours} h since new, {left} h of {interval} h left");
    Ok(Outcome { answers: answers.exact("left", &left), working: working.resulting(result) })
}
