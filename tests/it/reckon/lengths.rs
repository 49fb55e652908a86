//! Feelers, journals, relative clearance, temperature, shrink fits.

use asfound::domain::exact::Exact;
use asfound::domain::reckon::feelers::feelers;
use asfound::domain::reckon::journal::{Plane, journal};
use asfound::domain::reckon::judge::{Bench, Limit, Side};
use asfound::domain::sheet::Touching;
use proptest::prelude::*;

use super::{Row, assert_near, at, exact, exact_at, reckoned, rows, tried};

/// JCGM 100:2008 4.3.7, `feeler.csv`: a largest limit is judged by the leaf that stops, a smallest by the one that goes.
#[test]
fn feeler_csv() {
    for row in rows("feeler") {
        let answers = reckoned("feelers", &[format!("goes={}", row["go_mm"]), format!("stops={}", row["no_go_mm"])]);
        for (key, column) in [
            ("for_smallest", "go_mm"),
            ("for_largest", "no_go_mm"),
            ("middle", "middle_mm"),
            ("half_width", "half_width_mm"),
        ] {
            assert_eq!(exact_at(&answers, key), exact(&row[column]), "{} {key}", row["id"]);
        }
        assert_near(&at(&answers, "u"), &row["u_mm"], &row["id"]);
        let limit = |side| Limit { at: exact(&row["limit_mm"]), side, touching: Touching::Passes };
        let none = Exact::zero();
        let below = limit(Side::Largest).judge(&exact_at(&answers, "for_largest"), &none) == Bench::Within;
        let above = limit(Side::Smallest).judge(&exact_at(&answers, "for_smallest"), &none) == Bench::Within;
        let found = match (below, above) {
            (true, false) => "below",
            (false, true) => "at or above",
            (false, false) => "undecided",
            (true, true) => "both",
        };
        assert_eq!(found, row["gap_against_limit"], "{}", row["id"]);
    }
}

#[test]
fn the_leaf_that_stops_is_the_thicker() {
    assert!(feelers(&exact("0.4"), &exact("0.4")).is_err());
    assert!(feelers(&exact("0.4"), &exact("0.35")).is_err());
}

fn plane(name: &str, diameters: &[&str]) -> String {
    format!("{{plane: {name}, diameters: [{}]}}", diameters.join(", "))
}

/// made for this project, `journal.csv`: every plane, every direction, and the worst of them.
#[test]
fn journal_csv() {
    for row in rows("journal") {
        let table: Vec<Vec<&str>> = row["planes_mm"].split('|').map(|plane| plane.split(';').collect()).collect();
        let unworn = format!("unworn={}", row["unworn_mm"]);
        let of = |planes: &[Vec<&str>]| {
            let named = |(number, diameters): (usize, &Vec<&str>)| plane(&format!("p{number}"), diameters);
            let planes: Vec<_> = planes.iter().enumerate().map(named).collect();
            reckoned("journal", &[unworn.clone(), format!("planes=[{}]", planes.join(", "))])
        };
        let whole = of(&table);
        for (key, column) in [
            ("step_wear", "step_wear_mm"),
            ("ovality", "worst_ovality_mm"),
            ("taper", "worst_taper_mm"),
            ("smallest", "smallest_mm"),
        ] {
            assert_eq!(exact_at(&whole, &format!("{key}.value")), exact(&row[column]), "{} {key}", row["id"]);
        }
        for (diameters, ovality) in table.iter().zip(row["ovality_mm"].split(';')) {
            let one = of(std::slice::from_ref(diameters));
            assert_eq!(exact_at(&one, "ovality.value"), exact(ovality), "{}", row["id"]);
            assert_eq!(at(&one, "taper"), "none", "one plane shows no taper");
        }
        for (direction, taper) in row["taper_mm"].split(';').enumerate() {
            let along: Vec<_> = table.iter().map(|plane| vec![plane[direction]]).collect();
            let one = of(&along);
            assert_eq!(exact_at(&one, "taper.value"), exact(taper), "{}", row["id"]);
            assert_eq!(at(&one, "ovality"), "none", "one direction shows no ovality");
        }
    }
}

/// The invented demonstration rotor, reckoned by hand: on the limit of step wear, where two directions would say 0.020.
#[test]
fn demonstration_journal() {
    let planes = [
        plane("a", &["59.917", "59.915", "59.916", "59.918"]),
        plane("b", &["59.915", "59.913", "59.914", "59.916"]),
        plane("c", &["59.912", "59.909", "59.911", "59.913"]),
    ];
    let given = ["unworn=59.931; 59.931".to_owned(), format!("planes=[{}]", planes.join(", "))];
    let answers = reckoned("journal", &given);
    for (key, value) in [("step_wear", "0.022"), ("ovality", "0.004"), ("taper", "0.006")] {
        assert_eq!(at(&answers, &format!("{key}.value")), value, "{key}");
    }
    let limit = Limit { at: exact("0.022"), side: Side::Largest, touching: Touching::Fails };
    assert_eq!(limit.judge(&exact_at(&answers, "step_wear.value"), &Exact::zero()), Bench::Past);
    // only 0 and 90 degrees
    let planes =
        [plane("a", &["59.917", "59.916"]), plane("b", &["59.915", "59.914"]), plane("c", &["59.912", "59.911"])];
    let two = ["unworn=59.931".to_owned(), format!("planes=[{}]", planes.join(", "))];
    assert_eq!(at(&reckoned("journal", &two), "step_wear.value"), "0.02");
}

#[test]
fn planes_need_the_same_directions() {
    let planes = format!("planes=[{}, {}]", plane("a", &["1", "2"]), plane("b", &["1"]));
    let problems = tried("journal", &["unworn=3".to_owned(), planes]).unwrap_err();
    assert!(problems[0].to_string().contains("planes 2, diameters: Found 1, the first plane has 2."), "{problems:?}");
}

/// ISO 7902-1, `relative_clearance.csv`.
#[test]
fn relative_clearance_csv() {
    for row in rows("relative_clearance") {
        let given = [format!("clearance={}", row["clearance_mm"]), format!("diameter={}", row["diameter_mm"])];
        let answers = reckoned("relative-clearance", &given);
        assert_eq!(exact_at(&answers, "per_mille"), exact(&row["permille"]), "{}", row["id"]);
    }
}

/// ISO 1:2022, `temperature.csv`: lengths at 20 degC to all sixteen digits.
#[test]
fn iso_1_temperature() {
    for row in rows("temperature") {
        let body = |name: &str, expansion: &str, temperature: &str| {
            format!("{name}={{temperature: {temperature}, expansion: {expansion} um/m/K}}")
        };
        let mut given = vec![format!("length={}", row["reading_mm"])];
        given.push(body("part", &row["alpha_part_um_per_m_K"], &row["t_part_cel"]));
        if !row["alpha_gauge_um_per_m_K"].is_empty() {
            given.push(body("gauge", &row["alpha_gauge_um_per_m_K"], &row["t_gauge_cel"]));
        }
        let answers = reckoned("to-20", &given);
        let near = |found: Exact, expected: &str, digits: i32| {
            let off = (&found - &exact(expected)).abs();
            assert!(off <= &exact(expected).abs() * &Exact::power_of_ten(-digits), "{}: {found}", row["id"]);
        };
        near(exact_at(&answers, "length_20"), &row["length20_exact_mm"], 15);
        let micrometres = &exact_at(&answers, "correction") * &Exact::from(1000);
        near(micrometres, &row["correction_um"], 14);
    }
}

/// `expansion.csv`: handbook coefficients (some from memory, see its column), and for each material 100 mm of it at 30 degC by
/// the definition of the coefficient: 100 / (1 + 10 a). The part of every row of `temperature.csv` is made of one of them.
#[test]
fn handbook_expansions() {
    let materials = rows("expansion");
    for row in &materials {
        let a = &exact(&row["alpha_um_per_m_K"]) * &Exact::power_of_ten(-6);
        let by_definition = Exact::from(100).over(&(&Exact::from(1) + &(&a * &Exact::from(10)))).unwrap();
        for written in [format!("{} um/m/K", row["alpha_um_per_m_K"]), a.to_string()] {
            let part = format!("part={{temperature: 30, expansion: {written}}}");
            let answers = reckoned("to-20", &["length=100".to_owned(), part]);
            assert_eq!(exact_at(&answers, "length_20"), by_definition, "{}", row["material"]);
        }
    }
    let within = |a: &Exact, row: &Row| exact(&row["typical_low"]) <= *a && *a <= exact(&row["typical_high"]);
    for row in rows("temperature") {
        let a = exact(&row["alpha_part_um_per_m_K"]);
        assert!(materials.iter().any(|material| within(&a, material)), "{}: {a}", row["id"]);
    }
}

#[test]
fn an_expansion_in_micrometres_without_its_unit_is_refused() {
    let given = ["length=50".to_owned(), "part={temperature: 25, expansion: 11.5}".to_owned()];
    let problems = tried("to-20", &given).unwrap_err();
    assert_eq!(problems[0].key, "part, expansion");
}

/// definition of the coefficient of expansion, `shrink.csv`.
#[test]
fn shrink_csv() {
    for row in rows("shrink") {
        let mut given = vec![
            format!("bore={}", row["bore_mm"]),
            format!("interference={} um", row["interference_um"]),
            format!("clearance={} um", row["working_clearance_um"]),
            format!("expansion={} um/m/K", row["alpha_um_per_m_K"]),
            format!("room={}", row["t_start_cel"]),
        ];
        let missing = tried("shrink", &given).unwrap_err();
        assert_eq!(missing[0].key, "largest_allowed", "refused without the material's largest temperature");
        given.push("largest_allowed=200".to_owned());
        assert_near(&at(&reckoned("shrink", &given), "heat_to"), &row["t_needed_cel"], &row["id"]);
        given.pop();
        given.push("largest_allowed=60".to_owned());
        let refused = reckoned("shrink", &given);
        assert!(refused.at("heat_to").is_none() && at(&refused, "refused").contains("60 degC"), "{refused:?}");
    }
}

fn diameters() -> impl Strategy<Value = Vec<Vec<i64>>> {
    (1_usize..5, 1_usize..5).prop_flat_map(|(planes, directions)| {
        prop::collection::vec(prop::collection::vec(59_900_i64..59_950, directions), planes)
    })
}

fn millimetres(thousandths: i64) -> Exact {
    &Exact::whole(thousandths) * &Exact::power_of_ten(-3)
}

proptest! {
    #[test]
    fn the_worst_of_a_journal_is_never_better_than_any(table in diameters(), unworn in 59_900_i64..59_960) {
        let row = |row: &Vec<i64>| row.iter().copied().map(millimetres).collect::<Vec<_>>();
        let planes: Vec<_> =
            table.iter().map(|diameters| Plane { name: "p".to_owned(), diameters: row(diameters) }).collect();
        let found = journal(&[millimetres(unworn)], &planes, &[]).unwrap();
        for plane in &planes {
            let one = journal(&[millimetres(unworn)], std::slice::from_ref(plane), &[]).unwrap();
            prop_assert!(found.step_wear.value >= one.step_wear.value);
            if let (Some(worst), Some(one)) = (&found.ovality, &one.ovality) {
                prop_assert!(worst.value >= one.value);
            }
        }
        prop_assert_eq!(found.ovality.is_some(), table[0].len() > 1);
        prop_assert_eq!(found.taper.is_some(), table.len() > 1);
    }
}
