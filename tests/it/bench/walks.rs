//! What can be done besides the step's own question, each screen as text at 80 by 24; and what every screen must show.

use asfound::domain::checklist::Signing;
use asfound::domain::entry::Act;
use asfound::domain::progress;
use insta::assert_snapshot;

use super::forms::lines;
use super::{Bench, demo};
use crate::rig::Rig;

fn at_bush() -> Bench {
    Bench::at_step("bush.ts/clearance").keys("esc 2 2")
}

#[test]
fn what_else_is_done_on_the_way() {
    assert_snapshot!("else_photo", at_bush().keys("esc 8").screen());
    assert_snapshot!("else_note", at_bush().keys("esc 7 1 enter").typed("dial plate was loose").screen());
    assert_snapshot!("else_skip", at_bush().keys("esc 4 2 enter").screen());
    assert_snapshot!("else_who", at_bush().keys("esc 9 enter").screen());
    assert_snapshot!("else_gauge", at_bush().keys("esc 2").screen());
    assert_snapshot!("else_gauge_new", at_bush().keys("esc 2 4").typed("D9").keys("enter").screen());
}

#[test]
fn a_call_holds_the_part_on_the_screen_until_it_is_answered() {
    let called = at_bush().keys("esc 5 enter").typed("is it scored through?").keys("enter");
    assert_eq!(called.screen().matches("is it scored through?").count(), 1, "{}", called.screen());
    assert_snapshot!("else_called", called.screen());
    assert_snapshot!("else_answer", called.keys("esc 5").screen());
}

#[test]
fn figures_late_from_paper_say_so_until_they_are_no_longer() {
    let late = at_bush().keys("esc 7 3 enter").typed("11 July, 15:20");
    assert_snapshot!("else_late", late.screen());
    let late = late.keys("enter").expect("is no time on paper").keys("delete").typed("2024-07-12 14:06").keys("enter");
    let late = late.expect("is still to come").keys("delete").typed("2024-07-11 15:20").keys("enter");
    let late =
        late.expect("lies before this inspection was begun").keys("down enter").expect("Type the time of the paper");
    let late = late.keys("delete").typed("13:20").keys("enter").expect("photo of the paper").keys("enter");
    let late = late.typed("0.020").keys("enter").expect("LATE FROM PAPER, 2024-07-12 13:20");
    assert_snapshot!("else_from_paper", late.screen());
    // put down and taken up again it is the same paper still
    let late = late.killed().expect("LATE FROM PAPER, 2024-07-12 13:20");
    let done = late.keys("esc 7 4 enter").expect("No longer from paper.").expect_not("LATE FROM PAPER");
    let record = done.record();
    let entry = record.entries().iter().rev().find(|entry| matches!(entry.act, Act::Reading { .. })).unwrap();
    assert_eq!(entry.late.as_ref().unwrap().taken, "2024-07-12 13:20");
}

#[test]
fn a_soak_is_put_in_waited_for_and_taken_out() {
    let soak = Bench::at_step("turbine/soak");
    assert_snapshot!("soak", soak.screen());
    let soak = soak.keys("enter");
    assert_snapshot!("soak_running", soak.screen());
    assert_snapshot!("soak_ready", soak.later(130).screen());
}

/// Out of the bath before it was in: one of the two times on the paper is misread.
#[test]
fn a_clock_stopped_before_it_was_started_is_refused_at_its_time() {
    let late = Bench::at_step("turbine/soak").keys("esc 7 3 enter").typed("09:50").keys("enter").keys("enter");
    let late = late.keys("enter").expect("when the clock was started").typed("09:40").keys("enter");
    let late = late.keys("enter").expect("when the clock was stopped").typed("09:10").keys("enter");
    late.expect("Stopped at 09:10, before it was started, at 09:40");
}

/// A developer stays on when its time is over, and a drying has nothing to take out: the clock's words suit all.
#[test]
fn the_words_of_a_wait_suit_a_drying_as_well_as_a_bath() {
    for id in ["turbine/soak", "turbine/dry", "impeller/degrease"] {
        let step = demo::up_to(id).head().checklist.step(id).unwrap().clone();
        let mut bench = Bench::at_step(id).expect("Enter: start the clock");
        for (minutes, words) in [(0, "time over at "), (0, "Esc 6: meanwhile"), (72 * 60, "! too long since ")] {
            bench = if words.starts_with("time") { bench.keys("enter") } else { bench.later(minutes) };
            bench = bench.expect(words);
            // what the step itself says of a bath is not the clock's
            let said: String = bench
                .screen()
                .lines()
                .filter(|line| !step.doing.iter().any(|text| line.contains(text.as_str())))
                .collect();
            for word in ["put in", "take it out", "taken out", "soaks"] {
                assert!(!said.contains(word), "{id}: `{word}` on\n{}", bench.screen());
            }
        }
        // whole on 80 columns, day and all
        bench.expect("2024: go on now").expect("Enter: stop the clock");
    }
}

/// Nobody asked for it: Enter goes on, and no clock starts.
#[test]
fn a_wait_that_is_not_wanted_is_only_gone_on_from() {
    let bench = at_bush().keys("esc 6").typed("degrease").keys("enter").expect("not wanted here. Enter: next step");
    let before = bench.entries();
    let bench = bench.keys("enter").expect("next: ");
    assert_eq!(bench.entries(), before);
}

/// An awaited countersignature blocks nothing and is never out of sight.
#[test]
fn a_countersignature_that_is_awaited_stands_on_every_screen_of_the_record() {
    let words = "countersign pending ashore";
    let signed = demo::up_to("rebuild/ready");
    assert_snapshot!("countersign_pending", Bench::on(signed.clone()).screen());
    for keys in ["", "esc", "esc 0", "esc 6", "esc 7", "esc 5 enter", "f2", "tab", "f1", "esc 0 1"] {
        Bench::on(signed.clone()).keys(keys).expect(words).expect("INVENTED").expect("DEMO-1 overhaul");
    }
    for (columns, rows) in [(40, 10), (60, 14), (60, 20), (79, 23), (120, 40)] {
        for keys in ["", "esc", "esc 0", "esc 6", "esc 7", "tab", "f1"] {
            Bench::on(signed.clone()).sized(columns, rows).keys(keys).expect(words).expect("INVENTED");
        }
        let figures = Bench::on(signed.clone()).sized(columns, rows).keys("esc 6").typed("bush.ts/clearance");
        figures.keys("enter f2").expect("ENTER: NEXT STEP").expect(words).expect("INVENTED");
    }
    for keys in ["", "tab", "enter", "esc", "esc 6"] {
        Bench::reading(signed.clone()).keys(keys).expect(words);
    }
    at_bush().expect_not(words).expect("INVENTED DEMONSTRATION");
}

/// One rule with the line mode: nothing is carried on that was not named.
#[test]
fn the_close_carries_each_hold_on_by_name() {
    let mut rig = Rig::begun();
    rig.make_safe().leave_rest().sign(Signing::Decisions, &[]);
    let holds = rig.standing().holds_in_words();
    assert!(holds.len() > 2, "{holds:?}");
    let bench = Bench::on(rig.inspection).expect("type the name to sign: fitter-a").typed("fitter-a").keys("enter");
    let bench = bench.expect(&format!("hold 1 of {}", holds.len())).keys("1 enter").expect("hold 2 of");
    assert_snapshot!("close_carries_on", bench.screen());
    // going back to settle one forgets what was named: the list may be another by then
    let before = bench.entries();
    let mut bench = bench.keys("esc").expect_not("hold 2 of").keys("enter").expect("> hold 1 of");
    for _ in &holds {
        assert_eq!(bench.entries(), before, "{}", bench.screen());
        // Enter alone names nothing
        bench = bench.keys("enter").expect("Carried on by name of fitter-a").keys("1 enter");
    }
    let record = bench.record();
    let Act::Sign(signature) = &record.entries().last().unwrap().act else { panic!("{:?}", record.entries().last()) };
    assert_eq!((signature.what, &signature.carried), (Signing::Close, &holds));
}

/// Past its limit: what it leads to and what else it obliges, at once; struck, it obliges nothing.
#[test]
fn a_figure_past_its_limit_says_at_once_what_else_it_obliges() {
    let mut bench = Bench::at_step("rotor/axial-float").keys("esc 2 2");
    for figure in ["0.020", "0.420", "0.020", "0.420", "0.020", "0.420"] {
        bench = bench.typed(figure).keys("enter");
    }
    let bench = bench.expect("It leads to: refer. Rotor in its bearings").expect(
        "It also obliges: Thrust bearing, main side / prints of the lands, twice; Thrust bearing, counter side",
    );
    assert_snapshot!("past_limit_obliges", bench.screen());
    let state = |bench: &Bench, wanted: &str| {
        let Some(job) = bench.model.job() else { panic!("no record is open") };
        let step = progress::steps(&job.inspection).find(|step| step.id == "event/wheels").unwrap();
        assert_eq!(asfound::face::acts::state_word(&job.inspection, step), wanted);
    };
    state(&bench, "to do");
    // one struck and not retaken: what the others show is past the limit still
    let mut bench = bench.keys("enter esc 1 enter 1 enter");
    state(&bench, "to do");
    for _ in 0..4 {
        bench = bench.keys("esc 1 enter 1 enter");
    }
    state(&bench, "not asked for");
}

/// Why and how stand open for a trainee until the step's last figure brings the verdict.
#[test]
fn a_trainee_sees_why_and_how_by_default() {
    let bench = at_bush().expect_not("why it is done").keys("esc 9").typed("trainee").keys("enter enter down enter");
    let bench = bench.expect("why it is done, and how to hold it");
    assert_snapshot!("trainee", bench.screen());
    let bench =
        bench.keys("esc 6").typed("turbine side bore").keys("enter").expect("why it is done, and how to hold it");
    let bench = bench.keys("esc 9").typed("fitter A").keys("enter enter").keys("down enter");
    bench.keys("esc 6").typed("compressor side bore").keys("enter").expect_not("why it is done");
}

/// Said once: in the lower half where it stands open.
#[test]
fn how_it_is_done_stands_once() {
    let screen =
        Bench::at_step("impeller/clean").keys("esc 9").typed("trainee").keys("enter enter down enter").screen();
    let how = Bench::at_step("impeller/clean").model.job().and_then(|job| job.step()).unwrap().how[0].clone();
    let first: String = how.chars().take(40).collect();
    assert_eq!(screen.matches(&first).count(), 1, "{screen}");
}

#[test]
fn what_was_found_stays_in_sight_below_the_longest_list() {
    let mut bench = Bench::at_step("impeller/look");
    for _ in 0..4 {
        bench = bench.keys("1 1 enter");
        while bench.screen().contains("Enter next answer") {
            bench = bench.keys("enter");
        }
        while bench.screen().contains("Enter seen") {
            bench = bench.keys("enter");
        }
    }
    assert_snapshot!("look_entered", bench.screen());
}

#[test]
fn every_step_is_named_whole_in_the_list_of_all() {
    let mut bench = Bench::on(demo::begun()).keys("esc 6");
    for _ in 0..22 {
        let screen = bench.screen();
        let cut = screen.lines().skip(10).find(|line| line.contains('~'));
        assert!(cut.is_none(), "{cut:?} is cut on\n{screen}");
        bench = bench.keys("pagedown");
    }
    bench.expect("sign the close");
}

/// A million digits: a short reason, at once, and nothing taken.
#[test]
fn a_million_digits_end_in_a_full_field_and_a_short_reason() {
    let bench = at_bush();
    let before = bench.entries();
    let bench = bench.paste(&"1".repeat(1_000_000)).expect("cut to one line of 40 characters").keys("enter");
    let bench = bench.expect("More than 18 digits");
    assert_eq!(bench.entries(), before);
    assert!(bench.model.said.as_ref().unwrap().text.len() < 160);
    assert!(bench.model.job().unwrap().field().len() <= 40);
}

/// Limits made up for a demonstration judge no real machine: told before anything is written, the answers kept.
#[test]
fn the_demonstrations_sheet_is_refused_for_a_rotor_that_is_not_the_demonstrations() {
    let folder = tempfile::tempdir().unwrap();
    let sheet = "sheets/INV-420.yaml";
    std::fs::create_dir(folder.path().join("sheets")).unwrap();
    std::fs::copy(format!("{}/assets/demo/INV-420.yaml", env!("CARGO_MANIFEST_DIR")), folder.path().join(sheet))
        .unwrap();
    let bench = Bench::over(folder.path()).keys("1");
    // at once, not behind all the answers
    let bench = lines(bench, "TRY-1\nINV-420");
    assert_snapshot!("begin_refused", bench.screen());
    bench.expect("The limits sheet of INV-420 is an invented one and TRY-1 is not");
    assert!(!folder.path().join("rotors").exists());
}

/// Mistyped, nothing would be judged; and nobody is told that there is no sheet where there is one.
#[test]
fn a_machine_type_without_a_sheet_is_asked_about_before_a_new_rotor_begins() {
    let folder = tempfile::TempDir::new().unwrap();
    let bench = Bench::over(folder.path()).keys("1");
    drop(lines(bench, "TRY-1").expect("there is no limits sheet here yet"));
    let sheet = std::fs::read_to_string("docs/files/sheets/INV-420.yaml").unwrap().replace("invented: yes\n", "");
    std::fs::create_dir_all(folder.path().join("sheets")).unwrap();
    std::fs::write(folder.path().join("sheets/INV-420.yaml"), sheet).unwrap();
    let bench = lines(Bench::over(folder.path()).keys("1"), "TRY-1");
    let bench = bench.expect("the name of its limits sheet").expect_not("no limits sheet here yet");
    let bench = lines(bench, "INV-402\nS-1").keys("enter");
    bench.expect("No limits sheet is called INV-402, there is INV-420: nothing would be judged.");
}

/// Until it is taken its step is open again: the hand goes there, and the way back is said.
#[test]
fn one_more_repeat_asked_for_elsewhere_is_taken_next() {
    let mut bench = at_bush();
    for text in ["0.200", "0.200", "0.239", "0.200"].iter().flat_map(|up| ["0.020", up].repeat(3)) {
        bench = bench.typed(text).keys("enter");
    }
    let bench = bench.keys("enter").expect("? undecided: inner 0").keys("enter").expect_not("inner 0, fourth down");
    let bench = bench.keys("esc 0").keys(&"down ".repeat(16)).keys("enter 1 enter");
    bench.expect("> inner 0, fourth down [ _").expect("one repeat more, to be taken here; Esc 6 leads back");
}
