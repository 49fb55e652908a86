//! Straight lines.

use asfound::domain::exact::Exact;
use asfound::domain::reckon::distribution::{normal_quantile, t_quantile};
use asfound::domain::reckon::judge::Side;
use asfound::domain::reckon::line::{Line, Point, Reached, Spread, Through};
use asfound::domain::reckon::quantity::float;
use proptest::prelude::*;

use super::{close, exact, list, lre, number, rows};

/// The points of a data set, and the line through them after its model.
fn line(dataset: &str, model: &str) -> Line {
    let points: Vec<_> = rows("line_points")
        .iter()
        .filter(|row| row["dataset"] == dataset)
        .map(|row| Point {
            x: exact(&row["x"]),
            y: exact(&row["y"]),
            u: (model == "known_u").then(|| exact(&row["u_y"])),
        })
        .collect();
    Line::fit(&points, if model == "origin" { Through::Origin } else { Through::Anywhere }).unwrap()
}

fn model_of(dataset: &str) -> String {
    rows("line").into_iter().find(|row| row["dataset"] == dataset).unwrap()["model"].clone()
}

// JCGM 100:2008 H.3; ISO/TS 28037:2010 6.3 and Annex E; NIST StRD NoInt1; Ezekiel 1930: line.csv has each row's source
#[test]
fn published_lines_gum_h3_iso_28037_nist_noint1_ezekiel() {
    for row in rows("line") {
        let (name, model) = (&row["dataset"], &row["model"]);
        let line = line(name, model);
        let within = (1e-13, 1e-15);
        assert_eq!(line.dof().to_string(), row["dof"], "{name}");
        close(&format!("{name} b"), float(line.slope()), number(&row["b"]), within);
        let spread = match line.spread() {
            Spread::Known { chi_squared } => Some(float(chi_squared)),
            Spread::Residuals { variance } => variance.as_ref().map(|v| float(v) * f64::from(line.dof())),
            Spread::Written { .. } => panic!("{name}: a line alone keeps its residuals"),
        };
        close(&format!("{name} squares"), spread.unwrap(), number(&row["ssr_or_chi2"]), within);
        let Some((u_a, u_b, covariance)) = line.uncertainties() else { panic!("{name}: no uncertainty") };
        close(&format!("{name} u_b"), u_b, number(&row["u_b"]), within);
        if model != "origin" {
            close(&format!("{name} a"), float(&line.intercept()), number(&row["a"]), within);
            close(&format!("{name} u_a"), u_a, number(&row["u_a"]), within);
            close(&format!("{name} cov"), covariance, number(&row["cov_ab"]), within);
        }
        if !row["s"].is_empty() {
            let s = float(&line.new_reading().unwrap()).sqrt();
            close(&format!("{name} s"), s, number(&row["s"]), within);
        }
    }
}

// certified to 15 digits; exact sums give all that a double holds
#[test]
fn nist_noint1_reaches_fourteen_digits() {
    let line = line("noint1", "origin");
    let s = float(&line.new_reading().unwrap()).sqrt();
    let (_, u_b, _) = line.uncertainties().unwrap();
    for (what, got, want) in [
        ("slope", float(line.slope()), 2.074_380_165_289_26),
        ("its standard deviation", u_b, 0.016_528_925_619_834_7),
        ("residual standard deviation", s, 3.567_530_340_063_38),
    ] {
        let digits = lre(got, want);
        println!("NoInt1, {what}: log relative error {digits:.1}");
        assert!(digits >= 14.0, "{what}: {digits}");
    }
}

#[test]
fn intervals_of_gum_h3_cars_iso_28037() {
    for row in rows("line_predict") {
        let model = model_of(&row["dataset"]);
        let line = line(&row["dataset"], &model);
        let extra = match (row["include_new"].as_str(), row["u_new"].as_str()) {
            ("no", _) => Exact::zero(),
            (_, "") => line.new_reading().unwrap(),
            (_, u) => &exact(u) * &exact(u),
        };
        let k = t_quantile((number(&row["p_percent"]) / 100.0).midpoint(1.0), line.certainty_dof());
        let band = line.band(&exact(&row["x0"]), k, &extra).unwrap();
        for (what, got) in [("y", band.value), ("se", band.u), ("k", k), ("lower", band.low), ("upper", band.high)] {
            close(&format!("{} {what}", row["dataset"]), got, number(&row[what]), (1e-11, 0.0));
        }
    }
}

#[test]
fn inverse_evaluation_of_iso_28037() {
    for row in rows("line_inverse") {
        let line = line(&row["dataset"], &model_of(&row["dataset"]));
        let u = exact(&row["u_y0"]);
        let crossing = line.crossing(&exact(&row["y0"]), 0.0, &(&u * &u)).unwrap();
        close("x", crossing.x, number(&row["x"]), (1e-13, 0.0));
        close("u_x", crossing.u, number(&row["u_x"]), (1e-12, 0.0));
    }
}

#[test]
fn wear_against_hours_line_and_bound() {
    for row in rows("trend") {
        let id = &row["id"];
        let (hours, values) = (list(&row["hours"]), list(&row["values"]));
        let u: Vec<_> =
            if row["u"].is_empty() { vec![None; hours.len()] } else { list(&row["u"]).into_iter().map(Some).collect() };
        let points: Vec<_> = hours.iter().zip(values).zip(u).map(|((x, y), u)| Point { x: x.clone(), y, u }).collect();
        let line = Line::fit(&points, Through::Anywhere).unwrap();
        let k = t_quantile(number(&row["p_one_sided"]), line.certainty_dof());
        close("k", k, number(&row["k"]), (1e-13, 0.0));
        let extra = if row["include_new"] == "yes" { line.new_reading().unwrap() } else { Exact::zero() };
        let side = if row["sense"] == "upper" { Side::Largest } else { Side::Smallest };
        let (last, limit) = (hours.last().unwrap(), exact(&row["limit"]));
        let band = line.band(&exact(&row["planned_hours"]), k, &extra).unwrap();
        close(&format!("{id} y"), band.value, number(&row["y_planned"]), (1e-13, 0.0));
        close(&format!("{id} se"), band.u, number(&row["se_planned"]), (1e-13, 0.0));
        let bound = if side == Side::Largest { band.high } else { band.low };
        close(&format!("{id} bound"), bound, number(&row["bound_planned"]), (1e-12, 0.0));
        let reached = |what: &str, got: Reached| match (got, row[&format!("{what}_state")].as_str()) {
            (Reached::Already, "already") | (Reached::Never, "never") => {}
            (Reached::After(hours), "crosses") => {
                close(&format!("{id} {what}"), hours, number(&row[&format!("hours_left_{what}")]), (1e-11, 0.0));
            }
            (got, want) => panic!("{id} {what}: {got:?}, expected {want}"),
        };
        reached("line", line.reaches(&limit, side, last));
        reached("bound", line.bound_reaches(&limit, side, last, (k, &extra)).unwrap());
    }
}

// y = 3 + 2 x at whole hours, written exactly: every digit of slope and intercept must come back
#[test]
fn hours_far_from_zero_lose_no_digits() {
    let points: Vec<_> = (100_000..=100_010_u32)
        .map(|x| Point { x: Exact::from(x), y: exact(&format!("{}.{}", 200_003 + 2 * (x - 100_000), x % 2)), u: None })
        .collect();
    let line = Line::fit(&points, Through::Anywhere).unwrap();
    // 0.1 at every second hour, the same before and after the middle, leaves the slope alone and lifts the line by 0.5/11
    assert_eq!(line.slope(), &Exact::from(2));
    assert_eq!(line.intercept().as_fraction(), "67/22");
}

#[test]
fn what_has_no_line_is_refused_by_name() {
    let point = |x: &str, u: Option<&str>| Point { x: exact(x), y: exact("1"), u: u.map(exact) };
    let name = |points: &[Point]| Line::fit(points, Through::Anywhere).unwrap_err().name();
    assert_eq!(name(&[point("1", None)]), "TooFew");
    assert_eq!(name(&[point("1", None), point("1", None)]), "NoAnswer");
    assert_eq!(name(&[point("1", Some("1")), point("2", None)]), "NoAnswer");
    assert_eq!(name(&[point("1", Some("0")), point("2", Some("1"))]), "NoAnswer");
}

proptest! {
    // a line read in thou and minutes is the same line
    #[test]
    fn a_change_of_units_changes_nothing(ys in prop::collection::vec(-500..500_i128, 3..9), shift in 0..1_000_000_i128) {
        let of = |scale_x: (i128, i128), scale_y: (i128, i128)| {
            let points: Vec<_> = ys.iter().enumerate().map(|(i, y)| Point {
                x: &Exact::fraction(shift + 7 * i128::try_from(i * i).unwrap(), 1).unwrap() * &Exact::fraction(scale_x.0, scale_x.1).unwrap(),
                y: &Exact::fraction(*y, 1000).unwrap() * &Exact::fraction(scale_y.0, scale_y.1).unwrap(),
                u: None,
            }).collect();
            Line::fit(&points, Through::Anywhere).unwrap()
        };
        let (plain, other) = (of((1, 1), (1, 1)), of((60, 1), (10_000, 254)));
        prop_assert_eq!(plain.slope() * &Exact::fraction(10_000, 254 * 60).unwrap(), other.slope().clone());
        prop_assert_eq!(&plain.intercept() * &Exact::fraction(10_000, 254).unwrap(), other.intercept());
        let k = normal_quantile(0.95);
        if let (Some(a), Some(b)) = (plain.crossing(&Exact::zero(), k, &Exact::zero()), other.crossing(&Exact::zero(), k, &Exact::zero())) {
            prop_assert!((a.x * 60.0 - b.x).abs() <= 1e-9 * b.x.abs().max(1.0));
        }
    }
}
