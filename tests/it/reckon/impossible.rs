//! Figures that are right one by one and cannot be together, and figures that cannot be at all: each by its key.

use super::tried;

fn keys(name: &str, given: &[&str]) -> Vec<String> {
    let given: Vec<_> = given.iter().map(|word| (*word).to_owned()).collect();
    match tried(name, &given) {
        Ok(answers) => panic!("{name} {given:?} gives {answers:?}"),
        Err(problems) => problems.into_iter().map(|problem| problem.key).collect(),
    }
}

const JUDGED: [&str; 4] = ["value=1", "limit=2", "side=largest", "touching=fails"];

#[test]
fn every_reckoning_names_what_cannot_be() {
    let judged = |more: &'static str| [&JUDGED[..], &[more]].concat();
    let cases: Vec<(&str, Vec<&str>, &[&str])> = vec![
        ("judge", judged("u=0.1"), &["rule"]),
        ("judge", judged("factor=2"), &["factor"]),
        ("judge", judged("a=3"), &["value"]),
        ("convert", vec!["value=3 mm", "to=m", "difference=true"], &["difference"]),
        ("convert", vec!["value=-300 degC", "to=K"], &["value"]),
        ("convert", vec!["value=-1 K", "to=degC"], &["value"]),
        ("repeats", vec!["values=-300 degC; 20 degC"], &["values 1"]),
        ("repeats", vec!["values=1; 2", "sides=1"], &["sides"]),
        (
            "lift",
            vec!["places=[{place: a, pairs: [[0, 1]]}, {place: a, pairs: [[0, 1, 2]]}]"],
            &["places 2, place", "places 2, pairs 1"],
        ),
        ("feelers", vec!["goes=0.4", "stops=0.4"], &["goes"]),
        (
            "journal",
            vec!["unworn=9", "planes=[{plane: a, diameters: [8, 8]}, {plane: a, diameters: [8]}]", "directions=0"],
            &["planes 2, plane", "planes 2, diameters", "directions"],
        ),
        (
            "wear",
            vec!["new=12", "places=[{place: a, values: [11]}, {place: a, values: [0]}]"],
            &["places 2, values 1", "places 2, place"],
        ),
        ("life", vec!["machine=100", "machine_then=200", "part_then=-1"], &["part_then", "machine"]),
        ("run-out", vec!["angles=0; 120; 240", "readings=0; 1"], &["readings"]),
        (
            "bow",
            vec![
                "stations=[{name: a, at: 0, eccentricity: 1, direction: 2, readings: [1, 2], u: 0}, \
                 {name: a, at: 9, angles: [0, 120, 240], readings: [1]}]",
                "journals=a; b",
            ],
            &["stations 1, u", "stations 2, name", "stations 1, readings", "stations 2, readings", "journals"],
        ),
        (
            "bow",
            vec![
                "stations=[{name: q, at: 1, angles: [0, 90], readings: [1, 2]}, \
                 {name: x, at: 0, eccentricity: 0, direction: 0}, {name: y, at: 2, eccentricity: 0, direction: 0}]",
                "journals=x; z",
                "before=[{name: v, eccentricity: 1, direction: 0}]",
            ],
            &["journals", "before 1, name", "stations 1, readings"],
        ),
        ("circle", vec!["angles=0; 90; 180", "radii=3; -3; 3"], &["radii 2"]),
        ("circle", vec!["angles=0; 90; 180", "radii=3; 3"], &["radii"]),
        ("lands", vec!["lands=[{taper: 14, flat: 6}]", "new={taper: 16, flat: 4, depth: 40}"], &["new, depth"]),
        ("lands", vec!["lands=[{taper: 14, flat: 6}]", "closes_within=0.5"], &["closes_within"]),
        ("relative-clearance", vec!["clearance=46", "diameter=45"], &["clearance"]),
        (
            "to-20",
            vec!["length=60", "part={temperature: -300, expansion: 18}"],
            &["part, temperature", "part, expansion"],
        ),
        ("budget", vec!["terms=[{name: a, u: 1, k: 2}, {name: b, u: -1}]", "p=95"], &["terms 2, u", "p", "terms 1, k"]),
        ("conformity", vec!["value=1", "u=0", "upper=2", "dof=0.5"], &["u", "dof"]),
        ("capable", vec!["new=1", "limit=2", "resolution=0", "U=-1", "repeatability=0"], &["resolution", "U"]),
        ("fit", vec!["hole=50 f7", "shaft=50 H7"], &["hole", "shaft"]),
        (
            "unbalance",
            vec!["grade=2.5", "mass=27", "speed=18000", "arrangement=single", "a=3", "measured={a: 3, b: 4}"],
            &["a", "measured, b"],
        ),
        (
            "unbalance",
            vec!["grade=2.5", "mass=27", "speed=0", "a=3", "b=4", "measured={a: 3}"],
            &["speed", "measured, b"],
        ),
        ("line", vec!["x=1; 2; 3", "y=1; 2", "u=1; 2"], &["y", "u"]),
        (
            "forecast",
            vec!["inspections=[{hours: -1, value: 1, u: 0}]", "limit=2", "next_hours=9", "p=0.4"],
            &["inspections 1, hours", "inspections 1, u", "p"],
        ),
        ("indication", vec!["indications=[{length: 1, width: 2}, {length: 0, width: 1}]"], &["indications 2, length"]),
        (
            "shrink",
            vec!["bore=60", "interference=60", "clearance=70", "expansion=11.5e-6", "room=300", "largest_allowed=250"],
            &["interference", "clearance", "room"],
        ),
        ("torque", vec!["value=3 mm", "stages=60; 30"], &["stages", "value"]),
        ("torque", vec!["value=3 N m", "stages=30; 60"], &["stages"]),
        ("due", vec!["date=2031-04-17", "months=3", "hours_per_day=9"], &["hours_per_day"]),
    ];
    for (name, given, wanted) in &cases {
        assert_eq!(keys(name, given), *wanted, "{name} {given:?}");
    }
    for formula in asfound::domain::reckon::FORMULAS {
        assert!(cases.iter().any(|(name, _, _)| *name == formula.name), "{} refuses nothing here", formula.name);
    }
}

/// SI brochure, 9th edition, 3: the case of a unit and of its prefix is part of it.
#[test]
fn units_are_read_in_their_own_capitals() {
    for (value, meant) in [
        ("3 mPa", "MPa"),
        ("3 MM", "mm"),
        ("3 MT", "mT"),
        ("3 t", "T"),
        ("3 KG", "kg"),
        ("3 RPM", "rpm"),
        // as they are said
        ("3 ft lb", "lbf ft"),
        ("3 lb.ft", "lbf ft"),
        ("3 deg C", "degC"),
    ] {
        let given = [format!("value={value}"), "to=m".to_owned()];
        let said: Vec<_> = tried("convert", &given).unwrap_err().iter().map(ToString::to_string).collect();
        assert!(said.iter().any(|said| said.contains(&format!("did you mean `{meant}`?"))), "{value}: {said:?}");
    }
}

#[test]
fn a_figure_too_small_is_no_figure_with_a_unit() {
    let given = ["value=1e-400".to_owned(), "to=m".to_owned()];
    let said: Vec<_> = tried("convert", &given).unwrap_err().iter().map(ToString::to_string).collect();
    assert!(said[0].contains("smaller or longer") && !said[0].contains("no unit"), "{said:?}");
}

#[test]
fn what_is_not_finite_is_refused_by_name_however_it_is_written() {
    let written = ["nan", "NaN mm", "inf", "-Infinity um", "1e400", "1e400 mm", "-1E+309", "1e308 mm", ".inf", ".nan"];
    for text in written {
        for given in [format!("values={text}; 2"), format!("values=[{text}, 2]")] {
            let said: Vec<_> =
                tried("repeats", std::slice::from_ref(&given)).unwrap_err().iter().map(ToString::to_string).collect();
            assert!(said[0].contains("values 1: found") && said[0].contains("not finite"), "{given}: {said:?}");
        }
    }
    assert!(tried("repeats", &["values=1e-400; 2".to_owned()]).is_err(), "no such figure, but finite");
    assert!(tried("repeats", &["values=1e300 mm; 1e-300".to_owned()]).is_ok());
}
