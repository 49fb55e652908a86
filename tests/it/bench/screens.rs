//! Golden screens as text. They hold no colour: every state must be known by its sign and its word.

use asfound::face::effect::Answer;
use asfound::face::message::{Message, Moment};
use insta::assert_snapshot;

use super::Bench;
use super::builder::Disk;
use super::steps::lifts;

#[test]
fn home() {
    assert_snapshot!(Bench::home().screen());
}

/// However little room there is, the first of what is wrong begins to be said.
#[test]
fn home_counts_nothing_that_is_wrong_without_saying_any_of_it() {
    let mut facts = super::demo::facts();
    facts.wrong = vec!["D1 is 30 days past its date; ".repeat(20), "D2 as well".to_owned()];
    facts.due.truncate(2);
    let mut bench = Bench::home();
    let at = Moment { stamp: super::demo::now(), millis: 1_000_000 };
    bench.tell(Message::Answered(Box::new(Answer::Home(Ok(Box::new(facts)))), at));
    drop(bench.expect("! D1 is 30 days past").expect("… and so on, 2 in all: asfound check"));
}

#[test]
fn begin() {
    assert_snapshot!(Bench::home().keys("7 down enter").typed("INV-0001").keys("enter").screen());
}

#[test]
fn readings() {
    let bench = lifts(Bench::at_step("bush.ts/clearance"), 17).typed("0.23");
    assert_snapshot!("readings", bench.screen());
    assert_snapshot!("readings_working", lifts(Bench::at_step("bush.ts/clearance"), 24).keys("tab").screen());
    assert_snapshot!("readings_why", lifts(Bench::at_step("bush.ts/clearance"), 8).keys("tab tab").screen());
}

#[test]
fn readings_judged() {
    assert_snapshot!(lifts(Bench::at_step("bush.ts/clearance"), 24).screen());
}

#[test]
fn question() {
    assert_snapshot!(lifts(Bench::at_step("bush.ts/clearance"), 17).typed("0.034").keys("enter").screen());
}

#[test]
fn what_else() {
    assert_snapshot!(Bench::at_step("bush.ts/clearance").keys("esc").screen());
}

#[test]
fn strike() {
    assert_snapshot!(lifts(Bench::at_step("bush.ts/clearance"), 4).keys("esc 1 enter").screen());
}

#[test]
fn look_and_finding() {
    assert_snapshot!("look", Bench::at_step("bush.ts/look").screen());
    assert_snapshot!("finding", Bench::at_step("bush.ts/look").keys("1 1 enter").typed("outer end").screen());
}

#[test]
fn points() {
    assert_snapshot!(Bench::at_step("safe/isolated").keys("enter enter").screen());
}

#[test]
fn all_steps() {
    assert_snapshot!(Bench::at_step("bush.ts/clearance").keys("esc 6").typed("turb").screen());
}

#[test]
fn far_view() {
    assert_snapshot!(lifts(Bench::at_step("bush.ts/clearance"), 17).typed("0.23").keys("f2").screen());
    assert_snapshot!("far_view_judged", lifts(Bench::at_step("bush.ts/clearance"), 24).keys("f2").screen());
}

#[test]
fn not_saved() {
    let bench = Bench::at_step("bush.ts/clearance").keys("esc 2 2").disk(Disk::Full).typed("0.020").keys("enter");
    assert_snapshot!("not_saved", bench.screen());
    assert_snapshot!("not_saved_ways_out", bench.keys("ctrl-q").screen());
}

#[test]
fn journal() {
    assert_snapshot!(Bench::at_step("shaft/diameter.ts").screen());
}

#[test]
fn lands() {
    assert_snapshot!(Bench::at_step("thrust.main/lands").screen());
}

#[test]
fn sign() {
    assert_snapshot!(Bench::at_step("job/decisions").screen());
}

#[test]
fn out_of_limit() {
    let edge = || Bench::at_step("nozzle/edge").keys("esc 2 1").typed("0.9").keys("enter");
    let bench = edge().expect("X OUT OF LIMIT: trailing edge thickness").expect("It leads to: replace Nozzle ring");
    assert_snapshot!("out_of_limit", bench.screen());
    assert_snapshot!("out_of_limit_seen", bench.keys("enter").screen());
    assert_snapshot!("out_of_limit_40x10", edge().sized(40, 10).screen());
    assert_snapshot!("out_of_limit_120x40", edge().sized(120, 40).screen());
    // what lies under it is not reached by any other key
    edge().keys("1 tab down f2").expect("X OUT OF LIMIT");
}

/// Beside the step on a wide screen: whole sentences, and that more follow.
#[test]
fn what_has_no_room_beside_a_step_ends_with_a_sentence_and_says_that_more_follows() {
    let screen = Bench::at_step("safe/isolated").sized(120, 40).screen();
    let rows: Vec<&str> = screen.lines().collect();
    let more =
        rows.iter().position(|row| row.trim_end().ends_with("(more: Tab)")).unwrap_or_else(|| panic!("{screen}"));
    assert!(rows[more - 1].trim_end().ends_with('.'), "{screen}");
}

#[test]
fn a_gauge_too_coarse_is_told_before_the_first_reading() {
    let bench = Bench::at_step("shaft/diameter.ts").keys("esc 2 2").expect("M2 is too coarse");
    assert_snapshot!("too_coarse", bench.keys("down up").screen());
}

#[test]
fn run_out() {
    assert_snapshot!(Bench::at_step("shaft/run-out.mid").screen());
}

#[test]
fn other_sizes() {
    let bench =
        |columns, rows| lifts(Bench::at_step("bush.ts/clearance"), 17).typed("0.23").sized(columns, rows).screen();
    assert_snapshot!("readings_120x40", bench(120, 40));
    assert_snapshot!("readings_60x20", bench(60, 20));
    assert_snapshot!("readings_40x10", bench(40, 10));
    assert_snapshot!("readings_39x9", bench(39, 9));
}

#[test]
fn no_size_breaks_any_screen() {
    for bench in [
        Bench::home(),
        Bench::home().keys("7"),
        Bench::home().keys("8"),
        lifts(Bench::at_step("bush.ts/clearance"), 24),
        Bench::at_step("bush.ts/clearance").keys("esc"),
        Bench::at_step("bush.ts/clearance").keys("f2"),
        Bench::at_step("bush.ts/clearance").keys("esc 6"),
        Bench::at_step("bush.ts/look").keys("1"),
    ] {
        let mut bench = bench;
        for (columns, rows) in [(1, 1), (2, 1), (1, 50), (300, 1), (3, 3), (40, 10), (79, 23), (80, 24), (250, 80)] {
            bench = bench.sized(columns, rows);
            assert!(!bench.screen().is_empty() || columns < 3);
        }
    }
}

/// However small the window is: other things give way first.
#[test]
fn a_caution_stays_in_sight_in_every_window() {
    for (columns, rows) in [(80, 24), (80, 23), (80, 20), (100, 30), (120, 40), (60, 16), (40, 10)] {
        let screen = Bench::at_step("bush.ts/clearance").sized(columns, rows).screen();
        let words: Vec<_> = screen.split_whitespace().collect();
        let words = words.join(" ");
        assert!(words.contains("! The dial stands on the plate. Its magnet never touches the rotor."), "{screen}");
        assert!(words.contains("outer 0, first down"), "{screen}");
    }
    let dialogue = Bench::at_step("bush.ts/clearance").sized(80, 20).keys("esc 5").screen();
    assert!(dialogue.contains("! The dial stands on the plate."), "{dialogue}");
}

/// A first line says less before it says half a word, a heading too, and none stands without its rows.
#[test]
fn what_has_no_room_in_a_small_window_says_less_and_no_half_word() {
    for (columns, rows) in [(60, 18), (50, 12), (40, 10)] {
        for (bench, name) in [(Bench::home(), "asfound"), (Bench::home().keys("7"), "asfound, begin")] {
            let screen = bench.sized(columns, rows).screen();
            let first = screen.lines().next().unwrap().trim();
            let head = first.strip_prefix(name).unwrap_or_else(|| panic!("{screen}")).trim_start();
            let (mark, when) = head.split_once(' ').unwrap_or_else(|| panic!("{screen}"));
            assert!(mark == "INVENTED" && when.ends_with("14:05"), "{screen}");
            assert!(!when.contains("2024") || when.trim() == "12 July 2024, 14:05", "{screen}");
        }
        let begin = Bench::home().keys("7").sized(columns, rows).screen();
        let words: Vec<_> = begin.split_whitespace().collect();
        assert!(words.join(" ").contains("What is left for later is held until it is given"), "{begin}");
        let menu = Bench::at_step("bush.ts/clearance").sized(columns, rows).keys("esc").screen();
        let heading = menu.lines().find(|line| line.starts_with(" -- ")).unwrap();
        assert!(heading.contains("what else: a digit"), "{menu}");
        // how many lines there are stands behind it
        let said = heading.trim_start_matches([' ', '-']).split(" -").next().unwrap();
        assert!(["digit", "Enter", "back"].iter().any(|end| said.trim_end().ends_with(end)), "{menu}");
        let lands = Bench::at_step("thrust.main/lands").sized(columns, rows).screen();
        let above_keys = lands.lines().rev().nth(1).unwrap();
        assert!(!above_keys.trim_end().ends_with("flat"), "{lands}");
    }
}

/// Rows of the work say whole words, and a verdict its word, however small the window is.
#[test]
fn no_row_of_a_step_is_cut_in_a_small_window_and_the_verdict_keeps_its_word() {
    for (columns, rows) in [(60, 18), (50, 12), (40, 10)] {
        for step in ["safe/permit", "bush.ts/look", "bush.ts/clearance", "thrust.main/lands"] {
            let screen = Bench::at_step(step).sized(columns, rows).screen();
            assert!(screen.lines().all(|row| !row.trim_end().ends_with('~')), "{step}: {screen}");
        }
        if rows < 12 {
            // two rows of figures are all that has room
            continue;
        }
        let judged = lifts(Bench::at_step("bush.ts/clearance"), 24).keys("up").sized(columns, rows).screen();
        assert!(judged.contains(" + within") || judged.contains(" ~ watch"), "{judged}");
    }
}

/// What is refused stands above the heading of the work, never in its place.
#[test]
fn a_long_refusal_leaves_the_heading_of_the_work() {
    let bench = lifts(Bench::at_step("bush.ts/clearance"), 3).typed("60").keys("enter").expect("cannot be read on");
    assert_snapshot!("refused", bench.expect("from the turbine end, 0 = pin slot").screen());
}
