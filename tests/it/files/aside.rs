//! What lies beside a record and cannot be read is told once and kept; nothing is written over it.

use std::sync::Arc;

use asfound::face::effect::{Answer, Query};
use asfound::face::shelf::{RecordShelf, reading};
use asfound::face::writer::Shelf as _;
use asfound::records::clock::PretendedClock;

use crate::review::shelf::Shelf;
use crate::rig::{Rig, stamp};

const GARBAGE: &str = "format: 1\nstep: [half a";

/// The remark with which the record opens at the bench.
fn opened(shelf: &Shelf, path: &std::path::Path) -> Option<String> {
    let clock = Arc::new(PretendedClock::at(stamp("2031-04-18T08:00:00+02:00")));
    let mut bench = RecordShelf::new(shelf.store.clone(), clock);
    match bench.fetch(&Query::Open(path.display().to_string()), &[]) {
        Answer::Opened(Ok(opened)) => opened.remark,
        other => panic!("{other:?}"),
    }
}

#[test]
fn a_note_and_a_draft_that_cannot_be_read_are_told_once_and_kept() {
    let shelf = Shelf::empty();
    let path = shelf.keep(&Rig::open().inspection, "2031-04-17-small");
    let beside = path.with_extension("");
    std::fs::create_dir_all(&beside).unwrap();
    for name in ["last.yaml", "draft.yaml"] {
        std::fs::write(beside.join(name), GARBAGE).unwrap();
    }
    let verified = asfound::records::verify::verify(&shelf.store, std::slice::from_ref(&path)).remove(0);
    assert!(verified.unseen().iter().any(|line| line.starts_with("The note of this data folder, last.yaml")));
    let said = opened(&shelf, &path).unwrap();
    assert!(said.contains("last.yaml beside it cannot be read") && said.contains("draft.yaml beside it"), "{said}");
    let kept: Vec<_> = std::fs::read_dir(&beside).unwrap().map(|one| one.unwrap().path()).collect();
    let kept: Vec<_> = kept.iter().filter(|one| one.to_string_lossy().contains("unreadable-")).collect();
    assert_eq!(kept.len(), 2);
    assert!(kept.iter().all(|one| std::fs::read_to_string(one).unwrap() == GARBAGE), "as it was");
    assert_eq!(opened(&shelf, &path), None, "said once");
}

#[test]
fn unsent_remarks_that_cannot_be_read_are_told_once_and_kept() {
    let shelf = Shelf::empty();
    let path = shelf.keep(&Rig::open().inspection, "2031-04-17-small");
    let beside = path.with_extension("");
    std::fs::create_dir_all(&beside).unwrap();
    std::fs::write(beside.join("review.draft.yaml"), GARBAGE).unwrap();
    let warned = || {
        let read = reading::read(&shelf.store, &path).unwrap();
        read.review.warnings.iter().filter(|line| line.contains("Remarks that were not sent stand in it")).count()
    };
    assert_eq!((warned(), warned()), (1, 0));
    let kept = std::fs::read_dir(&beside).unwrap().map(|one| one.unwrap().path());
    assert!(kept.into_iter().any(|one| std::fs::read_to_string(one).is_ok_and(|text| text == GARBAGE)));
}
