//! Conversions: every factor exact, temperatures kept apart from their differences.

use std::collections::BTreeMap;

use asfound::domain::exact::Exact;
use asfound::domain::unit::Unit;
use proptest::prelude::*;

use super::{assert_near, at, exact, exact_at, reckoned, rows, tried};

/// Equal to all twenty digits that the file gives.
fn assert_twenty_digits(found: &Exact, expected: &Exact, what: &str) {
    let off = (found - expected).abs();
    assert!(off <= &expected.abs() * &Exact::power_of_ten(-19), "{what}: {found}, expected {expected}");
}

/// SI brochure, NIST SP 811:2008 appendix B, `units.csv`: every factor.
#[test]
fn nist_sp_811_factors() {
    for row in rows("units") {
        let what = format!("{} in {}", row["from_unit"], row["to_unit"]);
        let difference = row["quantity"] == "temperature difference";
        let given = [
            format!("value=1 {}", row["from_unit"]),
            format!("to={}", row["to_unit"]),
            format!("difference={difference}"),
        ];
        let answers = reckoned("convert", &given);
        if row["exact"] == "yes" {
            assert_eq!(exact(&at(&answers, "value")), exact(&row["factor"]), "{what}");
        } else if row["quantity"] == "angle" || row["quantity"] == "rotational speed" {
            assert_near(&at(&answers, "value"), &row["factor"], &what);
            assert!(answers.at("value_exact").is_none(), "no fraction holds pi: {what}");
        } else {
            assert_twenty_digits(&exact_at(&answers, "value"), &exact(&row["factor"]), &what);
        }
    }
}

/// NIST SP 811:2008 appendix B, `units_values.csv`: readings in and out.
#[test]
fn nist_sp_811_values() {
    let mut words: BTreeMap<String, String> = BTreeMap::new();
    for row in rows("units") {
        for (code, unit) in [("from_ucum", "from_unit"), ("to_ucum", "to_unit")] {
            words.insert(row[code].clone(), row[unit].clone());
        }
    }
    for row in rows("units_values") {
        let (from, to) = (&words[&row["from_ucum"]], &words[&row["to_ucum"]]);
        let what = format!("{} {from} in {to}, {}", row["value"], row["kind"]);
        let given = [
            format!("value={} {from}", row["value"]),
            format!("to={to}"),
            format!("difference={}", row["kind"] == "difference"),
        ];
        let answers = reckoned("convert", &given);
        if row["exact"] == "yes" {
            assert_eq!(exact(&at(&answers, "value")), exact(&row["expected"]), "{what}");
        } else {
            assert_near(&at(&answers, "value"), &row["expected"], &what);
        }
    }
}

#[test]
fn other_dimensions_and_unknown_units_are_refused() {
    for (given, keys) in [
        (&["value=3 bar", "to=mm"][..], &["to"][..]),
        (&["value=3", "to=furlong"], &["value", "to"]),
        (&["value=3 furlong", "to=mm"], &["value"]),
        (&["value=20 degC", "to=bar", "difference=true"], &["to"]),
    ] {
        let given: Vec<_> = given.iter().map(|word| (*word).to_owned()).collect();
        let problems = tried("convert", &given).unwrap_err();
        assert_eq!(problems.iter().map(|problem| problem.key.as_str()).collect::<Vec<_>>(), keys, "{given:?}");
    }
}

proptest! {
    #[test]
    fn there_and_back_is_the_same(
        digits in -10_i64.pow(15)..10_i64.pow(15),
        from in 0..Unit::all().count(),
        to in 0..Unit::all().count(),
    ) {
        let (from, to) = (Unit::all().nth(from).unwrap(), Unit::all().nth(to).unwrap());
        let value = &Exact::whole(digits) * &Exact::power_of_ten(-6);
        if let Some(there) = from.convert(&value, to) {
            prop_assert_eq!(to.convert(&there, from).unwrap(), value);
        } else {
            prop_assert_ne!(from.dimension(), to.dimension());
        }
    }
}
