//! A record held to be written: what stands in the way is said at its entry, nothing is written over, and what a killed
//! program left is put away.

use std::io::{BufRead, BufReader, Write};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use asfound::domain::entry::Act;
use asfound::face::effect::{Answer, Query};
use asfound::face::shelf::reading;
use asfound::face::writer::Shelf as _;
use asfound::records::inspection_file::{Trust, open};
use asfound::records::save_fault::SaveFault;
use asfound::records::store::{Draft, HalfTyped, HoldFault, LastEntry, Store};
use tempfile::TempDir;

use super::samples::{RECORD, entry, sample};
use crate::plain::verbs::asfound;
use crate::rig::stamp;

/// A data folder with the sample record in it, and a note of its last entry.
fn folder() -> (TempDir, Store, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join(RECORD);
    std::fs::create_dir_all(path.parent().unwrap()).unwrap();
    std::fs::write(&path, sample(RECORD)).unwrap();
    std::fs::write(path.with_file_name("rotor.yaml"), sample("rotors/DEMO-1/rotor.yaml")).unwrap();
    let store = Store::at(folder.path());
    let last = open(&path).unwrap();
    let number = last.inspection.entries().last().unwrap().number;
    store.note_last(&path, &LastEntry { invented: false, entry: number, chain: last.file.chain().to_owned() }).unwrap();
    (folder, store, path)
}

fn text() -> String {
    String::from_utf8(sample(RECORD)).unwrap()
}

fn now() -> asfound::domain::stamp::Stamp {
    stamp("2031-04-18T07:00:00+02:00")
}

/// The text up to, not including, entry `number`.
fn cut_before(number: u32) -> String {
    text().split_once(&format!("\n- entry: {number}\n")).unwrap().0.to_owned() + "\n"
}

#[test]
fn what_another_program_did_to_an_open_record_is_said_at_its_entry_and_nothing_is_written_over() {
    let one_more = {
        let (_folder, store, path) = folder();
        let mut held = store.hold(&path, None, now()).unwrap();
        held.opened.file.append(&[entry(38, Act::Resume)]).unwrap();
        String::from_utf8(held.opened.file.bytes().to_vec()).unwrap()
    };
    for (what, there, at) in [
        ("an editor", text().replacen("typed: \"0,020\"", "typed: \"0,021\"", 1), "at entry 11."),
        ("an editor in the head", text().replacen("INV-420-0017", "INV-420-0018", 1), "above its first entry."),
        ("mail", text().replace('\n', "\r\n"), "above its first entry."),
        ("cut before 20", cut_before(20), "at entry 20."),
        ("cut within 12", cut_before(13)[..cut_before(13).len() - 30].to_owned(), "at entry 12."),
        ("another program that went on", one_more, "at entry 38."),
        ("emptied", String::new(), "above its first entry."),
    ] {
        let (_folder, store, path) = folder();
        let mut held = store.hold(&path, None, now()).unwrap();
        std::fs::write(&path, &there).unwrap();
        let fault = held.opened.file.append(&[entry(38, Act::Resume)]).unwrap_err();
        assert!(matches!(fault, SaveFault::ChangedMeanwhile { .. }), "{what}: {fault}");
        assert!(fault.to_string().contains(&format!("changed by another program {at}")), "{what}: {fault}");
        assert_eq!(std::fs::read_to_string(&path).unwrap(), there, "{what}");
    }
}

#[test]
fn every_change_outside_asks_to_be_seen_by_name_before_anything_more_is_written() {
    for (what, there, at) in [
        ("an editor", text().replacen("typed: \"0,020\"", "typed: \"0,021\"", 1), 11),
        ("mail", text().replace('\n', "\r\n"), 0),
        ("cut before 20", cut_before(20), 20),
        ("cut after the head's first entry", cut_before(2), 2),
    ] {
        let (_folder, store, path) = folder();
        std::fs::write(&path, &there).unwrap();
        let mut held = store.hold(&path, None, now()).unwrap();
        assert_eq!(held.opened.trust, Trust::Changed { entry: at }, "{what}");
        assert_eq!(held.remarks.len(), 1, "{what}: {:?}", held.remarks);
        let next = held.opened.file.next();
        let refused = held.opened.file.append(&[entry(next, Act::Resume)]).unwrap_err();
        assert!(matches!(refused, SaveFault::NotSeen { entry, .. } if entry == at), "{what}: {refused}");
        assert_eq!(std::fs::read_to_string(&path).unwrap(), there, "{what}");
        let seen = Act::seen(at, what.to_owned());
        held.opened.file.append(&[entry(next, seen)]).unwrap();
        let last = LastEntry { invented: false, entry: next, chain: held.opened.file.chain().to_owned() };
        store.note_last(&path, &last).unwrap();
        assert!(std::fs::read_to_string(&path).unwrap().starts_with(&there), "{what}: old bytes stand");
        drop(held);
        let mut again = store.hold(&path, None, now()).unwrap();
        assert!(again.remarks.is_empty(), "{what}: {:?}", again.remarks);
        again.opened.file.append(&[entry(next + 1, Act::Resume)]).unwrap();
    }
}

#[test]
fn a_record_put_in_the_place_of_another_shows_by_the_note() {
    let (_folder, store, path) = folder();
    let other = LastEntry { invented: false, entry: 37, chain: "0011223344556677".to_owned() };
    store.note_last(&path, &other).unwrap();
    let held = store.hold(&path, None, now()).unwrap();
    // nobody knows from which entry on it is another
    assert_eq!(held.opened.trust, Trust::Changed { entry: 1 });
    assert!(held.remarks[0].starts_with("Another record was saved here once"), "{:?}", held.remarks);
}

#[test]
fn what_a_killed_save_left_is_taken_away_unless_it_holds_more_than_the_record() {
    let (_folder, store, path) = folder();
    let left = path.with_file_name(".2031-04-17-short.yaml.saving");
    let beside = store.folder_of(&path);
    store.keep_draft(&path, &draft()).unwrap();
    let more = [&sample(RECORD)[..], b"- entry: 38\n  at:"].concat();
    for (held, kept) in
        [(&sample(RECORD)[..700], false), (&sample(RECORD)[..], false), (&[][..], false), (&more[..], true)]
    {
        std::fs::write(&left, held).unwrap();
        for name in [".draft.yaml.saving", ".last.yaml.saving"] {
            std::fs::write(beside.join(name), "format: 1\n").unwrap();
        }
        let open = store.hold(&path, None, now()).unwrap();
        assert!(
            !left.exists() && !beside.join(".draft.yaml.saving").exists() && !beside.join(".last.yaml.saving").exists()
        );
        assert_eq!(open.remarks.len(), usize::from(kept), "{:?}", open.remarks);
        assert_eq!(std::fs::read(&path).unwrap(), sample(RECORD));
        assert_eq!(store.draft(&path), Some(draft()));
    }
    let kept = std::fs::read_dir(&beside).unwrap().map(|one| one.unwrap().path());
    let kept: Vec<_> = kept.filter(|one| one.file_name().unwrap().to_string_lossy().starts_with("unsaved-")).collect();
    assert_eq!(kept.len(), 1);
    assert_eq!(std::fs::read(&kept[0]).unwrap(), more);
}

/// What killed saves left goes when the record is opened from the first screen: its own, a sister record's, one of a
/// record that never came to be; nothing that is not ours.
#[test]
fn what_killed_saves_left_of_any_record_of_the_rotor_goes_when_one_is_opened() {
    let (_folder, store, path) = folder();
    let sister = path.with_file_name("2030-01-01-short.yaml");
    std::fs::write(&sister, sample(RECORD)).unwrap();
    let left = |name: &str| path.with_file_name(format!(".{name}.saving"));
    let (never, other) = (left("2029-01-01-short.yaml"), left("notes.txt"));
    std::fs::write(left("2031-04-17-short.yaml"), &sample(RECORD)[..300]).unwrap();
    std::fs::write(left("2030-01-01-short.yaml"), &sample(RECORD)[..500]).unwrap();
    std::fs::write(&never, &sample(RECORD)[..400]).unwrap();
    std::fs::write(&other, "of another program").unwrap();
    let notes = [&path, &sister].map(|record| store.folder_of(record).join(".last.yaml.saving"));
    for note in &notes {
        std::fs::create_dir_all(note.parent().unwrap()).unwrap();
        std::fs::write(note, "format: 1\n").unwrap();
    }
    let clock = std::sync::Arc::new(asfound::records::clock::PretendedClock::at(now()));
    let mut shelf = asfound::face::shelf::RecordShelf::new(store, clock);
    // two files with one id: by the id neither is opened, a person chooses
    let id = open(&path).unwrap().inspection.head().id.clone();
    let Answer::Opened(Err(fault)) = shelf.fetch(&Query::Open(id), &[]) else { panic!("one of two was chosen") };
    assert!(fault.what.contains("2 files have the id") && fault.what.contains("2030-01-01-short.yaml"), "{fault}");
    let named = Query::Open(path.display().to_string());
    let Answer::Opened(Ok(opened)) = shelf.fetch(&named, &[]) else { panic!("not opened") };
    assert_eq!(opened.remark, None);
    let gone = [left("2031-04-17-short.yaml"), left("2030-01-01-short.yaml"), never];
    let there: Vec<_> = notes.iter().chain(&gone).filter(|one| one.exists()).collect();
    assert!(there.is_empty(), "{there:?}");
    assert_eq!(std::fs::read_to_string(&other).unwrap(), "of another program");
}

/// Enter, and Enter again: the picture of the first is none for the second.
#[test]
fn the_newest_picture_is_taken_once() {
    let (folder, store, path) = folder();
    let camera = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("settings.yaml"), format!("format: 1\nphotos: {}\n", camera.path().display()))
        .unwrap();
    let take = |name: &str, bytes: &[u8], seconds: u64| {
        let path = camera.path().join(name);
        std::fs::write(&path, bytes).unwrap();
        let written =
            std::time::UNIX_EPOCH + std::time::Duration::from_secs(now().moment().timestamp() as u64 + seconds);
        std::fs::File::options().append(true).open(path).unwrap().set_modified(written).unwrap();
    };
    let clock = std::sync::Arc::new(asfound::records::clock::PretendedClock::at(now()));
    let mut shelf = asfound::face::shelf::RecordShelf::new(store, clock);
    let named = Query::Open(path.display().to_string());
    let Answer::Opened(Ok(_)) = shelf.fetch(&named, &[]) else { panic!("not opened") };
    let newest = |shelf: &mut asfound::face::shelf::RecordShelf| {
        let Answer::Photo(photo) = shelf.fetch(&Query::Photo(None), &[]) else { panic!("no picture") };
        photo.map_err(|fault| fault.to_string())
    };
    take("one.jpg", b"\xff\xd8\xffone", 60);
    let photo = newest(&mut shelf).unwrap();
    // asked for, and the question left: it is still the newest
    assert_eq!(newest(&mut shelf).unwrap(), photo);
    shelf.append(&[entry(38, Act::Photo { step: None, photo })]).unwrap();
    let refused = newest(&mut shelf).unwrap_err();
    assert!(refused.contains("is newer than the last entry"), "{refused}");
    take("two.jpg", b"\xff\xd8\xfftwo", 61);
    assert_eq!(newest(&mut shelf).unwrap().name, "two.jpg");
}

/// The lock is that of the file's folder, also where its path is typed from here and the data folder's from the root.
#[test]
fn a_path_typed_from_here_takes_the_same_lock() {
    let (folder, store, path) = folder();
    let up = std::env::current_dir().unwrap().components().skip(1).map(|_| "..").collect::<PathBuf>();
    let here = |path: &Path| up.join(path.canonicalize().unwrap().strip_prefix("/").unwrap());
    let relative = here(&path);
    assert!(relative.is_relative() && relative.is_file(), "{relative:?}");
    assert!(store.holds(&relative) && !store.holds(Path::new("Cargo.toml")));
    let clock = asfound::records::clock::PretendedClock::at(now());
    let by = "fitter-a".parse().unwrap();
    let note = || vec![Act::Note { step: None, text: "by its other name".to_owned() }];
    let held = store.hold(&path, None, now()).unwrap();
    let shown = held.opened.chains.last().unwrap().clone();
    let refused = reading::put(&store, &clock, &relative, (&by, note()), &shown).unwrap_err();
    assert!(refused.to_string().contains("is being written"), "{refused}");
    drop(held);
    reading::put(&store, &clock, &relative, (&by, note()), &shown).unwrap();
    assert!(std::fs::read_to_string(&path).unwrap().contains("by its other name"));
    drop(folder);
}

fn draft() -> Draft {
    let (step, place, text) = ("bush.ts/clearance".to_owned(), "inner 0 / 3 / up".to_owned(), "0.23".to_owned());
    Draft { step: step.clone(), typed: vec![HalfTyped { step, place, text }], ..Draft::default() }
}

#[test]
fn nothing_is_put_away_while_another_has_the_lock_or_by_a_reader() {
    let (_folder, store, path) = folder();
    let left = path.with_file_name(".2031-04-17-short.yaml.saving");
    let first = store.hold(&path, None, now()).unwrap();
    std::fs::write(&left, b"# asfound").unwrap();
    let Err(HoldFault::Locked(fault)) = store.hold(&path, None, now()) else { panic!("held twice") };
    assert!(fault.to_string().contains("is being written: by fitter-a, process "), "{fault}");
    assert!(left.exists());
    drop(first);
    drop(store.open(&path).unwrap());
    assert!(left.exists(), "reading takes nothing away");
    drop(store.hold(&path, None, now()).unwrap());
    assert!(!left.exists());
}

/// Goes on with a record in a process of its own, until it has asked its first question.
fn bench(data: &Path) -> (std::process::Child, BufReader<std::process::ChildStdout>) {
    let mut command = Command::new(assert_cmd::cargo::cargo_bin("asfound"));
    let command = command.arg("--data").arg(data).args(["resume", "--plain"]);
    let mut child = command.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
    let mut said = BufReader::new(child.stdout.take().unwrap());
    let mut line = String::new();
    while !line.contains("point") && !line.contains('?') {
        line.clear();
        assert!(said.read_line(&mut line).unwrap() > 0, "it ended: {line}");
    }
    (child, said)
}

#[test]
fn the_lock_goes_with_a_process_that_is_killed() {
    let folder = TempDir::new().unwrap();
    let begin = ["begin", "TRY-7", "--invented", "--later", "--hours", "1200", "--checklist", "bearing"];
    let answers = "INV-900\nS-42\n\nnew\nfit-1\nfitter one\nfitter\ndone\n";
    let (code, out, err) = asfound(folder.path(), &begin, answers);
    assert_eq!(code, 0, "{out}{err}");
    let (mut child, _said) = bench(folder.path());
    child.stdin.as_mut().unwrap().write_all(b"16950\n").unwrap();
    let (code, _, err) = asfound(folder.path(), &["resume"], "");
    assert_eq!(code, 1, "{err}");
    assert!(err.contains(&format!("is being written: by fit-1, process {}, since 20", child.id())), "{err}");
    child.kill().unwrap();
    child.wait().unwrap();
    let (code, _, err) = asfound(folder.path(), &["resume"], "");
    assert_eq!((code, err.as_str()), (0, ""));
}

/// What the forms of a data folder are saved through.
fn shelf_over(folder: &TempDir) -> asfound::face::shelf::RecordShelf {
    let clock = std::sync::Arc::new(asfound::records::clock::PretendedClock::at(now()));
    asfound::face::shelf::RecordShelf::new(Store::at(folder.path()), clock)
}

/// Whoever types a new gauge under an id that another one has gives it another id: no other name is found for it.
#[test]
fn a_form_whose_name_is_there_already_says_what_to_do_and_keeps_what_was_typed() {
    let folder = TempDir::new().unwrap();
    let mut shelf = shelf_over(&folder);
    let put = |text: &str| asfound::face::effect::PaperPut {
        kind: asfound::records::paper::Kind::Instrument,
        draft: "new".to_owned(),
        name: Some("D2".to_owned()),
        text: text.to_owned(),
        before: None,
        void: Vec::new(),
    };
    shelf.put_paper(&put("the first")).unwrap();
    let said = shelf.put_paper(&put("the second")).unwrap_err().to_string();
    assert!(said.contains("D2.yaml is there already. Nothing was written, it is kept as a draft."), "{said}");
    assert!(said.ends_with("Give this one another name, or open the one that is there and change it."), "{said}");
    let read = |name: &str| std::fs::read_to_string(folder.path().join(name)).unwrap();
    assert_eq!(
        (read("instruments/D2.yaml"), read("drafts/instruments/new.yaml")),
        ("the first".into(), "the second".into())
    );
}

/// What came since from an editor or an import is not undone by what was left half done before it.
#[test]
fn a_draft_begun_on_an_older_state_of_its_file_is_kept_apart() {
    let folder = TempDir::new().unwrap();
    let mut shelf = shelf_over(&folder);
    let kind = asfound::records::paper::Kind::Instrument;
    let put = |name: Option<&str>, text: &str, before: &str| asfound::face::effect::PaperPut {
        kind,
        draft: "D2".to_owned(),
        name: name.map(str::to_owned),
        text: text.to_owned(),
        before: Some(before.to_owned()),
        void: Vec::new(),
    };
    let path = folder.path().join("instruments/D2.yaml");
    std::fs::create_dir_all(path.parent().unwrap()).unwrap();
    std::fs::write(&path, "as it was").unwrap();
    shelf.put_paper(&put(None, "half done", "as it was")).unwrap();
    let leaf = || Store::at(folder.path()).leaves(kind).unwrap().remove(0);
    assert_eq!((leaf().draft.as_deref(), leaf().older), (Some("half done"), false));
    std::fs::write(&path, "tightened").unwrap();
    assert_eq!((leaf().draft, leaf().older), (None, true));
    shelf.put_paper(&put(Some("D2"), "tightened, and more", "tightened")).unwrap();
    assert_eq!(std::fs::read_to_string(&path).unwrap(), "tightened, and more");
    let drafts = std::fs::read_dir(folder.path().join("drafts/instruments")).unwrap();
    let names: Vec<_> = drafts.map(|one| one.unwrap().file_name().into_string().unwrap()).collect();
    let [aside] = names.as_slice() else { panic!("{names:?}") };
    assert!(aside.starts_with("D2.older-"), "{aside}");
    let kept = folder.path().join("drafts/instruments").join(aside);
    assert_eq!(std::fs::read_to_string(kept).unwrap(), "half done");
    assert_eq!((leaf().draft, leaf().older), (None, false));
}
