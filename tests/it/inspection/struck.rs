//! A repeat struck and not retaken leaves its place open; what the repeats left have settled stands.

use asfound::domain::characteristic::Characteristic;
use asfound::domain::checklist::Takes;
use asfound::domain::entry::Act;
use asfound::domain::inspection::{Head, Past};
use asfound::domain::instrument::GaugeKind;
use asfound::domain::judge::Condition;
use asfound::domain::standing::Outcome;
use asfound::domain::verdict::Consequence;

use crate::rig::{Rig, checklist, grid, head, id, sheet};

const CLEARANCE: &str = "bush.ts/clearance";

/// One place, three repeats; past its limit the bush is referred.
fn single() -> Head {
    let (mut checklist, mut sheet) = (checklist(), sheet());
    let step = checklist.steps.iter_mut().find(|step| step.id == CLEARANCE).unwrap();
    step.takes = grid(GaugeKind::Dial, &["outer 0"], 3, &["down", "up"]);
    assert!(matches!(step.takes, Takes::Readings(_)));
    let levels = sheet.levels.get_mut(&Characteristic::parse("bush.ts.clearance").unwrap()).unwrap();
    let limit = levels.limit.as_mut().unwrap();
    *limit = crate::rig::level(limit.upper().cloned(), None, Consequence::Refer, limit.rule()).unwrap();
    Head { checklist, sheet: Some(sheet), ..head() }
}

fn taken(head: Head, ups: [&str; 3]) -> Rig {
    let mut rig = Rig::with(head);
    rig.covers_off();
    rig.take(Act::NotApplicable { step: "bush.ts/soak".into(), point: None, reason: "clean already".into() });
    for (repeat, up) in (1..).zip(ups) {
        rig.read(CLEARANCE, &format!("outer 0 / {repeat} / down"), "0.020");
        rig.read(CLEARANCE, &format!("outer 0 / {repeat} / up"), up);
    }
    rig
}

fn outcome(rig: &Rig, condition: Condition) -> Outcome {
    let clearance = Characteristic::parse("bush.ts.clearance").unwrap();
    rig.standing().characteristic(clearance, condition).unwrap().outcome.clone()
}

fn strike(rig: &mut Rig, place: &str) {
    let entry = rig.inspection.reading(CLEARANCE, place).unwrap().entry;
    rig.take(Act::Strike { entry, reason: "slipped".into() });
}

fn accept(rig: &mut Rig) {
    let (supervisor, reason) = (id("supervisor-b"), "as the owner wishes".to_owned());
    let characteristic = Characteristic::parse("bush.ts.clearance").unwrap();
    rig.supervised(Act::Unjudged { characteristic, as_left: false, supervisor, reason });
}

/// Above the alert at 0.21, and past the limit at 0.22.
#[test]
fn a_repeat_struck_takes_back_neither_alert_nor_limit_of_its_only_place() {
    for (up, verdict) in [("0.235", "watch"), ("0.250", "watch [referred")] {
        let mut rig = taken(single(), [up; 3]);
        assert!(rig.verdict("bush.ts").starts_with(verdict), "{}", rig.verdict("bush.ts"));
        for place in ["outer 0 / 3 / up", "outer 0 / 1 / down"] {
            strike(&mut rig, place);
            let now = rig.verdict("bush.ts");
            assert!(now.starts_with(verdict) && now.contains("open"), "{now}");
        }
        let held = rig.standing().holds_in_words().join("; ");
        assert!(held.contains("struck and not retaken"), "{held}");
        accept(&mut rig);
        let now = rig.verdict("bush.ts");
        assert!(now.starts_with(verdict) && !now.contains("open"), "nobody's word makes it smaller: {now}");
    }
}

#[test]
fn what_is_left_within_is_open_and_without_anything_left_nothing_is_told() {
    let mut rig = taken(single(), ["0.180"; 3]);
    strike(&mut rig, "outer 0 / 2 / up");
    assert_eq!(rig.verdict("bush.ts"), "reuse [open]");
    let mut rig = taken(single(), ["0.250"; 3]);
    for repeat in 1..=3 {
        strike(&mut rig, &format!("outer 0 / {repeat} / up"));
    }
    assert_eq!(rig.verdict("bush.ts"), "reuse [open]");
    // taken for the first time, two of three repeats tell nothing yet
    let mut rig = Rig::with(single());
    rig.covers_off();
    rig.take(Act::NotApplicable { step: "bush.ts/soak".into(), point: None, reason: "clean already".into() });
    for repeat in 1..=2 {
        rig.read(CLEARANCE, &format!("outer 0 / {repeat} / down"), "0.020");
        rig.read(CLEARANCE, &format!("outer 0 / {repeat} / up"), "0.250");
    }
    assert_eq!(rig.verdict("bush.ts"), "reuse [open]");
    // what was struck and is left out since is not taken for the first time any more
    rig.take(Act::Skip { step: CLEARANCE.into(), place: Some("outer 0 / 3 / down".into()), reason: "jammed".into() });
    rig.take(Act::Skip { step: CLEARANCE.into(), place: Some("outer 0 / 3 / up".into()), reason: "jammed".into() });
    assert_eq!(rig.verdict("bush.ts"), "watch [referred, open]");
}

/// Struck to be taken again, a set is judged when it is whole again, as it was the first time: its first figure leads nobody.
#[test]
fn what_is_retaken_is_not_judged_before_its_last_repeat() {
    let up = |repeat: u32| format!("outer 0 / {repeat} / up");
    let mut rig = taken(single(), ["0.180"; 3]);
    for repeat in 1..=3 {
        strike(&mut rig, &up(repeat));
    }
    for repeat in 1..=2 {
        rig.read(CLEARANCE, &up(repeat), "0.241");
        assert_eq!(rig.verdict("bush.ts"), "reuse [open]", "{repeat} of 3");
        assert_eq!(outcome(&rig, Condition::AsFound), Outcome::Incomplete(None), "{repeat} of 3");
    }
    rig.read(CLEARANCE, &up(3), "0.241");
    assert!(rig.verdict("bush.ts").starts_with("watch [referred"), "{}", rig.verdict("bush.ts"));
    // what has stood all the while stands, whatever comes beside it before the set is whole
    strike(&mut rig, &up(1));
    strike(&mut rig, &up(2));
    rig.read(CLEARANCE, &up(1), "0.235");
    assert!(rig.verdict("bush.ts").starts_with("watch [referred"), "{}", rig.verdict("bush.ts"));
}

/// Struck one by one to be taken again, what remains of a spread set is no set: it makes the place no worse than the whole was.
#[test]
fn what_is_left_of_repeats_too_far_apart_makes_no_place_worse() {
    // mean 0.216, past the alert alone; two of each are past the limit
    for ups in [["0.224", "0.242", "0.242"], ["0.242", "0.224", "0.242"], ["0.242", "0.242", "0.224"]] {
        let mut rig = taken(single(), ups);
        for repeat in 1..=3 {
            for way in ["down", "up"] {
                let now = rig.verdict("bush.ts");
                assert!(now.contains("open") && !now.contains("referred"), "{repeat} {way} of {ups:?}: {now}");
                strike(&mut rig, &format!("outer 0 / {repeat} / {way}"));
            }
        }
        assert_eq!(rig.verdict("bush.ts"), "reuse [open]");
    }
    // nor does what is left of a set that never was whole
    let mut rig = taken(single(), ["0.225"; 3]);
    strike(&mut rig, "outer 0 / 3 / up");
    strike(&mut rig, "outer 0 / 2 / up");
    rig.read(CLEARANCE, "outer 0 / 2 / up", "0.243");
    strike(&mut rig, "outer 0 / 1 / up");
    assert_eq!(rig.verdict("bush.ts"), "reuse [open]");
}

#[test]
fn what_is_retaken_as_left_is_not_judged_before_its_last_repeat() {
    let mut rig = taken(single(), ["0.180"; 3]);
    rig.sign(asfound::domain::checklist::Signing::Decisions, &[]);
    rig.lifts("bush.ts/as-left", ["0.180"; 3], ["0.180"; 3]);
    let place = |repeat: u32| format!("outer 0 / {repeat} / up");
    for repeat in 1..=3 {
        let entry = rig.inspection.reading("bush.ts/as-left", &place(repeat)).unwrap().entry;
        rig.take(Act::Strike { entry, reason: "slipped".into() });
    }
    rig.read("bush.ts/as-left", &place(1), "0.215");
    assert_eq!(outcome(&rig, Condition::AsLeft), Outcome::Incomplete(None));
    rig.read("bush.ts/as-left", &place(2), "0.215").read("bush.ts/as-left", &place(3), "0.215");
    assert!(matches!(outcome(&rig, Condition::AsLeft), Outcome::Judged(_)));
}

/// 0.162 mm at 12000 h, 0.200 mm now: past the limit by the next opening.
fn worn_on() -> Head {
    let past = Past {
        inspection: "INV/2029-03-01-small".into(),
        date: asfound::domain::stamp::day("2029-03-01").unwrap(),
        characteristic: Characteristic::parse("bush.ts.clearance").unwrap(),
        hours: crate::rig::figure("12000 h"),
        value: asfound::domain::exact::Exact::parse("0.162").unwrap(),
        u: asfound::domain::exact::Exact::parse("0.002"),
        place: Some("outer 0".into()),
        side: None,
        as_left: false,
        vector: None,
    };
    Head { history: vec![past], ..single() }
}

/// Somebody is asked before it may go back, whatever the forecast leaves it.
#[test]
fn a_referral_by_forecast_is_watched_before_it_runs_again() {
    let rig = taken(worn_on(), ["0.220"; 3]);
    let told = rig.standing().part("bush.ts").unwrap().reasons.join("; ");
    assert!(told.contains("at the next opening, bound") && told.ends_with("before it runs again"), "{told}");
}

/// What is known is offered, and not taken while the answer is left for later.
#[test]
fn a_forecast_waits_for_hours_that_are_left_for_later() {
    let mut head = worn_on();
    head.opened.own_hours = Some(asfound::domain::inspection::OwnHours::Later);
    let rig = taken(head, ["0.220"; 3]);
    assert_eq!(rig.verdict("bush.ts"), "reuse [open]");
    let held = rig.standing().holds_in_words().join("; ");
    assert!(held.contains("no forecast: the hours of the parts are left for later"), "{held}");
}

/// The limit is one of too wide alone; nobody is told that it is not too tight.
#[test]
fn what_is_within_a_limit_on_one_side_alone_says_so() {
    let rig = taken(single(), ["0.180"; 3]);
    let standing = rig.standing();
    let one = standing.characteristic(Characteristic::parse("bush.ts.clearance").unwrap(), Condition::AsFound).unwrap();
    let told = asfound::domain::telling::of_characteristic(one);
    assert!(
        told.contains("within") && told.contains("; upper limit alone, nothing judges what is too small"),
        "{told}"
    );
}

/// Of repeats too far apart the forecast runs on the one least in favour of it: nobody takes it back by a fourth one.
#[test]
fn a_referral_by_forecast_stands_where_the_repeats_are_too_far_apart() {
    let mut rig = taken(worn_on(), ["0.220", "0.226", "0.220"]);
    assert_eq!(rig.verdict("bush.ts"), "watch [referred, open]");
    accept(&mut rig);
    assert_eq!(rig.verdict("bush.ts"), "watch [referred]");
}

#[test]
fn a_referral_by_forecast_stands_when_one_repeat_is_struck() {
    let mut rig = taken(worn_on(), ["0.220"; 3]);
    assert_eq!(rig.verdict("bush.ts"), "watch [referred]");
    strike(&mut rig, "outer 0 / 2 / up");
    assert_eq!(rig.verdict("bush.ts"), "watch [referred, open]");
    accept(&mut rig);
    assert_eq!(rig.verdict("bush.ts"), "watch [referred]");
    // the figure of what is left is no figure of this opening
    let kept = asfound::domain::standing::history_after(Vec::new(), &rig.inspection);
    assert!(kept.iter().all(|past| past.characteristic.id() != "bush.ts.clearance"), "{kept:?}");
}

#[test]
fn an_alert_at_one_place_stands_while_another_is_struck() {
    let mut rig = Rig::open();
    rig.take(Act::NotApplicable { step: "bush.ts/soak".into(), point: None, reason: "clean already".into() });
    rig.lifts(CLEARANCE, ["0.235"; 3], ["0.180"; 3]);
    strike(&mut rig, "inner 0 / 2 / up");
    assert_eq!(rig.verdict("bush.ts"), "watch [open]");
    let standing = rig.standing();
    let one = standing.characteristic(Characteristic::parse("bush.ts.clearance").unwrap(), Condition::AsFound).unwrap();
    assert!(matches!(&one.outcome, Outcome::Incomplete(Some(judgement)) if judgement.value.spot == "outer 0"));
}
