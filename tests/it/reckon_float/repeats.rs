//! Repeats and Grubbs' test.

use asfound::domain::exact::Exact;
use asfound::domain::reckon::quantity::float;
use asfound::domain::reckon::repeats::{Pooled, Sides, Source, repeats};

use super::{close, exact, list, lre, number, rows};

#[test]
fn gum_4_4_3_nist_numacc1_and_made_sets() {
    for row in rows("repeats") {
        let (id, values) = (&row["id"], list(&row["values"]));
        let got = repeats(&values, None).unwrap();
        assert_eq!(got.n.to_string(), row["n"], "{id}");
        close(&format!("{id} mean"), float(&got.mean), number(&row["mean"]), (1e-14, 0.0));
        close(&format!("{id} s"), got.s().unwrap(), number(&row["s"]), (1e-14, 0.0));
        close(&format!("{id} s of the mean"), got.s_mean().unwrap(), number(&row["s_mean"]), (1e-14, 0.0));
        assert_eq!(got.range, exact(&row["range"]), "{id}");
        if id.starts_with("numacc") {
            report(id, float(&got.mean), number(&row["mean"]), got.s().unwrap(), number(&row["s"]));
        }
    }
}

/// Prints the digits reached against certified values, and fails below fourteen.
fn report(id: &str, mean: f64, certified_mean: f64, s: f64, certified_s: f64) {
    for (what, digits) in [("mean", lre(mean, certified_mean)), ("s", lre(s, certified_s))] {
        println!("{id}, {what}: log relative error {digits:.1}");
        assert!(digits >= 14.0, "{id} {what}: {digits}");
    }
}

// certified values are exact for the decimals; a one-pass sum of squares loses most digits of the second
#[test]
fn nist_numacc2_and_numacc3_to_the_last_digit() {
    for row in rows("numacc") {
        let pairs: usize = row["pairs"].parse().unwrap();
        let mut values = vec![exact(&row["first"])];
        for _ in 0..pairs {
            values.extend([exact(&row["pair_1"]), exact(&row["pair_2"])]);
        }
        let got = repeats(&values, None).unwrap();
        assert_eq!(got.mean, exact(&row["mean"]), "{}: mean, exactly", row["id"]);
        let s = exact(&row["s"]);
        assert_eq!(got.variance.clone().unwrap(), &s * &s, "{}: squared spread, exactly", row["id"]);
        close("s", got.s().unwrap(), number(&row["s"]), (1e-16, 0.0));
        report(&row["id"], float(&got.mean), number(&row["mean"]), got.s().unwrap(), number(&row["s"]));
    }
}

#[test]
fn grubbs_1950_critical_values() {
    for row in rows("grubbs") {
        let n: u32 = row["n"].parse().unwrap();
        // any set of that size will do: the critical value hangs on n, alpha and sides alone
        let values: Vec<_> = (0..n).map(Exact::from).collect();
        let sides = if row["sides"] == "1" { Sides::Largest } else { Sides::Both };
        let got = repeats(&values, None).unwrap().grubbs(&values, &exact(&row["alpha"]), sides).unwrap();
        close(&format!("n {n}"), got.critical, number(&row["g_critical"]), (1e-13, 0.0));
    }
}

#[test]
fn nist_handbook_uranium_and_misread_repeats() {
    for row in rows("grubbs_cases") {
        let (id, values) = (&row["id"], list(&row["values"]));
        let sides = if row["sides"] == "1" { Sides::Largest } else { Sides::Both };
        let reckoned = repeats(&values, None).unwrap();
        let got = reckoned.grubbs(&values, &exact(&row["alpha"]), sides).unwrap();
        assert_eq!(got.suspect, exact(&row["suspect"]), "{id}");
        close(&format!("{id} G"), got.g.unwrap(), number(&row["g"]), (1e-13, 0.0));
        close(&format!("{id} critical"), got.critical, number(&row["g_critical"]), (1e-13, 0.0));
        assert_eq!(got.outlier(), Some(row["outlier"] == "yes"), "{id}");
        // dropped in no case
        assert_eq!(reckoned.n, values.len(), "{id}");
    }
}

#[test]
fn equal_repeats_have_no_outlier_and_a_pooled_figure_speaks_for_them() {
    let values = vec![exact("0.12"); 5];
    let alone = repeats(&values, None).unwrap();
    let grubbs = alone.grubbs(&values, &exact("0.05"), Sides::Both).unwrap();
    assert_eq!((grubbs.g, grubbs.outlier()), (None, None));
    // common practice, no source: a gauge whose step is wider than the scatter shows none, which is not nothing
    assert_eq!((alone.certainty.clone(), alone.u()), (None, None));
    let pooled = Pooled { s: exact("0.003"), dof: Some(Exact::from(40)) };
    let got = repeats(&values, Some(&pooled)).unwrap().certainty.unwrap();
    assert_eq!((got.variance, got.dof, got.from), (exact("0.0000018"), Some(Exact::from(40)), Source::Pooled));
    // a wider sample speaks for itself
    let wide = list("0.11;0.12;0.13");
    let got = repeats(&wide, Some(&pooled)).unwrap().certainty.unwrap();
    assert_eq!((got.dof, got.from), (Some(Exact::from(2)), Source::Sample));
    // one reading alone shows no spread
    let one = repeats(&list("0.11"), None).unwrap();
    assert_eq!((one.s(), one.u()), (None, None));
    assert_eq!(repeats(&[], None).unwrap_err().name(), "TooFew");
}
