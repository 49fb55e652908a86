//! Workings that a supervisor checks with a pencil: formulas, figures with units, every step between.

use asfound::cli::reckon::words;
use asfound::domain::reckon::{FORMULAS, Formula};

fn working(name: &str, given: &[&str]) -> String {
    let given: Vec<_> = given.iter().map(|word| (*word).to_owned()).collect();
    let outcome = Formula::find(name).unwrap().run(&words::tree(&given).unwrap());
    let text = outcome.unwrap_or_else(|problems| panic!("{name} {given:?}: {problems:?}")).working.to_string();
    // as one line, however it was broken
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The worked examples with what stands between the figures and the result.
#[test]
fn every_step_between_is_shown() {
    for (name, parts) in [
        ("judge", &["59.931 mm - 59.909 mm = 0.022 mm", "room = limit - value = 0.022 mm - 0.022 mm = 0.000 mm"][..]),
        ("convert", &["30 x 1.3558179483314004 N m = 40.674538449942012 N m"]),
        (
            "repeats",
            &[
                "0.118 mm + 0.121 mm + 0.119 mm + 0.120 mm + 0.221 mm + 0.119 mm = 0.818 mm",
                "0.818 mm / 6 = 0.136333 mm",
                "Q = sum of (x - mean)^2 = 0.00860733 mm^2",
                "s = sqrt(Q / (n - 1)) = sqrt(0.00860733 mm^2 / 5) = 0.04149 mm",
                "G = |x - mean| / s = |0.221 mm - 0.136333 mm| / 0.04149 mm = 2.0406",
                "critical G = (n - 1) / sqrt n x sqrt(t^2 / (n - 2 + t^2)) = 5 / sqrt 6 x sqrt(23.532 / (4 + 23.532)) = 1.8871",
            ],
        ),
        ("lift", &["0.230 mm - 0.020 mm = 0.210 mm", "0.626 mm / 3 = 0.2087 mm", "0.210 mm - 0.208 mm = 0.002 mm"]),
        ("feelers", &["(0.35 mm + 0.40 mm) / 2 = 0.375 mm", "0.025 mm / 1.7321 = 0.0144 mm"]),
        (
            "journal",
            &["59.931 mm - 59.909 mm = 0.022 mm", "range, c = largest - smallest = 59.913 mm - 59.909 mm = 0.004 mm"],
        ),
        ("wear", &["(10.72 mm + 10.70 mm) / 2 = 10.71 mm", "12.00 mm - 10.71 mm = 1.29 mm"]),
        ("life", &["1500 h + 36000 h - 24000 h = 13500 h", "25000 h - 13500 h = 11500 h"]),
        (
            "run-out",
            &[
                "0.022 mm - (-0.001 mm) = 0.023 mm",
                "closure = closing - first = 0 mm - 0 mm = 0 mm",
                "mean = sum of r / n = 0.079 mm / 8 = 0.009875 mm",
                "x = 2 / n x sum of r cos(angle) = 2 / 8 x (0 cos 0 + (-0.001) cos 45",
                "e = sqrt(x^2 + y^2) = sqrt((-0.01055 mm)^2 + (-0.005828 mm)^2) = 0.01206 mm",
                "residual = largest left - smallest left = 0.0007086 mm - (-0.001047 mm) = 0.001755 mm",
            ],
        ),
        (
            "bow",
            &[
                "chi-squared = (e1 / u1)^2 + (e2 / u2)^2 = (0.006 / 0.0005)^2 + (0.01 / 0.0005)^2 = 544",
                "above 9.488",
                "line, mid = first + 0.3333 (second - first) = 0.006019 mm at 41.36 deg",
                "u, mid = sqrt(u^2 + ((1 - s) u1)^2 + (s u2)^2) = 0.000624 mm",
            ],
        ),
        ("circle", &["sqrt((8 - 5)^2 + (-3 - (-3))^2) mm = 3 mm", "12 mm / 4 = 3 mm"]),
        (
            "lands",
            &[
                "14 mm / 6 mm = 2.3333",
                "0.04 mm x (8 mm - 4 mm) / 16 mm = 0.01 mm",
                "new 20 mm, to within 0.5 mm: closes",
            ],
        ),
        ("relative-clearance", &["1000 x 0.12 mm / 45 mm = 2.667 per mille"]),
        ("to-20", &["60.042 mm x 1.000115 / 1.00018 = 60.038098 mm", "60.038098 mm - 60.042 mm = -0.003902 mm"]),
        (
            "budget",
            &[
                "sqrt(0.00088^2 + 0.0005774^2",
                "0.001921^4 / (0.00088^4 / 2) = 45.436, cut to 45",
                "2.014 x 0.001921 mm",
            ],
        ),
        (
            "conformity",
            &[
                "u, rounded up to two figures = 0.00243 mm = 0.0025 mm",
                "normal distribution",
                "z above = (value - upper) / u = (0.2143 mm - 0.220 mm) / 0.00243 mm = -2.3457",
                "p above = F(z) = 0.0095",
            ],
        ),
        ("capable", &["|0.220 mm - 0.170 mm| / 0.002 mm = 25", "0.220 mm - 0.004125 mm = 0.215875 mm"]),
        ("fit", &["50 mm + 0.025 mm = 50.025 mm", "50.000 mm - 49.975 mm = 0.025 mm"]),
        ("unbalance", &["1000 x 2.5 mm/s x 64 kg / 1885 rad/s = 84.88 g mm", "103 mm / (207 mm + 103 mm) = 0.3323"]),
        (
            "line",
            &[
                "xm = sum of w x / sum of w = 3.5",
                "Sxy / Sxx = 123 / 70 = 1.75714",
                "k = t for 95 %, two-sided, and endless degrees of freedom = 1.96",
            ],
        ),
        (
            "forecast",
            &[
                "Sxx = sum of w (x - xm)^2",
                "u of the line there",
                "k = t for 95 %, one-sided",
                "x at the limit = (limit - a) / b",
            ],
        ),
        ("indication", &["length 3.1 mm > 3 x width = 3 x 1 mm = 3 mm: linear", "1 to 2: 0.95 mm edge to edge"]),
        ("shrink", &["20 degC + 0.105 mm / (0.0000115 /K x 60 mm) = 172.2 degC"]),
        ("torque", &["30 / 100 x 120 N m = 36 N m", "36 N m / 1.35582 = 26.6 lbf ft"]),
        ("due", &["4000 h / 16 h = 250", "2025-03-10 + 250 days = 2025-11-15"]),
    ] {
        let formula = Formula::find(name).unwrap();
        let text = working(name, formula.example);
        for part in parts {
            assert!(text.contains(part), "{part} in\n{text}");
        }
    }
}

/// No row without a formula, a result and a source; no grammar of machines.
#[test]
fn every_working_has_its_formula_result_and_source() {
    for formula in FORMULAS {
        let text = working(formula.name, formula.example);
        assert!(text.contains(" = "), "{text}");
        assert!(text.contains("result: ") && text.contains("source: "), "{text}");
        for odd in [" 1 points", " 1 figures", " 1 stages", " 1 groups", " 1 degrees of freedom", "- -", "e-0", "e-1"] {
            assert!(!text.contains(odd), "{odd} in\n{text}");
        }
    }
}

/// Zeros behind the point are what the gauge showed; digits that only doubles leave behind are not.
#[test]
fn digits_are_those_typed_and_no_more() {
    let text = working("repeats", &["values=45.00 mm; 45.00; 45.00"]);
    assert!(text.contains("45.00 mm + 45.00 mm + 45.00 mm = 135.00 mm") && text.contains("mean 45.00 mm"), "{text}");
    let text = working("lift", &["places=[{place: a, pairs: [[0.020, 0.230]]}]"]);
    assert!(text.contains("0.230 mm - 0.020 mm = 0.210 mm"), "{text}");
    for (name, given) in [
        ("circle", vec!["points=[[0, 0], [1, 0], [0, 1]]"]),
        ("circle", vec!["angles=0; 90; 180; 270", "radii=22; 22; 22; 22"]),
        ("run-out", vec!["angles=0; 90; 180; 270", "readings=0.015; 0; -0.015; 0"]),
        ("run-out", vec!["angles=0; 120; 240", "readings=5.1; 5.1; 5.1"]),
    ] {
        let text = working(name, &given);
        assert!(!text.contains("00000000") && !text.contains("99999999"), "{text}");
    }
}

/// What is shown stands to its limit as the verdict says.
#[test]
fn what_is_printed_never_contradicts_the_verdict() {
    let unbalance = |measured: &str| {
        let measured = format!("measured={{a: {measured}}}");
        working("unbalance", &["grade=2.5", "mass=27", "speed=18000", "arrangement=single", &measured])
    };
    assert!(unbalance("35.81").contains("35.81 g mm, share 35.8099 g mm: past"), "{}", unbalance("35.81"));
    assert!(unbalance("35.8").contains("35.8 g mm, share 35.81 g mm: within"), "{}", unbalance("35.8"));
    // a share that its bound holds is not what the lever alone would give
    let held = working("unbalance", &["grade=2.5", "mass=64", "speed=18000", "a=290", "b=20"]);
    assert!(held.contains("20 mm / (290 mm + 20 mm) = 0.06452, held at 0.3 (bounds 0.3 and 0.7)"), "{held}");
    assert!(held.contains("A = U x lever A = 84.88 g mm x 0.3 = 25.46 g mm"), "{held}");
    let forecast = |value: &str| {
        let inspections =
            format!("inspections=[{{hours: 0, value: 0, u: 1e-9}}, {{hours: 1000, value: {value}, u: 1e-9}}]");
        working("forecast", &[&inspections, "limit=1", "next_hours=2000"])
    };
    let (short, past) = (forecast("0.4999999"), forecast("0.50000001"));
    assert!(short.contains("within now; 0.9999998, bound 0.9999998"), "{short}");
    assert!(past.contains("within now; 1.00000002,") && past.contains(": past"), "{past}");
    let hot = working(
        "shrink",
        &["bore=60", "interference=45 um", "clearance=60 um", "expansion=11.5e-6", "room=20", "largest_allowed=172.17"],
    );
    assert!(hot.contains("it takes 172.2 degC, the material may get 172.17 degC"), "{hot}");
}
