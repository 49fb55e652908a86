//! The row of `unbalance`.
#![expect(clippy::disallowed_types, reason = "computed figures on their way out")]

use super::{Allowed, Arrangement, Limited, Measured, allowed};
use crate::domain::exact::Exact;
use crate::domain::reckon::conformity::Bench;
use crate::domain::reckon::quantity::{float, shown};
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
    reckon,
};

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
    working.step("omega", "2 pi n / 60", format!("2 pi {speed} / 60"), format!("{} rad/s", shown(omega, 5)));
    let put_in = format!("1000 x {grade} x {mass} / {}", shown(omega, 5));
    working.step("U", "1000 G m / omega", put_in, format!("{} g mm", shown(got.total, 4)));
    levers(&mut working, arrangement, got);
    if let Some((measured, verdicts)) = told {
        plane(&mut working, "A", &measured.a, got.a, verdicts.0);
        if let (Some(shown), Some(share), Some(verdict)) = (&measured.b, got.b, verdicts.1) {
            plane(&mut working, "B", shown, share, verdict);
        }
    }
    let shares = got.b.map_or_else(String::new, |b| format!(", A {}, B {}", shown(got.a, 3), shown(b, 3)));
    let worst = told.map_or_else(String::new, |(_, verdicts)| format!("; {}", worse(verdicts).word()));
    working.resulting(format!("{} g mm in all{shares}{worst}", shown(got.total, 3)))
}

fn worse((a, b): (Bench, Option<Bench>)) -> Bench {
    b.map_or(a, |b| a.max(b))
}

fn plane(working: &mut Working, name: &str, measured: &Exact, share: f64, verdict: Bench) {
    working.step(format!("plane {name}"), "", format!("{measured} against {} g mm", shown(share, 3)), verdict.word());
}

fn levers(working: &mut Working, arrangement: &Arrangement, got: &Allowed) {
    let (a, b, span) = match arrangement {
        Arrangement::Single => return,
        Arrangement::Inboard { a, b } => (a, b, format!("({a} + {b})")),
        Arrangement::Overhung { a, b } => (a, b, format!("|{a} - {b}|")),
    };
    let total = shown(got.total, 4);
    working.step("A", "U b / span", format!("{total} x {b} / {span}"), format!("{} g mm", shown(got.a, 4)));
    if let Some(share) = got.b {
        working.step("B", "U a / span", format!("{total} x {a} / {span}"), format!("{} g mm", shown(share, 4)));
    }
    if got.limited == Limited::Yes {
        working.say("a share was held at its bound: 0.3, or 0.7 inboard, 1.3 overhung");
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
