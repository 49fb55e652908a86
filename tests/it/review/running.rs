//! The review as it is called from a shell: patterns in words, who may do what, a record that changes meanwhile, two
//! inspections at once.

use std::io::{BufRead, BufReader, Write};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use asfound::domain::checklist::Signing;
use asfound::domain::entry::{Act, FindingMade};
use asfound::domain::inspection::{Head, Previous};
use asfound::domain::pattern::Unusual;
use asfound::domain::person::{Person, Role};
use chrono::Duration;

use super::patterns::{lifts_slowly, past};
use super::shelf::{Shelf, copy, sign_of};
use crate::plain::verbs::asfound;
use crate::rig::{Rig, head, id, stamp};

/// What `asfound review FILE --plain` prints of a record in a folder of its own.
fn reviewed(rig: &Rig) -> String {
    let shelf = Shelf::empty();
    let path = shelf.keep(&rig.inspection, "2031-04-17-small");
    printed(&shelf, &path)
}

fn printed(shelf: &Shelf, path: &Path) -> String {
    let (code, out, err) = asfound(shelf.root(), &["review", path.to_str().unwrap(), "--plain"], "");
    assert_eq!((code, err.as_str()), (0, ""), "{out}");
    out
}

/// The line of a pattern, and the line below it.
#[track_caller]
fn told(out: &str, unusual: Unusual) -> (String, String) {
    let begins = format!(" ~ {}: ", unusual.name());
    let mut lines = out.lines().skip_while(|line| !line.contains(&begins));
    let line = lines.next().unwrap_or_else(|| panic!("no {}:\n{out}", unusual.name()));
    let what = line.split_once(&begins).unwrap().1.to_owned();
    (what, lines.next().unwrap().trim().to_owned())
}

#[track_caller]
fn remarked(rig: &Rig, unusual: Unusual, what: &str) {
    assert_eq!(told(&reviewed(rig), unusual), (what.to_owned(), unusual.explained().to_owned()));
}

const ODD: [[&str; 3]; 2] = [["0.186", "0.188", "0.186"], ["0.182"; 3]];
const CLEARANCE: &str = "the bush.ts / clearance";

#[test]
fn every_pattern_worth_a_second_look_stands_on_the_page_with_its_innocent_cause() {
    let mut same = Rig::open();
    lifts_slowly(&mut same, [["0.186"; 3], ["0.182"; 3]], "0.020", 10);
    remarked(&same, Unusual::IdenticalRepeats, &format!("{CLEARANCE}: 12 figures, 4 places, each 3 times the same"));

    let mut fast = Rig::open();
    lifts_slowly(&mut fast, ODD, "0.020", 1);
    remarked(&fast, Unusual::Fast, &format!("{CLEARANCE}: 12 figures within 11 s"));

    let mut ending = Rig::open();
    lifts_slowly(&mut ending, [["0.190", "0.190", "0.180"], ["0.190", "0.180", "0.180"]], "0.020", 10);
    remarked(&ending, Unusual::OneEnding, &format!("{CLEARANCE}: all 12 figures end in 0"));

    let mut back = Rig::open();
    let number = back.last().number;
    back.at("2031-04-17T07:48:00+02:00").take(Act::Note { step: None, text: "the clock was put right".into() });
    remarked(&back, Unusual::Backwards, &format!("entry {} is 12 min older than entry {number}", number + 1));

    let mut alone = Rig::open();
    lifts_slowly(&mut alone, [["0.236", "0.234", "0.236"], ["0.182"; 3]], "0.020", 10);
    remarked(&alone, Unusual::OnePerson, "all parts by fitter-a alone");

    let mut counted = Rig::with(Head { history: vec![past("0.162", "inner 0")], ..head() });
    counted.covers_off();
    lifts_slowly(&mut counted, [["0.186", "0.188", "0.187"], ["0.182"; 3]], "0.020", 10);
    remarked(&counted, Unusual::SameAsLast, &format!("{CLEARANCE}: clearance as on 1 March 2029"));

    let mut plain = Rig::begun();
    plain.hand.writer = Some(id("fitter-c"));
    plain.covers_off();
    lifts_slowly(&mut plain, ODD, "0.020", 10);
    let out = reviewed(&plain);
    assert!(out.contains("\nodd patterns: 0.\n"), "{out}");
    for unusual in Unusual::ALL {
        assert!(!out.contains(&format!(" ~ {}: ", unusual.name())), "{}: {out}", unusual.name());
    }
}

#[test]
fn a_grid_equal_to_last_times_is_seen_beside_the_last_record_and_one_odd_figure_ends_it() {
    let lifts = |at: &str, previous: Option<Previous>, up: &str| {
        let (begun, name) = (stamp(at), format!("INV/{}-small", &at[..10]));
        let mut rig = Rig::with(Head { id: name, begun, previous, ..head() });
        rig.covers_off();
        lifts_slowly(&mut rig, [["0.186", "0.188", "0.186"], ["0.182", "0.184", up]], "0.020", 10);
        rig
    };
    let shelf = Shelf::empty();
    let first = shelf.keep(&lifts("2029-03-01T08:00:00+01:00", None, "0.182").inspection, "2029-03-01-small");
    let opened = shelf.open(&first);
    let previous = Previous {
        inspection: opened.inspection.head().id.clone(),
        entry: opened.inspection.entries().last().unwrap().number,
        chain: opened.chains.last().unwrap().clone(),
    };
    let again = |previous: &Previous, up: &str| {
        let rig = lifts("2031-04-17T08:00:00+02:00", Some(previous.clone()), up);
        let path = shelf.keep(&rig.inspection, "2031-04-17-small");
        let out = printed(&shelf, &path);
        std::fs::remove_file(path).unwrap();
        out
    };
    let (what, why) = told(&again(&previous, "0.182"), Unusual::SameAsLast);
    assert_eq!(what, format!("{CLEARANCE}: all 12 figures as on 1 March 2029"));
    assert_eq!(why, Unusual::SameAsLast.explained());
    let odd = again(&previous, "0.184");
    assert!(!odd.contains(Unusual::SameAsLast.name()), "{odd}");
    // another record than the one before it is not compared
    let other = Previous { inspection: "INV/2027-01-01-small".into(), ..previous };
    assert!(!again(&other, "0.182").contains(Unusual::SameAsLast.name()));
}

#[test]
fn soaks_outside_their_times_are_counted_also_where_a_note_says_why() {
    use asfound::domain::entry::TimerMark;
    let soak = |minutes: i64, note: Option<&str>| {
        let mut rig = Rig::open();
        let timer = |mark| Act::Timer { step: "bush.ts/soak".into(), mark };
        rig.take(timer(TimerMark::Started));
        rig.hand.at = (rig.hand.at.moment() + Duration::minutes(minutes)).into();
        rig.take(timer(TimerMark::Ended));
        if let Some(text) = note {
            rig.take(Act::Note { step: Some("bush.ts/soak".into()), text: text.into() });
        }
        reviewed(&rig)
    };
    assert!(soak(130, None).contains("\nwaits outside their times: 0.\n"));
    let short = soak(90, None);
    assert!(short.contains("\nwaits outside their times: 1.\n"), "{short}");
    assert!(short.contains("    the bush.ts / soak: 1 h 30 min, wanted 2 h to 3 h; nobody says why\n"), "{short}");
    let noted = soak(190, Some("the crane was late"));
    assert!(
        noted.contains("    the bush.ts / soak: 3 h 10 min, wanted 2 h to 3 h; note: the crane was late\n"),
        "{noted}"
    );
}

/// A folder with a record that has a crack in its bush.
fn cracked() -> (Shelf, PathBuf) {
    let shelf = Shelf::empty();
    let mut rig = Rig::begun();
    rig.make_safe();
    rig.read("rotor/axial", "axial / pushed", "0.020").read("rotor/axial", "axial / pulled", "0.210");
    rig.take(Act::Tick { step: "rotor/covers".into() });
    let (part, step) = ("bush.ts".to_owned(), "bush.ts/look".to_owned());
    let (kind, grade) = ("crack".to_owned(), "seen".to_owned());
    rig.take(Act::Finding(FindingMade { part, step, kind, grade, ..FindingMade::default() }));
    let path = shelf.keep(&rig.inspection, "2031-04-17-small");
    (shelf, path)
}

/// The words printed for these answers, by this reviewer.
fn answered(shelf: &Shelf, path: &Path, by: &str, answers: &str) -> String {
    let (code, out, err) = asfound(shelf.root(), &["review", path.to_str().unwrap(), "--plain", "--as", by], answers);
    // what was wanted and refused, or left half answered, is no success
    let left = answers.ends_with("leave\n") && !answers.contains("yes");
    assert_eq!((code, err.as_str()), (i32::from(!left && !out.contains("Saved.")), ""), "{out}");
    out
}

#[test]
fn line_by_line_a_crack_is_never_overruled_and_anything_else_by_a_named_supervisor_with_a_reason() {
    let (shelf, path) = cracked();
    let before = std::fs::read(&path).unwrap();
    let out =
        answered(&shelf, &path, "supervisor-b", "overrule\nbush.ts\nwatch\nsupervisor-b\nfor the trip home\nyes\n");
    assert!(out.contains("A crack is never overruled toward the less safe side."), "{out}");
    assert!(!out.contains("Which supervisor decides"), "no question is asked in vain: {out}");
    assert_eq!(std::fs::read(&path).unwrap(), before);
    // the other way, toward the safer side, stays free
    let out = answered(&shelf, &path, "supervisor-b", "overrule\nagain\nbush.ts\nreplace\na crack\nyes\n");
    assert!(out.contains("Saved.") && !out.contains("Which supervisor"), "{out}");
    let out = answered(&shelf, &path, "fitter-a", "overrule\nbush.ts\nreplace\nto be safe\nyes\n");
    assert!(out.contains("Saved.") && !out.contains("claimed until"), "{out}");
    let opened = shelf.open(&path);
    let last = &opened.inspection.entries().last().unwrap().act;
    assert!(matches!(last, Act::Overrule { supervisor, .. } if supervisor.as_str() == "fitter-a"), "{last:?}");

    let shelf = Shelf::empty();
    let mut rig = Rig::open();
    lifts_slowly(&mut rig, [["0.250"; 3], ["0.250"; 3]], "0.020", 10);
    let path = shelf.keep(&rig.inspection, "2031-04-17-small");
    let before = std::fs::read(&path).unwrap();
    // no supervisor, an empty reason: asked again, nothing written
    let out = answered(&shelf, &path, "fitter-a", "overrule\nbush.ts\nwatch\nfitter-c\n\n");
    assert!(out.contains("Not taken: `fitter-c`."), "{out}");
    let out = answered(&shelf, &path, "fitter-a", "overrule\nagain\nbush.ts\nwatch\nsupervisor-b\n\n");
    assert!(out.contains("Not taken: ``."), "{out}");
    assert_eq!(std::fs::read(&path).unwrap(), before);
    let out =
        answered(&shelf, &path, "fitter-a", "overrule\nagain\nbush.ts\nwatch\nsupervisor-b\nfor the trip home\nyes\n");
    assert!(out.contains("claimed until supervisor-b countersigns") && out.contains("Saved."), "{out}");
    let said = printed(&shelf, &path);
    assert!(said.contains("\noverruled: 1.\n") && said.contains("\nclaimed approval: 1.\n"), "{said}");
    assert!(said.contains("    computed by the rules: replace"), "{said}");
}

/// A folder with a small record whose decisions are signed.
fn signed() -> (Shelf, PathBuf) {
    let shelf = Shelf::empty();
    let path = shelf.keep(&Rig::open().inspection, "2031-04-17-small");
    shelf.sign(&path, "fitter-a", Signing::Decisions);
    (shelf, path)
}

#[test]
fn a_supervisor_whom_only_this_machine_knows_is_introduced_and_nobody_else_may() {
    let (shelf, path) = signed();
    let before = std::fs::read(&path).unwrap();
    let out = answered(&shelf, &path, "supervisor-d", "countersign\nyes\nleave\n");
    let said = "Nobody here is known as `supervisor-d`. Enter that person first: first screen, people, with the role.";
    assert!(out.contains(said), "{out}");
    let out = answered(&shelf, &path, "fitter-c", "countersign\nyes\nleave\n");
    assert!(out.contains("`fitter-c` is no supervisor. Only a supervisor countersigns or sends back;"), "{out}");
    assert_eq!(std::fs::read(&path).unwrap(), before);
    let ashore = Person { id: id("supervisor-d"), name: "D".into(), roles: vec![Role::Supervisor], keys: vec![] };
    shelf.store.save_people(std::slice::from_ref(&ashore)).unwrap();
    let out = answered(&shelf, &path, "supervisor-d", "countersign\nyes\n");
    assert!(out.contains("Saved."), "{out}");
    let opened = shelf.open(&path);
    let [.., introduced, last] = opened.inspection.entries() else { panic!() };
    assert_eq!((&introduced.act, introduced.by.as_str()), (&Act::Person(ashore), "supervisor-d"));
    assert!(matches!(last.act, Act::Countersign { .. }) && last.by.as_str() == "supervisor-d", "{last:?}");
}

/// A review line by line in which the file changes after the question `at` was printed; what is printed from there on.
fn meanwhile(shelf: &Shelf, path: &Path, answers: [&str; 2], at: &str, change: &dyn Fn()) -> String {
    let mut child = Command::new(env!("CARGO_BIN_EXE_asfound"))
        .args(["--data", shelf.root().to_str().unwrap(), "review", path.to_str().unwrap(), "--plain"])
        .args(["--as", "supervisor-b"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    let mut typed = child.stdin.take().unwrap();
    let mut said = BufReader::new(child.stdout.take().unwrap()).lines().map(|line| line.unwrap());
    typed.write_all(answers[0].as_bytes()).unwrap();
    typed.flush().unwrap();
    assert!(said.any(|line| line.contains(at)), "`{at}` never came");
    change();
    typed.write_all(answers[1].as_bytes()).unwrap();
    drop(typed);
    let rest = said.collect::<Vec<_>>().join("\n");
    assert_eq!(child.wait().unwrap().success(), rest.contains("Saved."), "{rest}");
    rest
}

#[test]
fn a_record_that_an_editor_changes_meanwhile_is_not_written_to() {
    let (shelf, path) = signed();
    let spoilt = std::fs::read_to_string(&path).unwrap().replacen("0.210", "0.211", 1);
    let change = || std::fs::write(&path, &spoilt).unwrap();
    let out = meanwhile(&shelf, &path, ["countersign\n", "yes\nleave\n"], "Countersign it under your name", &change);
    assert!(out.contains("This record was changed outside, or by a newer program."), "{out}");
    assert!(!out.contains("Saved."), "{out}");
    assert_eq!(std::fs::read_to_string(&path).unwrap(), spoilt);
}

/// What came is said, and it is asked again, looking at what stands there now.
#[test]
fn a_record_that_the_fitter_goes_on_with_meanwhile_is_looked_at_before_it_is_countersigned() {
    let (shelf, path) = signed();
    let (sign, chain) = sign_of(&shelf.open(&path)).unwrap();
    let change = || drop(shelf.add(&path, "fitter-a", Act::Note { step: None, text: "went on meanwhile".into() }));
    let answers = ["countersign\n", "yes\ncountersign\nyes\n"];
    let out = meanwhile(&shelf, &path, answers, "Countersign it under your name", &change);
    let (refused, again) = out.split_once("Waiting: ").unwrap();
    let number = sign + 1;
    let why = format!("Not entered: the record has grown since it was shown. Entry {number}, fitter-a: ");
    assert!(refused.contains(&why) && refused.contains("went on meanwhile"), "{out}");
    assert!(again.contains("Countersign it under your name") && again.contains("Saved."), "{out}");
    let opened = shelf.open(&path);
    let [.., note, last] = opened.inspection.entries() else { panic!() };
    assert!(matches!(note.act, Act::Note { .. }));
    assert_eq!(last.act, Act::Countersign { sign, chain });
    assert!(asfound::records::verify::verify(&shelf.store, std::slice::from_ref(&path))[0].is_fine());
}

#[test]
fn a_decision_on_what_stands_there_no_more_is_asked_again_beside_what_stands_there_now() {
    let shelf = Shelf::empty();
    let mut rig = Rig::open();
    lifts_slowly(&mut rig, [["0.235"; 3], ["0.235"; 3]], "0.020", 10);
    assert!(rig.verdict("bush.ts").starts_with("watch"), "{}", rig.verdict("bush.ts"));
    let path = shelf.keep(&rig.inspection, "2031-04-17-small");
    let change = || {
        let (part, reason) = ("bush.ts".into(), "cracked right through".into());
        drop(shelf.add(&path, "fitter-a", Act::Condemned { part, reason }));
    };
    let decides = "overrule\nbush.ts\nreuse\nsupervisor-b\nas last time\n";
    let out = meanwhile(&shelf, &path, [decides, "yes\nno\nleave\n"], "then: ", &change);
    assert!(!out.contains("Saved.") && out.contains("condemned, not measured: cracked right through"), "{out}");
    let asked = "now:  X bush.ts: replace; new part to check\nthen: ";
    assert!(out.contains(asked) && out.contains("Is that right? yes, no\n> no\nNot entered."), "{out}");
    let last = shelf.open(&path).inspection.entries().last().unwrap().act.clone();
    assert!(matches!(last, Act::Condemned { .. }), "{last:?}");
    // with the eyes open it is a supervisor's to decide
    let again = || drop(shelf.add(&path, "fitter-a", Act::Note { step: None, text: "looked again".into() }));
    let out = meanwhile(&shelf, &path, [decides, "yes\nyes\n"], "then: ", &again);
    assert!(out.contains("Not entered: ") && out.contains("looked again") && out.contains("Saved."), "{out}");
}

#[test]
fn remarks_typed_line_by_line_are_kept_until_they_are_sent_or_dropped() {
    let (shelf, path) = signed();
    let kept = path.with_extension("").join("review.draft.yaml");
    let before = std::fs::read(&path).unwrap();
    let out = answered(&shelf, &path, "supervisor-b", "send back\n2.1\nwhich side?\n");
    assert!(out.contains("The record stays as it stands.") && kept.is_file(), "{out}");
    let out = answered(&shelf, &path, "supervisor-b", "send back\n2.2\nwhich oil?\n");
    assert!(out.contains("Not sent yet: which side?"), "{out}");
    assert_eq!(std::fs::read(&path).unwrap(), before);
    // what was begun line by line is gone on with on the screen
    drop(crate::bench::Bench::reviewing(shelf.root()).keys("1").expect("remarks, not sent yet: 2"));
    let out = answered(&shelf, &path, "supervisor-b", "send back\ndone\n");
    assert!(out.contains("Not sent yet: which oil?") && out.contains("Saved.") && !kept.exists(), "{out}");
    let opened = shelf.open(&path);
    let Act::Return { remarks, .. } = &opened.inspection.entries().last().unwrap().act else { panic!() };
    assert_eq!(remarks.iter().map(|one| one.text.as_str()).collect::<Vec<_>>(), ["which side?", "which oil?"]);

    let (shelf, path) = signed();
    let kept = path.with_extension("").join("review.draft.yaml");
    let out = answered(&shelf, &path, "supervisor-b", "send back\n2.1\nwhich side?\ncancel\nleave\n");
    assert!(out.contains("the remarks are dropped") && !kept.exists(), "{out}");
}

/// Begins an inspection of TRY-7 in a folder of its own, from an empty one; the record.
fn begun(folder: &Path, checklist: &str, who: &str) -> PathBuf {
    let begin = ["begin", "TRY-7", "--invented", "--later", "--hours", "1200", "--checklist", checklist];
    let (code, out, err) =
        asfound(folder, &begin, &format!("INV-900\nS-42\n\nnew\n{who}\nfitter {who}\nfitter\ndone\n"));
    assert_eq!(code, 0, "{out}{err}");
    let records = std::fs::read_dir(folder.join("rotors/TRY-7")).unwrap().map(|one| one.unwrap().path());
    let is_record = |path: &PathBuf| path.extension().is_some_and(|end| end == "yaml") && !path.ends_with("rotor.yaml");
    records.into_iter().find(is_record).unwrap()
}

#[test]
fn two_inspections_of_one_rotor_begun_at_once_on_two_machines_are_recognised_and_both_kept() {
    for (there, said, shown) in [
        ("bearing", "another inspection with the same id as", "are two inspections with one id"),
        (
            "overhaul",
            "another inspection of this rotor, open at the same time as",
            "two inspections open at the same time",
        ),
    ] {
        let (here, other) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
        let mine = begun(here.path(), "bearing", "fit-1");
        let theirs = begun(other.path(), there, "fit-2");
        let stick = other.path().join("stick").join(theirs.file_name().unwrap());
        copy(&theirs, &stick);
        let before = std::fs::read(&mine).unwrap();
        let (code, out, err) = asfound(here.path(), &["bring", stick.to_str().unwrap()], "");
        assert!(code == 0 && out.contains(said) && out.contains("Both are kept, neither is preferred."), "{out}{err}");
        assert_eq!(std::fs::read(&mine).unwrap(), before);
        let kept: Vec<_> =
            asfound::records::verify::all_records(&asfound::records::store::Store::at(here.path())).unwrap();
        assert_eq!(kept.len(), 2, "{kept:?}");
        let new = kept.iter().find(|path| **path != mine).unwrap();
        assert_eq!(std::fs::read(new).unwrap(), std::fs::read(&stick).unwrap());
        let (code, out, err) = asfound(here.path(), &["review", "--plain"], "");
        assert!(code == 0 && out.contains("2 records wait for a decision."), "{out}{err}");
        let home = crate::bench::Bench::over(here.path());
        drop(home.expect(shown));
        let (_, out, _) = asfound(here.path(), &["check"], "");
        let told = ["is another inspection with this id; both are kept.", "was open at the same time; both are kept."];
        assert!(told.iter().any(|told| out.contains(told)), "{out}");
    }
}
