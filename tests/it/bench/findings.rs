//! What is seen, counted in keys and answers: nothing in at most six keys, a dent with place, size and picture in at
//! most twelve answers; every text in its box; any step by a few letters.

use asfound::domain::checklist::{Checklist, Takes};
use asfound::domain::entry::Act;
use asfound::domain::progress;
use asfound::records::checklist_file::{built_in, built_in_names};

use super::{Bench, demo};

fn checklists() -> Vec<Checklist> {
    built_in_names().map(|name| built_in(name).unwrap().unwrap()).collect()
}

#[test]
fn nothing_found_takes_two_keys_on_the_longest_list() {
    for step in ["event/log", "impeller/look", "turbine/look"] {
        let bench = Bench::at_step(step).expect("Nothing (more): arrow up, Enter");
        let before = bench.entries();
        let bench = bench.keys("up enter");
        assert_eq!(bench.entries(), before + 1, "{step}");
        bench.expect("looked");
    }
}

#[test]
fn a_dent_with_place_size_and_picture_takes_ten_answers_and_offers_the_last_ones() {
    let mut bench = Bench::at_step("impeller/look");
    let before = bench.entries();
    // a dent; the grade, then one Enter each; last the picture: what else, its line, the newest one
    let answers = ["4 1 enter", "7 enter", "2 2 enter", "1 enter", "1 enter", "1 5 enter", "enter", "esc 8", "enter"];
    for keys in answers {
        bench = bench.keys(keys);
    }
    assert!(answers.len() < 12);
    assert_eq!(bench.entries(), before + 1);
    let bench = bench.keys("esc 4 1 enter").expect("last time 7; = takes it again");
    bench.keys("8 enter = enter = enter = enter enter enter").expect("depth 1, length 1, number 8, place 22");
}

/// Two or three words of a step's name leave few steps in the list, and the step among them.
#[test]
fn any_step_is_found_by_typing_a_few_letters() {
    for (typed, found) in [
        ("turb clear", "clearance by lift"),
        ("penet", "penetrant 4"),
        ("wall gas", "gas casing wa"),
        ("float axi", "axial float"),
        ("soak filt", "soak in lukewar"),
        ("fast count", "counted in"),
        ("magn", "residual magnetism"),
        ("bolts", "bolts checked again"),
    ] {
        let bench = Bench::on(demo::begun()).keys("esc 6").typed(typed).expect(found);
        let screen = bench.screen();
        let of =
            screen.lines().find_map(|line| line.split_once(" of ")?.0.split_whitespace().last()?.parse::<u32>().ok());
        assert!(of.unwrap() <= 12, "{typed}: {of:?}");
    }
}

/// What to do, the caution and where it is seen from stand whole on the step's screen; why, how and mistakes on theirs,
/// where need be page by page.
#[test]
fn every_text_is_whole_on_a_screen_of_80_by_24() {
    let begun = demo::begun();
    for step in progress::steps(&begun).filter(|step| !matches!(step.takes, Takes::Sign(_))) {
        let alike = progress::steps(&begun).filter(|other| other.id.contains(&step.id));
        let down = alike.take_while(|other| other.id != step.id).count();
        let mut bench = Bench::on(begun.clone()).keys("esc 6").typed(&step.id);
        bench = bench.keys(&"down ".repeat(down)).keys("enter");
        let shown = bench.screen();
        let first = step.doing.iter().chain(&step.caution).chain(&step.seen);
        for line in first {
            assert!(shown.contains(line.as_str()), "{}: `{line}` is not whole on\n{shown}", step.id);
        }
        let views = [("why it is done", &step.why), ("how to hold it", &step.how), ("the usual", &step.mistakes)];
        for (title, lines) in views.into_iter().filter(|(_, lines)| !lines.is_empty()) {
            // views with nothing in them are passed over
            for _ in 0..6 {
                if !bench.screen().contains(&format!("-- {title}")) {
                    bench = bench.keys("tab");
                }
            }
            let mut seen = bench.screen();
            for _ in 0..4 {
                bench = bench.keys("pagedown");
                seen.push_str(&bench.screen());
            }
            for line in lines {
                assert!(seen.contains(line.as_str()), "{}: `{line}` is not whole on\n{seen}", step.id);
            }
        }
    }
}

/// The points that are confirmed by name fit their lines too, and so do kinds with their grades.
#[test]
fn points_and_findings_fit_their_lines() {
    for checklist in checklists() {
        for step in &checklist.steps {
            let Takes::Points(points) = &step.takes else { continue };
            assert!(points.iter().all(|point| point.text.chars().count() <= 66), "{}", step.id);
        }
        for part in &checklist.parts {
            for kind in &part.findings {
                let grades: Vec<_> = kind.grades.iter().map(|grade| grade.grade.as_str()).collect();
                let line = format!("{}: {}", kind.kind, grades.join(", "));
                assert!(line.chars().count() <= 74, "{}: {line}", part.id);
            }
        }
    }
}

/// A picture that cannot be had leaves the finding standing; it is an entry of its own.
#[test]
fn the_finding_stands_before_its_picture() {
    let bench = Bench::at_step("impeller/look").keys("4 1 enter 7 enter enter enter enter enter enter");
    let asfound::face::model::Screen::Job(job) = &bench.model.screen else { panic!("{}", bench.screen()) };
    assert!(matches!(job.inspection.entries().last().unwrap().act, Act::Finding(_)));
}
