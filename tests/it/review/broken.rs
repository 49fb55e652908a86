//! Records that break off or were emptied, and the copy that makes them whole; copies that have gone apart.

use std::path::{Path, PathBuf};

use asfound::domain::checklist::Signing;
use asfound::domain::entry::{Act, Remark};
use asfound::records::bring::{Bringer, Brought, Outcome, bring};
use asfound::records::verify::verify;

use super::shelf::{Shelf, copy, sign_of};
use crate::plain::verbs::asfound;
use crate::rig::{Rig, stamp};

fn note(text: &str) -> Act {
    Act::Note { step: None, text: text.into() }
}

/// A folder with a small record, its decisions signed, and a copy of it.
fn folder() -> (Shelf, PathBuf, PathBuf) {
    let shelf = Shelf::empty();
    let path = shelf.keep(&Rig::open().inspection, "2031-04-17-small");
    shelf.sign(&path, "fitter-a", Signing::Decisions);
    let stick = shelf.root().join("stick/from-the-stick.yaml");
    copy(&path, &stick);
    (shelf, path, stick)
}

fn take_in(shelf: &Shelf, stick: &Path) -> Brought {
    let bringer = Bringer { by: None, at: stamp("2031-04-18T08:00:00+02:00") };
    bring(&shelf.store, stick, &bringer).unwrap_or_else(|fault| panic!("{fault}"))
}

fn said(shelf: &Shelf, words: &[&str]) -> (i32, String) {
    let (code, out, err) = asfound(shelf.root(), words, "");
    (code, out + &err)
}

#[test]
fn a_record_that_broke_off_or_was_emptied_is_made_whole_by_a_copy_of_it() {
    let (shelf, path, stick) = folder();
    let whole = std::fs::read(&path).unwrap();
    let begun = shelf.open(&path).stretches[0].entry.start;
    for end in [0, 20, begun / 2, begun + 40, whole.len() - 30] {
        std::fs::write(&path, &whole[..end]).unwrap();
        let Brought { record, outcome: Outcome::MadeWhole { kept }, .. } = take_in(&shelf, &stick) else {
            panic!("cut at {end}")
        };
        assert_eq!((&record, std::fs::read(&record).unwrap()), (&path, whole.clone()));
        assert_eq!(std::fs::read(&kept).unwrap(), &whole[..end], "nothing of what stood there is lost");
        assert_eq!(shelf.store.record_of_id("INV/2031-04-17-small"), Ok(Some(path.clone())), "one file, cut at {end}");
        assert!(verify(&shelf.store, std::slice::from_ref(&path))[0].is_fine());
    }
    std::fs::write(&path, &whole[..whole.len() - 30]).unwrap();
    let (code, out) = said(&shelf, &["bring", &stick.display().to_string()]);
    assert!(code == 0 && out.contains("made whole. It broke off; what stood there is kept as rotors/INV/"), "{out}");
}

#[test]
fn what_was_saved_here_and_is_not_in_the_copy_is_still_missing_when_a_record_is_made_whole() {
    let (shelf, path, stick) = folder();
    let more = shelf.add(&path, "fitter-a", note("after the copy")).number;
    let whole = std::fs::read(&stick).unwrap();
    std::fs::write(&path, &whole[..whole.len() - 30]).unwrap();
    assert!(matches!(take_in(&shelf, &stick).outcome, Outcome::MadeWhole { .. }));
    assert_eq!(shelf.open(&path).outside(), Some(more));
}

#[test]
fn what_breaks_off_and_is_no_beginning_of_the_copy_stays_and_which_to_go_on_with_is_said() {
    let (shelf, path, stick) = folder();
    shelf.add(&path, "fitter-a", note("after the copy"));
    let whole = std::fs::read(&path).unwrap();
    std::fs::write(&path, &whole[..whole.len() - 30]).unwrap();
    let (code, out) = said(&shelf, &["bring", &stick.display().to_string()]);
    let other = path.with_file_name("2031-04-17-small-2.yaml");
    assert!(code == 0 && out.contains("which cannot be read to its end and is no beginning of it"), "{out}");
    assert!(out.contains(&format!("Go on with {}; ", other.display())), "{out}");
    assert_eq!(std::fs::read(&path).unwrap(), &whole[..whole.len() - 30]);
    let (code, out) = said(&shelf, &["resume", "INV/2031-04-17-small", "--plain"]);
    let says = format!("{} (which cannot be read to its end), {}. Name the file", path.display(), other.display());
    assert!(code == 1 && out.contains(&says), "{out}");
}

#[test]
fn an_emptied_record_is_called_empty_with_since_when_and_how_it_comes_back() {
    let (shelf, path, _) = folder();
    std::fs::write(&path, "").unwrap();
    let file = path.display().to_string();
    for words in
        [&["resume", "INV/2031-04-17-small", "--plain"][..], &["review", &file], &["verify", &file], &["check"]]
    {
        let (code, out) = said(&shelf, words);
        assert!(code != 0 && out.contains("found an empty file, nothing in it since "), "{words:?}: {out}");
        assert!(out.contains("asfound bring COPY") && !out.contains("no record `"), "{words:?}: {out}");
    }
}

#[test]
fn two_answers_to_one_remark_are_named_with_who_decides_between_them() {
    let (shelf, path, stick) = folder();
    let (sign, chain) = sign_of(&shelf.open(&path)).unwrap();
    let remarks = vec![Remark { step: Some("bush.ts/look".into()), text: "which side?".into() }];
    let entry = shelf.add(&path, "supervisor-b", Act::Return { sign, chain, remarks }).number;
    copy(&path, &stick);
    let answer = |text: &str| Act::RemarkAnswered { entry, remark: 1, text: text.into() };
    let there = shelf.add(&stick, "fitter-c", answer("the other one")).number;
    let here = shelf.add(&path, "fitter-a", answer("the loaded one")).number;
    let before = std::fs::read(&path).unwrap();
    let (code, out) = said(&shelf, &["bring", &stick.display().to_string()]);
    let says = format!(
        "Remark 1 of entry {entry} has two answers: here `the loaded one`, by fitter-a, entry {here}; there `the other one`, by fitter-c. supervisor-b, who sent it back, decides"
    );
    assert!(code == 1 && out.contains(&says) && out.contains(&format!("entry {there} of ")), "{out}");
    assert_eq!(std::fs::read(&path).unwrap(), before);
}
