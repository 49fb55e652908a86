//! A review that is left half done, records that cannot be read or change meanwhile, and the way from the bench to the
//! supervisor and back.

use std::path::{Path, PathBuf};

use asfound::domain::checklist::Signing;
use asfound::domain::entry::{Act, FindingMade, Remark};
use asfound::domain::inspection::{Head, Scene};
use asfound::domain::signing;
use asfound::domain::telling;
use asfound::face::model::Screen;
use asfound::records::store::{Draft, HalfForm, Store};
use insta::assert_snapshot;

use super::Bench;
use super::review::{add, signed};
use crate::plain::verbs::asfound;
use crate::review::keys::key;
use crate::review::shelf::{Shelf, sign_of};
use crate::rig::{Rig, id};

/// A folder with a small record, its decisions signed.
fn folder() -> (Shelf, PathBuf) {
    let shelf = Shelf::empty();
    let path = shelf.keep(&Rig::open().inspection, "2031-04-17-small");
    shelf.sign(&path, "fitter-a", Signing::Decisions);
    (shelf, path)
}

fn draft_of(record: &Path) -> PathBuf {
    record.with_extension("").join("review.draft.yaml")
}

#[test]
fn remarks_and_a_half_typed_one_come_back_after_a_kill_and_go_when_they_are_sent() {
    let bench = Bench::reading(signed()).keys("3 down down esc 2").typed("which side of the tip?").keys("enter");
    let bench = bench.keys("down esc 2").typed("was it dr");
    let bench =
        bench.killed_in_review().expect("a remark: clearance").expect("[ was it dr_").expect("left half answered");
    let bench = bench.typed("y?").keys("enter").expect("remarks, not sent yet: 2");
    let bench = bench.keys("up").expect("* remark, not sent yet: which side of the tip?");
    // one that is emptied is taken back
    let bench = bench.keys("esc 2").expect("[ which side of the tip?_").expect("left empty, the remark is taken back");
    let bench = bench.keys("delete enter").expect("remarks, not sent yet: 1").killed_in_review();
    let bench = bench.expect("remarks, not sent yet: 1").keys("esc 3 enter").expect(": was it dry?").keys("enter");
    let bench = bench.expect("sent back: 1. was it dry?").killed_in_review();
    drop(bench.expect_not("not sent yet"));
}

#[test]
fn what_a_review_has_not_sent_lies_beside_the_record_until_it_is_sent_and_reading_leaves_nothing() {
    let (shelf, path) = folder();
    let open = || Bench::reviewing(shelf.root()).keys("1");
    let before = std::fs::read(&path).unwrap();
    drop(open().keys("down up tab tab esc esc tab enter esc"));
    assert!(!draft_of(&path).exists(), "reading leaves nothing");
    let bench = open().keys("1 down esc 2").typed("were the marks there?").keys("enter");
    assert!(draft_of(&path).exists());
    drop(bench);
    assert_eq!(std::fs::read(&path).unwrap(), before, "the record itself is as it was");
    // a form that was left is found again, its answers too
    let bench = open().expect("remarks, not sent yet: 1").keys("esc 5").typed("bush.ts").keys("enter").typed("wa");
    drop(bench);
    let bench = open().expect("overrule").expect("[ wa_").keys("esc esc 5").expect("[ wa_").keys("esc");
    let bench = bench.keys("esc 3 enter enter").expect("sent back: 1. were the marks there?");
    let text = std::fs::read_to_string(draft_of(&path)).unwrap_or_default();
    assert!(!text.contains("were the marks there?"), "{text}");
    drop(bench);
    assert_eq!(signing::open_remarks(&shelf.open(&path).inspection).len(), 1);
}

#[test]
fn leaving_with_remarks_says_that_they_are_kept_and_not_sent() {
    let bench = Bench::reading(signed()).keys("3 esc 2").typed("why?").keys("enter ctrl-q");
    let bench = bench.expect("Remarks that were not sent: 1. They are kept for the next time.");
    assert_snapshot!("review_leaving", bench.screen());
    let bench = bench.keys("down down enter");
    assert_eq!(bench.status, Some(0));
}

#[test]
fn a_concession_does_not_throw_remarks_away() {
    let mut bench = Bench::reading(signed()).keys("3 esc 2").typed("why?").keys("enter").keys("esc 4 1 enter");
    for answer in ["the maker (invented)", "letter 7", "measure at 500 h", "the next opening", "2", "supervisor B"] {
        bench = bench.typed(answer).keys("enter");
    }
    let bench = bench.keys("enter").expect("concession of the maker (invented)");
    drop(bench.keys("up").expect("remarks, not sent yet: 1"));
}

#[test]
fn a_question_that_was_only_looked_into_is_not_half_answered_and_takes_nothing_of_another_away() {
    for keys in ["esc 1 delete esc", "esc 1 delete", "3 down esc 2 esc", "3 down esc 2", "1 esc 5 esc", "esc 4 esc"] {
        let bench = Bench::reading(signed()).keys(keys).killed_in_review();
        drop(bench.expect("page 1 of").expect_not("half answered"));
    }
    let bench = Bench::reading(signed()).keys("esc 4 1 enter").typed("the mak").keys("esc esc 1 delete esc");
    let bench = bench.keys("esc 1 enter enter").expect("saved: ").keys("esc 4").expect("[ the mak_").keys("esc");
    drop(bench.killed_in_review().expect("left half answered"));
}

#[test]
fn a_refused_deed_finds_its_answers_again() {
    let bench =
        Bench::reading(signed()).keys("esc 1 delete").typed("fitter C").keys("enter enter").expect("no supervisor");
    drop(bench.keys("esc 1").expect("[ fitter C_"));
}

#[test]
fn a_record_that_cannot_be_read_is_said_in_the_list_and_told_whole() {
    let (shelf, path) = folder();
    let broken = path.with_file_name("2031-05-01-small.yaml");
    std::fs::write(&broken, "format: 1\ninspection: INV/2031-05-01-small\n").unwrap();
    let bench = Bench::reviewing(shelf.root()).expect("countersign pending ashore: the decisions");
    let bench = bench.expect("! cannot be read: rotors/INV/2031-05-01-small.yaml");
    let bench = bench.keys("2").expect("a record that cannot be read").expect("found no key `begun`");
    drop(bench.keys("esc 1").expect("REVIEW INV"));
    // with nothing else to decide the list still says it
    std::fs::remove_file(path).unwrap();
    drop(Bench::reviewing(shelf.root()).expect("! cannot be read: rotors/INV/2031-05-01-small.yaml"));
}

#[test]
fn a_record_that_an_editor_changes_under_an_open_review_is_not_written_to() {
    let (shelf, path) = folder();
    let bench = Bench::reviewing(shelf.root()).keys("1 esc 1 enter").expect("countersign, as supervisor-b?");
    let spoilt = std::fs::read_to_string(&path).unwrap().replacen("0.210", "0.211", 1);
    std::fs::write(&path, &spoilt).unwrap();
    let bench = bench.keys("enter").expect("This record was changed outside, or by a newer program.");
    drop(bench.expect("asfound verify says where."));
    assert_eq!(std::fs::read_to_string(&path).unwrap(), spoilt);
}

#[test]
fn what_was_decided_on_screen_about_a_record_that_has_grown_is_asked_again() {
    let (shelf, path) = folder();
    let bench = Bench::reviewing(shelf.root()).keys("1 esc 5").typed("bush.ts").keys("enter").typed("watch");
    let bench = bench.keys("enter").typed("supervisor-b").keys("enter").typed("as last time").keys("enter");
    let bench = bench.typed("supervisor-b").keys("enter").expect("overrule, as supervisor-b?").expect_not("condemned");
    shelf.add(&path, "fitter-a", Act::Condemned { part: "bush.ts".into(), reason: "cracked through".into() });
    let there = std::fs::read(&path).unwrap();
    let bench = bench.keys("enter").expect("the record has grown since it was shown").expect("cracked through");
    assert_eq!(std::fs::read(&path).unwrap(), there, "nothing is entered");
    // the same question, beside what stands there now
    let bench = bench.expect("overrule, as supervisor-b?").expect("now: X bush.ts: replace");
    drop(bench.keys("enter").expect("saved: "));
    let last = shelf.open(&path).inspection.entries().last().unwrap().act.clone();
    assert!(matches!(last, Act::Overrule { .. }), "{last:?}");
}

#[test]
fn a_record_that_another_program_writes_under_the_open_bench_is_named_at_its_entry_and_not_written_over() {
    let (shelf, path) = folder();
    let last = shelf.open(&path).inspection.entries().last().unwrap().number;
    let bench = Bench::over(shelf.root()).keys("1");
    let (sign, chain) = sign_of(&shelf.open(&path)).unwrap();
    shelf.add(&path, "supervisor-b", Act::Countersign { sign, chain });
    let there = std::fs::read(&path).unwrap();
    let bench = bench.keys("esc 7 1 enter").typed("goes on here").keys("enter");
    let bench = bench.expect("2 saved, 1 NOT").expect(&format!("changed by another program at entry {}", last + 1));
    drop(bench);
    assert_eq!(std::fs::read(&path).unwrap(), there);
}

#[test]
fn on_the_screen_a_crack_is_never_overruled() {
    let mut rig = Rig::begun();
    rig.make_safe();
    rig.read("rotor/axial", "axial / pushed", "0.020").read("rotor/axial", "axial / pulled", "0.210");
    rig.take(Act::Tick { step: "rotor/covers".into() });
    let (part, step) = ("bush.ts".to_owned(), "bush.ts/look".to_owned());
    let (kind, grade) = ("crack".to_owned(), "seen".to_owned());
    rig.take(Act::Finding(FindingMade { part, step, kind, grade, ..FindingMade::default() }));
    let entries = rig.inspection.entries().len();
    let overruled = |to: &str| {
        let bench = Bench::reading(rig.inspection.clone()).keys("1 esc 5 enter").typed(to).keys("enter 1 enter");
        bench.typed("for the trip home").keys("enter").typed("supervisor-b").keys("enter enter")
    };
    let bench = overruled("watch").expect("A crack is never overruled toward the less safe side.");
    let Screen::Review(review) = &bench.model.screen else { panic!("no review") };
    assert_eq!(review.reading.inspection.entries().len(), entries);
    drop(overruled("replace").expect("overruled"));
    // nor from the bench itself
    let bench = Bench::on(rig.inspection.clone()).keys("esc 0 8");
    let bench = bench.typed("the bush.ts").keys("enter").typed("watch").keys("enter");
    let bench = bench.typed("supervisor-b").keys("enter").typed("for the trip home").keys("enter");
    let bench = bench.expect("A crack is never overruled toward the less safe side.");
    assert_eq!(bench.entries(), entries);
}

#[test]
fn the_first_screen_leads_to_the_review_and_a_record_sent_back_opens_at_its_remark() {
    let (shelf, path) = folder();
    let bench = Bench::over(shelf.root());
    let line = bench
        .screen()
        .lines()
        .find_map(|line| line.trim_start().split_once("  review: read a record"))
        .map(|(digit, _)| digit.trim().to_owned());
    let bench =
        bench.keys(&line.expect("the first screen names the review")).expect("records that wait for a decision");
    drop(bench.keys("1").expect("REVIEW INV"));
    let (sign, chain) = sign_of(&shelf.open(&path)).unwrap();
    let step = Some("rotor/covers".to_owned());
    let remarks = vec![Remark { step, text: "were the marks there?".into() }];
    shelf.add(&path, "supervisor-b", Act::Return { sign, chain, remarks });
    // the hand had left it at another step
    let left = Draft { step: "rotor/axial".into(), ..Draft::default() };
    shelf.store.keep_draft(&path, &left).unwrap();
    let bench = Bench::over(shelf.root()).expect("came back from supervisor-b: 1 remark to answer").keys("1");
    let bench = bench.expect("Sent back by supervisor-b: 1 remark, here (Esc, more, remark).");
    let bench = bench.expect("the rotor / covers").expect("! sent back by supervisor-b: were the marks there?");
    drop(bench);
    // whatever came behind it, as long as the remark has no answer
    shelf.add(&path, "fitter-a", Act::Note { step: None, text: "I look".into() });
    let bench = Bench::over(shelf.root()).keys("1").expect("the rotor / covers").expect("(Esc, more, remark)");
    // every screen says it
    let title = |bench: &Bench| bench.screen().lines().next().unwrap().to_owned();
    let bench = bench.keys("esc 6");
    assert!(title(&bench).contains("sent back"), "{}", title(&bench));
    drop(bench);
    // a form that was left open before waits at its own step, and takes nothing of the way
    let form =
        HalfForm { way: vec!["note, or figures late from paper".into()], at: 0, answers: vec!["half a not".into()] };
    shelf.store.keep_draft(&path, &Draft { form: Some(form), ..left }).unwrap();
    let bench = Bench::over(shelf.root()).keys("1").expect("the rotor / covers").expect("(Esc, more, remark)");
    let job = bench.model.job().unwrap();
    assert_eq!(job.half_answered().map(|(step, _)| step.id.as_str()).collect::<Vec<_>>(), ["rotor/axial"]);
    // the answer itself, half given, is gone on with
    let bench = bench.keys("enter").typed("they w").killed().expect("they w");
    drop(bench);
}

/// A remark on the record as a whole belongs to no step: it stands where the record is chosen, and where it is signed again.
#[test]
fn a_remark_on_all_of_the_record_stands_on_the_first_screen_and_where_it_is_signed_again() {
    let (shelf, path) = folder();
    let (sign, chain) = sign_of(&shelf.open(&path)).unwrap();
    let remarks = vec![Remark { step: None, text: "who held the dial?".into() }];
    shelf.add(&path, "supervisor-b", Act::Return { sign, chain, remarks });
    let bench = Bench::over(shelf.root()).expect("came back from supervisor-b: 1 remark to answer; who held the dial?");
    drop(bench);
    shelf.add(&path, "fitter-a", Act::Note { step: None, text: "I look".into() });
    let bench = Bench::over(shelf.root()).keys("1").expect("! sent back by supervisor-b: who held the dial?");
    drop(bench);
    let mut inspection = shelf.open(&path).inspection;
    let step = |inspection: &asfound::domain::inspection::Inspection, id: &str| {
        telling::beforehand(inspection, inspection.head().checklist.step(id).unwrap()).join(" ")
    };
    let said = "! sent back by supervisor-b: who held the dial?";
    assert!(step(&inspection, "job/decide").contains(said), "{}", step(&inspection, "job/decide"));
    assert!(!step(&inspection, "job/close").contains(said) && !step(&inspection, "rotor/axial").contains(said));
    let entry = inspection.entries().iter().rev().find(|one| matches!(one.act, Act::Return { .. })).unwrap().number;
    add(&mut inspection, "fitter-a", Act::RemarkAnswered { entry, remark: 1, text: "I did".into() });
    assert!(!step(&inspection, "job/decide").contains(said));
}

/// One of the two signatures came back, the other waits: lists say both, what waits first, for they cut their ends.
#[test]
fn a_record_that_came_back_still_shows_a_countersignature_that_is_awaited() {
    let shelf = Shelf::empty();
    let mut rig = Rig::open();
    rig.leave_rest().sign(Signing::Decisions, &[]);
    let carried = rig.standing().holds_in_words();
    rig.sign(Signing::Close, &carried);
    let path = shelf.keep(&rig.inspection, "2031-04-17-small");
    let (sign, chain) = sign_of(&shelf.open(&path)).unwrap();
    let remarks = vec![Remark { step: Some("rotor/covers".into()), text: "were the marks there?".into() }];
    shelf.add(&path, "supervisor-b", Act::Return { sign, chain, remarks });
    let (_, listed, _) = asfound(shelf.root(), &["review"], "");
    assert!(listed.contains("countersign pending ashore; came back from supervisor-b: 1 remark to answer"), "{listed}");
    let home =
        Bench::over(shelf.root()).expect("came back from supervisor-b: 1 remark to answer; countersign pending ashore");
    drop(home.keys("1").expect("countersign pending ashore"));
    let (_, review, _) = asfound(shelf.root(), &["review", path.to_str().unwrap(), "--plain"], "");
    assert!(review.lines().any(|line| line.contains("COUNTERSIGN PENDING ASHORE. REVIEW INV")), "{review}");
}

#[test]
fn what_is_awaited_is_shown_of_a_record_that_was_changed_outside_too() {
    let (shelf, path) = folder();
    shelf.add(&path, "fitter-a", Act::seen(9, "the stick was in another hand".into()));
    let (_, listed, _) = asfound(shelf.root(), &["review"], "");
    let says = "countersign pending ashore; changed outside since: to send back the decisions";
    assert!(listed.contains(says), "{listed}");
    // the first screen says it in the same words
    let home = Bench::over(shelf.root()).screen();
    assert!(home.split_whitespace().collect::<Vec<_>>().join(" ").contains(says), "{home}");
}

#[test]
fn what_holds_of_the_record_is_told_on_the_screen_too() {
    let (shelf, path) = folder();
    let bench =
        Bench::reviewing(shelf.root()).keys("1 esc 7").expect("what holds of this record, as asfound verify says");
    let bench = bench.expect("+ The chain holds through all").expect("it does not prove who signed").keys("esc");
    drop(bench.expect("WILL IT LAST?"));
    let bench = Bench::reviewing(shelf.root()).keys("1 esc 1 enter enter esc 7");
    drop(bench.expect("countersigned by supervisor-b, is about the signature"));
    let spoilt = std::fs::read_to_string(&path).unwrap().replacen("0.210", "0.211", 1);
    std::fs::write(&path, spoilt).unwrap();
    drop(Bench::reviewing(shelf.root()).keys("1 esc 7").expect("X The head or entry 1 was changed."));
}

#[test]
fn a_countersignature_says_that_remarks_are_dropped_with_it() {
    let (shelf, path) = folder();
    let bench = Bench::reviewing(shelf.root()).keys("1 esc 2").typed("show the lift again").keys("enter");
    let bench = bench.expect("remarks, not sent yet: 1").keys("esc 1 enter");
    let bench = bench.expect("1 remark not sent: dropped with this. Esc 3 sends the record back instead.");
    drop(bench.keys("enter").expect("countersigned").expect_not("not sent"));
    assert!(shelf.store.review_draft(&path).is_none());
}

#[test]
fn nothing_is_signed_yet_is_said_with_whose_turn_it_is() {
    let bench = Bench::reading(Rig::open().inspection).keys("esc 1");
    drop(bench.expect("Not now: countersign (not signed: the fitter signs first)"));
}

#[test]
fn a_key_that_the_people_file_does_not_have_is_said_when_it_signs() {
    let (shelf, record) = folder();
    let (path, public) = key(shelf.root(), "key");
    let sign = |folder: &Path| {
        let mut bench = Bench::over(folder).keys("1 esc 0");
        for _ in 0..13 {
            bench = bench.keys("down");
        }
        bench.keys("enter").paste(path.to_str().unwrap()).keys("enter").expect("Signed by key: ")
    };
    drop(sign(shelf.root()).expect("people.yaml has not this key as yours: enter its .pub line"));
    let mut fitter = Rig::open().inspection.person(&id("fitter-a")).unwrap().clone();
    fitter.keys.push(public);
    let (signed, _) = sign_of(&shelf.open(&record)).unwrap();
    std::fs::remove_file(shelf.store.signature_path(&record, signed)).unwrap();
    Store::at(shelf.root()).save_people(&[fitter]).unwrap();
    drop(sign(shelf.root()).expect_not("people.yaml"));
}

#[test]
fn an_answered_remark_leads_back_to_the_signature() {
    let mut inspection = signed();
    let sign = inspection.entries().last().unwrap().number;
    let remarks = vec![Remark { step: None, text: "which oil?".into() }];
    add(&mut inspection, "supervisor-b", Act::Return { sign, chain: String::new(), remarks });
    // what is said of no step is met where the name goes under it
    let bench = Bench::on(inspection).expect("Sent back by supervisor B: which oil?").expect("Then sign.");
    let bench = bench
        .keys("esc 0 6")
        .expect("the answer to: which oil?")
        .typed("the usual one")
        .keys("enter")
        .expect("the usual one");
    let bench = bench.typed("fitter A").keys("enter").expect("signed: decisions");
    drop(bench);
}

/// Signed and countersigned twice, nothing else waits; then somebody goes on with it.
#[test]
fn a_closed_record_that_somebody_has_gone_on_with_is_in_the_lists() {
    let shelf = Shelf::empty();
    let mut rig = Rig::open();
    let path = shelf.keep(&rig.leave_rest().inspection, "2031-04-17-small");
    for what in [Signing::Decisions, Signing::Close] {
        shelf.sign(&path, "fitter-a", what);
        let (sign, chain) = sign_of(&shelf.open(&path)).unwrap();
        shelf.add(&path, "supervisor-b", Act::Countersign { sign, chain });
    }
    let listed = || asfound(shelf.root(), &["review"], "").1;
    assert!(listed().contains("0 records wait for a decision."), "{}", listed());
    drop(Bench::over(shelf.root()).expect_not(signing::GONE_ON));
    shelf.add(&path, "fitter-a", Act::Condemned { part: "bush.ts".into(), reason: "heat colour seen late".into() });
    assert!(listed().contains(signing::GONE_ON) && listed().contains("1 record waits"), "{}", listed());
    drop(Bench::over(shelf.root()).expect("went on after the close"));
    // a new signature and its countersignature settle it
    shelf.sign(&path, "fitter-a", Signing::Close);
    assert!(listed().contains("countersign pending ashore: the close"), "{}", listed());
}

#[test]
fn a_record_of_a_rotor_that_does_not_exist_says_so_in_the_list_too() {
    let demo = crate::sources::root().join("tests/data/records/format-1");
    let screen = Bench::reviewing(&demo).expect("records that wait for a decision").screen();
    let lines: Vec<_> = screen.lines().filter(|line| line.contains("DEMO-1/")).collect();
    assert!(!lines.is_empty() && lines.iter().all(|line| line.contains(" INVENTED: DEMO-1")), "{screen}");
    let shelf = Shelf::empty();
    let head = crate::rig::head();
    shelf.keep(&Rig::with(Head { scene: Scene::Real, ..head }).inspection, "2031-04-17-small");
    Bench::reviewing(shelf.root()).expect("INV/").expect_not("INVENTED:");
}
