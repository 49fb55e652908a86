//! Signatures by key, made and checked by the real `ssh-keygen`: good, past, claimed, unknown, wrong.

use std::path::{Path, PathBuf};
use std::process::Command;

use asfound::domain::entry::Act;
use asfound::domain::person::{Person, Role};
use asfound::records::entry_file::entry_text;
use asfound::records::verify::{Verified, verify};

use super::shelf::{Shelf, copy, played, sign_of};
use crate::plain::verbs::asfound;
use crate::rig::id;

/// A key without a passphrase: the private file, and the public line.
pub(crate) fn key(folder: &Path, name: &str) -> (PathBuf, String) {
    let path = folder.join(name);
    let done = Command::new("ssh-keygen").args(["-q", "-t", "ed25519", "-N", "", "-C", name, "-f"]).arg(&path).status();
    assert!(done.unwrap().success());
    let public = std::fs::read_to_string(path.with_extension("pub")).unwrap().trim().to_owned();
    (path, public)
}

pub(crate) fn person(keys: Vec<String>) -> Person {
    Person { id: id("fitter-a"), name: "fitter A".into(), roles: vec![Role::Fitter], keys }
}

/// The record signed by key: shelf, record, sign entry, private key, public line.
pub(super) fn keyed() -> (Shelf, PathBuf, u32, PathBuf, String) {
    let (shelf, path) = Shelf::signed();
    let (private, public) = key(shelf.root(), "bench-key");
    let opened = shelf.open(&path);
    let (number, _) = sign_of(&opened).unwrap();
    let text = entry_text(opened.inspection.entry(number).unwrap());
    shelf.store.sign_by_key(&path, (number, text.as_bytes()), &private).unwrap();
    (shelf, path, number, private, public)
}

fn look(shelf: &Shelf, path: &Path) -> Verified {
    verify(&shelf.store, &[path.to_owned()]).remove(0)
}

#[test]
fn a_signature_by_key_is_never_written_over() {
    let (shelf, path, number, _, _) = keyed();
    let kept = std::fs::read(shelf.store.signature_path(&path, number)).unwrap();
    let (other, _) = key(shelf.root(), "other-key");
    let fault = shelf.store.sign_entry_by_key(&path, number, &other).unwrap_err().to_string();
    assert!(fault.contains("is signed by key already"), "{fault}");
    assert_eq!(std::fs::read(shelf.store.signature_path(&path, number)).unwrap(), kept);
}

#[test]
fn a_key_is_known_only_from_this_machines_people_file() {
    let (shelf, path, number, _, public) = keyed();
    // on a machine that knows nobody an honest key is not wrong: it is unknown
    let unknown = look(&shelf, &path);
    assert!(unknown.is_fine() && !unknown.is_checked(), "{unknown:?}");
    assert!(unknown.unseen().join(" ").contains("a key that is not known as fitter-a's"), "{unknown:?}");
    let (_, another) = key(shelf.root(), "a-new-key");
    shelf.store.save_people(&[person(vec![another])]).unwrap();
    assert!(look(&shelf, &path).faults().join(" ").contains("people.yaml has another key of that person"));
    shelf.store.save_people(&[person(vec![public.clone()])]).unwrap();
    let good = look(&shelf, &path);
    assert!(good.is_fine(), "{:?}", good.faults());
    assert!(good.holds().iter().any(|line| line.starts_with(&format!("Entry {number} is signed by key: good"))));
    // the time of the key is over since
    shelf.store.save_people(&[person(vec![format!("valid-before=\"20250101\" {public}")])]).unwrap();
    let past = look(&shelf, &path);
    assert!(past.holds().iter().any(|line| line.contains("whose time is over since")), "{past:?}");
    // over already when it was given, or not begun
    for (times, said) in [
        ("valid-before=\"20200101\"", "whose time was over already when it was signed"),
        ("valid-after=\"20100101\",valid-before=\"20200101\"", "whose time was over already when it was signed"),
        ("valid-after=\"20250101\"", "whose time had not begun when it was signed"),
        ("valid-after=\"20990101\"", "whose time had not begun when it was signed"),
    ] {
        shelf.store.save_people(&[person(vec![format!("{times} {public}")])]).unwrap();
        let late = look(&shelf, &path);
        assert!(late.faults().iter().any(|line| line.ends_with(&format!("a key of fitter-a {said}."))), "{late:?}");
    }
    let left: Vec<_> = std::fs::read_dir(shelf.root()).unwrap().map(|one| one.unwrap().file_name()).collect();
    assert!(left.iter().all(|name| !name.to_string_lossy().starts_with('.')), "{left:?}");
    // the right key, somebody else's
    let other = Person { id: id("fitter-c"), ..person(vec![public]) };
    shelf.store.save_people(&[other]).unwrap();
    let said = look(&shelf, &path).faults().join(" ");
    assert!(said.contains("a key that people.yaml has as fitter-c's, not as fitter-a's"), "{said}");
}

#[test]
fn a_key_that_the_record_brings_is_claimed() {
    let (shelf, path) = Shelf::signed();
    let (private, public) = key(shelf.root(), "bench-key");
    shelf.add(&path, "fitter-a", Act::Person(person(vec![public])));
    shelf.add(&path, "fitter-a", Act::Note { step: None, text: "again".into() });
    shelf.sign(&path, "fitter-a", asfound::domain::checklist::Signing::Decisions);
    let opened = shelf.open(&path);
    let (number, _) = sign_of(&opened).unwrap();
    let text = entry_text(opened.inspection.entry(number).unwrap());
    shelf.store.sign_by_key(&path, (number, text.as_bytes()), &private).unwrap();
    assert!(look(&shelf, &path).is_fine());
    assert!(look(&shelf, &path).unseen().iter().any(|line| line.contains("claimed, until people.yaml has it")));
    // where this machine knows the signer's own key, one that the record brings is another
    shelf.store.save_people(&[person(vec![key(shelf.root(), "own-key").1])]).unwrap();
    assert!(look(&shelf, &path).faults().iter().any(|line| line.contains("another key")));
}

#[test]
fn the_wrong_key_or_a_signature_of_another_record_is_found() {
    let (shelf, path, number, _, public) = keyed();
    shelf.store.save_people(&[person(vec![public])]).unwrap();
    let (wrong, _) = key(shelf.root(), "other-key");
    let opened = shelf.open(&path);
    let text = entry_text(opened.inspection.entry(number).unwrap());
    let mine = shelf.store.signature_path(&path, number);
    let right = std::fs::read(&mine).unwrap();
    std::fs::remove_file(&mine).unwrap();
    shelf.store.sign_by_key(&path, (number, text.as_bytes()), &wrong).unwrap();
    assert!(!look(&shelf, &path).is_fine());
    std::fs::write(&mine, &right).unwrap();
    assert!(look(&shelf, &path).is_fine());
    // moved to another record's signature
    let second = shelf.keep(&played()[1], "2022-06-08-overhaul");
    let other = sign_of(&shelf.open(&second)).map(|(number, _)| number);
    let other =
        other.unwrap_or_else(|| shelf.sign(&second, "fitter-a", asfound::domain::checklist::Signing::Decisions).number);
    let moved = shelf.store.signature_path(&second, other);
    std::fs::create_dir_all(moved.parent().unwrap()).unwrap();
    std::fs::copy(&mine, &moved).unwrap();
    let said = look(&shelf, &second).faults().join(" ");
    assert!(said.contains("it was changed or belongs to another record"), "{said}");
    // no signature at all
    std::fs::write(&mine, b"nothing").unwrap();
    assert!(!look(&shelf, &path).is_fine());
}

#[test]
fn a_signature_by_key_goes_along_with_the_record() {
    let (shelf, path, number, _, _) = keyed();
    let stick = shelf.root().join("stick/2024-07-12-overhaul.yaml");
    copy(&path, &stick);
    let other = Shelf::empty();
    let bringer = asfound::records::bring::Bringer { by: None, at: crate::rig::stamp("2024-07-13T10:00:00+02:00") };
    let brought = asfound::records::bring::bring(&other.store, &stick, &bringer).unwrap();
    assert!(other.store.signature_path(&brought.record, number).is_file());
    assert_eq!(brought.photos, 1);
}

#[test]
fn what_is_no_public_key_is_told_with_its_line_and_column() {
    let folder = tempfile::tempdir().unwrap();
    let (_, public) = key(folder.path(), "bench-key");
    let file = |keys: &str| {
        format!("format: 1\npeople:\n- {{id: fitter-a, name: fitter A, roles: [fitter], keys: [{keys}]}}\n")
    };
    let read = |keys: &str| asfound::records::people_file::read_people("people.yaml", file(keys).as_bytes());
    for good in [public.clone(), format!("valid-before=20311231 {public}")] {
        assert!(read(&format!("'{good}'")).is_ok(), "{good}");
    }
    let cut = &public[..30];
    for wrong in ["hello", "ssh-ed25519", "ssh-ed25519 hello", "AAAAC3Nza", cut] {
        let problems = read(&format!("'{public}', '{wrong}'")).unwrap_err().to_string();
        let column = file(&format!("'{public}', ")).lines().nth(2).unwrap().len() - 1;
        assert!(
            problems.contains(&format!("3:{column}")) || problems.contains(&format!("line 3, column {column}")),
            "{problems}"
        );
        assert!(problems.contains(&format!("`{wrong}`")) && problems.contains("a public key"), "{problems}");
    }
}

#[test]
fn what_lies_beside_a_copy_under_its_own_name_comes_along_when_mail_has_renamed_it() {
    let (shelf, path, number, _, _) = keyed();
    let stick = shelf.root().join("stick/2024-07-12-overhaul.yaml");
    copy(&path, &stick);
    let bringer = asfound::records::bring::Bringer { by: None, at: crate::rig::stamp("2024-07-13T10:00:00+02:00") };
    for name in ["2024-07-12-overhaul (1).yaml", "2024-07-12-overhaul.yaml.txt", "record.yml", "rotor.yaml"] {
        let renamed = stick.with_file_name(name);
        std::fs::copy(&stick, &renamed).unwrap();
        let other = Shelf::empty();
        let brought = asfound::records::bring::bring(&other.store, &renamed, &bringer).unwrap();
        assert!(brought.record.ends_with("DEMO-1/2024-07-12-overhaul.yaml"), "{name}: {brought:?}");
        assert_eq!(other.store.records(&id("DEMO-1")).unwrap(), std::slice::from_ref(&brought.record), "{name}");
        assert!(other.store.signature_path(&brought.record, number).is_file(), "{name}");
        assert_eq!((brought.photos, brought.lost.len()), (1, 0), "{name}");
    }
}

#[test]
fn a_countersignature_without_a_key_proves_nobody() {
    let (shelf, path) = Shelf::signed();
    let (sign, chain) = sign_of(&shelf.open(&path)).unwrap();
    let number = shelf.add(&path, "supervisor-b", Act::Countersign { sign, chain }).number;
    let said = format!("Entry {number}, countersigned by supervisor-b, is not signed by key: ");
    let verified = look(&shelf, &path);
    assert!(
        verified.unseen().iter().any(|line| line.starts_with(&said) && line.contains("does not prove")),
        "{verified:?}"
    );
}

/// A name is soon typed; the key is what another cannot have.
#[test]
fn a_countersignature_by_a_key_that_is_not_that_supervisors_waits_on_everywhere() {
    let (shelf, path, _, _, public) = keyed();
    let (sign, chain) = sign_of(&shelf.open(&path)).unwrap();
    let entry = shelf.add(&path, "supervisor-b", Act::Countersign { sign, chain }).number;
    let (_, shore) = key(shelf.root(), "shore-key");
    let (wrong, wrongs) = key(shelf.root(), "wrong-key");
    let supervisor = Person { id: id("supervisor-b"), roles: vec![Role::Supervisor], ..person(vec![shore]) };
    shelf.store.sign_entry_by_key(&path, entry, &wrong).unwrap();
    let listed = || asfound(shelf.root(), &["review"], "").1;
    let page = || asfound(shelf.root(), &["review", path.to_str().unwrap(), "--plain"], "").1;
    let people = [person(vec![public.clone()]), supervisor.clone()];
    // of the right one, all is well
    shelf.store.save_people(&[people[0].clone(), Person { keys: vec![wrongs.clone()], ..supervisor.clone() }]).unwrap();
    assert!(!listed().contains("countersign pending ashore"), "{}", listed());
    assert!(!page().contains("countersign or send back the"), "{}", page());
    for (keys, other, said) in [
        (supervisor.keys.clone(), None, "X by another key than people.yaml has of that person"),
        (vec![], Some(wrongs), "X by the key of fitter-c"),
    ] {
        let fitter = other.map(|key| Person { id: id("fitter-c"), ..person(vec![key]) });
        let supervisor = Person { keys, ..supervisor.clone() };
        let people: Vec<_> = [people[0].clone(), supervisor].into_iter().chain(fitter).collect();
        shelf.store.save_people(&people).unwrap();
        assert!(listed().contains("countersign pending ashore"), "{}", listed());
        let page = page();
        assert!(page.contains("countersign or send back the decisions") && page.contains(said), "{page}");
        assert!(page.contains(&format!("Entry {entry}, countersign, ")), "{page}");
        let names = ", but not with supervisor B's key";
        assert!(page.contains(&format!(": countersigned by supervisor B alone{names}")), "{page}");
        let shown = asfound(shelf.root(), &["show", path.to_str().unwrap()], "").1;
        let told = format!("countersigned by supervisor B{names}: countersign pending ashore");
        assert!(shown.contains(&told) && !shown.contains("nobody known here"), "{shown}");
        let paper = asfound(shelf.root(), &["report", path.to_str().unwrap()], "").1;
        assert!(paper.contains(&names.replace('\'', "&#39;")) || paper.contains(names), "{paper}");
        assert!(shown.contains(&format!("! Entry {entry}, countersign, ")) && shown.contains(said), "{shown}");
    }
}

/// What the review says of the key beside the last signature.
fn in_review(shelf: &Shelf, path: &Path) -> String {
    let reading = asfound::face::shelf::reading::read(&shelf.store, path).unwrap();
    reading.review.decide.join("; ")
}

#[test]
fn a_key_given_in_a_review_is_told_in_its_next_question() {
    let (shelf, path) = Shelf::signed();
    let (private, public) = key(shelf.root(), "bench-key");
    shelf.store.save_people(&[person(vec![public])]).unwrap();
    let words = ["review", path.to_str().unwrap(), "--plain", "--as", "fitter-a"];
    let (_, out, _) = asfound(shelf.root(), &words, &format!("key\n{}\nleave\n", private.display()));
    let asked: Vec<_> = out.lines().filter(|line| line.starts_with("Waiting: ")).collect();
    assert!(asked[0].contains("not signed by key") && asked[0].contains(", key, or leave?"), "{asked:?}");
    assert!(asked[1].contains("by key too, good") && !asked[1].contains(", key, or leave?"), "{asked:?}");
}

#[test]
fn the_review_says_of_a_key_what_verify_says() {
    let (shelf, path, number, _, public) = keyed();
    assert!(in_review(&shelf, &path).contains("by a key not known here"), "{}", in_review(&shelf, &path));
    shelf.store.save_people(&[person(vec![public])]).unwrap();
    assert!(in_review(&shelf, &path).contains("by key too, good"), "{}", in_review(&shelf, &path));
    std::fs::write(shelf.store.signature_path(&path, number), "garbage").unwrap();
    let said = in_review(&shelf, &path);
    assert!(said.contains("X its signature by key is not of this entry"), "{said}");
}

#[test]
fn a_countersignature_is_signed_by_key_too_and_a_key_of_an_entry_that_is_gone_tells_of_the_tail() {
    let (shelf, path, _, _, _) = keyed();
    let (sign, chain) = sign_of(&shelf.open(&path)).unwrap();
    let entry = shelf.add(&path, "supervisor-b", Act::Countersign { sign, chain }).number;
    let unsigned = look(&shelf, &path).unseen().join(" ");
    assert!(
        unsigned.contains(&format!("Entry {entry}, countersigned by supervisor-b, is not signed by key")),
        "{unsigned}"
    );
    let (private, public) = key(shelf.root(), "shore-key");
    let supervisor = Person { id: id("supervisor-b"), ..person(vec![public]) };
    shelf.store.save_people(&[Person { roles: vec![Role::Supervisor], ..supervisor }]).unwrap();
    shelf.store.sign_entry_by_key(&path, entry, &private).unwrap();
    let held = look(&shelf, &path).holds().join(" ");
    assert!(held.contains(&format!("Entry {entry} is signed by key: good")), "{held}");
    // cut before it on a machine that has no note: the signature names the entry
    let text = std::fs::read_to_string(&path).unwrap();
    let cut = text.find(&format!("- entry: {entry}\n")).unwrap();
    std::fs::write(&path, &text[..cut]).unwrap();
    std::fs::remove_file(path.with_extension("").join("last.yaml")).unwrap();
    let faults = look(&shelf, &path).faults().join(" ");
    assert!(
        faults.contains(&format!("{entry}.sig beside it is a signature by key of entry {entry}, which is missing")),
        "{faults}"
    );
    let reading = asfound::face::shelf::reading::read(&shelf.store, &path).unwrap();
    assert!(!reading.review.warnings.is_empty() && reading.outside == Some(entry), "{:?}", reading.outside);
}

/// A supervisor's countersignature beside fitter A's signature, people.yaml with a key of each: shelf, record, fitter A's
/// entry, the supervisor's, and the supervisor's key.
fn countersigned() -> (Shelf, PathBuf, u32, u32, PathBuf) {
    let (shelf, path) = Shelf::signed();
    let (sign, chain) = sign_of(&shelf.open(&path)).unwrap();
    let entry = shelf.add(&path, "supervisor-b", Act::Countersign { sign, chain }).number;
    let (_, fitters) = key(shelf.root(), "fitter-key");
    let (shore, shores) = key(shelf.root(), "shore-key");
    shelf.store.save_people(&[person(vec![fitters]), supervisor(vec![shores])]).unwrap();
    (shelf, path, sign, entry, shore)
}

fn supervisor(keys: Vec<String>) -> Person {
    Person { id: id("supervisor-b"), name: "supervisor B".into(), roles: vec![Role::Supervisor], keys }
}

fn review_as(shelf: &Shelf, path: &Path, who: &str, typed: &str) -> String {
    asfound(shelf.root(), &["review", path.to_str().unwrap(), "--plain", "--as", who], typed).1
}

#[test]
fn a_key_that_people_yaml_has_not_as_the_signers_writes_nothing() {
    let (shelf, path, sign, entry, shore) = countersigned();
    let (fresh, freshs) = key(shelf.root(), "new-key");
    for (wrong, said) in [
        (fresh.clone(), "none of those that people.yaml has of supervisor-b. Nothing was written."),
        (shelf.root().join("fitter-key"), "fitter-a's by people.yaml, not supervisor-b's. Nothing was written."),
    ] {
        let out = review_as(&shelf, &path, "supervisor-b", &format!("key\n{}\nleave\n", wrong.display()));
        assert!(out.contains(said) && out.contains(&format!("The key {} (SHA256:", wrong.display())), "{out}");
        assert!(out.contains("Give the file of supervisor-b's own key") && out.contains(".pub line"), "{out}");
        assert!(!shelf.store.signature_path(&path, entry).exists());
    }
    let left: Vec<_> = std::fs::read_dir(shelf.root()).unwrap().map(|one| one.unwrap().file_name()).collect();
    assert!(left.iter().all(|name| !name.to_string_lossy().starts_with('.')), "{left:?}");
    // another's key is refused of whom no key is known too; one that nobody has is not
    let mut people = shelf.store.people().unwrap();
    people.retain(|person| person.id != id("fitter-a"));
    shelf.store.save_people(&people).unwrap();
    let fault = shelf.store.sign_entry_by_key(&path, sign, &shore).unwrap_err().to_string();
    assert!(fault.contains("supervisor-b's by people.yaml, not fitter-a's"), "{fault}");
    shelf.store.sign_entry_by_key(&path, sign, &fresh).unwrap();
    // a new key is entered first
    people.iter_mut().for_each(|person| person.keys.push(freshs.clone()));
    shelf.store.save_people(&people).unwrap();
    shelf.store.sign_entry_by_key(&path, entry, &fresh).unwrap();
}

#[test]
fn a_signature_by_a_wrong_key_gives_way_to_a_good_one_and_to_no_other() {
    let (shelf, path, _, entry, shore) = countersigned();
    let (wrong, wrongs) = key(shelf.root(), "wrong-key");
    let people = shelf.store.people().unwrap();
    let kept = || std::fs::read(shelf.store.signature_path(&path, entry)).unwrap();
    // given while nobody here had a key
    shelf.store.save_people(&[]).unwrap();
    shelf.store.sign_entry_by_key(&path, entry, &wrong).unwrap();
    let laid = kept();
    let fault = shelf.store.sign_entry_by_key(&path, entry, &shore).unwrap_err().to_string();
    assert!(fault.contains("Only a key that people.yaml has as supervisor-b's takes its place"), "{fault}");
    assert_eq!(kept(), laid);
    shelf.store.save_people(&people).unwrap();
    let out = review_as(&shelf, &path, "supervisor-b", &format!("key\n{}\nleave\n", wrong.display()));
    assert!(out.contains(&format!("A key for entry {entry}, ")) && out.contains("Nothing was written"), "{out}");
    assert_eq!(kept(), laid);
    let out = review_as(&shelf, &path, "supervisor-b", &format!("key\n{}\nkey\nleave\n", shore.display()));
    assert!(out.contains("Signed by key: ") && out.contains("Nothing that you signed waits for a key."), "{out}");
    assert!(
        look(&shelf, &path).holds().iter().any(|line| line.starts_with(&format!("Entry {entry} is signed by key")))
    );
    let good = kept();
    assert!(good != laid);
    // a good one stays, whatever comes; so does what may tell of a change
    let also = supervisor(vec![wrongs, people[1].keys[0].clone()]);
    shelf.store.save_people(&[people[0].clone(), also]).unwrap();
    assert!(shelf.store.sign_entry_by_key(&path, entry, &wrong).is_err());
    assert_eq!(kept(), good);
    std::fs::write(shelf.store.signature_path(&path, entry), "garbage").unwrap();
    assert!(shelf.store.sign_entry_by_key(&path, entry, &shore).is_err());
    assert_eq!(kept(), b"garbage");
}

#[test]
fn a_key_signs_no_entry_of_another() {
    let (shelf, path, sign, entry, shore) = countersigned();
    let typed = format!("key\n{0}\nkey\n{0}\nleave\n", shore.display());
    let out = review_as(&shelf, &path, "supervisor-b", &typed);
    assert!(out.contains(&format!("A key for entry {entry}, ")), "{out}");
    assert!(!out.contains(&format!("A key for entry {sign}, ")), "{out}");
    assert!(out.contains("Nothing that you signed waits for a key."), "{out}");
    assert!(!shelf.store.signature_path(&path, sign).exists());
    // fitter A's own still waits, for fitter A
    let reading = asfound::face::shelf::reading::read(&shelf.store, &path).unwrap();
    assert_eq!(reading.keyless(&id("fitter-a")).map(|(number, _)| number), Some(sign));
    assert_eq!(reading.keyless(&id("supervisor-b")), None);
    let who: Vec<_> = reading.keyless_people().map(|person| person.id.clone()).collect();
    assert_eq!(who, [id("fitter-a")]);
}
