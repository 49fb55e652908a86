//! What is seen, counted in keys and answers: nothing in at most six keys, a dent with place, size and picture in at
//! most twelve answers; every text in its box; any step by a few letters.

use std::collections::BTreeSet;

use asfound::domain::checklist::{Checklist, Step, Takes};
use asfound::domain::entry::{Act, FindingMade};
use asfound::domain::inspection::{Head, Inspection};
use asfound::domain::progress;
use asfound::records::checklist_file::{built_in, built_in_names};
use asfound::records::inspection_file::InspectionFile;
use asfound::records::settings_file::Settings;
use asfound::records::store::Store;
use tempfile::TempDir;

use super::{Bench, demo};
use crate::plain::bench::Bench as Lines;
use crate::plain::verbs::asfound;
use crate::rig::Rig;

fn checklists() -> Vec<Checklist> {
    built_in_names().map(|name| built_in(name).unwrap().unwrap()).collect()
}

/// A data folder with the demonstration's record at the look at its impeller, and a picture in the watched folder.
fn shelf() -> TempDir {
    let folder = TempDir::new().unwrap();
    let store = Store::at(folder.path());
    let inspection = demo::up_to("impeller/look");
    let path = folder.path().join("rotors/DEMO-1/2024-07-12-overhaul.yaml");
    let mut file = InspectionFile::begin(&path, inspection.head(), &[]).unwrap();
    file.append(inspection.entries()).unwrap();
    store.save_rotor(&inspection.head().rotor).unwrap();
    let camera = folder.path().join("camera");
    std::fs::create_dir(&camera).unwrap();
    std::fs::write(camera.join("dent.png"), PICTURE).unwrap();
    let photos = Some(camera.display().to_string());
    store.save_settings(&Settings { photos, ..Settings::default() }).unwrap();
    folder
}

/// A picture of one black dot, as any camera might have written it: signature, header, data, end.
pub(super) const PICTURE: &[u8] = b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR\0\0\0\x01\0\0\0\x01\x08\0\0\0\0:~\x9bU\0\0\0\nIDATx\x9cc`\0\0\0\x02\0\x01H\xaf\xa4q\0\0\0\0IEND\xaeB`\x82";

/// The dent and its picture, as they lie in the folder.
fn dent(folder: &TempDir) -> (FindingMade, usize) {
    let store = Store::at(folder.path());
    let opened = store.open(&folder.path().join("rotors/DEMO-1/2024-07-12-overhaul.yaml")).unwrap();
    let entries = opened.inspection.entries();
    let found = entries.iter().find_map(|entry| if let Act::Finding(made) = &entry.act { Some(made) } else { None });
    let pictures = entries.iter().flat_map(|entry| match &entry.act {
        Act::Photo { photo, .. } => vec![photo.clone()],
        Act::Finding(made) => made.photos.clone(),
        _ => Vec::new(),
    });
    let record = folder.path().join("rotors/DEMO-1/2024-07-12-overhaul.yaml");
    let kept = pictures.filter(|photo| std::fs::read(store.photo_path(&record, photo)).is_ok_and(|had| had == PICTURE));
    (found.unwrap().clone(), kept.count())
}

fn details(made: &FindingMade) -> Vec<(&str, &str)> {
    made.details.iter().map(|(word, text)| (word.as_str(), text.as_str())).collect()
}

const DENT: [(&str, &str); 5] =
    [("depth", "0.6 mm"), ("length", "1.8 mm"), ("number", "7"), ("others", "15"), ("place", "22 mm from the tip")];

#[test]
fn nothing_found_takes_two_keys_on_the_longest_list_and_in_line_mode() {
    for step in ["event/log", "impeller/look", "turbine/look"] {
        let bench = Bench::at_step(step).expect("Nothing (more): arrow up, Enter");
        let before = (bench.entries(), bench.pressed);
        let bench = bench.keys("up enter");
        assert_eq!((bench.entries(), bench.pressed), (before.0 + 1, before.1 + 2), "{step}");
        bench.expect("looked");
        let mut lines = Lines::over(demo::up_to(step));
        let before = lines.inspection().entries().len();
        let typed = "n";
        lines.types(&[typed]);
        assert_eq!(lines.inspection().entries().len(), before + 1, "{step}");
        let looked = &lines.inspection().entries().last().unwrap().act;
        assert!(matches!(looked, Act::Looked { step: of } if of == step), "{looked:?}");
        assert!(typed.len() < 6, "its letters and Enter");
    }
}

#[test]
fn a_dent_with_place_size_and_picture_takes_at_most_twelve_answers_on_the_screen() {
    let folder = shelf();
    let mut bench = Bench::over(folder.path()).keys("1").expect("still safe?").keys("down enter");
    // a dent, smooth; five details and no words; its picture, the newest one; what it leads to, seen
    let answers = ["4", "1", "7", "22 mm from the tip", "1.8", "0.6", "15", "", "1", "seen"];
    assert!(answers.len() <= 12);
    for (number, typed) in answers.into_iter().enumerate() {
        bench = match (number, typed) {
            (0, digit) => bench.keys(digit),
            (8, newest) => bench.expect("photo: its file").expect("1 the newest").typed(newest).keys("enter"),
            (_, "seen") => bench.expect("It leads to: refer").keys("enter"),
            (_, typed) => bench.typed(typed).keys("enter"),
        };
    }
    drop(bench);
    let (made, pictures) = dent(&folder);
    assert_eq!((details(&made), pictures), (DENT.to_vec(), 1));
}

#[test]
fn a_dent_with_place_size_and_picture_takes_at_most_twelve_lines_in_line_mode() {
    let folder = shelf();
    let picture = folder.path().join("camera/dent.png").display().to_string();
    let answers = ["4", "1", "7", "22 mm from the tip", "1.8", "0.6", "15", "", &picture];
    assert!(answers.len() <= 12);
    // before it somebody says that the machine is still safe
    let typed = format!("yes\nyes\nyes\nyes\n{}\n! leave\n", answers.join("\n"));
    let (code, out, err) = asfound(folder.path(), &["resume"], &typed);
    assert_eq!(code, 0, "{out}{err}");
    let (made, pictures) = dent(&folder);
    assert_eq!((details(&made), pictures), (DENT.to_vec(), 1), "{out}");
}

#[test]
fn what_is_no_picture_is_not_kept_as_one() {
    let folder = shelf();
    let noise = folder.path().join("camera/noise.jpg");
    std::fs::write(&noise, b"no picture, whatever its name says").unwrap();
    let store = Store::at(folder.path());
    let problems = store.read_photo(&noise).unwrap_err().to_string();
    assert!(problems.contains("noise.jpg: found no picture"), "{problems}");
    assert!(store.read_photo(&folder.path().join("camera/dent.png")).is_ok());
}

#[test]
fn a_second_dent_is_offered_the_details_of_the_first_and_nothing_is_taken_by_itself() {
    let bench = Bench::at_step("impeller/look").keys("4 1 enter 7 enter").typed("22 mm").keys("enter 1 enter 1 enter");
    let bench = bench.keys("1 5 enter enter enter").expect("length 1 mm, number 7, others 15, place 22 mm");
    let bench = bench.keys("enter 4 1 enter").expect("last time 7; = takes it again");
    bench
        .keys("8 enter = enter = enter = enter enter enter enter")
        .expect("depth 1 mm, length 1 mm, number 8, place 22 mm");
}

#[test]
fn a_size_has_its_unit_a_count_is_whole_and_a_place_says_of_what() {
    let bench =
        Bench::at_step("impeller/look").keys("4 1 enter").typed("7.5").keys("enter").expect("is no whole number");
    let bench = bench.keys("delete").typed("7 and 8").keys("enter").expect("place: where on it");
    let bench = bench.typed("22").keys("enter").expect("`22` does not say of what").keys("delete").typed("at the root");
    let bench = bench.keys("enter").typed("2 bar").keys("enter").expect("2 bar is a pressure, a length is wanted");
    let bench =
        bench.keys("delete").typed("2 thou").keys("enter").typed("0,5").keys("enter").expect("others: how many");
    let bench = bench.typed("2,5").keys("enter").expect("is no whole number").keys("delete enter enter enter");
    bench.expect("depth 0.5 mm, length 2 thou, number 7 and 8, place at the root");
}

/// The invented impeller has 16 blades.
#[test]
fn a_blade_that_the_wheel_does_not_have_is_refused() {
    let bench = Bench::at_step("impeller/look").keys("4 1 enter").typed("99").keys("enter");
    let bench = bench.expect("`99`, and this machine has 16 of them").keys("delete").typed("0").keys("enter");
    bench.expect("this machine has 16 of them").keys("delete").typed("16").keys("enter").expect("place: where on it");
}

#[test]
fn pieces_are_counted_in_whole_numbers() {
    let bench = Bench::at_step("strip/brought").typed("64.5").keys("enter").expect("`64.5` is no whole number");
    bench.keys("delete").typed("64").keys("enter").expect("tools: 64 taken");
}

/// Two or three words of a step's name leave few steps in the list, and the step among them.
#[test]
fn any_step_is_found_by_typing_a_few_letters() {
    for (typed, found) in [
        ("turb clear", "clearance by lift"),
        ("penet", "penetrant 4"),
        ("impeller/penetrant", " 1 of "),
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

/// Tools and what may be found are searched where no step is named so; letters inside a word find nothing.
#[test]
fn a_step_is_found_by_its_tool_and_by_what_may_be_found_there() {
    for (typed, found) in
        [("micrometer", "Rotor shaft / journal diameter"), ("embedded", "look at"), ("nonmagn", ""), ("adial", "")]
    {
        let bench = Bench::on(demo::begun()).keys("esc 6").typed(typed);
        if found.is_empty() {
            drop(bench.expect("No step has a word that begins so"));
        } else {
            drop(bench.expect_not("No step has a word").expect(found));
        }
    }
}

/// What to do, the caution and where it is seen from stand whole on the step's screen; why, how and mistakes on theirs,
/// where need be page by page.
#[test]
fn every_text_is_whole_on_a_screen_of_80_by_24() {
    let mut drawn = BTreeSet::new();
    for name in ["overhaul", "bearing", "cleaning"] {
        let checklist = built_in(name).unwrap().unwrap();
        let begun = Rig::with(Head { checklist, ..demo::head() }).inspection;
        // a step of two scopes may say something else in each
        let texts = |step: &Step| [&step.doing, &step.why, &step.how, &step.mistakes].map(|lines| lines.join(" "));
        let new = progress::steps(&begun).filter(|step| drawn.insert((step.id.clone(), texts(step))));
        for step in new.filter(|step| !matches!(step.takes, Takes::Sign(_))) {
            is_whole(&begun, step);
        }
    }
    assert!(drawn.iter().any(|(id, _)| id == "washing/tools"), "every scope is drawn");
}

fn is_whole(begun: &Inspection, step: &Step) {
    let alike = progress::steps(begun).filter(|other| other.id.contains(&step.id));
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

/// A part has more kinds than lines: what a step looks for stands first, on the screen, line by line and on paper.
#[test]
fn what_a_step_looks_for_stands_first_in_its_list() {
    for (id, first) in [
        ("event/crack-look", "crack in a wheel"),
        ("event/upstream", "upstream damage"),
        ("event/oil-supply", "oil supply dirty or weak"),
        ("impeller/indications", "penetrant indication"),
        ("running/prelube", "no oil at the drain"),
    ] {
        let overhaul = built_in("overhaul").unwrap().unwrap();
        let step = overhaul.step(id).unwrap();
        let part = overhaul.part(&step.part).unwrap();
        assert_eq!(step.kinds_of(part)[0].kind, first, "{id}");
        assert_eq!(step.kinds_of(part).len(), part.findings.len(), "{id}: none is lost");
    }
    let at = demo::up_to("turbine/look");
    let bench = Bench::on(at.clone()).expect("1 dent: ").keys("1").expect("dent: what was seen");
    drop(bench);
    drop(Bench::on(at.clone()).keys("esc 3").expect("1 dent: ").keys("1").expect("dent: what was seen"));
    let mut lines = Lines::over(at);
    lines.types(&["1"]);
    assert!(lines.question().starts_with("dent, how grave"), "{}", lines.question());
    let blank = asfound::report::blank::html(&built_in("overhaul").unwrap().unwrap(), Default::default(), "A4");
    let look = &blank[blank.find("blade by blade, in good light").unwrap()..];
    assert!(look.find(">dent<") < look.find(">scale<"), "in the order of the screens");
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

/// A picture that cannot be had leaves all answers where they are; without one the finding stands.
#[test]
fn a_finding_whose_picture_cannot_be_had_waits_with_its_answers_and_stands_without_one() {
    let folder = shelf();
    let bench = Bench::over(folder.path()).keys("1 down enter 4 1 enter 7 enter").typed("22 mm").keys("enter enter");
    let bench = bench.typed("0.6").keys("enter enter enter").typed("no-such.png").keys("enter");
    let bench = bench.expect("no-such.png: found no such file").expect("photo: its file");
    drop(bench.keys("delete enter").expect("It leads to: refer"));
    let (made, pictures) = dent(&folder);
    assert_eq!((details(&made)[0], pictures), (("depth", "0.6 mm"), 0));
}

#[test]
fn what_cannot_be_told_of_a_finding_is_said_why() {
    let bench = Bench::at_step("impeller/look").keys("4 1 enter 7 enter enter enter enter enter");
    let bench = bench.expect("why its place and size cannot be told").typed("behind the shroud").keys("enter enter");
    let asfound::face::model::Screen::Job(job) = &bench.model.screen else { panic!("{}", bench.screen()) };
    assert!(matches!(job.inspection.entries().last().unwrap().act, Act::Finding(_)));
}

/// What was answered while the machine has to be said to be safe lies under that question, and is sent by Enter once more.
#[test]
fn a_crack_that_is_found_behind_a_break_is_not_lost() {
    let found =
        |bench: Bench| bench.record().standing_entries().filter(|one| matches!(one.act, Act::Finding(_))).count();
    let typed = || {
        let bench = Bench::at_step("shaft/look").later(9 * 60).keys("3").typed("2").keys("enter");
        let bench = bench.typed("fillet").keys("enter").typed("3").keys("enter").typed("lamp").keys("enter");
        let bench = if bench.screen().contains("leads to") { bench.keys("enter") } else { bench };
        bench.expect("Is the machine still safe?")
    };
    let before = found(Bench::at_step("shaft/look"));
    let bench = typed().keys("down enter").expect("fillet").keys("enter").expect_not("Is the machine still safe?");
    assert_eq!(found(bench), before + 1);
    // whoever is not sure, or presses Esc, finds the answers when the finding is opened again
    let bench = typed().keys("esc").expect("fillet");
    assert_eq!(found(bench), before);
    let bench = typed().keys("enter").expect("fillet");
    assert_eq!(found(bench), before);
}
