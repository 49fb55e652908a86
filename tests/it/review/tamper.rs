//! Each kind of change, tried at every entry of the demonstration's record, is found by `verify`.

use std::path::Path;

use asfound::domain::entry::Act;
use asfound::records::verify::{TAIL_UNSEEN, Verified, verify};

use super::shelf::{Shelf, copy, played, sign_of};

fn look(shelf: &Shelf, path: &Path) -> Verified {
    verify(&shelf.store, &[path.to_owned()]).remove(0)
}

/// The record's text before its entries, and each entry with its chain line.
fn cut(text: &str) -> (String, Vec<String>) {
    let begin = text.find("\nentries:\n").unwrap() + "\nentries:\n".len();
    let mut entries: Vec<String> = Vec::new();
    for line in text[begin..].split_inclusive('\n') {
        if line.starts_with("- entry: ") {
            entries.push(String::new());
        }
        entries.last_mut().unwrap().push_str(line);
    }
    (text[..begin].to_owned(), entries)
}

/// Writes the record with its entries changed, and says whether a fault was found.
fn found(shelf: &Shelf, path: &Path, head: &str, entries: &[String]) -> bool {
    std::fs::write(path, format!("{head}{}", entries.concat())).unwrap();
    !look(shelf, path).is_fine()
}

/// The first digit after `from` is made another.
fn other_digit(text: &str, from: usize) -> String {
    let at = text[from..].find(|letter: char| letter.is_ascii_digit()).unwrap() + from;
    let digit = if &text[at..=at] == "7" { "3" } else { "7" };
    format!("{}{digit}{}", &text[..at], &text[at + 1..])
}

/// So many at once: each try costs a whole reading.
const AT_ONCE: usize = 4;

/// Tries something at every entry of the signed record, on copies of its folder.
fn at_every_entry(tries: impl Fn(&Shelf, &Path, usize) + Sync) {
    let (signed, record) = Shelf::signed();
    let count = signed.open(&record).inspection.entries().len();
    assert!(count > 400, "{count}");
    std::thread::scope(|scope| {
        for first in 0..AT_ONCE {
            let (record, tries) = (&record, &tries);
            scope.spawn(move || {
                let shelf = Shelf::empty();
                let path = shelf.root().join("rotors/DEMO-1/2024-07-12-overhaul.yaml");
                copy(record, &path);
                let note = |record: &Path| record.with_extension("").join("last.yaml");
                std::fs::copy(note(record), note(&path)).unwrap();
                for place in (first..count).step_by(AT_ONCE) {
                    tries(&shelf, &path, place);
                }
            });
        }
    });
}

/// The signed record's text before its entries, and each entry.
fn whole() -> (String, Vec<String>) {
    let (_shelf, path) = Shelf::signed();
    cut(&std::fs::read_to_string(path).unwrap())
}

#[test]
fn an_untouched_record_has_no_fault() {
    let (shelf, path) = Shelf::signed();
    let verified = look(&shelf, &path);
    assert!(verified.is_fine(), "{:?}", verified.faults());
    assert!(verified.holds().contains(&"1 photo has the bytes it had."), "{:?}", verified.holds());
    let no_key = verified.unseen().into_iter().find(|line| line.contains("not signed by key")).unwrap();
    assert!(no_key.contains("does not prove who signed"), "{no_key}");
}

#[test]
fn a_digit_changed_an_entry_removed_inserted_or_two_swapped_is_found_at_every_entry() {
    let (head, entries) = whole();
    at_every_entry(|shelf, path, place| {
        let mut changed = entries.clone();
        // the moment is there in every entry
        let at = changed[place].find("  at: ").unwrap();
        changed[place] = other_digit(&changed[place], at);
        assert!(found(shelf, path, &head, &changed), "a digit of entry {}", place + 1);
        let mut removed = entries.clone();
        removed.remove(place);
        assert!(found(shelf, path, &head, &removed), "entry {} removed", place + 1);
        let mut doubled = entries.clone();
        doubled.insert(place, entries[place].clone());
        assert!(found(shelf, path, &head, &doubled), "entry {} put in twice", place + 1);
        if place + 1 < entries.len() {
            let mut swapped = entries.clone();
            swapped.swap(place, place + 1);
            assert!(found(shelf, path, &head, &swapped), "entries {} and the next swapped", place + 1);
        }
    });
    let (shelf, path) = Shelf::signed();
    assert!(!found(&shelf, &path, &head, &entries), "untouched, it holds");
    let begun = head.find("machine hours").unwrap();
    assert!(found(&shelf, &path, &other_digit(&head, begun), &entries), "a digit of the head");
}

#[test]
fn an_older_copy_is_found_where_this_folder_names_the_end_and_elsewhere_verify_says_that_it_cannot_be_seen() {
    let (head, entries) = whole();
    at_every_entry(|shelf, path, place| {
        if place == 0 {
            return;
        }
        let older = format!("{head}{}", entries[..place].concat());
        std::fs::write(path, &older).unwrap();
        let said = look(shelf, path).faults().join(" ");
        assert!(said.contains("the tail was cut off"), "cut before entry {}: {said}", place + 1);
        // alone on a stick nothing names the end
        let alone = shelf.root().join("stick/cut.yaml");
        std::fs::create_dir_all(alone.parent().unwrap()).unwrap();
        std::fs::write(&alone, &older).unwrap();
        let verified = look(shelf, &alone);
        let faults: Vec<_> = verified.faults().into_iter().filter(|fault| !fault.contains("photo")).collect();
        assert!(faults.is_empty(), "{faults:?}");
        assert!(verified.unseen().contains(&TAIL_UNSEEN), "cut before entry {}", place + 1);
    });
}

#[test]
fn a_photo_changed_or_gone_is_found() {
    let (shelf, path) = Shelf::signed();
    let opened = shelf.open(&path);
    let photo = opened.inspection.entries().iter().find_map(|entry| match &entry.act {
        Act::Photo { photo, .. } => Some(photo.clone()),
        _ => None,
    });
    let kept = shelf.store.photo_path(&path, &photo.unwrap());
    std::fs::write(&kept, b"another picture").unwrap();
    assert!(look(&shelf, &path).faults().join(" ").contains("was changed"));
    std::fs::remove_file(&kept).unwrap();
    assert!(look(&shelf, &path).faults().join(" ").contains("is not there"));
}

#[test]
fn another_record_under_the_same_name_is_found() {
    let (shelf, path) = Shelf::signed();
    let other = Shelf::empty();
    let earlier = other.keep(&played()[1], "earlier");
    copy(&earlier, &path);
    assert!(!look(&shelf, &path).is_fine());
}

#[test]
fn line_ends_turned_by_mail_are_named_and_every_entry_still_holds() {
    let (shelf, path) = Shelf::signed();
    let text = std::fs::read_to_string(&path).unwrap();
    std::fs::write(&path, text.replace('\n', "\r\n")).unwrap();
    let verified = look(&shelf, &path);
    assert_eq!(verified.faults(), ["Line ends were turned, by mail or an editor."]);
    assert!(sign_of(&shelf.open(&path)).is_some());
    let note = Act::Note { step: None, text: "goes on".into() };
    assert!(shelf.try_add(&path, "fitter-a", note.clone()).unwrap_err().contains("was changed outside"));
    shelf.add(&path, "fitter-a", Act::seen(1, "came by mail, line ends only".into()));
    shelf.add(&path, "fitter-a", note);
}
