//! Page 1 where there is much to decide, or something to be warned of.

use asfound::domain::entry::{Act, Remark};

use super::Bench;
use super::review::{add, demonstration, review_of, sign, signed};

/// A part that is not within is never hidden behind what is to be decided, in any window that shows a step.
#[test]
fn much_to_decide_leaves_the_parts_in_sight() {
    let mut inspection = signed();
    for part in ["nozzle", "turbine", "casing", "labyrinth", "collar", "impeller"] {
        let question =
            format!("what was found on this {part} was not seen before: what is to be done with it, and by whom?");
        add(&mut inspection, "fitter-a", Act::Call { part: part.into(), question });
    }
    for (columns, rows) in [(80, 24), (79, 23), (60, 20), (120, 40)] {
        let screen = Bench::reading(inspection.clone()).sized(columns, rows).screen();
        let parts = if columns < 70 { &["1 impeller"][..] } else { &["1 impeller", "2 main thrust"] };
        for part in parts {
            assert!(screen.contains(part), "{columns} x {rows}\n{screen}");
        }
        assert!(screen.contains("? new part"), "what holds it\n{screen}");
        for sure in ["WILL IT LAST?", "IS IT CLOSED?", "TO DECIDE"] {
            assert!(screen.contains(sure), "{columns} x {rows}\n{screen}");
        }
        assert!(screen.contains(" below: arrows"), "{columns} x {rows}\n{screen}");
        let more = screen.lines().find(|line| line.contains("more: Tab, page 2"));
        assert_eq!(more.is_some(), rows < 40, "{screen}");
    }
    // what is counted there stands whole on the page behind
    let bench = Bench::reading(inspection).keys("tab end");
    drop(bench.expect("what was found on this impeller"));
}

#[test]
fn what_page_one_warns_of_is_asked_about_before_a_countersignature() {
    let mut inspection = demonstration();
    add(&mut inspection, "fitter-a", Act::seen(9, "the stick was in another hand".into()));
    sign(&mut inspection, "fitter-a");
    let signed = inspection.entries().len();
    let bench = Bench::reading(inspection).keys("esc 1 enter").expect("! changed outside from entry 9 on");
    // Enter once more is not enough
    let bench = bench.keys("enter");
    assert_eq!(review_of(&bench).inspection.entries().len(), signed, "{}", bench.screen());
    let bench = bench.keys("esc 1 enter up enter").expect("countersigned");
    assert!(matches!(review_of(&bench).inspection.entries().last().unwrap().act, Act::Countersign { .. }));
}

/// What holds a part is said where it is listed, beside what made it so.
#[test]
fn the_cause_of_a_referral_is_never_only_counted() {
    let screen = Bench::reading(signed()).screen();
    let from = screen.lines().position(|line| line.contains(" impeller") && line.contains("X replace")).unwrap();
    let row: Vec<_> = screen.lines().skip(from).take(3).collect();
    let row = row.join(" ");
    assert!(row.contains("dent, ") && row.contains("hours since new"), "{screen}");
}

/// In as narrow a window as a bench has, each line of it says that it was sent back.
#[test]
fn what_was_sent_back_is_seen_on_each_of_its_lines() {
    let mut inspection = signed();
    let sign = inspection.entries().last().unwrap().number;
    let remark = Remark { step: Some("bush.ts/clearance".into()), text: "which side?".into() };
    add(&mut inspection, "supervisor-b", Act::Return { sign, chain: String::new(), remarks: vec![remark] });
    let bench = Bench::reading(inspection).expect("* sent back");
    let review = &review_of(&bench).review;
    let bush = review.lines.iter().position(|line| line.part == "bush.ts").unwrap();
    let bench = bench.keys(&(bush + 1).to_string());
    let screen = bench.screen();
    let lines: Vec<_> = screen.lines().filter(|line| line.contains("clearance") && line.starts_with('*')).collect();
    assert!(!lines.is_empty() && lines.iter().all(|line| line.contains("(sent back) ")), "{screen}");
}
