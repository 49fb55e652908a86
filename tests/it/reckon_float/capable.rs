//! Fitness of a gauge.

use asfound::domain::exact::Exact;
use asfound::domain::reckon::capable::{Room, capable};
use asfound::domain::reckon::conformity::{Bench, Judged, conformity};
use asfound::domain::reckon::guard::usual_factor;
use asfound::domain::reckon::repeats::Pooled;
use asfound::domain::reckon::uncertainty::{Gauge, Taken, Warmth};
use asfound::domain::unit::Unit;
use proptest::prelude::*;

use super::exact;

fn gauge(expanded: &str, resolution: &str, s: &str) -> Gauge {
    let pooled = Some(Pooled { s: exact(s), dof: None });
    Gauge { expanded: exact(expanded), k: Exact::from(2), resolution: exact(resolution), pooled }
}

// the demonstration's dial D2 (invented): U 0.003 (k 2), resolution 0.002, pooled repeatability 0.003, three lifts, limit 0.220.
// u^2 = 0.003^2/3 + 2 x 0.002^2/12 + 0.0015^2 = 5.917e-6, u = 0.00243, up to two figures 0.0025, guard 1.65 x 0.0025
#[test]
fn the_demonstrations_dial_can_pass_a_lift_up_to() {
    let room = Room::Wear { new: exact("0.170"), limit: exact("0.220") };
    let got = capable(&room, &gauge("0.003", "0.002", "0.003"), 3, (Taken::Difference, None), &usual_factor()).unwrap();
    assert_eq!(got.guard, exact("0.004125"));
    assert_eq!(got.up_to, Some(exact("0.215875")));
    assert_eq!(got.resolution_ratio, Some(exact("25")));
    assert_eq!(got.uncertainty_ratio.unwrap().as_fraction(), "50/3");
    // today's largest mean, 0.643/3, passes with D2 and is too close to call with D1
    let mean = Exact::fraction(643, 3000).unwrap();
    assert!(&mean <= got.up_to.as_ref().unwrap());
    // a clearance whose temperature is known to 1 K brings (60 x 23e-6)^2 / 3: u 0.00256, up to two figures 0.0026
    let warmth = Warmth { length: exact("60"), expansion: exact("0.000023"), half_width: exact("1") };
    let warm = (Taken::Difference, Some(&warmth));
    let less = capable(&room, &gauge("0.003", "0.002", "0.003"), 3, warm, &usual_factor()).unwrap();
    assert_eq!(less.up_to, Some(exact("0.21571")));
    let d1 = capable(&room, &gauge("0.008", "0.01", "0.003"), 3, (Taken::Difference, None), &usual_factor()).unwrap();
    assert!(&Exact::fraction(64, 300).unwrap() > d1.up_to.as_ref().unwrap());
}

#[test]
fn two_limits_too_near_each_other_leave_nothing_to_pass() {
    let room = Room::Between { lower: exact("0.110"), upper: exact("0.120") };
    let got = capable(&room, &gauge("0.008", "0.01", "0.003"), 3, (Taken::Single, None), &usual_factor()).unwrap();
    assert!(got.passes_nothing());
    assert_eq!(got.uncertainty_ratio, Some(exact("0.625")), "T / (2U)");
    let same = Room::Wear { new: exact("0.1"), limit: exact("0.1") };
    assert!(capable(&same, &gauge("0.008", "0.01", "0.003"), 3, (Taken::Single, None), &usual_factor()).is_err());
    assert!(capable(&room, &gauge("0.008", "0.01", "0.003"), 0, (Taken::Single, None), &usual_factor()).is_err());
}

#[test]
fn a_gauge_that_cannot_pass_even_a_new_part_is_not_said_to_pass_anything() {
    let room = Room::Wear { new: exact("0.170"), limit: exact("0.172") };
    let got = capable(&room, &gauge("0.003", "0.002", "0.003"), 3, (Taken::Single, None), &usual_factor()).unwrap();
    assert!(!got.passes_new(&room) && !got.passes_nothing());
    let said = got.working(&room, &usual_factor(), Unit::Millimetre).result;
    assert_eq!(said, "it can pass nothing for certain: not even a new part");
}

proptest! {
    // the figure said to pass is within by the bench's rule with that uncertainty, and one digit more is not
    #[test]
    fn the_figure_it_can_pass_is_the_last_one_within(u in 1..90_u32, step in 1..20_u32, s in 1..60_u32, n in 1..6_usize) {
        let small = |x: u32| Exact::fraction(x.into(), 10_000).unwrap();
        let pooled = Some(Pooled { s: small(s), dof: None });
        let gauge = Gauge { expanded: small(u), k: Exact::from(2), resolution: small(step), pooled };
        let room = Room::Wear { new: exact("0.15"), limit: exact("0.22") };
        let got = capable(&room, &gauge, n, (Taken::Difference, None), &usual_factor()).unwrap();
        let edge = got.up_to.unwrap();
        let bench = |value: Exact| {
            let u = asfound::domain::reckon::guard::two_figures_up(&got.budget.variance).unwrap();
            conformity(&Judged { value, u, dof: None, lower: None, upper: Some(exact("0.22")) }, &usual_factor()).unwrap().bench
        };
        prop_assert_eq!(bench(edge.clone()), Bench::Within);
        prop_assert_eq!(bench(&edge + &exact("0.0000001")), Bench::Undecided);
    }
}
