//! Between the stages of the penetrant test there is a time too: dye that has dried, and lines that have run together, show
//! nothing. Common practice, no source.

use asfound::domain::entry::{Act, Late, TimerMark};
use asfound::domain::phase::Phase;
use asfound::domain::progress::{self, StepState};
use asfound::domain::{soak as times, telling};

use super::behind::{degreased, read, shut, soak, timer};
use super::holds::{held, up_to};
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
    assert!(refused.contains("penetrant on, what follows it is outside its time: begin again there"), "{refused}");
    soak(&mut rig, "impeller/degrease", 10);
    read(&mut rig, "impeller/penetrant-surface", "hub", "20");
    soak(&mut rig, "impeller/penetrant", 10);
    soak(&mut rig, "impeller/developer", 10);
    rig.take(looked());
    assert_eq!((state(&rig, LOOK), counted(&rig).len()), (StepState::Done, 0));
}

/// A look too late holds the wheel until the test is done again, whatever a note says; a wrong time is struck.
#[test]
fn a_look_behind_the_developers_window_is_done_again_or_its_time_struck() {
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
    noted_for_nothing(&rig, words);
    rig.take(Act::Strike { entry: late, reason: "another wheel's".to_owned() });
    assert_eq!(state(&rig, "impeller/developer"), StepState::Done);
}

/// What a look out of its time shows is none, and no note of a fitter makes it one: nor is that way offered.
fn noted_for_nothing(rig: &Rig, words: &str) {
    let mut rig = rig.clone();
    rig.take(Act::Note { step: Some(LOOK.to_owned()), text: "seen at 15 minutes, typed later".to_owned() });
    held(&rig, "impeller", words);
    assert_eq!((state(&rig, LOOK), counted(&rig)), (StepState::ToDo, vec![words.to_owned()]));
    let said = times::told(&rig.inspection, step(&rig.inspection.head().checklist, LOOK)).unwrap();
    assert!(said.contains("whatever a note says: do it again, or strike a wrong time"), "{said}");
}

/// As paper has it: in and out at these times.
fn on_paper(rig: &mut Rig, stage: &str, times: &[&str]) {
    for (clock, mark) in times.iter().zip([TimerMark::Started, TimerMark::Ended]) {
        rig.hand.late = Some(Late { taken: (*clock).to_owned(), sheet: None });
        rig.take(timer(&format!("impeller/{stage}"), mark));
    }
}

/// Copied from paper in an order that cannot be, a stage was begun before the one before it was over: nobody knows which of
/// the times is wrong, and it holds as one begun too late.
#[test]
fn stages_in_an_order_that_cannot_be_hold_as_late_ones_do() {
    let mut degreased = super::holds::safe();
    degreased.hand.break_hours = 4000;
    up_to(&mut degreased, "impeller/degrease");
    on_paper(&mut degreased, "degrease", &["04:00", "04:10"]);
    read(&mut degreased, "impeller/penetrant-surface", "hub", "20");
    let again = |rig: &Rig, words: &str| {
        assert_eq!(counted(rig), [words]);
        for id in ["impeller/penetrant", "impeller/developer", LOOK] {
            assert_eq!(state(rig, id), StepState::ToDo, "{id}: {words}");
        }
    };
    let mut rig = degreased.clone();
    on_paper(&mut rig, "penetrant", &["03:15"]);
    let words = "begun 03:15, and the wait before it was over 04:10";
    again(&rig, words);
    assert_eq!(state(&rig, "impeller/degrease"), StepState::ToDo);
    let said = times::told(&rig.inspection, step(&rig.inspection.head().checklist, "impeller/penetrant")).unwrap();
    assert!(said.contains(words) && said.contains("begin again with the first"), "{said}");
    let mut rig = degreased.clone();
    on_paper(&mut rig, "penetrant", &["04:15", "04:45"]);
    on_paper(&mut rig, "developer", &["04:20"]);
    again(&rig, "begun 04:20, and the wait before it was over 04:45");
    let mut rig = degreased;
    on_paper(&mut rig, "penetrant", &["04:15", "04:45"]);
    on_paper(&mut rig, "developer", &["04:45", "05:00"]);
    rig.hand.late = Some(Late { taken: "04:50".to_owned(), sheet: None });
    rig.take(looked());
    let words = "looked at 04:50, and the wait before it was over 05:00";
    again(&rig, words);
    held(&rig, "impeller", words);
    noted_for_nothing(&rig, words);
}

/// What a dye has not had its time for shows nothing, whatever a note says: that way is not offered, and takes nothing off.
#[test]
fn no_note_makes_up_for_a_dwell_cut_short() {
    let mut rig = super::holds::safe();
    rig.hand.break_hours = 4000;
    let mut bathed = rig.clone();
    up_to(&mut rig, "impeller/degrease");
    soak(&mut rig, "impeller/degrease", 1);
    let degrease = step(&rig.inspection.head().checklist, "impeller/degrease").clone();
    for _ in 0..2 {
        let said = times::told(&rig.inspection, &degrease).unwrap();
        assert!(said.starts_with("1 min, wanted ") && said.contains("whatever a note says: do it again"), "{said}");
        held(&rig, "impeller", "1 min, wanted ");
        rig.take(Act::Note { step: Some(degrease.id.clone()), text: "the can was empty".to_owned() });
    }
    let bath = step(&rig.inspection.head().checklist, "turbine/soak").clone();
    up_to(&mut bathed, "turbine/soak");
    soak(&mut bathed, "turbine/soak", 1);
    assert!(times::told(&bathed.inspection, &bath).unwrap().contains("say in a note why it is left at that"));
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
