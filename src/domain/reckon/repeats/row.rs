//! The row of `repeats`.
#![expect(clippy::disallowed_types, reason = "computed figures on their way out")]

use super::{Grubbs, Pooled, Repeats, Sides, Source, repeats};
use crate::domain::exact::Exact;
use crate::domain::reckon::impossible::idle;
use crate::domain::reckon::one_unit::OneUnit;
use crate::domain::reckon::quantity::{exact_count, float, root, shown, shown_apart};
use crate::domain::reckon::working::{added, of_freedom};
use crate::domain::reckon::{Answers, Formula, Given, Key, Outcome, Output, Problem, Range, Shape, Working};
use crate::domain::unit::Unit;

/// Grubbs' test is reported unasked from so many repeats: with three, two equal ones condemn the third.
const GRUBBS_FROM: usize = 5;

const POOLED: &[Key] = &[
    Key::required("s", Shape::AnyFigure(Range::NotNegative), "standard deviation of one reading"),
    Key::optional("dof", Shape::Dof, "its degrees of freedom"),
];

/// `repeats/1`.
pub const FORMULA: Formula = Formula {
    name: "repeats",
    number: 1,
    purpose: "repeats at one place: mean, spread, uncertainty, Grubbs",
    keys: &[
        Key::required("values", Shape::List(&Shape::AnyFigure(Range::Any)), "the readings"),
        Key::optional(
            "alpha",
            Shape::Figure(Unit::One, Range::Between("0", "1")),
            "level of Grubbs' test, 0.05 unless given",
        ),
        Key::default("sides", Shape::Whole(1, 2), "2", "2: the farthest from the mean is tested; 1: the largest"),
        Key::optional("pooled", Shape::Map(POOLED), "the method's pooled spread; the larger counts"),
    ],
    outputs: &[
        Output::new("n", "", "how many"),
        Output::new("mean", "as given", "their mean, exact"),
        Output::new("s", "as given", "sample standard deviation, n - 1"),
        Output::new("s_mean", "as given", "standard deviation of the mean"),
        Output::new("range", "as given", "largest less smallest"),
        Output::new("u", "as given", "standard uncertainty of the mean, by the larger of sample and pooled spread"),
        Output::new("dof", "", "its degrees of freedom"),
        Output::new("suspect", "as given", "the reading tested, from 5 up or when alpha is given; it is not dropped"),
        Output::new("grubbs, grubbs_critical", "", "how far off it is in s, and from where it would be an outlier"),
        Output::new("outlier", "", "whether the test calls it one"),
        Output::new("unit", "", "of these figures: mm for lengths, else the first given; left out where none was"),
    ],
    source: "JCGM 100:2008 4.2; Grubbs 1950, NIST/SEMATECH e-Handbook 1.3.5.17.1",
    example: &["values=0.118 mm; 0.121; 0.119; 0.120; 0.221; 0.119"],
    expected: &[("mean_exact", "409/3000"), ("range", "0.103"), ("suspect", "0.221"), ("outlier", "true")],
    impossible,
    reckon,
};

fn impossible(given: &Given) -> Vec<Problem> {
    let tested = given.is_typed("alpha") || given.count("values").is_none_or(|count| count >= GRUBBS_FROM);
    let why = "no test is made of fewer than five unless alpha is given";
    if tested { Vec::new() } else { idle(given, "sides", why).into_iter().collect() }
}

fn reckon(given: &Given) -> Result<Outcome, Vec<Problem>> {
    let pooled = given.map_if("pooled");
    let carried: Vec<_> =
        given.carried("values").into_iter().chain(pooled.and_then(|pooled| pooled.with_unit_if("s"))).collect();
    let unit = OneUnit::of(&carried);
    let values = unit.take_list(given, "values")?;
    let pooled = match pooled {
        Some(pooled) => Some(Pooled { s: unit.take_required(pooled, "s")?, dof: pooled.figure_if("dof") }),
        None => None,
    };
    let got = repeats(&values, pooled.as_ref())?;
    let asked = given.figure_if("alpha");
    let alpha = asked.clone().or_else(|| Exact::fraction(5, 100)).unwrap_or_default();
    let sides = if given.whole("sides")? == 1 { Sides::Largest } else { Sides::Both };
    let reported = asked.is_some() || got.n >= GRUBBS_FROM;
    let grubbs = reported.then(|| got.grubbs(&values, &alpha, sides));
    Ok(Outcome {
        answers: unit.said(answers(&got, grubbs.as_ref()), "unit"),
        working: working(&got, &values, grubbs.flatten(), unit),
    })
}

const HIDDEN: &str =
    "all readings are equal: the gauge's step hides their scatter, its resolution or a pooled figure tells u";

/// Grubbs outermost `None`: not reported; innermost: too few.
fn answers(got: &Repeats, grubbs: Option<&Option<Grubbs>>) -> Answers {
    const ALONE: &str = "one reading alone shows no spread";
    let number = |answers: Answers, key: &str, value: Option<f64>| match value {
        Some(value) => answers.number(key, value),
        None => answers.absent(key, ALONE),
    };
    let mut answers = Answers::new().whole("n", i64::try_from(got.n).unwrap_or(i64::MAX)).exact("mean", &got.mean);
    answers = number(number(answers, "s", got.s()), "s_mean", got.s_mean()).exact("range", &got.range);
    answers = match &got.certainty {
        None => {
            let why = if got.n == 1 { ALONE } else { HIDDEN };
            answers.absent("u", why).absent("dof", why)
        }
        Some(certainty) => answers.number("u", root(&certainty.variance)).dof("dof", certainty.dof.as_ref()),
    };
    match grubbs {
        None => answers,
        Some(None) => ["suspect", "grubbs", "grubbs_critical", "outlier"]
            .iter()
            .fold(answers, |answers, key| answers.absent(key, "the test takes three readings")),
        Some(Some(grubbs)) => {
            const EQUAL: &str = "all readings are equal, there is no spread to hold it against";
            let answers = answers.exact("suspect", &grubbs.suspect);
            let answers = match grubbs.g {
                Some(g) => answers.number("grubbs", g),
                None => answers.absent("grubbs", EQUAL),
            };
            let answers = answers.number("grubbs_critical", grubbs.critical);
            match grubbs.outlier() {
                Some(outlier) => answers.flag("outlier", outlier),
                None => answers.absent("outlier", EQUAL),
            }
        }
    }
}

fn working(got: &Repeats, values: &[Exact], grubbs: Option<Grubbs>, unit: OneUnit) -> Working {
    let mut working = Working::of(&FORMULA);
    let n = got.n;
    let sum = unit.behind(values.iter().sum::<Exact>());
    let mean = unit.behind(got.mean.at_most(6));
    working.step("sum of x", "", added(values, &unit.tail()), sum.clone());
    working.step("mean", "sum of x / n", format!("{sum} / {n}"), mean.clone());
    if let (Some(largest), Some(smallest)) = (values.iter().max(), values.iter().min()) {
        let put_in = format!("{} - {}", unit.behind(largest), unit.put(smallest));
        working.step("range", "largest x - smallest x", put_in, unit.behind(&got.range));
    }
    spread(&mut working, got, unit);
    let mut result = format!("mean {mean}");
    if let (Some(certainty), Some(u)) = (&got.certainty, got.u()) {
        if let (Source::Pooled, Some(s)) = (certainty.from, exact_count(n).map(|n| root(&(&certainty.variance * &n)))) {
            working.say(format!("pooled s = {}, not less than the sample's", unit.behind(shown(s, 4))));
            working.step("u", "pooled s / sqrt n", over_root(s, n, unit), unit.behind(shown(u, 4)));
        } else {
            working.step("u", "s_mean", "", unit.behind(shown(u, 4)));
        }
        let dof = certainty.dof.as_ref().map_or_else(|| "endless".to_owned(), Exact::to_string);
        result = format!("{result}, u {} with {}", unit.behind(shown(u, 2)), of_freedom(dof));
    } else if n > 1 {
        working.say(format!("u: not told, {HIDDEN}"));
    }
    if let Some(grubbs) = grubbs {
        test(&mut working, got, &grubbs, unit);
    }
    working.resulting(result)
}

/// Sample standard deviation and that of the mean.
fn spread(working: &mut Working, got: &Repeats, unit: OneUnit) {
    let (Some(variance), Some(s), Some(s_mean)) = (&got.variance, got.s(), got.s_mean()) else { return };
    let dof = got.n - 1;
    let squares = exact_count(dof).map(|dof| float(&(variance * &dof))).unwrap_or_default();
    let squares = unit.squared(shown(squares, 6));
    working.step("Q", "sum of (x - mean)^2", "", squares.clone());
    let put_in = format!("sqrt({squares} / {dof})");
    working.step("s", "sqrt(Q / (n - 1))", put_in, unit.behind(shown(s, 4)));
    working.step("s_mean", "s / sqrt n", over_root(s, got.n, unit), unit.behind(shown(s_mean, 4)));
}

fn over_root(s: f64, n: usize, unit: OneUnit) -> String {
    format!("{} / sqrt {n}", unit.behind(shown(s, 4)))
}

/// Grubbs' figure, its critical value, and what the two say.
fn test(working: &mut Working, got: &Repeats, grubbs: &Grubbs, unit: OneUnit) {
    let (Some(g), Some(s)) = (grubbs.g, got.s()) else { return };
    let Grubbs { suspect, critical, quantile: (share, t), .. } = grubbs;
    let suspect = unit.behind(suspect);
    let put_in = format!("|{suspect} - {}| / {}", unit.behind(got.mean.at_most(6)), unit.behind(shown(s, 4)));
    let (n, dof) = (got.n, got.n - 2);
    let limit = shown(*critical, 5);
    let mark = Exact::parse(&limit).unwrap_or_default();
    let shown_g = shown_apart(g, &[&mark], 5);
    working.step("G", "|x - mean| / s", put_in, shown_g.clone());
    working.step("t", format!("quantile of t for 1 - {} and {dof}", shown(*share, 4)), "", shown(*t, 5));
    let put_in = format!("{} / sqrt {n} x sqrt({1} / ({dof} + {1}))", n - 1, shown(t * t, 5));
    working.step("critical G", "(n - 1) / sqrt n x sqrt(t^2 / (n - 2 + t^2))", put_in, limit.clone());
    let (sign, off) = if g > *critical { (">", "stands out") } else { ("<=", "does not stand out") };
    working.say(format!(
        "{shown_g} {sign} {limit}: {suspect} {off}; nothing is dropped: a reading goes only by a strike with a cause"
    ));
}
