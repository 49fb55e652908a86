//! Clearance by lift.

use std::collections::BTreeMap;

use asfound::domain::exact::Exact;
use asfound::domain::reckon::lift::{Pair, Place, lift};
use proptest::prelude::*;

use super::{at, exact, exact_at, reckoned, rows, tried};

/// made for this project (common practice, no source): every place of `lift.csv`, in the inspections they belong to.
#[test]
fn lift_csv() {
    let mut inspections: BTreeMap<String, Vec<_>> = BTreeMap::new();
    for row in rows("lift") {
        inspections.entry(row["id"].clone()).or_default().push(row);
    }
    for (id, rows) in inspections {
        let places: Vec<String> = rows
            .iter()
            .map(|row| {
                let pairs = row["down_mm"].split(';').zip(row["up_mm"].split(';'));
                let pairs: Vec<_> = pairs.map(|(down, up)| format!("[{down}, {up}]")).collect();
                format!("{{place: {}, pairs: [{}]}}", row["place"], pairs.join(", "))
            })
            .collect();
        let answers = reckoned("lift", &[format!("places=[{}]", places.join(", "))]);
        for (number, row) in rows.iter().enumerate() {
            let path = |key: &str| format!("places.{number}.{key}");
            let clearances: Vec<_> = row["clearance_mm"].split(';').collect();
            assert_eq!(at(&answers, &path("clearances")), format!("[{}]", clearances.join(", ")), "{id}");
            assert_eq!(exact_at(&answers, &path("mean")), exact(&row["mean_mm"]), "{id}");
            assert_eq!(exact_at(&answers, &path("range")), exact(&row["range_mm"]), "{id}");
            assert_eq!(at(&answers, &path("place")), row["place"], "{id}");
        }
    }
}

/// made for this project: repeats of one place averaged, places never, the worst counts; equal places give the first.
#[test]
fn worst_place_csv() {
    for row in rows("worst_place") {
        let places: Vec<String> = row["places_mm"]
            .split('|')
            .zip(1..)
            .map(|(place, number)| {
                let pairs: Vec<_> = place.split(';').map(|clearance| format!("[0, {clearance}]")).collect();
                format!("{{place: {number}, pairs: [{}]}}", pairs.join(", "))
            })
            .collect();
        let answers = reckoned("lift", &[format!("places=[{}]", places.join(", "))]);
        assert_eq!(at(&answers, "largest.place"), row["worst_place"], "{}", row["id"]);
        assert_eq!(exact_at(&answers, "largest.mean"), exact(&row["worst_mm"]), "{}", row["id"]);
        for (number, mean) in row["means_mm"].split(';').enumerate() {
            assert_eq!(exact_at(&answers, &format!("places.{number}.mean")), exact(mean), "{}", row["id"]);
        }
    }
}

/// The invented demonstration rotor, reckoned by hand: largest means of both bushes.
#[test]
fn demonstration_bushes() {
    let place = |name: &str, pairs: [[&str; 2]; 3]| Place {
        name: name.to_owned(),
        pairs: pairs.map(|[down, up]| Pair { down: exact(down), up: exact(up) }).to_vec(),
        division: Some(exact("0.002")),
    };
    let turbine = [
        place("outer 0", [[".020", ".228"], [".020", ".230"], [".022", ".230"]]),
        place("outer 90", [[".020", ".224"], [".020", ".224"], [".020", ".226"]]),
        place("inner 0", [[".020", ".234"], [".020", ".234"], [".018", ".232"]]),
        place("inner 90", [[".022", ".230"], [".020", ".230"], [".020", ".230"]]),
    ];
    let found = lift(&turbine).unwrap();
    assert_eq!((found.largest.place.name.as_str(), found.largest.mean), ("inner 0", exact("0.214")));
    assert_eq!((found.smallest.place.name.as_str(), found.smallest.mean), ("outer 90", exact("0.614/3")));
    let compressor = [place("outer 0", [[".020", ".182"], [".020", ".182"], [".020", ".184"]])];
    let found = lift(&compressor).unwrap();
    assert_eq!(found.largest.mean.at_most(4), "0.1627");
}

proptest! {
    #[test]
    fn the_worst_place_is_never_better_than_any(
        places in prop::collection::vec(prop::collection::vec((-400_i64..400, 1_i64..500), 1..5), 1..8),
    ) {
        let thousandths = |count: i64| &Exact::whole(count) * &Exact::power_of_ten(-3);
        let places: Vec<_> = places
            .iter()
            .map(|pairs| Place {
                name: "p".to_owned(),
                pairs: pairs
                    .iter()
                    .map(|(down, clearance)| Pair { down: thousandths(*down), up: thousandths(down + clearance) })
                    .collect(),
                division: None,
            })
            .collect();
        let found = lift(&places).unwrap();
        for place in &found.places {
            prop_assert!(found.largest.mean >= place.mean && found.smallest.mean <= place.mean);
        }
    }
}

#[test]
fn up_not_above_down_is_refused_with_every_such_pair() {
    let places = "places=[{place: inner 0, pairs: [[0.020, 0.034], [0.234, 0.020], [0.1, 0.1], [0.1]]}]".to_owned();
    let problems = tried("lift", &[places]).unwrap_err();
    let keys: Vec<_> = problems.iter().map(|problem| problem.key.as_str()).collect();
    assert_eq!(keys, ["places 1, pairs 2", "places 1, pairs 3", "places 1, pairs 4"]);
}

#[test]
fn repeats_more_than_two_divisions_apart_are_retaken() {
    for (third, retake) in [("0.234", "false"), ("0.238", "false"), ("0.239", "true")] {
        let places = format!("places=[{{place: inner 0, pairs: [[0.020, 0.234], [0.020, 0.234], [0.020, {third}]]}}]");
        let answers = reckoned("lift", &[places, "division=2 um".to_owned()]);
        assert_eq!(at(&answers, "places.0.retake"), retake, "{third}");
    }
}
