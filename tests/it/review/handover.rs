//! Fitter, stick, supervisor, stick, fitter: through two data folders, and with both going on at once.

use std::path::{Path, PathBuf};

use asfound::domain::checklist::Signing;
use asfound::domain::entry::{Act, Remark};
use asfound::domain::inspection::{Head, Previous};
use asfound::domain::person::{Person, Role};
use asfound::domain::signing;
use asfound::face::shelf::reading;
use asfound::records::bring::{BringFault, Bringer, Brought, Outcome, bring};
use asfound::records::verify::verify;

use super::keys::key;
use super::shelf::{Shelf, copy, folded, sign_of};
use crate::rig::{Rig, id, stamp};

fn bringer() -> Bringer {
    Bringer { by: Some(id("fitter-a")), at: stamp("2024-07-14T08:00:00+02:00") }
}

fn take_in(shelf: &Shelf, stick: &Path) -> Result<Brought, BringFault> {
    bring(&shelf.store, stick, &bringer())
}

fn note(text: &str) -> Act {
    Act::Note { step: None, text: text.into() }
}

/// The fitter's folder with the signed record, a stick, the supervisor's empty folder.
struct Walk {
    fitter: Shelf,
    record: PathBuf,
    stick: PathBuf,
    ashore: Shelf,
}

fn walk() -> Walk {
    let (fitter, record) = Shelf::signed();
    let stick = fitter.root().join("stick/2024-07-12-overhaul.yaml");
    copy(&record, &stick);
    Walk { fitter, record, stick, ashore: Shelf::empty() }
}

/// The last signature of a copy countersigned where it lies; that entry's number.
fn countersigned(stick: &Path) -> (Shelf, u32) {
    let shelf = Shelf::empty();
    let (sign, chain) = sign_of(&shelf.open(stick)).unwrap();
    shelf.add(stick, "supervisor-b", Act::Countersign { sign, chain });
    (shelf, sign)
}

#[test]
fn out_returned_answered_signed_again_countersigned_and_home() {
    let Walk { fitter, record, stick, ashore } = walk();
    let there = take_in(&ashore, &stick).unwrap();
    assert_eq!((there.outcome, there.photos), (Outcome::New, 1));
    let (sign, chain) = sign_of(&ashore.open(&there.record)).unwrap();
    let step = ashore.open(&there.record).inspection.head().checklist.steps[3].id.clone();
    let remarks = vec![Remark { step: Some(step), text: "which side was loaded?".into() }];
    ashore.add(&there.record, "supervisor-b", Act::Return { sign, chain, remarks });
    copy(&there.record, &stick);
    assert_eq!(take_in(&fitter, &stick).unwrap().outcome, Outcome::Continued { entries: 1 });
    let opened = fitter.open(&record);
    let (entry, remark, _) = signing::open_remarks(&opened.inspection)[0];
    fitter.add(&record, "fitter-a", Act::RemarkAnswered { entry, remark, text: "turbine side".into() });
    fitter.sign(&record, "fitter-a", Signing::Decisions);
    copy(&record, &stick);
    assert_eq!(take_in(&ashore, &stick).unwrap().outcome, Outcome::Continued { entries: 3 });
    let (sign, chain) = sign_of(&ashore.open(&there.record)).unwrap();
    ashore.add(&there.record, "supervisor-b", Act::Countersign { sign, chain });
    copy(&there.record, &stick);
    assert_eq!(take_in(&fitter, &stick).unwrap().outcome, Outcome::Continued { entries: 1 });
    assert_eq!(take_in(&fitter, &stick).unwrap().outcome, Outcome::Nothing);
    let home = fitter.open(&record);
    assert!(signing::countersigned(&home.inspection, sign).is_some());
    assert!(verify(&fitter.store, &[record])[0].is_fine());
    assert_eq!(std::fs::read(&stick).unwrap(), home.file.bytes());
}

#[test]
fn a_copy_cut_short_where_something_beside_it_names_more_is_not_taken_in() {
    let Walk { fitter, record, stick, ashore } = walk();
    let (sign, chain) = sign_of(&ashore.open(&stick)).unwrap();
    let whole = std::fs::read(&stick).unwrap();
    ashore.add(&stick, "supervisor-b", Act::Countersign { sign, chain });
    let last = ashore.open(&stick).file.last_entry();
    ashore.store.note_last(&stick, &last).unwrap();
    std::fs::write(&stick, whole).unwrap();
    for shelf in [&fitter, &ashore] {
        let fault = take_in(shelf, &stick).expect_err("it was taken in");
        assert!(matches!(fault, BringFault::Short { entry, .. } if entry == last.entry), "{fault}");
        assert!(fault.to_string().contains("is cut short"), "{fault}");
    }
    assert!(verify(&fitter.store, &[record])[0].is_fine());
    // without the note nothing names it: what is there says nothing new here, and is kept where nothing was
    std::fs::remove_file(stick.with_extension("").join("last.yaml")).unwrap();
    assert_eq!(take_in(&fitter, &stick).unwrap().outcome, Outcome::Nothing);
    assert_eq!(take_in(&ashore, &stick).unwrap().outcome, Outcome::New);
}

#[test]
fn where_both_went_on_what_names_its_entry_is_appended_and_work_need_not_wait() {
    let Walk { fitter, record, stick, .. } = walk();
    let (shelf, sign) = countersigned(&stick);
    let theirs = shelf.open(&stick);
    fitter.add(&record, "fitter-a", note("the rebuild went on"));
    let Outcome::Appended { entries } = take_in(&fitter, &stick).unwrap().outcome else { panic!() };
    let (there, here) = entries[0];
    let mine = fitter.open(&record);
    let Act::Brought { bytes, chain, after, entry } = &mine.inspection.entry(here).unwrap().act else { panic!() };
    assert_eq!(chain, theirs.chains.last().unwrap());
    assert_eq!(*after, Some(there - 1), "the last that both have");
    assert!(bytes.starts_with(&format!("- entry: {there}\n")) && bytes.contains("kind: countersign"));
    assert_eq!(entry.as_ref().unwrap().by, id("supervisor-b"));
    // read back from the file it counts as before
    assert!(signing::countersigned(&folded(&mine), sign).is_some());
    assert_eq!(take_in(&fitter, &stick).unwrap().outcome, Outcome::Nothing);
    let verified = verify(&fitter.store, std::slice::from_ref(&record)).remove(0);
    assert!(verified.is_fine(), "{:?}", verified.faults());
    assert!(verified.holds().iter().any(|line| line.contains("holds the original's bytes")));
    // put back on the stick, whose note still names what was brought from it, it is whole
    let note = shelf.open(&stick).file.last_entry();
    let again = fitter.root().join("again/2024-07-12-overhaul.yaml");
    copy(&record, &again);
    shelf.store.note_last(&again, &note).unwrap();
    assert_eq!(shelf.open(&again).outside(), None);
    let verified = verify(&shelf.store, std::slice::from_ref(&again)).remove(0);
    assert!(verified.is_fine(), "{:?}", verified.faults());
    // a note that came along with a copy knows no more than the copy; one of the own folder does
    assert!(verified.unseen().iter().any(|line| line.contains("A missing tail cannot be seen")), "{verified:?}");
    let verified = verify(&fitter.store, std::slice::from_ref(&again)).remove(0);
    assert!(verified.holds().iter().any(|line| line.contains(&format!("which is there as entry {here}, brought"))));
    // and the supervisor's folder takes the whole in: nothing of it is lost
    let home = fitter.root().join("stick/home.yaml");
    copy(&record, &home);
    let ashore = Shelf::empty();
    take_in(&ashore, &stick).unwrap();
    assert_eq!(take_in(&ashore, &home).unwrap().outcome, Outcome::Continued { entries: 1 });
}

#[test]
fn a_countersignature_comes_home_though_a_later_record_names_what_came_after_it_there() {
    let Walk { fitter, record, stick, .. } = walk();
    countersigned(&stick);
    fitter.add(&record, "fitter-a", note("one more word"));
    let mine = fitter.open(&record);
    let (last, head) = (mine.file.last_entry(), mine.inspection.head().clone());
    let previous = Some(Previous { inspection: head.id.clone(), entry: last.entry, chain: last.chain });
    let next = Head { id: "INV/2033-05-02-small".into(), begun: stamp("2033-05-02T08:00:00+02:00"), previous, ..head };
    fitter.keep(&Rig::with(next).inspection, "2033-05-02-small");
    let Outcome::Appended { entries } = take_in(&fitter, &stick).unwrap().outcome else { panic!("it is refused") };
    assert_eq!(entries.len(), 1);
}

#[test]
fn what_else_differs_is_named_and_nothing_is_changed() {
    let Walk { fitter, record, stick, .. } = walk();
    let shelf = Shelf::empty();
    let first = shelf.add(&stick, "fitter-a", note("written on the copy"));
    let (sign, chain) = sign_of(&shelf.open(&stick)).unwrap();
    shelf.add(&stick, "supervisor-b", Act::Countersign { sign, chain });
    fitter.add(&record, "fitter-a", note("written at the bench"));
    let before = (std::fs::read(&record).unwrap(), std::fs::read(&stick).unwrap());
    let Err(BringFault::Differs { entry, what, .. }) = take_in(&fitter, &stick) else { panic!() };
    assert_eq!((entry, what.as_str()), (first.number, "note: written on the copy"));
    assert_eq!((std::fs::read(&record).unwrap(), std::fs::read(&stick).unwrap()), before);
}

#[test]
fn an_act_about_an_entry_that_only_the_copy_has_does_not_come_along() {
    let Walk { fitter, record, stick, .. } = walk();
    let shelf = Shelf::empty();
    let step = shelf.open(&stick).inspection.head().checklist.parts[1].id.clone();
    let call = shelf.add(&stick, "supervisor-b", Act::Call { part: step, question: "stop?".into() });
    shelf.add(
        &stick,
        "supervisor-b",
        Act::Answer { entry: call.number, who: "the master".into(), text: "go on".into() },
    );
    fitter.add(&record, "fitter-a", note("written at the bench"));
    assert!(matches!(take_in(&fitter, &stick), Err(BringFault::Differs { entry, .. }) if entry == call.number));
}

#[test]
fn a_copy_that_was_changed_outside_is_not_taken_in() {
    let Walk { fitter, record, stick, .. } = walk();
    let shelf = Shelf::empty();
    shelf.add(&stick, "fitter-a", note("written on the copy"));
    let text = std::fs::read_to_string(&stick).unwrap();
    std::fs::write(&stick, text.replace("written on the copy", "written by an editor")).unwrap();
    let before = std::fs::read(&record).unwrap();
    assert!(matches!(take_in(&fitter, &stick), Err(BringFault::Changed { .. })));
    assert_eq!(std::fs::read(&record).unwrap(), before);
}

#[test]
fn two_inspections_begun_at_once_on_two_machines_are_both_kept() {
    let (fitter, record) = Shelf::signed();
    let other = Shelf::empty();
    let mut head = fitter.open(&record).inspection.head().clone();
    head.by = id("fitter-c");
    let mut begin = super::shelf::played()[2].entries()[0].clone();
    begin.by = id("fitter-c");
    let path = other.root().join("2024-07-12-overhaul.yaml");
    drop(asfound::records::inspection_file::InspectionFile::begin(&path, &head, &[begin]).unwrap());
    let before = std::fs::read(&record).unwrap();
    let brought = take_in(&fitter, &path).unwrap();
    assert_eq!(brought.outcome, Outcome::Both { other: record.clone() });
    assert_ne!(brought.record, record);
    assert_eq!(std::fs::read(&record).unwrap(), before);
    assert_eq!(std::fs::read(&brought.record).unwrap(), std::fs::read(&path).unwrap());
}

#[test]
fn a_record_alone_on_a_stick_is_enough_to_return_or_countersign() {
    let Walk { fitter: _fitter, stick, .. } = walk();
    let nothing = Shelf::empty();
    let (sign, chain) = sign_of(&nothing.open(&stick)).unwrap();
    nothing.add(&stick, "supervisor-b", Act::Countersign { sign, chain });
    assert!(signing::countersigned(&nothing.open(&stick).inspection, sign).is_some());
}

/// What mail makes of a file.
fn turn(path: &Path) {
    let text = std::fs::read_to_string(path).unwrap();
    std::fs::write(path, text.replace("\r\n", "\n").replace('\n', "\r\n")).unwrap();
}

#[test]
fn a_copy_whose_line_ends_were_turned_on_the_way_is_taken_in_and_that_is_said() {
    let Walk { fitter, record, stick, ashore } = walk();
    turn(&stick);
    let there = take_in(&ashore, &stick).unwrap();
    assert_eq!((there.outcome, there.turned), (Outcome::New, true));
    assert_eq!(std::fs::read(&there.record).unwrap(), std::fs::read(&record).unwrap(), "kept as it was written");
    let same = take_in(&fitter, &stick).unwrap();
    assert_eq!((same.outcome, same.turned), (Outcome::Nothing, true));
    // countersigned there, turned by the mail back
    let (sign, chain) = sign_of(&ashore.open(&there.record)).unwrap();
    ashore.add(&there.record, "supervisor-b", Act::Countersign { sign, chain });
    copy(&there.record, &stick);
    turn(&stick);
    let home = take_in(&fitter, &stick).unwrap();
    assert_eq!((home.outcome, home.turned), (Outcome::Continued { entries: 1 }, true));
    assert_eq!(std::fs::read(&record).unwrap(), std::fs::read(&there.record).unwrap());
    assert!(verify(&fitter.store, &[record])[0].is_fine());
}

#[test]
fn what_was_done_on_a_turned_copy_comes_home_behind_its_seen_entry() {
    let Walk { fitter, record, stick, ashore } = walk();
    turn(&stick);
    ashore.add(&stick, "supervisor-b", Act::seen(0, "came by mail".into()));
    assert_eq!(take_in(&fitter, &stick).unwrap().outcome, Outcome::Nothing, "seen alone is nothing new here");
    let (sign, chain) = sign_of(&ashore.open(&stick)).unwrap();
    ashore.add(&stick, "supervisor-b", Act::Countersign { sign, chain });
    let elsewhere = Shelf::empty();
    let apart = elsewhere.root().join("rotors/DEMO-1/2024-07-12-overhaul.yaml");
    copy(&record, &apart);
    assert_eq!(take_in(&elsewhere, &stick).unwrap().outcome, Outcome::Continued { entries: 2 });
    // where both went on it comes along with the countersignature, whose chain stands on it
    fitter.add(&record, "fitter-a", note("the rebuild went on"));
    let Outcome::Appended { entries } = take_in(&fitter, &stick).unwrap().outcome else { panic!() };
    assert_eq!(entries.len(), 2);
    assert!(signing::countersigned(&fitter.open(&record).inspection, sign).is_some());
    let verified = verify(&fitter.store, &[record]).remove(0);
    assert!(verified.is_fine(), "{:?}", verified.faults());
}

#[test]
fn my_own_turned_record_takes_a_copy_in_once_that_was_seen() {
    let Walk { fitter, record, stick, ashore } = walk();
    let (sign, chain) = sign_of(&ashore.open(&stick)).unwrap();
    ashore.add(&stick, "supervisor-b", Act::Countersign { sign, chain });
    turn(&record);
    let before = std::fs::read(&record).unwrap();
    assert!(matches!(take_in(&fitter, &stick), Err(BringFault::Changed { entry: 0, .. })));
    assert_eq!(std::fs::read(&record).unwrap(), before);
    fitter.add(&record, "fitter-a", Act::seen(0, "an editor turned them".into()));
    assert!(matches!(take_in(&fitter, &stick).unwrap().outcome, Outcome::Appended { .. }));
    assert!(signing::countersigned(&fitter.open(&record).inspection, sign).is_some());
}

#[test]
fn a_supervisor_whom_this_machine_does_not_know_is_told_when_it_is_brought_and_verified() {
    let Walk { fitter, record, stick, ashore } = walk();
    let (sign, chain) = sign_of(&ashore.open(&stick)).unwrap();
    let entry = ashore.add(&stick, "supervisor-b", Act::Countersign { sign, chain }).number;
    let person = |roles| Person { id: id("supervisor-b"), name: "supervisor B".into(), roles, keys: vec![] };
    use asfound::domain::person::Role;
    let says = |why: &str| {
        format!(
            "Entry {entry}, countersigned by supervisor-b: supervisor-b {why} of this machine; that it is a supervisor only the record says, until people.yaml has it as one."
        )
    };
    let brought = take_in(&fitter, &stick).unwrap();
    assert_eq!(brought.strangers, [says("is not in people.yaml")]);
    assert!(take_in(&fitter, &stick).unwrap().strangers.is_empty(), "said of what came, once");
    let look = || verify(&fitter.store, std::slice::from_ref(&record)).remove(0);
    assert!(look().is_fine() && look().unseen().contains(&says("is not in people.yaml").as_str()), "{:?}", look());
    fitter.store.save_people(&[person(vec![Role::Fitter])]).unwrap();
    assert!(look().unseen().contains(&says("is no supervisor in people.yaml").as_str()), "{:?}", look());
    fitter.store.save_people(&[person(vec![Role::Supervisor])]).unwrap();
    assert!(!look().unseen().iter().any(|line| line.contains("people.yaml")), "{:?}", look());
}

#[test]
fn where_two_files_are_the_record_neither_is_continued() {
    let Walk { fitter, record, stick, ashore } = walk();
    let (sign, chain) = sign_of(&ashore.open(&stick)).unwrap();
    ashore.add(&stick, "supervisor-b", Act::Countersign { sign, chain });
    let twin = record.with_file_name("2024-07-12-overhaul-2.yaml");
    std::fs::copy(&record, &twin).unwrap();
    let before = std::fs::read(&record).unwrap();
    assert!(matches!(take_in(&fitter, &stick), Err(BringFault::Twice { .. })));
    assert_eq!((std::fs::read(&record).unwrap(), std::fs::read(&twin).unwrap()), (before.clone(), before));
}

#[test]
fn a_photo_that_did_not_come_or_has_changed_is_said_when_it_is_brought_and_on_the_first_page() {
    let picture = |path: &Path| {
        let files = std::fs::read_dir(path.with_extension("")).unwrap().map(|one| one.unwrap().path());
        files.into_iter().find(|path| path.extension().is_some_and(|ending| ending == "jpg")).unwrap()
    };
    for spoil in
        [|path: &Path| std::fs::write(path, "another").unwrap(), |path: &Path| std::fs::remove_file(path).unwrap()]
    {
        let Walk { fitter: _folder, stick, .. } = walk();
        spoil(&picture(&stick));
        let ashore = Shelf::empty();
        let brought = take_in(&ashore, &stick).unwrap();
        assert_eq!((brought.photos, brought.lost.len()), (0, 1));
        let reading = reading::read(&ashore.store, &brought.record).unwrap();
        let warnings = reading.review.warnings.join(" ");
        assert!(warnings.contains("The photo dent.jpg of entry") && warnings.contains("is not there."), "{warnings}");
    }
}

/// The stick brings the supervisor's own signature by key along: of the bytes as they were ashore.
#[test]
fn a_countersignature_that_was_brought_keeps_its_signature_by_key() {
    let Walk { fitter, record, stick, .. } = walk();
    let shelf = Shelf::empty();
    let (private, public) = key(fitter.root(), "shore-key");
    let supervisor = Person {
        id: id("supervisor-b"),
        name: "supervisor B".into(),
        roles: vec![Role::Supervisor],
        keys: vec![public],
    };
    fitter.store.save_people(&[supervisor]).unwrap();
    let (sign, chain) = sign_of(&shelf.open(&stick)).unwrap();
    let there = shelf.add(&stick, "supervisor-b", Act::Countersign { sign, chain }).number;
    shelf.store.sign_entry_by_key(&stick, there, &private).unwrap();
    fitter.add(&record, "fitter-a", note("the rebuild went on"));
    fitter.add(&record, "fitter-a", note("and on"));
    let Outcome::Appended { entries } = take_in(&fitter, &stick).unwrap().outcome else { panic!() };
    let (_, here) = entries[0];
    assert_ne!(there, here);
    let verified = verify(&fitter.store, std::slice::from_ref(&record)).remove(0);
    let good = format!("Entry {here} is signed by key: good, by a key this machine knows as supervisor-b's.");
    assert!(verified.holds().contains(&good.as_str()), "{:?}", verified.told);
    // of other bytes it is no signature
    let sig = fitter.store.signature_path(&record, here);
    std::fs::copy(&sig, fitter.store.signature_path(&record, sign)).unwrap();
    let faults = verify(&fitter.store, &[record]).remove(0);
    assert!(
        faults.faults().iter().any(|fault| fault.starts_with(&format!("Entry {sign}: the signature by key is not")))
    );
}

/// A fitter of the record whom this machine has as a supervisor since may countersign what another has signed.
#[test]
fn who_has_become_a_supervisor_since_the_job_began_is_introduced_as_one() {
    let Walk { fitter, record, .. } = walk();
    let clock = asfound::records::clock::PretendedClock::at(stamp("2024-07-14T08:00:00+02:00"));
    let (sign, chain) = sign_of(&fitter.open(&record)).unwrap();
    let act = || vec![Act::Countersign { sign, chain: chain.clone() }];
    let shown = fitter.open(&record).chains.last().unwrap().clone();
    let put = || reading::put(&fitter.store, &clock, &record, (&id("fitter-c"), act()), &shown);
    let person =
        |roles: &[Role]| Person { id: id("fitter-c"), name: "fitter C".into(), roles: roles.to_vec(), keys: vec![] };
    fitter.store.save_people(&[person(&[Role::Fitter])]).unwrap();
    assert!(put().unwrap_err().to_string().contains("no supervisor"));
    fitter.store.save_people(&[person(&[Role::Supervisor])]).unwrap();
    put().unwrap();
    let opened = fitter.open(&record);
    assert_eq!(signing::countersigned(&opened.inspection, sign).unwrap().doer(), &id("fitter-c"));
    let roles = &opened.inspection.person(&id("fitter-c")).unwrap().roles;
    assert_eq!(roles.as_slice(), [Role::Fitter, Role::Supervisor], "what it was it stays");
    // a trainee stays one: what was signed under somebody's eyes stays so
    let trainee = Person { roles: vec![Role::Trainee], ..person(&[]) };
    assert_eq!(trainee.risen(&person(&[Role::Supervisor])), None);
    assert_eq!(person(&[Role::Fitter]).risen(&person(&[Role::Trainee])), None);
}
