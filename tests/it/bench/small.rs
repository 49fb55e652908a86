//! The smallest windows: what is asked, marked or must be seen stays in sight, the rest gives way.

use super::Bench;
use super::review::{demonstration, review_of};
use super::steps::lifts;
use super::whole::safe;

/// Its lines without blanks: however they are wrapped, no letter of them is lost.
fn letters(text: &str) -> String {
    text.split_whitespace().collect()
}

#[test]
fn no_line_of_the_evidence_loses_a_letter_at_any_width() {
    let mut bench = Bench::reading(demonstration());
    for _ in 0..6 {
        bench = bench.sized(80, 24).keys("tab");
        let screen = bench.screen();
        let number = screen.split(", page ").nth(1).and_then(|rest| rest.split(' ').next()).unwrap();
        let page = number.parse::<usize>().unwrap() - 2;
        let item = review_of(&bench).review.pages[page].items[0].clone();
        bench = bench.keys("enter");
        for columns in [40, 50, 60, 79, 80, 93] {
            bench = bench.sized(columns, 300);
            let screen = letters(&bench.screen());
            for line in &item.evidence {
                assert!(screen.contains(&letters(line)), "{columns}: {line}\n{}", bench.screen());
            }
        }
        bench = bench.keys("enter");
    }
}

#[test]
fn the_marked_choice_stands_whole_and_the_text_gives_way() {
    let doubt = || lifts(Bench::at_step("bush.ts/clearance"), 17).typed("0.034").keys("enter");
    let hands = || {
        let bench = Bench::at_step("bush.ts/clearance").keys("esc 9").typed("fitter Q").keys("enter 1 enter enter");
        bench.expect("Is the machine still safe?")
    };
    let safe = ["not sure: show the safety points", "yes, I have looked:"];
    let all = ["look at the gauge again; 0.034 stays in the field", "type it again", "the turn was missed"];
    for (columns, rows) in [(40, 10), (50, 10), (60, 12), (80, 24)] {
        for (mut bench, choices) in [(doubt(), &all[..]), (hands(), &safe[..])] {
            bench = bench.sized(columns, rows);
            for choice in choices {
                bench = bench.expect(choice).keys("down");
            }
        }
    }
    // what gave way can be read
    let bench = hands().sized(40, 10).expect("PgDn").keys("pagedown pagedown pagedown");
    drop(bench.expect("nobody has taken a tag off.").expect(safe[0]));
}

#[test]
fn the_field_for_the_name_is_in_sight_and_lines_that_have_no_room_are_counted() {
    let bench = Bench::at_step("job/decisions").sized(40, 10).typed("fitter A").expect("[ fitter A_");
    let screen = bench.screen();
    assert!(screen.contains("more lines: PgDn"), "{screen}");
}

#[test]
fn the_marked_line_of_the_first_screen_is_always_there() {
    for (columns, rows) in [(40, 10), (50, 10), (60, 12)] {
        let mut bench = Bench::home().sized(columns, rows);
        for digit in '1'..='8' {
            let screen = bench.screen();
            let marked = screen.lines().any(|line| line.starts_with(&format!(" {digit}  ")));
            assert!(marked, "{columns}x{rows}, {digit}:\n{screen}");
            bench = bench.keys("down");
        }
    }
}

#[test]
fn what_is_out_of_limit_can_be_read_to_its_end() {
    let bench = Bench::at_step("nozzle/edge").keys("esc 2 1").typed("0.9").keys("enter").sized(40, 10);
    let bench = bench.expect("X OUT OF LIMIT").expect("more lines: PgDn").keys("pagedown pagedown pagedown pagedown");
    drop(bench.expect("Source: ").keys("pageup pageup pageup pageup").expect("trailing edge"));
}

#[test]
fn how_many_kinds_there_are_stands_beside_what_says_that_nothing_is_seen() {
    let screen = Bench::at_step("bush.ts/look").sized(40, 10).screen();
    let line = screen.lines().find(|line| line.contains(": arrows")).unwrap_or_else(|| panic!("{screen}"));
    assert!(line.contains("nothing (more)  "), "{screen}");
}

#[test]
fn a_record_for_review_says_first_that_it_is_invented() {
    let demo = crate::sources::root().join("tests/data/records/format-1");
    let screen = Bench::reviewing(&demo).sized(40, 10).screen();
    assert!(screen.contains("INVENTED: DEMO-1"), "{screen}");
}

#[test]
fn the_verdicts_beside_a_step_stand_under_each_other() {
    let screen = Bench::on(safe("bearing")).sized(120, 40).screen();
    let rows: Vec<Vec<char>> = screen.lines().skip(1).map(|line| line.chars().collect()).collect();
    assert!(screen.contains("not in this scope "), "{screen}");
    let parts = rows.iter().take_while(|row| row.iter().skip(82).any(|letter| *letter != ' '));
    let out: Vec<_> = parts.filter_map(|row| row.get(100)).filter(|letter| **letter != ' ').collect();
    assert!(out.is_empty(), "{out:?}\n{screen}");
}

/// Before its set is complete a place that is not within is told from two metres too.
#[test]
fn a_place_past_its_limit_is_told_in_the_far_view_before_the_set_is_complete() {
    let mut bench = Bench::at_step("bush.ts/clearance").keys("esc 2 2");
    for text in ["0.020", "0.232", "0.020", "0.232", "0.020", "0.232"] {
        bench = bench.typed(text).keys("enter");
    }
    drop(bench.keys("f2").expect("~ WATCH AT OUTER 0; JUDGED WHEN COMPLETE: 6 OF 24 TAKEN"));
}

/// A part that is referred stands before what the job only leaves open.
#[test]
fn who_signs_reads_the_worst_first() {
    let screen = Bench::on(demonstration()).keys("esc 6").typed("job/decisions").keys("enter").screen();
    let signs: String =
        screen.lines().skip(11).filter_map(|line| line.chars().nth(1)).filter(|c| "X/!>?".contains(*c)).collect();
    let first_open = signs.find('?').unwrap_or(signs.len());
    assert!(!signs.is_empty() && !signs[first_open..].contains(['X', '/', '!', '>']), "{signs}\n{screen}");
}
