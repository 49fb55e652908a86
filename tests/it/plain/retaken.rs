//! What is taken again, line by line: repeats too far apart, a dwell cut short, a look too late; and where the work goes on.

use asfound::domain::apply::apply;
use asfound::domain::checklist::{Signing, Takes};
use asfound::domain::entry::{Act, Entry, TimerMark};
use asfound::domain::inspection::Inspection;
use asfound::domain::progress;
use asfound::domain::stamp::Stamp;

use super::bench::Bench;

const FLOAT: &str = "rotor/axial-float";

fn apart() -> Bench {
    let mut bench = Bench::demo();
    bench.walks_to(FLOAT).hears();
    bench.types(&["D2", ".100", ".310", ".100", ".420", "insist", ".102", ".430"]);
    bench
}

/// From elsewhere too: the way there is said, and the whole set is on offer.
#[test]
fn repeats_too_far_apart_are_gone_to_and_struck_as_a_set() {
    let mut bench = apart();
    let heard = bench.hears();
    assert!(heard.contains(&format!("! 6 {FLOAT} goes there, then ! 1 strikes the set.")), "{heard}");
    assert_ne!(bench.session.place(bench.now).unwrap().0, FLOAT);
    bench.types(&["! 6", FLOAT]);
    assert!(bench.question().starts_with("every figure is taken: ! 1 strikes"), "{}", bench.question());
    bench.hears();
    bench.types(&["! 1", "0", "4"]);
    let heard = bench.hears();
    assert!(heard.contains("all 6 figures of this set"), "{heard}");
    // no figure stands, and none is judged
    assert!(!heard.contains("past limit"), "{heard}");
    assert!(bench.question().starts_with("shaft end, first pushed"), "{}", bench.question());
}

#[test]
fn a_set_gone_to_and_not_struck_is_left_for_the_next_step() {
    let mut bench = apart();
    bench.types(&["! 6", FLOAT, "on"]);
    let next = progress::next_step(bench.inspection()).unwrap().id.clone();
    assert_eq!(bench.session.place(bench.now).unwrap().0, next);
}

/// What is left of a set of which one is struck makes nothing worse.
#[test]
fn a_repeat_struck_by_itself_brings_no_limit_that_the_set_did_not_bring() {
    let mut bench = apart();
    let first = bench.inspection().standing_entries_of(FLOAT).filter(|one| matches!(one.act, Act::Reading { .. }));
    let up = first.map(|one| one.number).nth(1).unwrap();
    bench.hears();
    bench.types(&["! 1", &up.to_string(), "4"]);
    assert!(!bench.hears().contains("past limit"));
}

/// No note makes up for what the dye has not had its time for, nor for a look out of its time: the test begins again.
#[test]
fn neither_a_dwell_cut_short_nor_a_late_look_is_gone_to_for_a_note() {
    let mut bench = Bench::demo();
    bench.walks_to("impeller/degrease").types(&["start", "! 6", "impeller/degrease", "stop"]);
    let heard = bench.hears();
    assert!(heard.contains("It shows nothing, whatever a note says") && !heard.contains("left at that"), "{heard}");
    assert!(bench.question().contains("start to begin it again; ! 1 strikes a wrong time"), "{}", bench.question());
    let mut late = bench.inspection().clone();
    let timer = |stage: &str, mark| Act::Timer { step: format!("impeller/{stage}"), mark };
    let look = "impeller/indications".to_owned();
    for (minutes, act) in [
        (10, timer("degrease", TimerMark::Started)),
        (20, timer("degrease", TimerMark::Ended)),
        (22, timer("penetrant", TimerMark::Started)),
        (32, timer("penetrant", TimerMark::Ended)),
        (33, timer("developer", TimerMark::Started)),
        (45, timer("developer", TimerMark::Ended)),
        (150, Act::Looked { step: look.clone() }),
    ] {
        enter(&mut late, bench.now, minutes, act);
    }
    let mut bench = Bench::over(late);
    bench.types(&["! 6", &look]);
    let heard = bench.hears();
    assert!(heard.contains("is not open yet") && heard.contains("begin again there"), "{heard}");
}

/// As if it had been entered so many minutes behind this moment.
fn enter(inspection: &mut Inspection, from: Stamp, minutes: i64, act: Act) {
    let last = inspection.entries().last().unwrap().clone();
    let at = Stamp::from(from.moment() + chrono::TimeDelta::minutes(minutes));
    drop(apply(inspection, Entry { number: last.number + 1, at, act, ..last }));
}

/// Nobody judges a figure of the running machine: insisted on, it is told, and no verdict is spoken of.
#[test]
fn a_figure_that_nothing_judges_is_insisted_on_without_a_verdict() {
    let mut bench = Bench::demo();
    bench.types(&["! 6", "running/boost", "60"]);
    assert!(bench.question().contains("insist takes 60 bar, told as insisted on"), "{}", bench.question());
    let mut bench = Bench::demo();
    bench.walks_to(FLOAT).types(&["D2", ".1005"]);
    assert!(bench.question().contains("its verdict stays provisional"), "{}", bench.question());
}

/// Whatever step was gone to last: nobody signs before what was passed over.
#[test]
fn the_work_goes_on_at_what_waits_and_not_at_the_decisions() {
    let mut bench = Bench::demo();
    bench.walks_to(FLOAT);
    let steps: Vec<_> = progress::steps(bench.inspection()).cloned().collect();
    let sign = steps.iter().position(|step| step.takes == Takes::Sign(Signing::Decisions)).unwrap();
    // what was gone to is left out, and nothing is left between it and the signature
    let gone_to = steps[sign - 1].id.clone();
    let mut inspection = bench.inspection().clone();
    let reason = "no time, by order".to_owned();
    enter(&mut inspection, bench.now, 0, Act::Skip { step: gone_to.clone(), place: None, reason });
    let mut bench = Bench::over(inspection);
    bench.session.begin_at(&gone_to);
    assert_eq!(bench.session.place(bench.now).unwrap().0, FLOAT);
}
