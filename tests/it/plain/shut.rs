//! Steps that are shut: what each waits for, and the way to it.

use asfound::domain::apply::apply;
use asfound::domain::checklist::{Signing, Takes};
use asfound::domain::entry::{Act, Entry, FindingMade};
use asfound::domain::gate::Missing;
use asfound::domain::inspection::{Head, Inspection};
use asfound::domain::phase::Phase;
use asfound::domain::progress;
use asfound::domain::request::Hand;
use asfound::domain::standing::{Standing, hold_words};
use asfound::face::acts::{At, Files, Other, Way};
use asfound::records::checklist_file::read_whole;

use super::super::files::samples::sample;
use super::bench::{Bench, begun, demo_head};
use crate::rig::Rig;

#[test]
fn the_way_to_a_step_that_is_shut_begins_on_an_empty_line() {
    let mut bench = Bench::demo();
    bench.types(&["! 6", "bush.ts/clearance"]);
    let question = bench.question().to_owned();
    assert!(question.starts_with("bush.ts/clearance is not open yet: not made safe: "), "{question}");
    assert!(question.contains("Go where, empty for safe/permit, "), "{question}");
    bench.types(&[""]);
    assert!(bench.question().starts_with("permit: "), "{}", bench.question());
    let mut bench = Bench::demo();
    let (here, _) = bench.session.place(bench.now).unwrap();
    bench.types(&["! 6", "shaft/look", "stay here"]);
    assert_eq!(bench.session.place(bench.now).unwrap().0, here);
}

/// A wait that was left out comes before the look: the way is said, and the look can be left out too.
#[test]
fn a_step_behind_one_that_was_left_out_says_what_can_be_done() {
    let mut bench = Bench::demo();
    bench.walks_to("turbine/dry").types(&["! 4", "2", "no time, by order"]);
    let skip = bench.inspection().entries().last().unwrap().number;
    bench.hears();
    bench.types(&["! 6", "turbine/look"]);
    let heard = bench.hears();
    let way = format!("left out in entry {skip}: strike that, or leave this step out too.");
    assert!(heard.contains("This step is not open:") && heard.contains(&way), "{heard}");
    assert!(heard.contains("! 1 strikes an entry, ! 4 leaves a step out."), "{heard}");
    assert_eq!(bench.question(), "! for what else, or leave?");
    bench.types(&["! 6", "turbine/dry"]);
    assert!(bench.hears().contains(&format!("turbine/dry is skipped. Strike entry {skip} first")));
    bench.types(&["! 4", "2", "no time, by order"]);
    let last = &bench.inspection().entries().last().unwrap().act;
    assert!(matches!(last, Act::Skip { step, place: None, .. } if step == "turbine/look"), "{last:?}");
}

/// However long the chain behind what was left out: the way leads to the step that says so, and no stray line goes on.
#[test]
fn the_way_through_steps_behind_one_that_was_left_out_ends_at_the_first_of_them() {
    let mut bench = Bench::demo();
    bench.walks_to("impeller/degrease").types(&["! 4", "2", "no time, by order"]);
    let skip = bench.inspection().entries().last().unwrap().number;
    bench.types(&["20", "! 6", "impeller/indications"]);
    assert!(bench.question().contains("Go where, empty for impeller/penetrant, "), "{}", bench.question());
    bench.hears();
    bench.types(&[""]);
    let heard = bench.hears();
    assert!(heard.contains(&format!("left out in entry {skip}: strike that")), "{heard}");
    bench.types(&[""]);
    assert!(bench.hears().contains("`` was not taken: no step is open."));
    assert_eq!(bench.question(), "! for what else, or leave?");
    // what is struck was struck to be done
    bench.types(&["! 1", &skip.to_string(), "7"]);
    assert_eq!(bench.session.place(bench.now).unwrap().0, "impeller/degrease");
}

/// Where nothing is open, nobody skips, notes or photographs at a step that was not named.
#[test]
fn where_no_step_is_open_the_step_is_asked_for() {
    let short = read_whole("short", &sample("checklists/short.yaml")).unwrap();
    for (typed, rest) in [("! 4", ["2", "no time, by order"]), ("! 7", ["a note", ""])] {
        let mut bench = Bench::over(begun(Head { checklist: short.clone(), ..demo_head() }));
        bench.types(&["yes", "yes", "! 5", "", "is the pin seat cracked?", "sign"]);
        let heard = bench.hears();
        let waits = heard.rsplit("Nothing is open now, and these steps wait:").next().unwrap();
        let steps: Vec<_> = waits.lines().filter(|line| line.starts_with("  ")).collect();
        let mut once = steps.clone();
        once.dedup();
        assert_eq!(steps, once);
        let saved = bench.saved.len();
        if typed == "! 7" {
            bench.types(&[typed, "1"]);
        } else {
            bench.types(&[typed]);
        }
        assert!(bench.question().starts_with("at which step"), "{}", bench.question());
        bench.types(&["bush.ts/look"]).types(rest.as_slice());
        assert!(bench.saved.len() > saved, "{}", bench.said_tail());
        assert_eq!(bench.saved[saved].act.step(), Some("bush.ts/look"));
    }
}

/// However many steps of the part it keeps shut.
#[test]
fn the_question_of_a_call_is_put_once_where_nothing_is_open() {
    let short = read_whole("short", &sample("checklists/short.yaml")).unwrap();
    let mut bench = Bench::over(begun(Head { checklist: short, ..demo_head() }));
    bench.types(&["yes", "yes", "! 5", "", "is the pin seat cracked?", "sign"]);
    let heard = bench.hears();
    let waits = heard.split("Nothing is open now, and these steps wait:").nth(1).unwrap_or_else(|| panic!("{heard}"));
    assert_eq!(waits.matches("is the pin seat cracked?").count(), 1, "{waits}");
    assert!(waits.contains("soak the bush: stop and call: is the pin seat cracked?\n"), "{waits}");
    assert!(waits.contains("1 hold as above.\n"), "{waits}");
    assert!(bench.question().starts_with("there to go to what ends it, "), "{}", bench.question());
    bench.types(&["there"]);
    let asked = bench.question();
    assert!(asked.starts_with("who answered") && asked.contains("is the pin seat cracked?"), "{asked}");
    bench.types(&["the maker, J", "no, a scratch"]);
    assert!(!bench.hears().contains("these steps wait"), "{}", bench.question());
}

/// Everything is left out, and only the start waits: for holds alone.
fn before_the_start() -> Inspection {
    let mut rig = Rig::with(demo_head());
    let asked: Vec<_> = progress::steps(&rig.inspection).cloned().collect();
    for step in asked {
        if step.id == "running/prelube" || progress::state(&rig.inspection, &step).is_settled() {
            continue;
        }
        match &step.takes {
            Takes::Points(points) if step.phase == Phase::Safe => {
                for point in points {
                    rig.take(Act::Confirm { step: step.id.clone(), point: point.id.clone() });
                }
            }
            Takes::Sign(Signing::Decisions) => drop(rig.sign(Signing::Decisions, &[])),
            Takes::Sign(Signing::Close) => {}
            _ => drop(rig.take(Act::Skip { step: step.id.clone(), place: None, reason: "no time, by order".into() })),
        }
    }
    rig.inspection
}

#[test]
fn of_many_holds_the_first_are_named_the_rest_counted_and_one_line_leads_on() {
    let mut bench = Bench::over(before_the_start());
    let heard = bench.hears();
    assert!(heard.contains(" more: ! 6 tells the steps, ! 24 the holds"), "{heard}");
    assert!(heard.lines().all(|line| line.matches("; ").count() < 7), "{heard}");
    bench.types(&["there"]);
    assert!(!bench.hears().contains("was not taken"), "{}", bench.question());
    assert!(!bench.question().starts_with("there to go"), "{}", bench.question());
    bench.types(&["!", "! 24"]);
    assert!(bench.hears().contains("left out: "));
    // a step that is asked for by name is shut by the same
    bench.types(&["! 6", "running/prelube"]);
    let question = bench.question();
    assert!(
        question.contains("Go where, empty for ") && question.contains("more: ! 6 tells the steps, ! 24 the holds"),
        "{question}"
    );
}

/// A count that does not come out is ended by no step: what is asked for is to read how all stands, and it is said so.
#[test]
fn where_no_one_step_ends_a_hold_the_line_says_so() {
    let mut inspection = before_the_start();
    let mut enter = |act: Act| {
        let last = inspection.entries().last().unwrap().clone();
        drop(apply(&mut inspection, Entry { number: last.number + 1, act, ..last }));
    };
    let all = before_the_start();
    for (id, tools) in [("strip/brought", "12"), ("rebuild/tools", "11")] {
        let skipped = |one: &&Entry| matches!(&one.act, Act::Skip { step, .. } if step == id);
        let entry = all.entries().iter().find(skipped).unwrap().number;
        enter(Act::Strike { entry, reason: "counted after all".to_owned() });
        for place in ["tools", "rags"] {
            let (step, place, typed) = (id.to_owned(), place.to_owned(), tools.to_owned());
            enter(Act::Reading { step, place, taken: typed.parse().unwrap(), typed, gauge: None, doubts: vec![] });
        }
    }
    let mut bench = Bench::over(inspection);
    let question = "no one step ends it: there to read how all stands, ! for what else, or leave?";
    assert_eq!(bench.question(), question);
    bench.hears();
    bench.types(&["there"]);
    let heard = bench.hears();
    assert!(heard.contains("tools: 11, first 12") && bench.question() == question, "{heard}");
}

/// What was found and is to be mended: whoever has mended it says so there.
#[test]
fn a_hold_for_rework_leads_to_the_answer_that_ends_it() {
    let mut inspection = Rig::with(demo_head()).inspection;
    let last = inspection.entries().last().unwrap().clone();
    let act = Act::Finding(FindingMade {
        part: "filter".to_owned(),
        step: "filter/look".to_owned(),
        kind: "oily".to_owned(),
        grade: "soaked".to_owned(),
        ..FindingMade::default()
    });
    drop(apply(&mut inspection, Entry { number: last.number + 1, act, ..last.clone() }));
    let standing = Standing::of(&inspection);
    let holds = &standing.part("filter").unwrap().verdict.holds;
    let hold = holds.iter().find(|hold| hold_words(hold).contains("rework to do, then say what was done")).unwrap();
    let back = inspection.head().checklist.step("filter/back").unwrap();
    let hand = Hand { by: last.by.clone(), writer: None, at: last.at, late: None, break_hours: 4 };
    let files = Files::default();
    let at =
        At { inspection: &inspection, standing: &standing, files: &files, hand, step: None, cell: None, point: None };
    let way = at.way_out(back, &[Missing::Held("filter".to_owned(), hold.clone())]);
    assert_eq!(way, Way::Ends(Other::AnswerTo(last.number + 1)));
}

/// `! 3` where the step at hand waits for something: said at once.
#[test]
fn nobody_is_asked_for_a_finding_that_would_be_refused() {
    let short = read_whole("short", &sample("checklists/short.yaml")).unwrap();
    let mut bench = Bench::over(begun(Head { checklist: short, ..demo_head() }));
    bench.types(&["yes", "yes", "! 5", "", "is the pin seat cracked?", "sign"]);
    bench.hears();
    bench.types(&["! 3", "2"]);
    let heard = bench.hears();
    assert!(heard.contains("is the pin seat cracked?") && !bench.question().starts_with("what is seen"), "{heard}");
}
