//! What goes back together when, and when the engine may be started.

use crate::rig::{Rig, checklist, conceded, figure, finding, grid, head, step};
use asfound::domain::checklist::{Against, Checklist, Signing, Step, StepAsk, Takes};
use asfound::domain::entry::{Act, Entry, FindingMade, Replaces, TimerMark};
use asfound::domain::inspection::Head;
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
    begun_with(Head { checklist: whole(), ..head() })
}

fn begun_with(head: Head) -> Rig {
    let mut rig = Rig::with(head);
    rig.make_safe();
    count(&mut rig, "job/rags", "30", &[]);
    rig.covers_off()
        .journal(["59.931", "59.931", "59.93", "59.93", "59.93", "59.93", "59.93", "59.93", "59.93", "59.93"]);
    rig
}

/// Everything of the bush done, well within, the decisions signed.
fn decided() -> Rig {
    decided_with(Head { checklist: whole(), ..head() })
}

fn decided_with(head: Head) -> Rig {
    let mut rig = begun_with(head);
    rig.take(soak(TimerMark::Started)).at("2031-04-17T10:30:00+02:00").take(soak(TimerMark::Ended));
    rig.lifts("bush.ts/clearance", ["0.180"; 3], ["0.182"; 3]).sign(Signing::Decisions, &[]);
    rig
}

/// The bush in, within as left, everything counted back: nothing keeps the engine from starting.
fn ready() -> Rig {
    let mut rig = decided();
    rig.lifts("bush.ts/as-left", ["0.180"; 3], ["0.182"; 3]).take(fit());
    count(&mut rig, "job/rags-back", "30", &[]);
    assert_eq!(shut(&rig, start()), "");
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
    let (serial, doubts) = (Some("new-1".into()), Vec::new());
    let fitted = Fitted { serial, hours: figure("0 h"), machine: figure("24000 h"), doubts };
    Act::PartFitted { part: "bush.ts".into(), fitted, replaces: Replaces::Yes }
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
    rig.supervised(Act::Answer { entry: odd, who: "the maker".into(), text: "paint".into() });
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
    rig.take(Act::Skip { step: "bush.ts/as-left".into(), place: None, reason: "no time, by order".into() });
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
    let mut rig = ready();
    let measured = |one: &&Entry| matches!(&one.act, Act::Reading { step, .. } if step == "bush.ts/as-left");
    let readings: Vec<_> = rig.inspection.entries().iter().filter(measured).map(|one| one.number).collect();
    for entry in readings {
        rig.take(Act::Strike { entry, reason: "dirt".into() });
    }
    rig.lifts("bush.ts/as-left", ["0.200"; 3], ["0.202"; 3]);
    let outside = "bush.ts: open: clearance as left: outside the new range; \
                   bush.ts: open: rework to do, then measured again";
    assert_eq!(shut(&rig, start()), outside);
    let (part, supervisor) = ("bush.ts".to_owned(), crate::rig::id("supervisor-b"));
    let to = asfound::domain::verdict::Disposition::Watch;
    rig.supervised(Act::Overrule { part, to, supervisor, reason: "runs until the new one is here".into() });
    assert_eq!(shut(&rig, start()), "");
    // another figure than the one that was let through
    let last = rig.inspection.standing_entries_of("bush.ts/as-left").next_back().unwrap().number;
    rig.take(Act::Strike { entry: last, reason: "dirt".into() });
    rig.read("bush.ts/as-left", "inner 0 / 3 / up", "0.206");
    assert_eq!(shut(&rig, start()), outside);
}

/// What keeps a part out keeps it from running, whenever it came up.
#[test]
fn nothing_starts_over_what_came_up_once_the_part_was_in() {
    let on_shaft = |kind: &str, grade: &str| {
        let (part, step) = ("shaft".to_owned(), "bush.ts/look".to_owned());
        Act::Finding(FindingMade { part, step, kind: kind.into(), grade: grade.into(), ..FindingMade::default() })
    };
    let to_replace = "and no new one is entered and checked";
    for (act, waits_for) in [
        (finding("dent", "small"), "bush.ts: referred: dent, small"),
        (finding("scoring", "deep"), to_replace),
        (finding("crack", "seen"), to_replace),
        (new_bush(), "first: the bush.ts / as-left"),
        (on_shaft("dent", "small"), "shaft: referred: dent, small"),
        (on_shaft("crack", "seen"), to_replace),
        // watched, or of no weight: never waited for
        (finding("scoring", "light"), ""),
        (on_shaft("soot", "thin"), ""),
    ] {
        let mut rig = ready();
        rig.take(act.clone());
        let words = shut(&rig, start());
        assert!(words.contains(waits_for) && words.is_empty() == waits_for.is_empty(), "{act:?}: {words}");
    }
    let mut rig = ready();
    rig.take(finding("dent", "small"));
    let dent = rig.last().number;
    rig.supervised(conceded(dent));
    assert_eq!(shut(&rig, start()), "", "the maker has answered");
}

#[test]
fn nothing_starts_before_what_a_finding_obliges_is_done() {
    let mut head = Head { checklist: whole(), ..head() };
    let look = Step { on_demand: true, ..step("shaft/again", Phase::Look2, Takes::Look, &[]) };
    head.checklist.steps.insert(6, look);
    let bush = head.checklist.parts.iter_mut().find(|part| part.id == "bush.ts").unwrap();
    bush.findings[0].obliges = vec!["shaft/again".to_owned()];
    let mut rig = decided_with(head);
    rig.lifts("bush.ts/as-left", ["0.180"; 3], ["0.182"; 3]).take(fit());
    count(&mut rig, "job/rags-back", "30", &[]);
    assert_eq!(shut(&rig, start()), "");
    rig.take(finding("scoring", "light"));
    assert_eq!(shut(&rig, start()), "first: the shaft / again");
    let mut skipped = rig.clone();
    skipped.take(Act::Skip { step: "shaft/again".into(), place: None, reason: "no time".into() });
    assert_eq!(shut(&skipped, start()), "bush.ts: open: scoring obliges: the shaft / again, skipped");
    rig.take(Act::Looked { step: "shaft/again".into() });
    assert_eq!(shut(&rig, start()), "");
}

/// A clearance that nobody measured is held by name, keeps its part out and the engine from starting, and is carried on.
#[test]
fn an_as_left_figure_left_out_or_lost_holds_its_part() {
    let mut rig = decided();
    assert_eq!(rig.verdict("bush.ts"), "reuse []", "before its turn it holds nothing");
    rig.take(Act::Skip { step: "bush.ts/as-left".into(), place: None, reason: "no time, by order".into() });
    let words = "bush.ts: open: clearance as left: left out, no time, by order";
    assert!(rig.standing().holds_in_words().contains(&words.to_owned()), "{:?}", rig.standing().holds_in_words());
    assert_eq!(shut(&rig, fit()), words);
    rig.take(Act::Skip { step: "job/bush-in".into(), place: None, reason: "in already".into() });
    count(&mut rig, "job/rags-back", "30", &[]);
    assert_eq!(shut(&rig, start()), words);
    let mut accepted = rig.clone();
    let characteristic = asfound::domain::characteristic::Characteristic::parse("bush.ts.clearance").unwrap();
    let (supervisor, reason) = (crate::rig::id("supervisor-b"), "measured at the works".to_owned());
    accepted.supervised(Act::Unjudged { characteristic, as_left: true, supervisor, reason });
    assert_eq!(shut(&accepted, start()), "");
    // of the bush that was there
    accepted.take(new_bush());
    assert_eq!(shut(&accepted, start()), "first: the bush.ts / as-left; first: the job / bush-in");
    rig.leave_rest();
    assert_eq!(rig.refused(Act::Sign(Rig::signature(Signing::Close, &[]))), "HeldOpen");
    let holds = rig.standing().holds_in_words();
    rig.sign(Signing::Close, &holds);

    let mut rig = ready();
    let last = rig.inspection.standing_entries_of("bush.ts/as-left").next_back().unwrap().number;
    let strike = Act::Strike { entry: last, reason: "misread".into() };
    let mut waiting = rig.clone();
    waiting.take(strike.clone());
    assert_eq!(
        (waiting.verdict("bush.ts").as_str(), shut(&waiting, start())),
        ("reuse []", "first: the bush.ts / as-left".to_owned())
    );
    rig.take(start()).take(strike);
    assert_eq!(rig.verdict("bush.ts"), "reuse [open]", "it has had its turn");
}

/// A picture or a plan that is missing is carried on by name; the engine never waited for it.
#[test]
fn a_missing_picture_or_plan_keeps_no_engine_from_starting() {
    let mut head = Head { checklist: whole(), ..head() };
    let back = head.checklist.steps.iter_mut().find(|step| step.id == "bush.ts/look").unwrap();
    back.asks = vec![StepAsk::Picture];
    head.opened.next_hours = None;
    let mut rig = decided_with(head);
    let alert = rig.standing().holds_in_words();
    assert!(alert.iter().any(|words| words.contains("no picture: look")), "{alert:?}");
    rig.lifts("bush.ts/as-left", ["0.180"; 3], ["0.182"; 3]).take(fit());
    count(&mut rig, "job/rags-back", "30", &[]);
    assert_eq!(shut(&rig, start()), "");
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
    let mut rig = Rig::with(Head { checklist, ..head() });
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

#[test]
fn a_part_replaced_once_more_is_put_in_once_more() {
    let mut rig = ready();
    rig.take(new_bush());
    let replaced = rig.last().number;
    assert!(shut(&rig, start()).contains("bush-in"), "{}", shut(&rig, start()));
    rig.take(Act::Strike { entry: replaced, reason: "it was not".into() });
    assert_eq!(shut(&rig, start()), "");
}
