//! Circles.

use asfound::domain::exact::Exact;
use asfound::domain::reckon::circle::{Circle, Method, Points, circle};
use asfound::domain::reckon::quantity::millimetres;
use proptest::prelude::*;

use super::{close, exact, list, number, rows};

// `ggs-six`: Gander, Golub and Strebel 1994, BIT 34, points and result from memory, reproduced
#[test]
fn gander_golub_strebel_six_points_and_made_circles() {
    for row in rows("circle") {
        let id = &row["id"];
        let points = Points::Plane(list(&row["x"]).into_iter().zip(list(&row["y"])).collect());
        let size = number(&row["radius"]);
        let got = circle(&points, Method::Geometric).unwrap();
        let deviations: Vec<_> = got.deviations.iter().copied().map(millimetres).collect();
        let squares = deviations.iter().map(|d| d * d).sum();
        let smallest = deviations.iter().copied().fold(f64::INFINITY, f64::min);
        let largest = deviations.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        for (what, got, column) in [
            ("x", millimetres(got.x), "centre_x"),
            ("y", millimetres(got.y), "centre_y"),
            ("r", millimetres(got.r), "radius"),
            ("smallest", smallest, "min_deviation"),
            ("largest", largest, "max_deviation"),
            ("roundness", millimetres(got.roundness()), "roundness"),
            ("squares", squares, "sum_sq"),
        ] {
            close(&format!("{id} {what}"), got, number(&row[column]), (1e-10, 1e-13 * size));
        }
        let kasa = circle(&points, Method::Algebraic).unwrap();
        for (what, got, column) in [("x", kasa.x, "kasa_x"), ("y", kasa.y, "kasa_y"), ("r", kasa.r, "kasa_r")] {
            close(&format!("{id} algebraic {what}"), millimetres(got), number(&row[column]), (1e-12, 1e-13 * size));
        }
    }
}

#[test]
fn points_without_a_circle_are_refused() {
    let name = |x: &str, y: &str| {
        let points = Points::Plane(list(x).into_iter().zip(list(y)).collect());
        circle(&points, Method::Geometric).unwrap_err().name()
    };
    assert_eq!(name("0;1", "0;1"), "TooFew");
    assert_eq!(name("0;1;2;3", "0;0.5;1;1.5"), "NoAnswer");
}

proptest! {
    // the same points by angle and radius, the table turned under them: same radius, same form, centre turned with it
    #[test]
    fn a_circle_under_rotation(form in prop::collection::vec(-30..30_i128, 12..=12), by in 0..12_usize) {
        let of = |by: usize| -> Circle {
            let at = |i: usize| Exact::from(u32::try_from(30 * ((i + by) % 12)).unwrap());
            let points = form.iter().enumerate().map(|(i, f)| (at(i), &exact("22.5") + &Exact::fraction(*f, 1000).unwrap()));
            circle(&Points::Polar(points.collect()), Method::Geometric).unwrap()
        };
        let (plain, turned) = (of(0), of(by));
        prop_assert!((plain.r - turned.r).abs() <= 1e-12 * plain.r);
        prop_assert!(millimetres((plain.roundness() - turned.roundness()).abs()) <= 1e-12);
        let angle = (30.0 * f64::from(u32::try_from(by).unwrap())).to_radians();
        prop_assert!(millimetres((plain.x * angle.cos() - plain.y * angle.sin() - turned.x).abs()) <= 1e-12);
        prop_assert!(millimetres((plain.x * angle.sin() + plain.y * angle.cos() - turned.y).abs()) <= 1e-12);
    }
}
