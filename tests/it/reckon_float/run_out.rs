//! Run-out and bow.

use asfound::domain::exact::Exact;
use asfound::domain::reckon::bow::{Justified, Station, bow};
use asfound::domain::reckon::quantity::{angle, degrees, length, millimetres};
use asfound::domain::reckon::run_out::{Turn, Warning, run_out};
use asfound::domain::reckon::vector::Vector;
use proptest::prelude::*;

use super::{close, exact, list, number, rows};

fn turn(angles: &[Exact], readings: &[Exact]) -> Turn {
    Turn { marks: angles.iter().cloned().zip(readings.iter().cloned()).collect(), ..Turn::default() }
}

#[test]
fn made_turns_tir_harmonic_and_rest() {
    for row in rows("runout") {
        let id = &row["id"];
        let got = run_out(&turn(&list(&row["angle_deg"]), &list(&row["reading_mm"]))).unwrap();
        assert_eq!(got.tir, exact(&row["tir_mm"]), "{id}: exactly");
        close(&format!("{id} mean"), millimetres(got.mean), number(&row["mean_mm"]), (1e-11, 1e-16));
        close(&format!("{id} e"), millimetres(got.amount()), number(&row["eccentricity_mm"]), (1e-11, 0.0));
        match (got.high_spot(), row["direction_deg"].as_str()) {
            (None, "") => {}
            (Some(at), want) => close(&format!("{id} high spot"), degrees(at), number(want), (0.0, 1e-9)),
            (None, want) => panic!("{id}: no high spot, expected {want}"),
        }
        close(&format!("{id} rest"), millimetres(got.residual), number(&row["out_of_round_mm"]), (1e-11, 1e-16));
        close(&format!("{id} rms"), millimetres(got.rms_residual), number(&row["rms_residual_mm"]), (1e-11, 1e-16));
        // half the TIR is another figure wherever the shaft has a form
        if id.contains("three-lobes") {
            assert!((millimetres(got.amount()) - number(&row["half_tir_mm"])).abs() > 1e-3, "{id}");
        }
    }
}

// the demonstration rotor (invented): readings in um every 45 deg; eccentricities and directions reckoned by hand and script
#[test]
fn the_demonstration_rotors_run_out() {
    let angles = list("0;45;90;135;180;225;270;315");
    for (station, readings, eccentricity, direction, tir) in [
        ("nose", "0;0;-5;-12;-16;-18;-14;-7", 9.26, 29.4, "18"),
        ("collar", "0;2;1;-1;-3;-4;-4;-3", 3.04, 61.3, "6"),
        ("CS", "0;0;0;1;2;0;-1;-1", 1.05, 144.7, "3"),
        ("mid", "0;-1;3;13;21;22;15;6", 12.06, 208.9, "23"),
        ("TS", "0;0;-3;-4;-1;1;-1;-1", 1.35, 296.6, "5"),
        ("hub", "0;1;-3;-8;-13;-15;-13;-6", 8.13, 37.7, "16"),
    ] {
        let got = run_out(&turn(&angles, &list(readings))).unwrap();
        close(station, millimetres(got.amount()), eccentricity, (0.0, 0.005));
        close(station, degrees(got.high_spot().unwrap()), direction, (0.0, 0.05));
        assert_eq!(got.tir, exact(tir), "{station}");
    }
}

#[test]
fn eight_marks_confuse_seven_and_nine_lobes_with_eccentricity() {
    let lobes = |angles: &str| {
        let angles = list(angles);
        let readings: Vec<_> = (0..angles.len()).map(|i| Exact::from(u32::try_from(i % 3).unwrap())).collect();
        let warnings = run_out(&turn(&angles, &readings)).unwrap().warnings;
        warnings.into_iter().find_map(|w| if let Warning::Lobes { lobes, .. } = w { Some(lobes) } else { None })
    };
    assert_eq!(lobes("0;45;90;135;180;225;270;315"), Some(vec![7, 9]));
    assert_eq!(lobes("0;30;60;90;120;150;180;210;240;270;300;330"), Some(vec![11, 13]));
    assert_eq!(
        lobes("0;30;60;90;150;180;210;240;270;300;330"),
        Some(vec![11, 13]),
        "one mark left out changes nothing"
    );
    assert_eq!(lobes("10;100;190;280"), Some(vec![3, 5]));
}

#[test]
fn a_turn_that_cannot_be_solved_is_refused_and_one_that_can_says_how() {
    let name = |angles: &str, readings: &str| run_out(&turn(&list(angles), &list(readings))).unwrap_err().name();
    assert_eq!(name("0;180", "0;1"), "TooFew");
    assert_eq!(name("0;30;60;90", "0;1;2;1"), "NoAnswer", "a quarter of a turn");
    assert_eq!(name("0;90;180;270;360", "0;1;2;1;0"), "NoAnswer", "360 is 0 again");
    let uneven = run_out(&turn(&list("0;60;90;200;300"), &list("0;1;2;1;0"))).unwrap();
    assert!(uneven.warnings.contains(&Warning::Uneven));
    let gap = run_out(&turn(&list("0;30;60;90;120;150;180;210"), &list("0;1;2;1;0;1;2;0"))).unwrap();
    assert!(gap.warnings.contains(&Warning::Gap { degrees: exact("150") }));
    let few = run_out(&turn(&list("0;120;240"), &list("0;1;2"))).unwrap();
    assert!(few.warnings.contains(&Warning::NothingLeft));
}

#[test]
fn a_closing_reading_off_by_more_than_a_division_voids_the_set() {
    let mut turn = turn(&list("0;90;180;270"), &list("0;0.012;0.022;0.009"));
    turn.division = Some(exact("0.001"));
    turn.closing = Some(exact("0.001"));
    assert_eq!(run_out(&turn).unwrap().closure, Some(exact("0.001")), "a division is allowed");
    turn.closing = Some(exact("-0.0011"));
    assert_eq!(run_out(&turn).unwrap_err().name(), "NoAnswer");
    turn.division = None;
    assert_eq!(run_out(&turn).unwrap().closure, Some(exact("-0.0011")), "without a division nothing is judged");
}

#[test]
fn the_full_turn_counts_where_it_shows_more() {
    let mut turn = turn(&list("0;45;90;135;180;225;270;315"), &list("0;-1;3;13;21;22;15;6"));
    turn.swept = Some((exact("22.5"), exact("-1.5")));
    let got = run_out(&turn).unwrap();
    assert_eq!((got.tir, got.tir_marks), (exact("24"), exact("23")));
    turn.swept = Some((exact("21"), exact("0")));
    let got = run_out(&turn).unwrap();
    assert_eq!(got.tir, exact("23"));
    assert!(got.warnings.contains(&Warning::SweptLess));
}

#[test]
fn made_bows_less_the_line_through_the_journals() {
    for row in rows("bow") {
        let id = &row["id"];
        let station = |name: &str, at: &str, e: &str, direction: &str| Station {
            name: name.to_owned(),
            at: exact(&row[at]),
            vector: Vector::polar(length(&exact(&row[e])), angle(&exact(&row[direction]))),
            u: None,
        };
        let stations = [
            station("first", "z1_mm", "e1_mm", "dir1_deg"),
            station("here", "z_mm", "e_mm", "dir_deg"),
            station("second", "z2_mm", "e2_mm", "dir2_deg"),
        ];
        let (justified, bows) = bow(&stations, ["first", "second"]).unwrap();
        assert_eq!(justified, Justified::Unchecked);
        let here = bows[1];
        close(&format!("{id} line"), millimetres(here.line.amount()), number(&row["line_e_mm"]), (1e-11, 1e-17));
        close(&format!("{id} bow"), millimetres(here.bow.amount()), number(&row["bow_mm"]), (1e-11, 0.0));
        close(&format!("{id} bow at"), degrees(here.bow.direction()), number(&row["bow_dir_deg"]), (0.0, 1e-9));
        if !row["line_dir_deg"].is_empty() {
            close(&format!("{id} line at"), degrees(here.line.direction()), number(&row["line_dir_deg"]), (0.0, 1e-9));
        }
    }
}

// the demonstration rotor (invented): its journals run true within the indicator's uncertainty, so no line is taken off
#[test]
fn a_journal_vector_that_may_be_nothing_is_not_drawn_out_over_the_overhang() {
    let of = |u: &str| {
        let station = |name: &str, at: &str, e: &str, direction: &str| Station {
            name: name.to_owned(),
            at: exact(at),
            vector: Vector::polar(length(&exact(e)), angle(&exact(direction))),
            u: Some(exact(u)),
        };
        let stations = [
            station("nose", "-165", "0.00926", "29.4"),
            station("CS", "0", "0.00105", "144.7"),
            station("TS", "310", "0.00135", "296.6"),
        ];
        bow(&stations, ["CS", "TS"]).unwrap()
    };
    let (justified, bows) = of("0.00075");
    assert!(matches!(justified, Justified::No(_)), "{justified:?}");
    close("nose", millimetres(bows[0].bow.amount()), 0.00926, (1e-12, 0.0));
    let (justified, bows) = of("0.0002");
    assert!(matches!(justified, Justified::Yes(_)), "{justified:?}");
    // 165 outside a span of 310: u^2 (1 + (475/310)^2 + (165/310)^2)
    let grown = 0.0002 * (1.0 + (475.0_f64 / 310.0).powi(2) + (165.0_f64 / 310.0).powi(2)).sqrt();
    close("u at the nose", millimetres(bows[0].u.unwrap()), grown, (1e-12, 0.0));
}

proptest! {
    // a curve turned on the shaft and lifted on the dial: TIR, amount and rest stay, the high spot turns with it
    #[test]
    fn a_turned_and_shifted_curve(
        readings in prop::collection::vec(-200..200_i128, 8..=8), by in 0..8_usize, lift in -5000..5000_i128,
    ) {
        let at = |i: usize| Exact::from(u32::try_from(45 * (i % 8)).unwrap());
        let of = |by: usize, lift: i128| {
            let marks = readings.iter().enumerate()
                .map(|(i, reading)| (at(i + by), Exact::fraction(reading + lift, 1000).unwrap()));
            run_out(&Turn { marks: marks.collect(), ..Turn::default() }).unwrap()
        };
        let (plain, turned) = (of(0, 0), of(by, lift));
        prop_assert_eq!(&plain.tir, &turned.tir);
        let size = millimetres(plain.amount()).max(1e-6);
        prop_assert!((millimetres(plain.amount()) - millimetres(turned.amount())).abs() <= 1e-9 * size);
        prop_assert!((millimetres(plain.residual) - millimetres(turned.residual)).abs() <= 1e-12);
        if let (Some(a), Some(b)) = (plain.high_spot(), turned.high_spot()) {
            let off = (degrees(b) - degrees(a) - 45.0 * f64::from(u32::try_from(by).unwrap())).rem_euclid(360.0);
            prop_assert!(off.min(360.0 - off) * size <= 1e-9, "{off}");
        }
    }
}
