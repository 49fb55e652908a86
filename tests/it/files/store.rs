//! The data folder: registers, names of records, drafts, photos, the lock.

use asfound::domain::entry::{Act, Entry, PhotoRef};
use asfound::domain::inspection::{Head, Inspection};
use asfound::records::check::{check_files, check_folder};
use asfound::records::inspection_file::InspectionFile;
use asfound::records::instrument_file::read_instrument;
use asfound::records::lock::{Lock, LockFault};
use asfound::records::people_file::read_people;
use asfound::records::rotor_file::read_rotor;
use asfound::records::seal::sha256;
use asfound::records::settings_file::Settings;
use asfound::records::sheet_file::read_sheet;
use asfound::records::store::{
    Draft, GaugeChosen, HalfForm, HalfTyped, LaidAside, LastEntry, PhotoKept, Store, Unseen, Watched, usual_root,
};
use asfound::records::verify::{all_records, verify};

use super::samples::{RECORD, acts, entry, head, sample};

fn store() -> (tempfile::TempDir, Store) {
    let folder = tempfile::tempdir().unwrap();
    let store = Store::at(folder.path().join("new/data"));
    (folder, store)
}

#[test]
fn the_folder_is_the_one_given_then_the_environments_then_the_systems() {
    let usual = usual_root(Some("a".into()), Some("b".into()));
    assert_eq!(usual, Some("a".into()));
    assert_eq!(usual_root(None, Some("b".into())), Some("b".into()));
    assert_eq!(usual_root(None, Some("".into())), usual_root(None, None));
}

#[test]
fn registers_are_empty_before_and_hold_what_was_saved_after() {
    let (_folder, store) = store();
    assert_eq!(store.settings().unwrap(), Settings::default());
    assert!(store.people().unwrap().is_empty() && store.instruments().0.is_empty());
    assert!(!store.root().exists(), "looking makes nothing");
    let people = read_people("a", &sample("people.yaml")).unwrap();
    store.save_people(&people).unwrap();
    assert_eq!(store.people().unwrap(), people);
    let mut gauge = read_instrument("a", &sample("instruments/D2.yaml")).unwrap();
    store.save_instrument(&gauge).unwrap();
    gauge.id = "d2".parse().unwrap();
    store.save_instrument(&gauge).unwrap();
    assert_eq!(store.instruments().0, [gauge], "an id that differs in case only is the same");
    let sheet = read_sheet("a", &sample("sheets/INV-420.yaml")).unwrap();
    store.save_sheet(&sheet).unwrap();
    assert_eq!(store.sheet(&"inv-420".parse().unwrap()).unwrap(), Some(sheet));
    assert_eq!(store.sheet(&"INV-421".parse().unwrap()).unwrap(), None);
    assert!(store.checklist("overhaul").unwrap().is_some());
    assert!(store.checklist("short").unwrap().is_none());
    let report = check_folder(&store);
    assert_eq!(report.first_line(), "0 readings in 0 records, 0 problems", "{}", report.text());
}

/// The id inside counts, whatever the file is called; nothing is written over a file that holds another one.
#[test]
fn a_file_of_another_name_is_used_for_the_id_inside_it_and_check_says_so() {
    let (_folder, store) = store();
    let [sheet, gauge, list] = ["sheets/INV-420.yaml", "instruments/D2.yaml", "checklists/short.yaml"];
    for (name, other) in [(sheet, "sheets/ours.yaml"), (gauge, "instruments/dial.yaml"), (list, "checklists/own.yaml")]
    {
        let path = store.root().join(other);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(path, sample(name)).unwrap();
    }
    let (machine, short) = ("INV-420".parse().unwrap(), store.checklist("short").unwrap().unwrap());
    let mut sheet = store.sheet(&machine).unwrap().expect("the sheet is found by its machine type");
    assert!(store.checklist_names().unwrap().contains(&"short".to_owned()) && short.id.as_str() == "short");
    sheet.edition = "2".to_owned();
    store.save_sheet(&sheet).unwrap();
    store.save_instrument(&read_instrument("a", &sample(gauge)).unwrap()).unwrap();
    assert_eq!(store.sheet(&machine).unwrap(), Some(sheet.clone()));
    assert_eq!(store.instruments().0.len(), 1, "saved over the file that holds it");
    let report = check_folder(&store);
    for said in ["ours.yaml:3:8: it says INV-420 inside", "dial.yaml:3:13: it says D2", "own.yaml:3:12: it says short"]
    {
        assert!(report.problems.is_empty() && report.text().contains(said), "{said}: {}", report.text());
    }
    // another type lies under the name that the first would have
    std::fs::remove_file(store.root().join("sheets/ours.yaml")).unwrap();
    let other = String::from_utf8(sample("sheets/INV-420.yaml")).unwrap().replace("sheet: INV-420", "sheet: INV-421");
    std::fs::write(store.root().join("sheets/INV-420.yaml"), &other).unwrap();
    store.save_sheet(&sheet).unwrap();
    assert_eq!(std::fs::read_to_string(store.root().join("sheets/INV-420.yaml")).unwrap(), other);
    assert_eq!(store.sheet(&machine).unwrap(), Some(sheet));
    // of two, none is taken
    for (folder, name) in [("sheets", "sheets/INV-420.yaml"), ("checklists", list)] {
        std::fs::write(store.root().join(folder).join("twin.yaml"), sample(name)).unwrap();
    }
    assert!(store.sheet(&machine).is_err() && store.checklist("short").is_err());
    let told = check_folder(&store).text();
    for id in ["`INV-420`", "`short`"] {
        assert!(told.contains(&format!("the id {id}, which another file has")), "{told}");
    }
}

#[test]
fn one_broken_file_of_a_register_is_told_with_all_its_faults() {
    let (_folder, store) = store();
    store.save_people(&[]).unwrap();
    std::fs::create_dir_all(store.root().join("instruments")).unwrap();
    std::fs::write(store.root().join("instruments/D2.yaml"), "format: 1\ninstrument: D2\nkind: dail gauge\n").unwrap();
    let (read, problems) = store.instruments();
    let wanted = std::path::Path::new("instruments").join("D2.yaml").display().to_string();
    assert_eq!((read.len(), problems.iter().next().unwrap().file.clone()), (0, wanted));
    assert_eq!(check_folder(&store).problems.count(), 1);
    // it hides no sound gauge; one id in two files is neither of them
    let mut gauge = read_instrument("a", &sample("instruments/D2.yaml")).unwrap();
    let ids = |store: &Store| store.instruments().0.iter().map(|gauge| gauge.id.to_string()).collect::<Vec<_>>();
    gauge.id = "D3".parse().unwrap();
    store.save_instrument(&gauge).unwrap();
    assert_eq!(ids(&store), ["D3"]);
    std::fs::copy(store.root().join("instruments/D3.yaml"), store.root().join("instruments/copy.yaml")).unwrap();
    assert_eq!(ids(&store), Vec::<String>::new());
    assert_eq!(check_folder(&store).problems.count(), 2);
}

#[test]
fn a_second_record_of_a_day_gets_a_number_and_comes_behind_the_first() {
    let (_folder, store) = store();
    let rotor = read_rotor("a", &sample("rotors/DEMO-1/rotor.yaml")).unwrap();
    store.save_rotor(&rotor).unwrap();
    let (day, checklist) = ("2031-04-17".parse().unwrap(), "short".parse().unwrap());
    let mut ids = Vec::new();
    for _ in 0..11 {
        let new = store.new_record(&rotor.id, day, &checklist);
        let mut head = head();
        head.id.clone_from(&new.id);
        drop(InspectionFile::begin(&new.path, &head, &[entry(1, acts()[0].clone())]).unwrap());
        ids.push(new.id);
    }
    assert_eq!((ids[0].as_str(), ids[1].as_str()), ("DEMO-1/2031-04-17-short", "DEMO-1/2031-04-17-short-2"));
    let records = store.records(&rotor.id).unwrap();
    let found: Vec<_> = records.iter().map(|path| store.open(path).unwrap().inspection.head().id.clone()).collect();
    assert_eq!(found, ids);
    assert_eq!(all_records(&store).unwrap(), records);
    assert_eq!(store.glance(&records[0]).unwrap().last().unwrap().number, 1);
    let (earlier, problems) = store.earlier(&rotor.id).unwrap();
    assert_eq!((earlier.len(), problems.is_empty()), (11, true));
    assert!(verify(&store, &records).iter().all(asfound::records::verify::Verified::is_fine));
    assert_eq!(check_folder(&store).records, 11);
}

#[test]
fn two_copies_of_a_record_are_a_problem_and_their_readings_count_once() {
    let (_folder, store) = store();
    store.save_rotor(&read_rotor("a", &sample("rotors/DEMO-1/rotor.yaml")).unwrap()).unwrap();
    let record = std::path::Path::new("rotors/DEMO-1/2031-04-17-short.yaml");
    let bytes = sample(record.to_str().unwrap());
    let folder = store.root().join("rotors/DEMO-1");
    std::fs::write(folder.join("2031-04-17-short.yaml"), &bytes).unwrap();
    let alone = check_folder(&store);
    assert!(alone.readings > 0 && alone.is_fine(), "{}", alone.text());
    std::fs::write(folder.join("copy.yaml"), &bytes).unwrap();
    std::fs::write(folder.join("third.yaml"), &bytes).unwrap();
    let report = check_folder(&store);
    assert_eq!((report.readings, report.records, report.problems.count()), (alone.readings, 1, 2), "{}", report.text());
    assert!(report.text().contains("copy of DEMO-1/2031-04-17-short"), "{}", report.text());
}

/// A fault of a whole file is said where the line stands that tells it.
#[test]
fn what_a_file_is_and_whose_is_told_where_it_says_so() {
    let (_folder, store) = store();
    let here = store.root().join("rotors/DEMO-1");
    std::fs::create_dir_all(&here).unwrap();
    std::fs::write(here.join("rotor.yaml"), sample("rotors/DEMO-1/rotor.yaml")).unwrap();
    for name in ["2031-04-17-short.yaml", "2031-04-17-short-2.yaml"] {
        std::fs::write(here.join(name), sample("rotors/DEMO-1/2031-04-17-short.yaml")).unwrap();
    }
    let said = check_folder(&store).problems.to_string();
    assert!(said.contains("2031-04-17-short-2.yaml:6:13: found a copy of DEMO-1/2031-04-17-short"), "{said}");
    let unknown = here.join("unknown.yaml");
    std::fs::write(&unknown, "# a note\n\nname: somebody\n").unwrap();
    let said = check_files(&[unknown]).problems.to_string();
    assert!(said.contains("unknown.yaml:3:1: found no key that says what the file is"), "{said}");
    let list = here.join("list.yaml");
    std::fs::write(&list, "- one\n").unwrap();
    let said = check_files(&[list]).problems.to_string();
    assert!(said.contains("list.yaml:1:1: found a list\n"), "{said}");
}

#[test]
fn one_broken_sheet_hides_no_sound_one() {
    let (_folder, store) = store();
    store.save_rotor(&read_rotor("a", &sample("rotors/DEMO-1/rotor.yaml")).unwrap()).unwrap();
    store.save_sheet(&read_sheet("a", &sample("sheets/INV-420.yaml")).unwrap()).unwrap();
    let told = |text: &str| check_folder(&store).text().contains(text);
    assert!(!told("no limits sheet"));
    std::fs::write(store.root().join("sheets/EMPTY.yaml"), "").unwrap();
    assert!(told("an empty file") && !told("no limits sheet") && !told("which has no limits sheet"));
    // of the rotor's own sheet that cannot be read nobody says that it is not there
    std::fs::write(store.root().join("sheets/INV-420.yaml"), "").unwrap();
    assert!(!told("no limits sheet"));
    std::fs::remove_file(store.root().join("sheets/INV-420.yaml")).unwrap();
    assert!(told("there is no limits sheet INV-420 here"));
}

#[test]
fn a_draft_is_kept_as_typed_and_a_torn_one_is_none() {
    let (_folder, store) = store();
    let record = store.root().join("rotors/DEMO-1/2031-04-17-short.yaml");
    assert_eq!(store.draft(&record), None);
    let draft = Draft {
        invented: true,
        step: "bush.ts/clearance".to_owned(),
        place: Some("inner 0 / 3 / up".to_owned()),
        typed: vec![
            HalfTyped { step: "bush.ts/clearance".into(), place: "inner 0 / 3 / up".into(), text: "0,23".into() },
            HalfTyped {
                step: "bush.cs/clearance".into(),
                place: "outer 0 / 1 / up".into(),
                text: " \"' # 5\u{b5}".into(),
            },
        ],
        gauges: vec![GaugeChosen { step: "bush.ts/clearance".into(), gauge: "D2".parse().unwrap() }],
        reads: Some("fitter-a".parse().unwrap()),
        writes: None,
        late: None,
        form: Some(HalfForm {
            way: vec!["stop and call: hold this part".into()],
            at: 0,
            answers: vec![String::new(), "scored: who ".into()],
        }),
        aside: vec![LaidAside {
            step: "bush.ts/look".into(),
            title: "crack: how grave".into(),
            form: HalfForm { way: Vec::new(), at: 1, answers: vec!["1".into(), "outer e".into()] },
        }],
        notice: Some(Unseen { entry: 7, title: "X OUT OF LIMIT".to_owned(), lines: vec!["clearance".to_owned()] }),
    };
    store.keep_draft(&record, &draft).unwrap();
    assert_eq!(store.draft(&record), Some(draft));
    std::fs::write(store.folder_of(&record).join("draft.yaml"), "format: 1\nstep: bush.ts/look\npla").unwrap();
    assert_eq!(store.draft(&record), None);
}

/// Nobody looks into a draft before it is wanted: the check does.
#[test]
fn a_damaged_draft_is_told_by_the_check() {
    let (_folder, store) = store();
    let rotor = store.root().join("rotors/DEMO-1");
    std::fs::create_dir_all(rotor.join("2031-04-17-short")).unwrap();
    std::fs::write(rotor.join("rotor.yaml"), sample("rotors/DEMO-1/rotor.yaml")).unwrap();
    std::fs::write(rotor.join("2031-04-17-short.yaml"), sample(RECORD)).unwrap();
    std::fs::create_dir_all(store.root().join("drafts/sheets")).unwrap();
    let sound = check_folder(&store).problems.count();
    for draft in [
        "rotors/DEMO-1/2031-04-17-short/draft.yaml",
        "rotors/DEMO-1/2031-04-17-short/review.draft.yaml",
        "rotors/DEMO-1/2031-04-17-short/last.yaml",
        "begin.draft.yaml",
        "drafts/sheets/new.typed",
        "drafts/sheets/new.yaml",
    ] {
        let path = store.root().join(draft);
        std::fs::write(&path, "").unwrap();
        assert_eq!(check_folder(&store).problems.count(), sound, "{draft}: nothing is lost of an empty one");
        std::fs::write(&path, "format: 1\nstep: [torn").unwrap();
        let report = check_folder(&store);
        // a power cut may tear it, and nothing that was called saved is lost with it
        assert_eq!(report.problems.count(), sound, "{draft}");
        assert!(report.remarks.iter().any(|remark| remark.starts_with(draft)), "{:?}", report.remarks);
        std::fs::remove_file(&path).unwrap();
    }
}

#[test]
fn an_inspection_half_begun_is_kept_until_it_has_begun() {
    let (_folder, store) = store();
    assert_eq!(store.begin_draft(), None);
    store.keep_begin(None).unwrap();
    let half = HalfForm { way: Vec::new(), at: 2, answers: vec!["DEMO-1".into(), "INV-0001".into(), "484".into()] };
    store.keep_begin(Some(&half)).unwrap();
    assert_eq!(store.begin_draft(), Some(half));
    store.keep_begin(None).unwrap();
    assert_eq!(store.begin_draft(), None);
}

#[test]
fn photos_are_kept_under_their_hash_and_a_changed_one_shows() {
    let (folder, store) = store();
    let record = store.root().join("rotors/DEMO-1/2031-04-17-short.yaml");
    let picture = folder.path().join("IMG 1.JPG");
    std::fs::write(&picture, b"\xff\xd8\xffabc").unwrap();
    std::fs::write(folder.path().join("notes.txt"), b"abc").unwrap();
    let newest = |begun: &str, named: &[PhotoRef]| {
        let begun = begun.parse().unwrap();
        let mut watched =
            Watched::new(Some(folder.path().display().to_string()), &Inspection::new(Head { begun, ..head() }));
        let shown =
            named.iter().map(|photo| Entry { at: begun, ..entry(2, Act::Photo { step: None, photo: photo.clone() }) });
        watched.saved(&shown.collect::<Vec<_>>());
        watched.newest(&store)
    };
    let (mut photo, bytes) = store.read_photo(&picture).unwrap();
    assert_eq!(newest("2001-01-01T00:00:00+00:00", &[]), Some(picture.clone()));
    assert_eq!(newest("2999-01-01T00:00:00+00:00", &[]), None);
    // the record names it already: whatever the clock of the camera says, it is none for what comes now
    assert_eq!(newest("2001-01-01T00:00:00+00:00", std::slice::from_ref(&photo)), None);
    // FIPS 180-4 example: SHA-256 of "abc"
    assert_eq!(sha256(b"abc"), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    assert_eq!((bytes.as_slice(), &photo.hash), (&b"\xff\xd8\xffabc"[..], &sha256(&bytes)));
    assert_eq!(store.photo_kept(&record, &photo), PhotoKept::Missing);
    store.keep_photo(&record, &photo, &bytes).unwrap();
    assert_eq!(store.photo_kept(&record, &photo), PhotoKept::Whole);
    std::fs::write(store.photo_path(&record, &photo), b"abd").unwrap();
    assert_eq!(store.photo_kept(&record, &photo), PhotoKept::Changed);
    photo.hash = "../../../../etc/passwd".to_owned();
    assert_eq!(store.photo_path(&record, &photo).parent().unwrap(), store.folder_of(&record));
}

#[test]
fn one_process_writes_and_the_other_is_told_who() {
    let folder = tempfile::tempdir().unwrap();
    let since = "2031-04-17T14:05:31+02:00".parse().unwrap();
    let lock = Lock::take(folder.path(), "fitter A", since).unwrap();
    let Err(LockFault::Held { holder, .. }) = Lock::take(folder.path(), "fitter C", since) else {
        panic!("taken twice")
    };
    assert!(
        holder.starts_with("by fitter A, process ") && holder.ends_with("since 2031-04-17T14:05:31+02:00"),
        "{holder}"
    );
    drop(lock);
    drop(Lock::take(folder.path(), "fitter C", since).unwrap());
}

#[test]
fn what_a_killed_save_left_beside_registers_is_taken_away_and_what_is_being_saved_stays() {
    let (_folder, store) = store();
    store.save_people(&read_people("a", &sample("people.yaml")).unwrap()).unwrap();
    let left = [
        ".people.yaml.saving",
        "instruments/.D2.yaml.saving",
        "sheets/.A.yaml.saving",
        "checklists/.own.yaml.saving",
        "drafts/sheet/.new.yaml.saving",
        "rotors/DEMO-1/.rotor.yaml.saving",
    ];
    let kept = [".other.saving", "rotors/DEMO-1/.2031-04-17-short.yaml.saving", "people.yaml"];
    for name in left.iter().chain(&kept[..2]) {
        let path = store.root().join(name);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(path, "# asfound people\nform").unwrap();
    }
    let there = |name: &&str| store.root().join(name).exists();
    let saving = std::fs::File::open(store.root().join(left[1])).unwrap();
    saving.lock().unwrap();
    store.tidy_registers();
    let still: Vec<_> = left.iter().copied().filter(there).collect();
    assert_eq!(still, [left[1]], "another program is writing it");
    let refused = store.save_instrument(&read_instrument("a", &sample("instruments/D2.yaml")).unwrap());
    assert!(refused.unwrap_err().to_string().contains("another program is saving it"));
    assert!(there(&left[1]), "nor does a save that was refused take it away");
    drop(saving);
    store.tidy_registers();
    assert!(!there(&left[1]) && kept.iter().all(there));
    assert!(!store.people().unwrap().is_empty());
}

#[test]
fn of_a_record_without_entries_nothing_is_noted() {
    let (_folder, store) = store();
    let path = store.root().join("rotors/DEMO-1/2031-04-17-short.yaml");
    let last = |entry| LastEntry { invented: true, entry, chain: "0011223344556677".to_owned() };
    store.note_last(&path, &last(0)).unwrap();
    assert!(!store.has_note(&path), "its first entry would be missed for ever");
    store.note_last(&path, &last(1)).unwrap();
    assert_eq!(store.noted_last(&path), Some(last(1)));
}
