//! What is read off the records: due, trend and the papers, from outside on the demonstration's three inspections.

use std::path::{Path, PathBuf};
use std::sync::OnceLock;

use assert_cmd::Command;
use serde_json::Value;
use tempfile::TempDir;

pub(super) fn asfound(folder: &Path, words: &[&str]) -> (i32, String, String) {
    let mut command = Command::cargo_bin("asfound").unwrap();
    let output = command.arg("--data").arg(folder).args(words).output().unwrap();
    let text = |bytes: &[u8]| String::from_utf8(bytes.to_vec()).unwrap();
    (output.status.code().unwrap(), text(&output.stdout), text(&output.stderr))
}

/// The demonstration's folder with its third inspection filled in, made once.
fn demo() -> PathBuf {
    static MADE: OnceLock<TempDir> = OnceLock::new();
    let made = MADE.get_or_init(|| {
        let folder = TempDir::new().unwrap();
        let (code, _, err) = asfound(folder.path(), &["demo", "--typed"]);
        assert_eq!(code, 0, "{err}");
        folder
    });
    made.path().join("demo")
}

fn json(folder: &Path, words: &[&str]) -> Value {
    let (code, out, err) = asfound(folder, words);
    assert_eq!(code, 0, "{err}");
    serde_json::from_str(&out).unwrap()
}

#[test]
fn what_is_due_comes_with_its_reason_and_the_demonstration_stays_out() {
    let told = json(&demo(), &["due", "--json"]);
    let due = told["due"].as_array().unwrap();
    let planned = due.iter().find(|one| one["what"] == "next opening").unwrap();
    assert_eq!((planned["rotor"].as_str(), planned["because"].as_str()), (Some("DEMO-1"), Some("as planned")));
    let days: Vec<_> = due.iter().map(|one| one["day"].as_str().unwrap().to_owned()).collect();
    assert!(days.is_sorted(), "{days:?}");
    // the demonstration's bush is replaced: what it would have worn does not come due
    assert!(!due.iter().any(|one| one["what"].as_str().unwrap().contains("Bush, turbine side")), "{due:#?}");
    let (code, out, _) = asfound(&demo(), &["due"]);
    assert!(code == 0 && out.contains("DEMO-1  next opening: as planned, by hours, at "), "{out}");
    let above = demo().parent().unwrap().to_owned();
    let (code, out, _) = asfound(&above, &["due"]);
    assert_eq!((code, out.as_str()), (0, "Nothing is planned on any rotor.\n"));
}

#[test]
fn a_trend_runs_on_the_parts_own_hours_to_the_next_opening() {
    let told = json(&demo(), &["trend", "DEMO-1", "bush.ts.clearance", "--json"]);
    let trend = &told["trends"][0];
    let openings = trend["openings"].as_array().unwrap();
    // DEMO.md: fitted new at the first opening, read at the second and now
    assert_eq!(openings.len(), 3, "{trend:#}");
    assert_eq!((openings[0]["hours"].as_str(), openings[0]["as_left"].as_bool()), (Some("0"), Some(true)));
    assert_eq!((openings[2]["value"].as_str(), trend["forecast"]["limit"].as_str()), (Some("0.214"), Some("0.22")));
    assert_eq!(trend["forecast"]["leads_to"], "replace");
    let (code, out, _) = asfound(&demo(), &["trend", "DEMO-1", "bush.ts.clearance"]);
    assert!(code == 0 && out.contains("hours left: by the line") && out.contains("lift/1"), "{out}");
    assert!(!out.contains("= limit\n   *") && !out.contains('\u{1b}'), "a pipe gets no drawing: {out}");
    let (code, _, err) = asfound(&demo(), &["trend", "DEMO-1", "bush.ts.clearence"]);
    assert!(code == 2 && err.contains("Did you mean `bush.ts.clearance`?"), "{err}");
    let (code, _, err) = asfound(&demo(), &["trend", "DEMO-9"]);
    assert!(code == 1 && err.contains("there is no record `DEMO-9`"), "{err}");
}
