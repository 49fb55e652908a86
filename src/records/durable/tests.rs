//! Every point at which a save can stop.

use std::path::Path;
use std::sync::Arc;

use super::stopping::{Left, Stop, StoppingDisk};
use crate::domain::entry::{Act, Entry};
use crate::domain::inspection::Head;
use crate::records::inspection_file::{InspectionFile, open_on};
use crate::records::save_fault::SaveFault;

const PATH: &str = "rotors/DEMO-1/2031-04-17-short.yaml";

fn head() -> Head {
    let text = include_str!("../../../docs/files/rotors/DEMO-1/2031-04-17-short.yaml");
    crate::records::inspection_file::read("sample", text.as_bytes()).unwrap().inspection.head().clone()
}

fn entry(number: u32) -> Entry {
    let act = if number == 1 { Act::Begin } else { Act::Note { step: None, text: format!("note {number}") } };
    let at = "2031-04-17T14:05:31+02:00".parse().unwrap();
    Entry { number, at, by: "fitter-a".parse().unwrap(), writer: None, late: None, act }
}

fn begun(disk: &StoppingDisk) -> Result<InspectionFile, SaveFault> {
    InspectionFile::begin_on(Arc::new(disk.clone()), Path::new(PATH), &head(), &[entry(1)])
}

/// How many entries the record on a disk has; `None` without a record.
fn found(disk: &StoppingDisk) -> Option<usize> {
    disk.names().iter().any(|name| name == Path::new(PATH)).then(|| {
        let disk: Arc<dyn super::Disk> = Arc::new(disk.clone());
        open_on(&disk, Path::new(PATH)).unwrap_or_else(|problems| panic!("{problems}")).inspection.entries().len()
    })
}

/// A disk with a record of one entry, and the record opened on the same contents with a stop.
fn opened(stop: Stop) -> (StoppingDisk, InspectionFile) {
    let disk = StoppingDisk::new(Stop::Never);
    drop(begun(&disk).unwrap());
    let disk = disk.stopping(stop);
    let arc: Arc<dyn super::Disk> = Arc::new(disk.stopping(Stop::Never));
    let mut file = open_on(&arc, Path::new(PATH)).unwrap().file;
    file.go_on_with(Arc::new(disk.clone()));
    (disk, file)
}

#[test]
fn a_save_is_two_syncs_and_a_rename() {
    let (disk, mut file) = opened(Stop::Never);
    file.append(&[entry(2), entry(3)]).unwrap();
    assert_eq!(disk.calls(), ["create", "write", "sync", "read", "rename", "sync folder"]);
    assert_eq!(found(&disk), Some(3));
}

/// However long the record: nothing of it is read again, and what is written is it and the new entry, once.
#[test]
fn a_save_asks_the_same_of_the_disk_behind_400_entries_as_behind_one() {
    let (disk, mut file) = opened(Stop::Never);
    file.append(&[entry(2)]).unwrap();
    let short = disk.calls();
    file.append(&(3..=400).map(entry).collect::<Vec<_>>()).unwrap();
    let before = disk.calls().len();
    file.append(&[entry(401)]).unwrap();
    assert_eq!(disk.calls()[before..], short[..]);
}

#[test]
fn a_power_cut_leaves_the_old_record_or_the_new_and_what_was_called_saved_is_there() {
    let (disk, mut file) = opened(Stop::Never);
    file.append(&[entry(2)]).unwrap();
    let calls = disk.calls().len();
    for number in 0..=calls {
        for stop in [Stop::Before(number), Stop::After(number)] {
            for left in [Left::Nothing, Left::All, Left::NamesAndHalf] {
                let (disk, mut file) = opened(stop);
                let said = file.append(&[entry(2)]);
                let found = found(&disk.after_power_cut(left));
                let fine = found == Some(2) || (said.is_err() && found == Some(1));
                assert!(fine, "{stop:?}, {left:?}, {said:?}: {found:?}");
            }
        }
    }
}

#[test]
fn a_power_cut_while_a_record_begins_leaves_none_or_a_whole_one() {
    let disk = StoppingDisk::new(Stop::Never);
    drop(begun(&disk).unwrap());
    for number in 0..=disk.calls().len() {
        for stop in [Stop::Before(number), Stop::After(number)] {
            for left in [Left::Nothing, Left::All, Left::NamesAndHalf] {
                let disk = StoppingDisk::new(stop);
                let said = begun(&disk).map(drop);
                let found = found(&disk.after_power_cut(left));
                assert!(
                    found == Some(1) || (said.is_err() && found.is_none()),
                    "{stop:?}, {left:?}, {said:?}: {found:?}"
                );
            }
        }
    }
}

#[test]
fn a_save_that_failed_once_can_be_tried_again_with_more_behind_it() {
    for number in 0..6 {
        for stop in [Stop::OnceBefore(number), Stop::OnceAfter(number)] {
            let (disk, mut file) = opened(stop);
            assert!(matches!(file.append(&[entry(2)]), Err(SaveFault::Disk { .. })), "{stop:?}");
            file.append(&[entry(2), entry(3)]).unwrap_or_else(|fault| panic!("{stop:?}: {fault}"));
            assert_eq!(found(&disk), Some(3), "{stop:?}");
        }
    }
}

#[test]
fn what_another_program_wrote_is_not_written_over() {
    let (disk, mut file) = opened(Stop::Never);
    disk.meddle(Path::new(PATH), b"theirs");
    assert!(matches!(file.append(&[entry(2)]), Err(SaveFault::ChangedMeanwhile { .. })));
    assert!(matches!(file.append(&[entry(2)]), Err(SaveFault::ChangedMeanwhile { .. })));
    assert_eq!(disk.names(), [Path::new(PATH)], "nothing is left beside it");
    assert!(matches!(begun(&disk), Err(SaveFault::InTheWay { .. })));
    assert_eq!(super::Disk::read(&disk, Path::new(PATH)).unwrap().unwrap(), b"theirs");
}

#[test]
fn entries_follow_each_other_by_number() {
    let (_, mut file) = opened(Stop::Never);
    assert!(matches!(file.append(&[entry(3)]), Err(SaveFault::Number { next: 2, found: 3 })));
    file.append(&[entry(2)]).unwrap();
    assert!(matches!(file.append(&[entry(2)]), Err(SaveFault::Number { next: 3, found: 2 })));
}
