//! The one table of reckonings: name, number, keys, answers, source, worked example and function of each.

use super::answer::Answers;
use super::given::Given;
use super::problem::{Problem, Trouble};
use super::shape::{self, Key};
use super::tree::Tree;
use super::working::Working;
use super::{
    bow, budget, capable, circle, conformity, convert, due, feelers, fit, forecast, indication, journal, judge, lands,
    life, lift, line, relative_clearance, repeats, run_out, shrink, to_20, torque, unbalance, wear,
};

/// Every reckoning, in the order they are listed. A changed rule is a new row with the next number; the old row stays.
pub static FORMULAS: &[Formula] = &[
    judge::FORMULA,
    convert::FORMULA,
    repeats::FORMULA,
    lift::FORMULA,
    feelers::FORMULA,
    journal::FORMULA,
    wear::FORMULA,
    life::FORMULA,
    run_out::FORMULA,
    bow::FORMULA,
    circle::FORMULA,
    lands::FORMULA,
    relative_clearance::FORMULA,
    to_20::FORMULA,
    budget::FORMULA,
    conformity::FORMULA,
    capable::FORMULA,
    fit::FORMULA,
    unbalance::FORMULA,
    line::FORMULA,
    forecast::FIRST,
    forecast::FORMULA,
    indication::FORMULA,
    shrink::FORMULA,
    torque::FORMULA,
    due::FORMULA,
];

/// One reckoning as the outside sees it.
#[derive(Debug)]
pub struct Formula {
    /// `lift`.
    pub name: &'static str,
    /// 1 for `lift/1`.
    pub number: u32,
    /// What it reckons, in a line.
    pub purpose: &'static str,
    /// What it takes.
    pub keys: &'static [Key],
    /// What it gives.
    pub outputs: &'static [Output],
    /// Where the rule comes from.
    pub source: &'static str,
    /// A worked example, as typed behind the name.
    pub example: &'static [&'static str],
    /// What the example gives: path in the answers, and the value's text.
    pub expected: &'static [(&'static str, &'static str)],
    /// What cannot be although each figure is right by itself, all of it; the table lets nothing else past it.
    pub impossible: fn(&Given) -> Vec<Problem>,
    /// The reckoning over checked values.
    pub reckon: fn(&Given) -> Result<Outcome, Vec<Problem>>,
}

/// One key of the answer.
#[derive(Debug)]
pub struct Output {
    /// As written; members of a map behind a colon.
    pub name: &'static str,
    /// Unit, or empty.
    pub unit: &'static str,
    /// What it is, in a line.
    pub doc: &'static str,
}

/// A result and how it came about.
#[derive(Debug, Clone, PartialEq)]
pub struct Outcome {
    /// For programs.
    pub answers: Answers,
    /// For people.
    pub working: Working,
}

impl Output {
    /// A key of the answer.
    pub const fn new(name: &'static str, unit: &'static str, doc: &'static str) -> Self {
        Self { name, unit, doc }
    }
}

impl Formula {
    /// Name and number, `lift/1`.
    pub fn id(&self) -> String {
        format!("{}/{}", self.name, self.number)
    }

    /// The reckoning called `lift` (its newest number) or `lift/1`.
    pub fn find(name: &str) -> Option<&'static Self> {
        let newest = FORMULAS.iter().filter(|formula| formula.name == name).max_by_key(|formula| formula.number);
        newest.or_else(|| FORMULAS.iter().find(|formula| formula.id() == name))
    }

    /// Reads `tree` by the keys and reckons.
    ///
    /// # Errors
    /// Every problem of the figures, one by one and together.
    pub fn run(&self, tree: &Tree) -> Result<Outcome, Vec<Problem>> {
        let (given, mut problems) = shape::check(self.keys, tree);
        add_untold(&mut problems, (self.impossible)(&given));
        let outcome = (self.reckon)(&given);
        if problems.is_empty() {
            return outcome;
        }
        // a refusal of the whole, or what seems missing, may come from what was left out
        let sound = |more: &Problem| !more.key.is_empty() && more.trouble != Trouble::Missing;
        add_untold(&mut problems, outcome.err().into_iter().flatten().filter(sound));
        Err(problems)
    }
}

/// What is faulty already was left out: nothing is said of it twice.
fn add_untold(problems: &mut Vec<Problem>, more: impl IntoIterator<Item = Problem>) {
    for one in more {
        let within = |known: &Problem| known.key == one.key || known.key.starts_with(&format!("{} ", one.key));
        if one.key.is_empty() || !problems.iter().any(within) {
            problems.push(one);
        }
    }
}
