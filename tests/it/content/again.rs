//! What is done again in the built-in checklists: papers of a part that came later, a test behind a stage done anew, all
//! that was built on a part before another took its place. Common practice, no source.

use asfound::domain::apply::apply;
use asfound::domain::checklist::{Step, Takes};
use asfound::domain::entry::{Act, Entry, TimerMark};
use asfound::domain::exact::Rounding;
use asfound::domain::phase::Phase;
use asfound::domain::progress::{self, StepState};
use asfound::domain::telling;
use asfound::domain::unit::Unit;

use super::behind::found;
use super::holds::safe;
use super::new_parts::{confirm, fit, signed};
use super::steps::{checklist, step};
use crate::{bench, plain, rig::Rig};

fn state(rig: &Rig, id: &str) -> StepState {
    progress::state(&rig.inspection, step(&checklist("overhaul"), id))
}

/// Entered as it is, whatever else would have to be done first.
pub(super) fn enter(rig: &mut Rig, act: Act) -> u32 {
    let last = rig.last().clone();
    let number = last.number + 1;
    drop(apply(&mut rig.inspection, Entry { number, act, ..last }));
    number
}

/// All that a step takes, in the plainest way; the number of the last entry.
pub(super) fn done(rig: &mut Rig, id: &str) -> u32 {
    let step: Step = step(&checklist("overhaul"), id).clone();
    let named = || id.to_owned();
    let acts: Vec<_> = match &step.takes {
        Takes::Tick => vec![Act::Tick { step: named() }],
        Takes::Look => vec![Act::Looked { step: named() }],
        Takes::Words => vec![Act::Note { step: Some(named()), text: "as usual".to_owned() }],
        Takes::Soak { from, .. } => {
            enter(rig, Act::Timer { step: named(), mark: TimerMark::Started });
            // out as soon as it may be
            let minutes = from.to(Unit::Minute).unwrap().rounded(0, Rounding::Nearest).parse().unwrap();
            let last = rig.last().clone();
            let at = (last.at.moment() + chrono::Duration::minutes(minutes)).into();
            let act = Act::Timer { step: named(), mark: TimerMark::Ended };
            drop(apply(&mut rig.inspection, Entry { number: last.number + 1, at, act, ..last }));
            Vec::new()
        }
        Takes::Points(points) => {
            points.iter().map(|point| Act::Confirm { step: named(), point: point.id.clone() }).collect()
        }
        Takes::Readings(_) => {
            progress::cells(&rig.inspection, &step).iter().map(|cell| read(id, &cell.place())).collect()
        }
        Takes::Sign(_) => panic!("{id} is signed"),
    };
    for act in acts {
        enter(rig, act);
    }
    assert_eq!(state(rig, id), StepState::Done, "{id}");
    rig.last().number
}

fn read(step: &str, place: &str) -> Act {
    Act::Reading {
        step: step.to_owned(),
        place: place.to_owned(),
        typed: "20".to_owned(),
        taken: "20".parse().unwrap(),
        gauge: None,
        doubts: vec![],
    }
}

/// Confirmed, or marked away before there was a new part: either says nothing of the one that came behind, and the points
/// are put again, on the screen and line by line.
#[test]
fn papers_that_a_later_part_put_out_of_date_are_confirmed_again_in_every_way_in() {
    let confirmed = {
        let mut rig = signed();
        rig.take(fit("bush.ts", Some("INV-B-9")));
        confirm(&mut rig, "spares/identity");
        rig
    };
    let marked = {
        let mut rig = signed();
        let Takes::Points(points) = &step(&checklist("overhaul"), "spares/identity").takes.clone() else { panic!() };
        for point in points {
            let (step, point) = ("spares/identity".to_owned(), Some(point.id.clone()));
            rig.take(Act::NotApplicable { step, point, reason: "no new part in this job".to_owned() });
        }
        rig
    };
    for mut rig in [confirmed, marked] {
        assert_eq!(state(&rig, "spares/identity"), StepState::Done);
        rig.take(fit("labyrinth", Some("INV-L-9")));
        assert_eq!(state(&rig, "spares/identity"), StepState::ToDo);
        let is_done = |inspection| progress::state(inspection, step(&checklist("overhaul"), "spares/identity"));
        let mut lines = plain::bench::Bench::over(rig.inspection.clone());
        lines.types(&["! 6", "spares/identity"]).types(&["yes"; 5]);
        assert_eq!(is_done(lines.inspection()), StepState::Done, "{}", lines.question());
        let screen = bench::Bench::on(rig.inspection.clone()).keys("esc 6").typed("spares/identity").keys("enter");
        let screen = screen.expect("out of date, do it again").keys("enter enter enter enter enter");
        assert_eq!(is_done(screen.so_far()), StepState::Done);
    }
}

const PENETRANT: [&str; 5] = [
    "impeller/degrease",
    "impeller/penetrant-surface",
    "impeller/penetrant",
    "impeller/developer",
    "impeller/indications",
];

/// The dye goes on after the look, or the light was too weak: what was seen then is no "no indication".
#[test]
fn a_stage_of_the_penetrant_test_struck_or_done_anew_opens_the_stages_behind_it() {
    let light = "impeller/penetrant-light";
    let behind = |stage: &str| {
        let at = PENETRANT.iter().position(|id| *id == stage);
        &PENETRANT[at.map_or(4, |at| at + 1)..]
    };
    for stage in PENETRANT[..4].iter().copied().chain([light]) {
        let mut rig = safe();
        let first: Vec<_> = [light].iter().chain(&PENETRANT).map(|id| done(&mut rig, id)).collect();
        let number =
            *first.iter().find(|number| rig.inspection.entry(**number).unwrap().act.step() == Some(stage)).unwrap();
        enter(&mut rig, Act::Strike { entry: number, reason: "misread".to_owned() });
        done(&mut rig, stage);
        for id in [light].into_iter().chain(PENETRANT) {
            let expected = if behind(stage).contains(&id) { StepState::ToDo } else { StepState::Done };
            assert_eq!(state(&rig, id), expected, "{stage} anew: {id}");
        }
        let said = telling::beforehand(&rig.inspection, step(&checklist("overhaul"), "impeller/indications"));
        assert!(said.iter().any(|line| line.starts_with("! out of date, do it again: entry ")), "{said:?}");
        // each in its turn, and the test is done again
        for id in behind(stage) {
            done(&mut rig, id);
        }
        assert!(PENETRANT.iter().all(|id| state(&rig, id) == StepState::Done), "{stage}");
    }
}

/// A soak that ran once more is followed by the washing and the drying once more; what was measured stays.
#[test]
fn what_is_soaked_once_more_is_dried_and_looked_at_once_more() {
    let mut rig = safe();
    for id in ["turbine/soak", "turbine/clean", "turbine/dry", "turbine/look", "turbine/life", "nozzle/dry"] {
        done(&mut rig, id);
    }
    done(&mut rig, "turbine/soak");
    for (id, again) in [
        ("turbine/clean", true),
        ("turbine/dry", true),
        ("turbine/look", true),
        ("turbine/life", false),
        ("nozzle/dry", false),
    ] {
        assert_eq!(state(&rig, id) == StepState::ToDo, again, "{id}");
    }
}

/// Nobody gets at the wheel without opening what was closed over it, and the rotor comes out for the balance; what lies before
/// its place stays.
#[test]
fn a_wheel_changed_after_the_first_run_has_all_done_again_that_came_behind_its_place() {
    let before = ["rebuild/ready", "rebuild/threads", "rebuild/bushes"];
    let behind = [
        "rebuild/rotor",
        "rebuild/thrust",
        "rebuild/impeller",
        "rotor/axial-float.left",
        "rotor/radial-float.cs.left",
        "rotor/radial-float.ts.left",
        "rebuild/torques.nut",
        "rebuild/casings",
        "rebuild/torques",
        "rotor/shroud.left",
        "rotor/turning.left",
        "rebuild/tools",
        "rebuild/covers",
        "rebuild/last-look",
        "rebuild/inlet",
        "filter/back",
        "fasteners/in",
        "rebuild/counts",
        "running/prelube",
        "running/first-run",
        "running/vibration.after",
        "running/stopped",
        "running/bolts.after",
    ];
    let mut rig = safe();
    for id in before.iter().chain(&behind) {
        done(&mut rig, id);
    }
    let fitted = enter(&mut rig, fit("impeller", Some("INV-Z-1")));
    for id in before {
        assert_eq!(state(&rig, id), StepState::Done, "{id}");
    }
    for id in behind {
        assert_eq!(state(&rig, id), StepState::ToDo, "{id}");
        let said = telling::beforehand(&rig.inspection, step(&checklist("overhaul"), id));
        let words =
            format!("! out of date, do it again: entry {fitted}, Compressor impeller new, fitted, serial INV-Z-1");
        assert!(said.iter().any(|line| line.starts_with(&words)), "{id}: {said:?}");
    }
    enter(&mut rig, Act::Strike { entry: fitted, reason: "it was not".to_owned() });
    assert!(behind.iter().all(|id| state(&rig, id) == StepState::Done), "taken back, all stands again");
}

/// By the order of the work, in records that were begun before the floats needed the wheel; what only closes the machine
/// undoes nothing else. A wheel that was taken off again for a shim is no new one, and its strike says so.
#[test]
fn what_came_later_than_a_part_is_done_again_with_it_where_something_is_built_on_it() {
    let floats = ["rotor/axial-float.left", "rotor/radial-float.cs.left"];
    let closed = ["rebuild/impeller", "rebuild/casings", "filter/back", "running/prelube"];
    let after = |change: &dyn Fn(&mut Rig, u32)| {
        let mut head = super::answers::head("4-2024-09-12", None, vec![]);
        for step in head.checklist.steps.iter_mut().filter(|step| floats.contains(&step.id.as_str())) {
            step.needs = vec!["rebuild/rotor".to_owned()];
        }
        let mut rig = Rig::with(head);
        super::holds::make_safe(&mut rig);
        let ticks = closed.map(|id| done(&mut rig, id));
        for id in floats.iter().chain(&["fasteners/in"]) {
            done(&mut rig, id);
        }
        change(&mut rig, ticks[0]);
        let again = |ids: &[&str]| ids.iter().filter(|id| state(&rig, id) == StepState::ToDo).count();
        (again(&floats), again(&closed), again(&["fasteners/in"]))
    };
    let fitted = |part: &'static str| {
        move |rig: &mut Rig, _: u32| {
            enter(rig, fit(part, Some("INV-Z-1")));
        }
    };
    assert_eq!(after(&fitted("impeller")), (2, 4, 1));
    assert_eq!(after(&fitted("filter")), (0, 2, 0));
    let struck = |rig: &mut Rig, entry: u32| {
        enter(rig, Act::Strike { entry, reason: "came off again for a shim".to_owned() });
    };
    assert_eq!(after(&struck), (2, 4, 1));
}

pub(super) const REBUILT: [&str; 9] = [
    "rebuild/rotor",
    "rebuild/thrust",
    "rebuild/impeller",
    "rotor/axial-float.left",
    "rotor/radial-float.cs.left",
    "rebuild/torques",
    "rebuild/tools",
    "rebuild/last-look",
    "fasteners/in",
];
pub(super) const RUN: [&str; 2] = ["running/prelube", "running/first-run"];
const MEASURED: [&str; 4] = ["bush.ts/clearance", "shaft/run-out.mid", "thrust.main/lands", "balance/report"];

/// All measured, put back and, where it is named, run.
pub(super) fn all(run: &[&str]) -> Rig {
    let mut rig = safe();
    for id in MEASURED.iter().chain(&REBUILT).chain(run) {
        done(&mut rig, id);
    }
    rig
}

pub(super) fn again(rig: &Rig, ids: &[&str]) -> bool {
    ids.iter().all(|id| state(rig, id) == StepState::ToDo)
}

pub(super) fn stands(rig: &Rig, ids: &[&str]) -> bool {
    ids.iter().all(|id| state(rig, id) == StepState::Done)
}

fn ground() -> Act {
    found("shaft", "shaft/look", "straightened or ground", "as agreed")
}

pub(super) fn is_safe(rig: &Rig) -> bool {
    let safe = rig.inspection.head().checklist.steps.iter().find(|step| step.phase == Phase::Safe).unwrap();
    progress::state(&rig.inspection, safe) == StepState::Done
}

/// Straightened, ground, dressed or glued again, it was taken out for that: what was built on it, and the run, were those of
/// another one. What happens in the run shows in nothing that was measured before it.
#[test]
fn what_is_mended_or_happens_behind_the_rebuild_has_it_done_again() {
    for (act, run) in [
        (ground(), &RUN[..]),
        (ground(), &[]),
        (found("collar", "collar/look", "dressed", "on the spot"), &RUN[..]),
        (found("collar", "collar/look", "dressed", "as agreed"), &[]),
    ] {
        let mut rig = all(run);
        let entry = enter(&mut rig, act);
        assert!(again(&rig, &REBUILT) && again(&rig, run) && stands(&rig, &MEASURED));
        assert_eq!(is_safe(&rig), run.is_empty());
        enter(&mut rig, Act::Strike { entry, reason: "another rotor's".to_owned() });
        assert!(stands(&rig, &REBUILT) && stands(&rig, run), "taken back, all stands again");
    }
    // what was balanced and put back before it was mended was not what runs
    let mut rig = all(&[]);
    let entry = enter(&mut rig, ground());
    for id in ["balance/as-left", "rebuild/rotor", "rotor/axial-float.left"] {
        done(&mut rig, id);
    }
    let answer = Act::Answer { entry, text: "mid ground, 0.05 off".to_owned(), who: "the shop".to_owned() };
    let answer = enter(&mut rig, answer);
    assert!(again(&rig, &["balance/as-left", "rebuild/rotor", "rotor/axial-float.left"]));
    enter(&mut rig, Act::Strike { entry: answer, reason: "not yet".to_owned() });
    assert!(stands(&rig, &["balance/as-left", "rebuild/rotor", "rotor/axial-float.left"]));
}

#[test]
fn what_is_mended_only_behind_a_run_has_it_run_again() {
    let mut rig = all(&RUN);
    let entry = enter(&mut rig, ground());
    super::holds::make_safe(&mut rig);
    assert!(is_safe(&rig));
    let answer = || Act::Answer { entry, text: "mid ground, 0.05 off".to_owned(), who: "the shop".to_owned() };
    let mut before = rig.clone();
    enter(&mut before, answer());
    assert!(is_safe(&before), "the hands are in already");
    RUN.iter().for_each(|id| assert!(done(&mut rig, id) > entry));
    enter(&mut rig, answer());
    assert!(!is_safe(&rig) && again(&rig, &RUN));
}

#[test]
fn what_comes_out_for_a_test_or_is_reached_into_is_balanced_and_counted_again() {
    // glued again inside a closed machine: tools and rags are counted back once more, fasteners are not
    let mut rig = all(&[]);
    enter(&mut rig, found("filter", "filter/look", "silencer lining loose", "hanging"));
    assert!(again(&rig, &["rebuild/tools"]) && stands(&rig, &["rebuild/rotor", "fasteners/in"]));
    let overspeed = found("event", "running/first-run", "overspeed", "above the trip");
    let mut rig = all(&RUN);
    done(&mut rig, "balance/as-left");
    enter(&mut rig, overspeed.clone());
    assert_ne!(state(&rig, "balance/as-left"), StepState::Done, "it came out of its bearings");
    assert!(again(&rig, &MEASURED) && again(&rig, &REBUILT) && again(&rig, &RUN));
    // and what closed over it comes off once more
    let off = ["strip/marks", "strip/thrust", "strip/compressor", "strip/rotor", "strip/bushes"];
    for (ran, kind, grade) in [
        (true, "rubbing noise", "rubbing or knocking"),
        (true, "oil leak", "dripping"),
        (false, "noise", "other than before"),
    ] {
        let mut rig = all(&[]);
        off.iter().chain(if ran { &RUN[..] } else { &[] }).for_each(|id| assert!(done(&mut rig, id) > 0));
        enter(&mut rig, found("running", "running/first-run", kind, grade));
        assert!(if kind == "rubbing noise" { again(&rig, &off) } else { stands(&rig, &off) }, "{kind}");
    }
    // told before anything ran, what was measured since it happened stands
    let mut rig = safe();
    for id in MEASURED {
        done(&mut rig, id);
    }
    enter(&mut rig, overspeed);
    assert!(stands(&rig, &MEASURED));
}

/// Tools are fetched and others taken away between two openings: each has its own count.
#[test]
fn what_was_counted_back_is_counted_out_anew_at_the_next_opening() {
    let out = ["strip/brought", "strip/covered"];
    let mut rig = all(&[]);
    out.iter().for_each(|id| assert!(done(&mut rig, id) > 0));
    let mut still_open = safe();
    out.iter().for_each(|id| assert!(done(&mut still_open, id) > 0));
    let new = || fit("impeller", Some("INV-Z-1"));
    enter(&mut still_open, new());
    assert!(stands(&still_open, &out), "the same tools are out still");
    done(&mut rig, "rebuild/covers");
    let entry = enter(&mut rig, new());
    assert!(again(&rig, &out) && again(&rig, &["rebuild/tools", "rebuild/covers"]));
    enter(&mut rig, Act::Strike { entry, reason: "it was not".to_owned() });
    assert!(stands(&rig, &out));
}

/// What there is to be seen there now is looked for with the locks on, as what was missed is.
#[test]
fn a_finding_struck_behind_a_run_asks_for_the_machine_made_safe_before_it_is_looked_at_again() {
    let bent = || found("labyrinth", "labyrinth/look", "strip bent", "one place");
    for (run, looked) in [(&RUN[..], true), (&RUN[..], false), (&[], true)] {
        let mut rig = safe();
        if looked {
            done(&mut rig, "labyrinth/look");
        }
        let entry = enter(&mut rig, bent());
        run.iter().for_each(|id| assert!(done(&mut rig, id) > entry));
        enter(&mut rig, Act::Strike { entry, reason: "another rotor's".to_owned() });
        assert_eq!(state(&rig, "labyrinth/look"), StepState::ToDo);
        let opens = looked && !run.is_empty();
        assert_eq!((is_safe(&rig), again(&rig, run)), (!opens, opens || run.is_empty()));
    }
}
