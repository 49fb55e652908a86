//! Records from the first question to the last, and what is said on the way.

use std::collections::BTreeSet;

use asfound::domain::apply::apply;
use asfound::domain::characteristic::Given;
use asfound::domain::checklist::Step;
use asfound::domain::entry::Act;
use asfound::domain::inspection::{Head, Inspection, Scene};
use asfound::domain::person::{Person, Role};
use asfound::domain::progress;
use asfound::domain::soak;
use asfound::domain::standing::Standing;
use asfound::face::acts::Files;
use insta::assert_snapshot;

use super::bench::{Bench, Ended, begun, demo_head};

#[test]
fn the_first_questions_are_put_one_a_line() {
    let mut bench = Bench::demo();
    bench.types(&["?", "16950", "done", "0x10", "3 bar", "85", "!", "! 3"]);
    assert_snapshot!(bench.hears());
}

#[test]
fn safety_points_are_confirmed_or_marked_by_name() {
    let mut bench = Bench::demo();
    bench.walks_to("safe/isolated").hears();
    bench.types(&["no", "12.5", "not here", "yes", "not here", "", "no turning gear here", "yes"]);
    assert_snapshot!(bench.hears());
}

#[test]
fn a_lift_is_judged_when_its_set_is_complete() {
    let mut bench = Bench::demo();
    bench.walks_to("bush.ts/clearance").hears();
    bench.types(&[
        "D9", "!", "M1", "D2", ".020", ".010", "0.2", "retake", ".020", ".228", ".020", ".230", ".022", ".230",
    ]);
    bench
        .types(&[".020", ".224", ".020", ".224", ".020", ".226", ".020", ".034", "0.24", "1", "turn", ".020", ".2345"]);
    bench.types(&["again", ".234", ".018", ".232", ".022", ".230", ".020", ".290", "insist", ".020", ".230"]);
    assert_snapshot!(bench.hears());
}

#[test]
fn what_is_undecided_or_provisional_never_stands_with_a_plus() {
    let mut bench = Bench::demo();
    bench.walks_to("bush.ts/clearance").hears();
    bench.types(&["D1", ".02", ".23", ".02", ".23", ".02", ".24"]);
    let heard = bench.hears();
    assert!(heard.lines().any(|line| line.starts_with("? 0.2133") && line.contains("undecided")), "{heard}");
    // three digits on a dial that shows two
    bench.types(&[".02", ".18", ".02", ".18", ".02", ".180", "insist"]);
    let heard = bench.hears();
    assert!(
        heard.lines().any(|line| line.starts_with("? 0.16 mm at outer 90") && line.contains("provisional")),
        "{heard}"
    );
}

#[test]
fn a_gauge_is_named_anew_where_it_was_not_used_and_a_figure_is_no_gauge() {
    let mut bench = Bench::demo();
    bench.walks_to("bush.ts/clearance").hears();
    for figure in ["0.100", ".228", "0.228mm", "228um", "9thou", "0,228", "0.228 mm", "-.5"] {
        bench.types(&[figure]);
        assert!(bench.hears().contains(&format!("`{figure}` is a figure. The gauge first")), "{figure}");
        assert!(bench.question().starts_with("which dial gauge is in your hand"), "{}", bench.question());
    }
    bench.types(&["77"]);
    assert!(bench.question().contains("`77` looks like a figure"), "{}", bench.question());
    bench.types(&["no"]);
    assert!(bench.question().starts_with("which dial gauge is in your hand"), "{}", bench.question());
    bench.types(&["D2", ".020"]).walks_to("shaft/run-out.nose");
    assert!(bench.question().starts_with("which dial gauge is in your hand"), "{}", bench.question());
}

#[test]
fn a_finding_says_what_it_leads_to_and_obliges() {
    let mut bench = Bench::demo();
    bench.walks_to("bush.ts/look").hears();
    bench.types(&["hole", "1", "2", "inner end", "", "", "", "missing.jpg", "newest", "nothing more"]);
    assert_snapshot!(bench.hears());
}

#[test]
fn a_figure_past_its_limit_says_what_it_obliges() {
    let mut bench = Bench::demo();
    bench.walks_to("rotor/axial-float").hears();
    bench.types(&["D2", ".020", ".420", ".020", ".420", ".020", ".420"]);
    let heard = bench.hears();
    let line = heard.lines().find(|line| line.contains("axial float: 0.4 mm")).unwrap_or_else(|| panic!("{heard}"));
    assert!(line.contains(" Obliges: Thrust bearing, main side / prints of the lands, twice; "), "{line}");
}

#[test]
fn a_trainee_is_told_why_and_how_without_asking() {
    let mut bench = Bench::demo();
    bench.walks_to("rotor/axial-float").hears();
    bench.types(&["! who", "trainee", "", "yes", "yes", "yes", "yes", "yes", "yes", "yes", "yes", "yes"]);
    let heard = bench.hears();
    assert!(heard.contains("Why:\n") && heard.contains("How:\n"), "{heard}");
}

#[test]
fn what_else_can_be_done_is_done_there_too() {
    let mut bench = Bench::demo();
    bench.walks_to("rotor/axial-float").hears();
    bench.types(&[
        "D2",
        "0.100",
        "! strike",
        "",
        "3",
        "! strike",
        "9999",
        "x",
        "! stop",
        "3",
        "who owns the shims",
        "! answer to a call",
        "1",
    ]);
    bench.types(&[
        "maker",
        "go on",
        "! note",
        "2",
        "cold morning",
        "! note",
        "3",
        "yesterday, 14:00",
        "2199-01-01 14:00",
        "07:01",
        "",
        "0.100",
        "! note",
        "on",
        "4",
    ]);
    bench.types(&["! who", "2", "", "yes", "yes", "yes", "yes", "0.310", "! all steps", "rotor/shroud", "! leave"]);
    assert_eq!(bench.left, Ended::Left);
    assert_snapshot!(bench.hears());
}

#[test]
fn a_whole_inspection_is_signed_and_closed_line_by_line() {
    // for brevity what the start waits for is marked away on this walk, which takes a supervisor; the second machine's walk
    // by keys, from an empty folder, marks nothing away
    let mut bench = Bench::over(begun(Head { by: "supervisor-b".parse().unwrap(), ..demo_head() }));
    bench.whole = true;
    bench.walks_to("job/decisions").hears();
    bench.types(&["yes", "fitter-a"]);
    assert!(bench.hears().contains("fitter A is not at the machine, supervisor B is"));
    bench.types(&["yes", "Supervisor-B"]);
    assert!(bench.hears().contains("`yes` signs nothing."));
    for _ in 0..400 {
        if !bench.left_to_do() {
            break;
        }
        bench.answers();
    }
    let acts: Vec<_> = bench.inspection().entries().iter().filter(|entry| matches!(entry.act, Act::Sign(_))).collect();
    assert_eq!(acts.len(), 2, "{}", bench.said_tail());
    let Act::Sign(close) = &acts[1].act else { panic!("a signature") };
    let before = |number: u32| {
        let mut earlier = Inspection::new(bench.inspection().head().clone());
        for entry in bench.inspection().entries().iter().filter(|entry| entry.number < number) {
            apply(&mut earlier, entry.clone());
        }
        Standing::of(&earlier).holds_in_words()
    };
    assert!(!close.carried.is_empty());
    assert_eq!(close.carried, before(acts[1].number), "every hold is carried on by name");
}

/// End of input at any line: what was said to be taken is there, and the work goes on at the same field.
#[test]
fn an_end_of_input_at_any_line_goes_on_at_the_same_field() {
    let mut bench = Bench::demo();
    bench.walks_to("bush.ts/clearance");
    let lines = ["D2", ".020", ".228", ".020", ".034", "turn", "! 4", "1", "3", "! strike", "", "1", ".230"];
    for line in lines {
        bench.types(&[line]);
        let mut again = Inspection::new(bench.inspection().head().clone());
        for entry in &bench.saved {
            apply(&mut again, entry.clone());
        }
        assert_eq!(&again, bench.inspection(), "after `{line}`");
        let resumed = Bench::over(again);
        assert_eq!(resumed.session.place(resumed.now), bench.session.place(bench.now), "after `{line}`");
    }
}

/// Another invented machine, without a sheet: everything can be taken, and stays open.
#[test]
fn a_machine_without_a_sheet_is_inspected_and_stays_open() {
    let mut head = demo_head();
    head.sheet = None;
    head.instruments.clear();
    head.rotor.id = "TRY-7".parse().unwrap();
    head.scene = Scene::Invented;
    let mut bench = Bench::over(begun(head));
    bench.walks_to("bush.cs/clearance").hears();
    bench.types(&["X5", "0.002", "0 to 10", ".020", ".182", ".020", ".182", ".020", ".184"]);
    let level = [
        "! level",
        "",
        "invented book, page 3",
        "",
        "above 0.19",
        "above 0.20, below 0.11",
        ">0.20 <0.11 replace guarded",
    ];
    bench.types(&level);
    bench.types(&["! how it stands"]);
    assert_snapshot!(bench.hears());
}

/// Where no sheet says how many lands there are, they are counted on the bench, and the grid has as many rows.
#[test]
fn the_number_of_lands_is_counted_where_no_sheet_gives_it() {
    let mut head = demo_head();
    head.sheet = None;
    let mut bench = Bench::over(begun(head));
    bench.types(&["! figure of the machine", "lands on each side", "8.5"]);
    assert!(bench.hears().contains("8.5 is not a whole number from 1 to 200"));
    bench.types(&["8", "counted on the part"]);
    assert!(bench.hears().contains("given: entry 2, 0 saved."));
    let inspection = bench.inspection();
    let lands = Given::parse("thrust.lands").unwrap();
    assert_eq!(inspection.sheet().unwrap().given(lands), Some(8.into()));
    let step = inspection.head().checklist.step("thrust.main/lands").unwrap();
    let rows: BTreeSet<_> = progress::cells(inspection, step).into_iter().map(|cell| cell.row).collect();
    assert_eq!(rows.len(), 8, "{rows:?}");
    let number = inspection.entries().last().unwrap().number;
    bench.types(&["! strike", &number.to_string(), "1"]);
    assert!(matches!(&bench.inspection().entries().last().unwrap().act, Act::Strike { entry, .. } if *entry == number));
    assert_eq!(bench.inspection().sheet().and_then(|sheet| sheet.given(lands)), None);
}

/// What the folder's files came to hold after the record was begun is offered, and goes into the record whole.
#[test]
fn gauges_and_people_of_the_folder_are_taken_into_a_record_that_does_not_know_them() {
    let mut head = demo_head();
    let gauges = std::mem::take(&mut head.instruments);
    let bob =
        Person { id: "bob".parse().unwrap(), name: "Bob".to_owned(), roles: vec![Role::Supervisor], keys: vec![] };
    let mut bench = Bench::over(begun(head));
    bench.session = bench.session.clone().over(Files { gauges, people: vec![bob.clone()], ..Files::default() });
    bench.walks_to("bush.ts/clearance").types(&["! other gauge"]);
    let heard = bench.hears();
    assert!(
        heard.lines().any(|line| line.starts_with("D2, 0 to") && line.contains("not in this record yet")),
        "{heard}"
    );
    bench.types(&["D2", ".020"]);
    let d2 = bench.inspection().gauge(&"D2".parse().unwrap()).unwrap();
    assert!(d2.turn.is_some() && !d2.calibrations.is_empty(), "whole: {d2:?}");
    assert_eq!(bench.inspection().reading_count(), 1);
    bench.types(&["! who", "bob", ""]);
    assert_eq!(bench.inspection().person(&bob.id), Some(&bob));
}

#[test]
fn a_wait_stopped_too_early_is_begun_again() {
    let mut bench = Bench::demo();
    bench.walks_to("turbine/soak").types(&["start"]).waits(10);
    bench.types(&["! all steps", "turbine/soak", "stop"]);
    assert!(bench.hears().contains("Begin it again"));
    assert!(bench.question().starts_with("stopped after 11 min, wanted "), "{}", bench.question());
    // what needs it is shut, and the way there leads back to it
    bench.types(&["! all steps", "turbine/clean"]);
    assert!(bench.question().contains("stopped too early: begin it again"), "{}", bench.question());
    bench.types(&["", "start"]);
    assert_eq!(progress::soaking(bench.inspection()).len(), 1);
}

/// What ran over its time is asked about as it comes out; the reason is a note at its own step.
#[test]
fn a_soak_over_its_time_is_left_at_that_with_a_reason() {
    let mut bench = Bench::demo();
    bench.walks_to("filter/soak").types(&["start"]).waits(200);
    bench.types(&["! all steps", "filter/soak", "stop"]);
    assert!(bench.question().starts_with("stopped after "), "{}", bench.question());
    let step = Step::clone(bench.inspection().head().checklist.step("filter/soak").unwrap());
    assert!(soak::strayed(bench.inspection(), &step).is_some());
    bench.types(&["x"]);
    assert!(soak::strayed(bench.inspection(), &step).is_some(), "a letter is no reason");
    bench.types(&["the shift ended, the felt is sound"]);
    assert_eq!(soak::strayed(bench.inspection(), &step), None);
    assert_ne!(bench.session.place(bench.now).unwrap().0, "filter/soak");
}

#[test]
fn the_work_goes_on_from_a_step_chosen_by_hand() {
    let mut bench = Bench::demo();
    bench.walks_to("bush.ts/look").hears();
    bench.types(&["! all steps", "shaft/look"]);
    let said = bench.hears();
    assert!(said.contains("Left as it stood: bush.ts/look. The work goes on from here; ! 6 leads back."), "{said}");
    bench.types(&["nothing"]);
    let order: Vec<_> = progress::steps(bench.inspection()).map(|step| step.id.clone()).collect();
    let at = |step: &str| order.iter().position(|id| id == step).unwrap();
    let (now, _) = bench.session.place(bench.now).unwrap();
    assert!(at(&now) > at("shaft/look"), "{now}");
}

#[test]
fn no_line_typed_before_the_walk_round_was_asked_answers_it() {
    let mut bench = Bench::demo();
    bench.walks_to("rotor/axial-float").types(&["D2"]).waits(13 * 60).hears();
    let taken = bench.saved.len();
    bench.types(&["yes"]);
    let heard = bench.hears();
    assert!(heard.contains("`yes` was not taken, it was typed for another question"), "{heard}");
    assert!(heard.contains("each of these must be so"), "{heard}");
    let first = bench.question().to_owned();
    assert!(first.contains("still so, every point"), "{first}");
    bench.types(&["no"]);
    assert_eq!((bench.question(), bench.saved.len()), (first.as_str(), taken));
    bench.types(&["yes", "yes", "yes", "yes", "0.100"]);
    assert_eq!(bench.question(), "shaft end, first pulled, mm?");
}

#[test]
fn a_break_has_the_safety_points_asked_again() {
    let mut bench = Bench::demo();
    bench.walks_to("safe/isolated").types(&["yes", "not here", "no turning gear on this plant"]);
    bench.walks_to("rotor/axial-float").types(&["D2"]).waits(13 * 60).hears();
    bench.types(&["0.100"]);
    let heard = bench.hears();
    assert!(heard.contains("  Fuel shut, locked, tagged.\n"), "{heard}");
    assert!(heard.contains("locked and tagged: not here, no turning gear on this plant.\n"), "{heard}");
    assert!(bench.question().contains("still so, every point"), "{}", bench.question());
    let taken = bench.saved.len();
    bench.types(&["0.100", "no"]);
    assert_eq!(bench.saved.len(), taken, "no figure answers for safety");
    bench.types(&["yes", "yes", "yes", "yes", "0.100"]);
    assert_eq!(bench.question(), "shaft end, first pulled, mm?");
}

#[test]
fn a_list_takes_numbers_words_and_ids() {
    for typed in ["bush.ts", "Bush, turbine side"] {
        let mut bench = Bench::demo();
        bench.walks_to("bush.ts/clearance").hears();
        bench.types(&["! 5"]);
        assert!(bench.question().contains("which part"), "{}", bench.question());
        bench.types(&[typed]);
        assert!(!bench.hears().contains("none of these"), "{typed}");
    }
    let mut bench = Bench::demo();
    bench.types(&["! mentor", "Supervisor B"]);
    assert!(!bench.hears().contains("none of these"));
}

#[test]
fn a_temperature_that_no_room_has_is_asked_about_with_its_likeliest_cause() {
    for (typed, cause) in
        [("72", "or was it 72 degF, another unit"), ("220", "or was it 22 degC, a digit or a point too many")]
    {
        let mut bench = Bench::demo();
        bench.walks_to("rotor/temperature").hears();
        bench.types(&[typed]);
        let heard = bench.hears();
        assert!(heard.contains("Usually between 0 degC and 45 degC") && heard.contains(cause), "{heard}");
    }
}

#[test]
fn a_step_is_found_by_a_few_letters_of_its_name() {
    let mut bench = Bench::demo();
    bench.walks_to("bush.ts/look").hears();
    bench.types(&["! all steps", "clearance by lift"]);
    let said = bench.hears();
    assert!(said.contains("`clearance by lift` is more than one step: bush.cs/clearance, bush.ts/clearance"), "{said}");
    bench.types(&["no such letters"]);
    let said = bench.hears();
    assert!(said.contains("`no such letters` is no step."), "{said}");
    bench.types(&["ts/clear"]);
    let said = bench.hears();
    assert!(said.contains("bush.ts/clearance is not open yet"), "{said}");
}
