//! The row of `conformity`.

#![expect(clippy::disallowed_types, reason = "probabilities on their way out")]

use super::{Conformity, Judged, Standard, conformity};
use crate::domain::exact::Exact;
use crate::domain::exact::Rounding;
use crate::domain::reckon::distribution::t_below;
use crate::domain::reckon::guard::{factor, steps, two_figures_up, usual_factor};
use crate::domain::reckon::impossible::{crossed, none_of};
use crate::domain::reckon::one_unit::{OneUnit, whole};
use crate::domain::reckon::quantity::{float, pencilled, shown};
use crate::domain::reckon::working::{joined, of_freedom};
use crate::domain::reckon::{Answers, Formula, Given, Key, Outcome, Output, Problem, Range, Shape, Working};
use crate::domain::unit::Unit;

/// `conformity/1`.
pub const FORMULA: Formula = Formula {
    name: "conformity",
    number: 1,
    purpose: "how sure a figure is within limits; the guarded rule",
    keys: &[
        Key::required("value", Shape::AnyFigure(Range::Any), "the figure"),
        Key::required("u", Shape::AnyFigure(Range::Positive), "its standard uncertainty"),
        Key::optional("lower", Shape::AnyFigure(Range::Any), "smallest allowed"),
        Key::optional("upper", Shape::AnyFigure(Range::Any), "largest allowed"),
        Key::optional(
            "factor",
            Shape::Figure(Unit::One, Range::NotNegative),
            "guard over u; 1.65 unless given, the one-sided 95 % quantile of t if that is larger",
        ),
        Key::optional("dof", Shape::Dof, "degrees of freedom of u; the normal distribution without"),
    ],
    outputs: &[
        Output::new(
            "p_conform, p_not_conform",
            "",
            "probability within the limits, and outside, each with its own digits",
        ),
        Output::new("guard", "as given", "factor times u rounded up to two figures, exact"),
        Output::new(
            "standard: simple, guarded",
            "",
            "conforms, undecided, fails: without guard, and with it on both sides",
        ),
        Output::new(
            "bench",
            "",
            "within, undecided, past: past the limit is past, only the near side can be undecided",
        ),
        Output::new("unit", "", "of these figures: mm for lengths, else the first given; left out where none was"),
    ],
    source: "JCGM 106:2012 7; ISO 14253-1:2017 (the 1.65 from memory)",
    example: &["value=0.2143 mm", "u=0.00243 mm", "upper=0.220 mm"],
    expected: &[
        ("guard", "0.004125"),
        ("standard.simple", "conforms"),
        ("standard.guarded", "conforms"),
        ("bench", "within"),
    ],
    impossible: |given| {
        let none = none_of(given, &["lower", "upper"], "lower, upper or both");
        none.into_iter().chain(crossed(given, "lower", "upper")).collect()
    },
    reckon,
};

fn reckon(given: &Given) -> Result<Outcome, Vec<Problem>> {
    let unit = OneUnit::across(given, &["value", "u", "lower", "upper"]);
    let judged = Judged {
        value: unit.take_required(given, "value")?,
        u: unit.take_required(given, "u")?,
        dof: given.figure_if("dof"),
        lower: unit.take_if(given, "lower")?,
        upper: unit.take_if(given, "upper")?,
    };
    let asked = given.figure_if("factor").unwrap_or_else(usual_factor);
    let got = conformity(&judged, &asked)?;
    let standard = Answers::new().text("simple", got.simple.word()).text("guarded", got.guarded.word());
    let answers = Answers::new()
        .number("p_conform", got.within)
        .number("p_not_conform", got.outside)
        .exact("guard", &got.guard)
        .map("standard", standard)
        .text("bench", got.bench.word());
    Ok(Outcome { answers: unit.said(answers, "unit"), working: working(&judged, &asked, &got, unit) })
}

impl Standard {
    /// The word for programs.
    pub fn word(self) -> &'static str {
        match self {
            Self::Conforms => "conforms",
            Self::Undecided => "undecided",
            Self::Fails => "fails",
        }
    }
}

/// How sure the figure of a step is within its limits; whether it is, the level says, touching as it has it. `None` where
/// that cannot be reckoned.
pub fn chance(judged: &Judged, asked: &Exact, unit: Unit) -> Option<Working> {
    let got = conformity(judged, asked).ok()?;
    let whole = working(judged, asked, &got, OneUnit::fixed(unit));
    Some(whole.resulting(format!("p within {}, p outside {}", share(got.within), share(got.outside))))
}

fn working(judged: &Judged, asked: &Exact, got: &Conformity, unit: OneUnit) -> Working {
    let mut working = Working::of(&FORMULA);
    if !got.guard.is_zero() {
        guarding(&mut working, judged, asked, unit);
    }
    let put = |figure: &Exact| unit.put(figure);
    let mut edge = |name: &str, limit: &Option<Exact>, sign: &str, moved: &dyn Fn(&Exact) -> Exact| {
        if let Some(limit) = limit {
            let put_in = format!("{} {sign} {}", put(limit), put(&got.guard));
            working.step(name, format!("limit {sign} guard"), put_in, unit.behind(moved(limit)));
        }
    };
    edge("passes down to", &judged.lower, "+", &|limit| limit + &got.guard);
    edge("passes up to", &judged.upper, "-", &|limit| limit - &got.guard);
    let outside = chances(&mut working, judged, unit);
    working.step("p outside", "what lies beyond the limits", joined(outside, " + "), share(got.outside));
    working.step("p within", "1 - p outside", "", share(got.within));
    let simple = format!(
        "by the standard: {} without the guard, {} with it on both sides",
        got.simple.word(),
        got.guarded.word()
    );
    working.say(simple);
    let (bench, standard) = (got.bench.word(), got.guarded.word());
    working.resulting(format!("{} is {bench} (by the standard: {standard})", unit.behind(whole(&judged.value))))
}

/// The guard: its factor, u rounded up, and the product.
fn guarding(working: &mut Working, judged: &Judged, asked: &Exact, unit: OneUnit) {
    let (Some(rounded), Some(factor)) = (two_figures_up(&(&judged.u * &judged.u)), factor(asked, judged.dof.as_ref()))
    else {
        return;
    };
    if &factor != asked {
        working.say(format!("factor: the one-sided 95 % quantile of t, {factor}, as it is larger than {asked}"));
    }
    steps(working, (unit.behind(whole(&judged.u)), &rounded), &factor, unit);
}

/// A probability to four places: what is not nothing never reads as nothing, nor what is not certain as certain.
fn share(p: f64) -> String {
    match Exact::parse(&format!("{p:e}")) {
        Some(_) if p < 0.0001 => "less than 0.0001".to_owned(),
        Some(_) if p > 0.9999 => "more than 0.9999".to_owned(),
        Some(exact) => exact.rounded(4, Rounding::Nearest),
        None => p.to_string(),
    }
}

/// How far each limit is away in u, and the chance of lying beyond it; the chances, for their sum.
fn chances(working: &mut Working, judged: &Judged, unit: OneUnit) -> Vec<String> {
    let Judged { value, u, dof, lower, upper } = judged;
    let name = dof.as_ref().map_or_else(
        || "normal distribution".to_owned(),
        |dof| format!("distribution of t with {}", of_freedom(pencilled(dof))),
    );
    working.say(format!("{name}: F(z) is the share of it below z"));
    let dof = dof.as_ref().map_or(f64::INFINITY, float);
    let mut chances = Vec::new();
    let mut beyond = |name: &str, formula: &str, pair: Option<(&Exact, &Exact)>| {
        let Some((from, less)) = pair else { return };
        let z = (from - less).over(u).as_ref().map_or(f64::NAN, float);
        let put_in = format!("({} - {}) / {}", unit.put(from), unit.put(less), unit.behind(whole(u)));
        working.step(format!("z {name}"), formula, put_in, shown(z, 5));
        let chance = share(t_below(z, dof));
        working.step(format!("p {name}"), "F(z)", "", chance.clone());
        chances.push(chance);
    };
    beyond("below", "(lower - value) / u", lower.as_ref().map(|lower| (lower, value)));
    beyond("above", "(value - upper) / u", upper.as_ref().map(|upper| (value, upper)));
    chances
}
