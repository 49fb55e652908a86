//! Verdicts: levels, touching, guard, holds, overruling, concessions, striking.

use crate::rig::{Rig, conceded, figure, finding, head, id};
use asfound::domain::characteristic::Characteristic;
use asfound::domain::checklist::Signing;
use asfound::domain::entry::{Act, Replaces};
use asfound::domain::judge::{Condition, Reach};
use asfound::domain::rotor::Fitted;
use asfound::domain::standing::{Outcome, hold_words};
use asfound::domain::verdict::{Consequence, Disposition};

fn of(name: &str) -> Characteristic {
    Characteristic::parse(name).unwrap()
}

fn reach(rig: &Rig, name: &str) -> Reach {
    rig.standing().characteristic(of(name), Condition::AsFound).unwrap().judgement().unwrap().reached.reach
}

/// All of the bush done, well within.
fn sound_bush() -> Rig {
    let mut rig = Rig::open();
    rig.take(Act::NotApplicable { step: "bush.ts/soak".into(), point: None, reason: "clean already".into() });
    rig.lifts("bush.ts/clearance", ["0.180"; 3], ["0.182"; 3]);
    rig
}

#[test]
fn step_wear_on_its_limit_has_reached_it_where_touching_counts() {
    // 59.931 - 59.909 is 0.022; doubles say 0.02199...
    let mut rig = Rig::open();
    rig.journal(["59.931", "59.931", "59.917", "59.915", "59.916", "59.918", "59.912", "59.909", "59.911", "59.913"]);
    assert_eq!(reach(&rig, "shaft.ts.step"), Reach::Limit);
    assert_eq!(rig.verdict("shaft"), "watch [referred]");
}

#[test]
fn a_journal_smaller_by_two_hundredths_goes_to_the_maker() {
    // common practice, no source: 0.02 mm or more
    let mut rig = Rig::with(head());
    let mut sheet = crate::rig::sheet();
    let levels = sheet.levels.get_mut(&of("shaft.ts.step")).unwrap();
    let bound = asfound::domain::sheet::Bound {
        amount: asfound::domain::sheet::Amount::Fixed(figure("0.02 mm")),
        touching: asfound::domain::sheet::Touching::Fails,
    };
    levels.alert = None;
    levels.limit = crate::rig::level(Some(bound), None, Consequence::Refer, asfound::domain::sheet::Rule::Simple);
    rig.inspection = asfound::domain::inspection::Inspection::new(asfound::domain::inspection::Head {
        sheet: Some(sheet),
        ..head()
    });
    rig.take(Act::Begin).make_safe();
    rig.take(Act::Skip { step: "rotor/axial".into(), place: None, reason: "seized".into() });
    rig.take(Act::Tick { step: "rotor/covers".into() });
    rig.journal(["55.00", "55.00", "54.98", "54.99", "54.99", "54.99", "54.99", "54.99", "54.99", "54.99"]);
    assert_eq!(rig.verdict("shaft"), "watch [referred]");
}

#[test]
fn places_are_never_averaged_and_the_worst_counts() {
    let mut rig = Rig::open();
    rig.lifts("bush.ts/clearance", ["0.180"; 3], ["0.238", "0.238", "0.240"]);
    assert_eq!(reach(&rig, "bush.ts.clearance"), Reach::Undecided);
    let standing = rig.standing();
    let judgement =
        standing.characteristic(of("bush.ts.clearance"), Condition::AsFound).unwrap().judgement().unwrap().clone();
    assert_eq!(judgement.value.spot, "inner 0");
    assert_eq!(judgement.value.value.as_fraction(), "82/375");
}

#[test]
fn past_the_limit_is_past_whatever_the_uncertainty_and_a_tight_bush_fails_too() {
    let mut loose = Rig::open();
    loose.lifts("bush.ts/clearance", ["0.180"; 3], ["0.241"; 3]);
    assert_eq!(reach(&loose, "bush.ts.clearance"), Reach::Limit);
    let mut tight = Rig::open();
    tight.lifts("bush.ts/clearance", ["0.180"; 3], ["0.148"; 3]);
    assert_eq!(reach(&tight, "bush.ts.clearance"), Reach::Limit);
    assert!(tight.verdict("bush.ts").starts_with("replace"), "{}", tight.verdict("bush.ts"));
}

#[test]
fn a_place_past_its_limit_is_said_before_the_set_is_complete() {
    let mut rig = Rig::open();
    for repeat in 1..=3 {
        rig.read("bush.ts/clearance", &format!("outer 0 / {repeat} / down"), "0.020");
        assert!(matches!(
            rig.standing().characteristic(of("bush.ts.clearance"), Condition::AsFound).unwrap().outcome,
            Outcome::Incomplete(None)
        ));
        rig.read("bush.ts/clearance", &format!("outer 0 / {repeat} / up"), "0.250");
    }
    assert_eq!(reach(&rig, "bush.ts.clearance"), Reach::Limit);
}

#[test]
fn repeats_more_than_two_divisions_apart_are_all_retaken() {
    let mut rig = Rig::open();
    rig.lifts("bush.ts/clearance", ["0.180", "0.180", "0.186"], ["0.182"; 3]);
    let standing = rig.standing();
    let outcome = &standing.characteristic(of("bush.ts.clearance"), Condition::AsFound).unwrap().outcome;
    assert!(matches!(outcome, Outcome::Open(why) if why.contains("retake")), "{outcome:?}");
    assert!(rig.verdict("bush.ts").contains("open"));
}

#[test]
fn no_limit_no_green() {
    let mut rig = Rig::with(asfound::domain::inspection::Head { sheet: None, ..head() });
    rig.make_safe();
    rig.read("rotor/axial", "axial / pushed", "0.020").read("rotor/axial", "axial / pulled", "0.210");
    assert!(rig.verdict("rotor").contains("open"));
    assert_eq!(rig.standing().counts.judged, 0);
    // levels typed in the evening judge the morning's readings
    let levels = crate::rig::sheet().levels[&of("float.axial")].clone();
    rig.take(Act::Level { characteristic: of("float.axial"), levels: Box::new(levels), doubts: vec![] });
    assert_eq!(rig.standing().counts.judged, 1);
}

#[test]
fn findings_carry_their_own_consequence_and_nothing_found_is_an_entry() {
    let mut rig = sound_bush();
    assert_eq!(rig.verdict("bush.ts"), "reuse []");
    rig.take(finding("soot", "thin"));
    assert_eq!(rig.verdict("bush.ts"), "reuse []");
    rig.take(finding("scoring", "light"));
    assert_eq!(rig.verdict("bush.ts"), "watch []");
    rig.take(finding("dent", "small"));
    assert_eq!(rig.verdict("bush.ts"), "watch [referred]");
    let dent = rig.last().number;
    rig.supervised(conceded(dent));
    assert_eq!(rig.verdict("bush.ts"), "watch []");
    rig.take(finding("scoring", "deep"));
    assert_eq!(rig.verdict("bush.ts"), "replace [new part to check]");
    rig.take(finding("odd", "odd"));
    assert_eq!(rig.verdict("bush.ts"), "replace [stop and call, new part to check]");
}

#[test]
fn overruling_is_free_toward_the_safer_side_and_needs_a_supervisor_the_other_way() {
    let mut rig = sound_bush();
    let overrule = |to, supervisor: &str| Act::Overrule {
        part: "bush.ts".into(),
        to,
        supervisor: id(supervisor),
        reason: "seen in the light".into(),
    };
    rig.take(overrule(Disposition::Replace, "fitter-a"));
    assert_eq!(rig.verdict("bush.ts"), "replace [new part to check]");
    rig.take(finding("scoring", "deep"));
    assert_eq!(rig.refused(overrule(Disposition::Watch, "fitter-a")), "NoSupervisor");
    rig.take(overrule(Disposition::Watch, "supervisor-b"));
    // typed by the fitter on the supervisor's behalf: claimed until that person signs, and no hold goes for it
    assert_eq!(rig.verdict("bush.ts"), "watch [new part to check]");
    assert_eq!(rig.standing().counts.claimed, 1);
    let standing = rig.standing();
    assert_eq!(standing.part("bush.ts").unwrap().computed.disposition, Disposition::Replace);
    rig.take(finding("crack", "seen"));
    assert_eq!(rig.refused(overrule(Disposition::Watch, "supervisor-b")), "NeverForCracks");
}

#[test]
fn a_concession_stands_beside_the_computed_verdict() {
    let mut rig = Rig::open();
    rig.journal(["59.931", "59.931", "59.917", "59.915", "59.916", "59.918", "59.912", "59.909", "59.911", "59.913"]);
    rig.supervised(Act::Concession {
        part: "shaft".into(),
        about: "shaft.ts.step".into(),
        who: "the maker".into(),
        document: "letter 7 (invented)".into(),
        conditions: "measured again".into(),
        until: "the next opening".into(),
        allows: Consequence::Watch,
    });
    assert_eq!(rig.verdict("shaft"), "watch []");
    assert_eq!(reach(&rig, "shaft.ts.step"), Reach::Limit);
}

#[test]
fn condemned_not_measured_empties_what_is_open() {
    let mut rig = Rig::open();
    assert!(rig.verdict("bush.ts").contains("open"));
    rig.take(Act::Condemned { part: "bush.ts".into(), reason: "broken in two".into() });
    assert_eq!(rig.verdict("bush.ts"), "replace [new part to check]");
}

#[test]
fn striking_without_retaking_leaves_the_place_open() {
    let mut rig = sound_bush();
    let reading = rig.inspection.reading("bush.ts/clearance", "inner 0 / 2 / up").unwrap().entry;
    rig.take(Act::Strike { entry: reading, reason: "slipped".into() });
    assert_eq!(rig.verdict("bush.ts"), "reuse [open]");
    rig.read("bush.ts/clearance", "inner 0 / 2 / up", "0.182");
    assert_eq!(rig.verdict("bush.ts"), "reuse []");
}

#[test]
fn accepted_unjudged_is_its_own_word() {
    let mut rig = Rig::open();
    let act = |supervisor: &str| Act::Unjudged {
        characteristic: of("shaft.ts.step"),
        as_left: false,
        supervisor: id(supervisor),
        reason: "no micrometer on board".into(),
    };
    assert_eq!(rig.refused(act("fitter-c")), "NoSupervisor");
    let mut claimed = Rig::open();
    claimed.take(act("supervisor-b"));
    assert_eq!(claimed.verdict("shaft"), "reuse [open]");
    rig.supervised(act("supervisor-b"));
    assert_eq!(rig.verdict("shaft"), "reuse []");
    assert_eq!(rig.standing().counts.unjudged, 1);
    assert_eq!(rig.standing().part("shaft").unwrap().judged, (0, 1));
}

#[test]
fn what_was_accepted_unjudged_and_measured_after_all_is_judged() {
    let mut rig = Rig::open();
    rig.take(Act::NotApplicable { step: "bush.ts/soak".into(), point: None, reason: "clean".into() });
    let accepted = |as_left| Act::Unjudged {
        characteristic: of("bush.ts.clearance"),
        as_left,
        supervisor: id("supervisor-b"),
        reason: "no dial on board".into(),
    };
    rig.take(accepted(false));
    let outcome = |rig: &Rig, condition| {
        rig.standing().characteristic(of("bush.ts.clearance"), condition).unwrap().outcome.clone()
    };
    assert!(matches!(outcome(&rig, Condition::AsFound), Outcome::Unjudged { .. }));
    assert_eq!(outcome(&rig, Condition::AsLeft), Outcome::NotTaken, "as found says nothing of as left");
    rig.lifts("bush.ts/clearance", ["0.180"; 3], ["0.250"; 3]);
    assert_eq!(reach(&rig, "bush.ts.clearance"), Reach::Limit);
    assert_eq!(rig.verdict("bush.ts"), "replace [new part to check]");
    rig.take(accepted(true));
    assert!(matches!(outcome(&rig, Condition::AsLeft), Outcome::Unjudged { .. }));
}

#[test]
fn a_new_part_is_judged_by_the_new_range() {
    let mut rig = Rig::open();
    rig.take(Act::NotApplicable { step: "bush.ts/soak".into(), point: None, reason: "clean".into() });
    rig.lifts("bush.ts/clearance", ["0.180"; 3], ["0.250"; 3]);
    rig.sign(Signing::Decisions, &[]);
    assert_eq!(rig.verdict("bush.ts"), "replace [new part to check]");
    let doubts = Vec::new();
    rig.take(Act::PartFitted {
        part: "bush.ts".into(),
        fitted: Fitted { serial: Some("new-1".into()), hours: figure("0 h"), machine: figure("24000 h"), doubts },
        replaces: Replaces::Yes,
    });
    assert_eq!(rig.verdict("bush.ts"), "replace [new part to check]");
    let mut outside = rig.clone();
    outside.lifts("bush.ts/as-left", ["0.200"; 3], ["0.172"; 3]);
    assert!(outside.verdict("bush.ts").contains("open"), "{}", outside.verdict("bush.ts"));
    rig.lifts("bush.ts/as-left", ["0.180"; 3], ["0.182"; 3]);
    assert_eq!(rig.verdict("bush.ts"), "replace []");
    // the part just measured starts the next history at zero hours
    let past = asfound::domain::standing::past_of(&rig.inspection);
    let left: Vec<_> = past.iter().filter(|past| past.as_left).collect();
    assert_eq!(left[0].hours.to_string(), "0 h");
    assert_eq!(left[0].value.to_string(), "0.162");
}

#[test]
fn answers_given_later_are_holds_of_the_job_until_then() {
    let mut without = head();
    without.opened.letters = None;
    let mut rig = Rig::with(without);
    assert_eq!(rig.standing().job.len(), 1);
    let letters = asfound::domain::inspection::Opening { letters: Some("none in force".into()), ..Default::default() };
    rig.take(Act::Opening(Box::new(letters)));
    assert!(rig.standing().job.is_empty());
}

#[test]
fn past_a_limit_that_leads_to_nothing_is_never_good_and_one_that_leads_to_a_call_stops_the_work() {
    let limited = |leads_to| {
        let bound = asfound::domain::sheet::Bound {
            amount: asfound::domain::sheet::Amount::Fixed(figure("0.220 mm")),
            touching: asfound::domain::sheet::Touching::Passes,
        };
        let mut sheet = crate::rig::sheet();
        let levels = sheet.levels.get_mut(&of("bush.ts.clearance")).unwrap();
        levels.alert = None;
        levels.limit = crate::rig::level(Some(bound), None, leads_to, asfound::domain::sheet::Rule::Simple);
        let one =
            Act::Level { characteristic: of("bush.ts.clearance"), levels: Box::new(levels.clone()), doubts: vec![] };
        (asfound::domain::inspection::Head { sheet: Some(sheet), ..head() }, one)
    };
    let verdict = |leads_to| {
        let mut rig = Rig::with(limited(leads_to).0);
        rig.covers_off().take(Act::NotApplicable { step: "bush.ts/soak".into(), point: None, reason: "clean".into() });
        rig.lifts("bush.ts/clearance", ["0.180"; 3], ["0.262"; 3]);
        rig.verdict("bush.ts")
    };
    // an older record may hold such a sheet: it is read, and watched at least
    assert_eq!(verdict(Consequence::Nothing), "watch []");
    assert_eq!(verdict(Consequence::Call), "reuse [stop and call]");
    assert_eq!(Rig::begun().refused(limited(Consequence::Nothing).1), "BadLevel");
    assert_eq!(Rig::begun().by("supervisor-b").refused(limited(Consequence::Watch).1), "taken");
}

#[test]
fn what_was_never_judged_or_done_is_not_called_reuse() {
    let word = |rig: &Rig, part: &str| rig.standing().part(part).unwrap().in_short();
    let rig = Rig::open();
    // a stretch of the job leaves nothing to reuse
    assert_eq!(word(&rig, "job"), ('.', "to do"));
    let mut sound = sound_bush();
    assert_eq!(word(&sound, "bush.ts"), ('+', "reuse"));
    sound.journal(["59.931", "59.931", "59.93", "59.93", "59.93", "59.93", "59.93", "59.93", "59.93", "59.93"]);
    assert_eq!(word(&sound, "shaft"), ('+', "reuse"));
    let mut hurried = sound.clone();
    hurried.leave_rest();
    assert_eq!(word(&hurried, "job"), ('?', "held"), "why it wore was left out");
    sound.take(Act::Note { step: Some("job/cause".into()), text: "dirty oil".into() });
    sound.leave_rest().sign(Signing::Decisions, &[]).leave_rest();
    assert_eq!(word(&sound, "job"), ('.', "to do"), "the close is not signed");
    let mut stripped = Rig::with(asfound::domain::inspection::Head {
        opened: asfound::domain::inspection::Opening {
            arrives: Some(asfound::domain::inspection::Arrives::Stripped),
            ..head().opened
        },
        ..head()
    });
    stripped.make_safe();
    assert_eq!(word(&stripped, "rotor"), ('.', "not judged"));
}

#[test]
fn limits_typed_twice_by_one_person_were_entered_once() {
    let words = |names: &[&str]| {
        let mut sheet = crate::rig::sheet();
        sheet.entered_by = names.iter().map(|name| (*name).to_owned()).collect();
        let mut people = head().people;
        people.iter_mut().for_each(|person| person.name = person.name.replace('-', " "));
        sheet.entered_words(&people)
    };
    assert!(words(&["fitter-a", "Fitter-A "]).contains("entered by one person only, fitter a"));
    assert!(words(&["fitter-a", "supervisor-b"]).contains("entered by fitter a and again by supervisor b"));
    assert!(words(&["fitter-a", "Fitter A"]).contains("entered by one person only, fitter a"));
    assert!(words(&["somebody else"]).contains("entered by one person only, somebody else"));
}

/// A level typed at the bench nobody has typed a second time, whoever entered the sheet; of the others it says what was true.
#[test]
fn a_level_typed_at_the_bench_was_entered_once() {
    let one = Characteristic::parse("bush.ts.clearance").unwrap();
    let mut levels = crate::rig::sheet().levels[&one].clone();
    levels.part_number = Some("INV-1".into());
    let typed = Act::Level { characteristic: one, levels: Box::new(levels), doubts: Vec::new() };
    let twice = "entered by fitter-a and again by supervisor-b";
    for (names, said, after) in [
        (
            &["fitter-a", "supervisor-b"][..],
            twice,
            "; changed since by fitter-a and entered once: clearance (bush.ts.clearance)",
        ),
        // whoever alone entered all of it has entered this one too
        (&["fitter-a"], "entered by one person only, fitter-a", ""),
        (
            &["fitter-c"],
            "entered by one person only, fitter-c",
            "; changed since by fitter-a and entered once: clearance (bush.ts.clearance)",
        ),
        (&[], "entered by nobody named", ""),
    ] {
        let mut head = head();
        let sheet = head.sheet.as_mut().unwrap();
        sheet.entered_by = names.iter().map(|name| (*name).to_owned()).collect();
        let mut rig = Rig::with(head);
        rig.make_safe().take(typed.clone());
        assert_eq!(rig.last().by.as_str(), "fitter-a");
        let words = |rig: &Rig| rig.inspection.sheet().unwrap().entered_words(&[]);
        let twice = |rig: &Rig| rig.inspection.sheet().unwrap().is_entered_twice(&[]);
        assert!(words(&rig).ends_with(&format!("{said}{after}")), "{}", words(&rig));
        assert!(!twice(&rig), "{names:?}");
        let number = rig.last().number;
        rig.take(Act::Strike { entry: number, reason: "wrong page".into() });
        assert!(words(&rig).ends_with(said), "{}", words(&rig));
        assert_eq!(twice(&rig), names.len() > 1);
    }
}

#[test]
fn what_was_struck_and_not_retaken_is_named_as_the_reason() {
    let mut rig = Rig::open();
    rig.lifts("bush.ts/clearance", ["0.180", "0.180", "0.180"], ["0.180", "0.180", "0.180"]);
    let number = rig.last().number;
    rig.take(Act::Strike { entry: number, reason: "slipped".into() });
    let standing = rig.standing();
    let held: Vec<_> = standing.part("bush.ts").unwrap().verdict.holds.iter().map(hold_words).collect();
    assert!(held.iter().any(|hold| hold.ends_with("struck and not retaken")), "{held:?}");
}
