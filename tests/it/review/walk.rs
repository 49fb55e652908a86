//! Fitter, stick, supervisor, stick, fitter by the verbs alone, with photos and a concession, through two data folders.

use std::path::Path;

use asfound::domain::entry::{Act, PhotoRef};
use asfound::domain::person::{Person, Role};
use asfound::records::store::Store;

use super::shelf::{Shelf, copy};
use crate::plain::verbs::asfound;
use crate::rig::id;

/// The number of the line that a concession is about.
fn referred(pages: &str) -> String {
    let line = pages.lines().find(|line| line.contains(" > step wear"));
    line.unwrap_or_else(|| panic!("{pages}")).split(' ').next().unwrap().to_owned()
}

fn done((code, out, err): (i32, String, String)) -> String {
    assert_eq!(code, 0, "{out}{err}");
    out
}

fn record_in(data: &Path) -> std::path::PathBuf {
    data.join("rotors/DEMO-1/2024-07-12-overhaul.yaml")
}

#[test]
fn photos_and_a_concession_go_out_and_come_home() {
    let (fitter, record) = Shelf::signed();
    let stick = tempfile::tempdir().unwrap();
    let stick = stick.path().join("2024-07-12-overhaul.yaml");
    copy(&record, &stick);
    let ashore = tempfile::tempdir().unwrap();
    let roles = vec![Role::Supervisor];
    let supervisor = Person { id: id("supervisor-b"), name: "supervisor B".into(), roles, keys: Vec::new() };
    for root in [ashore.path(), fitter.root()] {
        Store::at(root).save_people(std::slice::from_ref(&supervisor)).unwrap();
    }
    let shore = |words: &[&str], lines: &str| done(asfound(ashore.path(), words, lines));
    // ashore the record is taken in with its photo, judged, conceded and countersigned in one go
    let said = shore(&["bring", stick.to_str().unwrap(), "--as", "supervisor-b"], "");
    assert!(said.contains("1 photo"), "{said}");
    let there = record_in(ashore.path());
    let file = there.to_str().unwrap();
    let line = referred(&shore(&["review", file, "--plain"], ""));
    let lines = format!(
        "concession\n{line}\nthe maker (invented)\nletter 7\nmeasure at 500 h\nthe next opening\nwatch\nyes\n\
         countersign\nyes\nleave\n"
    );
    let said = shore(&["review", file, "--plain", "--as", "supervisor-b"], &lines);
    assert_eq!(said.matches("Saved.").count(), 2, "{said}");
    assert!(shore(&["verify", file], "").contains("+ 1 photo has the bytes it had."));
    copy(&there, &stick);
    // meanwhile the fitter has taken another photo, and the work went on
    let bytes = b"another picture (invented)";
    let photo = PhotoRef { hash: asfound::records::seal::sha256(bytes), name: "second.png".into() };
    fitter.store.keep_photo(&record, &photo, bytes).unwrap();
    fitter.add(&record, "fitter-a", Act::Photo { step: None, photo });
    fitter.add(&record, "fitter-a", Act::Note { step: None, text: "the rebuild goes on".into() });
    let home = |words: &[&str], lines: &str| done(asfound(fitter.root(), words, lines));
    let mine = record.to_str().unwrap();
    let said = home(&["bring", stick.to_str().unwrap(), "--as", "fitter-a"], "");
    assert!(said.contains("both went on; appended as brought:"), "{said}");
    let said = home(&["verify", mine], "");
    assert!(said.contains("+ 2 photos have the bytes they had."), "{said}");
    let said = home(&["review", mine, "--plain"], "");
    assert!(said.contains("concession of the maker (invented) on step wear, turbine side"), "{said}");
    assert!(!referred_now(&said), "{said}");
}

/// Whether step wear still is among what is to be referred.
fn referred_now(pages: &str) -> bool {
    pages.lines().any(|line| line.contains("to refer: ") && line.contains("step wear"))
}

#[test]
fn a_copy_of_the_demonstrations_record_comes_home_into_the_demonstration() {
    let folder = tempfile::tempdir().unwrap();
    done(asfound(folder.path(), &["demo", "--typed"], ""));
    let records = Store::at(folder.path()).demo().records(&id("DEMO-1")).unwrap();
    let stick = folder.path().join("stick.yaml");
    std::fs::copy(records.last().unwrap(), &stick).unwrap();
    let said = done(asfound(folder.path(), &["bring", stick.to_str().unwrap()], ""));
    assert!(said.contains("nothing in the copy that is not here"), "{said}");
    assert!(!folder.path().join("rotors").exists(), "none of it is a rotor of the workshop");
}
