//! A copy that continues a record is taken in whole; a decision in it that nobody was entitled to counts for nothing, and
//! is said wherever the record is looked at.

use std::collections::BTreeSet;

use std::path::{Path, PathBuf};

use asfound::domain::entry::{Act, Entry, Remark};
use asfound::domain::review::{Kept, Review};
use asfound::domain::signing;
use asfound::domain::standing::{Standing, claims};
use asfound::domain::verdict::{Consequence, Disposition};
use asfound::records::verify::verify;

use super::shelf::{Shelf, copy, sign_of};
use crate::plain::verbs::asfound;
use crate::rig::id;

/// Puts an entry behind the others as it is, asking nobody.
fn forge(path: &Path, by: &str, act: Act) {
    let shelf = Shelf::empty();
    let mut opened = shelf.open(path);
    let last = opened.inspection.entries().last().unwrap();
    let entry = Entry { number: last.number + 1, at: last.at, by: id(by), writer: None, late: None, act };
    opened.file.append(&[entry]).unwrap();
}

/// The signed record, and a copy of it on a stick.
fn stick() -> (Shelf, PathBuf, PathBuf) {
    let (shelf, record) = Shelf::signed();
    let stick = shelf.root().join("stick/2024-07-12-overhaul.yaml");
    copy(&record, &stick);
    (shelf, record, stick)
}

fn overrule(part: &str, supervisor: &str) -> Act {
    Act::Overrule {
        part: part.into(),
        to: Disposition::Reuse,
        supervisor: id(supervisor),
        reason: "good enough".into(),
    }
}

/// What bring, verify, check and the first page say once the entry has come with a copy that continues the record.
fn brought_in(by: &str, act: Act, why: &str) -> (Shelf, PathBuf) {
    let (shelf, record, stick) = stick();
    forge(&stick, by, act);
    let (code, out, err) = asfound(shelf.root(), &["bring", stick.to_str().unwrap()], "");
    assert!(code == 0 && out.contains("continued, 1 entry came"), "{out}{err}");
    let number = shelf.open(&record).inspection.entries().len();
    let said = format!("Entry {number} does not count: ");
    assert!(out.contains(&format!("! {said}")) && out.contains(why), "{by}: {out}");
    let verified = verify(&shelf.store, std::slice::from_ref(&record)).remove(0);
    assert!(verified.faults().iter().any(|fault| fault.starts_with(&said) && fault.contains(why)), "{verified:?}");
    let about = verified.told.iter().filter(|told| told.what.starts_with(&format!("Entry {number}")));
    assert_eq!(about.count(), 1, "said once, and nothing of it holds: {verified:?}");
    let (_, out, _) = asfound(shelf.root(), &["check"], "");
    assert!(out.contains(&said) && out.contains(why), "{out}");
    let inspection = shelf.open(&record).inspection;
    let review = Review::of(&inspection, &Standing::of(&inspection), &Kept::default());
    assert!(review.warnings.iter().any(|words| words.starts_with(&said)), "{:?}", review.warnings);
    (shelf, record)
}

#[test]
fn a_countersignature_that_nobody_was_entitled_to_countersigns_nothing() {
    let (shelf, _, stick) = stick();
    let (sign, chain) = sign_of(&shelf.open(&stick)).unwrap();
    let other = "0000000000000000".to_owned();
    for (by, chain, why) in [
        ("fitter-a", &chain, "is no supervisor"),
        ("mr-x", &chain, "Nobody here is known as `mr-x`"),
        ("supervisor-b", &other, "is nothing that this can be about"),
    ] {
        let (shelf, record) = brought_in(by, Act::Countersign { sign, chain: chain.clone() }, why);
        let inspection = shelf.open(&record).inspection;
        assert!(signing::countersigned(&inspection, sign).is_none(), "{by}");
        assert_eq!(signing::pending_in_words(&inspection, &BTreeSet::new()), Some(signing::PENDING), "{by}");
        let file = record.to_str().unwrap();
        let (_, page, _) = asfound(shelf.root(), &["review", file, "--plain"], "");
        assert!(page.contains("countersign or send back the decisions"), "{by}: {page}");
        // and who may, still can
        let (_, chain) = sign_of(&shelf.open(&record)).unwrap();
        shelf.add(&record, "supervisor-b", Act::Countersign { sign, chain });
        assert!(signing::countersigned(&shelf.open(&record).inspection, sign).is_some(), "{by}");
    }
}

#[test]
fn a_return_that_nobody_was_entitled_to_sends_nothing_back() {
    let (shelf, _, stick) = stick();
    let (sign, chain) = sign_of(&shelf.open(&stick)).unwrap();
    let remarks = vec![Remark { step: None, text: "not like this".into() }];
    let (shelf, record) = brought_in("fitter-c", Act::Return { sign, chain, remarks }, "is no supervisor");
    let inspection = shelf.open(&record).inspection;
    assert!(signing::sent_back(&inspection, sign).is_none() && signing::open_remarks(&inspection).is_empty());
}

#[test]
fn nobody_known_overrules_nothing_and_it_is_claimed() {
    let (shelf, record, _) = stick();
    let before = Standing::of(&shelf.open(&record).inspection);
    let part = before.parts.iter().find(|part| part.verdict.disposition == Disposition::Replace).unwrap().id.clone();
    let (shelf, record) = brought_in("fitter-a", overrule(&part, "mr-x"), "Nobody here is known as `mr-x`");
    let inspection = shelf.open(&record).inspection;
    let standing = Standing::of(&inspection);
    assert_eq!(standing.part(&part).unwrap().verdict, before.part(&part).unwrap().verdict);
    assert_eq!((standing.counts.claimed, claims(&inspection).len()), (1, 1));
}

#[test]
fn a_fitter_overrules_nothing_toward_the_less_safe_side() {
    let (shelf, record, _) = stick();
    let before = Standing::of(&shelf.open(&record).inspection);
    let part = before.parts.iter().find(|part| part.verdict.disposition == Disposition::Replace).unwrap().id.clone();
    let (shelf, record) = brought_in("fitter-a", overrule(&part, "fitter-c"), "`fitter-c` is no supervisor");
    let standing = Standing::of(&shelf.open(&record).inspection);
    assert_eq!(standing.part(&part).unwrap().verdict, before.part(&part).unwrap().verdict);
}

#[test]
fn a_concession_entered_by_nobody_known_allows_nothing() {
    let (shelf, record, _) = stick();
    let before = Standing::of(&shelf.open(&record).inspection);
    let (part, about) = shelf
        .open(&record)
        .inspection
        .standing_entries()
        .find_map(|entry| {
            let Act::Finding(finding) = &entry.act else { return None };
            let referred = before.part(&finding.part)?.verdict.holds.iter().any(|hold| hold.word() == "referred");
            referred.then(|| (finding.part.clone(), entry.number.to_string()))
        })
        .unwrap();
    let act = Act::Concession {
        part: part.clone(),
        about,
        who: "the maker".into(),
        document: "letter 1 (invented)".into(),
        conditions: "look again".into(),
        until: "2030-01-01".into(),
        allows: Consequence::Watch,
    };
    let (shelf, record) = brought_in("mr-x", act, "Nobody here is known as `mr-x`");
    let standing = Standing::of(&shelf.open(&record).inspection);
    assert_eq!(standing.part(&part).unwrap().verdict, before.part(&part).unwrap().verdict);
}
