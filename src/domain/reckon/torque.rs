//! A torque in stages, in both units, and the order of the bolts around a flange.

use super::answer::{Answer, Answers};
use super::formula::{Formula, Outcome, Output};
use super::given::Given;
use super::problem::{Problem, Trouble};
use super::shape::{Key, Range, Shape};
use super::working::Working;
use crate::domain::exact::Exact;
use crate::domain::unit::{Dimension, Unit};

/// The order in which the bolts of a flange are tightened, numbered from 1 around it. Common practice, no source.
///
/// An even count goes in pairs of opposite bolts, each next pair as far as can be from those done; an odd count steps on
/// by nearly half a turn.
pub fn star(bolts: usize) -> Vec<usize> {
    let half = bolts / 2;
    if bolts % 2 == 1 {
        return (0..bolts).map(|number| number * half.max(1) % bolts + 1).collect();
    }
    let apart = |one: usize, other: usize| one.abs_diff(other).min(half - one.abs_diff(other));
    let mut pairs: Vec<usize> = Vec::new();
    let mut left: Vec<usize> = (0..half).collect();
    while !left.is_empty() {
        let nearest = |pair: usize| pairs.iter().map(|done| apart(pair, *done)).min().unwrap_or(half);
        let from_last = |pair: usize| pairs.last().map_or(0, |last| apart(pair, *last));
        // of equals the lowest number: the last that `max_by_key` meets
        let next = left.iter().copied().rev().max_by_key(|pair| (nearest(*pair), from_last(*pair)));
        left.retain(|pair| Some(*pair) != next);
        pairs.extend(next);
    }
    pairs.into_iter().flat_map(|pair| [pair + 1, pair + 1 + half]).collect()
}

/// The stages of a torque in N m: those shares of it, in percent.
pub fn stages(newton_metres: &Exact, percents: &[Exact]) -> Vec<Exact> {
    let hundredth = Exact::power_of_ten(-2);
    percents.iter().map(|percent| &(newton_metres * percent) * &hundredth).collect()
}

/// `torque/1`.
pub const FORMULA: Formula = Formula {
    name: "torque",
    number: 1,
    purpose: "stages of a torque, and the order of the bolts",
    keys: &[
        Key::required("value", Shape::AnyFigure(Range::Positive), "the full torque, in N m or lbf ft"),
        Key::default(
            "stages",
            Shape::List(&Shape::Figure(Unit::Percent, Range::Within("1", "100"))),
            "100",
            "rising shares of it",
        ),
        Key::optional("bolts", Shape::Whole(1, 200), "how many around the flange"),
    ],
    outputs: &[
        Output::new("stages: percent, n_m, lbf_ft", "%, N m, lbf ft", "each stage"),
        Output::new("order", "", "bolts in the order of tightening, numbered from 1 around the flange"),
    ],
    source: "units NIST SP 811:2008 appendix B; order common practice, no source",
    example: &["value=120 N m", "stages=30; 60; 100", "bolts=8"],
    expected: &[("stages.0.n_m", "36"), ("stages.2.n_m", "120"), ("order", "[1, 5, 3, 7, 2, 6, 4, 8]")],
    impossible,
    reckon,
};

fn impossible(given: &Given) -> Vec<Problem> {
    let percents = given.figures_if("stages").unwrap_or_default();
    let mut problems = Vec::new();
    if !percents.is_sorted_by(|one, next| one < next) {
        problems.push(Problem::impossible("stages", "The stages do not rise.", "Give them smallest first."));
    }
    let largest = percents.iter().max().filter(|last| **last != Exact::from(100));
    if let Some(last) = largest {
        let found = format!("The last stage is {last} %, not the full torque.");
        problems.push(Problem::impossible("stages", found, "End with 100."));
    }
    problems
}

fn reckon(given: &Given) -> Result<Outcome, Vec<Problem>> {
    let mut problems = Vec::new();
    let (size, unit) = given.with_unit_if("value").unwrap_or_default();
    let full = unit.and_then(|unit| unit.convert(&size, Unit::NewtonMetre));
    if full.is_none() {
        let found = unit.map_or_else(|| format!("`{size}` without a unit"), |unit| format!("`{size} {unit}`"));
        let expected = format!("{} with its unit, such as `{size} N m`", Dimension::Torque.one());
        problems.push(Problem::new("value", Trouble::WrongUnit, found, expected));
    }
    let percents = given.figures("stages")?;
    let Some(full) = full.filter(|_| problems.is_empty()) else { return Err(problems) };
    let mut working = Working::of(&FORMULA);
    let mut maps = Vec::new();
    let mut both: [Vec<String>; 2] = [Vec::new(), Vec::new()];
    for (percent, newtons) in percents.iter().zip(stages(&full, &percents)) {
        let pounds = Unit::NewtonMetre.convert(&newtons, Unit::PoundForceFoot).unwrap_or_default();
        let put_in = format!("{percent} / 100 x {} N m", full.at_most(4));
        let stage = format!("{} N m", newtons.at_most(1));
        working.step(format!("stage of {percent} %"), "share x torque", put_in, stage.clone());
        working.step("", "", format!("{stage} / 1.35582"), format!("{} lbf ft", pounds.at_most(1)));
        both.iter_mut().zip([&newtons, &pounds]).for_each(|(all, one)| all.push(one.at_most(1)));
        maps.push(Answers::new().exact("percent", percent).exact("n_m", &newtons).exact("lbf_ft", &pounds));
    }
    let answers = Answers::new().maps("stages", maps);
    working.say("1 lbf ft is 1.35582 N m");
    let [newtons, pounds] = both.map(|all| all.join(", "));
    let stages = format!("{newtons} N m ({pounds} lbf ft)");
    let Some(bolts) = given.whole_if("bolts").and_then(|bolts| usize::try_from(bolts).ok()) else {
        return Ok(Outcome {
            answers: answers.absent("order", "bolts is not given"),
            working: working.resulting(stages),
        });
    };
    let order = star(bolts);
    let numbers = order.iter().filter_map(|bolt| i64::try_from(*bolt).ok()).map(Answer::Whole);
    let answers = answers.list("order", numbers);
    let words: Vec<_> = order.iter().map(usize::to_string).collect();
    working.step("order", "", "", words.join(" "));
    working.say("all bolts at one stage before the next; then once around in turn at the full torque");
    let result = format!("{stages}, order {}", words.join(" "));
    Ok(Outcome { answers, working: working.resulting(result) })
}
