//! Opening a long record and appending to it are quick enough not to be noticed.

use std::time::Instant;

use asfound::domain::entry::Act;
use asfound::records::checklist_file::built_in;
use asfound::records::inspection_file::{InspectionFile, open};

use super::samples::{entry, head};

/// A record of the full overhaul with 400 entries.
fn long_record(folder: &std::path::Path) -> std::path::PathBuf {
    let path = folder.join("2031-04-17-overhaul.yaml");
    let mut head = head();
    head.checklist = built_in("overhaul").unwrap().unwrap();
    let reading = |number: u32| Act::Reading {
        step: "bush.ts/clearance".to_owned(),
        place: format!("inner 0 / {number} / up"),
        typed: "0,232".to_owned(),
        taken: "0.232 mm".parse().unwrap(),
        gauge: Some("D2".parse().unwrap()),
        doubts: vec![],
    };
    let act = |number| if number == 1 { Act::Begin } else { reading(number) };
    let entries: Vec<_> = (1..=400).map(|number| entry(number, act(number))).collect();
    InspectionFile::begin(&path, &head, &entries).unwrap();
    path
}

/// Loose bounds: an unoptimised build on a busy machine must pass; an optimised one takes about a tenth.
#[test]
fn a_record_of_400_entries_opens_at_once_and_appending_does_not_read_it_again() {
    let folder = tempfile::tempdir().unwrap();
    let path = long_record(folder.path());
    let begun = Instant::now();
    let mut opened = open(&path).unwrap();
    let opening = begun.elapsed();
    let begun = Instant::now();
    for number in 401..=410 {
        opened.file.append(&[entry(number, Act::Resume)]).unwrap();
    }
    let appending = begun.elapsed() / 10;
    let size = opened.file.bytes().len();
    println!("{size} bytes: opened in {opening:?}, a save {appending:?}");
    assert!(opening.as_millis() < 500, "opened in {opening:?}");
    assert!(appending.as_millis() < 250, "a save took {appending:?}");
}
