//! A signature states its photos: one that is not there as it was taken is named, and insisted on by name.

use std::path::{Path, PathBuf};

use asfound::domain::checklist::Signing;
use asfound::domain::decide::decide;
use asfound::domain::entry::{Act, PhotoRef};
use asfound::domain::request::{Decision, Hand, Request};

use super::shelf::{PHOTO, Shelf};
use crate::bench::Bench;
use crate::plain::verbs::asfound;
use crate::rig::{Rig, id};

/// A record of which the decisions are to be signed, with a photo; and the photo's file.
fn folder() -> (Shelf, PathBuf, PathBuf) {
    let shelf = Shelf::empty();
    let mut rig = Rig::open();
    rig.leave_rest();
    let path = shelf.keep(&rig.inspection, "2031-04-17-small");
    let photo = PhotoRef { hash: asfound::records::seal::sha256(PHOTO), name: "dent.jpg".into() };
    shelf.store.keep_photo(&path, &photo, PHOTO).unwrap();
    let file = shelf.store.photo_path(&path, &photo);
    shelf.add(&path, "fitter-a", Act::Photo { step: None, photo });
    (shelf, path, file)
}

/// What the last signature carries on by name; none while nothing is signed.
fn carried(shelf: &Shelf, path: &Path) -> Option<Vec<String>> {
    let opened = shelf.open(path);
    let last = opened.inspection.entries().last().unwrap();
    if let Act::Sign(signature) = &last.act { Some(signature.carried.clone()) } else { None }
}

#[test]
fn line_by_line_the_lost_photo_is_named_and_insisted_on_and_the_record_states_it() {
    let (shelf, path, photo) = folder();
    let sign = |lines: &str| {
        let words = ["resume", path.to_str().unwrap(), "--by", "fitter-a", "--plain"];
        let (code, out, err) = asfound(shelf.root(), &words, lines);
        assert_eq!(code, 0, "{out}{err}");
        out
    };
    for (spoilt, words) in [(Some("another"), "was changed"), (None, "is not there")] {
        match spoilt {
            Some(bytes) => std::fs::write(&photo, bytes).unwrap(),
            None => std::fs::remove_file(&photo).unwrap(),
        }
        let number = shelf.open(&path).inspection.entries().last().unwrap().number;
        let out = sign("yes\nsign\n");
        assert!(out.contains("photo dent.jpg of entry") && out.contains(words), "{out}");
        assert!(out.contains("Signed without it by name of fitter-a (insist)?"), "{out}");
        let out = sign("sign\nsign\n");
        assert!(out.contains("`sign` is none of: insist. Nothing was taken."), "{out}");
        assert_eq!(carried(&shelf, &path), None);
        assert!(shelf.open(&path).inspection.entries().last().unwrap().number >= number);
    }
    drop(sign("sign\ninsist\nsign\n"));
    let stated = carried(&shelf, &path).unwrap();
    assert!(stated.len() == 1 && stated[0].starts_with("photo dent.jpg of entry "), "{stated:?}");
    assert!(stated[0].ends_with(" is not there"), "{stated:?}");
}

#[test]
fn on_the_screen_it_is_asked_before_the_signature_and_esc_signs_nothing() {
    let (shelf, path, photo) = folder();
    std::fs::remove_file(&photo).unwrap();
    let open = || {
        let bench = Bench::over(shelf.root()).keys("1").expect("type the name to sign: fitter-a");
        bench.typed("fitter-a").keys("enter").expect("photo dent.jpg of entry")
    };
    let bench = open().expect("Signed without it by name of fitter-a").keys("esc");
    drop(bench);
    assert_eq!(carried(&shelf, &path), None);
    drop(open().keys("1 enter").expect("signed"));
    assert_eq!(carried(&shelf, &path).map(|stated| stated.len()), Some(1));
}

#[test]
fn nothing_is_asked_about_photos_that_are_there_and_decide_alone_lets_a_lost_one_pass() {
    let (shelf, path, photo) = folder();
    let sealed = || shelf.store.seal_of(&shelf.open(&path).file).unwrap();
    assert_eq!(sealed().lost, Vec::<String>::new());
    std::fs::remove_file(&photo).unwrap();
    let (seal, inspection) = (sealed(), shelf.open(&path).inspection);
    let at = inspection.entries().last().unwrap().at;
    let hand = Hand { by: id("fitter-a"), writer: None, at, late: None, break_hours: 10_000 };
    let asked = |carried: Vec<String>| {
        let request = Request::Sign { what: Signing::Decisions, seal: seal.clone(), carried };
        match decide(&inspection, &request, &hand) {
            Decision::Take(_) => "taken".to_owned(),
            Decision::Refuse(refusal) => refusal.kind.name(),
            Decision::Ask { .. } => "asked".to_owned(),
        }
    };
    assert_eq!(asked(Vec::new()), "HeldOpen");
    assert_eq!(asked(vec!["another photo".into()]), "HeldOpen");
    assert_eq!(asked(seal.lost.clone()), "taken");
}

/// A record that came without its photo is here, and the shell is told that it is less than it says.
#[test]
fn a_photo_that_did_not_come_along_is_told_by_the_exit_too() {
    let (shelf, path, photo) = folder();
    let home = Shelf::empty();
    std::fs::remove_file(photo).unwrap();
    let (code, out, err) = asfound(home.root(), &["bring", path.to_str().unwrap()], "");
    assert_eq!(code, 3, "{out}{err}");
    assert!(out.contains("new here, kept.") && out.contains("! The photo dent.jpg of entry"), "{out}");
    drop(shelf);
}
