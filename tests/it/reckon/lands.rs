//! Lands of a thrust ring.

use asfound::domain::exact::{Exact, Rounding};
use asfound::domain::reckon::judge::{Bench, Limit, Side};
use asfound::domain::reckon::lands::{Land, NewLand, Tilt, worst};
use asfound::domain::reckon::quantity::{degrees, millimetres};
use asfound::domain::sheet::Touching;
use proptest::prelude::*;

use super::{at, exact, exact_at, reckoned, rows};

/// plane geometry, `lands.csv`: ratio, depth, and where the ratio meets its limit, as fractions.
#[test]
fn lands_csv() {
    for row in rows("lands") {
        let given = [
            format!("lands=[{{taper: {}, flat: {}}}]", row["lt_mm"], row["lf_mm"]),
            format!("new={{taper: {}, flat: {}, depth: {} um}}", row["lt0_mm"], row["lf0_mm"], row["d0_um"]),
            format!("limit={}", row["ratio_limit"]),
            "closes_within=0".to_owned(),
        ];
        let answers = reckoned("lands", &given);
        let micrometres = |path: &str| &exact_at(&answers, path) * &Exact::from(1000);
        assert_eq!(exact_at(&answers, "worst.ratio"), exact(&row["ratio"]), "{}", row["id"]);
        assert_eq!(micrometres("lands.0.depth"), exact(&row["depth_um"]), "{}", row["id"]);
        assert_eq!(exact_at(&answers, "at_limit.flat"), exact(&row["lf_at_limit_mm"]), "{}", row["id"]);
        assert_eq!(micrometres("at_limit.depth"), exact(&row["depth_at_limit_um"]), "{}", row["id"]);
        assert_eq!(at(&answers, "lands.0.sum_closes"), "true", "{}", row["id"]);
        let limit = Limit { at: exact(&row["ratio_limit"]), side: Side::Smallest, touching: Touching::Fails };
        let verdict = if row["against_limit"] == "above" { Bench::Within } else { Bench::Past };
        assert_eq!(limit.judge(&exact_at(&answers, "worst.ratio"), &Exact::zero()), verdict, "{}", row["id"]);
    }
}

/// The invented demonstration rotor, reckoned by hand: worst lands of both sides, and the flat at the limit.
#[test]
fn demonstration_lands() {
    let main = "24.3/8.7 23.9/9.1 23.2/9.8 23.4/9.6 23.9/9.0 24.4/8.6 24.8/8.2 24.7/8.4";
    let counter = "24.7/8.3 24.6/8.4 24.4/8.6 24.2/8.8 24.1/8.9 24.0/9.0 24.3/8.7 24.5/8.4";
    for (side, land, ratio) in [(main, "3", "2.37"), (counter, "6", "2.67")] {
        let lands: Vec<_> = side
            .split(' ')
            .map(|land| land.split_once('/').unwrap())
            .map(|(taper, flat)| format!("{{taper: {taper}, flat: {flat}}}"))
            .collect();
        let given = [
            format!("lands=[{}]", lands.join(", ")),
            "new={taper: 26.4, flat: 6.6, depth: 0.040}".to_owned(),
            "limit=2.10".to_owned(),
            "closes_within=0.5".to_owned(),
        ];
        let answers = reckoned("lands", &given);
        assert_eq!(at(&answers, "worst.land"), land);
        assert_eq!(exact_at(&answers, "worst.ratio").rounded(2, Rounding::Nearest), ratio);
        assert_eq!(exact_at(&answers, "at_limit.flat").rounded(3, Rounding::Nearest), "10.645");
        for number in 0..8 {
            assert_eq!(at(&answers, &format!("lands.{number}.sum_closes")), "true", "{side}");
        }
    }
}

#[test]
fn a_sum_that_does_not_close_is_misread() {
    let given = [
        "lands=[{taper: 14, flat: 6}, {taper: 14.6, flat: 6}, {taper: 14.5, flat: 6}]".to_owned(),
        "new={taper: 16, flat: 4, depth: 0.04}".to_owned(),
        "closes_within=0.5".to_owned(),
    ];
    let answers = reckoned("lands", &given);
    let closes = [0, 1, 2].map(|land| at(&answers, &format!("lands.{land}.sum_closes")));
    assert_eq!(closes, ["true", "false", "true"]);
    assert_eq!((at(&answers, "u_ratio"), at(&answers, "at_limit")), ("none".to_owned(), "none".to_owned()));
}

#[test]
fn an_even_ring_has_no_tilt_and_no_direction() {
    let even = vec![exact("0.012"); 8];
    assert_eq!(Tilt::of(&even), Tilt::None);
    // two bulges opposite each other lean nowhere
    let twice: Vec<_> = ["0.012", "0.004", "0.012", "0.004"].map(exact).to_vec();
    assert_eq!(Tilt::of(&twice), Tilt::None);
    assert_eq!(Tilt::of(&even[..2]), Tilt::NotShown);
}

proptest! {
    #[test]
    fn a_leaning_ring_shows_how_much_and_where(
        lands in 3_u8..16,
        amount in 1_u8..50,
        toward in 0_u16..360,
        square in 0_u8..100,
    ) {
        // depths of a plane worn off square plus a lean, in micrometres, rounded to whole nanometres
        let depth = |land: u8| {
            let turn = 360.0 * f64::from(land) / f64::from(lands) - f64::from(toward);
            let depth = f64::from(square) + f64::from(amount) * turn.to_radians().cos();
            exact(&format!("{:.0}e-6", 1e3 * depth))
        };
        let depths: Vec<_> = (0..lands).map(depth).collect();
        let Tilt::Leans(found, direction) = Tilt::of(&depths) else { panic!("no tilt") };
        prop_assert!((millimetres(found) * 1e3 - f64::from(amount)).abs() < 2e-3);
        let off = (degrees(direction) - f64::from(toward)).rem_euclid(360.0);
        prop_assert!(off.min(360.0 - off) < 0.2, "{off}");
    }

    #[test]
    fn the_worst_land_is_never_better_than_any(
        lengths in prop::collection::vec((0_i64..300, 1_i64..120), 1..20),
    ) {
        let tenth = |tenths: i64| &Exact::whole(tenths) * &Exact::power_of_ten(-1);
        let lands: Vec<_> =
            lengths.iter().map(|(taper, flat)| Land { taper: tenth(*taper), flat: tenth(*flat) }).collect();
        let worst = worst(&lands).unwrap();
        for land in &lands {
            prop_assert!(worst.ratio <= land.ratio().unwrap());
        }
        prop_assert_eq!(&lands[worst.land - 1].ratio().unwrap(), &worst.ratio);
    }

    #[test]
    fn the_flat_at_the_limit_has_the_limits_ratio(taper in 1_i64..400, flat in 1_i64..200, limit in 0_i64..500) {
        let new = NewLand { taper: Exact::whole(taper), flat: Exact::whole(flat), depth: exact("0.04") };
        let limit = &Exact::whole(limit) * &Exact::power_of_ten(-2);
        let at = new.at_limit(&limit).unwrap();
        let taper = &(&new.taper + &new.flat) - &at.flat;
        prop_assert_eq!(Land { taper, flat: at.flat.clone() }.ratio().unwrap(), limit);
        prop_assert_eq!(new.depth_at(&at.flat).unwrap(), at.depth);
    }
}
