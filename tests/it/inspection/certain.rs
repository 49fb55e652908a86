//! What is certain of some places is not wiped away by what is not known of others, and what nobody knows is not green.

use asfound::domain::characteristic::Characteristic;
use asfound::domain::entry::Act;
use asfound::domain::gate;
use asfound::domain::inspection::Head;
use asfound::domain::judge::{Condition, Reach};
use asfound::domain::review::{Kept, Review};
use asfound::domain::standing::Outcome;
use asfound::domain::verdict::Disposition;

use crate::content::answers::three;
use crate::rig::{Rig, conceded, finding, head, id, sheet};

const CLEARANCE: &str = "bush.ts/clearance";

fn of(name: &str) -> Characteristic {
    Characteristic::parse(name).unwrap()
}

fn washed() -> Rig {
    let mut rig = Rig::open();
    rig.take(Act::NotApplicable { step: "bush.ts/soak".into(), point: None, reason: "clean already".into() });
    rig
}

fn first_place(rig: &mut Rig, up: &str) {
    for repeat in 1..=3 {
        rig.read(CLEARANCE, &format!("outer 0 / {repeat} / down"), "0.020");
        rig.read(CLEARANCE, &format!("outer 0 / {repeat} / up"), up);
    }
}

fn accepted(name: &str, as_left: bool) -> Act {
    let (supervisor, reason) = (id("supervisor-b"), "as the owner wishes".to_owned());
    Act::Unjudged { characteristic: of(name), as_left, supervisor, reason }
}

fn outcome(rig: &Rig, condition: Condition) -> Outcome {
    rig.standing().characteristic(of("bush.ts.clearance"), condition).unwrap().outcome.clone()
}

#[test]
fn a_void_place_wipes_no_other_one_that_is_past_its_limit() {
    let mut rig = washed();
    // repeats of the other place 0.010 mm apart, more than two divisions
    rig.lifts(CLEARANCE, ["0.250"; 3], ["0.180", "0.180", "0.190"]);
    assert_eq!(rig.verdict("bush.ts"), "replace [open, new part to check]");
    let standing = rig.standing();
    let part = standing.part("bush.ts").unwrap();
    assert!(part.reasons.iter().any(|why| why.contains("0.23 mm at outer 0: past limit")), "{:?}", part.reasons);
    // nobody but a supervisor makes it milder
    let overrule = |by: &str| Act::Overrule {
        part: "bush.ts".into(),
        to: Disposition::Reuse,
        supervisor: id(by),
        reason: "it ran well".into(),
    };
    assert_eq!(rig.refused(overrule("fitter-a")), "NoSupervisor");
    // accepting the rest unjudged fills what has no figure, and hides none
    rig.supervised(accepted("bush.ts.clearance", false));
    assert_eq!(rig.verdict("bush.ts"), "replace [new part to check]");
    assert!(matches!(outcome(&rig, Condition::AsFound), Outcome::Past(_, None)));
}

/// Which repeat is right nobody knows; their spread holds the place, and makes no figure greener than their mean. Limits 0.13
/// and 0.22, alert 0.21.
#[test]
fn repeats_too_far_apart_lead_to_what_their_mean_leads_to_beside_the_hold_for_their_spread() {
    for (ups, verdict, told) in [
        (["0.250", "0.260", "0.250"], "replace [open, new part to check]", "0.2333 mm at outer 0: past limit"),
        // one of them is not past it
        (["0.230", "0.250", "0.270"], "replace [open, new part to check]", "0.23 mm at outer 0: past limit"),
        (["0.120", "0.130", "0.120"], "replace [open, new part to check]", "0.1033 mm at outer 0: past limit"),
        (["0.231", "0.237", "0.231"], "watch [open]", "0.213 mm at outer 0: alert"),
        (["0.174", "0.194", "0.184"], "reuse [open]", ""),
    ] {
        let mut rig = washed();
        rig.lifts(CLEARANCE, ups, ["0.180"; 3]);
        assert_eq!(rig.verdict("bush.ts"), verdict, "{ups:?}");
        let reasons = rig.standing().part("bush.ts").unwrap().reasons.join("; ");
        assert!(reasons.contains(told), "{reasons}");
        let held = rig.standing().holds_in_words().join("; ");
        assert!(held.contains("strike all and retake"), "{held}");
        // one more repeat is for what is too close to call
        let more = Act::Repeat { step: CLEARANCE.into(), place: "outer 0".into() };
        assert_eq!(rig.refused(more), "NotUndecided");
        // whoever accepts the spread makes none of them smaller
        let without = verdict.replace("[open, ", "[").replace("[open]", "[]");
        rig.supervised(accepted("bush.ts.clearance", false));
        assert_eq!(rig.verdict("bush.ts"), without, "{ups:?}");
    }
}

/// It is said with the last of them, whatever is still to be taken elsewhere.
#[test]
fn the_mean_of_repeats_too_far_apart_is_out_of_limit_at_once() {
    let mut rig = washed();
    for (repeat, up) in (1..).zip(["0.230", "0.250", "0.270"]) {
        rig.read(CLEARANCE, &format!("outer 0 / {repeat} / down"), "0.020");
        assert_eq!(rig.verdict("bush.ts"), "reuse [open]");
        rig.read(CLEARANCE, &format!("outer 0 / {repeat} / up"), up);
    }
    assert!(rig.verdict("bush.ts").starts_with("replace [open"), "{}", rig.verdict("bush.ts"));
    assert_eq!(rig.standing().to_order(&rig.inspection).count(), 1);
}

#[test]
fn what_the_mean_of_repeats_too_far_apart_is_past_obliges_what_the_limit_obliges() {
    let mut head = head();
    let step = head.checklist.steps.iter_mut().find(|step| step.id == CLEARANCE).unwrap();
    step.judges[0].obliges = vec!["shaft/journal".into()];
    let mut rig = Rig::with(head);
    rig.covers_off().lifts(CLEARANCE, ["0.230", "0.250", "0.270"], ["0.180"; 3]);
    let held = rig.standing().holds_in_words().join("; ");
    assert!(
        held.contains("clearance obliges: the shaft / journal") && held.contains("strike all and retake"),
        "{held}"
    );
}

/// A lift turned the wrong way round, as a record from elsewhere may have it, is none; the other places are.
#[test]
fn a_lift_that_is_none_hides_no_other_place() {
    let mut rig = washed();
    rig.lifts(CLEARANCE, ["0.250"; 3], ["0.180"; 3]);
    let last = rig.last().clone();
    rig.take(Act::Strike { entry: last.number, reason: "misread".into() });
    let Act::Reading { step, place, gauge, doubts, .. } = last.act.clone() else { panic!("{last:?}") };
    let (typed, taken) = ("0.010".to_owned(), crate::rig::figure("0.010 mm"));
    let act = Act::Reading { step, place, typed, taken, gauge, doubts };
    let number = rig.last().number + 1;
    drop(asfound::domain::apply::apply(&mut rig.inspection, asfound::domain::entry::Entry { number, act, ..last }));
    assert_eq!(rig.verdict("bush.ts"), "replace [open, new part to check]", "{:?}", outcome(&rig, Condition::AsFound));
}

/// Too close to call is not judged, nor is what is too far apart: the counts say so as the words do.
#[test]
fn what_is_undecided_or_apart_is_counted_as_open() {
    for ups in [["0.238"; 3], ["0.240", "0.226", "0.240"]] {
        let mut rig = washed();
        rig.lifts(CLEARANCE, ups, ["0.180"; 3]);
        rig.leave_rest();
        let standing = rig.standing();
        let (all, open) = (standing.counts.characteristics, standing.counts.characteristics - 1);
        assert_eq!((standing.counts.judged, standing.part("bush.ts").unwrap().judged), (1, (0, 1)), "{ups:?}");
        let review = Review::of(&rig.inspection, &standing, &Kept::default());
        assert_eq!(review.lasts.text, format!("Not known: {open} of {all} characteristics are open."), "{ups:?}");
    }
}

#[test]
fn a_step_skipped_behind_a_place_past_its_limit_hides_it_not() {
    let mut rig = washed();
    first_place(&mut rig, "0.250");
    rig.take(Act::Skip { step: CLEARANCE.into(), place: None, reason: "no time, by order".into() });
    assert_eq!(rig.verdict("bush.ts"), "replace [open, new part to check]");
    let mut away = washed();
    first_place(&mut away, "0.250");
    away.by("supervisor-b").take(Act::Resume);
    away.take(Act::NotApplicable { step: CLEARANCE.into(), point: None, reason: "none here".into() });
    assert_eq!(away.verdict("bush.ts"), "replace [new part to check]");
}

#[test]
fn what_is_accepted_unjudged_is_not_called_within() {
    let mut rig = washed();
    rig.supervised(accepted("bush.ts.clearance", false));
    let standing = rig.standing();
    let part = standing.part("bush.ts").unwrap();
    assert_eq!((rig.verdict("bush.ts").as_str(), part.is_within(), part.unjudged), ("reuse []", false, 1));
    assert_eq!(part.told(), ('?', "accepted unjudged, 1 of 1; 0 of 1 judged".to_owned()));
}

/// The sheet has levels for it, so the machine has it: nobody knows it, whoever says that it is not here.
#[test]
fn what_a_supervisor_marks_away_is_not_called_within() {
    let mut rig = washed();
    rig.by("supervisor-b").take(Act::Resume);
    rig.take(Act::NotApplicable { step: CLEARANCE.into(), point: None, reason: "none on this one".into() });
    let standing = rig.standing();
    let part = standing.part("bush.ts").unwrap();
    assert!(!part.is_within() && part.told().1.starts_with("accepted unjudged"), "{:?}", part.told());
    // what the first page counts is what its sentence says
    let review = Review::of(&rig.inspection, &standing, &Kept::default());
    let counted = review.unusual.iter().find(|count| count.name == "accepted unjudged").unwrap();
    assert_eq!((counted.number, counted.which.len()), (1, 1), "{:?}", counted.which);
}

#[test]
fn a_figure_insisted_on_is_accepted_by_a_supervisor_and_stays_no_green() {
    let mut rig = washed();
    // half a division of the dial, insisted on
    for (place, repeats) in [("outer 0", 3), ("inner 0", 3)] {
        for repeat in 1..=repeats {
            rig.read(CLEARANCE, &format!("{place} / {repeat} / down"), "0.020");
            let up = Rig::typed(CLEARANCE, &format!("{place} / {repeat} / up"), "0.1805", "D2", &["digits"]);
            let decision = rig.ask(&up);
            rig.enter(decision);
        }
    }
    assert_eq!(rig.verdict("bush.ts"), "reuse [open]");
    rig.supervised(accepted("bush.ts.clearance", false));
    let standing = rig.standing();
    let part = standing.part("bush.ts").unwrap();
    assert_eq!((rig.verdict("bush.ts").as_str(), part.is_within()), ("reuse []", false));
    assert!(part.told().1.starts_with("accepted unjudged"), "{:?}", part.told());
    assert_eq!(standing.counts.provisional, 0);
    // what is insisted on behind that is not covered by it
    let is_reading = |entry: &&asfound::domain::entry::Entry| matches!(entry.act, Act::Reading { .. });
    let last = rig.inspection.standing_entries_of(CLEARANCE).rfind(is_reading).unwrap().number;
    rig.take(Act::Strike { entry: last, reason: "misread".into() });
    let again = Rig::typed(CLEARANCE, "inner 0 / 3 / up", "0.1805", "D2", &["digits"]);
    let decision = rig.ask(&again);
    rig.enter(decision);
    assert_eq!(rig.verdict("bush.ts"), "reuse [open]");
}

#[test]
fn an_alert_without_a_limit_is_watched_and_open() {
    let mut sheet = sheet();
    let levels = sheet.levels.get_mut(&of("bush.ts.clearance")).unwrap();
    levels.limit = None;
    let alerted = |outer: [&str; 3], inner: [&str; 3]| {
        let mut rig = Rig::with(Head { sheet: Some(sheet.clone()), ..head() });
        rig.covers_off();
        rig.take(Act::NotApplicable { step: "bush.ts/soak".into(), point: None, reason: "clean".into() });
        rig.lifts(CLEARANCE, outer, inner);
        rig
    };
    for inner in [["0.180"; 3], ["0.250"; 3]] {
        let rig = alerted(["0.250"; 3], inner);
        let outcome = outcome(&rig, Condition::AsFound);
        assert!(matches!(&outcome, Outcome::Past(_, Some(why)) if why.contains("no limit")), "{outcome:?}");
        assert!(rig.verdict("bush.ts").starts_with("watch [open"), "{}", rig.verdict("bush.ts"));
    }
    let rig = alerted(["0.180"; 3], ["0.180"; 3]);
    assert!(matches!(outcome(&rig, Condition::AsFound), Outcome::Open(_)), "no limit, no green");
}

#[test]
fn outside_the_new_range_is_said_at_the_first_place_as_left() {
    let mut rig = washed();
    rig.lifts(CLEARANCE, ["0.180"; 3], ["0.180"; 3]);
    rig.sign(asfound::domain::checklist::Signing::Decisions, &[]);
    for repeat in 1..=3 {
        rig.read("bush.ts/as-left", &format!("outer 0 / {repeat} / down"), "0.020");
        rig.read("bush.ts/as-left", &format!("outer 0 / {repeat} / up"), "0.215");
    }
    let outcome = outcome(&rig, Condition::AsLeft);
    assert!(
        matches!(&outcome, Outcome::Incomplete(Some(judgement)) if judgement.reached.reach == Reach::NotNew),
        "{outcome:?}"
    );
    assert!(rig.verdict("bush.ts").starts_with("rework [open"), "{}", rig.verdict("bush.ts"));
}

#[test]
fn nothing_makes_safe_but_its_points() {
    let mut rig = Rig::begun();
    let condemned = || Act::Condemned { part: "job".into(), reason: "no time".into() };
    assert_eq!(rig.refused(condemned()), "NoPiece");
    // of a record that has it all the same
    let last = rig.last().clone();
    let entry = asfound::domain::entry::Entry { number: last.number + 1, act: condemned(), ..last };
    drop(asfound::domain::apply::apply(&mut rig.inspection, entry));
    let step = rig.inspection.head().checklist.step("rotor/axial").unwrap().clone();
    let missing = gate::missing(&rig.inspection, &step, &rig.hand);
    assert!(missing.iter().any(|one| matches!(one, gate::Missing::Safety(_))), "{missing:?}");
}

/// One diameter more makes step, ovality and taper no smaller: the limit that is passed is told at the third figure, and no
/// strike of a sound one, nor leaving one out, takes it back.
#[test]
fn a_step_past_its_limit_is_told_before_its_set_is_whole_and_after_a_sound_reading_is_struck() {
    let mut rig = Rig::open();
    let step =
        |rig: &Rig| rig.standing().characteristic(of("shaft.ts.step"), Condition::AsFound).unwrap().outcome.clone();
    rig.read("shaft/journal", "unworn 1", "59.931").read("shaft/journal", "unworn 2", "59.931");
    rig.read("shaft/journal", "a 0", "59.910");
    assert_eq!(step(&rig), Outcome::Incomplete(None), "0.021 may still grow");
    rig.read("shaft/journal", "a 45", "59.909");
    let told = |outcome: &Outcome| matches!(outcome, Outcome::Incomplete(Some(one)) if one.value.spot == "a 45");
    assert!(told(&step(&rig)), "{:?}", step(&rig));
    assert!(rig.verdict("shaft").starts_with("watch [referred"), "{}", rig.verdict("shaft"));
    // struck, the sound one beside it takes nothing back
    let sound = rig.inspection.reading("shaft/journal", "a 0").unwrap().entry;
    rig.take(Act::Strike { entry: sound, reason: "slipped".into() });
    assert!(told(&step(&rig)), "{:?}", step(&rig));
    for place in ["a 90", "a 135", "b 0", "b 45", "b 90", "b 135"] {
        rig.read("shaft/journal", place, "59.918");
    }
    assert!(told(&step(&rig)), "{:?}", step(&rig));
    rig.take(Act::Skip { step: "shaft/journal".into(), place: Some("a 0".into()), reason: "cannot be reached".into() });
    assert!(matches!(step(&rig), Outcome::Past(_, Some(_))), "{:?}", step(&rig));
    assert!(rig.verdict("shaft").starts_with("watch [referred, open"), "{}", rig.verdict("shaft"));
}

/// The demonstration's worst land is replaced by its forecast: another land, struck or accepted unjudged, is not that land.
#[test]
fn what_the_forecast_leads_to_stands_while_a_sound_place_is_struck_or_accepted() {
    let demo = three().pop().unwrap();
    let mut rig = Rig::with(demo.head().clone());
    rig.inspection = demo;
    rig.at(&rig.last().at.to_string());
    let main = |rig: &Rig| {
        let standing = rig.standing();
        let to_order = standing.to_order(&rig.inspection).any(|one| one.part.id == "thrust.main");
        (rig.verdict("thrust.main"), to_order)
    };
    assert_eq!(main(&rig), ("replace [new part to check]".to_owned(), true));
    let first = rig.inspection.standing_entries().find(|entry| {
        matches!(&entry.act, Act::Reading { step, place, .. } if step == "thrust.main/lands" && place.starts_with("land 1"))
    });
    let entry = first.unwrap().number;
    rig.take(Act::Strike { entry, reason: "to be read again".into() });
    assert_eq!(main(&rig), ("replace [open, new part to check]".to_owned(), true), "the others stand");
    rig.supervised(accepted("thrust.main.ratio", false));
    assert_eq!(main(&rig), ("replace [new part to check]".to_owned(), true), "nobody's word makes land 3 longer");
}

#[test]
fn an_alert_stays_where_the_rest_is_struck_and_accepted_unjudged() {
    let mut rig = washed();
    // above the alert at 0.21, below the limit at 0.22
    rig.lifts(CLEARANCE, ["0.235"; 3], ["0.180"; 3]);
    assert_eq!(rig.verdict("bush.ts"), "watch []");
    let inner = rig.last().number;
    rig.take(Act::Strike { entry: inner, reason: "slipped".into() });
    rig.supervised(accepted("bush.ts.clearance", false));
    assert_eq!(rig.verdict("bush.ts"), "watch []", "{:?}", outcome(&rig, Condition::AsFound));
}

#[test]
fn watch_says_what_how_and_by_when() {
    let mut rig = Rig::open();
    rig.lifts("bush.ts/clearance", ["0.232", "0.232", "0.232"], ["0.232", "0.232", "0.232"]);
    let standing = rig.standing();
    let part = standing.part("bush.ts").unwrap();
    assert_eq!(part.verdict.disposition, Disposition::Watch);
    let watch = part.reasons.last().unwrap();
    assert_eq!(watch, "watch: measure clearance again, at the next opening, 36000 h, 1 May 2033");
}

/// What is past its limit does not run until the next opening, whether there is a forecast or none.
#[test]
fn what_is_past_its_limit_is_watched_before_it_runs_again() {
    let mut rig = washed();
    rig.journal(["59.931", "59.931", "59.909", "59.909", "59.909", "59.909", "59.909", "59.909", "59.909", "59.909"]);
    let told = |rig: &Rig| rig.standing().part("shaft").unwrap().reasons.join("; ");
    assert!(told(&rig).contains("past limit"), "{}", told(&rig));
    assert!(told(&rig).contains("before it runs again"), "{}", told(&rig));
    assert!(!told(&rig).contains("again, at the next opening"), "{}", told(&rig));
}

/// What somebody was asked about does not run until the next opening, nor by what is only claimed.
#[test]
fn what_was_referred_is_looked_at_before_it_runs_again_until_somebody_who_stands_for_it_lets_it_run() {
    let told = |rig: &Rig, part: &str| rig.standing().part(part).unwrap().reasons.join("; ");
    let mut rig = washed();
    rig.take(finding("dent", "small"));
    let asked = rig.last().number;
    assert!(told(&rig, "bush.ts").contains("before it runs again"), "{}", told(&rig, "bush.ts"));
    rig.take(conceded(asked));
    assert!(told(&rig, "bush.ts").contains("before it runs again"), "only claimed: {}", told(&rig, "bush.ts"));
    rig.supervised(conceded(asked));
    assert!(!told(&rig, "bush.ts").contains("before it runs again"), "{}", told(&rig, "bush.ts"));
}
