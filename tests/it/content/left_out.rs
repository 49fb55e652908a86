//! What is left out, or insisted on, stays open although it judges nothing itself. Common practice, no source.

use asfound::domain::entry::{Act, TimerMark};
use asfound::domain::refusal::RefusalKind;
use asfound::domain::request::{Decision, Request};

use super::holds::{held, not_held, safe, up_to};
use crate::rig::Rig;

fn skip(rig: &mut Rig, step: &str) {
    rig.take(Act::Skip { step: step.to_owned(), place: None, reason: "no time, by order".to_owned() });
}

fn read(rig: &mut Rig, step: &str, place: &str, text: &str, insisted: &[&str]) {
    let asked = Request::Reading {
        step: step.to_owned(),
        place: place.to_owned(),
        text: text.to_owned(),
        gauge: None,
        insisted: insisted.iter().map(|word| (*word).to_owned()).collect(),
    };
    let decision = rig.ask(&asked);
    rig.enter(decision);
}

#[track_caller]
fn shut(rig: &Rig, act: Act, words: &str) {
    let Decision::Refuse(refusal) = rig.may(act) else { panic!("it is open") };
    let RefusalKind::Shut { missing } = refusal.kind else { panic!("{:?}", refusal.kind) };
    assert!(missing.iter().any(|one| one.contains(words)), "{words} is not in {missing:#?}");
}

/// Dwell too short finds nothing; no penetrant at all finds nothing either.
#[test]
fn a_stage_of_the_penetrant_test_left_out_holds_the_wheel_and_shuts_the_look_for_indications() {
    let mut rig = safe();
    up_to(&mut rig, "impeller/penetrant");
    skip(&mut rig, "impeller/penetrant");
    held(&rig, "impeller", "left out: penetrant 4, penetrant on, no time, by order");
    let developer = Act::Timer { step: "impeller/developer".to_owned(), mark: TimerMark::Started };
    shut(&rig, developer, "penetrant 4, penetrant on, left out");
    skip(&mut rig, "impeller/developer");
    let looked = Act::Looked { step: "impeller/indications".to_owned() };
    shut(&rig, looked, "penetrant 5, wash off, developer on, left out");
}

#[test]
fn a_filter_that_was_not_dried_does_not_go_back() {
    let mut rig = safe();
    up_to(&mut rig, "filter/dry");
    skip(&mut rig, "filter/dry");
    held(&rig, "filter", "left out: dry in the shade, no time, by order");
    up_to(&mut rig, "filter/back");
    let back = Request::Reading {
        step: "filter/back".to_owned(),
        place: "elements".to_owned(),
        text: "4".to_owned(),
        gauge: None,
        insisted: vec![],
    };
    let Decision::Refuse(refusal) = rig.ask(&back) else { panic!("a wet filter goes back") };
    assert!(refusal.to_string().contains("left out: dry in the shade"), "{refusal}");
    // another set that is dry is no wait left out
    let skipped =
        rig.inspection.standing_entries().find(|entry| entry.act.step() == Some("filter/dry")).unwrap().number;
    rig.take(Act::Strike { entry: skipped, reason: "the spare set goes in".to_owned() });
    let reason = "the spare set goes in".to_owned();
    rig.take(Act::NotApplicable { step: "filter/dry".to_owned(), point: None, reason });
    not_held(&rig, "filter", "dry in the shade");
}

/// Tools, covers, fasteners, filter: a count with a gap in it proves nothing, and so with joints that nobody tightened.
#[test]
fn counts_and_torques_left_out_hold_and_the_engine_does_not_start() {
    let mut rig = safe();
    up_to(&mut rig, "rebuild/torques");
    skip(&mut rig, "rebuild/torques");
    held(&rig, "rebuild", "left out: torque of each joint, in stages, no time, by order");
    up_to(&mut rig, "rebuild/tools");
    let one = |place: &str| Act::Skip {
        step: "rebuild/tools".to_owned(),
        place: Some(place.to_owned()),
        reason: "in the wash".to_owned(),
    };
    rig.take(one("rags"));
    read(&mut rig, "rebuild/tools", "tools", "41", &[]);
    held(&rig, "rebuild", "tools and rags counted back: left out: rags, in the wash");
    up_to(&mut rig, "running/prelube");
    let start = || Act::Tick { step: "running/prelube".to_owned() };
    shut(&rig, start(), "left out: torque of each joint");
    shut(&rig, start(), "left out: rags, in the wash");
    shut(&rig, start(), "left out: counted in");
}

/// ISO 3452-1 and ISO 3059, from memory: 10 to 50 degrees, 500 lux or more.
#[test]
fn a_test_in_the_cold_or_the_dark_leaves_the_wheel_provisional() {
    let mut rig = safe();
    up_to(&mut rig, "impeller/penetrant-surface");
    read(&mut rig, "impeller/penetrant-surface", "hub", "5", &["unusual"]);
    held(&rig, "impeller", "penetrant 1, surface temperature: provisional");
    read(&mut rig, "impeller/penetrant-light", "back face", "300", &["unusual"]);
    held(&rig, "impeller", "penetrant 2, light: provisional");
    assert_eq!(rig.standing().counts.provisional, 2);
    let entry = rig.last().number;
    rig.take(Act::Strike { entry, reason: "a lamp brought".to_owned() });
    read(&mut rig, "impeller/penetrant-light", "back face", "900", &[]);
    not_held(&rig, "impeller", "penetrant 2, light");
}

/// A cover over a float outside the new range hides it.
#[test]
fn casings_wait_for_an_axial_float_inside_the_new_range() {
    let mut rig = safe();
    up_to(&mut rig, "rebuild/casings");
    // skipped before, for what was left out as found: here the record is taken as it came
    let mut number = rig.last().number;
    for repeat in 1..=3 {
        for (figure, text) in [("pushed", "0.100"), ("pulled", "0.550")] {
            number += 1;
            let mut entry = rig.last().clone();
            entry.number = number;
            entry.act = Act::Reading {
                step: "rotor/axial-float.left".to_owned(),
                place: format!("shaft end / {repeat} / {figure}"),
                typed: text.to_owned(),
                taken: crate::rig::figure(&format!("{text} mm")),
                gauge: Some(crate::rig::id("D1")),
                doubts: vec![],
            };
            asfound::domain::apply::apply(&mut rig.inspection, entry);
        }
    }
    held(&rig, "rotor", "axial float as left: outside the new range");
    shut(&rig, Act::Tick { step: "rebuild/casings".to_owned() }, "axial float as left: outside the new range");
}

/// What went in counted comes out counted: a mark frees nothing, and neither does one in a record as it came.
#[test]
fn a_count_is_not_marked_away_where_the_other_end_was_counted() {
    for (first, second, place) in [
        ("fasteners/out", "fasteners/in", "nuts"),
        ("strip/brought", "rebuild/tools", "rags"),
        ("strip/covered", "rebuild/covers", "covers and plugs"),
        ("filter/off", "filter/back", "clamps"),
    ] {
        let mut rig = safe();
        up_to(&mut rig, first);
        read(&mut rig, first, place, "12", &[]);
        let mark = |step: &str| Act::NotApplicable {
            step: step.to_owned(),
            point: None,
            reason: "none on this machine".to_owned(),
        };
        up_to(&mut rig, second);
        assert_eq!(rig.refused(mark(second)), "NoAnswer", "{second}");
        let part = rig.inspection.head().checklist.step(second).unwrap().part.clone();
        let mut entry = rig.last().clone();
        entry.number += 1;
        entry.act = mark(second);
        asfound::domain::apply::apply(&mut rig.inspection, entry);
        held(&rig, &part, "marked as not on this machine: none on this machine");
    }
    // where nothing was counted there is nothing to count back
    let mut rig = safe();
    let mark = |step: &str| Act::NotApplicable { step: step.to_owned(), point: None, reason: "cabin job".to_owned() };
    up_to(&mut rig, "strip/covered");
    rig.take(mark("strip/covered"));
    up_to(&mut rig, "rebuild/covers");
    rig.take(mark("rebuild/covers"));
    not_held(&rig, "rebuild", "covers and plugs counted back");
}
