//! Between the stages of the penetrant test there is a time too: dye that has dried, and lines that have run together, show
//! nothing. Common practice, no source.

use asfound::domain::entry::{Act, TimerMark};
use asfound::domain::phase::Phase;
use asfound::domain::progress::{self, StepState};
use asfound::domain::{soak as times, telling};

use super::behind::{degreased, read, shut, soak, timer};
use super::holds::{held, not_held, up_to};
use super::steps::{every, step};
use crate::rig::Rig;

const LOOK: &str = "impeller/indications";

fn state(rig: &Rig, id: &str) -> StepState {
    progress::state(&rig.inspection, step(&rig.inspection.head().checklist, id))
}

fn wait(rig: &mut Rig, minutes: i64) {
    rig.hand.at = (rig.hand.at.moment() + chrono::Duration::minutes(minutes)).into();
}

fn looked() -> Act {
    Act::Looked { step: LOOK.to_owned() }
}

/// Degreased and dye on, washed off now.
fn washed() -> Rig {
    let mut rig = degreased(10);
    soak(&mut rig, "impeller/penetrant", 5);
    rig
}

/// Outside their times, as page one counts them.
fn counted(rig: &Rig) -> Vec<String> {
    let steps = progress::steps(&rig.inspection);
    steps.filter_map(|step| times::outside(&rig.inspection, step).map(|(words, _)| words)).collect()
}

/// Whatever is said of it: there is nothing in the crack that comes out.
#[test]
fn developer_on_dye_that_has_dried_begins_the_test_again() {
    let mut rig = washed();
    wait(&mut rig, 185);
    rig.take(timer("impeller/developer", TimerMark::Started));
    let words = "3 h 05 min after the wait before was over, wanted at most 30 min";
    assert_eq!(counted(&rig), [words]);
    let said = times::told(&rig.inspection, step(&rig.inspection.head().checklist, "impeller/developer")).unwrap();
    assert!(said.contains(words) && said.contains("begin again with the first"), "{said}");
    rig.take(Act::Note { step: Some("impeller/developer".to_owned()), text: "the shift was over".to_owned() });
    for id in ["impeller/degrease", "impeller/penetrant", "impeller/developer", LOOK] {
        assert_eq!(state(&rig, id), StepState::ToDo, "{id}");
    }
    let refused = shut(&rig, timer("impeller/developer", TimerMark::Ended));
    assert!(refused.contains("penetrant on, what follows it came too late: begin again there"), "{refused}");
    soak(&mut rig, "impeller/degrease", 10);
    read(&mut rig, "impeller/penetrant-surface", "hub", "20");
    soak(&mut rig, "impeller/penetrant", 10);
    soak(&mut rig, "impeller/developer", 10);
    rig.take(looked());
    assert_eq!((state(&rig, LOOK), counted(&rig).len()), (StepState::Done, 0));
}

/// A look too late holds the wheel until the test is done again, or a note says why it is left at that; a wrong time is struck.
#[test]
fn a_look_behind_the_developers_window_is_done_again_or_a_note_says_why_not() {
    let mut rig = washed();
    soak(&mut rig, "impeller/developer", 10);
    let before = telling::beforehand(&rig.inspection, step(&rig.inspection.head().checklist, LOOK));
    assert!(before.iter().any(|line| line.contains("at most 30 min after the wait before began")), "{before:?}");
    let mut in_time = rig.clone();
    wait(&mut in_time, 20);
    in_time.take(looked());
    assert_eq!((state(&in_time, LOOK), counted(&in_time).len()), (StepState::Done, 0));
    wait(&mut rig, 180);
    rig.take(looked());
    let late = rig.last().number;
    let words = "3 h 10 min after the wait before began, wanted at most 30 min";
    assert_eq!(counted(&rig), [words]);
    held(&rig, "impeller", words);
    for id in ["impeller/degrease", "impeller/penetrant", "impeller/developer", LOOK] {
        assert_eq!(state(&rig, id), StepState::ToDo, "{id}");
    }
    assert_eq!(progress::next_step(&rig.inspection).unwrap().id, "impeller/degrease");
    assert!(shut(&rig, looked()).contains("begin again there"));
    let mut noted = rig.clone();
    noted.take(Act::Note { step: Some(LOOK.to_owned()), text: "seen at 15 minutes, typed later".to_owned() });
    not_held(&noted, "impeller", words);
    assert_eq!((state(&noted, LOOK), counted(&noted)), (StepState::Done, vec![words.to_owned()]));
    rig.take(Act::Strike { entry: late, reason: "another wheel's".to_owned() });
    assert_eq!(state(&rig, "impeller/developer"), StepState::Done);
}

/// And one that was begun by a checklist without these times stays as it was.
#[test]
fn every_look_behind_a_dye_has_its_time() {
    for checklist in every() {
        let dwells = |id: &String| id.ends_with("developer");
        for look in checklist.steps.iter().filter(|step| step.needs.iter().any(dwells)) {
            assert!(look.soon.is_some(), "{}", look.id);
            let developer = step(&checklist, &look.soon.as_ref().unwrap().after);
            assert!(developer.soon.is_some() && look.phase > Phase::Safe, "{}", developer.id);
        }
    }
    let mut head = super::answers::head("3-2024-07-12", None, vec![]);
    head.checklist.steps.iter_mut().for_each(|step| step.soon = None);
    let mut rig = Rig::with(head);
    super::holds::make_safe(&mut rig);
    rig.hand.break_hours = 4000;
    up_to(&mut rig, "impeller/degrease");
    for stage in ["degrease", "penetrant", "developer"] {
        soak(&mut rig, &format!("impeller/{stage}"), 10);
        if stage == "degrease" {
            read(&mut rig, "impeller/penetrant-surface", "hub", "20");
        }
        wait(&mut rig, 180);
    }
    rig.take(looked());
    assert_eq!((state(&rig, LOOK), counted(&rig).len()), (StepState::Done, 0));
}
