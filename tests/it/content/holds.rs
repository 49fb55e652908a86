//! What the built-in checklists hold open: obliged steps, counts, soaks, pictures, the balance. Common practice, no source.

use asfound::domain::apply::apply;
use asfound::domain::checklist::{Signing, StepAsk, Takes};
use asfound::domain::entry::{Act, Entry, FindingMade, Replaces, SignedVerdict};
use asfound::domain::progress::{self, StepState};
use asfound::domain::request::{Decision, Request};
use asfound::domain::review::{Kept, Review};
use asfound::domain::rotor::Fitted;
use asfound::domain::standing::hold_words;
use asfound::domain::verdict::Disposition;

use super::answers::head;
use super::steps::{checklist, step};
use crate::rig::{Rig, said};

/// The demonstration rotor made safe, nothing else done.
pub(crate) fn safe() -> Rig {
    let mut rig = Rig::with(head("3-2024-07-12", None, vec![]));
    make_safe(&mut rig);
    rig
}

pub(super) fn make_safe(rig: &mut Rig) {
    for step in checklist("overhaul").steps {
        let Takes::Points(points) = &step.takes else { continue };
        if step.id.starts_with("safe/") {
            for point in points {
                rig.take(Act::Confirm { step: step.id.clone(), point: point.id.clone() });
            }
        }
    }
}

/// Everything up to `step` in the plainest way, readings and soaks left out.
pub(crate) fn up_to(rig: &mut Rig, step: &str) {
    while let Some(next) = progress::next_step(&rig.inspection).cloned().filter(|next| next.id != step) {
        let id = next.id.clone();
        let skip = Act::Skip { step: id.clone(), place: None, reason: "not in this test".to_owned() };
        let act = match next.takes {
            Takes::Tick => Act::Tick { step: id },
            Takes::Look => Act::Looked { step: id },
            Takes::Readings(_) | Takes::Points(_) | Takes::Soak { .. } => skip.clone(),
            Takes::Words => Act::Note { step: Some(id), text: "nothing".to_owned() },
            Takes::Sign(_) => Act::Sign(Rig::signature(Signing::Decisions, &[])),
        };
        // a part that is held keeps its own rebuild steps shut
        let act = if matches!(rig.may(act.clone()), Decision::Take(_)) { act } else { skip };
        rig.take(act);
    }
}

fn see(rig: &mut Rig, step: &str, kind: &str, grade: &str) {
    let part = step.split_once('/').unwrap().0.to_owned();
    rig.take(Act::Finding(FindingMade {
        part,
        step: step.to_owned(),
        kind: kind.to_owned(),
        grade: grade.to_owned(),
        note: Some("not to be counted where it lies".to_owned()),
        ..FindingMade::default()
    }));
}

fn holds(rig: &Rig, part: &str) -> Vec<String> {
    rig.standing().part(part).unwrap().verdict.holds.iter().map(hold_words).collect()
}

#[track_caller]
pub(super) fn held(rig: &Rig, part: &str, words: &str) {
    let holds = holds(rig, part);
    assert!(holds.iter().any(|hold| hold.contains(words)), "{part}: {words} is not in {holds:#?}");
}

#[track_caller]
pub(super) fn not_held(rig: &Rig, part: &str, words: &str) {
    let holds = holds(rig, part);
    assert!(!holds.iter().any(|hold| hold.contains(words)), "{part}: {words} is in {holds:#?}");
}

/// Each of the grave things opens its own steps, and each holds the part on which it was found.
#[test]
fn what_happened_to_the_machine_opens_steps_and_holds() {
    for (kind, grade, opened, held_for) in [
        ("fragment lost", "not found", "fragments/accounted", "every missing piece"),
        ("overspeed", "above the trip", "event/containment", "casings and bolts"),
        ("rubbing", "polished", "event/wheels", "run-out, turbine hub"),
        ("surge", "hard or often", "event/wheels", "prints of the lands"),
        ("fire", "soot burnt off", "event/oil-supply", "oil supply"),
    ] {
        let mut rig = safe();
        let state = |rig: &Rig| {
            let steps = checklist("overhaul");
            progress::state(&rig.inspection, step(&steps, opened))
        };
        assert_eq!(state(&rig), StepState::NotAsked, "{kind}");
        see(&mut rig, "event/log", kind, grade);
        assert_eq!(state(&rig), StepState::ToDo, "{kind}");
        held(&rig, "event", held_for);
    }
}

#[test]
fn a_wiped_lining_asks_for_the_other_bush_and_a_step_skipped_does_not_answer_it() {
    let mut rig = safe();
    up_to(&mut rig, "bush.ts/look");
    see(&mut rig, "bush.ts/look", "wiped", "trace");
    held(&rig, "bush.ts", "wiped obliges: Bush, compressor side / clearance by lift");
    rig.take(Act::Looked { step: "bush.ts/look".to_owned() });
    up_to(&mut rig, "bush.cs/bore");
    held(&rig, "bush.ts", "wiped obliges: Bush, compressor side / clearance by lift, skipped");
}

#[test]
fn a_wheel_off_its_seat_or_dressed_leaves_the_rotor_to_be_balanced() {
    let mut rig = safe();
    up_to(&mut rig, "strip/compressor");
    not_held(&rig, "balance", "balance to do");
    rig.take(Act::Tick { step: "strip/compressor".to_owned() });
    held(&rig, "balance", "balance to do");
    up_to(&mut rig, "impeller/look");
    see(&mut rig, "impeller/look", "dressed", "on the spot");
    held(&rig, "impeller", "dressed obliges: Balance / unbalance as it goes back");
}

#[test]
fn a_count_that_is_not_the_first_is_asked_about_and_stays_open() {
    let mut rig = safe();
    up_to(&mut rig, "fasteners/out");
    let count = |step: &str, place: &str, text: &str, insisted: &[&str]| Request::Reading {
        step: step.to_owned(),
        place: place.to_owned(),
        text: text.to_owned(),
        gauge: None,
        insisted: insisted.iter().map(|word| (*word).to_owned()).collect(),
    };
    for place in ["bolts and screws", "nuts", "washers", "locking plates and wires", "pins and keys"] {
        let decision = rig.ask(&count("fasteners/out", place, "40", &[]));
        rig.enter(decision);
    }
    up_to(&mut rig, "fasteners/in");
    let short = count("fasteners/in", "washers", "39", &[]);
    let Decision::Ask { doubts, .. } = rig.ask(&short) else { panic!("{}", said(rig.ask(&short))) };
    assert!(doubts[0].question().contains("The first count was 40"), "{}", doubts[0].question());
    let decision = rig.ask(&count("fasteners/in", "washers", "39", &["count"]));
    rig.enter(decision);
    held(&rig, "fasteners", "washers: 39, first 40");
    let entry = rig.last().number;
    rig.take(Act::Strike { entry, reason: "found under the bench".to_owned() });
    let decision = rig.ask(&count("fasteners/in", "washers", "40", &[]));
    rig.enter(decision);
    not_held(&rig, "fasteners", "washers");
}

#[test]
fn the_last_look_wants_a_picture_or_a_word_why_there_is_none() {
    let mut rig = safe();
    up_to(&mut rig, "rebuild/last-look");
    rig.take(Act::Looked { step: "rebuild/last-look".to_owned() });
    held(&rig, "rebuild", "no picture: last look inside");
    let note = |text: &str| Act::Note { step: Some("rebuild/last-look".to_owned()), text: text.to_owned() };
    for text in ["ok", "sign", "done", "it is ok", "dark"] {
        assert_eq!(rig.refused(note(text)), "NoAnswer", "{text}");
    }
    rig.take(note("no camera allowed here"));
    not_held(&rig, "rebuild", "no picture");
    // whoever reviews reads that there is none, and why
    let review = Review::of(&rig.inspection, &rig.standing(), &Kept::default());
    let count = review.unusual.iter().find(|count| count.name == "look without picture").unwrap();
    assert_eq!(count.number, 1);
    assert!(count.which[0].ends_with("last look inside, with a picture: no camera allowed here"), "{:?}", count.which);
}

/// A signature on the decisions that says these things of these parts.
fn decided(rig: &mut Rig, parts: &[(&str, Disposition)]) {
    let mut signature = Rig::signature(Signing::Decisions, &[]);
    signature.standing = parts
        .iter()
        .map(|(part, disposition)| SignedVerdict {
            part: (*part).to_owned(),
            disposition: Some(*disposition),
            holds: vec![],
        })
        .collect();
    rig.take(Act::Sign(signature));
}

pub(super) fn fitted(part: &str) -> Act {
    let (hours, machine) = ("0 h".parse().unwrap(), "48480 h".parse().unwrap());
    let fitted = Fitted { serial: Some("INV-N".to_owned()), hours, machine, doubts: Vec::new() };
    Act::PartFitted { part: part.to_owned(), fitted, replaces: Replaces::Yes }
}

fn asked(rig: &Rig, ids: &[&str]) -> Vec<bool> {
    let overhaul = checklist("overhaul");
    ids.iter().map(|id| progress::state(&rig.inspection, step(&overhaul, id)) != StepState::NotAsked).collect()
}

/// New parts are judged as new, mended ones as left, none of them twice; what is not simply reused asks for its cause.
#[test]
fn what_is_decided_opens_the_checks_and_the_cause() {
    let steps = [
        "shaft/new-diameter.ts",
        "shaft/diameter.ts.left",
        "shaft/run-out.hub.left",
        "shaft/flux.left",
        "thrust.main/new-lands",
        "thrust.main/lands.left",
        "shaft/cause",
        "thrust.main/cause",
        "nozzle/cause",
    ];
    let mut rig = safe();
    up_to(&mut rig, "job/decisions");
    assert_eq!(asked(&rig, &steps), [false; 9]);
    decided(
        &mut rig,
        &[("shaft", Disposition::Replace), ("thrust.main", Disposition::Rework), ("nozzle", Disposition::Reuse)],
    );
    assert_eq!(asked(&rig, &steps), [true, false, true, true, false, true, true, true, false]);
    let mut rig = safe();
    up_to(&mut rig, "job/decisions");
    decided(
        &mut rig,
        &[("shaft", Disposition::Rework), ("thrust.main", Disposition::Replace), ("nozzle", Disposition::Watch)],
    );
    assert_eq!(asked(&rig, &steps), [false, true, true, true, true, false, true, true, true]);
}

/// What is due next is reckoned from the plan: the step takes nothing before there is one.
#[test]
fn the_next_opening_is_planned_before_it_is_told() {
    let mut rig = safe();
    up_to(&mut rig, "job/decisions");
    decided(&mut rig, &[]);
    up_to(&mut rig, "job/next");
    let told = Act::Note { step: Some("job/next".to_owned()), text: "the bush, by its forecast".to_owned() };
    assert_eq!(rig.refused(told.clone()), "NotPlanned");
    let overhaul = checklist("overhaul");
    let before = |rig: &Rig| asfound::domain::telling::beforehand(&rig.inspection, step(&overhaul, "job/next"));
    assert_eq!(before(&rig), ["> next opening: hours not planned, date not planned"]);
    rig.take(Act::Plan {
        hours: Some("60510 h".parse().unwrap()),
        date: Some(asfound::domain::stamp::day("2026-07-02").unwrap()),
        supervisor: None,
        reason: "as usual".to_owned(),
    });
    assert_eq!(before(&rig), ["> next opening: at 60510 h, 2026-07-02"]);
    assert_eq!(rig.refused(told), "taken");
}

/// A cause is a number of those offered, or two words at least: one alone tells nobody anything.
#[test]
fn a_cause_is_chosen_by_its_number_or_said_in_words() {
    let mut rig = safe();
    up_to(&mut rig, "job/decisions");
    decided(&mut rig, &[("bush.ts", Disposition::Replace)]);
    let overhaul = checklist("overhaul");
    let cause = step(&overhaul, "bush.ts/cause");
    assert_eq!(cause.sentence("1: oil filter torn"), "grit or dirt in the oil: oil filter torn");
    assert_eq!(cause.sentence("6"), "not known yet");
    // what is not offered stays as it was typed
    for typed in ["9", "3 blades bent", "0", "oil: dirty"] {
        assert_eq!(cause.sentence(typed), typed);
    }
    let said = |text: &str| Act::Note { step: Some("bush.ts/cause".to_owned()), text: text.to_owned() };
    for text in ["", "x", "9", ".."] {
        assert_eq!(rig.refused(said(text)), "NoWords", "{text}");
    }
    for text in ["yes", "dirt", "dirt 3"] {
        assert_eq!(rig.refused(said(text)), "NoAnswer", "{text}");
    }
    for text in ["not known yet", "Running hours", "torn filter", "running hours: 12130 h"] {
        assert_eq!(rig.refused(said(text)), "taken", "{text}");
    }
}

/// A wheel fitted, or anything reseated, after the balance as it goes back was measured: it is measured again.
#[test]
fn the_balance_is_measured_after_the_last_thing_that_was_done_to_what_turns() {
    let overhaul = checklist("overhaul");
    let Takes::Readings(grid) = &step(&overhaul, "balance/as-left").takes else { panic!() };
    let place = grid.cells(None)[0].place();
    let reseat = overhaul.steps.iter().find(|step| step.asks.contains(&StepAsk::Balance)).unwrap();
    let seen = |part: &str, kind: &str, grade: &str| {
        let (kind, grade) = (kind.to_owned(), grade.to_owned());
        let step = "rebuild/last-look".to_owned();
        Act::Finding(FindingMade { part: part.to_owned(), step, kind, grade, ..FindingMade::default() })
    };
    for (act, again) in [
        (fitted("impeller"), true),
        (fitted("bush.ts"), false),
        (Act::Tick { step: reseat.id.clone() }, true),
        (seen("impeller", "dressed", "as agreed"), true),
        (seen("turbine", "dressed", "on the spot"), true),
        (seen("turbine", "scale", "thick or uneven"), false),
    ] {
        let mut rig = safe();
        let last = rig.last().clone();
        let measured = Act::Reading {
            step: "balance/as-left".to_owned(),
            place: place.clone(),
            typed: "20".to_owned(),
            taken: "20 g mm".parse().unwrap(),
            gauge: None,
            doubts: vec![],
        };
        for (number, act) in [measured, act.clone()].into_iter().enumerate() {
            let number = last.number + 1 + u32::try_from(number).unwrap();
            drop(apply(&mut rig.inspection, Entry { number, act, ..last.clone() }));
        }
        assert_eq!(rig.inspection.reading("balance/as-left", &place).is_none(), again, "{act:?}");
    }
}

/// Nothing is measured as left while the part that goes back is still to come.
#[test]
fn what_is_left_is_measured_on_the_part_that_goes_back() {
    let mut rig = safe();
    up_to(&mut rig, "collar/look");
    see(&mut rig, "collar/look", "crack", "seen");
    up_to(&mut rig, "impeller/look");
    see(&mut rig, "impeller/look", "metal missing", "seen");
    up_to(&mut rig, "job/decisions");
    decided(&mut rig, &[("impeller", Disposition::Replace), ("collar", Disposition::Replace)]);
    let measured = |step: &str, place: &str, unit: &str| Request::Reading {
        step: step.to_owned(),
        place: place.to_owned(),
        text: format!("20 {unit}"),
        gauge: None,
        insisted: vec![],
    };
    let shut = |rig: &Rig, request: &Request| {
        if let Decision::Refuse(refusal) = rig.ask(request) { refusal.kind.what() } else { String::new() }
    };
    let balance = measured("balance/as-left", "compressor side", "g mm");
    let face = measured("collar/as-left-face", "mark 45", "um");
    let awaited = "to be replaced, and no new one is entered";
    assert!(shut(&rig, &balance).contains(&format!("impeller: {awaited}")), "{}", shut(&rig, &balance));
    rig.take(fitted("impeller"));
    assert!(!shut(&rig, &balance).contains("impeller"), "{}", shut(&rig, &balance));
    for request in [&balance, &face] {
        assert!(shut(&rig, request).contains(awaited), "{}", shut(&rig, request));
    }
    rig.take(fitted("collar"));
    for request in [&balance, &face] {
        assert!(!shut(&rig, request).contains(awaited), "{}", shut(&rig, request));
    }
}

/// Floats and tip clearances are those of the parts that were in when they were taken.
#[test]
fn what_was_measured_once_a_part_was_in_is_measured_again_when_another_takes_its_place() {
    let overhaul = checklist("overhaul");
    let taken = |id: &str| {
        let Takes::Readings(grid) = &step(&overhaul, id).takes else { panic!("{id}") };
        Act::Reading {
            step: id.to_owned(),
            place: grid.cells(safe().inspection.sheet())[0].place(),
            typed: "0.2".to_owned(),
            taken: "0.2 mm".parse().unwrap(),
            gauge: None,
            doubts: vec![],
        }
    };
    let floats = [
        "rotor/axial-float.left",
        "rotor/radial-float.cs.left",
        "rotor/radial-float.ts.left",
        "rotor/shroud.left",
        "rotor/tips.left",
    ];
    for (part, again) in [
        ("bush.ts", [true; 5]),
        ("shaft", [true; 5]),
        // the wheel comes off for them, and its nut clamps what the axial float is measured on
        ("thrust.main", [true; 5]),
        ("collar", [true; 5]),
        ("impeller", [true; 5]),
        // the floats are taken before the casings go on
        ("casing", [false, false, false, true, true]),
        ("filter", [false; 5]),
    ] {
        let mut rig = safe();
        let last = rig.last().clone();
        for (number, act) in (last.number + 1..).zip(floats.iter().map(|id| taken(id)).chain([fitted(part)])) {
            drop(apply(&mut rig.inspection, Entry { number, act, ..last.clone() }));
        }
        let gone = floats.map(|id| progress::state(&rig.inspection, step(&overhaul, id)) == StepState::ToDo);
        assert_eq!(gone, again, "{part}");
    }
}
