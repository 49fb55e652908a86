//! Records that earlier versions wrote in format 1: every later one reads them, folds them and finds them whole.
//!
//! The records in tests/data/records/format-1/ are never written anew. A new one may be put beside them, with its summary.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::path::{Path, PathBuf};

use asfound::domain::entry::{Act, Entry};
use asfound::domain::signing;
use asfound::domain::verdict::Disposition;
use asfound::records::inspection_file::{Opened, Trust};
use asfound::records::store::Store;
use asfound::records::verify::{all_records, verify};

use crate::sources;

fn folder() -> PathBuf {
    sources::root().join("tests/data/records/format-1")
}

/// What a record says of itself, without any judgement of today's rules.
fn summary(store: &Store, path: &Path, opened: &Opened) -> String {
    let inspection = &opened.inspection;
    let mut kinds: BTreeMap<&str, usize> = BTreeMap::new();
    for entry in inspection.entries() {
        *kinds.entry(entry.act.kind()).or_default() += 1;
    }
    let mut text = String::new();
    let mut say = |line: String| writeln!(text, "{line}").unwrap();
    let head = inspection.head();
    say(format!("{}, begun {} by {}", head.id, head.begun, head.by));
    say(format!("checklist {} {}, {} steps", head.checklist.id, head.checklist.version, head.checklist.steps.len()));
    say(format!(
        "entries {}, readings {}, struck {}",
        inspection.entries().len(),
        inspection.reading_count(),
        inspection.struck_count()
    ));
    say(format!("last chain {}", opened.chains.last().unwrap()));
    say(format!("people {}, gauges {}", inspection.people().len(), inspection.gauges().len()));
    say(format!("remarks without an answer {}", signing::open_remarks(inspection).len()));
    for (kind, count) in kinds {
        say(format!("  {kind}: {count}"));
    }
    let doubts = |entry: &Entry| matches!(&entry.act, Act::Reading { doubts, .. } if !doubts.is_empty());
    say(format!("insisted on: {}", inspection.entries().iter().filter(|entry| doubts(entry)).count()));
    for entry in inspection.entries() {
        if let Act::Sign(signature) = &entry.act {
            let countersigned = signing::countersigned(inspection, entry.number).map(|by| by.doer().to_string());
            say(format!(
                "{} signed by {} in entry {}, countersigned by {countersigned:?}",
                signature.what.word(),
                entry.by,
                entry.number
            ));
            for one in &signature.standing {
                say(format!("  {}: {} {:?}", one.part, one.disposition.map_or("none", Disposition::word), one.holds));
            }
        }
    }
    let verified = verify(store, &[path.to_owned()]).remove(0);
    // a key that is not known here, a picture that is gone or a link that does not hold would be a fault
    say(format!("faults {}", verified.faults().len()));
    text
}

#[test]
fn every_record_of_format_1_is_read_folded_and_verified_as_when_it_was_written() {
    // verify writes down whose keys are known: a copy of the folder takes that
    let copy = tempfile::tempdir().unwrap();
    copy_all(&folder(), copy.path());
    let store = Store::at(copy.path());
    let records = all_records(&store).unwrap();
    assert!(records.len() >= 6, "{records:?}");
    for path in records {
        let name = store.name_of(&path);
        let opened = store.open(&path).unwrap_or_else(|problems| panic!("{problems}"));
        assert!(matches!(opened.trust, Trust::Whole | Trust::Seen { .. }), "{name}: {:?}", opened.trust);
        let said = summary(&store, &path, &opened);
        let kept = std::fs::read_to_string(path.with_extension("summary")).unwrap_or_default();
        if said != kept {
            let copy = Path::new(env!("CARGO_TARGET_TMPDIR")).join(path.with_extension("summary").file_name().unwrap());
            std::fs::write(&copy, &said).unwrap();
            panic!("{name} is no longer what it was; what it is now stands in {}", copy.display());
        }
    }
}

/// The schema names the kinds that a record may hold; it is kept equal to the reader.
#[test]
fn every_kind_of_entry_stands_in_a_record_of_format_1() {
    let schema = std::fs::read_to_string(sources::root().join("assets/schemas/inspection.json")).unwrap();
    let schema: serde_json::Value = serde_json::from_str(&schema).unwrap();
    let kinds = kinds_of(&schema).expect("the schema lists the kinds");
    assert!(kinds.len() >= 35 && kinds.contains(&"repeat"), "{kinds:?}");
    let store = Store::at(folder());
    let records = all_records(&store).unwrap();
    let held: Vec<String> = records.iter().map(|path| std::fs::read_to_string(path).unwrap()).collect();
    for kind in kinds {
        let line = format!("\n  kind: {kind}\n");
        assert!(held.iter().any(|text| text.contains(&line)), "no record of format 1 has an entry of the kind {kind}");
    }
}

/// The one list of words in which a record's first kind stands.
fn kinds_of(schema: &serde_json::Value) -> Option<Vec<&str>> {
    let words = |all: &'_ serde_json::Value| all.as_array().is_some_and(|all| all.iter().any(|word| word == "begin"));
    if let Some(list) = schema.get("enum").filter(|list| words(list)) {
        return list.as_array().map(|list| list.iter().filter_map(|word| word.as_str()).collect());
    }
    let inner: Vec<&serde_json::Value> = match schema {
        serde_json::Value::Object(all) => all.values().collect(),
        serde_json::Value::Array(all) => all.iter().collect(),
        _ => Vec::new(),
    };
    inner.into_iter().find_map(kinds_of)
}

#[test]
fn every_record_of_format_1_can_be_gone_on_with() {
    let copy = tempfile::tempdir().unwrap();
    copy_all(&folder(), copy.path());
    let store = Store::at(copy.path());
    for path in all_records(&store).unwrap() {
        let before = std::fs::read(&path).unwrap();
        let mut opened = store.open(&path).unwrap();
        let next = opened.file.next();
        let last = opened.inspection.entries().last().unwrap().clone();
        opened.file.append(&[Entry { number: next, act: Act::Resume, writer: None, late: None, ..last }]).unwrap();
        assert!(std::fs::read(&path).unwrap().starts_with(&before));
        assert_eq!(store.open(&path).unwrap().inspection.entries().len(), opened.inspection.entries().len() + 1);
    }
}

fn copy_all(from: &Path, to: &Path) {
    std::fs::create_dir_all(to).unwrap();
    for one in std::fs::read_dir(from).unwrap() {
        let path = one.unwrap().path();
        let there = to.join(path.file_name().unwrap());
        if path.is_dir() {
            copy_all(&path, &there);
        } else {
            std::fs::copy(&path, &there).unwrap();
        }
    }
}
