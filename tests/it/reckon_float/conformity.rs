//! Conformity and guards.

use asfound::domain::exact::Exact;
use asfound::domain::reckon::conformity::{Bench, Judged, Standard, chance, conformity};
use asfound::domain::reckon::guard::{factor, guard, two_figures_up, usual_factor};
use asfound::domain::unit::Unit;
use proptest::prelude::*;

use super::{close, exact, number, rows};

fn optional(text: &str) -> Option<Exact> {
    (!text.is_empty()).then(|| exact(text))
}

// burst strength, Zener diode, oil viscosity: from memory of JCGM 106:2012
#[test]
fn jcgm_106_examples_and_far_tails() {
    for row in rows("conformity") {
        let judged = Judged {
            value: exact(&row["estimate"]),
            u: exact(&row["u"]),
            dof: optional(&row["dof"]),
            lower: optional(&row["lower_limit"]),
            upper: optional(&row["upper_limit"]),
        };
        let got = conformity(&judged, &usual_factor()).unwrap();
        close(&format!("{} within", row["id"]), got.within, number(&row["p_conform"]), (1e-12, 0.0));
        close(&format!("{} outside", row["id"]), got.outside, number(&row["p_not_conform"]), (1e-12, 0.0));
    }
}

#[test]
fn iso_14253_1_guard_is_exact_and_touching_is_accepted() {
    for row in rows("guard") {
        let id = &row["id"];
        let judged = Judged {
            value: exact(&row["estimate"]),
            u: exact(&row["u"]),
            dof: None,
            lower: optional(&row["lower_limit"]),
            upper: optional(&row["upper_limit"]),
        };
        let got = conformity(&judged, &exact(&row["factor"])).unwrap();
        for (limit, column, inward) in [(&judged.lower, "accept_from", true), (&judged.lower, "reject_below", false)] {
            let Some(limit) = limit else { continue };
            let edge = if inward { limit + &got.guard } else { limit - &got.guard };
            assert_eq!(edge, exact(&row[column]), "{id} {column}");
        }
        for (limit, column, inward) in [(&judged.upper, "accept_to", true), (&judged.upper, "reject_above", false)] {
            let Some(limit) = limit else { continue };
            let edge = if inward { limit - &got.guard } else { limit + &got.guard };
            assert_eq!(edge, exact(&row[column]), "{id} {column}");
        }
        let want = match row["verdict"].as_str() {
            "conforms" => Standard::Conforms,
            "undecided" => Standard::Undecided,
            "fails" => Standard::Fails,
            other => panic!("{other}"),
        };
        assert_eq!(got.guarded, want, "{id}");
        // the bench: past the limit is past whatever the uncertainty, the near side alone can be undecided
        let past = judged.lower.as_ref().is_some_and(|low| &judged.value < low)
            || judged.upper.as_ref().is_some_and(|up| &judged.value > up);
        assert_eq!(got.bench == Bench::Past, past, "{id}");
        assert_eq!(got.bench == Bench::Within, want == Standard::Conforms, "{id}");
        assert_eq!(got.simple == Standard::Fails, past, "{id}");
    }
}

#[test]
fn the_guard_rounds_to_the_safe_side() {
    for (variance, up) in [
        ("0.0000058", "0.0025"),
        ("0.00000625", "0.0025"),
        ("0.0000062501", "0.0026"),
        ("0.000000998", "0.001"),
        ("1", "1"),
        ("152.1", "13"),
        ("9980", "100"),
        ("0", "0"),
    ] {
        assert_eq!(two_figures_up(&exact(variance)), Some(exact(up)), "{variance}");
    }
    // one-sided 95 % quantiles of t as printed: 6.314, 2.920, 1.812, 1.645 (from memory), rounded up to two decimals
    for (dof, want) in [("1", "6.32"), ("2.9", "2.92"), ("10", "1.82"), ("1000000", "1.65")] {
        assert_eq!(factor(&usual_factor(), Some(&exact(dof))), Some(exact(want)), "{dof} dof");
    }
    assert_eq!(guard(&exact("0.0000058"), &usual_factor(), None), Some(exact("0.004125")));
}

/// Far from the limit a chance is small, never nothing, and near certainty never certain.
#[test]
fn a_working_prints_no_long_zeros_and_no_certainty() {
    let told = |value: &str| {
        let (u, upper) = (exact("0.0001"), Some(exact("0.220")));
        let judged = Judged { value: exact(value), u, dof: None, lower: Some(exact("0.100")), upper };
        chance(&judged, &usual_factor(), Unit::Millimetre).unwrap().text_lines().join("\n")
    };
    for (value, within, outside) in [
        ("0.150", "more than 0.9999", "less than 0.0001"),
        ("0.300", "less than 0.0001", "more than 0.9999"),
        ("0.220", "0.5000", "0.5000"),
    ] {
        let told = told(value);
        assert!(told.contains(&format!("p within {within}, p outside {outside}")), "{told}");
        assert!(!told.contains("0.00000") && !told.contains("= 1\n"), "{told}");
    }
}

proptest! {
    #[test]
    fn more_uncertainty_is_never_greener(value in 0..400_i128, u in 1..2000_i128, more in 0..2000_i128, dof in proptest::option::of(1..40_u32)) {
        let of = |u: i128, dof: Option<u32>| {
            let judged = Judged {
                value: Exact::fraction(value, 1000).unwrap(),
                u: Exact::fraction(u, 10_000).unwrap(),
                dof: dof.map(Exact::from),
                lower: Some(exact("0.110")),
                upper: Some(exact("0.220")),
            };
            conformity(&judged, &usual_factor()).unwrap()
        };
        prop_assert!(of(u + more, dof).bench >= of(u, dof).bench);
        if let Some(dof) = dof {
            prop_assert!(of(u, Some(dof)).bench >= of(u, Some(dof + 1)).bench, "fewer degrees of freedom");
        }
    }
}
