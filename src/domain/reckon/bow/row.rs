//! The row of `bow`.

#![expect(clippy::disallowed_types, reason = "computed figures on their way out")]

use super::{Bow, Justified, Station, bow, significant};
use crate::domain::exact::Exact;
use crate::domain::reckon::impossible::{idle, namesakes, uneven};
use crate::domain::reckon::quantity::{angle, degrees, length, millimetres, shown, shown_apart};
use crate::domain::reckon::run_out::row::marks;
use crate::domain::reckon::run_out::{Turn, run_out};
use crate::domain::reckon::vector::Vector;
use crate::domain::reckon::working::counted;
use crate::domain::reckon::{
    Answers, Formula, Given, Key, Outcome, Output, Problem, Range, Shape, Trouble, Working, behind_sign,
};
use crate::domain::refusal::RefusalKind;
use crate::domain::unit::Unit;

const LENGTH: Shape = Shape::Figure(Unit::Millimetre, Range::Any);
const AMOUNT: Shape = Shape::Figure(Unit::Millimetre, Range::NotNegative);
const DIRECTION: Shape = Shape::Figure(Unit::Degree, Range::Any);

const STATION: &[Key] = &[
    Key::required("name", Shape::Text, "what the station is called"),
    Key::required("at", LENGTH, "where along the rotor"),
    Key::optional("eccentricity", AMOUNT, "amount of its vector"),
    Key::optional("direction", DIRECTION, "of the vector"),
    Key::optional("angles", Shape::List(&DIRECTION), "or the marks of a run-out"),
    Key::optional("readings", Shape::List(&LENGTH), "at the marks"),
    Key::optional(
        "u",
        Shape::Figure(Unit::Millimetre, Range::Positive),
        "standard uncertainty of each part of the vector",
    ),
];

const BEFORE: &[Key] = &[
    Key::required("name", Shape::Text, "of the station"),
    Key::required("eccentricity", AMOUNT, "then"),
    Key::required("direction", DIRECTION, "then"),
];

/// `bow/1`.
pub const FORMULA: Formula = Formula {
    name: "bow",
    number: 1,
    purpose: "bow of a rotor: eccentricities less the journals' line",
    keys: &[
        Key::required("stations", Shape::List(&Shape::Map(STATION)), "along the rotor, two of them its journals"),
        Key::required("journals", Shape::List(&Shape::Text), "the names of the two"),
        Key::optional("before", Shape::List(&Shape::Map(BEFORE)), "vectors of the last inspection"),
    ],
    outputs: &[
        Output::new("stations: name, eccentricity, direction", "mm, deg", "each in the order given"),
        Output::new("stations: line: amount, direction", "mm, deg", "the line through the journals there"),
        Output::new("stations: bow, bow_direction", "mm, deg", "the vector less the line"),
        Output::new("stations: u", "mm", "standard uncertainty of each part of the bow"),
        Output::new("stations: change: amount, direction", "mm, deg", "the vector less the one before"),
        Output::new("line_justified", "", "whether the journals' vectors are more than their uncertainty explains"),
    ],
    source: "geometry; significance by chi-squared, 95 %, four degrees of freedom",
    example: &[
        "stations=[{name: CS, at: 0, eccentricity: 0.006, direction: 10, u: 0.0005}, \
         {name: mid, at: 140, eccentricity: 0.015, direction: 200, u: 0.0005}, \
         {name: TS, at: 420, eccentricity: 0.010, direction: 80, u: 0.0005}]",
        "journals=[CS, TS]",
    ],
    expected: &[("line_justified", "true"), ("stations.0.bow", "0"), ("stations.1.name", "mid")],
    impossible,
    reckon,
};

fn impossible(given: &Given) -> Vec<Problem> {
    let mut problems = namesakes(given, "stations", "name");
    problems.extend(namesakes(given, "before", "name"));
    for map in given.maps("stations").unwrap_or_default() {
        problems.extend(uneven(map, "angles", &["readings"]));
        if !map.is_typed("angles") {
            problems.extend(idle(map, "readings", "angles are not"));
        }
    }
    problems.extend(strangers(given));
    problems
}

/// Names of journals and of earlier vectors that no station has.
fn strangers(given: &Given) -> Vec<Problem> {
    let stations: Vec<_> =
        given.maps("stations").unwrap_or_default().into_iter().filter_map(|map| map.text_if("name")).collect();
    let stranger = |path: String, name: &str| {
        let found = format!("No station is called `{name}`.");
        (!stations.contains(&name)).then(|| Problem::impossible(path, found, "Use a station's name."))
    };
    let journals = given.texts_if("journals").unwrap_or_default();
    let journals = journals.iter().filter_map(|name| stranger("journals".to_owned(), name));
    let before = given.maps("before").unwrap_or_default().into_iter();
    let before = before.filter_map(|map| stranger(map.path_of("name"), map.text_if("name")?));
    journals.chain(before).collect()
}

fn reckon(given: &Given) -> Result<Outcome, Vec<Problem>> {
    let mut problems = Vec::new();
    let mut stations = Vec::new();
    for map in given.maps("stations")? {
        match station(map) {
            Ok(station) => stations.push(station),
            Err(more) => problems.extend(more),
        }
    }
    let journals = given.texts_if("journals").unwrap_or_default();
    let [first, second] = journals.as_slice() else {
        let found = format!("Found {}.", counted(journals.len(), "name"));
        problems.push(Problem::impossible("journals", found, "Name two of the stations."));
        return Err(problems);
    };
    if !problems.is_empty() {
        return Err(problems);
    }
    let (justified, bows) = bow(&stations, [first, second])?;
    let before = before(given, &stations)?;
    let largest = stations.iter().map(|station| millimetres(station.vector.amount())).fold(0.0, f64::max);
    let told: Vec<_> = stations.iter().zip(&bows).zip(&before).collect();
    let each = told.iter().map(|((station, bow), before)| answers(station, bow, **before, largest));
    let answers = Answers::new().maps("stations", each);
    let answers = match justified {
        Justified::Yes(_) => answers.flag("line_justified", true),
        Justified::No(_) => answers.flag("line_justified", false),
        Justified::Unchecked => answers.absent("line_justified", "without the journals' u it is taken off unchecked"),
    };
    Ok(Outcome { answers, working: working(&stations, (justified, &bows), &before) })
}

/// The working of bows in the stations' order, and of what changed where an earlier vector is known.
pub fn working(stations: &[Station], (justified, bows): (Justified, &[Bow]), before: &[Option<Vector>]) -> Working {
    let mut working = Working::of(&FORMULA);
    for station in stations {
        let u = station.u.as_ref().map_or_else(String::new, |u| format!(", u {u} mm"));
        let [x, y] = [station.vector.x, station.vector.y].map(|part| shown(millimetres(part), 4));
        let parts = format!("x {x}, y {y} mm{u}");
        working.step(format!("{} at {} mm", station.name, station.at), "", polar(station.vector), parts);
    }
    let journal = |end: f64| stations.iter().zip(bows).find(|(_, bow)| (bow.along.value - end).abs() < 1e-12);
    if let (Some((first, _)), Some((second, _))) = (journal(0.0), journal(1.0)) {
        journals(&mut working, [first, second], justified);
    }
    for (station, bow) in stations.iter().zip(bows) {
        line_steps(&mut working, station, bow, justified);
    }
    for (station, before) in stations.iter().zip(before) {
        if let Some(before) = before {
            change(&mut working, &station.name, (station.vector, *before));
        }
    }
    let worst = stations.iter().zip(bows).max_by(|a, b| a.1.bow.amount().value.total_cmp(&b.1.bow.amount().value));
    let result = worst.map(|(station, bow)| format!("largest bow {}, {}", polar(bow.bow), station.name));
    working.resulting(result.unwrap_or_default())
}

/// Whether the journals' vectors are more than nothing.
fn journals(working: &mut Working, [first, second]: [&Station; 2], justified: Justified) {
    let over = |station: &Station| {
        let amount = shown(millimetres(station.vector.amount()), 4);
        station.u.as_ref().map_or_else(String::new, |u| format!("({amount} / {u})^2"))
    };
    let put_in = format!("{} + {}", over(first), over(second));
    let names = format!("line through {} and {}", first.name, second.name);
    let bound = Exact::parse(&shown(significant(), 4)).unwrap_or_default();
    let mut tell = |chi: f64| {
        working.step("chi-squared", "(e1 / u1)^2 + (e2 / u2)^2", put_in.clone(), shown_apart(chi, &[&bound], 4));
    };
    match justified {
        Justified::Yes(chi) => {
            tell(chi);
            working.say(format!("above {bound} (95 %, 4 degrees of freedom), more than u explains: {names} taken off"));
        }
        Justified::No(chi) => {
            tell(chi);
            working
                .say(format!("not above {bound} (95 %, 4 degrees of freedom), may be nothing: no line is taken off"));
        }
        Justified::Unchecked => {
            working.say(format!("uncertainty of the journals not given: {names} taken off unchecked"));
        }
    }
    if !matches!(justified, Justified::No(_)) {
        let put_in = format!("(at - {}) / ({} - {})", first.at, second.at, behind_sign(&first.at.to_string()));
        working.step("s", "(at - first at) / span", put_in, "");
        working.say("line = first + s (second - first), part by part; bow = vector - line");
    }
}

/// The line at a station, the bow, and what is known of it.
fn line_steps(working: &mut Working, station: &Station, bow: &Bow, justified: Justified) {
    let Station { name, vector, .. } = station;
    if !matches!(justified, Justified::No(_)) {
        let s = shown(bow.along.value, 4);
        working.step(format!("line, {name}"), format!("first + {s} (second - first)"), "", polar(bow.line));
    }
    working.step(format!("bow, {name}"), "", format!("{} - {}", polar(*vector), polar(bow.line)), polar(bow.bow));
    if let Some(u) = bow.u {
        let rule = if matches!(justified, Justified::No(_)) { "u" } else { "sqrt(u^2 + ((1 - s) u1)^2 + (s u2)^2)" };
        working.step(format!("u, {name}"), rule, "", format!("{} mm", shown(millimetres(u), 3)));
    }
}

/// The line of a working that tells how a vector changed; both are seen from the same mark.
pub fn change(working: &mut Working, station: &str, (now, before): (Vector, Vector)) {
    let put_in = format!("{} - {}", polar(now), polar(before));
    working.step(format!("{station}, change"), "now - before", put_in, polar(now - before));
}

fn polar(vector: Vector) -> String {
    let amount = millimetres(vector.amount());
    if amount > 0.0 {
        format!("{} mm at {} deg", shown(amount, 4), shown(degrees(vector.direction()), 4))
    } else {
        "0".to_owned()
    }
}

fn station(map: &Given) -> Result<Station, Vec<Problem>> {
    let vector = match (map.figure_if("eccentricity"), map.figure_if("direction"), map.has("angles")) {
        (Some(amount), Some(direction), false) => Vector::polar(length(&amount), angle(&direction)),
        (None, None, true) => {
            let turn = Turn { marks: marks(map, "angles", "readings")?, ..Turn::default() };
            let of_marks = |kind: RefusalKind| Problem::impossible(map.path_of("readings"), kind.what(), kind.mend());
            let harmonic = run_out(&turn).map_err(|kind| vec![of_marks(kind)])?.eccentricity;
            harmonic.unwrap_or_else(Vector::nothing)
        }
        (Some(_), None, false) => return Err(missing(map, "direction", "where the vector points")),
        (None, _, false) => {
            return Err(missing(map, "eccentricity", "`eccentricity` and `direction`, or `angles` and `readings`"));
        }
        (_, _, true) => {
            let found = "Given beside eccentricity or direction.";
            return Err(Problem::impossible(map.path_of("angles"), found, "Give one or the other.").into());
        }
    };
    Ok(Station { name: map.text("name")?.to_owned(), at: map.figure("at")?, vector, u: map.figure_if("u") })
}

fn missing(map: &Given, key: &str, expected: &str) -> Vec<Problem> {
    Problem::new(map.path_of(key), Trouble::Missing, "nothing", expected).into()
}

/// The earlier vector of each station, in the stations' order.
fn before(given: &Given, stations: &[Station]) -> Result<Vec<Option<Vector>>, Vec<Problem>> {
    let maps = if given.has("before") { given.maps("before")? } else { Vec::new() };
    let mut vectors = Vec::new();
    for map in maps {
        vectors.push((
            map.text("name")?,
            Vector::polar(length(&map.figure("eccentricity")?), angle(&map.figure("direction")?)),
        ));
    }
    let of = |station: &Station| vectors.iter().find(|(name, _)| *name == station.name).map(|(_, vector)| *vector);
    Ok(stations.iter().map(of).collect())
}

/// `largest` is the longest vector of the rotor: a million million times shorter ones are rounding.
fn answers(station: &Station, bow: &Bow, before: Option<Vector>, largest: f64) -> Answers {
    let nothing = largest * 1e-12;
    let amount = |vector: Vector| match millimetres(vector.amount()) {
        amount if amount > nothing => amount,
        _ => 0.0,
    };
    let direction = |answers: Answers, key: &str, vector: Vector| {
        if amount(vector) > 0.0 {
            answers.angle(key, degrees(vector.direction()))
        } else {
            answers.absent(key, "it is zero and points nowhere")
        }
    };
    let pair = |vector: Vector| direction(Answers::new().number("amount", amount(vector)), "direction", vector);
    let own = Answers::new().text("name", &station.name).number("eccentricity", amount(station.vector));
    let own = direction(own, "direction", station.vector).map("line", pair(bow.line)).number("bow", amount(bow.bow));
    let own = direction(own, "bow_direction", bow.bow);
    let own = match bow.u {
        Some(u) => own.number("u", millimetres(u)),
        None => own.absent("u", "not given for this station and both journals"),
    };
    match before {
        Some(before) => own.map("change", pair(station.vector - before)),
        None => own.absent("change", "no earlier vector was given"),
    }
}
