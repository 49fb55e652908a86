//! The keys that programs were promised, of every reckoning, and the forms their values take.

use asfound::cli::reckon::words;
use asfound::domain::exact::Exact;
use asfound::domain::reckon::{Answer, Answers, FORMULAS, Formula};

fn given(words: &[&str]) -> Vec<String> {
    words.iter().map(|word| (*word).to_owned()).collect()
}

fn answers(name: &str, words: &[&str]) -> Answers {
    super::reckoned(name, &given(words))
}

/// What stands where the worked example leaves a key out.
fn cases() -> Vec<(&'static str, Vec<&'static str>)> {
    let mut cases: Vec<_> = FORMULAS.iter().map(|formula| (formula.name, formula.example.to_vec())).collect();
    cases.extend([
        ("judge", vec!["value=0.1", "limit=0.2", "side=largest", "touching=fails", "rule=guarded", "u=0.01"]),
        ("repeats", vec!["values=0.12"]),
        ("repeats", vec!["values=0.12; 0.12; 0.12", "alpha=0.05"]),
        ("lift", vec!["places=[{place: a, pairs: [[0.02, 0.23]]}]"]),
        ("journal", vec!["unworn=45", "planes=[{plane: a, diameters: [44.9]}]"]),
        ("run-out", vec!["angles=0; 120; 240", "readings=5; 5; 5"]),
        ("bow", vec![
            "stations=[{name: a, at: 0, eccentricity: 1, direction: -2}, {name: b, at: 9, eccentricity: 0, direction: 2}]",
            "journals=a; b",
            "before=[{name: a, eccentricity: 0.5, direction: 350}]",
        ]),
        ("circle", vec!["angles=0; 90; 180; 270", "radii=3; 3; 3; 3", "method=algebraic"]),
        ("lands", vec!["lands=[{taper: 14, flat: 6}, {taper: 12, flat: 8}]"]),
        ("budget", vec!["terms=[{name: a, kind: resolution, value: 2}, {name: b, u: 1, dof: 4}]"]),
        ("conformity", vec!["value=1", "u=0.1", "lower=0", "upper=2", "dof=3"]),
        ("capable", vec!["lower=1", "upper=1.01", "resolution=0.01", "U=0.02", "repeatability=0.01"]),
        ("unbalance", vec!["grade=2.5", "mass=60", "speed=18000", "arrangement=single"]),
        ("line", vec!["x=0; 4200; 8100; 12300", "y=3; 17; 24; 41", "at=16000", "limit=60"]),
        ("line", vec!["x=0; 4200", "y=3; 17", "at=16000", "limit=60"]),
        ("line", vec!["x=1; 2; 3", "y=2; 2; 2", "limit=60"]),
        ("forecast", vec!["inspections=[{hours: 0, value: 1}]", "limit=2", "next_hours=9"]),
        ("indication", vec!["indications=[{length: 3, width: 1}]"]),
        ("shrink", vec!["bore=60", "interference=1", "clearance=0", "expansion=11e-6", "room=20", "largest_allowed=250"]),
        ("torque", vec!["value=30 lbf ft"]),
        ("life", vec!["machine=100"]),
        ("due", vec!["date=2031-04-17", "hours_left=10", "hours_per_day=0"]),
    ]);
    cases
}

/// Paths in the answers; lists count from zero.
const PROMISED: &[(&str, &[&str])] = &[
    ("judge", &["value", "verdict", "room"]),
    ("convert", &["value"]),
    ("repeats", &["n", "mean", "s", "s_mean", "range", "u", "dof", "suspect", "grubbs", "grubbs_critical", "outlier"]),
    (
        "lift",
        &[
            "places.0.place",
            "places.0.clearances",
            "places.0.mean",
            "places.0.range",
            "places.0.retake",
            "largest.place",
            "largest.mean",
            "smallest.place",
            "smallest.mean",
        ],
    ),
    ("feelers", &["for_smallest", "for_largest", "middle", "half_width", "u"]),
    (
        "journal",
        &[
            "step_wear.value",
            "step_wear.where",
            "ovality.value",
            "ovality.where",
            "taper.value",
            "taper.where",
            "smallest.value",
            "smallest.where",
        ],
    ),
    ("wear", &["places.0.place", "places.0.mean", "places.0.wear", "largest.wear", "smallest.place"]),
    ("life", &["hours", "left"]),
    ("run-out", &["tir", "eccentricity", "high_spot", "residual", "rms_residual", "closure", "warnings"]),
    (
        "bow",
        &[
            "stations.0.name",
            "stations.0.eccentricity",
            "stations.0.direction",
            "stations.0.line",
            "stations.0.bow",
            "stations.0.bow_direction",
            "stations.0.u",
            "stations.0.change",
            "line_justified",
        ],
    ),
    ("circle", &["x", "y", "r", "deviations", "roundness"]),
    (
        "lands",
        &[
            "lands.0.ratio",
            "lands.0.sum_closes",
            "lands.0.depth",
            "worst.land",
            "worst.ratio",
            "u_ratio",
            "tilt.amount",
            "tilt.direction",
            "at_limit.flat",
            "at_limit.depth",
        ],
    ),
    ("relative-clearance", &["per_mille"]),
    ("to-20", &["length_20", "correction"]),
    ("budget", &["u", "dof", "dof_whole", "k", "U", "terms.0.name", "terms.0.contribution"]),
    ("conformity", &["p_conform", "guard", "standard.simple", "standard.guarded", "bench"]),
    ("capable", &["resolution_ratio", "uncertainty_ratio", "passes_up_to", "passes_down_to"]),
    ("fit", &["hole.min", "hole.max", "shaft.min", "shaft.max", "clearance.min", "clearance.max"]),
    ("unbalance", &["total", "a", "b", "limited", "verdict"]),
    (
        "line",
        &[
            "intercept",
            "slope",
            "u_intercept",
            "u_slope",
            "covariance",
            "s",
            "chi2",
            "dof",
            "crossing.x",
            "crossing.low",
            "crossing.high",
        ],
    ),
    (
        "forecast",
        &[
            "intercept",
            "slope",
            "basis",
            "why",
            "next.value",
            "next.u",
            "next.bound",
            "hours_left.line",
            "hours_left.bound",
            "now",
            "at_next",
        ],
    ),
    ("indication", &["indications.0.class", "groups"]),
    ("shrink", &["heat_to"]),
    ("torque", &["stages.0.n_m", "stages.0.lbf_ft", "order"]),
    ("due", &["by_hours", "by_calendar", "due", "decided_by"]),
];

#[test]
fn programs_find_the_keys_they_were_promised_of_every_reckoning() {
    for formula in FORMULAS {
        let (_, paths) =
            PROMISED.iter().find(|(name, _)| *name == formula.name).unwrap_or_else(|| panic!("{}", formula.name));
        let got = answers(formula.name, formula.example);
        for path in *paths {
            assert!(got.at(path).is_some(), "{} gives no {path}: {got:?}", formula.name);
        }
    }
    let line = answers("line", &["x=0; 4200; 8100; 12300", "y=3; 17; 24; 41", "at=16000"]);
    assert!(["at.value", "at.u", "at.low", "at.high"].iter().all(|path| line.at(path).is_some()));
    let hot = ["bore=60", "interference=1", "clearance=0", "expansion=11e-6", "room=20", "largest_allowed=250"];
    assert!(answers("shrink", &hot).at("refused").is_some());
    let once = answers("forecast", &["inspections=[{hours: 0, value: 1}]", "limit=2", "next_hours=9"]);
    assert!(once.at("no_forecast").is_some());
}

/// Exact where it is typed figures or a ratio of them: a text with all its digits, or a number with its fraction beside.
const EXACT: &[&str] = &[
    "mean",
    "range",
    "room",
    "guard",
    "tir",
    "tir_marks",
    "tir_swept",
    "closure",
    "ratio",
    "depth",
    "flat",
    "u_ratio",
    "per_mille",
    "length_20",
    "correction",
    "resolution_ratio",
    "uncertainty_ratio",
    "passes_up_to",
    "passes_down_to",
    "min",
    "max",
    "heat_to",
    "n_m",
    "lbf_ft",
    "percent",
    "for_smallest",
    "for_largest",
    "middle",
    "half_width",
    "wear",
    "hours",
    "left",
    "suspect",
];

/// Directions in degrees.
const ANGLES: &[&str] = &["high_spot", "direction", "bow_direction"];

#[test]
fn values_take_the_forms_that_were_promised() {
    for (name, words) in cases() {
        let got = answers(name, &words);
        sound(&got, &format!("{name} {words:?}"));
    }
}

fn sound(answers: &Answers, what: &str) {
    let beside = |key: String| answers.entries().iter().find(|(other, _)| *other == key).map(|(_, answer)| answer);
    for (key, answer) in answers.entries() {
        let what = format!("{what}: {key}");
        match answer {
            Answer::Nothing => {
                assert!(matches!(beside(format!("{key}_why")), Some(Answer::Text(why)) if !why.is_empty()), "{what}");
            }
            Answer::Number(number) => sound_number(answers, (key, *number), &what),
            Answer::Text(text) if EXACT.contains(&key.as_str()) => {
                assert!(Exact::parse(text).is_some(), "{what}: `{text}` is no decimal");
            }
            Answer::Map(map) => sound(map, &what),
            Answer::List(items) => {
                for item in items {
                    assert!(*item != Answer::Nothing, "{what}: nothing in a list has no key to say why");
                    if let Answer::Map(map) = item {
                        sound(map, &what);
                    }
                }
            }
            Answer::Text(_) | Answer::Flag(_) | Answer::Whole(_) => {}
        }
    }
}

fn sound_number(answers: &Answers, (key, number): (&str, f64), what: &str) {
    assert!(number.is_finite(), "{what}");
    if ANGLES.contains(&key) {
        assert!((0.0..360.0).contains(&number), "{what} {number}");
    }
    if EXACT.contains(&key) {
        let Some(Answer::Text(fraction)) = answers.at(&format!("{key}_exact")) else { panic!("{what}: no fraction") };
        assert!(fraction.contains('/'), "{what}: {fraction}");
    }
}

/// What a rule's row gives under its number is what it gives under its name.
#[test]
fn every_rule_is_called_by_its_number() {
    for formula in FORMULAS {
        let tree = words::tree(&given(formula.example)).unwrap();
        let by_number = Formula::find(&formula.id()).unwrap().run(&tree).unwrap();
        assert_eq!(by_number.working.rule, formula.id());
    }
    for (bound, _) in asfound::domain::measured::Binding::names() {
        assert!(Formula::find(bound).is_some(), "a checklist can bind {bound}, which cannot be called");
    }
}
