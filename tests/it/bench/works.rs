//! What a step reckons besides, on the screen, and after a kill in the middle of its figures. Sums of the definitions;
//! the figures are invented.

use insta::assert_snapshot;

use super::Bench;
use crate::content::holds::{safe, up_to};
use crate::rig::Rig;

/// What goes on hot: 20 + (0.045 + 0.060) / (11.5e-6 x 60) = 172.2 degC.
#[test]
fn a_shrink_fit_goes_on_after_a_kill_and_shows_its_working() {
    let mut rig = safe();
    up_to(&mut rig, "rebuild/heat");
    let mut bench = Bench::on(rig.inspection);
    for text in ["60", "45 um", "60 um", "11.5", "20"] {
        bench = bench.typed(text).keys("enter").expect_not("heat to");
    }
    let bench = bench.typed("25").killed().expect("[ 25_").typed("0").keys("enter").expect("heat to 172.2 degC");
    assert_snapshot!("works_heat", bench.screen());
    let bench = bench.killed().keys("tab").expect("shrink/1").expect("172.2 degC");
    assert_snapshot!("works_heat_working", bench.screen());
    // struck, the temperature goes with the figure
    bench.keys("esc 1 enter").keys("1").expect_not("heat to 172.2");
}

/// What nobody can call well stands above what is.
#[test]
fn of_two_that_a_step_judges_the_provisional_one_stands_first() {
    for doubted in ["compressor side", "turbine side"] {
        let mut rig = safe();
        up_to(&mut rig, "balance/report");
        for plane in ["compressor side", "turbine side"] {
            let (text, insisted) = if plane == doubted { ("15.123", &["digits"][..]) } else { ("15", &[][..]) };
            let decision = rig.ask(&Rig::typed("balance/report", plane, text, "X1", insisted));
            rig.enter(decision);
        }
        let screen = Bench::on(rig.inspection).keys("esc 6").typed("balance/report").keys("enter").screen();
        let (_, judged) = screen.split_once("worst first").unwrap_or_else(|| panic!("{screen}"));
        let (doubt, well) = (judged.find("? within"), judged.find("+ within"));
        assert!(doubt.is_some() && doubt < well, "{screen}");
    }
}

/// What is certain before its set is whole has its sign in the row that it comes from, and not in the heading alone.
#[test]
fn the_row_that_settles_it_already_has_its_sign() {
    let bench = Bench::at_step("rotor/shroud").keys("esc 2 1").typed("1.25").keys("enter enter");
    let screen = bench.expect("> refer, 1 of 16 taken").screen();
    let row = screen.lines().find(|line| line.starts_with(" place 1 ")).unwrap_or_else(|| panic!("{screen}"));
    assert!(["> refer", "X replace", "/ rework"].iter().any(|said| row.contains(said)), "{screen}");
}

#[test]
fn a_balancing_report_past_its_share_stops_the_hand_and_names_its_level() {
    let mut rig = safe();
    up_to(&mut rig, "balance/report");
    let bench = Bench::on(rig.inspection).keys("esc 2 1").typed("15").keys("enter").typed("84").keys("enter");
    assert_snapshot!("works_balance", bench.screen());
}
