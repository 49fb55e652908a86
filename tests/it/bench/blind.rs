//! A sheet typed a second time, blind: whose entry it is, the way out of it, and what becomes of one that counts no more.

use std::path::Path;

use tempfile::TempDir;

use super::Bench;
use super::forms::{lines, register};
use crate::plain::verbs::asfound;

fn read(folder: &TempDir, name: &str) -> String {
    std::fs::read_to_string(folder.path().join(name)).unwrap_or_default()
}

/// Every draft of a sheet, and its text.
fn drafts(folder: &TempDir) -> Vec<(String, String)> {
    let files = std::fs::read_dir(folder.path().join("drafts/sheets")).unwrap().map(|file| file.unwrap().path());
    let yaml = files.filter(|file| file.extension().is_some_and(|ending| ending == "yaml"));
    let name = |file: &Path| file.file_name().unwrap().to_string_lossy().into_owned();
    let mut all: Vec<_> = yaml.map(|file| (name(&file), std::fs::read_to_string(&file).unwrap())).collect();
    all.sort();
    all
}

/// Three people, and a sheet with one level that aa has entered.
fn entered_by_aa() -> TempDir {
    let folder = TempDir::new().unwrap();
    drop(lines(register(&folder, "1").keys("1"), "aa\nA\nfi\n\nbb\nB\nfi\n\ncc\nC\nfi\n"));
    let bench = lines(register(&folder, "3").keys("1"), "T-1\nmaker\nT-1 manual\n1\n\naa").keys("down down enter");
    drop(lines(bench, ".3...5\n4").expect("saved, in use"));
    folder
}

/// The second entry of bb or of another, one new range typed, and left.
fn again(folder: &TempDir, who: &str, range: &str) -> Bench {
    let bench = register(folder, "3").keys("2").expect("who types it the second time?");
    let bench = bench.keys(who).expect("second entry, blind").expect_not("0.5 mm").keys("down down enter");
    lines(bench.expect_not("0.5 mm"), &format!("{range}\n4"))
}

#[test]
fn a_second_entry_is_gone_on_with_by_who_began_it_and_nobody_else() {
    let folder = entered_by_aa();
    drop(again(&folder, "2", ".3...5"));
    let bench = register(&folder, "3").expect("begun by bb").keys("2").expect("B: goes on with what is begun");
    drop(bench.keys("1").expect("Somebody else types it again"));
    let (code, _, err) = asfound(folder.path(), &["fill", "sheets", "T-1", "--second", "aa"], "!\n");
    assert!(code == 1 && err.contains("aa typed it, or some of it, the first time"), "{err}");
    // another one has one of his own
    drop(again(&folder, "3", ".3...4"));
    let kept = drafts(&folder);
    let [(of_bb, bb), (of_cc, cc)] = kept.as_slice() else { panic!("{kept:?}") };
    assert_eq!([of_bb.as_str(), of_cc.as_str()], ["second-T-1 by bb.yaml", "second-T-1 by cc.yaml"]);
    assert!(bb.contains("0.5 mm") && cc.contains("0.4 mm"), "{kept:?}");
    drop(Bench::over(folder.path()).expect("limits sheet T-1, second entry by bb"));
    // as it was kept before each had his own
    let [drafts, old] = ["drafts/sheets/second-T-1 by bb.yaml", "drafts/sheets/second-T-1.yaml"];
    std::fs::rename(folder.path().join(drafts), folder.path().join(old)).unwrap();
    let bench = register(&folder, "3").expect("begun by bb, cc").keys("2 2").expect("second entry, blind");
    drop(bench.keys("esc").expect("Both entries agree"));
    assert!(read(&folder, "sheets/T-1.yaml").contains("entered by: [aa, bb]"));
    assert_eq!(read(&folder, old), "");
}

/// Whoever typed it all a second time and then mends the first one is no second person: what he had typed is not lost.
#[test]
fn a_second_entry_that_counts_no_more_is_put_aside_and_said() {
    let folder = entered_by_aa();
    // out of it by Esc alone, all kept
    let bench = again(&folder, "2", ".3...6").keys("esc esc").expect("the two entries differ");
    let bench = bench.expect("Esc leaves, all is kept").keys("esc").expect("begun by bb");
    let bench = lines(bench.keys("1 down down down down down down down down enter"), ".3...6");
    let bench = bench.expect("who types this?").keys("2").keys("esc esc").expect_not("begun by").keys("2 2");
    let bench = bench.expect("bb typed it, or some of it, the first time").expect("it is kept under drafts");
    let bench = bench.keys("3").expect("the second entry of bb counts no more").keys("down down enter");
    drop(lines(bench, ".3...6"));
    let kept = drafts(&folder);
    let [(aside, bb), (of_cc, _)] = kept.as_slice() else { panic!("{kept:?}") };
    assert!(aside.starts_with("second-T-1 by bb.older-") && bb.contains("0.6 mm"), "{kept:?}");
    assert_eq!(of_cc, "second-T-1 by cc.yaml");
}

/// What is half typed stays with its row, or is not there: a row that came since is not taken out by it.
#[test]
fn a_half_typed_text_is_not_laid_onto_another_row() {
    let folder = entered_by_aa();
    drop(register(&folder, "1").keys("1").keys("down down down").typed("-"));
    drop(register(&folder, "1").keys("1").expect("[ -_"));
    let more = format!("{}- {{id: dd, name: D, roles: [fitter]}}\n", read(&folder, "people.yaml"));
    std::fs::write(folder.path().join("people.yaml"), more).unwrap();
    drop(register(&folder, "1").keys("1").expect("dd").expect_not("Enter takes out"));
    // the row itself went further down
    drop(register(&folder, "1").keys("1").keys("delete up up").typed("-").expect("Enter takes out: cc"));
    let text = read(&folder, "people.yaml");
    let first = text.find("- ").unwrap();
    let more = format!("{}- {{id: ee, name: E, roles: [fitter]}}\n{}", &text[..first], &text[first..]);
    std::fs::write(folder.path().join("people.yaml"), more).unwrap();
    register(&folder, "1").keys("1").expect("Enter takes out: cc");
}
