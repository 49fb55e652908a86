//! What ties a record to other records and its entries to each other: each tie is broken, at every entry where it can be, and
//! verify says so.

use std::path::{Path, PathBuf};

use asfound::domain::checklist::Signing;
use asfound::domain::entry::{Act, Entry, Late, PhotoRef, Remark};
use asfound::domain::inspection::{Head, Inspection, Previous};
use asfound::domain::signing;
use asfound::records::inspection_file::{InspectionFile, Opened};
use asfound::records::verify::{TAIL_UNSEEN, Verified, verify};

use super::keys::keyed;
use super::shelf::{PHOTO, Shelf, sign_of};
use crate::rig::{Rig, head, stamp};

fn look(shelf: &Shelf, path: &Path) -> Verified {
    verify(&shelf.store, &[path.to_owned()]).remove(0)
}

fn last(opened: &Opened) -> (u32, String) {
    (opened.inspection.entries().last().unwrap().number, opened.chains.last().unwrap().clone())
}

fn note(text: &str) -> Act {
    Act::Note { step: None, text: text.into() }
}

/// Takes away what the data folder knows of the record's end: only the records speak.
fn forget(path: &Path) {
    let noted = path.with_extension("").join("last.yaml");
    if noted.is_file() {
        std::fs::remove_file(noted).unwrap();
    }
}

/// An inspection, and the next one of the same rotor, which names its last entry.
fn two() -> (Shelf, PathBuf, PathBuf) {
    let shelf = Shelf::empty();
    let mut rig = Rig::open();
    rig.lifts("bush.ts/clearance", ["0.180"; 3], ["0.182"; 3]);
    let earlier = shelf.keep(&rig.inspection, "2031-04-17-small");
    let (entry, chain) = last(&shelf.open(&earlier));
    let previous = Previous { inspection: rig.inspection.head().id.clone(), entry, chain };
    let begun = stamp("2033-05-02T08:00:00+02:00");
    let next = Rig::with(Head { id: "INV/2033-05-02-small".into(), begun, previous: Some(previous), ..head() });
    let later = shelf.keep(&next.inspection, "2033-05-02-small");
    (shelf, earlier, later)
}

/// The record's entries up to `kept`, then notes in place of all others: a chain that holds, and another history.
fn written_anew(shelf: &Shelf, path: &Path, kept: usize) {
    let opened = shelf.open(path);
    let (inspection, count) = (opened.inspection, opened.chains.len());
    std::fs::remove_file(path).unwrap();
    let entries = inspection.entries();
    let anew = |entry: &Entry| Entry { act: note("as I would have it"), ..entry.clone() };
    let entries: Vec<_> = entries.iter().take(kept).cloned().chain(entries[kept..count].iter().map(anew)).collect();
    drop(InspectionFile::begin(path, inspection.head(), &entries).unwrap());
}

fn bytes_of(path: &Path) -> Vec<u8> {
    std::fs::read(path).unwrap()
}

#[test]
fn records_that_name_each_other_hold_and_an_earlier_one_may_have_grown_since() {
    let (shelf, earlier, later) = two();
    let holds = look(&shelf, &later);
    assert!(holds.is_fine(), "{:?}", holds.faults());
    assert!(holds.holds().iter().any(|line| line.starts_with("The record before, INV/2031-04-17-small, stands")));
    let named = look(&shelf, &earlier);
    assert!(named.is_fine(), "{:?}", named.faults());
    let says =
        format!("The later record INV/2033-05-02-small names entry {}, which is there.", last(&shelf.open(&earlier)).0);
    assert!(named.holds().contains(&says.as_str()), "{:?}", named.holds());
    // its last entry is named, so that a missing tail would be seen
    assert!(!named.unseen().contains(&TAIL_UNSEEN));
    shelf.add(&earlier, "supervisor-b", note("read ashore"));
    forget(&earlier);
    assert!(look(&shelf, &earlier).is_fine() && look(&shelf, &later).is_fine());
    assert!(look(&shelf, &earlier).unseen().contains(&TAIL_UNSEEN), "what grew since is named by nobody");
}

#[test]
fn an_earlier_record_cut_short_or_swapped_for_an_older_state_is_found_at_every_entry() {
    let (shelf, earlier, later) = two();
    let whole = bytes_of(&earlier);
    let opened = shelf.open(&earlier);
    let (number, count) = (last(&opened).0, opened.chains.len());
    for kept in 1..count {
        std::fs::write(&earlier, &whole[..opened.stretches[kept].entry.start]).unwrap();
        assert_eq!(
            look(&shelf, &earlier).faults(),
            [format!(
                "The later record INV/2033-05-02-small names entry {number}, which is missing: the tail was cut off."
            )]
        );
        assert_eq!(
            look(&shelf, &later).faults(),
            [format!("The record before, INV/2031-04-17-small, had {number} entries then and has fewer now.")]
        );
        // and nothing is written before somebody has said so under a name
        let opened = shelf.open(&earlier);
        let behind = last(&opened).0 + 1;
        assert_eq!(opened.outside(), Some(behind));
        assert!(opened.faults()[0].contains("is missing now"));
    }
}

#[test]
fn of_two_under_one_id_the_later_record_means_one_and_the_other_lacks_nothing() {
    let (shelf, earlier, later) = two();
    let begun = stamp("2031-04-17T09:00:00+02:00");
    let mut twin = Rig::with(Head { begun, ..shelf.open(&earlier).inspection.head().clone() });
    twin.take(note("begun on another machine"));
    let twin = shelf.keep(&twin.inspection, "2031-04-17-small-2");
    for path in [&earlier, &twin] {
        assert_eq!(shelf.open(path).outside(), None);
        let told = look(&shelf, path);
        assert!(!told.faults().iter().any(|fault| fault.starts_with("The later record")), "{:?}", told.faults());
    }
    assert!(look(&shelf, &later).is_fine(), "{:?}", look(&shelf, &later).faults());
    // a copy of it is no twin: cut beside its whole copy it is short all the same
    let at = shelf.open(&earlier).stretches[2].entry.start;
    let whole = bytes_of(&earlier);
    std::fs::write(&twin, &whole).unwrap();
    std::fs::write(&earlier, &whole[..at]).unwrap();
    assert!(shelf.open(&earlier).outside().is_some());
}

#[test]
fn an_earlier_record_whose_end_is_missing_goes_on_once_that_was_seen() {
    let (shelf, earlier, later) = two();
    let at = shelf.open(&earlier).stretches[2].entry.start;
    std::fs::write(&earlier, &bytes_of(&earlier)[..at]).unwrap();
    forget(&earlier);
    let behind = last(&shelf.open(&earlier)).0 + 1;
    let seen = Act::SeenOutside { from: Some(behind), note: "cut by the mail".into(), length: None, sha256: None };
    // said before the later one was begun it is about something else
    let mut opened = shelf.open(&earlier);
    let entry = Entry { at: stamp("2033-05-01T08:00:00+02:00"), act: seen, ..opened.inspection.entries()[0].clone() };
    let entry = Entry { number: behind, ..entry };
    let untouched = bytes_of(&earlier);
    opened.file.append(std::slice::from_ref(&entry)).unwrap();
    assert!(shelf.open(&earlier).outside().is_some());
    std::fs::write(&earlier, untouched).unwrap();
    let mut opened = shelf.open(&earlier);
    opened.file.append(&[Entry { at: stamp("2033-05-03T08:00:00+02:00"), ..entry }]).unwrap();
    assert_eq!(shelf.open(&earlier).outside(), None);
    assert!(!look(&shelf, &later).is_fine(), "verify says what is missing all the same");
}

#[test]
fn an_earlier_record_written_anew_from_some_entry_on_is_found_though_its_chain_holds() {
    let (shelf, earlier, later) = two();
    let whole = bytes_of(&earlier);
    let (number, count) = (last(&shelf.open(&earlier)).0, shelf.open(&earlier).chains.len());
    for kept in 1..count {
        std::fs::write(&earlier, &whole).unwrap();
        written_anew(&shelf, &earlier, kept);
        let says = format!(
            "The later record INV/2033-05-02-small names entry {number} with another chain value: the record was replaced."
        );
        let found = look(&shelf, &earlier);
        assert_eq!(found.faults(), [says], "from entry {} on", kept + 1);
        let inspection = shelf.open(&earlier).inspection;
        assert!(signing::is_shaken(&inspection, number) && signing::is_changed_outside(&inspection));
        assert!(signing::is_shaken(&inspection, 1), "what was signed before it may be another too");
        assert_eq!(shelf.open(&earlier).outside(), Some(1));
        assert!(found.holds().iter().any(|line| line.starts_with("The chain holds")), "{:?}", found.holds());
        let says = format!(
            "The record before, INV/2031-04-17-small, is another than the one that stood there: entry {number} has another chain value."
        );
        assert_eq!(look(&shelf, &later).faults(), [says], "from entry {} on", kept + 1);
    }
}

#[test]
fn this_folders_note_finds_an_older_state_and_a_record_written_anew_at_every_entry() {
    let shelf = Shelf::empty();
    let mut rig = Rig::open();
    rig.lifts("bush.ts/clearance", ["0.180"; 3], ["0.182"; 3]);
    let path = shelf.keep(&rig.inspection, "2031-04-17-small");
    shelf.add(&path, "fitter-a", note("the last one"));
    assert!(look(&shelf, &path).is_fine());
    let (whole, opened) = (bytes_of(&path), shelf.open(&path));
    for kept in 1..opened.chains.len() {
        std::fs::write(&path, &whole[..opened.stretches[kept].entry.start]).unwrap();
        let said = look(&shelf, &path).faults().join(" ");
        assert!(said.contains("The note of this data folder names entry") && said.contains("is missing"), "{said}");
        std::fs::write(&path, &whole).unwrap();
        written_anew(&shelf, &path, kept);
        let said = look(&shelf, &path).faults().join(" ");
        assert!(said.contains("with another chain value: the record was replaced"), "from {}: {said}", kept + 1);
    }
}

#[test]
fn a_record_in_the_place_of_another_is_said_at_both_files() {
    let (shelf, earlier, later) = two();
    std::fs::copy(&earlier, &later).unwrap();
    for path in [&earlier, &later] {
        forget(path);
        let said = look(&shelf, path).faults().join(" ");
        assert!(said.contains("holds the same inspection: one of the two is a copy, or was put in another"), "{said}");
    }
}

#[test]
fn what_is_not_there_or_cannot_be_read_is_said_as_not_seen() {
    let (shelf, earlier, later) = two();
    let whole = bytes_of(&earlier);
    std::fs::write(&earlier, b"format: 1\n").unwrap();
    let said = look(&shelf, &later);
    assert!(said.is_fine(), "{:?}", said.faults());
    let unread = "rotors/INV/2031-04-17-small.yaml beside it cannot be read: what it says of this record is not known.";
    assert!(said.unseen().contains(&unread), "{:?}", said.unseen());
    std::fs::remove_file(&earlier).unwrap();
    assert!(look(&shelf, &later).unseen().contains(&"The record before, INV/2031-04-17-small, is not here."));
    std::fs::write(&earlier, whole).unwrap();
    assert!(look(&shelf, &later).unseen().iter().all(|line| !line.contains("is not here")));
}

/// A small record with its decisions signed.
fn signed() -> (Shelf, PathBuf, u32, String) {
    let shelf = Shelf::empty();
    let path = shelf.keep(&Rig::open().inspection, "2031-04-17-small");
    let photo = PhotoRef { hash: asfound::records::seal::sha256(PHOTO), name: "dent.jpg".into() };
    shelf.store.keep_photo(&path, &photo, PHOTO).unwrap();
    shelf.add(&path, "fitter-a", Act::Photo { step: None, photo });
    shelf.sign(&path, "fitter-a", Signing::Decisions);
    let (sign, chain) = sign_of(&shelf.open(&path)).unwrap();
    (shelf, path, sign, chain)
}

#[test]
fn a_countersignature_or_a_return_of_another_signature_is_found_its_own_holds() {
    let remarks = || vec![Remark { step: None, text: "which side?".into() }];
    let other = "0123456789abcdef".to_owned();
    for right in [true, false] {
        for countersign in [true, false] {
            let (shelf, path, sign, chain) = signed();
            let chain = if right { chain } else { other.clone() };
            let act = match countersign {
                true => Act::Countersign { sign, chain },
                false => Act::Return { sign, chain, remarks: remarks() },
            };
            let entry = shelf.add(&path, "supervisor-b", act).number;
            let looked = look(&shelf, &path);
            let faults = looked.faults();
            assert_eq!(faults.len(), usize::from(!right), "said once: {faults:?}");
            let begin = format!("Entry {entry} does not count: signature {sign} ");
            let end = format!("It names chain {other}, which is not in this record.");
            assert!(faults.iter().all(|fault| fault.starts_with(&begin) && fault.ends_with(&end)), "{faults:?}");
        }
    }
}

#[test]
fn a_sheet_whose_photo_is_nowhere_and_a_signature_that_states_a_strangers_photo_are_found() {
    let write = |change: &dyn Fn(&mut Entry)| {
        let (shelf, path, sign, _) = signed();
        let mut whole = Inspection::new(shelf.open(&path).inspection.head().clone());
        for mut entry in shelf.open(&path).inspection.entries().iter().cloned() {
            change(&mut entry);
            drop(asfound::domain::apply::apply(&mut whole, entry));
        }
        std::fs::remove_file(&path).unwrap();
        shelf.keep(&whole, "2031-04-17-small");
        forget(&path);
        (look(&shelf, &path), sign)
    };
    let late = |sheet: &str| Some(Late { taken: "09:15".into(), sheet: Some(sheet.to_owned()) });
    let is_tick = |entry: &Entry| matches!(entry.act, Act::Tick { .. });
    let hash = asfound::records::seal::sha256(PHOTO);
    // the sheet's photo may be entered behind the figures that came from it
    let (held, _) = write(&|entry| {
        if is_tick(entry) {
            entry.late = late(&hash)
        }
    });
    assert!(held.is_fine(), "{:?}", held.faults());
    let (lost, _) = write(&|entry| {
        if is_tick(entry) {
            entry.late = late(&"0".repeat(64))
        }
    });
    assert!(lost.faults()[0].ends_with("came from a sheet whose photo is in no entry."), "{:?}", lost.faults());
    let (stranger, sign) = write(&|entry| {
        if let Act::Sign(signature) = &mut entry.act {
            signature.photos.push("0".repeat(64));
        }
    });
    assert_eq!(
        stranger.faults(),
        [format!("The signature, entry {sign}, states 1 photo that no entry before it has.")]
    );
}

#[test]
fn a_photo_that_a_signature_states_is_looked_at_too() {
    let (shelf, path, ..) = signed();
    assert!(look(&shelf, &path).holds().contains(&"1 photo has the bytes it had."));
    let photo = PhotoRef { hash: asfound::records::seal::sha256(PHOTO), name: "dent.jpg".into() };
    std::fs::write(shelf.store.photo_path(&path, &photo), b"another picture").unwrap();
    assert!(look(&shelf, &path).faults()[0].starts_with("The photo dent.jpg of entry"));
}

#[test]
fn a_signature_moved_to_another_record_is_found_at_every_entry_there() {
    let (from, path, sign, _) = signed();
    let opened = from.open(&path);
    let place = opened.inspection.entries().iter().position(|entry| entry.number == sign).unwrap();
    let moved = opened.file.bytes()[opened.stretches[place].entry.start..opened.stretches[place].end].to_vec();
    let to = Shelf::empty();
    let mut rig = Rig::with(Head { id: "INV/2031-04-18-small".into(), ..head() });
    rig.covers_off().lifts("bush.ts/clearance", ["0.180"; 3], ["0.182"; 3]);
    let other = to.keep(&rig.inspection, "2031-04-18-small");
    let (whole, places) = (bytes_of(&other), to.open(&other).stretches);
    for place in &places {
        for begin in [place.entry.start, place.end] {
            // put in before, put in behind, put in its place
            for rest in [begin, place.end] {
                let spoilt = [&whole[..begin], &moved, &whole[rest..]].concat();
                std::fs::write(&other, spoilt).unwrap();
                let said = look(&to, &other).faults().join(" ");
                assert!(said.contains(&format!("The signature, entry {sign}, was given under other bytes")), "{said}");
            }
        }
    }
}

#[test]
fn a_signature_by_key_moved_beside_another_record_is_found_at_every_entry_there() {
    let (from, path, number, ..) = keyed();
    let key = bytes_of(&from.store.signature_path(&path, number));
    let (shelf, other, ..) = signed();
    let entries: Vec<u32> = shelf.open(&other).inspection.entries().iter().map(|entry| entry.number).collect();
    for entry in &entries {
        let moved = shelf.store.signature_path(&other, *entry);
        std::fs::create_dir_all(moved.parent().unwrap()).unwrap();
        std::fs::write(&moved, &key).unwrap();
        let said = look(&shelf, &other).faults().join(" ");
        assert!(
            said.contains("belongs to another record") || said.contains(&format!("{entry}.sig beside it")),
            "{said}"
        );
        std::fs::remove_file(&moved).unwrap();
    }
    assert!(entries.len() > 2 && look(&shelf, &other).is_fine());
}

/// A value of the chain that was left standing says nothing of the bytes that were changed under it.
#[test]
fn an_earlier_record_in_which_a_digit_was_changed_is_found_from_the_later_one() {
    let (shelf, earlier, later) = two();
    let text = String::from_utf8(bytes_of(&earlier)).unwrap();
    assert!(look(&shelf, &later).is_fine());
    let changed = text.replacen("typed: \"0", "typed: \"1", 1);
    assert_ne!(changed, text);
    std::fs::write(&earlier, changed).unwrap();
    let verified = look(&shelf, &later);
    assert!(verified.faults().iter().any(|fault| fault.contains("was changed since it stood there")), "{verified:?}");
}
