//! What has to be done again: a look whose finding was struck, an account given before the finding, the measures of a part
//! that another has replaced since, the balance of what was changed since.

use asfound::domain::characteristic::Characteristic;
use asfound::domain::checklist::{Signing, Takes};
use asfound::domain::entry::{Act, Replaces};
use asfound::domain::exact::Exact;
use asfound::domain::hours;
use asfound::domain::inspection::{Head, Opening, Past};
use asfound::domain::outlook::Outlook;
use asfound::domain::phase::Phase;
use asfound::domain::progress::{self, StepState};
use asfound::domain::rotor::Fitted;
use asfound::domain::stamp::day;
use asfound::domain::standing::history_after;

use crate::rig::{Rig, figure, finding, head, id, machine};

fn state(rig: &Rig, id: &str) -> StepState {
    progress::state(&rig.inspection, rig.inspection.head().checklist.step(id).unwrap())
}

fn fitted(part: &str, serial: &str) -> Act {
    let fitted =
        Fitted { serial: Some(serial.into()), hours: figure("0 h"), machine: figure("24000 h"), doubts: Vec::new() };
    Act::PartFitted { part: part.into(), fitted, replaces: Replaces::Yes }
}

#[test]
fn a_look_whose_finding_was_struck_is_looked_at_again() {
    for (kind, grade) in [("scoring", "light"), ("crack", "seen")] {
        let mut rig = Rig::begun();
        rig.make_safe().read("rotor/axial", "axial / pushed", "0.020").read("rotor/axial", "axial / pulled", "0.210");
        rig.take(Act::Tick { step: "rotor/covers".into() }).take(finding(kind, grade));
        let found = rig.last().number;
        rig.take(Act::Looked { step: "bush.ts/look".into() });
        assert_eq!(state(&rig, "bush.ts/look"), StepState::Done);
        let strike = Act::Strike { entry: found, reason: "a hair".into() };
        if kind == "crack" {
            // somebody else's crack is a supervisor's to take back
            assert_eq!(rig.clone().by("fitter-c").take(Act::Resume).refused(strike.clone()), "NoAnswer");
        }
        rig.take(strike);
        assert_eq!(state(&rig, "bush.ts/look"), StepState::ToDo, "{kind}");
        assert!(rig.verdict("bush.ts").contains("open"), "{}", rig.verdict("bush.ts"));
        rig.take(Act::Looked { step: "bush.ts/look".into() });
        assert_eq!(state(&rig, "bush.ts/look"), StepState::Done);
    }
}

/// Late, from another step: the looks at its part had overlooked it, or so it was said.
#[test]
fn a_finding_made_elsewhere_and_struck_reopens_the_looks_at_its_part() {
    let mut rig = Rig::open();
    let Act::Finding(seen) = finding("scoring", "light") else { panic!("no finding") };
    rig.take(Act::Finding(asfound::domain::entry::FindingMade { step: "rotor/axial".into(), ..seen }));
    let found = rig.last().number;
    assert_eq!(state(&rig, "bush.ts/look"), StepState::Done);
    let told = asfound::domain::telling::of_entry(&rig.inspection, rig.last());
    let part = rig.inspection.head().checklist.part("bush.ts").unwrap().name.clone();
    assert!(told.starts_with(&format!("{part}: scoring, light")), "{told}");
    rig.take(Act::Strike { entry: found, reason: "a hair".into() });
    assert_eq!(state(&rig, "bush.ts/look"), StepState::ToDo);
    assert!(rig.verdict("bush.ts").contains("open"), "{}", rig.verdict("bush.ts"));
}

/// What was given before, and what takes its place: nobody has to look for it in two entries.
#[test]
fn what_is_given_later_is_told_with_what_stood_before() {
    let mut rig = Rig::begun();
    let before = rig.inspection.opening().machine_hours.unwrap();
    for (hours, was) in [("24100 h", before), ("24200 h", figure("24100 h"))] {
        rig.take(Act::Opening(Box::new(Opening { machine_hours: Some(figure(hours)), ..Opening::default() })));
        let told = asfound::domain::telling::of_entry(&rig.inspection, rig.last());
        assert_eq!(told, format!("hours of the machine {hours}, before: {was}"));
    }
    rig.take(fitted("bush.ts", "S-9"));
    let told = asfound::domain::telling::of_entry(&rig.inspection, rig.last());
    assert!(told.ends_with("new, fitted, serial S-9, 0 h since new when the machine had 24000 h"), "{told}");
}

#[test]
fn what_accounts_for_a_finding_comes_after_it() {
    let mut head = head();
    let account = machine::step("job/account", Phase::Measure, Takes::Words, &[]);
    head.checklist.steps.insert(6, asfound::domain::checklist::Step { on_demand: true, ..account });
    let bush = head.checklist.parts.iter_mut().find(|part| part.id == "bush.ts").unwrap();
    for kind in &mut bush.findings {
        kind.obliges = vec!["job/account".into()];
    }
    let mut rig = Rig::with(head);
    rig.covers_off();
    let told = |text: &str| Act::Note { step: Some("job/account".into()), text: text.into() };
    let held = |rig: &Rig| rig.standing().holds_in_words().iter().any(|words| words.contains("obliges: "));
    assert_eq!(rig.refused(told(".")), "NoWords");
    rig.take(told("nothing is missing"));
    assert_eq!(state(&rig, "job/account"), StepState::Done);
    rig.take(finding("scoring", "light"));
    assert_eq!(state(&rig, "job/account"), StepState::ToDo, "said before anything was found");
    assert!(held(&rig));
    rig.take(told("the piece lies in the bag"));
    assert!(!held(&rig));
    // another one is accounted for anew; taken back, what was said holds again
    rig.take(finding("dent", "small"));
    let second = rig.last().number;
    assert!(held(&rig));
    rig.take(Act::Strike { entry: second, reason: "the same one".into() });
    assert_eq!(state(&rig, "job/account"), StepState::Done);
}

#[test]
fn the_figures_of_a_new_part_are_not_those_of_the_next_one() {
    let mut rig = Rig::open();
    rig.take(Act::NotApplicable { step: "bush.ts/soak".into(), point: None, reason: "clean".into() });
    rig.lifts("bush.ts/clearance", ["0.180"; 3], ["0.250"; 3]);
    rig.sign(Signing::Decisions, &[]).take(fitted("bush.ts", "new-1"));
    rig.lifts("bush.ts/as-left", ["0.180"; 3], ["0.182"; 3]);
    assert_eq!(rig.verdict("bush.ts"), "replace []");
    let measured = rig.inspection.reading("bush.ts/as-left", "inner 0 / 1 / up").unwrap().entry;
    rig.take(fitted("bush.ts", "new-2"));
    let since = rig.last().number;
    assert_eq!(rig.verdict("bush.ts"), "replace [new part to check]");
    assert_eq!(state(&rig, "bush.ts/as-left"), StepState::ToDo);
    let entry = rig.inspection.entry(measured).unwrap();
    assert_eq!(rig.inspection.outdated_by(entry), Some(since), "the entry stays, and says so");
    // as found stays as it was found
    assert!(rig.inspection.reading("bush.ts/clearance", "inner 0 / 1 / up").is_some());
    rig.lifts("bush.ts/as-left", ["0.180"; 3], ["0.182"; 3]);
    assert_eq!(rig.verdict("bush.ts"), "replace []");
}

/// The bush's clearance as it was at these hours of its own.
fn past(hours: &str) -> Past {
    Past {
        inspection: "INV/2029-03-01-small".into(),
        date: day("2029-03-01").unwrap(),
        characteristic: Characteristic::parse("bush.ts.clearance").unwrap(),
        hours: figure(hours),
        value: Exact::parse("0.162").unwrap(),
        u: Exact::parse("0.002"),
        place: Some("inner 0".into()),
        side: None,
        as_left: false,
        vector: None,
    }
}

/// 0.200 mm now: within, and past the limit by the next opening.
fn wearing(hours: &str) -> Rig {
    let mut rig = Rig::with(Head { history: vec![past(hours)], ..head() });
    rig.covers_off().take(Act::NotApplicable { step: "bush.ts/soak".into(), point: None, reason: "clean".into() });
    rig.lifts("bush.ts/clearance", ["0.180"; 3], ["0.220"; 3]);
    rig
}

#[test]
fn hours_that_run_backwards_leave_no_part_without_a_forecast_untold() {
    assert_eq!(wearing("12000 h").verdict("bush.ts"), "replace [new part to check]");
    let mut rig = wearing("23999 h");
    rig.take(Act::Opening(Box::new(Opening { machine_hours: Some(figure("2400 h")), ..Opening::default() })));
    let held = rig.standing().holds_in_words();
    assert!(held.iter().any(|words| words.contains("bush.ts: open: no forecast: the hours of the part")), "{held:?}");
}

/// 12000 h stood on the counter two years and 47 days before.
#[test]
fn hours_that_cannot_have_passed_are_provisional_and_none_are_below_nothing() {
    let mut rig = wearing("12000 h");
    let later =
        |hours: &str| Act::Opening(Box::new(Opening { machine_hours: Some(figure(hours)), ..Opening::default() }));
    let odd = |rig: &Rig| rig.standing().holds_in_words().join("; ").contains("hours of the machine, provisional: ");
    assert!(!odd(&rig));
    assert_eq!(rig.refused(later("-5 h")), "NotGiven");
    rig.take(later("35000 h"));
    assert!(odd(&rig), "{:?}", rig.standing().holds_in_words());
    // by a clock that is set back no hours have passed at all, and none are made up
    let asked =
        hours::odd((figure("12030 h"), day("2029-02-27").unwrap()), (figure("12000 h"), day("2029-03-01").unwrap()));
    let words = "The counter stood at 12000 h on 1 March 2029, a day still to come by this computer's clock, \
                 27 February 2029: is it so";
    assert_eq!(asked.as_deref(), Some(words));
    let same =
        hours::odd((figure("12000 h"), day("2029-02-27").unwrap()), (figure("12000 h"), day("2029-03-01").unwrap()));
    assert_eq!(same, None);
}

#[test]
fn a_day_that_its_month_has_not_is_told_with_the_last_one_that_it_has() {
    for (text, said) in [
        ("2029-02-30", "`2029-02-30` is no day: its month ends with 2029-02-28."),
        ("2032-02-30", "`2032-02-30` is no day: its month ends with 2032-02-29."),
        ("2029-12-32", "`2029-12-32` is no day: its month ends with 2029-12-31."),
        ("2029-13-01", "`2029-13-01` is no day or moment."),
        ("2029-04-00", "`2029-04-00` is no day or moment."),
    ] {
        assert_eq!(day(text).unwrap_err().kind.what(), said);
    }
}

/// A figure insisted on is no figure that nobody doubted: what runs on it is open until it is typed once more alike.
#[test]
fn hours_that_were_insisted_on_leave_open_what_runs_on_them() {
    let mut rig = wearing("12000 h");
    let insisted = |hours: &str, doubts: &[&str]| {
        let doubts = doubts.iter().map(|doubt| (*doubt).to_owned()).collect();
        Act::Opening(Box::new(Opening { machine_hours: Some(figure(hours)), doubts, ..Opening::default() }))
    };
    let counts = |rig: &Rig| (rig.standing().counts.insisted, rig.standing().counts.provisional);
    let held = |rig: &Rig, words: &str| rig.standing().holds_in_words().iter().any(|one| one.contains(words));
    let provisional = "bush.ts: open: clearance: provisional";
    assert_eq!(counts(&rig), (0, 0));
    assert!(!held(&rig, "provisional"), "{:?}", rig.standing().holds_in_words());
    rig.take(insisted("14000 h", &[Opening::MACHINE]));
    assert_eq!(counts(&rig), (1, 1));
    assert!(held(
        &rig,
        "the job: open: hours of the machine, provisional: 14000 h was insisted on; typed alike once more it holds"
    ));
    assert!(held(&rig, provisional), "{:?}", rig.standing().holds_in_words());
    let told = asfound::domain::telling::of_entry(&rig.inspection, rig.last());
    assert_eq!(told, "hours of the machine 14000 h, before: 24000 h, insisted: machine hours");
    rig.take(insisted("14000 h", &[]));
    assert_eq!(counts(&rig).1, 0, "the same again, asked nothing");
    assert!(!held(&rig, "provisional"), "{:?}", rig.standing().holds_in_words());
    // hours of its own need no counter, unless they are doubted themselves
    rig.take(insisted("14000 h", &[Opening::MACHINE]));
    let own = |doubts: Vec<String>| Opening {
        part_hours: [("bush.ts".to_owned(), figure("13000 h"))].into(),
        doubts,
        ..Opening::default()
    };
    rig.take(Act::Opening(Box::new(own(Vec::new()))));
    assert_eq!(counts(&rig).1, 0);
    rig.take(Act::Opening(Box::new(own(vec!["bush.ts".to_owned()]))));
    assert_eq!(counts(&rig).1, 1);
}

/// What a part has run is not told by a counter that was renewed, in this record and in the next.
#[test]
fn a_new_counter_tells_no_hours_of_parts() {
    let of_bush = |rig: &Rig| hours::of_part(&rig.inspection, "bush.ts").map(|hours| hours.to_string());
    let mut rig = wearing("12000 h");
    assert_eq!(of_bush(&rig).as_deref(), Some("24000"));
    let doubts = vec![Opening::NEW_COUNTER.to_owned()];
    rig.take(Act::Opening(Box::new(Opening { machine_hours: Some(figure("900 h")), doubts, ..Opening::default() })));
    assert_eq!(of_bush(&rig), None);
    let held = rig.standing().holds_in_words();
    assert!(held.iter().any(|words| words.contains("bush.ts: open: no forecast: the hours of the part")), "{held:?}");
    let carried = hours::carried_parts(&[&rig.inspection]);
    assert_eq!(carried["bush.ts"].doubts, ["hours"]);
    assert!(hours::known_of(&carried, figure("1500 h"), None).is_empty(), "nothing that is offered as known");
    // typed, they run on from here
    let part_hours = [("bush.ts".to_owned(), figure("25000 h"))].into();
    rig.take(Act::Opening(Box::new(Opening { part_hours, ..Opening::default() })));
    assert_eq!(of_bush(&rig).as_deref(), Some("25000"));
    let carried = hours::carried_parts(&[&rig.inspection]);
    let known = hours::known_of(&carried, figure("1500 h"), Some(figure("900 h")));
    assert_eq!(known["bush.ts"].to_string(), "25600");
    let renewed = hours::known_of(&carried, figure("100 h"), Some(figure("900 h")));
    assert_eq!(renewed["bush.ts"].to_string(), "25000", "as at the last opening");
}

#[test]
fn a_shorter_interval_that_keeps_a_part_within_is_a_supervisors() {
    let mut rig = wearing("12000 h");
    let plan = |hours: &str, supervisor: Option<&str>| Act::Plan {
        hours: Some(figure(hours)),
        date: None,
        supervisor: supervisor.map(id),
        reason: "the maker cannot deliver".into(),
    };
    assert_eq!(rig.refused(plan("24010 h", None)), "NoSupervisor");
    assert_eq!(rig.refused(plan("24010 h", Some("fitter-c"))), "NoSupervisor");
    let later = |hours: &str| Opening { next_hours: Some(figure(hours)), ..Opening::default() };
    assert_eq!(rig.refused(Act::Opening(Box::new(later("24010 h")))), "NoSupervisor", "by no other door either");
    assert_eq!(rig.refused(plan("40000 h", None)), "taken", "later is anybody's");
    rig.take(plan("24010 h", Some("supervisor-b")));
    assert_eq!(rig.standing().counts.claimed, 1);
    let claimed = rig.last().number;
    assert_eq!(rig.verdict("bush.ts"), "replace [new part to check]", "nobody has signed for it");
    let standing = rig.standing();
    assert_eq!(standing.part("bush.ts").unwrap().claimed_not_needed, Some(claimed));
    let reasons = standing.part("bush.ts").unwrap().reasons.join("; ");
    assert!(reasons.contains(&format!("only claimed settled, entry {claimed}")), "{reasons}");
    rig.leave_rest().sign(Signing::Decisions, &[]);
    let sign = rig.last().number;
    rig.by("supervisor-b").take(Act::Countersign { sign, chain: String::new() });
    assert_eq!(rig.standing().counts.claimed, 0);
    assert!(!rig.verdict("bush.ts").contains("replace"), "{}", rig.verdict("bush.ts"));
}

#[test]
fn the_history_of_a_part_replaced_and_not_measured_ends_with_it() {
    let mut rig = wearing("12000 h");
    let kept = |rig: &Rig| history_after(rig.inspection.head().history.clone(), &rig.inspection).len();
    assert_eq!(kept(&rig), 5, "the one before, the float, and the clearance toward either side");
    rig.sign(Signing::Decisions, &[]).take(fitted("bush.ts", "new-1"));
    assert_eq!(kept(&rig), 2, "the float alone, toward either side");
    rig.lifts("bush.ts/as-left", ["0.180"; 3], ["0.182"; 3]);
    assert!(history_after(Vec::new(), &rig.inspection).iter().any(|past| past.as_left));
    assert!(kept(&rig) > 5, "measured as left, all of it stays and the line starts there");
}

/// The same wear on a bush and a shaft whose numbers the records know.
fn numbered(up: &str) -> Rig {
    let known = |serial: &str| Fitted {
        serial: Some(serial.into()),
        hours: figure("0 h"),
        machine: figure("0 h"),
        doubts: Vec::new(),
    };
    let parts = [("bush.ts".to_owned(), known("B 1")), ("shaft".to_owned(), known("S-1"))].into();
    let mut rig = Rig::with(Head { history: vec![past("12000 h")], parts, ..head() });
    rig.covers_off().take(Act::NotApplicable { step: "bush.ts/soak".into(), point: None, reason: "clean".into() });
    rig.lifts("bush.ts/clearance", ["0.180"; 3], [up; 3]);
    rig
}

fn found(part: &str, serial: &str) -> Act {
    let fitted = Fitted {
        serial: Some(serial.into()),
        hours: figure("24000 h"),
        machine: figure("24000 h"),
        doubts: Vec::new(),
    };
    Act::PartFitted { part: part.into(), fitted, replaces: Replaces::No }
}

/// Neither the piece's own history nor that of a pair with it.
#[test]
fn of_a_piece_found_with_another_number_nothing_is_carried_over() {
    let clearance = Characteristic::parse("bush.ts.clearance").unwrap();
    let seen = |rig: &Rig| rig.inspection.history_of(clearance).count();
    for (part, same, another) in [("bush.ts", "b1", "B 2"), ("shaft", "S-1", "S-2")] {
        let mut rig = numbered("0.220");
        rig.take(found(part, same));
        assert_eq!((rig.verdict("bush.ts").as_str(), seen(&rig)), ("replace [new part to check]", 1), "{part}");
        rig.take(found(part, another));
        assert_eq!((rig.verdict("bush.ts").as_str(), seen(&rig)), ("reuse []", 0), "{part}");
        let standing = rig.standing();
        let judged = standing.of_step("bush.ts/clearance").next().unwrap();
        assert_eq!(judged.last, None);
        let Some(Outlook::None(why)) = &judged.outlook else { panic!("{:?}", judged.outlook) };
        assert!(why.starts_with(part) && why.contains("another number"), "{why}");
        let next = history_after(rig.inspection.head().history.clone(), &rig.inspection);
        assert!(next.iter().all(|past| past.inspection == rig.inspection.head().id), "nor at the next opening");
        assert!(next.iter().any(|past| past.characteristic == clearance), "which begins with today's");
    }
}

#[test]
fn the_history_of_a_pair_ends_with_either_of_the_two() {
    let clearance = Characteristic::parse("bush.ts.clearance").unwrap();
    let mut rig = numbered("0.182");
    rig.sign(Signing::Decisions, &[]).take(fitted("shaft", "S-2"));
    let kept = |rig: &Rig| {
        let history = history_after(rig.inspection.head().history.clone(), &rig.inspection);
        history.into_iter().filter(|past| past.characteristic == clearance).collect::<Vec<_>>()
    };
    assert_eq!(kept(&rig), [], "the old journal is in every figure of it");
    rig.lifts("bush.ts/as-left", ["0.180"; 3], ["0.182"; 3]);
    let start = kept(&rig).into_iter().rfind(|past| past.as_left).unwrap();
    assert_eq!(start.hours, figure("24000 h"), "the bush has not become younger by it");
}

/// A used one brings its hours along: a line from none would be too flat.
#[test]
fn a_used_part_starts_at_the_hours_that_it_has() {
    let mut rig = numbered("0.220");
    let used =
        Fitted { serial: Some("B 7".into()), hours: figure("5000 h"), machine: figure("24000 h"), doubts: Vec::new() };
    let used = Act::PartFitted { part: "bush.ts".into(), fitted: used, replaces: Replaces::Yes };
    rig.sign(Signing::Decisions, &[]).take(used).lifts("bush.ts/as-left", ["0.180"; 3], ["0.182"; 3]);
    let history = history_after(Vec::new(), &rig.inspection);
    assert!(history.iter().any(|past| past.as_left && past.hours == figure("5000 h")), "{history:?}");
}

#[test]
fn no_part_has_hours_below_nothing() {
    for (hours, machine) in [("-1 h", "24000 h"), ("0 h", "-24000 h")] {
        let fitted =
            Fitted { serial: Some("B 7".into()), hours: figure(hours), machine: figure(machine), doubts: Vec::new() };
        for replaces in [Replaces::Yes, Replaces::No] {
            let act = Act::PartFitted { part: "bush.ts".into(), fitted: fitted.clone(), replaces };
            assert_eq!(Rig::open().refused(act), "NotGiven", "{hours} at {machine}");
        }
    }
}
