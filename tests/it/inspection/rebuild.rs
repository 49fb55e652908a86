//! What goes back together when, and when the engine may be started.

use crate::rig::{Rig, checklist, conceded, figure, finding, grid, head, step};
use asfound::domain::checklist::{Against, Checklist, Signing, Takes};
use asfound::domain::entry::{Act, Replaces, TimerMark};
use asfound::domain::instrument::GaugeKind;
use asfound::domain::phase::Phase;
use asfound::domain::refusal::RefusalKind;
use asfound::domain::request::Decision;
use asfound::domain::rotor::Fitted;
use asfound::domain::unit::Unit;

/// The small machine with a step that puts the bush back, one that counts, and a start.
fn whole() -> Checklist {
    let mut checklist = checklist();
    let place = checklist.steps.iter().position(|step| step.id == "job/cause").unwrap();
    let count = |id: &str, phase, against: Option<&str>| {
        let Takes::Readings(mut grid) = grid(GaugeKind::Other, &["rags"], 1, &[]) else { panic!("no grid") };
        grid.unit = Unit::One;
        grid.against = against.map(|step| Against::Equal(step.to_owned()));
        step(id, phase, Takes::Readings(grid), &[])
    };
    checklist.steps.splice(
        place..place,
        [
            step("job/bush-in", Phase::Rebuild, Takes::Tick, &[]),
            count("job/rags-back", Phase::Rebuild, Some("job/rags")),
            step("job/start", Phase::After, Takes::Tick, &[]),
        ],
    );
    checklist.steps.insert(1, count("job/rags", Phase::Found, None));
    for part in &mut checklist.parts {
        if part.id == "bush.ts" {
            part.holds_back = vec!["job/bush-in".to_owned()];
        }
    }
    checklist
}

fn begun() -> Rig {
    let mut rig = Rig::with(asfound::domain::inspection::Head { checklist: whole(), ..head() });
    rig.make_safe();
    count(&mut rig, "job/rags", "30", &[]);
    rig.covers_off()
        .journal(["59.931", "59.931", "59.93", "59.93", "59.93", "59.93", "59.93", "59.93", "59.93", "59.93"]);
    rig
}

/// Everything of the bush done, well within, the decisions signed.
fn decided() -> Rig {
    let mut rig = begun();
    rig.take(soak(TimerMark::Started)).at("2031-04-17T10:30:00+02:00").take(soak(TimerMark::Ended));
    rig.lifts("bush.ts/clearance", ["0.180"; 3], ["0.182"; 3]).sign(Signing::Decisions, &[]);
    rig
}

fn count(rig: &mut Rig, step: &str, text: &str, insisted: &[&str]) {
    let asked = asfound::domain::request::Request::Reading {
        step: step.into(),
        place: "rags".into(),
        text: text.into(),
        gauge: None,
        insisted: insisted.iter().map(|word| (*word).to_owned()).collect(),
    };
    let decision = rig.ask(&asked);
    rig.enter(decision);
}

fn soak(mark: TimerMark) -> Act {
    Act::Timer { step: "bush.ts/soak".into(), mark }
}

fn fit() -> Act {
    Act::Tick { step: "job/bush-in".into() }
}

fn start() -> Act {
    Act::Tick { step: "job/start".into() }
}

fn new_bush() -> Act {
    Act::PartFitted {
        part: "bush.ts".into(),
        fitted: Fitted { serial: Some("new-1".into()), hours: figure("0 h"), machine: figure("24000 h") },
        replaces: Replaces::Yes,
    }
}

/// What is missing, in words; empty when it is taken.
fn shut(rig: &Rig, act: Act) -> String {
    match rig.may(act) {
        Decision::Take(_) => String::new(),
        Decision::Refuse(refusal) => match refusal.kind {
            RefusalKind::Shut { missing } => missing.join("; "),
            other => panic!("{other:?}"),
        },
        other => panic!("{other:?}"),
    }
}

#[test]
fn a_sound_part_goes_back_and_then_the_engine_starts() {
    let mut rig = decided();
    assert_eq!(shut(&rig, fit()), "first: the bush.ts / as-left");
    rig.lifts("bush.ts/as-left", ["0.180"; 3], ["0.182"; 3]);
    assert_eq!(shut(&rig, start()), "first: the job / bush-in; first: the job / rags-back");
    rig.take(fit());
    count(&mut rig, "job/rags-back", "30", &[]);
    assert_eq!(shut(&rig, start()), "");
}

#[test]
fn no_part_goes_in_that_is_held_itself() {
    let mut rig = decided();
    rig.lifts("bush.ts/as-left", ["0.180"; 3], ["0.182"; 3]);
    assert_eq!(shut(&rig, fit()), "");
    rig.take(finding("dent", "small"));
    let dent = rig.last().number;
    assert!(shut(&rig, fit()).starts_with("bush.ts: referred: dent, small"), "{}", shut(&rig, fit()));
    rig.take(conceded(dent));
    let claimed = rig.last().number;
    let words = format!("bush.ts: referred: dent, small; only claimed settled, entry {claimed}");
    assert_eq!(shut(&rig, fit()), words, "nobody has signed for it");
    rig.supervised(conceded(dent));
    assert_eq!(shut(&rig, fit()), "");
    rig.take(finding("odd", "odd"));
    assert!(shut(&rig, fit()).starts_with("bush.ts: stop and call: odd, odd"), "{}", shut(&rig, fit()));
    let odd = rig.last().number;
    rig.take(Act::Answer { entry: odd, who: "the maker".into(), text: "paint".into() });
    rig.take(Act::Call { part: "bush.ts".into(), question: "which way round?".into() });
    assert_eq!(shut(&rig, fit()), "bush.ts: stop and call: which way round?");
}

#[test]
fn what_is_not_measured_or_still_soaks_keeps_its_part_out_and_a_soak_keeps_all_apart() {
    let mut rig = begun();
    rig.sign(Signing::Decisions, &[]);
    let words = shut(&rig, fit());
    assert!(words.contains("open: clearance: not taken") && words.contains("open: not done: soak"), "{words}");
    rig.take(soak(TimerMark::Started));
    let words = shut(&rig, Act::Tick { step: "job/bush-in".into() });
    assert!(words.starts_with("first: the bush.ts / soak"), "{words}");
    // another part's step waits for the soak too, it needs no other reason
    assert_eq!(rig.refused(Act::Tick { step: "job/rags-back".into() }), "Shut");
    rig.at("2031-04-17T10:30:00+02:00").take(soak(TimerMark::Ended));
    assert_eq!(rig.refused(Act::Tick { step: "job/rags-back".into() }), "OtherKindOfStep");
}

#[test]
fn a_part_that_is_to_be_replaced_stays_out_until_the_new_one_is_entered_and_measured() {
    let mut rig = begun();
    rig.take(soak(TimerMark::Started)).at("2031-04-17T10:30:00+02:00").take(soak(TimerMark::Ended));
    rig.lifts("bush.ts/clearance", ["0.180"; 3], ["0.250"; 3]).take(finding("dent", "small"));
    rig.sign(Signing::Decisions, &[]);
    rig.take(Act::Skip { step: "bush.ts/as-left".into(), place: None, reason: "later".into() });
    let words = shut(&rig, fit());
    assert!(words.contains("bush.ts: referred: dent") && words.contains("bush.ts: to be replaced"), "{words}");
    let skip = rig.last().number;
    rig.take(Act::Strike { entry: skip, reason: "it is here".into() });
    // what was asked of the old one is not asked of the new one
    rig.take(new_bush());
    assert_eq!(shut(&rig, fit()), "first: the bush.ts / as-left");
    let mut outside = rig.clone();
    outside.lifts("bush.ts/as-left", ["0.200"; 3], ["0.172"; 3]);
    assert!(shut(&outside, fit()).contains("as left: outside the new range"), "{}", shut(&outside, fit()));
    rig.lifts("bush.ts/as-left", ["0.180"; 3], ["0.182"; 3]);
    assert_eq!(shut(&rig, fit()), "");
    // the new one is looked at like any other
    rig.take(finding("dent", "small"));
    assert!(shut(&rig, fit()).contains("referred"), "{}", shut(&rig, fit()));
    assert_eq!(rig.verdict("bush.ts"), "replace [referred]");
    rig.take(finding("scoring", "deep"));
    assert_eq!(rig.verdict("bush.ts"), "replace [referred, new part to check]");
}

#[test]
fn nothing_starts_while_a_count_is_short_or_somebody_has_called_stop() {
    let mut rig = decided();
    rig.lifts("bush.ts/as-left", ["0.180"; 3], ["0.182"; 3]).take(fit());
    count(&mut rig, "job/rags-back", "29", &["count"]);
    assert_eq!(shut(&rig, start()), "open: rags-back: rags: 29, first 30");
    let entry = rig.last().number;
    rig.take(Act::Strike { entry, reason: "found behind the pipe".into() });
    count(&mut rig, "job/rags-back", "30", &[]);
    rig.take(Act::Call { part: "shaft".into(), question: "what rubs?".into() });
    assert_eq!(shut(&rig, start()), "shaft: stop and call: what rubs?");
}

#[test]
fn a_long_list_of_what_comes_first_is_counted() {
    let mut rig = begun();
    rig.sign(Signing::Decisions, &[]);
    let words = shut(&rig, Act::Sign(Rig::signature(Signing::Close, &[])));
    assert_eq!(words.matches("first: ").count(), 3, "{words}");
    assert!(words.ends_with("and 4 steps more"), "{words}");
}

#[test]
fn a_count_left_out_keeps_the_engine_from_starting_until_it_is_made() {
    let mut rig = decided();
    rig.lifts("bush.ts/as-left", ["0.180"; 3], ["0.182"; 3]).take(fit());
    rig.take(Act::Skip { step: "job/rags-back".into(), place: None, reason: "no time".into() });
    assert_eq!(shut(&rig, start()), "open: left out: rags-back, no time");
    assert!(rig.verdict("job").contains("open"), "{}", rig.verdict("job"));
    let entry = rig.last().number;
    rig.take(Act::Strike { entry, reason: "there is time".into() });
    rig.take(Act::Skip { step: "job/rags-back".into(), place: Some("rags".into()), reason: "in the wash".into() });
    assert_eq!(shut(&rig, start()), "open: rags-back: left out: rags, in the wash");
    let entry = rig.last().number;
    rig.take(Act::Strike { entry, reason: "here they are".into() });
    count(&mut rig, "job/rags-back", "30", &[]);
    assert_eq!(shut(&rig, start()), "");
}

#[test]
fn nothing_starts_over_an_as_left_figure_outside_the_new_range_unless_a_supervisor_lets_it() {
    let mut rig = decided();
    rig.take(Act::Skip { step: "bush.ts/as-left".into(), place: None, reason: "later".into() });
    rig.take(fit());
    count(&mut rig, "job/rags-back", "30", &[]);
    assert_eq!(shut(&rig, start()), "");
    let skipped = rig.inspection.standing_entries().find(|one| one.act.step() == Some("bush.ts/as-left"));
    let entry = skipped.unwrap().number;
    rig.take(Act::Strike { entry, reason: "measured after all".into() });
    rig.lifts("bush.ts/as-left", ["0.200"; 3], ["0.202"; 3]);
    assert_eq!(shut(&rig, start()), "bush.ts: open: clearance as left: outside the new range");
    let (part, supervisor) = ("bush.ts".to_owned(), crate::rig::id("supervisor-b"));
    let to = asfound::domain::verdict::Disposition::Watch;
    rig.supervised(Act::Overrule { part, to, supervisor, reason: "runs until the new one is here".into() });
    assert_eq!(shut(&rig, start()), "");
    // another figure than the one that was let through
    let last = rig.inspection.standing_entries_of("bush.ts/as-left").next_back().unwrap().number;
    rig.take(Act::Strike { entry: last, reason: "dirt".into() });
    rig.read("bush.ts/as-left", "inner 0 / 3 / up", "0.206");
    assert_eq!(shut(&rig, start()), "bush.ts: open: clearance as left: outside the new range");
}

/// What the manual tightens by an angle is entered as one; a pressure is neither.
#[test]
fn a_joint_takes_a_torque_or_an_angle() {
    let mut checklist = checklist();
    let Takes::Readings(mut grid) = grid(GaugeKind::Other, &["shaft nut"], 1, &["stage 1", "final"]) else {
        panic!("no grid")
    };
    (grid.unit, grid.or) = (Unit::NewtonMetre, Some(Unit::Degree));
    checklist.steps.insert(1, step("job/torques", Phase::Found, Takes::Readings(grid), &[]));
    let mut rig = Rig::with(asfound::domain::inspection::Head { checklist, ..head() });
    rig.make_safe();
    let asked = |place: &str, text: &str| asfound::domain::request::Request::Reading {
        step: "job/torques".into(),
        place: place.into(),
        text: text.into(),
        gauge: None,
        insisted: vec![],
    };
    for (place, text, kept) in [("shaft nut / stage 1", "50", "50 N m"), ("shaft nut / final", "60 deg", "60 deg")] {
        assert_eq!(crate::rig::said(rig.ask(&asked(place, "3 bar"))), "OtherDimension");
        let decision = rig.ask(&asked(place, text));
        rig.enter(decision);
        assert_eq!(rig.inspection.reading("job/torques", place).unwrap().figure.to_string(), kept);
    }
    let overhaul = asfound::records::checklist_file::built_in("overhaul").unwrap().unwrap();
    let Takes::Readings(grid) = &overhaul.step("rebuild/torques").unwrap().takes else { panic!("no readings") };
    assert_eq!((grid.unit, grid.or), (Unit::NewtonMetre, Some(Unit::Degree)));
}
