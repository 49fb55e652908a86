//! A machine that is opened a second time, by the tick of what came off taken back. Common practice, no source.

use asfound::domain::entry::Act;
use asfound::domain::request::Decision;

use super::again::{REBUILT, RUN, again, all, done, enter, is_safe, stands};
use super::holds::make_safe;
use crate::rig::Rig;

const STRIPPED: [&str; 7] =
    ["strip/access", "strip/marks", "strip/compressor", "strip/thrust", "strip/turbine", "strip/rotor", "strip/bushes"];

/// Stripped, measured, put back and, where it is named, run: the entries of `STRIPPED` first.
fn closed(run: &[&str]) -> (Rig, [u32; 7]) {
    let mut rig = super::holds::safe();
    done(&mut rig, "strip/brought");
    let ticks = STRIPPED.map(|id| done(&mut rig, id));
    for id in REBUILT.iter().chain(&["balance/as-left"]).chain(run) {
        done(&mut rig, id);
    }
    (rig, ticks)
}

fn strike(rig: &mut Rig, entry: u32) {
    enter(rig, Act::Strike { entry, reason: "opened again after the run: leak".to_owned() });
}

fn tick(step: &str) -> Act {
    Act::Tick { step: step.to_owned() }
}

/// Nobody reaches in before the locks hang again, and nothing runs on what was put together before that.
#[test]
fn what_comes_off_once_more_behind_a_run_has_the_machine_made_safe_and_all_put_back_again() {
    let (mut rig, ticks) = closed(&RUN);
    strike(&mut rig, ticks[2]);
    assert!(!is_safe(&rig) && again(&rig, &REBUILT) && again(&rig, &RUN));
    let Decision::Refuse(refusal) = rig.may(tick("strip/compressor")) else { panic!("taken with the locks off") };
    assert!(refusal.to_string().contains("not made safe"), "{refusal}");
    // by the way that leads there, and no further
    assert!(again(&rig, &STRIPPED[..3]) && stands(&rig, &STRIPPED[3..]));
    assert!(again(&rig, &["strip/brought"]), "other tools come along");
    make_safe(&mut rig);
    STRIPPED[..3].iter().for_each(|id| assert!(done(&mut rig, id) > ticks[6]));
    assert!(again(&rig, &["balance/as-left"]), "the impeller came off its seat");
    // and one casing more while the locks hang and it lies open
    strike(&mut rig, ticks[4]);
    assert!(is_safe(&rig) && again(&rig, &["strip/turbine"]) && stands(&rig, &STRIPPED[..3]));
}

/// Bushes and rotor that stayed in are not put in once more; for the balance the rotor comes out.
#[test]
fn only_what_came_out_is_put_in_once_more() {
    let inside = ["rebuild/figures", "rebuild/bushes", "rebuild/rotor", "rebuild/thrust"];
    for (struck, stay) in [(1, 4), (4, 4), (2, 2), (3, 2), (5, 2), (6, 0)] {
        let (mut rig, ticks) = closed(&[]);
        let on = ["rebuild/ready", "rebuild/casings"];
        on.iter().chain(&inside).for_each(|id| assert!(done(&mut rig, id) > 0));
        strike(&mut rig, ticks[struck]);
        let (stay, anew) = inside.split_at(stay);
        assert!(stands(&rig, stay) && again(&rig, anew) && again(&rig, &on), "{}", STRIPPED[struck]);
    }
}

/// Left out the first time, it is opened the first time all the same; and what came off again before the run is put back again
/// before it. While it lies open, a tick taken back is a tick taken back.
#[test]
fn what_comes_off_once_more_is_put_back_once_more() {
    let mut rig = all(&[]);
    let left_out = |step: &str| Act::Skip { step: step.to_owned(), place: None, reason: "stays on".to_owned() };
    let skipped = enter(&mut rig, left_out("strip/turbine"));
    RUN.iter().for_each(|id| assert!(done(&mut rig, id) > skipped));
    strike(&mut rig, skipped);
    assert!(!is_safe(&rig) && again(&rig, &REBUILT[2..]) && stands(&rig, &REBUILT[..2]), "the rotor stayed in");
    // and what was put back comes out again by its own tick
    let mut rig = all(&[]);
    let on = done(&mut rig, "rebuild/casings");
    RUN.iter().for_each(|id| assert!(done(&mut rig, id) > on));
    strike(&mut rig, on);
    assert!(!is_safe(&rig) && again(&rig, &RUN));
    let (mut rig, ticks) = closed(&[]);
    strike(&mut rig, ticks[3]);
    assert!(is_safe(&rig) && again(&rig, &REBUILT) && again(&rig, &STRIPPED[..4]));
    let mut rig = super::holds::safe();
    let ticks = STRIPPED.map(|id| done(&mut rig, id));
    strike(&mut rig, ticks[3]);
    assert!(again(&rig, &["strip/thrust"]) && stands(&rig, &STRIPPED[..3]) && stands(&rig, &STRIPPED[4..]));
}
