//! What may be done when.

use crate::rig::{Rig, head, id, said};
use asfound::domain::checklist::Signing;
use asfound::domain::entry::{Act, Late, TimerMark};
use asfound::domain::inspection::{Arrives, Head, Opening};
use asfound::domain::person::{Person, Role};
use asfound::domain::progress::{self, StepState};
use asfound::domain::standing::hold_words;

fn tick(step: &str) -> Act {
    Act::Tick { step: step.into() }
}

#[test]
fn nothing_after_make_safe_starts_before_every_point_is_confirmed() {
    let mut rig = Rig::begun();
    assert_eq!(said(rig.ask(&Rig::typed("rotor/axial", "axial / pushed", "0.020", "D2", &[]))), "Shut");
    rig.take(Act::Confirm { step: "job/safe".into(), point: "fuel".into() });
    assert_eq!(said(rig.ask(&Rig::typed("rotor/axial", "axial / pushed", "0.020", "D2", &[]))), "Shut");
    let reason = "no oil on this bench".to_owned();
    rig.take(Act::NotApplicable { step: "job/safe".into(), point: Some("oil".into()), reason });
    assert_eq!(said(rig.ask(&Rig::typed("rotor/axial", "axial / pushed", "0.020", "D2", &[]))), "taken");
}

#[test]
fn safety_points_are_never_skipped_nor_waved_through_as_a_whole() {
    let rig = Rig::begun();
    assert_eq!(rig.refused(Act::Skip { step: "job/safe".into(), place: None, reason: "late".into() }), "NeverSkipped");
    assert_eq!(
        rig.refused(Act::NotApplicable { step: "job/safe".into(), point: None, reason: "bench".into() }),
        "PointByPoint"
    );
    assert_eq!(rig.refused(Act::Skip { step: "job/close".into(), place: None, reason: "late".into() }), "NeverSkipped");
}

#[test]
fn what_every_machine_has_is_marked_away_by_a_supervisor_alone() {
    let mut rig = Rig::begun();
    let away = |step: &str, point: Option<&str>| Act::NotApplicable {
        step: step.into(),
        point: point.map(str::to_owned),
        reason: "small job".into(),
    };
    assert_eq!(rig.refused(away("job/safe", Some("fuel"))), "Obliged");
    assert_eq!(rig.refused(away("job/safe", Some("oil"))), "taken", "there are machines without it");
    assert_eq!(rig.refused(away("job/decide", None)), "NeverSkipped");
    assert_eq!(rig.by("supervisor-b").refused(away("job/safe", Some("fuel"))), "taken");
    rig.by("fitter-a").make_safe();
    assert_eq!(rig.refused(away("bush.ts/look", None)), "Obliged", "the part is on the machine");
    let mut unknown = Rig::with(Head { sheet: None, ..head() });
    unknown.make_safe();
    assert_eq!(unknown.refused(away("rotor/axial", None)), "Obliged", "nobody can measure it once it is stripped");
}

#[test]
fn a_measurement_marked_away_by_a_supervisor_entered_at_the_bench_is_a_claim() {
    let mut rig = Rig::open();
    let boss = Person { id: id("boss"), name: "boss X".into(), roles: vec![Role::Supervisor], keys: vec![] };
    let away = Act::NotApplicable { step: "bush.ts/clearance".into(), point: None, reason: "not fitted".into() };
    rig.take(Act::Person(boss)).by("boss").take(Act::Resume).take(away.clone()).by("fitter-a");
    let claim = rig.last().number;
    assert_eq!(rig.standing().counts.claimed, 1);
    let held = rig.standing().holds_in_words().join("; ");
    let wanted = format!("clearance: not taken; only claimed settled, entry {claim}");
    assert!(held.contains(&wanted), "{held}");
    let mut known = Rig::open();
    known.by("supervisor-b").take(Act::Resume).take(away);
    assert_eq!(known.standing().counts.claimed, 0);
    assert!(!known.standing().holds_in_words().join("; ").contains("clearance: not taken"));
}

#[test]
fn who_comes_back_after_another_has_said_that_it_is_safe_says_so_again() {
    let mut rig = Rig::open();
    let seen = || crate::rig::finding("dent", "small");
    assert_eq!(rig.refused(seen()), "taken");
    rig.by("supervisor-b").take(Act::Resume).by("fitter-a");
    assert_eq!(rig.refused(seen()), "Shut");
    rig.take(Act::Resume);
    assert_eq!(rig.refused(seen()), "taken");
    assert_eq!(rig.by("supervisor-b").refused(seen()), "Shut");
}

#[test]
fn who_calls_does_not_answer() {
    let mut rig = Rig::open();
    rig.take(Act::Call { part: "bush.ts".into(), question: "is it cracked?".into() });
    let call = rig.last().number;
    let answer = |who: &str| Act::Answer { entry: call, who: who.into(), text: "looks good".into() };
    assert_eq!(rig.refused(answer("fitter-a")), "NoAnswer");
    assert_eq!(rig.refused(answer("Fitter-A ")), "NoAnswer");
    assert_eq!(rig.refused(answer("supervisor B")), "taken");
}

#[test]
fn a_struck_confirmation_shuts_everything_again() {
    let mut rig = Rig::open();
    let confirmation =
        rig.inspection.entries().iter().find(|entry| matches!(entry.act, Act::Confirm { .. })).unwrap().number;
    rig.take(Act::Strike { entry: confirmation, reason: "wrong valve".into() });
    assert_eq!(said(rig.ask(&Rig::typed("bush.ts/clearance", "outer 0 / 1 / down", "0.020", "D2", &[]))), "Shut");
}

/// One point of another hand's, confirmed anew, says nothing of the others.
#[test]
fn safety_is_said_whole_by_each_hand() {
    let reading = || Rig::typed("bush.ts/clearance", "outer 0 / 1 / down", "0.020", "D2", &[]);
    let mut rig = Rig::open();
    assert_eq!(said(rig.ask(&reading())), "taken");
    let fuel = rig.inspection.entries().iter().find(|entry| matches!(entry.act, Act::Confirm { .. })).unwrap().number;
    rig.by("fitter-c").take(Act::Strike { entry: fuel, reason: "wrong valve".into() });
    rig.take(Act::Confirm { step: "job/safe".into(), point: "fuel".into() });
    assert_eq!(said(rig.ask(&reading())), "Shut", "one point of two");
    rig.take(Act::Resume);
    assert_eq!(said(rig.ask(&reading())), "taken");
    // said by mistake, it is taken back
    let resume = rig.last().number;
    rig.take(Act::Strike { entry: resume, reason: "typed wrong".into() });
    assert_eq!(said(rig.ask(&reading())), "Shut");
}

#[test]
fn the_as_found_reading_gates_the_step_that_destroys_it() {
    let mut rig = Rig::begun();
    rig.make_safe();
    assert_eq!(rig.refused(tick("rotor/covers")), "Shut");
    rig.take(Act::Skip { step: "rotor/axial".into(), place: None, reason: "thrust cover seized".into() });
    assert_eq!(rig.refused(tick("rotor/covers")), "taken");
    // left out by name and with a reason, it stays open until a supervisor accepts that
    assert!(rig.verdict("rotor").contains("open"), "{}", rig.verdict("rotor"));
}

#[test]
fn a_rotor_received_stripped_has_no_as_found_readings_to_wait_for() {
    let mut rig = Rig::begun();
    rig.make_safe();
    let stripped = Opening { arrives: Some(Arrives::Stripped), ..Opening::default() };
    rig.take(Act::Opening(Box::new(stripped)));
    assert_eq!(rig.refused(Act::Looked { step: "bush.ts/look".into() }), "taken");
}

#[test]
fn a_break_or_another_hand_is_asked_again() {
    let mut rig = Rig::open();
    let clearance = Rig::typed("bush.ts/clearance", "outer 0 / 1 / down", "0.020", "D2", &[]);
    rig.at("2031-04-17T11:59:00+02:00");
    assert_eq!(said(rig.ask(&clearance)), "taken");
    rig.at("2031-04-17T12:01:00+02:00");
    assert_eq!(said(rig.ask(&clearance)), "Shut");
    rig.take(Act::Resume);
    assert_eq!(said(rig.ask(&clearance)), "taken");
    rig.by("fitter-c");
    assert_eq!(said(rig.ask(&clearance)), "Shut");
    rig.take(Act::Resume);
    assert_eq!(said(rig.ask(&clearance)), "taken");
    // the first hand was not away, but another has said so since
    rig.by("fitter-a");
    assert_eq!(said(rig.ask(&clearance)), "Shut");
    rig.take(Act::Resume);
    assert_eq!(said(rig.ask(&clearance)), "taken");
    // a clock that goes a little wrong is no break; one that lost its day may hide any
    rig.at("2031-04-17T11:00:00+02:00");
    assert_eq!(said(rig.ask(&clearance)), "taken");
    rig.at("1970-01-01T00:10:00+00:00");
    assert_eq!(said(rig.ask(&clearance)), "Shut");
    rig.take(Act::Resume);
    assert_eq!(said(rig.ask(&clearance)), "taken");
}

#[test]
fn the_rebuild_waits_for_the_signature_and_for_its_own_part() {
    let mut rig = Rig::open();
    rig.lifts("bush.ts/clearance", ["0.180"; 3], ["0.182"; 3]);
    let as_left = Rig::typed("bush.ts/as-left", "outer 0 / 1 / down", "0.020", "D2", &[]);
    assert_eq!(said(rig.ask(&as_left)), "Shut");
    rig.sign(Signing::Decisions, &[]);
    // the bush itself still has a soak that nobody has done: its own open hold
    assert_eq!(said(rig.ask(&as_left)), "Shut");
    rig.take(Act::Skip { step: "bush.ts/soak".into(), place: None, reason: "no time".into() });
    // left out, it is as open as before; what needs no soak is no soak left out
    assert_eq!(said(rig.ask(&as_left)), "Shut");
    let skip = rig.last().number;
    rig.take(Act::Strike { entry: skip, reason: "it came clean".into() });
    rig.take(Act::NotApplicable { step: "bush.ts/soak".into(), point: None, reason: "it came clean".into() });
    assert_eq!(said(rig.ask(&as_left)), "taken");
    rig.take(Act::Call { part: "bush.ts".into(), question: "which bush is this?".into() });
    assert_eq!(said(rig.ask(&as_left)), "Shut");
    let call = rig.last().number;
    rig.supervised(Act::Answer { entry: call, who: "supervisor B".into(), text: "the new one".into() });
    assert_eq!(said(rig.ask(&as_left)), "taken");
}

#[test]
fn a_soak_runs_on_while_other_steps_go_on() {
    let mut rig = Rig::open();
    rig.take(Act::Timer { step: "bush.ts/soak".into(), mark: TimerMark::Started });
    assert_eq!(rig.refused(Act::Timer { step: "bush.ts/soak".into(), mark: TimerMark::Started }), "DoneAlready");
    let soaking = progress::soaking(&rig.inspection);
    assert_eq!(soaking[0].from.to_string(), "2 h");
    assert_eq!(progress::next_step(&rig.inspection).unwrap().id, "bush.ts/clearance");
    rig.at("2031-04-17T10:30:00+02:00").take(Act::Timer { step: "bush.ts/soak".into(), mark: TimerMark::Ended });
    let step = rig.inspection.head().checklist.step("bush.ts/soak").unwrap();
    assert_eq!(progress::state(&rig.inspection, step), StepState::Done);
}

#[test]
fn a_soak_copied_from_paper_ran_as_long_as_the_paper_says() {
    let mut rig = Rig::open();
    let soak = |mark| Act::Timer { step: "bush.ts/soak".into(), mark };
    let late = |taken: &str| Some(Late { taken: taken.to_owned(), sheet: None });
    rig.at("2031-04-17T10:30:00+02:00").hand.late = late("2031-04-17 08:00");
    rig.take(soak(TimerMark::Started));
    assert_eq!(progress::soaking(&rig.inspection)[0].since.clock(), "08:00");
    rig.hand.late = late("2031-04-17 07:50");
    assert_eq!(rig.refused(soak(TimerMark::Ended)), "OutBeforeIn");
    rig.hand.late = late("2031-04-17 10:15");
    rig.take(soak(TimerMark::Ended));
    let step = rig.inspection.head().checklist.step("bush.ts/soak").unwrap();
    assert_eq!(asfound::domain::soak::strayed(&rig.inspection, step), None, "two hours and a quarter");
    let out = rig.last().number;
    rig.take(Act::Strike { entry: out, reason: "misread".into() });
    rig.hand.late = late("2031-04-17 09:00");
    rig.take(soak(TimerMark::Ended));
    let step = rig.inspection.head().checklist.step("bush.ts/soak").unwrap();
    assert_eq!(asfound::domain::soak::strayed(&rig.inspection, step).unwrap(), "1 h 00 min, wanted 2 h to 3 h");
}

#[test]
fn closing_wants_every_hold_settled_or_carried_by_name() {
    let mut rig = Rig::open();
    rig.lifts("bush.ts/clearance", ["0.180"; 3], ["0.182"; 3]);
    rig.sign(Signing::Decisions, &[]);
    rig.take(Act::Note { step: Some("job/cause".into()), text: "wear".into() });
    assert_eq!(
        rig.refused(Act::Sign(Rig::signature(Signing::Close, &[]))),
        "Shut",
        "steps are neither done nor left out"
    );
    rig.leave_rest();
    assert_eq!(rig.refused(Act::Sign(Rig::signature(Signing::Close, &[]))), "HeldOpen");
    let holds = rig.standing().holds_in_words();
    assert!(!holds.is_empty());
    rig.sign(Signing::Close, &holds);
}

#[test]
fn who_signed_may_not_countersign_and_it_takes_a_supervisor() {
    let mut rig = Rig::open();
    rig.sign(Signing::Decisions, &[]);
    let sign = rig.last().number;
    let countersign = Act::Countersign { sign, chain: String::new() };
    assert_eq!(rig.refused(countersign.clone()), "NoSupervisor");
    rig.by("supervisor-b");
    rig.take(countersign.clone());
    assert_eq!(rig.refused(countersign), "DoneAlready");
    let mut own = Rig::open();
    own.by("supervisor-b").take(Act::Resume).sign(Signing::Decisions, &[]);
    let sign = own.last().number;
    assert_eq!(own.refused(Act::Countersign { sign, chain: String::new() }), "OwnSignature");
}

#[test]
fn a_return_reopens_the_signature_and_its_remarks_wait_for_an_answer() {
    use asfound::domain::entry::Remark;
    use asfound::domain::signing;
    let mut rig = Rig::open();
    rig.sign(Signing::Decisions, &[]);
    let sign = rig.last().number;
    let remarks = vec![Remark { step: Some("bush.ts/look".into()), text: "which side?".into() }];
    rig.by("supervisor-b").take(Act::Return { sign, chain: String::new(), remarks });
    assert!(signing::standing_signature(&rig.inspection, Signing::Decisions).is_none());
    let (entry, remark, _) = signing::open_remarks(&rig.inspection)[0];
    rig.by("fitter-a").take(Act::RemarkAnswered { entry, remark, text: "the loaded one".into() });
    assert!(signing::open_remarks(&rig.inspection).is_empty());
    rig.sign(Signing::Decisions, &[]);
}

#[test]
fn the_next_opening_lies_after_this_one_in_hours_and_in_days() {
    let rig = Rig::begun();
    let plan = |hours: &str, day: Option<&str>| Act::Plan {
        hours: Some(hours.parse().unwrap()),
        date: day.map(|day| day.parse().unwrap()),
        supervisor: None,
        reason: "planned anew".to_owned(),
    };
    let now = rig.inspection.opening().machine_hours.unwrap().to_string();
    assert_eq!(rig.refused(plan(&now, None)), "NextNotLater", "touching is not later");
    assert_eq!(rig.refused(plan("1 h", None)), "NextNotLater");
    assert_eq!(rig.refused(plan("99000 h", Some("1999-01-01"))), "NextNotLater");
    let opening = Opening { next_hours: Some("2 h".parse().unwrap()), ..Opening::default() };
    assert_eq!(rig.refused(Act::Opening(Box::new(opening))), "NextNotLater");
    assert_eq!(rig.refused(plan("99000 h", Some("2199-01-01"))), "taken");
}

#[test]
fn another_edition_of_the_manual_holds_the_job_until_somebody_says_that_the_levels_still_hold() {
    let mut head = head();
    if let Some(manual) = &mut head.opened.manual {
        manual.edition = "4".to_owned();
    }
    let mut rig = Rig::with(head);
    let words = "the job: open: manual edition 4, limits sheet edition 3: do its levels still hold?";
    assert_eq!(rig.standing().holds_in_words()[0], words);
    let mut mended = rig.clone();
    let manual = asfound::domain::inspection::Manual {
        title: "INV manual (invented)".to_owned(),
        edition: "3".to_owned(),
        checked: asfound::domain::stamp::day("2031-04-17").unwrap(),
    };
    mended.take(Act::Opening(Box::new(Opening { manual: Some(manual), ..Opening::default() })));
    assert!(mended.standing().job.is_empty());
    let answer =
        |entry| Act::Answer { entry, who: "the works office".into(), text: "read side by side: the same".into() };
    rig.take(answer(1));
    assert!(rig.standing().job.is_empty());
    // asked once, and of no other entry
    assert_eq!(mended.refused(answer(1)), "NoSuchEntry");
}

#[test]
fn a_manual_of_another_title_holds_as_another_edition_does() {
    for (title, asks) in [
        ("INV manual (invented)", false),
        ("inv Manual, invented", false),
        ("Some other book", true),
        ("INV-2 manual (invented)", true),
        ("", false),
    ] {
        let mut head = head();
        if let Some(manual) = &mut head.opened.manual {
            manual.title = title.to_owned();
        }
        let words = format!("open: manual `{title}`, limits sheet `INV manual (invented)`: do its levels still hold?");
        let holds: Vec<_> = Rig::with(head).standing().job.iter().map(hold_words).collect();
        assert_eq!(holds, if asks { vec![words] } else { vec![] }, "{title}");
    }
}
