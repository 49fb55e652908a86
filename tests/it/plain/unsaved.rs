//! What is not saved: a save that failed, what is said of it, and the ways out; what is half answered.

use asfound::domain::entry::Act;
use asfound::records::store::{Draft, HalfForm, LaidAside};
use insta::assert_snapshot;

use super::bench::{Bench, Disk, Ended};
use super::verbs::asfound;
use crate::review::shelf::Shelf;

#[test]
fn a_full_disk_is_said_and_nothing_typed_meanwhile_is_taken() {
    let mut bench = Bench::demo();
    bench.walks_to("running/load").hears();
    bench.disk = Disk::Full;
    bench.types(&["85", "16950"]);
    let taken = bench.saved.len();
    bench.disk = Disk::Room;
    bench.types(&[""]);
    assert_eq!(bench.saved.len(), taken + 1, "the figure that waited, and no other");
    assert_snapshot!(bench.hears());
}

#[test]
fn what_cannot_be_saved_here_goes_elsewhere_or_is_lost_by_its_word_alone() {
    let mut bench = Bench::demo();
    bench.walks_to("running/load");
    bench.disk = Disk::Full;
    let taken = bench.saved.len();
    bench.types(&["85"]).hears();
    bench.types(&["leave", "folder", "copy stick"]);
    let heard = bench.hears();
    assert!(heard.contains("`leave` was not taken") && heard.contains("`folder` wants the path"), "{heard}");
    assert!(heard.contains("0 saved, 1 NOT. A copy with all that waits: 1 in stick."), "{heard}");
    bench.types(&["folder 'full'"]);
    assert!(bench.hears().contains("0 saved, 1 NOT. No room there either."));
    assert_eq!((bench.saved.len(), bench.left), (taken, Ended::No));
    let mut left = bench.clone();
    left.types(&["lose"]);
    assert_eq!((left.saved.len(), left.left), (taken, Ended::Left));
    bench.types(&["folder stick"]);
    assert_eq!(bench.saved.len(), taken + 1);
    assert!(bench.hears().contains("1 saved"));
}

/// A crack half answered on the screen is one of that part, wherever the work goes on line by line.
#[test]
fn what_is_half_answered_on_the_screen_stays_with_its_step() {
    let (shelf, path) = Shelf::signed();
    let way = ["something seen: a finding", "crack: seen"].map(str::to_owned).to_vec();
    let form = HalfForm { way, at: 1, answers: vec!["1".to_owned(), "outer e".to_owned()] };
    let step = "bush.ts/look".to_owned();
    let draft = Draft { step: step.clone(), form: Some(form.clone()), ..Draft::default() };
    shelf.store.keep_draft(&path, &draft).unwrap();
    let resume = |lines: &str| asfound(shelf.root(), &["resume", path.to_str().unwrap(), "--by", "fitter-a"], lines);
    let (_, out, err) = resume("yes\nyes\nyes\nyes\n! 6 filter/back\n\n");
    assert!(out.contains("Half answered at bush.ts/look: crack: what was seen. It goes on there."), "{out}{err}");
    let kept = shelf.store.draft(&path).unwrap();
    assert_ne!(kept.step, step, "{out}{err}");
    assert_eq!(kept.form, None);
    let [left] = kept.aside.as_slice() else { panic!("{kept:?}") };
    assert_eq!((left.step.as_str(), left.title.as_str(), &left.form), (step.as_str(), "crack: what was seen", &form));
}

/// The end of the input in the midst of a dialogue loses none of its answers.
#[test]
fn what_is_half_answered_when_the_input_ends_goes_on_when_the_work_does() {
    let (shelf, path) = Shelf::signed();
    let resume = |lines: &str| asfound(shelf.root(), &["resume", path.to_str().unwrap(), "--by", "fitter-a"], lines).1;
    let draft = || shelf.store.draft(&path).unwrap();
    // safe again first
    resume("yes\nyes\nyes\nyes\nyes\n! 6 bush.ts/look\n! 3\nbush.ts\n2\n1\nouter edge\n");
    let form = draft().form.unwrap();
    assert_eq!(
        (form.way[0].as_str(), form.answers.last().unwrap().as_str()),
        ("something seen: a finding", "outer edge")
    );
    let out = resume("");
    assert!(out.contains("Left half answered, ") && out.contains("outer edge. It goes on; ! drops it."), "{out}");
    let again = draft().form.unwrap();
    assert_eq!(again, form);
    resume("!\n! 1\n");
    assert_eq!(draft().form, None, "dropped, and of a strike nothing is answered yet");
    let last = shelf.open(&path).inspection.entries().last().unwrap().number;
    resume(&format!("! 1 {last}\n"));
    let form = draft().form.unwrap();
    assert_eq!((form.way, form.answers), (vec!["strike an entry, with a reason".to_owned()], vec![last.to_string()]));
}

/// Looking in line by line is no work: the screen opens again where it was left, with the same hands.
#[test]
fn looking_in_line_by_line_leaves_step_place_and_writer_of_the_screen() {
    let (shelf, path) = Shelf::signed();
    let person = |id: &str| Some(id.parse().unwrap());
    let way = ["something seen: a finding", "crack: seen"].map(str::to_owned).to_vec();
    let draft = Draft {
        invented: true,
        step: "bush.ts/look".to_owned(),
        place: Some("2".to_owned()),
        reads: person("fitter-a"),
        writes: person("fitter-c"),
        form: Some(HalfForm { way, at: 0, answers: vec!["outer e".to_owned()] }),
        ..Draft::default()
    };
    shelf.store.keep_draft(&path, &draft).unwrap();
    let resume = ["resume", path.to_str().unwrap(), "--plain"];
    let (_, out, err) = asfound(shelf.root(), &resume, "");
    assert!(out.contains("entered as fitter A, fitter C writes."), "{out}{err}");
    assert_eq!(shelf.store.draft(&path).as_ref(), Some(&draft), "{out}");
    // another who looks in is none who reads so far
    let (_, out, _) = asfound(shelf.root(), &[resume.as_slice(), &["--by", "fitter-c"]].concat(), "?\n");
    assert_eq!(shelf.store.draft(&path).as_ref(), Some(&draft), "{out}");
    let (_, out, _) = asfound(shelf.root(), &resume, "! 7\n2\na note of it\n");
    assert!(shelf.open(&path).inspection.entries().last().unwrap().writer.is_some(), "{out}");
    assert_eq!(shelf.store.draft(&path).map(|kept| kept.writes), Some(draft.writes), "{out}");
}

#[test]
fn what_is_half_answered_is_said_right_before_the_decisions_are_signed() {
    let mut bench = Bench::demo();
    bench.session.beside_screen(None, vec!["Half answered on the screen at bush.ts/look.".to_owned()]);
    bench.walks_to("job/decisions");
    let heard = bench.hears();
    let mut lines = heard.lines().rev();
    let asked = lines.next().unwrap();
    assert!(asked.starts_with("the decisions, signed by"), "{asked}");
    assert_eq!(lines.next(), Some("? Half answered on the screen at bush.ts/look."), "{heard}");
}

/// A finding that does not say where it is takes a reason in words, and says so at that question: nothing typed is lost.
#[test]
fn what_a_finding_leaves_out_is_asked_for_before_its_picture() {
    let mut bench = Bench::demo();
    bench.walks_to("impeller/look");
    bench.types(&["! 3", "impeller", "crack", "1", "", "", ""]);
    let asked = bench.question().to_owned();
    assert!(asked.contains("in words, and why its number and place and size cannot be told"), "{asked}");
    let before = super::ways::last_number(&bench);
    bench.types(&["7"]);
    assert_eq!((bench.question(), super::ways::last_number(&bench)), (asked.as_str(), before), "{}", bench.said_tail());
    bench.types(&["all over the hub"]);
    assert!(bench.question().starts_with("photo: "), "{}", bench.question());
    // who goes elsewhere in the midst of it comes back to it
    let mut other = bench.clone();
    other.hears();
    other.types(&["! 24"]);
    assert!(other.hears().contains("asked again at impeller/look: impeller, crack, 1, "), "{}", other.said_tail());
    assert_eq!(other.question(), bench.question(), "{}", other.said_tail());
    bench.types(&[""]);
    assert!(matches!(&bench.inspection().entries().last().unwrap().act, Act::Finding(found) if found.kind == "crack"));
}

/// Of two that were left at one step the one that was open is the newer; the other one comes behind it.
#[test]
fn of_two_forms_left_at_a_step_the_newer_goes_on_first() {
    let (shelf, path) = Shelf::signed();
    let opened = shelf.open(&path);
    let readings = opened.inspection.standing_entries().rev().filter(|one| matches!(one.act, Act::Reading { .. }));
    let [last, before, ..] = readings.map(|one| one.number).collect::<Vec<_>>()[..] else { panic!() };
    let title = "strike an entry, with a reason".to_owned();
    let form = |entry: u32| HalfForm { way: vec![title.clone()], at: 1, answers: vec![entry.to_string()] };
    let step = "spares/fits".to_owned();
    let older = LaidAside { step: step.clone(), title: title.clone(), form: form(before) };
    let draft = Draft { step, form: Some(form(last)), aside: vec![older.clone()], ..Draft::default() };
    shelf.store.keep_draft(&path, &draft).unwrap();
    let resume = ["resume", path.to_str().unwrap(), "--by", "fitter-a"];
    let (_, out, err) = asfound(shelf.root(), &resume, "yes\nyes\nyes\nyes\n");
    assert!(out.contains(&format!("Left half answered, {title}: {last}. It goes on")), "{out}{err}");
    let kept = shelf.store.draft(&path).unwrap();
    assert_eq!((kept.form, kept.aside), (Some(form(last)), vec![older]));
}
