//! ISO 286 limits and fits.

use asfound::domain::exact::Exact;

use super::{exact, exact_at, reckoned, rows, tried};

fn micrometres(answers: &asfound::domain::reckon::Answers, path: &str) -> Exact {
    &exact_at(answers, path) * &Exact::from(1000)
}

/// Sizes just inside both ends of a band, and on its upper boundary, which belongs to it.
fn sizes(over: &str, up_to: &str) -> [String; 3] {
    [format!("{over}.001"), format!("{}.999", up_to.parse::<u32>().unwrap() - 1), up_to.to_owned()]
}

/// ISO 286-2:2010 limit deviation tables, `iso286_zones.csv`: every zone in every band.
#[test]
fn iso_286_2_zones() {
    for row in rows("iso286_zones") {
        for size in sizes(&row["over_mm"], &row["upto_mm"]) {
            let answers = reckoned("fit", &[format!("{}={size} {}", row["feature"], row["zone"])]);
            let off = |path: &str| {
                let nominal = &exact(&size) * &Exact::from(1000);
                &micrometres(&answers, &format!("{}.{path}", row["feature"])) - &nominal
            };
            assert_eq!(off("max"), exact(&row["upper_um"]), "{size} {}", row["zone"]);
            assert_eq!(off("min"), exact(&row["lower_um"]), "{size} {}", row["zone"]);
        }
    }
}

/// ISO 286-1:2010 table 1, `iso286_it.csv`: the tolerance of every grade in every band, on both kinds of feature.
#[test]
fn iso_286_1_tolerances() {
    for row in rows("iso286_it") {
        let grade = row["grade"].trim_start_matches("IT");
        for size in sizes(&row["over_mm"], &row["upto_mm"]) {
            let answers = reckoned("fit", &[format!("hole={size} H{grade}"), format!("shaft={size}h{grade}")]);
            for feature in ["hole", "shaft"] {
                let width = &micrometres(&answers, &format!("{feature}.max"))
                    - &micrometres(&answers, &format!("{feature}.min"));
                assert_eq!(width, exact(&row["tolerance_um"]), "{size} {feature} IT{grade}");
            }
        }
    }
}

/// ISO 286-2:2010, `iso286_fits.csv`: limits of size and clearances of pairs.
#[test]
fn iso_286_2_fits() {
    for row in rows("iso286_fits") {
        let name = format!("{} {}/{}", row["nominal_mm"], row["hole"], row["shaft"]);
        let given = ["hole", "shaft"].map(|feature| format!("{feature}={} {}", row["nominal_mm"], row[feature]));
        let answers = reckoned("fit", &given);
        for (path, column) in [
            ("hole.min", "hole_min_mm"),
            ("hole.max", "hole_max_mm"),
            ("shaft.min", "shaft_min_mm"),
            ("shaft.max", "shaft_max_mm"),
        ] {
            assert_eq!(exact_at(&answers, path), exact(&row[column]), "{name} {path}");
        }
        assert_eq!(micrometres(&answers, "clearance.min"), exact(&row["clearance_min_um"]), "{name}");
        assert_eq!(micrometres(&answers, "clearance.max"), exact(&row["clearance_max_um"]), "{name}");
    }
}

#[test]
fn what_the_table_does_not_hold_is_refused() {
    for given in [
        "hole=50 f7",
        "shaft=50 H7",
        "hole=50",
        "hole=H7",
        "hole=3 H7",
        "hole=120.001 H7",
        "hole=50 H4",
        "hole=50 H10",
        "shaft=50 js6",
        "shaft=12 n6",
        "shaft=100 f7",
        "shaft=100 k6",
        "hole=-50 H7",
        "hole=50 H",
        "hole=50 H7x",
    ] {
        let problems = tried("fit", &[given.to_owned()]).unwrap_err();
        assert_eq!(problems.len(), 1, "{given}: {problems:?}");
    }
    let two = tried("fit", &["hole=50 H7".to_owned(), "shaft=49 f7".to_owned()]).unwrap_err();
    assert!(two[0].to_string().contains("nominal"), "{two:?}");
    assert_eq!(tried("fit", &[]).unwrap_err().len(), 1);
}

#[test]
fn a_decimal_comma_is_a_point() {
    let answers = reckoned("fit", &["hole=30,5 H7".to_owned()]);
    assert_eq!(exact_at(&answers, "hole.max"), exact("30.525"));
}
