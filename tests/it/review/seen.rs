//! A record that was changed outside is written to only once somebody has said, by name, that this was seen: from the review
//! too, and anew for each change.

use std::path::{Path, PathBuf};

use asfound::domain::checklist::Signing;
use asfound::domain::entry::Act;
use asfound::records::inspection_file::Trust;
use asfound::records::verify::verify;

use super::shelf::Shelf;
use crate::bench::Bench;
use crate::plain::verbs::asfound;
use crate::rig::Rig;

/// A folder with a small signed record whose line ends an editor has turned.
fn turned() -> (Shelf, PathBuf) {
    let shelf = Shelf::empty();
    let path = shelf.keep(&Rig::open().inspection, "2031-04-17-small");
    shelf.sign(&path, "fitter-a", Signing::Decisions);
    let text = std::fs::read_to_string(&path).unwrap();
    std::fs::write(&path, text.replace('\n', "\r\n")).unwrap();
    (shelf, path)
}

fn reviewed(shelf: &Shelf, path: &Path, by: &str, answers: &str) -> String {
    asfound(shelf.root(), &["review", path.to_str().unwrap(), "--plain", "--as", by], answers).1
}

#[test]
fn line_by_line_nothing_is_asked_before_the_change_was_seen_and_then_it_is_countersigned() {
    let (shelf, path) = turned();
    let before = std::fs::read(&path).unwrap();
    let out = reviewed(&shelf, &path, "supervisor-b", "came by mail\ncountersign\nyes\nleave\n");
    assert!(
        out.contains("Changed outside in its line ends") && out.contains("Not taken: `yes`. seen, or leave."),
        "{out}"
    );
    assert_eq!(std::fs::read(&path).unwrap(), before);
    let file = path.to_str().unwrap();
    let (code, ..) =
        asfound(shelf.root(), &["review", file, "--plain", "--as", "supervisor-b"], "countersign\nleave\n");
    assert_eq!(code, 1, "what was asked for is not done");
    let out = reviewed(&shelf, &path, "supervisor-b", "seen\ncame by mail, ends only\nyes\ncountersign\nyes\n");
    assert_eq!(out.matches("Saved.").count(), 2, "{out}");
    let opened = shelf.open(&path);
    let [.., seen, last] = opened.inspection.entries() else { panic!() };
    assert!(matches!(&seen.act, Act::SeenOutside { from: None, note, .. } if note == "came by mail, ends only"));
    assert!(matches!(last.act, Act::Countersign { .. }));
    assert_eq!((seen.by.as_str(), last.by.as_str()), ("supervisor-b", "supervisor-b"));
    assert!(std::fs::read(&path).unwrap().starts_with(&before), "old bytes stand");
}

#[test]
fn somebody_whom_nobody_here_knows_sees_it_under_the_own_name() {
    let (shelf, path) = turned();
    let out = reviewed(&shelf, &path, "night-shift", "seen\nturned by an editor\n\nN. Shift\nyes\nleave\n");
    assert!(out.contains("`night-shift` is not known here") && out.contains("Saved."), "{out}");
    let opened = shelf.open(&path);
    let [.., person, seen] = opened.inspection.entries() else { panic!() };
    assert!(matches!(&person.act, Act::Person(one) if one.name == "N. Shift" && one.id.as_str() == "night-shift"));
    assert!(matches!(seen.act, Act::SeenOutside { .. }) && seen.by.as_str() == "night-shift");
}

#[test]
fn on_the_screen_too_and_everything_else_waits_for_it() {
    let (shelf, path) = turned();
    let before = std::fs::read(&path).unwrap();
    let bench = Bench::reviewing(shelf.root()).keys("1 esc").expect("changed outside: say first that it was seen");
    let bench = bench.keys("1").expect("Not now");
    assert_eq!(std::fs::read(&path).unwrap(), before);
    let bench = bench.keys("0").expect("it was changed outside").typed("came by mail").keys("enter");
    let bench = bench.typed("Mate Two").keys("enter").expect("Mate Two is not known here and is entered as a fitter");
    drop(bench.keys("enter"));
    let opened = shelf.open(&path);
    assert_eq!(opened.trust, Trust::Seen { entry: 0 });
    assert_eq!(opened.inspection.entries().last().unwrap().by.as_str(), "mate-two");
    drop(Bench::reviewing(shelf.root()).keys("1 esc").expect_not("say first").keys("1").expect("who does it"));
}

#[test]
fn a_later_change_is_not_covered_by_what_was_seen_before() {
    let (shelf, path) = turned();
    shelf.add(&path, "fitter-a", Act::seen(0, "came by mail".into()));
    shelf.add(&path, "fitter-a", Act::Note { step: None, text: "went on".into() });
    assert_eq!(shelf.open(&path).trust, Trust::Seen { entry: 0 });
    let text = std::fs::read_to_string(&path).unwrap();
    let entry = text.find("\r\n  at: ").unwrap();
    let spoilt = format!("{}{}", &text[..entry], text[entry..].replacen(":00+02:00", ":01+02:00", 1));
    std::fs::write(&path, spoilt).unwrap();
    assert!(matches!(shelf.open(&path).trust, Trust::Changed { .. }));
    let note = Act::Note { step: None, text: "again".into() };
    assert!(shelf.try_add(&path, "fitter-a", note.clone()).unwrap_err().contains("was changed outside"));
    shelf.add(&path, "fitter-a", Act::seen(1, "an editor".into()));
    shelf.add(&path, "fitter-a", note);
    assert!(matches!(shelf.open(&path).trust, Trust::Seen { .. }));
    assert!(!verify(&shelf.store, &[path])[0].is_fine());
}

#[test]
fn an_older_seen_entry_that_does_not_say_what_the_file_was_like_still_covers_it() {
    let (shelf, path) = turned();
    shelf.add(&path, "fitter-a", Act::seen(0, "came by mail".into()));
    let text = std::fs::read_to_string(&path).unwrap();
    assert!(text.contains("\n  length: ") && text.contains("\n  sha256: "), "what was seen is stated");
    let head = text.rfind("- entry: ").unwrap();
    let before = shelf.open(&path).chains.iter().rev().nth(1).unwrap().clone();
    let cut = |line: &&str| {
        !line.starts_with("  length: ") && !line.starts_with("  sha256: ") && !line.starts_with("  chain: ")
    };
    let entry: String = text[head..].split_inclusive('\n').filter(cut).collect();
    let chain = asfound::records::seal::chain_after(&before, entry.as_bytes());
    std::fs::write(&path, format!("{}{entry}  chain: \"{chain}\"\n", &text[..head])).unwrap();
    std::fs::remove_file(path.with_extension("").join("last.yaml")).unwrap();
    assert_eq!(shelf.open(&path).trust, Trust::Seen { entry: 0 });
}

#[test]
fn a_signature_given_after_a_change_was_seen_is_verified_like_any_other() {
    let (shelf, path) = turned();
    let told = |shelf: &Shelf| verify(&shelf.store, std::slice::from_ref(&path)).remove(0);
    let sealed = |shelf: &Shelf| -> Vec<String> {
        let right = |line: &&str| line.contains(" of all before it are right");
        told(shelf).holds().into_iter().filter(right).map(str::to_owned).collect()
    };
    assert_eq!(sealed(&shelf), [] as [&str; 0]);
    let seen = shelf.add(&path, "fitter-a", Act::seen(0, "by mail".into())).number;
    assert_eq!(sealed(&shelf), [] as [&str; 0], "it was given before that");
    shelf.add(&path, "fitter-a", Act::Note { step: None, text: "gone on".into() });
    let sign = shelf.sign(&path, "fitter-a", Signing::Decisions).number;
    let [line] = sealed(&shelf).try_into().unwrap();
    let ends = format!("are right, changed outside as it was and seen in entry {seen}.");
    assert!(line.starts_with(&format!("Entry {sign}, decisions signed by fitter-a: length ")), "{line}");
    assert!(line.ends_with(&ends), "{line}");
    // what is changed since nobody has seen
    let text = std::fs::read_to_string(&path).unwrap();
    std::fs::write(&path, text.replacen("typed: \"0.020\"", "typed: \"0.030\"", 1)).unwrap();
    assert!(std::fs::read_to_string(&path).unwrap() != text);
    assert_eq!(sealed(&shelf), [] as [&str; 0]);
}

/// A later format is no excuse for bytes that do not hold: nothing good is read off them.
#[test]
fn one_digit_in_the_format_switches_no_check_off() {
    let (shelf, path) = Shelf::signed();
    let text = std::fs::read_to_string(&path).unwrap();
    let changed = text.replacen("\nformat: 1\n", "\nformat: 2\n", 1).replacen("0.210", "0.211", 1);
    assert_eq!(changed.matches("format: 2").count(), 1);
    std::fs::write(&path, changed).unwrap();
    let verified = verify(&shelf.store, std::slice::from_ref(&path)).remove(0);
    assert!(verified.faults().contains(&"The head or entry 1 was changed."), "{:?}", verified.told);
    assert!(!verified.holds().iter().any(|what| what.contains("are right")), "{:?}", verified.holds());
    let review = asfound::face::shelf::reading::read(&shelf.store, &path).unwrap().review;
    assert!(review.warnings.iter().any(|what| what.contains("CHANGED OUTSIDE, or reckoned otherwise")), "{review:?}");
    let send_back = |what: &String| what.contains("send back the decisions") && what.contains("was changed outside");
    assert!(review.decide.iter().any(send_back), "{:?}", review.decide);
    let (code, out, _) = asfound(shelf.root(), &["check"], "");
    assert!(code != 0 && out.contains("found a head or an entry 1 that was changed"), "{out}");
    let (_, out, _) = asfound(shelf.root(), &["show", path.to_str().unwrap()], "");
    assert!(out.contains("! CHANGED OUTSIDE: The head or entry 1 was changed."), "{out}");
}
