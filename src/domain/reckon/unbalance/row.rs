//! The row of `unbalance`.
#![expect(clippy::disallowed_types, reason = "computed figures on their way out")]

use super::{Allowed, Arrangement, Limited, Measured, allowed};
use crate::domain::exact::Exact;
use crate::domain::reckon::conformity::Bench;
use crate::domain::reckon::guard::{guard, steps, two_figures_up, usual_factor};
use crate::domain::reckon::impossible::{idle, none_of};
use crate::domain::reckon::line::square;
use crate::domain::reckon::one_unit::OneUnit;
use crate::domain::reckon::quantity::{float, shown, shown_apart};
use crate::domain::reckon::{Answers, Formula, Given, Key, Outcome, Output, Problem, Range, Shape, Working};
use crate::domain::unit::Unit;

const AMOUNT: Shape = Shape::Figure(Unit::GramMillimetre, Range::NotNegative);
const MEASURED: &[Key] = &[
    Key::required("a", AMOUNT, "in plane A"),
    Key::optional("b", AMOUNT, "in plane B"),
    Key::optional("u", AMOUNT, "standard uncertainty; with it the near side is guarded"),
];

/// `unbalance/1`.
pub const FORMULA: Formula = Formula {
    name: "unbalance",
    number: 1,
    purpose: "permissible residual unbalance, and its shares per bearing",
    keys: &[
        Key::required("grade", Shape::Figure(Unit::MillimetrePerSecond, Range::Positive), "balance quality grade G"),
        Key::required("mass", Shape::Figure(Unit::Kilogram, Range::Positive), "of the rotor"),
        Key::required("speed", Shape::Figure(Unit::RevolutionPerMinute, Range::Positive), "largest in service"),
        Key::default(
            "arrangement",
            Shape::Word(&["inboard", "overhung", "single"]),
            "inboard",
            "centre of mass between the bearings, outside them, or one plane alone",
        ),
        Key::optional("a", Shape::Figure(Unit::Millimetre, Range::Positive), "from bearing A to the centre of mass"),
        Key::optional("b", Shape::Figure(Unit::Millimetre, Range::Positive), "from bearing B to the centre of mass"),
        Key::optional("measured", Shape::Map(MEASURED), "what is left, from the balancing report"),
    ],
    outputs: &[
        Output::new("total", "g mm", "permissible residual unbalance"),
        Output::new("a, b", "g mm", "share of each bearing"),
        Output::new("limited", "", "whether a share was held at its bound"),
        Output::new("verdict", "", "within, undecided or past, the worse plane"),
        Output::new("verdicts: a, b", "", "of each plane"),
    ],
    source: "ISO 21940-11:2016 6.3.3, 7.2 (overhung bounds from memory); rigid rotors only",
    example: &[
        "grade=2.5",
        "mass=64",
        "speed=18000",
        "arrangement=inboard",
        "a=207",
        "b=103",
        "measured={a: 15, b: 84}",
    ],
    expected: &[("limited", "false"), ("verdict", "past"), ("verdicts.a", "within")],
    impossible,
    reckon,
};

fn impossible(given: &Given) -> Vec<Problem> {
    let measured = given.map_if("measured");
    if given.text_if("arrangement") == Some("single") {
        return single(given, measured);
    }
    let distances = ["a", "b"].into_iter().filter_map(|key| none_of(given, &[key], DISTANCE));
    let plane = measured.and_then(|measured| none_of(measured, &["b"], "what is left in plane B"));
    distances.chain(plane).collect()
}

const DISTANCE: &str = "a figure in mm, above 0, unless the arrangement is single";

/// What a single plane has no use for.
fn single(given: &Given, measured: Option<&Given>) -> Vec<Problem> {
    let distances = ["a", "b"].into_iter().filter_map(|key| idle(given, key, "a single plane has no lever"));
    distances.chain(measured.and_then(|map| idle(map, "b", "there is one plane"))).collect()
}

fn reckon(given: &Given) -> Result<Outcome, Vec<Problem>> {
    let arrangement = match (given.text("arrangement")?, given.figure("a"), given.figure("b")) {
        ("single", _, _) => Arrangement::Single,
        ("overhung", Ok(a), Ok(b)) => Arrangement::Overhung { a, b },
        // the table of keys lets no other word in
        (_, Ok(a), Ok(b)) => Arrangement::Inboard { a, b },
        (_, a, b) => return Err([a.err(), b.err()].into_iter().flatten().flatten().collect()),
    };
    let (grade, mass, speed) = (given.figure("grade")?, given.figure("mass")?, given.figure("speed")?);
    let got = allowed(&grade, &mass, &speed, &arrangement)?;
    let verdicts = match given.map_if("measured") {
        Some(map) => {
            let measured = Measured { a: map.figure("a")?, b: map.figure_if("b"), u: map.figure_if("u") };
            Some((got.verdicts(&measured)?, measured))
        }
        None => None,
    };
    let told = verdicts.as_ref().map(|(verdicts, measured)| (measured, *verdicts));
    let working = working([&grade, &mass, &speed], &arrangement, &got, told);
    Ok(Outcome { answers: answers(&got, verdicts.map(|(verdicts, _)| verdicts)), working })
}

/// The working for a grade in mm/s, a mass in kg and a speed in r/min, and for what was measured, where it was.
pub fn working(
    [grade, mass, speed]: [&Exact; 3],
    arrangement: &Arrangement,
    got: &Allowed,
    told: Option<(&Measured, (Bench, Option<Bench>))>,
) -> Working {
    let mut working = Working::of(&FORMULA);
    let omega = float(speed) * std::f64::consts::TAU / 60.0;
    working.step("omega", "2 pi n / 60", format!("2 pi {speed} r/min / 60"), format!("{} rad/s", shown(omega, 5)));
    let put_in = format!("1000 x {grade} mm/s x {mass} kg / {} rad/s", shown(omega, 5));
    working.step("U", "1000 G m / omega", put_in, format!("{} g mm", shown(got.total, 4)));
    levers(&mut working, arrangement, got);
    if let Some((measured, verdicts)) = told {
        let guard = guarding(&mut working, measured.u.as_ref());
        plane(&mut working, "A", (&measured.a, &guard), got.a, verdicts.0);
        if let (Some(shown), Some(share), Some(verdict)) = (&measured.b, got.b, verdicts.1) {
            plane(&mut working, "B", (shown, &guard), share, verdict);
        }
    }
    let shares = got.b.map_or_else(String::new, |b| format!(", A {}, B {}", shown(got.a, 4), shown(b, 4)));
    let worst = told.map_or_else(String::new, |(_, verdicts)| format!("; {}", worse(verdicts).word()));
    working.resulting(format!("{} g mm in all{shares}{worst}", shown(got.total, 4)))
}

fn worse((a, b): (Bench, Option<Bench>)) -> Bench {
    b.map_or(a, |b| a.max(b))
}

/// The guard where the uncertainty is known, else zero.
fn guarding(working: &mut Working, u: Option<&Exact>) -> Exact {
    let Some((u, rounded)) = u.and_then(|u| Some((u, two_figures_up(&square(u))?))) else { return Exact::zero() };
    let guard = guard(&square(u), &usual_factor(), None).unwrap_or_default();
    let unit = OneUnit::fixed(Unit::GramMillimetre);
    steps(working, (unit.behind(u), &rounded), &usual_factor(), unit);
    guard
}

/// What is left in a plane, with the guard, against the share.
fn plane(working: &mut Working, name: &str, (measured, guard): (&Exact, &Exact), share: f64, verdict: Bench) {
    let reached = measured + guard;
    if !guard.is_zero() {
        let put_in = format!("{measured} g mm + {guard} g mm");
        working.step(format!("plane {name} with the guard"), "measured + guard", put_in, format!("{reached} g mm"));
    }
    let share = shown_apart(share, &[measured, &reached], 4);
    let why = match verdict {
        Bench::Within => "not more than the share",
        Bench::Undecided => "the guard reaches over the share",
        Bench::Past => "more than the share",
    };
    working.say(format!("plane {name}: {measured} g mm, share {share} g mm: {}, {why}", verdict.word()));
}

/// The share of each bearing by the other one's lever, held at its bounds.
fn levers(working: &mut Working, arrangement: &Arrangement, got: &Allowed) {
    let (a, b, span, formula, top) = match arrangement {
        Arrangement::Single => return,
        Arrangement::Inboard { a, b } => (a, b, format!("({a} mm + {b} mm)"), "(a + b)", "0.7"),
        Arrangement::Overhung { a, b } => (a, b, format!("|{a} mm - {b} mm|"), "|a - b|", "1.3"),
    };
    let whole = match arrangement {
        Arrangement::Overhung { .. } => (a - b).abs(),
        Arrangement::Inboard { .. } | Arrangement::Single => a + b,
    };
    let total = shown(got.total, 4);
    let rows = [("A", "b", b, Some(got.a)), ("B", "a", a, got.b)];
    for (name, letter, arm, share) in rows {
        let (Some(share), Some(lever)) = (share, arm.over(&whole)) else { continue };
        let held = shown(share / got.total, 4);
        let lever = shown(float(&lever), 4);
        let result = if held == lever { lever } else { format!("{lever}, held at {held} (bounds 0.3 and {top})") };
        working.step(format!("lever {name}"), format!("{letter} / {formula}"), format!("{arm} mm / {span}"), result);
        working.step(
            name,
            format!("U x lever {name}"),
            format!("{total} g mm x {held}"),
            format!("{} g mm", shown(share, 4)),
        );
    }
}

fn answers(got: &Allowed, verdicts: Option<(Bench, Option<Bench>)>) -> Answers {
    let answers = Answers::new().number("total", got.total).number("a", got.a);
    let answers = match got.b {
        Some(b) => answers.number("b", b),
        None => answers.absent("b", "there is one plane"),
    };
    let answers = answers.flag("limited", got.limited == Limited::Yes);
    let Some(verdicts) = verdicts else {
        return answers.absent("verdict", "nothing measured was given");
    };
    let each = Answers::new().text("a", verdicts.0.word());
    let each = match verdicts.1 {
        Some(b) => each.text("b", b.word()),
        None => each.absent("b", "there is one plane"),
    };
    answers.text("verdict", worse(verdicts).word()).map("verdicts", each)
}
