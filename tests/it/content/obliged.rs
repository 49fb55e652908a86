//! Which finding opens what: run-out, balance, containment, both bearings, what lies upstream, missing pieces. Common
//! practice, no source.

use asfound::domain::checklist::{Checklist, FindingKind, Takes};
use asfound::domain::entry::{Act, FindingMade};
use asfound::domain::phase::Phase;
use asfound::domain::progress::{self, StepState};
use asfound::domain::verdict::Hold;

use super::holds::held;
use super::steps::{checklist, step};
use super::trade::kind;

const RUN_OUT: [&str; 3] = ["shaft/run-out.nose", "shaft/run-out.mid", "shaft/run-out.hub"];
const BALANCE: [&str; 1] = ["balance/report"];
const BUSHES: [&str; 2] = ["bush.cs/clearance", "bush.ts/clearance"];
const LANDS: [&str; 2] = ["thrust.main/lands", "thrust.counter/lands"];
const CONTAINMENT: [&str; 1] = ["event/containment"];
const UPSTREAM: [&str; 1] = ["event/upstream"];
const WHEELS: [&str; 1] = ["event/wheels"];
const PIECES: [&str; 1] = ["fragments/accounted"];
const CRACK: [&str; 6] = [
    "event/crack-light",
    "event/crack-degrease",
    "event/crack-surface",
    "event/crack-penetrant",
    "event/crack-developer",
    "event/crack-look",
];
const OIL: [&str; 1] = ["event/oil-supply"];
const INLET: [&str; 2] = ["filter/off", "fragments/inlet"];
/// Where a scope opens nothing, that it is opened.
const OPENING: [&str; 1] = ["event/opening"];
/// What a lost fragment asks.
const LOST: [&[&str]; 9] = [&RUN_OUT, &BALANCE, &CONTAINMENT, &BUSHES, &LANDS, &UPSTREAM, &WHEELS, &CRACK, &PIECES];

#[track_caller]
fn obliges(checklist: &Checklist, part: &str, finding: &str, sets: &[&[&str]]) {
    let obliged = &kind(checklist.part(part).unwrap(), finding).obliges;
    for wanted in sets.iter().copied().flatten() {
        assert!(obliged.iter().any(|step| step == wanted), "{part}, {finding}: {wanted} is not in {obliged:?}");
    }
}

/// The grave things that happen to the whole machine, in the overhaul and in the bearing inspection.
#[test]
fn what_happened_to_the_machine_opens_its_whole_set() {
    for name in ["overhaul", "bearing"] {
        let checklist = checklist(name);
        for (finding, sets) in [
            ("overspeed", &[&RUN_OUT[..], &BALANCE, &CONTAINMENT, &BUSHES, &LANDS, &UPSTREAM, &WHEELS, &CRACK][..]),
            ("fragment lost", &LOST),
            ("surge", &[&RUN_OUT, &BALANCE, &BUSHES, &LANDS, &UPSTREAM, &WHEELS]),
            ("fire", &[&RUN_OUT, &BALANCE, &CONTAINMENT, &BUSHES, &LANDS, &UPSTREAM, &WHEELS, &CRACK, &OIL]),
            ("rubbing", &[&RUN_OUT, &BALANCE, &BUSHES, &LANDS, &WHEELS]),
            ("soft matter came through", &[&BALANCE, &BUSHES, &UPSTREAM, &WHEELS, &PIECES]),
            ("hard matter came through", &LOST),
            ("oil supply failed", &[&RUN_OUT, &BUSHES, &LANDS, &OIL, &WHEELS]),
            ("water came in", &[&LANDS, &WHEELS, &UPSTREAM, &OIL]),
            ("casing cracked or holed", &[&CONTAINMENT, &PIECES]),
        ] {
            obliges(&checklist, "event", finding, sets);
        }
    }
}

#[test]
fn what_is_found_on_a_part_opens_its_set() {
    let overhaul = checklist("overhaul");
    for side in ["bush.cs", "bush.ts", "thrust.main", "thrust.counter"] {
        obliges(&overhaul, side, "wiped", &[&RUN_OUT, &BALANCE, &OIL, &WHEELS]);
        obliges(&overhaul, side, "lining coming away", &[&OIL]);
    }
    obliges(&overhaul, "bush.cs", "wiped", &[&["bush.ts/clearance"], &LANDS]);
    obliges(&overhaul, "bush.ts", "wiped", &[&["bush.cs/clearance"], &LANDS]);
    for wheel in ["impeller", "turbine"] {
        obliges(&overhaul, wheel, "metal missing", &LOST);
        obliges(&overhaul, wheel, "dent", &[&BALANCE, &UPSTREAM]);
        obliges(&overhaul, wheel, "dressed", &[&["balance/as-left"]]);
        obliges(&overhaul, wheel, "crack", &[&CONTAINMENT]);
    }
    for (part, finding) in [
        ("impeller", "rubbing of the back face"),
        ("impeller", "rubbing of the contour"),
        ("turbine", "rubbing of the tips"),
    ] {
        obliges(&overhaul, part, finding, &[&RUN_OUT, &BALANCE, &BUSHES, &WHEELS]);
    }
    obliges(&overhaul, "casing", "rubbing", &[&RUN_OUT, &BALANCE, &BUSHES, &WHEELS]);
    obliges(&overhaul, "shaft", "rub at a seal", &[&RUN_OUT, &BALANCE, &BUSHES, &WHEELS]);
    obliges(&overhaul, "shaft", "straightened or ground", &[&["balance/as-left"]]);
}

/// Every kind of finding that says a piece is gone asks where it is, in every scope.
#[test]
fn whatever_has_lost_a_piece_asks_where_it_is() {
    for name in ["overhaul", "bearing", "cleaning"] {
        let checklist = checklist(name);
        assert!(step(&checklist, "fragments/accounted").on_demand, "{name}");
        let gone = ["missing", "broken", "fragment lost", "came through"];
        for part in checklist.parts.iter().filter(|part| part.id != "fragments") {
            for kind in &part.findings {
                let grades = kind.grades.iter().map(|grade| grade.grade.as_str());
                let words = grades.chain([kind.kind.as_str()]).collect::<Vec<_>>().join(" ");
                // a broken frame or cover that is all there has lost nothing
                let whole = kind.kind == "frame or clamp loose";
                if gone.iter().any(|gone| words.contains(gone)) && !whole {
                    obliges(&checklist, &part.id, &kind.kind, &[&PIECES]);
                }
            }
        }
    }
}

/// One rule for all that is gone where the wheels are open; what lies in the oil went another way.
#[test]
fn whatever_may_have_gone_through_a_wheel_is_a_lost_fragment() {
    for name in ["overhaul", "bearing"] {
        let checklist = checklist(name);
        for part in &checklist.parts {
            let gone = |kind: &&FindingKind| ["missing", "lost"].iter().any(|word| kind.kind.contains(word));
            for kind in part.findings.iter().filter(gone) {
                obliges(&checklist, &part.id, &kind.kind, &LOST);
            }
        }
    }
}

/// A bolt, a lock, a weight, a strip that is gone went through a wheel until somebody shows that it did not.
#[test]
fn a_piece_lost_before_the_wheels_is_a_lost_fragment() {
    for name in ["overhaul", "bearing"] {
        let checklist = checklist(name);
        // whoever lost it, and whatever it was: this blade was hit
        obliges(&checklist, "fragments", "mark of it", &LOST[..8]);
        for (part, finding) in
            [("bush.cs", "locking pin broken"), ("bush.ts", "locking pin broken"), ("labyrinth", "seal ring broken")]
        {
            obliges(&checklist, part, finding, &[&OIL, &PIECES]);
        }
    }
    obliges(&checklist("overhaul"), "filter", "piece missing", &[&INLET]);
    // where nothing is opened, the inlet is what can be looked into
    let cleaning = checklist("cleaning");
    for finding in ["fragment lost", "soft matter came through", "hard matter came through"] {
        obliges(&cleaning, "event", finding, &[&INLET, &PIECES]);
    }
    obliges(&cleaning, "filter", "piece missing", &[&INLET, &PIECES]);
}

/// A rub that is heard in the first run is one: what it has touched is looked at.
#[test]
fn a_rubbing_noise_asks_what_a_rub_asks() {
    for name in ["overhaul", "bearing"] {
        obliges(&checklist(name), "running", "rubbing noise", &[&RUN_OUT, &BALANCE, &BUSHES, &LANDS, &WHEELS]);
    }
    obliges(&checklist("cleaning"), "running", "rubbing noise", &[&OPENING]);
    for name in ["overhaul", "bearing", "cleaning"] {
        assert_eq!(kind(checklist(name).part("running").unwrap(), "noise").obliges, Vec::<String>::new(), "{name}");
    }
}

/// A cleaning opens nothing: whatever wrecks bearings or wheels keeps the filter off until the rotor is to be opened.
#[test]
fn what_a_cleaning_cannot_look_for_has_the_rotor_opened() {
    for (kind, grade, referred) in [
        ("overspeed", "within the alarm", true),
        ("surge", "now and then", false),
        ("fire", "soot burnt off", true),
        ("oil supply failed", "alarm only", true),
        ("water came in", "drained", true),
        ("hard matter came through", "found", true),
        ("fragment lost", "found whole", true),
    ] {
        let mut head = super::answers::head("3-2024-07-12", None, vec![]);
        head.checklist = checklist("cleaning");
        let mut rig = crate::rig::Rig::with(head);
        obliges(&checklist("cleaning"), "event", kind, &[&OPENING]);
        let (part, step) = ("event".to_owned(), "event/log".to_owned());
        let (kind, grade) = (kind.to_owned(), grade.to_owned());
        rig.take(Act::Finding(FindingMade { part, step, kind: kind.clone(), grade, ..FindingMade::default() }));
        let obliged = format!("{kind} obliges: What happened / not in this scope, open it");
        held(&rig, "event", &obliged);
        let checklist = checklist("cleaning");
        assert_eq!(checklist.part("event").unwrap().holds_back, ["filter/back"]);
        for made in checklist.steps.iter().filter(|step| step.phase == Phase::Safe) {
            let Takes::Points(points) = &made.takes else { continue };
            for point in points {
                rig.take(Act::Confirm { step: made.id.clone(), point: point.id.clone() });
            }
        }
        for point in ["arranged", "told"] {
            rig.take(Act::Confirm { step: "event/opening".to_owned(), point: point.to_owned() });
        }
        super::holds::not_held(&rig, "event", &obliged);
        let holds = rig.standing().part("event").unwrap().verdict.holds.clone();
        let waits = holds.iter().any(|hold| matches!(hold, Hold::Referred(_)));
        assert_eq!(waits, referred, "{kind}: what is referred waits for its answer all the same");
    }
}

/// Only what can be scrapped is condemned; what happened, or a passage, is not.
#[test]
fn what_is_no_piece_says_of_what_it_is_a_stretch() {
    let overhaul = checklist("overhaul");
    let is_stretch = |part: &str| overhaul.part(part).unwrap().stretch_of.is_some();
    for part in ["job", "safe", "running", "event", "strip", "rebuild", "spares", "balance", "fragments", "oil"] {
        assert!(is_stretch(part), "{part}");
    }
    for part in ["impeller", "turbine", "shaft", "bush.ts", "thrust.main", "collar", "filter", "casing", "fasteners"] {
        assert!(!is_stretch(part), "{part}");
    }
    assert!(overhaul.parts.iter().all(|part| !(part.rotates && part.stretch_of.is_some())));
}

/// A wheel that ran too fast or glowed is tested for cracks, whatever the scope measures of it.
#[test]
fn the_crack_test_after_an_overspeed_is_open_and_held_in_every_scope_that_opens_the_rotor() {
    for name in ["overhaul", "bearing"] {
        let mut head = super::answers::head("3-2024-07-12", None, vec![]);
        head.checklist = checklist(name);
        let mut rig = crate::rig::Rig::with(head);
        let states = |rig: &crate::rig::Rig| {
            CRACK.map(|id| progress::state(&rig.inspection, rig.inspection.head().checklist.step(id).unwrap()))
        };
        assert_eq!(states(&rig), [const { StepState::NotAsked }; 6], "{name}");
        rig.take(Act::Finding(FindingMade {
            part: "event".to_owned(),
            step: "event/log".to_owned(),
            kind: "overspeed".to_owned(),
            grade: "within the alarm".to_owned(),
            ..FindingMade::default()
        }));
        assert_eq!(states(&rig), [const { StepState::ToDo }; 6], "{name}");
        held(&rig, "event", "overspeed obliges: What happened / both wheels: look for cracks");
        let steps = &rig.inspection.head().checklist;
        assert!(kind(steps.part("event").unwrap(), "crack in a wheel").crack, "{name}");
    }
}

/// What a fitter writes about it finds no piece.
#[test]
fn a_piece_that_nobody_found_is_settled_by_a_supervisor_alone() {
    let account = "fragments/accounted";
    let mut rig = super::holds::safe();
    let lost = |part: &str, kind: &str, grade: &str| {
        let (part, step, kind, grade) = (part.to_owned(), "event/log".to_owned(), kind.to_owned(), grade.to_owned());
        Act::Finding(FindingMade { part, step, kind, grade, ..FindingMade::default() })
    };
    rig.take(lost("event", "fragment lost", "found whole"));
    let state = |rig: &crate::rig::Rig| progress::state(&rig.inspection, step(&checklist("overhaul"), account));
    let text = "not found, probably up the funnel".to_owned();
    rig.take(Act::Note { step: Some(account.to_owned()), text: text.clone() });
    assert_eq!(state(&rig), StepState::ToDo);
    held(&rig, "event", "fragment lost obliges: Missing pieces / every missing piece accounted for");
    let away =
        || Act::NotApplicable { step: account.to_owned(), point: Some("found".to_owned()), reason: text.clone() };
    assert_eq!(rig.refused(away()), "Obliged");
    rig.take(lost("fragments", "missing piece", "not found"));
    held(&rig, "fragments", "stop and call");
    rig.take(Act::Confirm { step: account.to_owned(), point: "told".to_owned() });
    assert_eq!(state(&rig), StepState::Partly { done: 1, of: 2 });
    rig.by("supervisor-b").take(Act::Resume).take(away());
    assert_eq!(state(&rig), StepState::Done);
    held(&rig, "fragments", "stop and call");
}
