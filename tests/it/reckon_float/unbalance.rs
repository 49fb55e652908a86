//! Permissible unbalance.

use asfound::domain::exact::Exact;
use asfound::domain::reckon::conformity::Bench;
use asfound::domain::reckon::unbalance::{Arrangement, Limited, Measured, allowed};
use proptest::prelude::*;

use super::{close, exact, number, rows};

// `annex-rotor` from memory of the standard's annex; the overhung bounds from memory
#[test]
fn iso_21940_11_levers_and_share_limits() {
    for row in rows("balance") {
        let id = &row["id"];
        let distances = || (exact(&row["l_a_mm"]), exact(&row["l_b_mm"]));
        let arrangement = match row["arrangement"].as_str() {
            "single" => Arrangement::Single,
            "inboard" => Arrangement::Inboard { a: distances().0, b: distances().1 },
            "overhung" => Arrangement::Overhung { a: distances().0, b: distances().1 },
            other => panic!("{other}"),
        };
        let (grade, mass, speed) = (exact(&row["grade_mm_s"]), exact(&row["mass_kg"]), exact(&row["speed_r_min"]));
        let got = allowed(&grade, &mass, &speed, &arrangement).unwrap();
        close(&format!("{id} total"), got.total, number(&row["u_per_g_mm"]), (1e-13, 0.0));
        if row["arrangement"] != "single" {
            close(&format!("{id} A"), got.a, number(&row["u_per_a_g_mm"]), (1e-13, 0.0));
            close(&format!("{id} B"), got.b.unwrap(), number(&row["u_per_b_g_mm"]), (1e-13, 0.0));
            assert_eq!(got.limited == Limited::Yes, row["limited"] == "yes", "{id}");
        }
    }
}

// the demonstration rotor (invented): grade 2.5, 64 kg, 18 000 r/min, centre of mass 207 and 103 from the bearings
#[test]
fn the_demonstration_rotors_shares_and_verdict() {
    let inboard = Arrangement::Inboard { a: exact("207"), b: exact("103") };
    let got = allowed(&exact("2.5"), &exact("64.0"), &exact("18000"), &inboard).unwrap();
    close("total", got.total, 84.9, (0.0, 0.05));
    close("compressor side", got.a, 28.2, (0.0, 0.05));
    close("turbine side", got.b.unwrap(), 56.7, (0.0, 0.05));
    let verdict = |a: &str, b: &str, u: Option<&str>| {
        got.verdicts(&Measured { a: exact(a), b: Some(exact(b)), u: u.map(exact) }).unwrap()
    };
    assert_eq!(verdict("15", "84", None), (Bench::Within, Some(Bench::Past)));
    assert_eq!(verdict("27", "55", Some("2.5")), (Bench::Undecided, Some(Bench::Undecided)));
    assert_eq!(verdict("15", "84", Some("40")), (Bench::Undecided, Some(Bench::Past)), "past is past");
}

#[test]
fn impossible_rotors_are_refused() {
    let name = |mass: &str, arrangement: &Arrangement| {
        allowed(&exact("2.5"), &exact(mass), &exact("18000"), arrangement).unwrap_err().name()
    };
    assert_eq!(name("0", &Arrangement::Single), "NoAnswer");
    assert_eq!(name("60", &Arrangement::Inboard { a: exact("0"), b: exact("5") }), "NoAnswer");
    assert_eq!(name("60", &Arrangement::Overhung { a: exact("5"), b: exact("5") }), "NoAnswer");
}

proptest! {
    // whatever the levers: inside its bounds, and twice the mass allows twice as much
    #[test]
    fn shares_stay_in_bounds(a in 1..5000_u32, b in 1..5000_u32, mass in 1..500_u32) {
        let of = |mass: u32| {
            let inboard = Arrangement::Inboard { a: Exact::from(a), b: Exact::from(b) };
            allowed(&exact("2.5"), &Exact::from(mass), &exact("18000"), &inboard).unwrap()
        };
        let (one, two) = (of(mass), of(2 * mass));
        let share = one.a / one.total;
        prop_assert!((0.3 - 1e-12..=0.7 + 1e-12).contains(&share));
        prop_assert!((one.a + one.b.unwrap() - one.total).abs() <= 1e-9 * one.total);
        prop_assert!((two.total - 2.0 * one.total).abs() <= 1e-12 * two.total);
    }
}
