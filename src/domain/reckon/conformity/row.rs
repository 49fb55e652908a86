//! The row of `conformity`.

use super::{Conformity, Judged, Standard, conformity};
use crate::domain::exact::Exact;
use crate::domain::reckon::guard::{factor, two_figures_up, usual_factor};
use crate::domain::reckon::one_unit::OneUnit;
use crate::domain::reckon::quantity::shown;
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
    example: &["value=0.2143", "u=0.00243", "upper=0.220"],
    expected: &[
        ("guard", "0.004125"),
        ("standard.simple", "conforms"),
        ("standard.guarded", "conforms"),
        ("bench", "within"),
    ],
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

fn working(judged: &Judged, asked: &Exact, got: &Conformity, unit: OneUnit) -> Working {
    let mut working = Working::of(&FORMULA);
    let Judged { value, u, dof, lower, upper } = judged;
    if let (Some(rounded), Some(factor)) = (two_figures_up(&(u * u)), factor(asked, dof.as_ref())) {
        working.step("guard", "factor x u, rounded up", format!("{factor} x {rounded}"), unit.behind(&got.guard));
    }
    let mut edge = |name: &str, limit: &Option<Exact>, sign: &str, moved: &dyn Fn(&Exact) -> Exact| {
        if let Some(limit) = limit {
            let put_in = format!("{limit} {sign} {}", got.guard);
            working.step(name, format!("limit {sign} guard"), put_in, unit.behind(moved(limit)));
        }
    };
    edge("passes down to", lower, "+", &|limit| limit + &got.guard);
    edge("passes up to", upper, "-", &|limit| limit - &got.guard);
    working.step("p within", "", "", shown(got.within, 6));
    working.step("p outside", "", "", shown(got.outside, 3));
    let (bench, standard) = (got.bench.word(), got.guarded.word());
    working.resulting(format!("{} is {bench} (by the standard: {standard})", unit.behind(value)))
}
