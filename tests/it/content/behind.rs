//! What comes up late, or behind the decisions: dressed blades tested again, a cause asked, hands in a machine whose locks are
//! off, a new part that does not fit. Common practice, no source.

use asfound::domain::apply::apply;
use asfound::domain::checklist::Takes;
use asfound::domain::entry::{Act, Entry, FindingMade, Replaces, TimerMark};
use asfound::domain::inspection::Opening;
use asfound::domain::phase::Phase;
use asfound::domain::progress::{self, StepState};
use asfound::domain::request::{Decision, Request};
use asfound::domain::rotor::Fitted;
use asfound::domain::verdict::Consequence;

use super::again::done;
use super::answers::head;
use super::holds::{held, not_held, safe, up_to};
use super::new_parts::{confirm, fit, measure, signed};
use super::steps::{checklist, step};
use crate::rig::{Rig, figure};

pub(super) fn found(part: &str, at: &str, kind: &str, grade: &str) -> Act {
    let (part, step, kind, grade) = (part.to_owned(), at.to_owned(), kind.to_owned(), grade.to_owned());
    Act::Finding(FindingMade {
        part,
        step,
        kind,
        grade,
        note: Some("on the bench".to_owned()),
        ..FindingMade::default()
    })
}

fn state(rig: &Rig, id: &str) -> StepState {
    progress::state(&rig.inspection, rig.inspection.head().checklist.step(id).unwrap())
}

/// Entered as it is, whatever else would have to be done first.
fn enter(rig: &mut Rig, act: Act) -> u32 {
    let last = rig.last().clone();
    let number = last.number + 1;
    drop(apply(&mut rig.inspection, Entry { number, act, ..last }));
    number
}

#[track_caller]
pub(super) fn shut(rig: &Rig, act: Act) -> String {
    let Decision::Refuse(refusal) = rig.may(act) else { panic!("it is open") };
    refusal.to_string()
}

pub(super) fn timer(step: &str, mark: TimerMark) -> Act {
    Act::Timer { step: step.to_owned(), mark }
}

/// An impeller degreased for so many minutes, dry and as warm as dye wants it.
pub(super) fn degreased(minutes: i64) -> Rig {
    let mut rig = safe();
    rig.hand.break_hours = 4000;
    up_to(&mut rig, "impeller/degrease");
    soak(&mut rig, "impeller/degrease", minutes);
    read(&mut rig, "impeller/penetrant-surface", "hub", "20");
    rig
}

/// In at once, out after so many minutes.
pub(super) fn soak(rig: &mut Rig, step: &str, minutes: i64) {
    rig.take(timer(step, TimerMark::Started));
    rig.hand.at = (rig.hand.at.moment() + chrono::Duration::minutes(minutes)).into();
    rig.take(timer(step, TimerMark::Ended));
}

pub(super) fn read(rig: &mut Rig, id: &str, place: &str, text: &str) {
    let (step, place, text) = (id.to_owned(), place.to_owned(), text.to_owned());
    let decision = rig.ask(&Request::Reading { step, place, text, gauge: None, insisted: vec![] });
    rig.enter(decision);
}

/// Each stage waits for what the wheel is asked, and not for the stages themselves; then the balance, then the wheel.
#[test]
fn dressed_blades_are_tested_again_stage_by_stage_to_the_end() {
    for wheel in ["impeller", "turbine"] {
        let mut rig = safe();
        rig.hand.break_hours = 4000;
        let (machine_hours, next_hours) = (Some(figure("48480 h")), Some(figure("60510 h")));
        rig.take(Act::Opening(Box::new(Opening { machine_hours, next_hours, ..Opening::default() })));
        let of = |stage: &str| format!("{wheel}/{stage}");
        up_to(&mut rig, &of("look"));
        let number = enter(&mut rig, found(wheel, &of("look"), "dressed", "as agreed"));
        up_to(&mut rig, "job/decisions");
        let (text, who) = ("blended, no step left".to_owned(), "fitter C".to_owned());
        rig.take(Act::Answer { entry: number, text, who });
        // whatever else was left out on the way is not what is tried here
        let waived: Vec<_> = rig
            .inspection
            .standing_entries()
            .filter(|one| matches!(&one.act, Act::Skip { step, .. } if step.starts_with(wheel)))
            .map(|one| (one.number, one.act.step().unwrap().to_owned()))
            .collect();
        rig.by("supervisor-b").take(Act::Resume);
        for (entry, step) in waived {
            rig.take(Act::Strike { entry, reason: "not so".to_owned() });
            rig.take(Act::NotApplicable { step, point: None, reason: "not on this one".to_owned() });
        }
        up_to(&mut rig, &of("dressed-light"));
        read(&mut rig, &of("dressed-light"), "dressed blade", "800");
        soak(&mut rig, &of("dressed-degrease"), 10);
        read(&mut rig, &of("dressed-surface"), "dressed blade", "20");
        soak(&mut rig, &of("dressed-penetrant"), 20);
        soak(&mut rig, &of("dressed-developer"), 15);
        held(&rig, wheel, "dressed obliges");
        rig.take(Act::Looked { step: of("dressed") });
        for stage in ["light", "degrease", "surface", "penetrant", "developer"].map(|stage| format!("dressed-{stage}"))
        {
            assert_eq!(state(&rig, &of(&stage)), StepState::Done, "{wheel}, {stage}");
        }
        assert_eq!(state(&rig, &of("dressed")), StepState::Done, "{wheel}");
        not_held(&rig, wheel, "dressed blades");
        held(&rig, wheel, "dressed obliges: Balance");
    }
}

#[test]
fn a_wait_cut_short_holds_until_it_is_done_again_or_a_note_says_why() {
    let mut rig = safe();
    up_to(&mut rig, "impeller/degrease");
    let wait = |step: &str, mark| Act::Timer { step: step.to_owned(), mark };
    rig.at("2024-07-12T14:40:00+02:00").take(Act::Resume).take(wait("impeller/degrease", TimerMark::Started));
    rig.at("2024-07-12T15:00:00+02:00").take(wait("impeller/degrease", TimerMark::Ended));
    read(&mut rig, "impeller/penetrant-surface", "hub", "20");
    let timer = |mark| wait("impeller/penetrant", mark);
    rig.take(timer(TimerMark::Started)).at("2024-07-12T15:03:00+02:00").take(timer(TimerMark::Ended));
    held(&rig, "impeller", "penetrant on: 3 min, wanted 5 min to 60 min");
    rig.take(timer(TimerMark::Started)).at("2024-07-12T15:10:00+02:00").take(timer(TimerMark::Ended));
    not_held(&rig, "impeller", "penetrant on");
    rig.take(timer(TimerMark::Started)).at("2024-07-12T17:10:00+02:00").take(timer(TimerMark::Ended));
    held(&rig, "impeller", "penetrant on: 2 h 00 min, wanted 5 min to 60 min");
    rig.take(Act::Note { step: Some("impeller/penetrant".to_owned()), text: "kept wet all the time".to_owned() });
    not_held(&rig, "impeller", "penetrant on");
}

/// Cut short, with whatever word beside it, there is nothing in the crack to look at.
#[test]
fn a_dwell_cut_short_shuts_the_look_whatever_is_said_of_it() {
    let mut rig = degreased(20);
    soak(&mut rig, "impeller/penetrant", 0);
    let why = |step: &str| Act::Note { step: Some(step.to_owned()), text: "no more time today".to_owned() };
    rig.take(why("impeller/penetrant"));
    let words = shut(&rig, timer("impeller/developer", TimerMark::Started));
    assert!(words.contains("stopped too early, so that it shows nothing: begin it again"), "{words}");
    // and there it can be begun again
    assert_ne!(state(&rig, "impeller/penetrant"), StepState::Done);
    soak(&mut rig, "impeller/penetrant", 10);
    soak(&mut rig, "impeller/developer", 0);
    rig.take(why("impeller/developer"));
    shut(&rig, Act::Looked { step: "impeller/indications".to_owned() });
}

/// Torn behind the signature, mended or new: why it came to that is asked all the same, and its measure as left.
#[test]
fn what_is_found_behind_the_decisions_asks_its_cause_too() {
    for (part, kind, grade) in [("filter", "torn", "seen"), ("nozzle", "metal missing", "seen")] {
        let mut rig = signed();
        let cause = format!("{part}/cause");
        assert_eq!(state(&rig, &cause), StepState::NotAsked, "{part}");
        enter(&mut rig, found(part, &format!("{part}/look"), kind, grade));
        assert_eq!(state(&rig, &cause), StepState::ToDo, "{part}");
        let away = Act::NotApplicable { step: cause, point: None, reason: "it is new now".to_owned() };
        assert_eq!(rig.refused(away.clone()), "Obliged");
        assert_eq!(rig.by("supervisor-b").take(Act::Resume).refused(away), "taken");
    }
    // what is condemned, or overruled to be mended, has one as well
    let mut rig = signed();
    assert_eq!(state(&rig, "casing/gas-wall.left"), StepState::NotAsked);
    enter(&mut rig, Act::Condemned { part: "casing".to_owned(), reason: "fell off the hook".to_owned() });
    assert_eq!(state(&rig, "casing/gas-wall.left"), StepState::ToDo);
}

/// Put off behind the signature, a part that no longer lasts until then asks for its cause, and what was said of the next
/// opening is said again; brought back, nothing more is asked than before.
#[test]
fn an_opening_put_off_behind_the_decisions_asks_anew() {
    let mut rig = signed();
    let ahead = |rig: &Rig, part: &str| {
        let standing = rig.standing();
        let of_part = standing.characteristics.iter().filter(|one| one.characteristic.part() == part);
        of_part.map(asfound::domain::standing::CharacteristicStanding::leads_to_ahead).max().unwrap()
    };
    let quiet: Vec<_> = ["shaft", "casing", "nozzle", "collar", "bush.cs", "thrust.main", "labyrinth"]
        .into_iter()
        .filter(|part| state(&rig, &format!("{part}/cause")) == StepState::NotAsked)
        .collect();
    up_to(&mut rig, "job/next");
    rig.take(Act::Note { step: Some("job/next".to_owned()), text: "the bush, by its forecast".to_owned() });
    assert_eq!(state(&rig, "job/next"), StepState::Done);
    let plan = |hours: &str| {
        let (date, reason) = (None, "the owner wants it later".to_owned());
        Act::Plan { hours: Some(figure(hours)), date, supervisor: None, reason }
    };
    rig.take(plan("300000 h"));
    assert_eq!(state(&rig, "job/next"), StepState::ToDo);
    let (late, lasting): (Vec<&str>, Vec<&str>) =
        quiet.into_iter().partition(|part| ahead(&rig, part) > Consequence::Nothing);
    assert!(!late.is_empty(), "{lasting:?}");
    for part in late {
        assert_eq!(state(&rig, &format!("{part}/cause")), StepState::ToDo, "{part}");
    }
    for part in lasting {
        assert_eq!(state(&rig, &format!("{part}/cause")), StepState::NotAsked, "{part}");
    }
}

/// The locks are off, oil is on: before anybody reaches into the inlet it is all made safe again, by name.
#[test]
fn a_piece_missed_behind_the_start_asks_for_the_machine_made_safe_again() {
    for name in ["overhaul", "cleaning"] {
        let mut head = head("3-2024-07-12", None, vec![]);
        head.checklist = checklist(name);
        let mut rig = Rig::with(head);
        let points: Vec<_> = rig
            .inspection
            .head()
            .checklist
            .steps
            .iter()
            .filter_map(|step| {
                let Takes::Points(points) = &step.takes else { return None };
                (step.phase == Phase::Safe)
                    .then(|| points.iter().map(|point| (step.id.clone(), point.id.clone())).collect::<Vec<_>>())
            })
            .flatten()
            .collect();
        let make_safe = |rig: &mut Rig| {
            for (step, point) in points.clone() {
                rig.take(Act::Confirm { step, point });
            }
        };
        make_safe(&mut rig);
        let missed = || found("filter", "filter/look", "piece missing", "found whole");
        let look = || Act::Looked { step: "fragments/inlet".to_owned() };
        count(&mut rig, "filter/off");
        let mut before = rig.clone();
        enter(&mut before, missed());
        assert_eq!(before.refused(look()), "taken", "{name}: nothing has run");
        enter(&mut rig, Act::Looked { step: "running/prelube".to_owned() });
        // nor out of curiosity, when nobody has missed anything
        let seen = found("fragments", "fragments/inlet", "piece lying there", "taken out whole");
        for act in [look(), seen] {
            assert!(shut(&rig, act).contains("not made safe since it ran"), "{name}");
        }
        enter(&mut rig, missed());
        assert!(shut(&rig, look()).contains("not made safe"), "{name}");
        assert_eq!(state(&rig, "running/prelube"), StepState::ToDo, "{name}");
        make_safe(&mut rig);
        // the way in goes through the filter
        assert!(shut(&rig, look()).contains("filter elements out, counted"), "{name}");
        count(&mut rig, "filter/off");
        assert_eq!(rig.refused(look()), "taken", "{name}");
        // a part that is changed then takes hands inside as well, and so does what is seen while it runs
        let (serial, hours) = (Some("F-2".to_owned()), figure("0 h"));
        let new = Fitted { serial, hours, machine: hours, doubts: vec![] };
        enter(&mut rig, Act::Looked { step: "running/prelube".to_owned() });
        let changed = Act::PartFitted { part: "filter".to_owned(), fitted: new, replaces: Replaces::Yes };
        enter(&mut rig, changed);
        assert!(shut(&rig, look()).contains("not made safe"), "{name}");
        make_safe(&mut rig);
        enter(&mut rig, found("filter", "running/prelube", "torn", "seen"));
        enter(&mut rig, missed());
        assert!(shut(&rig, look()).contains("not made safe"), "{name}");
    }
}

/// Twelve of each.
fn count(rig: &mut Rig, id: &str) {
    let cells = progress::cells(&rig.inspection, rig.inspection.head().checklist.step(id).unwrap());
    for place in cells.iter().map(asfound::domain::checklist::Cell::place) {
        let (step, typed, taken) = (id.to_owned(), "12".to_owned(), figure("12"));
        enter(rig, Act::Reading { step, place, typed, taken, gauge: None, doubts: vec![] });
    }
}

/// The inlet is looked into through the frame of the filter, and whoever does that has tools and rags in hand.
#[test]
fn a_piece_lost_in_the_run_of_a_cleaning_has_the_filter_off_and_all_counted_once_more() {
    let mut head = head("3-2024-07-12", None, vec![]);
    head.checklist = checklist("cleaning");
    let mut rig = Rig::with(head);
    let counts = ["filter/off", "washing/tools", "filter/back"];
    counts.iter().for_each(|id| count(&mut rig, id));
    enter(&mut rig, Act::Looked { step: "running/prelube".to_owned() });
    assert!(counts.iter().all(|id| state(&rig, id) == StepState::Done));
    enter(&mut rig, found("event", "running/first-run", "fragment lost", "found whole"));
    for id in counts.iter().chain(&["fragments/inlet", "fragments/accounted", "running/prelube"]) {
        assert_eq!(state(&rig, id), StepState::ToDo, "{id}");
    }
}

/// By a finding of the rotor, or by the tick taken back; a rotor with nothing on it yet lies as it was balanced.
#[test]
fn what_is_put_on_once_more_behind_the_balance_is_balanced_once_more() {
    let left = "balance/as-left";
    let on = [left, "rebuild/bushes", "rebuild/rotor", "rebuild/thrust", "rebuild/impeller"];
    let rig = |from: &[&str]| {
        let mut rig = safe();
        let ticks = from.iter().map(|id| done(&mut rig, id)).collect::<Vec<_>>();
        (rig, ticks)
    };
    let (mut seen, _) = rig(&on);
    enter(&mut seen, found("rotor", "rotor/turning.left", "taken off and put on again", "on its marks"));
    for id in [left, "rebuild/rotor", "rebuild/thrust", "rebuild/impeller"] {
        assert_eq!(state(&seen, id), StepState::ToDo, "{id}");
    }
    held(&seen, "rotor", "taken off and put on again obliges: Balance / unbalance as it goes back");
    for (from, struck, balanced) in [
        (&on[..], "rebuild/impeller", false),
        (&on, "rebuild/thrust", false),
        (&on, "rebuild/rotor", false),
        (&on, "rebuild/bushes", false),
        (&on[..3], "rebuild/rotor", true),
        (&on[..3], "rebuild/bushes", true),
    ] {
        let (mut rig, ticks) = rig(from);
        let entry = ticks[on.iter().position(|id| *id == struck).unwrap()];
        enter(&mut rig, Act::Strike { entry, reason: "off again for a shim".to_owned() });
        assert_eq!(state(&rig, left) == StepState::Done, balanced, "{struck} of {from:?}");
    }
}

/// It is here, and it cannot go in: another one is needed.
#[test]
fn a_new_part_outside_the_new_range_stays_to_order() {
    let mut rig = signed();
    let to_order = |rig: &Rig| rig.standing().to_order(&rig.inspection).any(|one| one.part.id == "labyrinth");
    rig.take(fit("labyrinth", Some("INV-9")));
    confirm(&mut rig, "spares/identity");
    assert!(!to_order(&rig), "it waits for its check");
    let mut wide = rig.clone();
    measure(&mut wide, "labyrinth/as-left", "F1", &["0.50", "0.55"]);
    held(&wide, "labyrinth", "outside the new range");
    assert!(to_order(&wide));
    measure(&mut rig, "labyrinth/as-left", "F1", &["0.20", "0.25"]);
    assert!(!to_order(&rig));
    assert_eq!(step(&checklist("overhaul"), "labyrinth/as-left").part, "labyrinth");
}
