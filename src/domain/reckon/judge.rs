//! A figure against one limit: within, undecided or past. Every level of every characteristic is judged here, exactly.
//!
//! Past the limit is past, whatever the uncertainty; only short of it, by less than the guard, is a figure undecided.

use super::answer::Answers;
use super::formula::{Formula, Outcome, Output};
use super::given::Given;
use super::guard::guard;
use super::line::square;
use super::problem::{Problem, Trouble};
use super::shape::{Key, Range, Shape};
use super::working::Working;
use crate::domain::exact::Exact;
use crate::domain::refusal::RefusalKind;
use crate::domain::sheet::Touching;
use crate::domain::unit::Unit;

mod units;

/// Which figures fail a limit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// The limit is the largest that passes: larger figures fail.
    Largest,
    /// The limit is the smallest that passes: smaller figures fail.
    Smallest,
}

/// How a figure stands to a limit; a later variant is worse.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Bench {
    /// Short of the limit by the guard or more.
    Within,
    /// Short of the limit by less than the guard: more repeats, a better gauge, else the limit's consequence.
    Undecided,
    /// Past the limit, or on it where touching fails.
    Past,
}

impl Bench {
    /// The word on screens and in files.
    pub fn word(self) -> &'static str {
        match self {
            Self::Within => "within",
            Self::Undecided => "undecided",
            Self::Past => "past",
        }
    }
}

/// A limit on one side.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Limit {
    /// The figure of the limit, in the unit of what is judged.
    pub at: Exact,
    /// Which figures fail it.
    pub side: Side,
    /// Whether the figure of the limit itself fails it.
    pub touching: Touching,
}

impl Limit {
    /// How far `value` is short of the limit; below zero beyond it.
    pub fn room(&self, value: &Exact) -> Exact {
        match self.side {
            Side::Largest => &self.at - value,
            Side::Smallest => value - &self.at,
        }
    }

    /// Judges `value`, which is in the limit's unit. The `guard` is zero by the simple rule; see [`super::guard::guard`].
    ///
    /// Source: JCGM 106:2012 for the guard band, ISO 14253-1:2017 for its factor (from memory); past the limit is past
    /// by this project's own rule, stricter than the standard, which leaves a band undecided on both sides.
    pub fn judge(&self, value: &Exact, guard: &Exact) -> Bench {
        let room = self.room(value);
        let touches = room.is_zero() && self.touching == Touching::Fails;
        if room.is_negative() || touches {
            Bench::Past
        } else if &room < guard {
            Bench::Undecided
        } else {
            Bench::Within
        }
    }
}

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
        Key::default("rule", Shape::Word(&["simple", "guarded"]), "simple", "whether u counts short of the limit"),
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
    example: &["a=59.931", "b=59.909", "limit=0.022", "side=largest", "touching=fails"],
    expected: &[("value", "0.022"), ("verdict", "past"), ("room", "0")],
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
    let (sizes, unit) = units::together(given, &["value", "a", "b", "limit", "u"])?;
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
            return Err(Problem::new(key, Trouble::Missing, "nothing", "value, or a and b").into());
        }
    };
    let side = if given.text("side")? == "largest" { Side::Largest } else { Side::Smallest };
    let touching = if given.text("touching")? == "fails" { Touching::Fails } else { Touching::Passes };
    let at = size("limit").ok_or_else(|| Problem::new("limit", Trouble::Missing, "nothing", "a figure"))?;
    Ok(Figures { value, parts, limit: Limit { at, side, touching }, u: size("u"), unit })
}

impl Figures {
    fn shown(&self, figure: &Exact) -> String {
        self.unit
            .filter(|unit| *unit != Unit::One)
            .map_or_else(|| figure.at_most(12), |unit| format!("{} {unit}", figure.at_most(12)))
    }

    fn working(&self, guard: Option<(&Exact, &Exact)>, verdict: Bench) -> Working {
        let mut working = Working::of(&FORMULA);
        match &self.parts {
            Some((a, b)) => {
                if let [a, b, value] = super::alike([a, b, &self.value]).as_slice() {
                    let unit = self.unit.map(|unit| format!(" {unit}")).unwrap_or_default();
                    working.step(
                        "value",
                        "a - b",
                        format!("{a} - {}", super::behind_sign(b)),
                        format!("{value}{unit}"),
                    );
                }
            }
            None => working.step("value", "", "", self.shown(&self.value)),
        }
        let limit = &self.limit;
        let (words, fails) = match (limit.side, limit.touching) {
            (Side::Largest, Touching::Fails) => ("limit - value", "at or above"),
            (Side::Largest, Touching::Passes) => ("limit - value", "above"),
            (Side::Smallest, Touching::Fails) => ("value - limit", "at or below"),
            (Side::Smallest, Touching::Passes) => ("value - limit", "below"),
        };
        working.step("fails", "", "", format!("{fails} {}", self.shown(&limit.at)));
        working.step("room", words, "", self.shown(&limit.room(&self.value)));
        if let (Some((guard, factor)), Some(u)) = (guard, &self.u) {
            working.say(format!("u = {}, rounded up to two figures", self.shown(u)));
            let rounded = guard.over(factor).map(|u| format!("{factor} x {}", u.at_most(12))).unwrap_or_default();
            working.step("guard", "factor x u", rounded, self.shown(guard));
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
