//! Verify, bring and review as they are called from a shell: a walk by stick, and every planted fault in verify's words.

use std::path::{Path, PathBuf};

use asfound::domain::entry::Act;
use serde_json::Value;

use super::shelf::{Shelf, copy};
use crate::files::samples::{RECORD, sample};
use crate::plain::verbs::asfound;

/// The sample record alone in a folder of its own, with its picture.
fn alone() -> (tempfile::TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("record.yaml");
    let from = Path::new(crate::files::samples::FOLDER).join(RECORD);
    copy(&from, &path);
    (folder, path)
}

/// What verify says of the file, with its exit code.
fn verify(path: &Path) -> (i32, String) {
    let nobody = tempfile::tempdir().unwrap();
    let (code, out, err) = asfound(nobody.path(), &["verify", path.to_str().unwrap()], "");
    assert_eq!(err, "");
    assert!(
        std::fs::read_dir(nobody.path()).unwrap().next().is_none(),
        "verify leaves nothing on a machine without a register"
    );
    (code, out)
}

/// The sample's head and its entries with their chain lines.
fn pieces() -> (String, Vec<String>) {
    let text = String::from_utf8(sample(RECORD)).unwrap();
    let (head, entries) = text.split_once("\nentries:\n").unwrap();
    let entries = entries.split("- entry: ").skip(1).map(|one| format!("- entry: {one}"));
    // the original inside the brought entry is no entry of this record
    let entries = entries.fold(Vec::<String>::new(), |mut all, one| {
        match all.last_mut() {
            Some(last) if !last.contains("\n  chain: ") => last.push_str(&one),
            _ => all.push(one),
        }
        all
    });
    (format!("{head}\nentries:\n"), entries)
}

#[test]
fn a_digit_an_entry_taken_out_put_in_or_swapped_is_said_at_each_entry() {
    let (head, entries) = pieces();
    assert_eq!(entries.len(), 37);
    let (_folder, path) = alone();
    let say = |entries: &[String]| {
        std::fs::write(&path, format!("{head}{}", entries.concat())).unwrap();
        verify(&path)
    };
    let (_, out) = say(&entries);
    assert!(!out.contains("  X "), "{out}");
    for place in 0..entries.len() {
        let number = place + 1;
        let mut changed = entries.clone();
        changed[place] = changed[place].replacen(":31+02:00", ":32+02:00", 1);
        let (code, out) = say(&changed);
        let words = if place == 0 {
            "The head or entry 1 was changed.".to_owned()
        } else {
            format!("Entry {number} was changed")
        };
        assert!(code == 3 && out.contains(&format!("  X {words}")), "digit of {number}: {out}");
        let mut twice = entries.clone();
        twice.insert(place, entries[place].clone());
        let (code, out) = say(&twice);
        assert!(
            code == 3 && out.contains(&format!("Entry {number} does not follow: one was put in")),
            "twice {number}: {out}"
        );
        if number < entries.len() {
            let mut without = entries.clone();
            without.remove(place);
            let (code, out) = say(&without);
            assert!(
                code == 3 && out.contains(&format!("Entry {} does not follow", number + 1)),
                "without {number}: {out}"
            );
            let mut swapped = entries.clone();
            swapped.swap(place, place + 1);
            let (code, out) = say(&swapped);
            assert!(
                code == 3 && out.contains(&format!("Entry {} does not follow", number + 1)),
                "swapped {number}: {out}"
            );
        }
        // cut after this entry: nothing here names the end, and that is said
        let (_, out) = say(&entries[..number]);
        assert!(out.contains("  ? A missing tail cannot be seen"), "cut after {number}: {out}");
        assert!(!out.contains("Entry") || !out.contains("does not follow"), "cut after {number}: {out}");
    }
}

#[test]
fn other_planted_faults_are_said_in_words() {
    let text = String::from_utf8(sample(RECORD)).unwrap();
    let picture = |path: &Path| std::fs::read_dir(path.with_extension("")).unwrap().next().unwrap().unwrap().path();
    let sign = text.find("  kind: sign\n").unwrap();
    let seal = sign + text[sign..].find("  sha256: \"").unwrap() + 11;
    let with_seal =
        format!("{}{}{}", &text[..seal], if &text[seal..=seal] == "0" { "1" } else { "0" }, &text[seal + 1..]);
    let stray = text.replacen("- entry: 9\n", "# put in\n- entry: 9\n", 1);
    for (what, spoilt, said) in [
        ("the head", text.replacen("INV-420-0017", "INV-420-0018", 1), "The head or entry 1 was changed."),
        ("line ends", text.replace('\n', "\r\n"), "Line ends were turned, by mail or an editor."),
        ("something between", stray, "Something was put in before entry 9."),
        ("something behind", format!("{text}# behind\n"), "Something stands behind the last entry."),
        ("the seal", with_seal, "The signature, entry 33, was given under other bytes than those before it."),
        (
            "the original",
            text.replacen("    text: go on", "    text: go off", 1),
            "Entry 32 was brought, and is not what its original's chain value says.",
        ),
        ("no record", "format: 1\n".to_owned(), "It cannot be read."),
    ] {
        let (_folder, path) = alone();
        std::fs::write(&path, spoilt).unwrap();
        let (code, out) = verify(&path);
        assert!(code == 3 && out.contains(&format!("  X {said}")), "{what}: {out}");
    }
    let (_folder, path) = alone();
    std::fs::write(picture(&path), b"another picture").unwrap();
    let (code, out) = verify(&path);
    assert!(code == 3 && out.contains("The photo IMG 0412.png of entry 15 was changed."), "{out}");
    std::fs::remove_file(picture(&path)).unwrap();
    let (code, out) = verify(&path);
    assert!(code == 3 && out.contains("The photo IMG 0412.png of entry 15 is not there."), "{out}");
}

/// The lines of JSON that verify prints.
fn told(data: &Path, record: &Path) -> (i32, Value) {
    let (code, json, _) = asfound(data, &["verify", "--json", record.to_str().unwrap()], "");
    (code, serde_json::from_str(&json).unwrap())
}

#[test]
fn fitter_stick_supervisor_stick_fitter_by_the_shell_alone() {
    let (fitter, record) = Shelf::signed();
    let stick = tempfile::tempdir().unwrap();
    let stick = stick.path().join("2024-07-12-overhaul.yaml");
    copy(&record, &stick);
    let ashore = tempfile::tempdir().unwrap();
    let file = stick.to_str().unwrap();
    // reading alone changes nothing, nor does a fitter countersign his own
    let before = std::fs::read(&stick).unwrap();
    let (code, out, _) = asfound(ashore.path(), &["review", file, "--plain"], "");
    assert!(code == 0 && out.contains("DEMO-1"), "{out}");
    let (_, out, _) = asfound(ashore.path(), &["review", file, "--plain", "--as", "fitter-a"], "countersign\nyes\n");
    assert!(!out.contains("Saved."), "{out}");
    assert_eq!(std::fs::read(&stick).unwrap(), before);
    let (code, _, err) = asfound(ashore.path(), &["review", file, "--plain", "--as", "no such id"], "");
    assert_eq!(code, 2, "{err}");
    // sent back, home: the fitter's record continues
    let answers = "send back\n2.1\nwhich side was loaded?\ndone\n";
    let (code, out, err) = asfound(ashore.path(), &["review", file, "--plain", "--as", "supervisor-b"], answers);
    assert!(code == 0 && out.contains("Saved."), "{out}{err}");
    let home = |words: &[&str]| asfound(fitter.root(), words, "");
    let (code, out, err) = home(&["bring", file, "--as", "fitter-a"]);
    assert!(code == 0 && out.contains("continued, 1 entry came."), "{out}{err}");
    let (code, out, _) = home(&["bring", file]);
    assert!(code == 0 && out.contains("nothing in the copy that is not here"), "{out}");
    let (code, all) = told(fitter.root(), &record);
    assert!(code == 0 && all["records"][0]["fine"] == true, "{all}");
    // signed again, out again; both go on: the countersignature comes home as brought
    let (entry, remark) = {
        let opened = fitter.open(&record);
        let open = asfound::domain::signing::open_remarks(&opened.inspection);
        (open[0].0, open[0].1)
    };
    fitter.add(&record, "fitter-a", Act::RemarkAnswered { entry, remark, text: "turbine side".into() });
    fitter.sign(&record, "fitter-a", asfound::domain::checklist::Signing::Decisions);
    copy(&record, &stick);
    let (code, out, err) =
        asfound(ashore.path(), &["review", file, "--plain", "--as", "supervisor-b"], "countersign\nyes\n");
    assert!(code == 0 && out.contains("Saved."), "{out}{err}");
    fitter.add(&record, "fitter-a", Act::Note { step: None, text: "the rebuild went on".into() });
    let (code, out, err) = home(&["bring", file, "--as", "fitter-a"]);
    assert!(code == 0 && out.contains("both went on; appended as brought:"), "{out}{err}");
    assert_eq!(told(fitter.root(), &record).0, 0);
    differing_copy(&fitter, &record, &stick);
}

#[test]
fn a_file_of_answers_does_one_thing_after_the_other_and_its_exit_says_whether_all_of_it_was_done() {
    let (shelf, record) = Shelf::signed();
    let review = |answers: &str| {
        asfound(shelf.root(), &["review", record.to_str().unwrap(), "--plain", "--as", "supervisor-b"], answers)
    };
    let kinds = || shelf.open(&record).inspection.entries().iter().map(|entry| entry.act.kind()).collect::<Vec<_>>();
    let before = kinds().len();
    let (code, out, _) = review("concession\n2.3\nthe maker\n");
    assert!(code == 1 && out.contains("The record stays as it stands."), "{code}: {out}");
    let (code, out, _) = review("countersign\nyes\noverrule\nbush.ts\nreplace\nseen again\nyes\n");
    assert!(code == 0 && out.contains("Nothing else was entered."), "{code}: {out}");
    assert_eq!(kinds()[before..], ["countersign", "overrule"]);
    let (code, out, _) = review("overrule\nbush.ts\nreplace\n");
    assert_eq!(code, 1, "half answered: {out}");
}

/// What differs is named, and nothing changes.
fn differing_copy(fitter: &Shelf, record: &Path, stick: &Path) {
    let home = |words: &[&str]| asfound(fitter.root(), words, "");
    let file = stick.to_str().unwrap();
    let other = Shelf::empty();
    other.add(stick, "fitter-a", Act::Note { step: None, text: "written on the copy".into() });
    let before = std::fs::read(record).unwrap();
    let (code, _, err) = home(&["bring", file]);
    assert!(code == 1 && err.contains("note: written on the copy") && err.contains("nothing is changed"), "{err}");
    assert_eq!(std::fs::read(record).unwrap(), before);
    let (code, _, err) = home(&["bring", file, "--as", "no such id"]);
    assert_eq!(code, 2, "{err}");
    let (code, _, err) = home(&["bring", "gone.yaml"]);
    assert_eq!(code, 1, "{err}");
}

#[test]
fn a_record_is_named_by_file_or_id_and_a_slip_is_told_with_what_is_near() {
    let (shelf, record) = Shelf::signed();
    let (code, by_id, _) = asfound(shelf.root(), &["verify", "DEMO-1/2024-07-12-overhaul"], "");
    let (_, by_file, _) = asfound(shelf.root(), &["verify", record.to_str().unwrap()], "");
    assert_eq!((code, by_id), (0, by_file));
    for verb in ["verify", "show", "review", "trend", "report"] {
        let (code, _, err) = asfound(shelf.root(), &[verb, "DEMO-1/2024-07-21-overhaul"], "");
        assert!(code == 2 && err.contains("Did you mean DEMO-1/2024-07-12-overhaul?"), "{verb} {code}: {err}");
        let (code, _, err) = asfound(shelf.root(), &[verb, "gone.yaml"], "");
        assert!(code == 2 && err.contains("there is no record `gone.yaml`"), "{verb} {code}: {err}");
    }
}

#[test]
fn two_files_with_one_id_are_told_and_a_person_chooses() {
    let (shelf, record) = Shelf::signed();
    let twin = record.with_file_name("2024-07-12-overhaul-2.yaml");
    std::fs::copy(&record, &twin).unwrap();
    for verb in ["verify", "show", "review", "resume"] {
        let (code, _, err) = asfound(shelf.root(), &[verb, "DEMO-1/2024-07-12-overhaul"], "");
        assert!(code == 1 && err.contains("2 files have the id DEMO-1/2024-07-12-overhaul"), "{verb} {code}: {err}");
        assert!([&record, &twin].iter().all(|file| err.contains(file.to_str().unwrap())), "{verb}: {err}");
    }
    let (code, out, _) = asfound(shelf.root(), &["show", twin.to_str().unwrap()], "");
    assert!(code == 0 && out.contains("DEMO-1/2024-07-12-overhaul"), "{out}");
}

/// Whatever is wrong in a file, it bears its id: it is told of two, and its faults where it is the only one.
#[test]
fn a_damaged_record_is_found_by_its_id_and_not_passed_over_for_its_copy() {
    const ID: &str = "DEMO-1/2024-07-12-overhaul";
    let (shelf, record) = Shelf::signed();
    let text = std::fs::read_to_string(&record).unwrap();
    let twin = record.with_file_name("saved from mail.yaml");
    let head_broken = text.replacen("machine hours: 48480", "machine hours: many", 1);
    let elsewhere = text.replacen(&format!("inspection: {ID}\n"), &format!("inspection:\n  {ID}\n"), 1);
    assert!(head_broken != text && elsewhere != text);
    for (copy, otherwise) in [(&head_broken, "bad head"), (&elsewhere, "id on a line of its own"), (&text, "whole")] {
        std::fs::write(&twin, copy).unwrap();
        let (code, _, err) = asfound(shelf.root(), &["resume", ID], "");
        assert!(code == 1 && err.contains(&format!("2 files have the id {ID}")), "{otherwise}, {code}: {err}");
    }
    std::fs::remove_file(&twin).unwrap();
    std::fs::write(&record, &head_broken).unwrap();
    let (code, _, err) = asfound(shelf.root(), &["show", ID], "");
    assert!(code == 1 && err.contains("`many h`"), "{code}: {err}");
}

#[test]
fn a_program_reads_what_was_found_without_its_words_and_what_was_not_checked_has_a_code_of_its_own() {
    use super::keys::{key, keyed};
    let (shelf, record, number, _, public) = keyed();
    let person = |keys| super::keys::person(keys);
    shelf.store.save_people(&[person(vec![public.clone()])]).unwrap();
    let of = |kind: &str| {
        let (code, all) = told(shelf.root(), &record);
        let sentences = all["records"][0]["told"].as_array().unwrap().clone();
        let found = sentences.into_iter().find(|one| one["kind"] == kind).unwrap_or_default();
        (code, found)
    };
    let (code, found) = of("key");
    assert!(code == 0 && found["sign"] == "holds", "{found}");
    assert!(found["entry"] == number && found["name"] == "fitter-a", "{found}");
    // a key that only the record brings is checked by nobody
    let (private, claimed) = key(shelf.root(), "other-key");
    shelf.add(&record, "fitter-a", Act::Person(person(vec![claimed])));
    shelf.add(&record, "fitter-a", Act::Note { step: None, text: "again".into() });
    shelf.sign(&record, "fitter-a", asfound::domain::checklist::Signing::Decisions);
    let (last, _) = super::shelf::sign_of(&shelf.open(&record)).unwrap();
    shelf.store.save_people(&[]).unwrap();
    shelf.store.sign_entry_by_key(&record, last, &private).unwrap();
    std::fs::remove_file(shelf.store.signature_path(&record, number)).unwrap();
    let (code, out, _) = asfound(shelf.root(), &["verify", record.to_str().unwrap()], "");
    assert!(code == 4 && out.contains("0 with faults, 1 with something that could not be checked."), "{code}: {out}");
    let (code, all) = told(shelf.root(), &record);
    assert!(code == 4 && all["records"][0]["checked"] == false && all["records"][0]["fine"] == true, "{all}");
    // a fault counts for more
    let text = std::fs::read_to_string(&record).unwrap();
    std::fs::write(&record, text.replacen("machine hours: 48480", "machine hours: 48481", 1)).unwrap();
    let (code, found) = of("bytes");
    assert!(code == 3 && found["sign"] == "fault" && found["place"] == 1 && found["entry"] == 1, "{found}");
}
