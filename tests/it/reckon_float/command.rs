//! The rows in floats from outside: the keys they give, and what they refuse.

use assert_cmd::Command;
use serde_json::Value;

fn run(name: &str, words: &[&str]) -> assert_cmd::assert::Assert {
    Command::cargo_bin("asfound").unwrap().args(["reckon", name, "--json"]).args(words).assert()
}

fn json(name: &str, words: &[&str]) -> Value {
    serde_json::from_slice(&run(name, words).success().get_output().stdout).unwrap()
}

fn said(name: &str, words: &[&str], code: i32) -> String {
    String::from_utf8(run(name, words).code(code).get_output().stderr.clone()).unwrap()
}

/// Every null in the answer has a key beside it that says why.
fn every_null_says_why(value: &Value) {
    match value {
        Value::Object(map) => {
            for (key, value) in map {
                assert!(!value.is_null() || map[&format!("{key}_why")].is_string(), "{key} in {map:?}");
                every_null_says_why(value);
            }
        }
        Value::Array(items) => items.iter().for_each(every_null_says_why),
        Value::Null | Value::Bool(_) | Value::Number(_) | Value::String(_) => {}
    }
}

const LINE: [&str; 2] = ["x=0; 4200; 8100; 12300", "y=3; 17; 24; 41"];
const RUN: [&str; 2] = ["angles=0; 45; 90; 135; 180; 225; 270; 315", "readings=0; -1; 3; 13; 21; 22; 15; 6"];
const WEAR: &str = "inspections=[{hours: 0, value: 1.6, u: 0.02}, {hours: 12130, value: 1.42, u: 0.02}, {hours: 24370, value: 1.22, u: 0.02}]";
const TERMS: &str = "terms=[{name: a, kind: resolution, value: 2}, {name: b, u: 1, dof: 4}]";

#[test]
fn programs_find_the_keys_they_were_promised() {
    let cases: [(&str, Vec<&str>, &[&str]); 10] = [
        (
            "repeats",
            vec!["values=1; 2; 3; 4; 9"],
            &["n", "mean", "s", "s_mean", "range", "u", "dof", "suspect", "grubbs", "grubbs_critical", "outlier"],
        ),
        (
            "run-out",
            RUN.to_vec(),
            &["tir", "eccentricity", "high_spot", "residual", "rms_residual", "closure", "warnings"],
        ),
        (
            "bow",
            vec![
                "stations=[{name: a, at: 0, eccentricity: 1, direction: 2}, {name: b, at: 9, eccentricity: 1, direction: 2}]",
                "journals=a; b",
            ],
            &["stations", "line_justified"],
        ),
        ("circle", vec!["angles=0; 90; 180; 270", "radii=3; 3; 3; 3"], &["x", "y", "r", "deviations", "roundness"]),
        ("budget", vec![TERMS], &["u", "dof", "dof_whole", "k", "U", "terms"]),
        ("conformity", vec!["value=1", "u=0.1", "upper=2"], &["p_conform", "guard", "standard", "bench"]),
        (
            "capable",
            vec!["new=1", "limit=2", "resolution=0.01", "U=0.02", "k=2", "repeatability=0.01", "repeats=3"],
            &["resolution_ratio", "uncertainty_ratio", "passes_up_to", "passes_down_to"],
        ),
        (
            "unbalance",
            vec!["grade=2.5", "mass=60", "speed=18000", "arrangement=single"],
            &["total", "a", "b", "limited", "verdict"],
        ),
        (
            "line",
            [&LINE[..], &["at=16000", "limit=60"]].concat(),
            &["intercept", "slope", "u_intercept", "u_slope", "covariance", "s", "chi2", "dof", "at", "crossing"],
        ),
        (
            "forecast",
            vec![WEAR, "limit=1", "side=smallest", "next_hours=36400"],
            &["intercept", "slope", "basis", "why", "next", "hours_left", "now", "at_next"],
        ),
    ];
    for (name, words, keys) in cases {
        let answer = json(name, &words);
        for key in keys {
            assert!(answer.get(key).is_some(), "{name} gives no {key}: {answer}");
        }
        every_null_says_why(&answer);
    }
}

#[test]
fn figures_that_are_not_finite_are_refused_by_name_everywhere() {
    for (name, words) in [
        ("repeats", vec!["values=1; nan"]),
        ("run-out", vec![RUN[0], "readings=0; 1; 2; inf; 0; 0; 0; 0"]),
        ("bow", vec!["stations=[{name: a, at: .inf, eccentricity: 1, direction: 2}]", "journals=a; a"]),
        ("circle", vec!["points=[[1, 2], [-.inf, 2], [3, 4]]"]),
        ("budget", vec!["terms=[{name: a, u: NaN}]"]),
        ("conformity", vec!["value=nan", "u=0.1", "upper=2"]),
        ("capable", vec!["new=1", "limit=inf", "resolution=0.01", "U=0.02", "repeatability=0.01"]),
        ("unbalance", vec!["grade=2.5", "mass=-inf", "speed=18000", "arrangement=single"]),
        ("line", vec!["x=0; 1", "y=nan; 2"]),
        ("forecast", vec!["inspections=[{hours: nan, value: 1}]", "limit=1", "next_hours=10"]),
    ] {
        assert!(said(name, &words, 1).contains("which is not finite"), "{name}");
    }
}

#[test]
fn missing_figures_are_named_each() {
    for (name, words, parts) in [
        ("line", vec!["x=1; 2"], vec!["y: missing"]),
        ("line", vec!["x=1; 2", "y=1; 2; 3"], vec!["y: "]),
        ("unbalance", vec!["grade=2.5", "mass=60", "speed=18000"], vec!["a: missing", "b: missing"]),
        ("capable", vec!["new=1"], vec!["resolution: missing", "U: missing", "repeatability: missing"]),
        ("capable", vec!["new=1", "resolution=0.01", "U=0.02", "repeatability=0.01"], vec!["limit: missing"]),
        (
            "budget",
            vec!["terms=[{name: a, kind: uniform}, {name: b}, {name: c, value: 2, kind: expanded}]"],
            vec!["terms 1, value: missing", "terms 2, value: missing", "terms 3, k: missing"],
        ),
        (
            "forecast",
            vec!["inspections=[{hours: 0, value: 1}, {hours: 9, value: 2}]", "limit=9", "next_hours=20"],
            vec!["inspections 1, u: missing", "inspections 2, u: missing"],
        ),
        (
            "forecast",
            vec![
                "inspections=[{hours: 0, value: 1, u: 1}, {hours: 9, value: 2}, {hours: 10, value: 3, u: 1}]",
                "limit=9",
                "next_hours=20",
            ],
            vec!["inspections 2, u: missing"],
        ),
        ("circle", vec!["radii=1; 2; 3"], vec!["points: missing"]),
        (
            "bow",
            vec!["stations=[{name: a, at: 0}, {name: b, at: 3, eccentricity: 1}]", "journals=a; b"],
            vec!["stations 1, eccentricity: missing", "stations 2, direction: missing"],
        ),
    ] {
        let said = said(name, &words, 1);
        for part in parts {
            assert!(said.contains(part), "{name} {words:?}: {part} in\n{said}");
        }
    }
}

#[test]
fn units_behind_figures_count_and_plain_ones_beside_lengths_are_millimetres() {
    let got = json("repeats", &["values=118 um; 0.121; 0.119 mm"]);
    assert_eq!((&got["mean_exact"], &got["unit"]), (&Value::from("179/1500"), &Value::from("mm")));
    let got = json("conformity", &["value=509.7 kPa", "u=8600 Pa", "lower=490 kPa"]);
    assert_eq!((&got["guard"], &got["unit"]), (&Value::from("14.19"), &Value::from("kPa")));
    assert!(said("conformity", &["value=509.7 kPa", "u=8.6", "lower=490 kPa"], 1).contains("`8.6` alone"));
    assert!(said("conformity", &["value=0.2 mm", "u=3 bar", "upper=0.3"], 1).contains("u: found `3 bar`"));
    let got = json("run-out", &["angles=0; 90; 180; 270", "readings=0; 12 um; 22 um; 9 um"]);
    assert_eq!(got["tir"], "0.022");
}

#[test]
fn no_direction_is_printed_where_there_is_none() {
    let got = json("run-out", &["angles=0; 90; 180; 270", "readings=5; 5; 5; 5"]);
    assert_eq!((&got["tir"], &got["eccentricity"]), (&Value::from("0"), &Value::from(0.0)));
    assert!(got["high_spot"].is_null() && got["high_spot_why"].is_string());
    // three lobes and nothing else: TIR, and no eccentricity to take half of it for
    let lobes = "readings=27; 27; 13; 13; 27; 27; 13; 13; 27; 27; 13; 13";
    let got = json("run-out", &["angles=0; 30; 60; 90; 120; 150; 180; 210; 240; 270; 300; 330", lobes]);
    assert_eq!((&got["tir"], &got["eccentricity"]), (&Value::from("14"), &Value::from(0.0)));
    assert!(got["high_spot"].is_null());
}

#[test]
fn the_first_rule_of_a_forecast_stays_callable_and_the_present_one_leaves_no_hours_past_the_limit() {
    let words =
        ["inspections=[{hours: 0, value: 1, u: 0.1}, {hours: 100, value: 2, u: 0.1}]", "limit=2", "next_hours=150"];
    let now = |name: &str| json(name, &words)["now"].clone();
    assert_eq!(
        (now("forecast/1"), now("forecast/2"), now("forecast")),
        ("within".into(), "past".into(), "past".into())
    );
    // 0, 100 and 300 h at 1, 1 and 3: past a limit of 2.9, and the line comes there 25 h later
    let past = ["inspections=[{hours: 0, value: 1, u: 1}, {hours: 100, value: 1, u: 1}, {hours: 300, value: 3, u: 1}]"];
    let words = [past[0], "limit=2.9", "next_hours=310"];
    let (first, present) = (json("forecast/1", &words), json("forecast", &words));
    assert_eq!(first["now"], "past");
    assert!(first["hours_left"]["line"].as_f64().unwrap() > 0.0, "{first}");
    assert_eq!(
        (&present["hours_left"]["line"], &present["hours_left"]["bound"]),
        (&Value::from(0.0), &Value::from(0.0))
    );
    assert_eq!((&present["now"], &present["at_next"]), (&Value::from("past"), &Value::from("past")));
}

/// `u = sqrt(sum of (c u)^2)`, JCGM 100:2008 5.1.2; 1 inch = 25.4 mm; a uniform half width is divided by sqrt 3.
#[test]
fn a_terms_sensitivity_and_unit_both_count() {
    let u = |terms: &str| {
        let got = json("budget", &[&format!("terms={terms}")]);
        assert_eq!(got["unit"], "mm");
        got["terms"][1]["contribution"].as_f64().unwrap()
    };
    let near = |terms: &str, want: f64| assert!((u(terms) - want).abs() < 1e-12, "{terms}: {}", u(terms));
    near("[{name: a, u: 50 um}, {name: b, u: 50 um, sensitivity: -1}]", 0.05);
    near("[{name: a, u: 1 um}, {name: b, u: 0.002 in, sensitivity: -1}]", 0.0508);
    near("[{name: a, u: 1 um}, {name: b, u: 4 um, sensitivity: 50 %}]", 0.002);
    let warm = "[{name: a, u: 0.05 mm}, {name: b, kind: uniform, value: 1 K, sensitivity: 0.5 um}]";
    near(warm, 0.0005 / 3_f64.sqrt());
    let working = Command::cargo_bin("asfound").unwrap().args(["reckon", "budget", &format!("terms={warm}")]).output();
    let working = String::from_utf8(working.unwrap().stdout).unwrap();
    assert!(working.contains("|0.0005 mm| x 1 K / sqrt 3"), "{working}");
    for (terms, key) in [
        ("[{name: a, u: 1 um}, {name: b, u: 1 K, sensitivity: 0.5}]", "terms 2, u"),
        ("[{name: a, u: 1 um}, {name: b, u: 4 um, sensitivity: 2 mm}]", "terms 2, sensitivity"),
        ("[{name: a, u: 1 um}, {name: b, u: 1 K, sensitivity: 2 bar}]", "terms 2, sensitivity"),
    ] {
        let said = said("budget", &[&format!("terms={terms}")], 1);
        assert!(said.contains(key), "{terms}: {said}");
    }
}

#[test]
fn of_several_keys_of_which_one_is_needed_it_is_said_at_once() {
    let cases: [(&str, &[&str], &[&str]); 8] = [
        ("judge", &[], &["value: missing", "limit: missing", "side: missing", "touching: missing"]),
        ("conformity", &[], &["value: missing", "u: missing", "lower: missing"]),
        ("capable", &[], &["limit: missing", "resolution: missing", "U: missing", "repeatability: missing"]),
        ("unbalance", &[], &["grade: missing", "a: missing", "b: missing"]),
        ("due", &[], &["date: missing", "hours_left: missing"]),
        (
            "forecast",
            &["inspections=[{hours: 100, value: 1, u: 0.1}, {hours: 0, value: 2, u: 0.1}]", "limit=2", "next_hours=0"],
            &["inspections 2, hours", "next_hours"],
        ),
        ("conformity", &["value=1", "u=0", "lower=2", "upper=1"], &["u: found", "lower: found"]),
        (
            "capable",
            &["lower=2", "upper=1", "resolution=0", "U=1", "repeatability=1"],
            &["lower: found", "resolution: found"],
        ),
    ];
    for (name, words, keys) in cases {
        let said = said(name, words, 1);
        keys.iter().for_each(|key| assert!(said.contains(key), "{name}: no {key} in {said}"));
    }
}

#[test]
fn a_unit_of_another_kind_is_named_and_never_offered_again() {
    let cases = [
        ("3 bar", "bar is a unit of pressure"),
        ("3 blob", "`blob` is no unit known here"),
        ("3 MM", "did you mean `mm`?"),
    ];
    for (typed, hint) in cases {
        let said = said("feelers", &[&format!("goes={typed}"), "stops=2 mm"], 1);
        assert!(said.contains(hint) && !said.contains("mean `bar`"), "{said}");
    }
    assert!(said("torque", &["value=120 ft lb"], 1).contains("did you mean `lbf ft`?"));
}

/// How finely a reading was written is seen in the unit it was written in: 0.0001 in is 0.00254 mm.
#[test]
fn straight_readings_spread_by_the_last_place_typed_in_whatever_unit() {
    let bound = |values: [&str; 3], limit: &str| {
        let at = |(hours, value): (u32, &str)| format!("{{hours: {hours}, value: {value}}}");
        let all: Vec<_> = [0, 8000, 16000].into_iter().zip(values).map(at).collect();
        let got = json("forecast", &[&format!("inspections=[{}]", all.join(", ")), limit, "next_hours=24000"]);
        (got["next"]["bound"].as_f64().unwrap(), got["at_next"].as_str().unwrap().to_owned())
    };
    let (mm, _) = bound(["0.160", "0.180", "0.200"], "limit=0.2205");
    let (um, _) = bound(["160 um", "180 um", "200 um"], "limit=220.5 um");
    assert!((mm - um).abs() < 1e-12, "{mm} {um}");
    let (inch, at_next) = bound(["0.0063 in", "0.0071 in", "0.0079 in"], "limit=0.0088 in");
    let u = 0.00254 / 12_f64.sqrt() * (10.0_f64 / 3.0).sqrt();
    assert!((inch - (0.0087 * 25.4 + 6.313_751_515 * u)).abs() < 1e-8, "{inch}");
    assert_eq!(at_next, "watch");
}

#[test]
fn a_part_that_does_not_worsen_or_was_seen_once_has_no_forecast_and_no_fault() {
    let flat = "inspections=[{hours: 0, value: 3, u: 1}, {hours: 10, value: 3, u: 1}, {hours: 20, value: 2, u: 1}]";
    let got = json("forecast", &[flat, "limit=9", "next_hours=30"]);
    assert_eq!(got["now"], "within");
    assert!(got["no_forecast"].is_string() && got.get("hours_left").is_none() && got.get("at_next").is_none());
    let once = "inspections=[{hours: 0, value: 3}, {hours: 10, value: 12, replaced: true}]";
    let got = json("forecast", &[once, "limit=9", "next_hours=30"]);
    assert_eq!(got["now"], "past");
    assert!(got["no_forecast"].as_str().unwrap().contains("one reading"));
}
