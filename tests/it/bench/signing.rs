//! A review signed by key on the screen, by the real `ssh-keygen`: the wrong key is refused with why and how to mend it,
//! the right one is told at once on page 1.

use std::path::{Path, PathBuf};

use asfound::domain::checklist::Signing;
use asfound::domain::person::Person;

use super::Bench;
use crate::review::keys::{key, person};
use crate::review::shelf::{Shelf, sign_of};
use crate::rig::{Rig, id};

/// A small record that fitter A has signed, that one's key in people.yaml, and another's there too: the shelf, the record,
/// the two key files.
fn keyed() -> (Shelf, PathBuf, [PathBuf; 2]) {
    let shelf = Shelf::empty();
    let path = shelf.keep(&Rig::open().inspection, "2031-04-17-small");
    shelf.sign(&path, "fitter-a", Signing::Decisions);
    let (right, rights) = key(shelf.root(), "right");
    let (wrong, wrongs) = key(shelf.root(), "wrong");
    let other = Person { id: id("fitter-c"), name: "fitter C".into(), ..person(vec![wrongs]) };
    shelf.store.save_people(&[person(vec![rights]), other]).unwrap();
    (shelf, path, [right, wrong])
}

/// The form for a key in the review of the only record that waits, signed with this file.
fn signs(bench: Bench, key: &Path) -> Bench {
    bench.keys("esc 0").paste(key.to_str().unwrap()).keys("enter")
}

#[test]
fn a_wrong_key_is_refused_on_the_screen_with_why_and_how_to_mend_it() {
    let (shelf, path, [right, wrong]) = keyed();
    let (sign, _) = sign_of(&shelf.open(&path)).unwrap();
    let before = std::fs::read(&path).unwrap();
    let bench = signs(Bench::reviewing(shelf.root()).keys("1"), &wrong);
    let bench = bench.expect("a key for what one has signed oneself").expect("who signs").keys("1 enter");
    let said = bench.screen().split_whitespace().collect::<Vec<_>>().join(" ");
    for words in [
        "fitter-c's by people.yaml, not fitter-a's. Nothing was written.",
        "Give the file of fitter-a's own key",
        "its .pub line (first screen, people).",
    ] {
        assert!(said.contains(words), "{said}");
    }
    assert!(bench.screen().lines().all(|line| line.chars().count() <= 80), "{}", bench.screen());
    let nothing = !shelf.store.signature_path(&path, sign).exists();
    assert!(nothing && std::fs::read(&path).unwrap() == before);
    // the answers are there again, and the right key is told at once
    let bench = bench.keys("esc 0").expect("/wrong").keys("delete").paste(right.to_str().unwrap());
    let bench = bench.keys("enter enter").expect("Signed by key: ");
    assert!(shelf.store.signature_path(&path, sign).exists());
    let said = bench.screen().split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(said.contains("by key too, good") && !said.contains("not signed by key"), "{said}");
    drop(bench.keys("esc").expect("nothing waits for one"));
}

/// What is signed is read page by page, no line of it passed over.
#[test]
fn a_page_key_turns_a_page_of_what_is_signed() {
    for (columns, rows) in [(80, 24), (120, 40), (60, 15)] {
        let bench = Bench::at_step("job/decisions").sized(columns, rows);
        let lines = |bench: &Bench| {
            let screen = bench.screen();
            let more = screen.lines().find(|line| line.contains(" more lines: PgDn")).unwrap().to_owned();
            let above = more.split("; ").nth(1).unwrap().split(' ').next().unwrap().parse::<usize>().unwrap();
            let more = more.trim().split(' ').next().unwrap().parse::<usize>().unwrap();
            (above, more)
        };
        let (above, first) = lines(&bench);
        assert_eq!(above, 0);
        let (above, _) = lines(&bench.keys("pagedown"));
        let visible = usize::from(rows) / 4;
        assert!(above >= visible && above <= first, "{columns}x{rows}: {above}");
    }
}
