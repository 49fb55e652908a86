//! The smallest windows: what is asked, marked or must be seen stays in sight, the rest gives way.

use asfound::domain::checklist::Takes;
use asfound::domain::entry::Act;
use asfound::domain::inspection::Scene;
use asfound::face::model::Screen;
use asfound::records::store::Store;

use super::Bench;
use super::review::{add, demonstration, review_of};
use super::steps::lifts;
use super::whole::safe;
use crate::review::shelf::Shelf;

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

/// The sizes below the whole one: the smallest, one in the middle, the largest.
const SMALL: [(u16, u16); 3] = [(40, 10), (60, 14), (79, 23)];

/// The point that Enter confirms; none at a step of another kind.
fn marked_point(bench: &Bench) -> Option<String> {
    let Screen::Job(job) = &bench.model.screen else { panic!("no record is open") };
    let Some(Takes::Points(points)) = job.step().map(|step| &step.takes) else { return None };
    points.get(job.at()).map(|point| point.text.clone())
}

#[test]
fn the_point_that_enter_confirms_is_in_sight_whatever_is_said() {
    for (columns, rows) in SMALL {
        let mut bench = Bench::on(crate::bench::demo::begun()).keys("esc 6").typed("safe/").keys("enter");
        bench = bench.sized(columns, rows);
        let (mut seen, mut held) = (0, 0);
        while marked_point(&bench).is_some() {
            seen += 1;
            bench = bench.ahead("enter enter").keys("enter").ahead("enter");
            let Some(point) = marked_point(&bench) else { break };
            let screen = bench.screen();
            let settled = screen.contains("all settled");
            assert!(settled || letters(&screen).contains(&letters(&point)), "{point}\n{screen}");
            assert!(settled || screen.contains("stands for it"), "{screen}");
            held += usize::from(!settled && screen.contains("Enter held"));
        }
        assert!(seen > 10 && held > 5, "{seen}, {held}\n{}", bench.screen());
    }
}

/// The turbine side's lifts of the demonstration, down and up by place.
const LIFTS: [&str; 24] = [
    "0.020", "0.228", "0.020", "0.230", "0.022", "0.230", "0.020", "0.224", "0.020", "0.224", "0.020", "0.226",
    "0.020", "0.234", "0.020", "0.234", "0.018", "0.232", "0.020", "0.226", "0.020", "0.226", "0.020", "0.226",
];

#[test]
fn what_was_just_judged_and_its_working_are_read_in_small_windows() {
    for (columns, rows) in SMALL {
        let mut bench = Bench::at_step("bush.ts/clearance").keys("esc 2 2").sized(columns, rows);
        for text in &LIFTS[..18] {
            bench = bench.typed(text).keys("enter");
        }
        bench = bench.expect("taken; 0.214 ~ watch");
        for text in &LIFTS[18..] {
            bench = bench.typed(text).keys("enter");
        }
        // the set is whole: what it leads to at the next opening stands there too
        let bench = bench.expect("X replace by forecast; today alert").keys("tab").expect("working");
        let (first, last) = (bench.screen(), bench.keys(&"pagedown ".repeat(20)).screen());
        assert_ne!(first, last, "{first}");
        assert!(!last.contains("judged when complete"), "{last}");
    }
}

#[test]
fn what_comes_first_at_a_shut_step_is_named_in_a_small_window() {
    let bench = Bench::on(crate::bench::demo::begun()).keys("esc 6").typed("bush.ts/clear").keys("enter");
    drop(bench.sized(40, 10).expect("not open yet").expect("what comes first"));
}

#[test]
fn the_line_that_enter_opens_at_a_look_is_in_sight() {
    for (columns, rows) in SMALL {
        for said in ["", "up enter"] {
            let mut bench = Bench::at_step("bush.ts/look").sized(columns, rows).keys(said);
            for _ in 0..4 {
                let Screen::Job(job) = &bench.model.screen else { panic!("no record is open") };
                let (screen, line) = (bench.screen(), format!("{} ", (job.at() + 1) % 10));
                assert!(screen.lines().any(|row| row.starts_with(&format!("  {line}"))), "{line}\n{screen}");
                assert!(!screen.contains("st1 of") && !screen.contains("te1 of"), "one over the other\n{screen}");
                bench = bench.keys("up");
            }
        }
    }
}

#[test]
fn a_list_says_how_many_lines_it_has_where_not_all_are_in_sight() {
    let step = || Bench::at_step("bush.ts/look").sized(40, 10);
    drop(step().keys("esc").expect("what else").expect(" of 12 "));
    drop(Bench::reading(demonstration()).sized(40, 10).keys("esc").expect("what else").expect(" of 10 "));
    drop(step().sized(80, 24).keys("esc").expect_not(" of 12 "));
}

#[test]
fn the_part_that_enter_opens_is_named_on_page_one() {
    for (columns, rows) in SMALL {
        let mut bench = Bench::reading(demonstration()).sized(columns, rows);
        for marked in 0..4 {
            let short = review_of(&bench).review.lines[marked].short.clone();
            let screen = bench.screen();
            assert!(screen.contains(&format!(" {short} ")), "{short}\n{screen}");
            assert!(screen.contains("WILL IT LAST?") && screen.contains("IS IT CLOSED?"), "{screen}");
            bench = bench.keys("down");
        }
    }
}

#[test]
fn steps_of_one_part_are_told_apart_by_their_own_names() {
    let screen = Bench::at_step("bush.ts/clearance").sized(40, 10).keys("esc 6").typed("running figures").screen();
    let rows: Vec<_> = screen.lines().skip(4).take(5).map(|row| row.chars().skip(6).take(20).collect()).collect();
    let distinct: std::collections::BTreeSet<&String> = rows.iter().collect();
    assert_eq!(distinct.len(), rows.len(), "{screen}");
}

/// Holds that have no room beside a verdict are counted in whole words, or by their number alone.
#[test]
fn the_number_of_holds_beside_the_parts_is_not_cut() {
    let mut inspection = demonstration();
    for number in 0..8 {
        let question = format!("what is to be done with blade {number}, and by whom?");
        add(&mut inspection, "fitter-a", Act::Call { part: "impeller".into(), question });
    }
    let screen = Bench::on(inspection).sized(120, 40).screen();
    let row = screen.lines().find(|row| row.contains(" impeller ")).unwrap_or_else(|| panic!("{screen}"));
    let count: String = row.trim_end().chars().rev().take(2).collect();
    assert!(count.chars().all(|digit| digit.is_ascii_digit()) || row.ends_with(" holds"), "{row}");
}

/// Whoever is asked to stand for it reads that, however long the name is.
#[test]
fn a_long_name_leaves_what_it_stands_for() {
    let name = "Fitter of the night shift with a name as long as a line of it";
    let asked = |bench: Bench| bench.keys("esc 9").typed(name).keys("enter 1 enter enter");
    let bench = asked(Bench::at_step("bush.ts/clearance")).expect("Is the machine still safe?");
    drop(bench.expect("yes, I have looked: Fitter of").expect("stands for it"));
    for step in ["safe/", "job/papers"] {
        let bench = asked(Bench::on(crate::bench::demo::begun())).keys("esc 6").typed(step).keys("enter");
        drop(bench.expect("stands for it").sized(40, 10).expect("stands for it"));
    }
}

/// While many records are read nothing else stands on the screen.
#[test]
fn whoever_waits_for_the_files_reads_that_the_machine_does_not_exist() {
    let (shelf, _) = Shelf::signed();
    assert_eq!(Store::at(shelf.root()).scene(), Scene::Invented);
    assert_eq!(Store::at(shelf.root()).practice().scene(), Scene::Practice);
    let mut bench = Bench::over(shelf.root());
    bench.model.screen = Screen::Wait("reading the records".to_owned());
    for (columns, rows) in [(40, 10), (60, 14), (80, 24), (120, 40)] {
        bench = bench.sized(columns, rows).expect("INVENTED").expect("reading the records");
    }
}

/// Where one is, what is wanted and what a tick stands for are whole at every step.
#[test]
fn nothing_of_a_step_is_cut_in_a_small_window() {
    let mut seen = 0;
    super::demo::each_step(&mut |inspection, step| {
        seen += 1;
        for (columns, rows) in [(40, 10), (60, 15)] {
            let bench = Bench::on(inspection.clone()).sized(columns, rows);
            let screen = bench.screen();
            let cut = screen.lines().find(|line| line.ends_with('~') || line.contains("~ ") && line.contains(" of 2"));
            assert_eq!(cut, None, "{}\n{screen}", step.id);
            assert!(letters(&screen).contains(&letters(&step.title)), "{}\n{screen}", step.id);
            let foot = screen.lines().last().unwrap();
            assert!(foot.ends_with("F1 help"), "{screen}");
            if step.takes == Takes::Tick && screen.contains("stands for it") {
                assert!(screen.contains(step.doing[0].split(' ').next().unwrap()), "{}\n{screen}", step.id);
            }
            if matches!(step.takes, Takes::Soak { .. }) {
                let screen = letters(&screen);
                assert!(screen.contains("themanualgoesfirst") && screen.contains("Enter:starttheclock"), "{screen}");
            }
            // what is judged alone says how far it is, in one row
            assert!(!screen.contains(" taken,\n"), "{}\n{screen}", step.id);
        }
    });
    assert!(seen > 100, "{seen}");
}

#[test]
fn what_to_do_is_read_in_a_small_window_behind_tab() {
    for (columns, rows) in SMALL {
        let mut bench = Bench::at_step("bush.ts/clearance").sized(columns, rows);
        while !bench.screen().contains("what to do") {
            bench = bench.keys("tab");
        }
        let bench = bench.expect("Dry and clean.");
        if rows == 10 {
            drop(bench.keys("pagedown pagedown pagedown pagedown").expect_not("Dry and clean."));
        }
    }
}

#[test]
fn the_review_names_the_rotor_in_the_smallest_window() {
    let pending = Bench::reading(super::demo::up_to("rebuild/ready")).sized(40, 10).screen();
    let title = pending.lines().next().unwrap();
    assert!(title.contains("DEMO-1 ") && title.ends_with("countersign pending ashore"), "{pending}");
}
