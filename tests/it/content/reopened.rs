//! A leak that shows when the oil comes on, and a machine that is opened again where it was closed last. Common practice, no
//! source.

use asfound::domain::checklist::{Signing, StepAsk};
use asfound::domain::entry::Act;
use asfound::domain::gate;

use super::again::{RUN, again, all, done, enter, is_safe, stands};
use super::behind::{found, shut};
use super::holds::{make_safe, safe};
use super::steps::{checklist, step};
use crate::rig::Rig;

const COUNTED: [&str; 2] = ["rebuild/tools", "rebuild/covers"];
const CLOSED: [&str; 4] = ["rebuild/inlet", "filter/back", "fasteners/in", "rebuild/counts"];
const STAYS: [&str; 3] = ["rebuild/casings", "rebuild/torques", "rotor/turning.left"];

/// What keeps the first run shut.
fn before_the_run(rig: &Rig) -> Vec<String> {
    let list = checklist("overhaul");
    let missing = gate::missing(&rig.inspection, step(&list, "running/first-run"), &rig.hand);
    missing.iter().map(|one| one.words(&rig.inspection)).collect()
}

/// Whoever tightens a flange has hands in the machine: locks on first, and the run only behind his word of what was done.
#[test]
fn a_leak_to_be_mended_holds_the_first_run_until_somebody_says_what_was_done() {
    let to_do = "oil leak: rework to do, then say what was done";
    let holds = |rig: &Rig| before_the_run(rig).iter().any(|words| words.contains(to_do));
    for (run, at) in [(&RUN[..0], RUN[0]), (&RUN[..1], RUN[0]), (&RUN[..1], RUN[1]), (&RUN[..], RUN[1])] {
        let mut rig = all(&[]);
        enter(&mut rig, Act::Sign(Rig::signature(Signing::Decisions, &[])));
        run.iter().for_each(|id| assert!(done(&mut rig, id) > 0));
        let entry = enter(&mut rig, found("running", at, "oil leak", "dripping"));
        assert!(!is_safe(&rig) && again(&rig, &RUN), "{at}");
        assert!(holds(&rig), "{at}: {:#?}", before_the_run(&rig));
        make_safe(&mut rig);
        for id in COUNTED {
            done(&mut rig, id);
        }
        assert!(holds(&rig), "{at}");
        let answer = Act::Answer { entry, text: "flange tightened, dry".to_owned(), who: "fitter C".to_owned() };
        enter(&mut rig, answer);
        assert!(is_safe(&rig) && !holds(&rig), "{at}");
    }
    // what only sweats is watched
    let mut rig = all(&[]);
    enter(&mut rig, found("running", RUN[0], "oil leak", "sweating"));
    assert!(is_safe(&rig) && !before_the_run(&rig).iter().any(|words| words.contains("oil leak")));
}

/// Put together to the last cover, with the picture, and, where it is named, run; the entry of each of `CLOSED` and of the look.
fn closed(run: &[&str]) -> (Rig, Vec<u32>, u32) {
    let mut rig = safe();
    for id in STAYS.iter().chain(&COUNTED) {
        done(&mut rig, id);
    }
    let look = done(&mut rig, "rebuild/last-look");
    let closed = CLOSED.map(|id| done(&mut rig, id)).to_vec();
    run.iter().for_each(|id| assert!(done(&mut rig, id) > 0));
    (rig, closed, look)
}

/// Hands go in there, whatever it is that came off: what is brought is counted, looked for, and closed over, once more.
#[test]
fn what_was_closed_last_is_counted_looked_into_and_closed_again_when_it_is_opened() {
    let strike = |entry: u32| Act::Strike { entry, reason: "opened again, a rag is missing".to_owned() };
    let left_inside = |at: &str| found("rebuild", at, "something left inside", "taken out");
    for run in [&RUN[..0], &RUN[..1], &RUN[..]] {
        let (rig, entries, look) = closed(run);
        for act in [strike(entries[0]), strike(look), left_inside("rebuild/last-look"), left_inside(RUN[0])] {
            let (mut rig, ran) = (rig.clone(), !run.is_empty());
            let number = enter(&mut rig, act.clone());
            assert!(again(&rig, &COUNTED) && again(&rig, &["rebuild/last-look"]) && again(&rig, &CLOSED), "{act:?}");
            assert!(stands(&rig, &STAYS) && again(&rig, run), "{act:?}");
            let found_in_the_run = matches!(&act, Act::Finding(found) if found.step == RUN[0]);
            assert_eq!(is_safe(&rig), !ran && !found_in_the_run, "{act:?}");
            if matches!(act, Act::Finding(_)) {
                enter(&mut rig, strike(number));
                assert!(again(&rig, &["rebuild/last-look"]) && again(&rig, &CLOSED), "what is in there now?");
            }
        }
    }
    assert!(step(&checklist("overhaul"), "rebuild/last-look").asks.contains(&StepAsk::Picture));
}

/// Before anything is closed over it, it is looked into once more, and that is all.
#[test]
fn a_last_look_taken_back_before_it_is_closed_is_a_look_taken_back() {
    let mut rig = safe();
    COUNTED.iter().for_each(|id| assert!(done(&mut rig, id) > 0));
    let look = done(&mut rig, "rebuild/last-look");
    let mut with = rig.clone();
    enter(&mut with, found("rebuild", "rebuild/last-look", "something left inside", "taken out"));
    enter(&mut rig, Act::Strike { entry: look, reason: "not looked yet".to_owned() });
    assert!(stands(&rig, &COUNTED) && again(&rig, &["rebuild/last-look"]) && stands(&with, &COUNTED));
    let refused = shut(&rig, Act::Tick { step: "rebuild/inlet".to_owned() });
    assert!(refused.contains("last look"), "{refused}");
}
