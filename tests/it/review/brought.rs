//! Entries brought in from another copy count as if the original stood in their place.

use crate::rig::{Rig, id};
use asfound::domain::apply::apply;
use asfound::domain::checklist::Signing;
use asfound::domain::entry::{Act, Entry, Remark};
use asfound::domain::person::{Person, Role};
use asfound::domain::request::Decision;
use asfound::domain::review::Kept;
use asfound::domain::signing;
use asfound::domain::standing::{Standing, claims};
use asfound::domain::verdict::Disposition;
use asfound::report::record::lines;

/// The other copy's last entry, as it comes along.
fn brought(other: &Rig) -> Act {
    brought_as(other.last())
}

fn brought_as(entry: &Entry) -> Act {
    Act::Brought {
        bytes: "as they were".into(),
        chain: "0123456789abcdef".into(),
        after: None,
        entry: Some(Box::new(entry.clone())),
    }
}

fn signed() -> (Rig, u32) {
    let mut rig = Rig::open();
    rig.sign(Signing::Decisions, &[]);
    let sign = rig.last().number;
    (rig, sign)
}

#[test]
fn a_countersignature_that_was_brought_countersigns() {
    let (mut mine, sign) = signed();
    let mut theirs = mine.clone();
    theirs.by("supervisor-b").take(Act::Countersign { sign, chain: String::new() });
    mine.take(Act::Note { step: None, text: "went on meanwhile".into() });
    mine.take(brought(&theirs));
    assert_eq!(signing::countersigned(&mine.inspection, sign).unwrap().number, mine.last().number);
    assert_eq!(mine.last().by, id("fitter-a"));
    assert_eq!(mine.last().doer(), &id("supervisor-b"));
    // whoever took it home has not countersigned
    let told = lines(&mine.inspection, &Standing::of(&mine.inspection), &Kept::default()).join("\n");
    assert!(told.contains("signed by fitter-a") && told.contains("countersigned by supervisor-b"), "{told}");
}

#[test]
fn a_countersignature_approves_nothing_that_was_overruled_after_what_it_is_about() {
    let (mut rig, sign) = signed();
    let overrule = Act::Overrule {
        part: "bush.ts".into(),
        to: Disposition::Replace,
        supervisor: id("supervisor-b"),
        reason: "to be safe".into(),
    };
    rig.take(overrule);
    rig.by("supervisor-b").take(Act::Countersign { sign, chain: String::new() });
    assert_eq!(claims(&rig.inspection).len(), 1);
    rig.by("fitter-a").sign(Signing::Decisions, &[]);
    let sign = rig.last().number;
    rig.by("supervisor-b").take(Act::Countersign { sign, chain: String::new() });
    assert_eq!(claims(&rig.inspection).len(), 0);
}

#[test]
fn an_answer_to_a_remark_comes_home_where_the_return_stood_in_both() {
    let (mut mine, sign) = signed();
    let remarks = vec![Remark { step: Some("bush.ts/look".into()), text: "which side?".into() }];
    mine.by("supervisor-b").take(Act::Return { sign, chain: String::new(), remarks });
    let (entry, mut theirs) = (mine.last().number, mine.clone());
    theirs.by("fitter-a").take(Act::RemarkAnswered { entry, remark: 1, text: "the loaded one".into() });
    mine.by("fitter-a").take(Act::Note { step: None, text: "went on meanwhile".into() });
    mine.take(brought(&theirs));
    assert!(signing::open_remarks(&mine.inspection).is_empty());
}

#[test]
fn remarks_that_were_brought_are_answered_under_the_number_they_have_here() {
    let (mut mine, sign) = signed();
    let mut theirs = mine.clone();
    let remarks = vec![Remark { step: Some("bush.ts/look".into()), text: "which side?".into() }];
    theirs.by("supervisor-b").take(Act::Return { sign, chain: String::new(), remarks });
    mine.take(Act::Note { step: None, text: "went on meanwhile".into() });
    mine.take(brought(&theirs));
    assert!(signing::standing_signature(&mine.inspection, Signing::Decisions).is_none());
    let (entry, remark, _) = signing::open_remarks(&mine.inspection)[0];
    assert_eq!(entry, mine.last().number);
    mine.take(Act::RemarkAnswered { entry, remark, text: "the loaded one".into() });
    assert!(signing::open_remarks(&mine.inspection).is_empty());
}

#[test]
fn an_answer_that_was_brought_ends_the_call() {
    let mut mine = Rig::open();
    mine.take(Act::Call { part: "bush.ts".into(), question: "which bush?".into() });
    let call = mine.last().number;
    let mut theirs = mine.clone();
    theirs.by("supervisor-b").take(Act::Answer { entry: call, who: "supervisor B".into(), text: "the new one".into() });
    assert!(mine.verdict("bush.ts").contains("stop and call"));
    mine.take(brought(&theirs));
    assert!(!mine.verdict("bush.ts").contains("stop and call"), "{}", mine.verdict("bush.ts"));
}

#[test]
fn a_supervisor_whom_the_record_did_not_know_comes_along_and_nobody_is_changed() {
    let (mut mine, sign) = signed();
    let mut theirs = mine.clone();
    let ashore = Person { id: id("supervisor-d"), name: "D".into(), roles: vec![Role::Supervisor], keys: vec![] };
    theirs.hand.by = id("supervisor-d");
    theirs.take(Act::Person(ashore.clone()));
    let introduced = brought(&theirs);
    theirs.take(Act::Countersign { sign, chain: String::new() });
    assert_eq!(mine.refused(brought(&theirs)), "UnknownPerson");
    mine.take(introduced).take(brought(&theirs));
    assert!(signing::countersigned(&mine.inspection, sign).is_some());
    // a copy that makes the fitter a supervisor changes nothing here
    let mut changed = theirs.last().clone();
    (changed.number, changed.act) = (changed.number + 1, Act::Person(Person { id: id("fitter-a"), ..ashore }));
    drop(apply(&mut theirs.inspection, changed));
    assert_eq!(mine.refused(brought(&theirs)), "NotToBring");
}

#[test]
fn a_reading_never_comes_along_and_counts_for_nothing_where_a_file_says_so() {
    let mut mine = Rig::open();
    let mut theirs = mine.clone();
    theirs.read("bush.ts/clearance", "outer 0 / 1 / down", "0.020");
    let act = brought(&theirs);
    assert_eq!(mine.refused(act.clone()), "NotToBring");
    assert_eq!(
        mine.refused(Act::Brought { bytes: "unreadable".into(), chain: String::new(), after: None, entry: None }),
        "NotToBring"
    );
    // apply never refuses: the entry is kept, and it is no reading
    let mut entry = mine.last().clone();
    entry.number += 1;
    entry.act = act;
    apply(&mut mine.inspection, entry);
    assert_eq!(mine.inspection.reading_count(), 2);
    assert!(mine.inspection.reading("bush.ts/clearance", "outer 0 / 1 / down").is_none());
}

#[test]
fn what_was_brought_must_be_allowed_to_who_made_it() {
    let (mine, sign) = signed();
    let mut entry = mine.last().clone();
    entry.number += 1;
    entry.by = id("fitter-c");
    entry.act = Act::Countersign { sign, chain: String::new() };
    assert_eq!(mine.refused(brought_as(&entry)), "NoSupervisor");
    entry.by = id("supervisor-b");
    assert!(matches!(mine.may(brought_as(&entry)), Decision::Take(_)));
}
