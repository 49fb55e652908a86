//! What must be known before a record is believed: changed outside and seen, its end missing, changed after it was signed.

use std::path::{Path, PathBuf};

use asfound::domain::entry::{Act, FindingMade, Remark};
use asfound::domain::progress;
use asfound::domain::review::Review;
use asfound::domain::signing;
use asfound::domain::standing::Standing;
use asfound::domain::verdict::Disposition;
use asfound::face::shelf::reading;
use asfound::records::store::Draft;

use super::shelf::{Shelf, copy, sign_of};
use crate::plain::verbs::asfound;
use crate::rig::id;

/// The words of a verb that can be run on the file, with its exit code.
fn said(shelf: &Shelf, words: &[&str], typed: &str) -> (i32, String) {
    let (code, out, err) = asfound(shelf.root(), words, typed);
    (code, format!("{out}{err}"))
}

/// One digit of a figure changed with an editor, well above the signature; the entry in which it stands.
fn one_digit_changed(path: &Path) -> u32 {
    let text = std::fs::read_to_string(path).unwrap();
    let at = text.find("\n  typed: ").unwrap() + "\n  typed: ".len();
    let digit = text[at..].find(|letter: char| letter.is_ascii_digit()).unwrap() + at;
    let other = if &text[digit..=digit] == "7" { "3" } else { "7" };
    let before = &text[..at];
    let number = before.rfind("\n- entry: ").map(|at| &before[at + "\n- entry: ".len()..]).unwrap();
    let number = number.lines().next().unwrap().parse().unwrap();
    std::fs::write(path, format!("{}{other}{}", &text[..digit], &text[digit + 1..])).unwrap();
    number
}

/// A signed record whose figure was changed, and somebody at the machine has said so and gone on.
fn changed_and_seen() -> (Shelf, PathBuf, u32) {
    let (shelf, path) = Shelf::signed();
    let entry = one_digit_changed(&path);
    shelf.add(&path, "fitter-a", Act::seen(entry, "the stick was in another hand".into()));
    (shelf, path, entry)
}

#[test]
fn a_change_that_somebody_has_seen_stands_on_page_one_and_on_paper_and_is_not_countersigned() {
    let (shelf, path, entry) = changed_and_seen();
    let sign = sign_of(&shelf.open(&path)).unwrap().0;
    let file = path.to_str().unwrap();
    let wanted = format!("! changed outside from entry {entry} on, seen by fitter A");
    let shaken = format!("It does not hold any more: entry {sign}, decisions signed before that");
    for verb in [vec!["review", file, "--plain"], vec!["report", file], vec!["refer", file]] {
        let (code, out) = said(&shelf, &verb, "");
        let place = out.find(&wanted).unwrap_or_else(|| panic!("{verb:?}: {out}"));
        assert!(code == 0 && out[place..].contains(&shaken), "{verb:?}: {out}");
        assert!(place < 2500, "{verb:?} says it at {place} only");
    }
    let (_, out) = said(&shelf, &["show", file], "");
    assert!(out.contains(&format!("! what entry {sign} signed was changed outside since")), "{out}");
    let (_, out) = said(&shelf, &["review", file, "--plain"], "");
    assert!(out.contains("outside change seen: 1."), "{out}");
    assert!(out.contains("send back the decisions") && !out.contains("countersign or send back the"), "{out}");
    let before = std::fs::read(&path).unwrap();
    let (_, out) = said(&shelf, &["review", file, "--plain", "--as", "supervisor-b"], "countersign\nyes\n");
    assert!(out.contains("! since then: CHANGED OUTSIDE since"), "{out}");
    assert!(out.contains("What was signed was changed outside since") && !out.contains("Saved."), "{out}");
    assert_eq!(std::fs::read(&path).unwrap(), before);
    // sent back, answered and signed again it is a signature like any other
    let again = shelf.sign(&path, "fitter-a", asfound::domain::checklist::Signing::Decisions).number;
    let (_, out) = said(&shelf, &["review", file, "--plain", "--as", "supervisor-b"], "countersign\nyes\n");
    assert!(again > sign && out.contains("Saved."), "{out}");
}

/// Whoever orders by the list alone must know that a part may be missing from it.
#[test]
fn a_list_of_parts_to_order_or_to_refer_says_that_the_record_was_changed_outside() {
    let (shelf, path) = Shelf::signed();
    let file = path.to_str().unwrap();
    let json = |verb: &str| -> serde_json::Value {
        serde_json::from_str(&said(&shelf, &[verb, file, "--json"], "").1).unwrap()
    };
    for verb in ["spares", "refer", "show"] {
        let told = json(verb);
        let changed = told.get("changed_outside").or(told.get("changed outside")).unwrap();
        assert_eq!((changed, &told["warnings"]), (&serde_json::json!(false), &serde_json::json!([])), "{verb}");
    }
    let entry = one_digit_changed(&path);
    for seen in [false, true] {
        let words = if seen {
            shelf.add(&path, "fitter-a", Act::seen(entry, "the stick was in another hand".into()));
            format!("changed outside from entry {entry} on, seen by fitter A")
        } else {
            format!("CHANGED OUTSIDE from entry {entry} on, and nobody has said so under a name.")
        };
        for verb in ["spares", "refer", "show"] {
            let (code, out) = said(&shelf, &[verb, file], "");
            let place = out.find(&words).or_else(|| out.find("! CHANGED OUTSIDE"));
            assert!(code == 0 && place.is_some_and(|place| place < 400), "{verb}: {out}");
            let told = json(verb);
            let changed = told.get("changed_outside").or(told.get("changed outside")).unwrap();
            assert!(changed == true && told["warnings"][0].as_str().unwrap().starts_with(&words), "{verb}: {told}");
        }
    }
}

#[test]
fn line_ends_that_were_turned_shake_no_signature() {
    let (shelf, path) = Shelf::signed();
    let text = std::fs::read_to_string(&path).unwrap();
    std::fs::write(&path, text.replace('\n', "\r\n")).unwrap();
    let file = path.to_str().unwrap();
    let (_, out) = said(&shelf, &["review", file, "--plain"], "");
    assert!(out.contains("! CHANGED OUTSIDE in its line ends, and nobody has said so"), "{out}");
    let (_, out) = said(&shelf, &["report", file], "");
    assert!(out.contains("CHANGED OUTSIDE in its line ends"), "{out}");
    shelf.add(&path, "fitter-a", Act::seen(0, "by mail".into()));
    let (_, out) = said(&shelf, &["review", file, "--plain", "--as", "supervisor-b"], "countersign\nyes\n");
    assert!(out.contains("! line ends turned outside, seen by fitter A") && out.contains("Saved."), "{out}");
}

#[test]
fn an_end_that_is_missing_is_said_by_everything_that_reads_the_record() {
    let (shelf, path) = Shelf::signed();
    let text = std::fs::read_to_string(&path).unwrap();
    let sign = sign_of(&shelf.open(&path)).unwrap().0;
    let cut = text.find(&format!("\n- entry: {}\n", sign - 2)).unwrap() + 1;
    std::fs::write(&path, &text[..cut]).unwrap();
    let file = path.to_str().unwrap();
    let gone = format!("Entry {} was saved here once and is missing now", sign - 2);
    for verb in [vec!["review", file, "--plain"], vec!["report", file], vec!["show", file], vec!["review", "--plain"]] {
        let (_, out) = said(&shelf, &verb, "");
        assert!(out.contains(&gone), "{verb:?}: {out}");
    }
    let (code, out) = said(&shelf, &["check"], "");
    assert!(code == 3 && out.contains(&format!("entry {}, which was saved here once", sign - 2)), "{out}");
    let whole = Shelf::empty();
    let other = whole.root().join("record.yaml");
    copy(&path, &other);
    let (_, out) = said(&whole, &["report", other.to_str().unwrap()], "");
    assert!(!out.contains("was saved here once"), "nothing names the end elsewhere: {out}");
}

fn crack(shelf: &Shelf, path: &Path) {
    let opened = shelf.open(path);
    let checklist = &opened.inspection.head().checklist;
    let part = checklist.part("nozzle").unwrap();
    let kind = part.findings.iter().find(|kind| kind.crack).unwrap();
    let finding = FindingMade {
        part: "nozzle".into(),
        step: checklist.steps.iter().find(|step| step.part == "nozzle" && step.id.contains("look")).unwrap().id.clone(),
        kind: kind.kind.clone(),
        grade: kind.grades.last().unwrap().grade.clone(),
        note: Some("along the whole edge, no vane can be told from the next".to_owned()),
        ..FindingMade::default()
    };
    shelf.add(path, "fitter-a", Act::Finding(finding));
}

#[test]
fn what_came_after_the_signature_and_changes_it_is_said_on_page_one_and_on_paper() {
    let (shelf, path) = Shelf::signed();
    let sign = sign_of(&shelf.open(&path)).unwrap().0;
    let file = path.to_str().unwrap();
    let not_as_signed = format!("not as entry {sign} signed it");
    let (_, out) = said(&shelf, &["review", file, "--plain"], "");
    assert!(!out.contains(&not_as_signed), "{out}");
    crack(&shelf, &path);
    let opened = shelf.open(&path);
    let short = Standing::of(&opened.inspection).part("nozzle").unwrap().short.clone();
    for verb in [vec!["review", file, "--plain"], vec!["report", file]] {
        let (_, out) = said(&shelf, &verb, "");
        assert!(out.contains(&format!("{not_as_signed}, entries came after: {short}: signed as ")), "{verb:?}: {out}");
    }
    let (_, out) = said(&shelf, &["show", file], "");
    assert!(out.contains(&format!("! {short}: signed as ")) && out.contains("CHANGED SINCE IT WAS SIGNED"), "{out}");
    let (_, out) = said(&shelf, &["review", file, "--plain", "--as", "supervisor-b"], "leave\n");
    assert!(out.contains(&format!("! since then: {short}: signed as ")), "{out}");
}

#[test]
fn a_part_that_somebody_overruled_has_its_line_on_page_one() {
    let (shelf, path) = Shelf::signed();
    let review = |shelf: &Shelf| {
        let opened = shelf.open(&path);
        Review::of(&opened.inspection, &Standing::of(&opened.inspection), &reading::kept(&shelf.store, &path, &opened))
    };
    let watched = review(&shelf);
    let line = watched.lines.iter().find(|line| line.disposition == Disposition::Watch && line.holds.is_empty());
    let part = line.expect("the demonstration has a part to watch that nothing holds").part.clone();
    let reason = "seen from all sides".to_owned();
    let to = Disposition::Reuse;
    shelf.add(&path, "supervisor-b", Act::Overrule { part: part.clone(), to, supervisor: id("supervisor-b"), reason });
    let review = review(&shelf);
    let line = review.lines.iter().find(|line| line.part == part).expect("an overruled part is never merely within");
    assert_eq!(line.headline, ('~', "overruled"));
    assert_eq!(line.made_so[0], "reuse, overruled; watch by the rules");
    assert!(line.made_so[1].starts_with("overruled to reuse by supervisor B"), "{:?}", line.made_so);
    assert!(!review.within.contains(&line.short), "{:?}", review.within);
}

#[test]
fn what_the_key_of_a_signature_is_worth_is_said_beside_it() {
    let (shelf, path) = Shelf::signed();
    let sign = sign_of(&shelf.open(&path)).unwrap().0;
    let file = path.to_str().unwrap();
    for (verb, words) in [
        (vec!["review", file, "--plain"], "not signed by key"),
        (vec!["show", file], "not signed by key, countersign pending ashore"),
        (vec!["report", file], "not signed by key"),
    ] {
        let (_, out) = said(&shelf, &verb, "");
        assert!(out.contains(words), "{verb:?}: {out}");
        assert!(!out.contains("by key too"), "{verb:?}: {out}");
    }
    std::fs::write(shelf.store.signature_path(&path, sign), b"a signature").unwrap();
    for verb in [vec!["review", file, "--plain"], vec!["show", file], vec!["report", file]] {
        let (_, out) = said(&shelf, &verb, "");
        assert!(out.contains("X its signature by key is not of this entry"), "{verb:?}: {out}");
    }
}

/// A remark at a step that was done long ago, sent back by the supervisor.
fn sent_back() -> (Shelf, PathBuf, String) {
    let (shelf, path) = Shelf::signed();
    let (sign, chain) = sign_of(&shelf.open(&path)).unwrap();
    let step = "rotor/radial-float.cs".to_owned();
    let remark = |step: Option<&str>, text: &str| Remark { step: step.map(str::to_owned), text: text.into() };
    let remarks = vec![remark(Some(&step), "which side was loaded?"), remark(None, "why not later?")];
    shelf.add(&path, "supervisor-b", Act::Return { sign, chain, remarks });
    (shelf, path, step)
}

#[test]
fn a_returned_record_leads_to_its_remark_and_takes_the_answer_there() {
    let (shelf, path, step) = sent_back();
    // left at another step
    let draft = Draft { step: "job/spares".into(), ..Draft::default() };
    shelf.store.keep_draft(&path, &draft).unwrap();
    let file = path.to_str().unwrap();
    let (_, out) = said(&shelf, &["resume", file, "--plain"], "the turbine side\n! leave\n");
    assert!(out.contains("! came back from supervisor B: 2 remarks to answer"), "{out}");
    assert!(out.contains("! What is typed is entered as fitter A. Somebody else? --by ID"), "{out}");
    assert!(out.contains("!   why not later?"), "a remark at no step is told too: {out}");
    assert!(out.contains("! sent back by supervisor B: which side was loaded?"), "{out}");
    assert!(out.contains("which side was loaded? Your answer"), "{out}");
    let opened = shelf.open(&path);
    let last = opened.inspection.entries().last().unwrap();
    assert!(matches!(&last.act, Act::RemarkAnswered { remark: 1, text, .. } if text == "the turbine side"), "{last:?}");
    assert!(signing::remarks_at(&opened.inspection, &step).is_empty());
}

#[test]
fn all_steps_mark_what_was_sent_back_and_go_there() {
    let (shelf, path, step) = sent_back();
    let file = path.to_str().unwrap();
    let number = {
        let opened = shelf.open(&path);
        progress::position(&opened.inspection, &step).0
    };
    let (_, out) = said(&shelf, &["resume", file, "--plain"], &format!("!\n6\n{number}\nthe turbine side\n! leave\n"));
    assert!(out.contains(&format!("{number} {step}, SENT BACK, done")), "{out}");
    assert!(!out.contains("Strike its entry first"), "{out}");
    let last = shelf.open(&path).inspection.entries().last().unwrap().clone();
    assert!(matches!(last.act, Act::RemarkAnswered { .. }), "{last:?}");
    let (_, out) = said(&shelf, &["review", file, "--plain"], "");
    assert!(out.contains("1 remark waits for the fitter's answer: why not later?"), "{out}");
}

#[test]
fn a_concession_says_back_its_line_and_is_taken_only_where_something_asks_for_one() {
    let (shelf, path) = Shelf::signed();
    let file = path.to_str().unwrap();
    let before = std::fs::read(&path).unwrap();
    let (_, out) = said(&shelf, &["review", file, "--plain"], "");
    let number = |words: &str| {
        let line = out.lines().find(|line| line.contains(words)).unwrap_or_else(|| panic!("no {words}: {out}"));
        line.split(' ').next().unwrap().to_owned()
    };
    let (within, dent) = (number(" + ovality, turbine side: "), number(" > blade by blade, back face"));
    let review = |typed: &str| said(&shelf, &["review", file, "--plain", "--as", "supervisor-b"], typed).1;
    let said = review(&format!("concession\n{within}\nleave\n"));
    assert!(said.contains(&format!("Not taken: `{within}`. A concession can be about: ")), "{said}");
    assert!(said.contains(&format!("{dent} blade by blade")), "{said}");
    assert_eq!(std::fs::read(&path).unwrap(), before);
    let answers = "the maker (invented)\nletter 7\nmeasure at 500 h\nthe next opening\nwatch\nyes\n";
    let said = review(&format!("concession\n{dent}\n{answers}"));
    assert!(said.contains("At: Compressor impeller, blade by blade") && said.contains("Saved."), "{said}");
    // yesterday's number still is that line
    let (_, later) = self::said(&shelf, &["review", file, "--plain"], "");
    let same = |text: &str| text.lines().find(|line| line.starts_with(&format!("{dent} "))).unwrap().to_owned();
    assert_eq!(same(&later), same(&out));
}

#[test]
fn a_record_cut_inside_an_entry_is_read_as_far_as_it_goes_and_never_written() {
    let (shelf, path) = Shelf::signed();
    let text = std::fs::read_to_string(&path).unwrap();
    let sign = sign_of(&shelf.open(&path)).unwrap().0;
    let begins = |number: u32| text.find(&format!("\n- entry: {number}\n")).unwrap() + 1;
    // inside a quoted text, and a line that no reader takes
    let quoted = begins(60) + text[begins(60)..].find(": \"").unwrap() + 4;
    let broken = format!("{}x: [\n{}", &text[..begins(sign - 3)], &text[begins(sign - 3)..]);
    for (spoilt, entry) in [(text[..quoted].to_owned(), 60), (broken, sign - 4)] {
        std::fs::write(&path, &spoilt).unwrap();
        let file = path.to_str().unwrap();
        for verb in [vec!["review", file, "--plain"], vec!["report", file], vec!["show", file]] {
            let (code, out) = said(&shelf, &verb, "");
            assert!(
                code == 0 && out.contains(&format!("! NOT WHOLE: it cannot be read from entry {entry} on")),
                "{out}"
            );
        }
        let (_, out) = said(&shelf, &["show", file], "");
        assert!(out.contains(&format!("{:4} ", entry - 1)) && !out.contains(&format!("\n{entry:4} ")), "{out}");
        let (code, out) = said(&shelf, &["verify", file], "");
        let count = entry - 1;
        let words = format!("X It cannot be read from entry {entry} on; the {count} entries before it were read.");
        assert!(code == 3 && out.contains(&words) && !out.contains("Close the quotes"), "{out}");
        let (code, out) = said(&shelf, &["check", file], "");
        assert!(code == 3 && out.contains("in 1 record,") && out.contains(", at entry "), "{out}");
        for verb in [vec!["resume", file, "--plain"], vec!["bring", file]] {
            let (code, out) = said(&shelf, &verb, "");
            assert!(code == 1 && out.contains(", at entry "), "{verb:?}: {out}");
            assert!(out.contains("never mended with an editor"), "{verb:?}: {out}");
        }
        let by = ["review", file, "--plain", "--as", "supervisor-b"];
        let (_, out) = said(&shelf, &by, "countersign\nyes\nconcession\n");
        assert!(!out.contains("Saved."), "{out}");
        assert_eq!(std::fs::read_to_string(&path).unwrap(), spoilt);
    }
}

#[test]
fn whoever_worked_last_goes_on_and_is_named_and_a_named_hand_stays() {
    let (shelf, path) = Shelf::signed();
    let file = path.to_str().unwrap();
    let goes_on = |words: &[&str]| {
        said(&shelf, &[&["resume", file, "--plain"], words].concat(), "yes\nyes\nyes\nyes\n! leave\n").1
    };
    let as_a = "What is typed is entered as fitter A.";
    let as_c = "What is typed is entered as fitter C.";
    assert!(goes_on(&[]).contains(as_a));
    assert!(!goes_on(&["--by", "fitter-c"]).contains("What is typed is entered as"), "it was said on the command line");
    assert!(goes_on(&[]).contains(as_c), "the second fitter goes on as he left");
    assert!(!goes_on(&["--by", "fitter-a"]).contains(as_c) && goes_on(&[]).contains(as_a));
}

#[test]
fn what_came_after_a_signature_is_signed_again_line_by_line() {
    let (shelf, path) = Shelf::signed();
    let file = path.to_str().unwrap();
    let number = progress::position(&shelf.open(&path).inspection, "job/decisions").0;
    crack(&shelf, &path);
    let short = Standing::of(&shelf.open(&path).inspection).part("nozzle").unwrap().short.clone();
    // a night has passed: each safety step is asked first
    let lines = format!("! 6\n{number}\nyes\nyes\nyes\nyes\nsign\n! leave\n");
    let (_, out) = said(&shelf, &["resume", file, "--plain"], &lines);
    assert!(out.contains("and entries came after it."), "{out}");
    assert!(out.contains(&format!("! {short}: signed as ")), "what changed is named before it is signed again: {out}");
    let opened = shelf.open(&path);
    assert!(matches!(opened.inspection.entries().last().unwrap().act, Act::Sign(_)), "{out}");
}
