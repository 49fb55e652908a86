//! The row of `judge`.

use super::units::together;
use super::{Bench, Limit, Side};
use crate::domain::exact::Exact;
use crate::domain::reckon::guard::{guard, steps};
use crate::domain::reckon::impossible::{idle, none_of};
use crate::domain::reckon::line::square;
use crate::domain::reckon::one_unit::{OneUnit, whole};
use crate::domain::reckon::{Answers, Formula, Given, Key, Outcome, Output, Problem, Range, Shape, Trouble, Working};
use crate::domain::refusal::RefusalKind;
use crate::domain::sheet::Touching;
use crate::domain::unit::Unit;

/// `judge/1`.
pub const FORMULA: Formula = Formula {
    name: "judge",
    number: 1,
    purpose: "a figure or a difference against a limit and its guard",
    keys: &[
        Key::optional("value", Shape::AnyFigure(Range::Any), "the figure; or a and b"),
        Key::optional("a", Shape::AnyFigure(Range::Any), "a - b is judged"),
        Key::optional("b", Shape::AnyFigure(Range::Any), "a - b is judged"),
        Key::required("limit", Shape::AnyFigure(Range::Any), "the limit; plain figures beside lengths are mm"),
        Key::required(
            "side",
            Shape::Word(&["largest", "smallest"]),
            "whether the limit is the largest or the smallest",
        ),
        Key::required("touching", Shape::Word(&["fails", "passes"]), "what a figure exactly on the limit does"),
        Key::optional("u", Shape::AnyFigure(Range::NotNegative), "standard uncertainty, for the guarded rule"),
        Key::default(
            "rule",
            Shape::Word(&["simple", "guarded"]),
            "simple",
            "whether u counts short of the limit; needed with u",
        ),
        Key::default("factor", Shape::Figure(Unit::One, Range::NotNegative), "1.65", "the guard is factor times u"),
    ],
    outputs: &[
        Output::new("value", "unit", "what is judged"),
        Output::new("verdict", "", "within, undecided or past"),
        Output::new("room", "unit", "how far short of the limit; below zero beyond it"),
        Output::new("guard", "unit", "factor times u, u first rounded up to two figures; by the guarded rule"),
        Output::new("unit", "", "unit of the three: mm for lengths, else the limit's"),
    ],
    source: "guarded rule JCGM 106:2012; factor ISO 14253-1:2017 (from memory); past is past: this project",
    example: &["a=59.931 mm", "b=59.909 mm", "limit=0.022 mm", "side=largest", "touching=fails"],
    expected: &[("value", "0.022"), ("verdict", "past"), ("room", "0")],
    impossible,
    reckon,
};

/// The figures of a judgement, brought to one unit.
struct Figures {
    value: Exact,
    parts: Option<(Exact, Exact)>,
    limit: Limit,
    u: Option<Exact>,
    unit: Option<Unit>,
}

fn impossible(given: &Given) -> Vec<Problem> {
    let rule = if given.text_if("rule") == Some("guarded") {
        None
    } else if given.is_typed("u") && !given.is_typed("rule") {
        let expected = "guarded, or simple where u shall not count";
        Some(Problem::new("rule", Trouble::Missing, "nothing", expected))
    } else {
        idle(given, "factor", "it counts by the guarded rule alone")
    };
    none_of(given, &["value", "a", "b"], VALUE).into_iter().chain(rule).collect()
}

const VALUE: &str = "value, or a and b";

fn reckon(given: &Given) -> Result<Outcome, Vec<Problem>> {
    let figures = figures(given)?;
    let factor = given.figure("factor")?;
    let guarded = given.text("rule")? == "guarded";
    let guard = match (&figures.u, guarded) {
        (_, false) => None,
        (Some(u), true) => Some(guard(&square(u), &factor, None).ok_or_else(out_of_proportion)?),
        (None, true) => {
            let expected = "a standard uncertainty, which the guarded rule needs";
            return Err(Problem::new("u", Trouble::Missing, "nothing", expected).into());
        }
    };
    let verdict = figures.limit.judge(&figures.value, guard.as_ref().unwrap_or(&Exact::zero()));
    let answers = Answers::new()
        .exact("value", &figures.value)
        .text("verdict", verdict.word())
        .exact("room", &figures.limit.room(&figures.value));
    let answers = match &guard {
        Some(guard) => answers.exact("guard", guard),
        None => answers,
    };
    let answers = answers.text("unit", figures.unit.map_or("1", Unit::symbol));
    let working = figures.working(guard.as_ref().map(|guard| (guard, &factor)), verdict);
    Ok(Outcome { answers, working })
}

fn out_of_proportion() -> RefusalKind {
    RefusalKind::NoAnswer {
        why: "The uncertainty is out of all proportion.".to_owned(),
        mend: "Give it in the unit of the value.",
    }
}

fn figures(given: &Given) -> Result<Figures, Vec<Problem>> {
    let (sizes, unit) = together(given, &["value", "a", "b", "limit", "u"])?;
    let size = |key: &str| sizes.iter().find(|(name, _)| *name == key).map(|(_, size)| size.clone());
    let (value, parts) = match (size("value"), size("a"), size("b")) {
        (Some(value), None, None) => (value, None),
        (None, Some(a), Some(b)) => (&a - &b, Some((a, b))),
        (Some(_), _, _) => {
            return Err(Problem::impossible("value", "Found value beside a or b.", "Give value, or a and b.").into());
        }
        (None, a, b) => {
            let key = match (a, b) {
                (Some(_), _) => "b",
                (None, Some(_)) => "a",
                (None, None) => "value",
            };
            return Err(Problem::new(key, Trouble::Missing, "nothing", VALUE).into());
        }
    };
    let side = if given.text("side")? == "largest" { Side::Largest } else { Side::Smallest };
    let touching = if given.text("touching")? == "fails" { Touching::Fails } else { Touching::Passes };
    let at = size("limit").ok_or_else(|| Problem::new("limit", Trouble::Missing, "nothing", "a figure"))?;
    Ok(Figures { value, parts, limit: Limit { at, side, touching }, u: size("u"), unit })
}

impl Figures {
    fn working(&self, guard: Option<(&Exact, &Exact)>, verdict: Bench) -> Working {
        let mut working = Working::of(&FORMULA);
        let unit = self.unit.map_or_else(|| OneUnit::of(&[]), OneUnit::fixed);
        let value = unit.behind(whole(&self.value));
        match &self.parts {
            Some((a, b)) => {
                working.step("value", "a - b", format!("{} - {}", unit.behind(whole(a)), unit.put(b)), value);
            }
            None => working.step("value", "", "", value),
        }
        let limit = &self.limit;
        let (words, fails) = match (limit.side, limit.touching) {
            (Side::Largest, Touching::Fails) => ("limit - value", "at or above"),
            (Side::Largest, Touching::Passes) => ("limit - value", "above"),
            (Side::Smallest, Touching::Fails) => ("value - limit", "at or below"),
            (Side::Smallest, Touching::Passes) => ("value - limit", "below"),
        };
        working.say(format!("fails {fails} {}", unit.behind(whole(&limit.at))));
        let (from, less) = match limit.side {
            Side::Largest => (&limit.at, &self.value),
            Side::Smallest => (&self.value, &limit.at),
        };
        let put_in = format!("{} - {}", unit.behind(whole(from)), unit.put(less));
        working.step("room", words, put_in, unit.behind(whole(&limit.room(&self.value))));
        if let (Some((guard, factor)), Some(u)) = (guard, &self.u) {
            let rounded = guard.over(factor).unwrap_or_default();
            steps(&mut working, (unit.behind(whole(u)), &rounded), factor, unit);
        }
        if let (None, Some(u)) = (guard, &self.u) {
            working.say(format!("u = {}, which the simple rule does not count", unit.behind(whole(u))));
        }
        let why = match verdict {
            Bench::Within if guard.is_some() => "room is not less than the guard",
            Bench::Within => "short of the limit",
            Bench::Undecided => "short of the limit by less than the guard",
            Bench::Past if limit.room(&self.value).is_zero() => "on the limit, and touching fails",
            Bench::Past => "past the limit, whatever the uncertainty",
        };
        working.resulting(format!("{}: {why}", verdict.word()))
    }
}
