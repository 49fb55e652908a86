//! Records changed outside: said at which entry, gone on with only after somebody has seen it, never written over.

use std::path::{Path, PathBuf};

use asfound::domain::entry::{Act, Entry};
use asfound::records::check::check_files;
use asfound::records::entry_file::entry_text;
use asfound::records::inspection_file::{Flaw, InspectionFile, Opened, Trust, open};
use asfound::records::save_fault::SaveFault;
use asfound::records::store::{LastEntry, Store};
use asfound::records::verify::{TAIL_UNSEEN, verify};
use proptest::prelude::*;

use super::samples::{RECORD, acts, entry, head, sample};

fn text() -> String {
    String::from_utf8(sample(RECORD)).unwrap()
}

/// The record's head, then each entry with its chain line.
fn pieces() -> (String, Vec<String>) {
    let text = text();
    let (head, entries) = text.split_once("\nentries:\n").unwrap();
    let entries = entries.split_inclusive('\n').fold(Vec::<String>::new(), |mut found, line| {
        if line.starts_with("- entry: ") {
            found.push(String::new());
        }
        found.last_mut().unwrap().push_str(line);
        found
    });
    (format!("{head}\nentries:\n"), entries)
}

fn put(folder: &Path, text: &[u8]) -> PathBuf {
    let path = folder.join("2031-04-17-short.yaml");
    std::fs::write(&path, text).unwrap();
    path
}

fn opened(text: &str) -> Result<Opened, asfound::records::yaml::Problems> {
    let folder = tempfile::tempdir().unwrap();
    open(&put(folder.path(), text.as_bytes()))
}

fn flaws(text: &str) -> Vec<(u32, Flaw)> {
    opened(text)
        .unwrap_or_else(|problems| panic!("{problems}"))
        .breaks
        .iter()
        .map(|one| (one.entry, one.flaw))
        .collect()
}

#[test]
fn a_changed_letter_is_told_at_its_entry_wherever_it_is() {
    let (head, entries) = pieces();
    for place in 0..entries.len() {
        let mut changed = entries.clone();
        changed[place] = changed[place].replacen(":31+02:00", ":32+02:00", 1);
        let number = u32::try_from(place + 1).unwrap();
        let found = flaws(&format!("{head}{}", changed.concat()));
        assert!(found.contains(&(number, Flaw::Bytes)), "entry {number}: {found:?}");
        assert!(found.iter().all(|(entry, _)| *entry >= number), "entry {number}: {found:?}");
    }
    let found = flaws(&text().replacen("serial: INV-420-0017", "serial: INV-420-0018", 1));
    assert_eq!(found[0], (1, Flaw::Bytes), "a changed head shows at the first entry");
}

#[test]
fn entries_taken_out_swapped_or_put_in_are_told() {
    let (head, entries) = pieces();
    let last = entries.len() - 1;
    for place in 0..last {
        let mut without = entries.clone();
        without.remove(place);
        let mut swapped = entries.clone();
        swapped.swap(place, place + 1);
        let mut twice = entries.clone();
        twice.insert(place, entries[place].clone());
        for changed in [without, swapped, twice] {
            assert!(!flaws(&format!("{head}{}", changed.concat())).is_empty(), "at entry {}", place + 1);
        }
    }
    let mut remarked = entries.clone();
    remarked[4].insert_str(0, "# put in\n");
    assert_eq!(flaws(&format!("{head}{}", remarked.concat()))[0], (5, Flaw::Stray));
    assert_eq!(flaws(&format!("{}# behind\n", text())), [(37, Flaw::Tail)]);
}

#[test]
fn line_ends_turned_by_mail_are_told_apart_from_changes() {
    assert_eq!(flaws(&text().replace('\n', "\r\n")), [(0, Flaw::LineEnds)]);
}

#[test]
fn a_record_cut_after_an_entry_is_an_earlier_state_of_itself() {
    let (head, entries) = pieces();
    for count in 1..entries.len() {
        let cut = opened(&format!("{head}{}", entries[..count].concat())).unwrap();
        assert_eq!((cut.trust, cut.inspection.entries().len()), (Trust::Whole, count));
    }
}

#[test]
fn a_changed_record_is_gone_on_with_only_after_somebody_has_seen_it() {
    let folder = tempfile::tempdir().unwrap();
    let changed = text().replacen("typed: \"0,020\"", "typed: \"0,021\"", 1);
    let path = put(folder.path(), changed.as_bytes());
    let mut record = open(&path).unwrap();
    assert_eq!(record.trust, Trust::Changed { entry: 11 });
    let refused = record.file.append(&[entry(38, Act::Resume)]).unwrap_err();
    assert!(matches!(refused, SaveFault::NotSeen { entry: 11, .. }), "{refused}");
    assert_eq!(std::fs::read_to_string(&path).unwrap(), changed, "nothing was written");
    let seen = Act::seen(11, "an editor".to_owned());
    record.file.append(&[entry(38, seen), entry(39, Act::Resume)]).unwrap();
    let again = open(&path).unwrap();
    assert_eq!(again.trust, Trust::Seen { entry: 11 });
    assert!(std::fs::read_to_string(&path).unwrap().starts_with(&changed), "old bytes stand");
    let mut file = again.file;
    file.append(&[entry(40, Act::Resume)]).unwrap();
}

#[test]
fn a_record_cut_within_its_head_is_not_to_be_mended_with_an_editor() {
    let text = text();
    let end = text.find("\nentries:\n").unwrap();
    for cut in (200..end).step_by(997) {
        let Err(problems) = opened(&text[..cut]) else { panic!("cut at {cut}") };
        let said = problems.to_string();
        assert!(said.contains("Fetch a whole copy and bring it in"), "cut at {cut}: {said}");
        assert!(!said.contains("Close the quotes"), "cut at {cut}: {said}");
    }
}

#[test]
fn a_file_of_another_kind_is_no_record_that_was_cut_off() {
    for (text, at) in [(sample("people.yaml"), ":2:1: "), (b"hello world\n".to_vec(), ":1:1: ")] {
        let problems = opened(&String::from_utf8(text).unwrap()).map(drop).unwrap_err().to_string();
        assert!(problems.contains(at), "{problems}");
        assert!(problems.contains("found a file of another kind") && problems.contains("asfound check"), "{problems}");
        assert!(!problems.contains("cut off"), "{problems}");
    }
}

#[test]
fn a_newer_format_opens_to_read_and_never_to_write() {
    let newer = text().replacen("format: 1", "format: 2\nweather: fair", 1).replacen("kind: resume", "kind: sung", 1);
    let folder = tempfile::tempdir().unwrap();
    let mut record = open(&put(folder.path(), newer.as_bytes())).unwrap_or_else(|problems| panic!("{problems}"));
    assert_eq!((record.trust, record.unread), (Trust::Newer { format: 2 }, 1));
    // that it may be newer is no excuse: this program's chain does not hold over these bytes
    let said: Vec<_> = record.breaks.iter().map(|one| one.what()).collect();
    assert!(said.iter().any(|what| what == "The head or entry 1 was changed."), "{said:?}");
    assert!(asfound::domain::signing::is_changed_outside(&record.inspection));
    let refused = record.file.append(&[entry(38, Act::Resume)]).unwrap_err();
    assert!(matches!(refused, SaveFault::Newer { format: 2, .. }), "{refused}");
}

#[test]
fn a_signature_moved_elsewhere_or_stating_other_bytes_is_not_taken() {
    let folder = tempfile::tempdir().unwrap();
    let mut record = open(&put(folder.path(), text().as_bytes())).unwrap();
    let sign = record.inspection.entries().iter().find(|entry| matches!(entry.act, Act::Sign(_))).unwrap().act.clone();
    assert!(matches!(record.file.append(&[entry(38, sign)]), Err(SaveFault::Unsealed { entry: 38 })));
}

#[test]
fn check_counts_readings_and_tells_the_line_of_a_change() {
    let folder = tempfile::tempdir().unwrap();
    let path = put(folder.path(), text().as_bytes());
    let fine = check_files(std::slice::from_ref(&path));
    assert_eq!(fine.first_line(), "2 readings in 1 record, 0 problems", "{}", fine.text());
    let path = put(folder.path(), text().replacen("typed: \"0,020\"", "typed: \"0,021\"", 1).as_bytes());
    let report = check_files(&[path]);
    // the two signatures further down were given under other bytes than these
    assert_eq!(report.first_line(), "2 readings in 1 record, 3 problems", "{}", report.text());
    let line = 1 + text().lines().position(|line| line == "- entry: 11").unwrap();
    let problem = report.problems.iter().next().unwrap();
    assert_eq!(usize::try_from(problem.at.line).unwrap(), line);
    assert_eq!(problem.found, "entry 11 changed, or something taken out before it");
}

#[test]
fn a_missing_tail_is_found_where_something_names_it_and_else_said_to_be_unseen() {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::at(folder.path());
    let (head, entries) = pieces();
    let path = put(folder.path(), format!("{head}{}", entries[..20].concat()).as_bytes());
    let files = std::slice::from_ref(&path);
    assert!(verify(&store, files)[0].unseen().contains(&TAIL_UNSEEN));
    let record = open(&path).unwrap();
    store.note_last(&path, &LastEntry { invented: false, entry: 20, chain: record.file.chain().to_owned() }).unwrap();
    assert!(!verify(&store, files)[0].unseen().contains(&TAIL_UNSEEN));
    put(folder.path(), format!("{head}{}", entries[..19].concat()).as_bytes());
    let verified = verify(&store, files);
    let faults = verified[0].faults();
    assert!(faults.iter().any(|fault| fault.contains("names entry 20, which is missing")), "{faults:?}");
}

fn said() -> impl Strategy<Value = String> {
    prop_oneof![".{0,20}", any::<String>(), "[ \n\t:#\"'-]{0,8}"]
}

/// Entries with any words in them.
fn entries() -> impl Strategy<Value = Vec<Entry>> {
    let kept = prop::sample::select(acts());
    let act = prop_oneof![
        kept,
        said().prop_map(|text| Act::Note { step: None, text }),
        (said(), said()).prop_map(|(typed, word)| Act::Reading {
            step: "bush.ts/clearance".to_owned(),
            place: "inner 0 / 1 / up".to_owned(),
            typed,
            taken: "-0.0050 mm".parse().unwrap(),
            gauge: None,
            doubts: vec![format!("x{word}")],
        }),
    ];
    prop::collection::vec(act, 1..8).prop_map(|acts| (1..).zip(acts).map(|(number, act)| entry(number, act)).collect())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn any_entries_are_read_back_and_old_bytes_stand(first in entries(), more in entries()) {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.yaml");
        drop(InspectionFile::begin(&path, &head(), &first).unwrap());
        let before = std::fs::read(&path).unwrap();
        let mut record = open(&path).unwrap_or_else(|problems| panic!("{problems}"));
        prop_assert_eq!(record.inspection.entries(), first.as_slice());
        let next = record.file.next();
        let more: Vec<_> = (next..).zip(more).map(|(number, one)| entry(number, one.act)).collect();
        record.file.append(&more).unwrap();
        let again = open(&path).unwrap_or_else(|problems| panic!("{problems}"));
        prop_assert_eq!(again.trust, Trust::Whole);
        prop_assert_eq!(again.inspection.entries(), [first, more.clone()].concat());
        let after = std::fs::read(&path).unwrap();
        prop_assert!(after.starts_with(&before));
        prop_assert!(String::from_utf8(after).unwrap().contains(&entry_text(&more[0])));
    }

    #[test]
    fn no_change_to_a_record_panics_or_passes_for_whole(place in 0_usize..100_000, byte in any::<u8>(), cut in any::<bool>()) {
        let mut bytes = sample(RECORD);
        let place = place % bytes.len();
        let same = bytes[place] == byte;
        if cut { bytes.remove(place); } else { bytes[place] = byte; }
        let folder = tempfile::tempdir().unwrap();
        if let Ok(record) = open(&put(folder.path(), &bytes)) {
            prop_assert!(record.trust != Trust::Whole || (same && !cut), "byte {place} -> {byte}");
        }
    }
}
