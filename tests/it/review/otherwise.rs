//! What was signed, and stands otherwise now because somebody changed the record outside: which side was signed is said,
//! with the entry, and the graver of the two counts.

use std::collections::BTreeSet;

use asfound::domain::apply::{apply, changed_outside};
use asfound::domain::checklist::Signing;
use asfound::domain::entry::{Act, Entry, Remark};
use asfound::domain::review::{Cause, Changed, Kept, Review, differences, since, that_counts};
use asfound::domain::signing::{self, Seal};
use asfound::domain::verdict::Disposition;
use asfound::report::export::{Cell, Exported, TABLES};
use asfound::report::json::of_record;
use asfound::report::record;

use super::patterns::lifts_slowly;
use crate::rig::Rig;

const REPLACED: &str = "replace; new part to check; open: clearance as left: left out, not on this job";

/// A bush that the entries have replaced, signed as `stated`, and somebody has seen that it was changed from `from` on; 0 is
/// the signature's own entry. The sign entry's number.
fn changed(stated: Disposition, from: u32) -> (Rig, u32) {
    let mut rig = Rig::open();
    lifts_slowly(&mut rig, [["0.250"; 3], ["0.250"; 3]], "0.020", 10);
    rig.take(Act::NotApplicable { step: "bush.ts/soak".into(), point: None, reason: "clean already".into() });
    rig.leave_rest();
    let seal = Seal { length: 0, sha256: String::new(), lost: vec![] };
    let mut signature = signing::signature(&rig.inspection, Signing::Decisions, (&seal, &[]));
    let bush = signature.standing.iter_mut().find(|one| one.part == "bush.ts").unwrap();
    assert_eq!(bush.disposition, Some(Disposition::Replace));
    if stated != Disposition::Replace {
        (bush.disposition, bush.holds) = (Some(stated), vec![]);
    }
    rig.take(Act::Sign(signature));
    let sign = rig.last().number;
    rig.take(Act::seen(if from == 0 { sign } else { from }, "the stick was in another hand".into()));
    (rig, sign)
}

/// Page 1, the page behind it and the record as text, of the standing that counts.
fn told(rig: &Rig) -> (Review, String) {
    let counts = that_counts(&rig.inspection);
    let kept = Kept::default();
    let review = Review::of(&rig.inspection, &counts, &kept);
    (review, record::lines(&rig.inspection, &counts, &kept).join("\n"))
}

#[test]
fn a_figure_changed_under_a_signature_is_told_with_what_was_signed_and_since_which_entry() {
    let (rig, sign) = changed(Disposition::Reuse, 9);
    let seen = rig.last().number;
    let found = differences(&rig.inspection);
    assert_eq!(found.len(), 1, "{found:?}");
    assert_eq!((found[0].signed.as_str(), found[0].today.as_str()), ("reuse", REPLACED));
    assert_eq!(found[0].cause, Cause::Outside { from: 9, seen: Some(seen), what: Changed::Entries });
    let (review, show) = told(&rig);
    let line = format!(
        "changed outside from entry 9 on, after entry {sign} signed it: the bush.ts: signed as reuse, now {REPLACED}"
    );
    assert!(review.decide.contains(&line), "{:?}", review.decide);
    assert!(!review.decide.iter().any(|one| one.contains("today's rules")), "{:?}", review.decide);
    let item = review.pages[0].items.iter().find(|one| one.text == "the bush.ts: changed outside after it was signed");
    let sides = [
        format!("as signed, decisions in entry {sign}: reuse"),
        format!("as the record has it since it was changed outside from entry 9 on, entry {seen}: {REPLACED}"),
        "the graver counts".to_owned(),
    ];
    assert_eq!(item.unwrap().evidence, sides);
    assert!(
        show.contains(&format!("\nCHANGED OUTSIDE AFTER IT WAS SIGNED\nthe bush.ts: {}\n", sides.join("; "))),
        "{show}"
    );
    assert!(!show.contains("TODAY'S RULES") && !show.contains("by today's rules"), "{show}");
    assert!(show.contains("signed as reuse; changed outside since, from entry 9 on, to replace; the graver counts"));
    let json = of_record(&rig.inspection, &rig.standing(), &Kept::default());
    let told = &json["signed otherwise"][0];
    assert_eq!((&told["changed outside"], told["signed"].as_str()), (&true.into(), Some("reuse")));
    let bush = that_counts(&rig.inspection).part("bush.ts").unwrap().clone();
    assert_eq!(bush.verdict.disposition, Disposition::Replace, "nothing good rests on a signature that was shaken");
}

/// The words of the signature may have been changed themselves: then they are the side that was not signed.
#[test]
fn a_signature_changed_in_its_own_entry_is_not_taken_for_what_was_signed() {
    let (rig, sign) = changed(Disposition::Reuse, 0);
    let found = differences(&rig.inspection);
    assert_eq!((found[0].signed.as_str(), found[0].today.as_str()), (REPLACED, "reuse"));
    let (review, show) = told(&rig);
    let line = format!(
        "entry {sign}, the signature itself, was changed outside after it was signed: the bush.ts: signed as \
         {REPLACED}, now reuse"
    );
    assert!(review.decide.contains(&line), "{:?}", review.decide);
    assert!(review.decide.iter().all(|one| !one.contains("now replace")), "{:?}", review.decide);
    assert!(show.contains("by the entries under the signature, which stand as they were: replace"), "{show}");
    let bush = review.lines.iter().find(|line| line.part == "bush.ts").unwrap();
    assert_eq!((bush.disposition, bush.headline), (Disposition::Replace, ('X', "replace")), "{bush:?}");
    let words =
        format!("signed as replace; entry {sign} itself was changed outside since, to reuse; the graver counts");
    assert!(bush.made_so.contains(&words), "{bush:?}");
}

/// Nobody has said so yet, but the file's own chain shows it: whoever opens it first must not read the milder side.
#[test]
fn what_only_the_file_shows_is_no_better_than_what_somebody_has_seen() {
    for (from, what) in [(9, Changed::Entries), (0, Changed::Signature)] {
        let (mut rig, sign) = changed(Disposition::Reuse, from);
        let seen = rig.last().number;
        let mut unseen = Rig::with(rig.inspection.head().clone());
        for entry in rig.inspection.entries().iter().filter(|entry| (2..seen).contains(&entry.number)) {
            drop(apply(&mut unseen.inspection, entry.clone()));
        }
        assert_eq!(signing::shaken_from(&unseen.inspection, sign), None);
        changed_outside(&mut unseen.inspection, BTreeSet::from([if from == 0 { sign } else { from }]));
        let bush = that_counts(&unseen.inspection).part("bush.ts").unwrap().clone();
        assert_eq!(bush.verdict.disposition, Disposition::Replace);
        let found = differences(&unseen.inspection);
        assert!(matches!(found[0].cause, Cause::Outside { seen: None, what: it, .. } if it == what), "{found:?}");
        assert!(found[0].sides().iter().any(|side| side.contains("as the file shows")), "{:?}", found[0].sides());
        // whoever signs after somebody has seen it signs what stands there now
        changed_outside(&mut rig.inspection, BTreeSet::from([if from == 0 { sign } else { from }]));
        rig.sign(Signing::Decisions, &[]);
        assert_eq!(signing::shaken_from(&rig.inspection, rig.last().number), None);
    }
}

/// Where the signature's words and the entries under it were changed, neither is what was signed.
#[test]
fn a_signature_changed_with_the_entries_under_it_says_nothing_of_what_was_signed() {
    let (mut rig, sign) = changed(Disposition::Reuse, 9);
    changed_outside(&mut rig.inspection, BTreeSet::from([9, sign]));
    let found = differences(&rig.inspection);
    let sides = found[0].sides();
    assert!(sides[0].starts_with(&format!("as entry {sign} says, decisions, which was changed")), "{sides:?}");
    assert!(sides.iter().all(|side| !side.starts_with("as signed")), "{sides:?}");
    let (review, show) = told(&rig);
    assert!(review.decide.iter().all(|line| !line.contains("signed as reuse")), "{:?}", review.decide);
    assert!(show.contains("both changed outside since; the graver counts"), "{show}");
    let json = of_record(&rig.inspection, &rig.standing(), &Kept::default());
    let told = &json["signed otherwise"][0];
    assert_eq!((told["signed"].as_str(), told["signature says"].as_str()), (None, Some("reuse")), "{told}");
}

/// What the table of records says of its countersignature.
fn exported(rig: &Rig, strange: &[u32]) -> Cell {
    let (chains, strange) = (vec![String::new(); rig.inspection.entries().len()], strange.iter().copied().collect());
    let record = Exported::of(&rig.inspection, &chains, ("whole", "small.yaml"), &strange);
    let table = TABLES.iter().find(|table| table.name == "inspections").unwrap();
    let place = table.columns.iter().position(|column| column.name == "countersigned").unwrap();
    (table.rows)(&record)[0][place].clone()
}

/// A countersignature under which the record was changed is none any more: it waits again, and can be sent back.
#[test]
fn a_countersigned_record_changed_outside_waits_again() {
    let (rig, sign) = changed(Disposition::Replace, 9);
    let mut before = Rig::with(rig.inspection.head().clone());
    for entry in rig.inspection.entries().iter().filter(|entry| (2..=sign).contains(&entry.number)) {
        drop(apply(&mut before.inspection, entry.clone()));
    }
    before.by("supervisor-b").take(Act::Countersign { sign, chain: "0".repeat(16) });
    assert_eq!(signing::pending_here(&before.inspection, &BTreeSet::new()), [] as [&Entry; 0]);
    assert_eq!(exported(&before, &[]), Cell::Flag(true));
    // by somebody whom nobody here knows it waits on
    let entry = before.last().number;
    assert_eq!(exported(&before, &[entry]), Cell::Flag(false));
    changed_outside(&mut before.inspection, BTreeSet::from([9]));
    let waits: Vec<_> = signing::pending_here(&before.inspection, &BTreeSet::new());
    assert_eq!(waits.iter().map(|entry| entry.number).collect::<Vec<_>>(), [sign]);
    assert_eq!(exported(&before, &[]), Cell::Flag(false));
    let remark = Remark { step: None, text: "measure it again".into() };
    before.take(Act::Return { sign, chain: "0".repeat(16), remarks: vec![remark] });
}

/// A table has no room for both sides: it takes the graver too.
#[test]
fn the_tables_do_not_take_a_milder_word_from_a_record_changed_outside() {
    for from in [0, 9] {
        let (rig, _) = changed(Disposition::Reuse, from);
        let chains = vec![String::new(); rig.inspection.entries().len()];
        let nobody = BTreeSet::new();
        let record = Exported::of(&rig.inspection, &chains, ("seen", "small.yaml"), &nobody);
        let table = TABLES.iter().find(|table| table.name == "characteristics").unwrap();
        let column = |name: &str| table.columns.iter().position(|column| column.name == name).unwrap();
        let (part, disposition) = (column("part"), column("disposition"));
        let rows = (table.rows)(&record);
        let bush: Vec<_> = rows.iter().filter(|row| format!("{:?}", row[part]).contains("bush.ts")).collect();
        assert!(
            !bush.is_empty() && bush.iter().all(|row| row[disposition] == Cell::Text("replace".into())),
            "{bush:?}"
        );
    }
}

/// What stands as it was signed has not been changed by what came after.
#[test]
fn what_counts_as_signed_is_not_said_to_have_come_after_the_signature() {
    for (stated, from) in [(Disposition::Reuse, 9), (Disposition::Reuse, 0), (Disposition::Rework, 9)] {
        let (mut rig, _) = changed(stated, from);
        for after in ["", "dirty oil"] {
            if !after.is_empty() {
                rig.take(Act::Note { step: None, text: after.into() });
            }
            assert_eq!(since(&rig.inspection, &that_counts(&rig.inspection)), [], "{stated:?} {from} {after}");
        }
    }
    // what an entry did change is held against what was signed, not against the changed bytes
    let (mut rig, _) = changed(Disposition::Rework, 9);
    rig.take(Act::Call { part: "bush.ts".into(), question: "which bush?".into() });
    let found = since(&rig.inspection, &that_counts(&rig.inspection));
    assert_eq!(found[0].since_words(), "bush.ts: signed as rework, now replace; stop and call: which bush?");
}

/// The same word on both sides is said once, and a hold that an editor has mangled holds all the same.
#[test]
fn a_disposition_that_both_sides_have_is_said_once() {
    let (rig, _) = changed(Disposition::Replace, 9);
    let mut same = Rig::with(rig.inspection.head().clone());
    for entry in rig.inspection.entries().iter().filter(|entry| entry.number > 1) {
        let mut entry = entry.clone();
        if let Act::Sign(signature) = &mut entry.act {
            let bush = signature.standing.iter_mut().find(|one| one.part == "bush.ts").unwrap();
            bush.holds = vec!["refered: the bush".to_owned()];
        }
        drop(apply(&mut same.inspection, entry));
    }
    let bush = that_counts(&same.inspection).part("bush.ts").unwrap().clone();
    let words = "replace, what holds it changed outside from entry 9 on; the holds of both count";
    assert_eq!(bush.reasons[0], words);
    assert!(bush.verdict.holds.iter().any(|hold| format!("{hold:?}").contains("refered: the bush")), "{bush:?}");
    let found = differences(&same.inspection);
    let line = found[0].since_words();
    assert!(line.starts_with("the bush.ts: replace as signed, with refered: the bush then, with new part"), "{line}");
    assert_eq!(line.matches("replace").count(), 1, "{line}");
}

/// What nobody judged was not signed as reuse.
#[test]
fn a_part_that_nobody_judged_was_not_signed_as_reuse() {
    let mut rig = Rig::open();
    rig.sign(Signing::Decisions, &[]);
    rig.take(Act::Call { part: "bush.ts".into(), question: "is it the right one?".into() });
    let told = since(&rig.inspection, &rig.standing());
    let bush = told.iter().find(|one| one.part == "bush.ts").unwrap_or_else(|| panic!("{told:?}"));
    assert!(bush.signed.starts_with("not judged") && bush.today.starts_with("not judged"), "{bush:?}");
    assert!(!bush.since_words().contains("reuse"), "{}", bush.since_words());
    let page = Review::of(&rig.inspection, &rig.standing(), &Kept::default()).pages.remove(0);
    assert!(page.items.iter().any(|item| item.text == format!("since it was signed, {}", bush.since_words())));
}
