//! Levels of a sheet that nobody could live with: consequences that never end, alerts that no gauge tells from their limit. The
//! sheet and the gauges are the invented demonstration's.

use tempfile::TempDir;

use super::own::asfound;

/// What is said of the demonstration's sheet with one text of one line put for another.
fn said(characteristic: &str, old: &str, new: &str) -> String {
    let folder = TempDir::new().unwrap();
    let demo = format!("{}/assets/demo", env!("CARGO_MANIFEST_DIR"));
    for name in ["sheets/INV-420.yaml", "instruments/D2.yaml", "instruments/D3.yaml"] {
        let to = folder.path().join(name);
        std::fs::create_dir_all(to.parent().unwrap()).unwrap();
        let from = name.strip_prefix("sheets/").unwrap_or(name);
        std::fs::copy(format!("{demo}/{from}"), to).unwrap();
    }
    let sheet = folder.path().join("sheets/INV-420.yaml");
    let text = std::fs::read_to_string(&sheet).unwrap();
    let (before, behind) = text.split_once(&format!("- characteristic: {characteristic}\n")).unwrap();
    assert!(old.is_empty() || behind.contains(old), "{behind}");
    let behind = behind.replacen(old, new, 1);
    std::fs::write(&sheet, format!("{before}- characteristic: {characteristic}\n{behind}")).unwrap();
    let (code, out, err) = asfound(folder.path(), &["check"]);
    assert_eq!(code, 0, "{out}{err}");
    out
}

#[test]
fn a_consequence_that_nobody_could_see_to_is_remarked() {
    let out = said("balance.ts", "", "");
    assert!(!out.contains("would never be done") && !out.contains("it is no piece"), "{out}");
    let out = said("balance.ts", "leads to: rework", "leads to: replace");
    let line = "Balance, a level of residual unbalance, turbine side (balance.ts) leads to replace. In `overhaul`, `bearing` it is no piece";
    assert!(out.contains(line), "{out}");
    let out = said("impeller.life", "leads to: replace", "leads to: rework");
    let line =
        "Compressor impeller, a level of hours since new (impeller.life) leads to rework. In `cleaning` no step there";
    assert!(out.contains(line), "{out}");
}

#[test]
fn the_guard_that_an_alert_is_held_against_is_that_of_a_gauge_which_can_show_the_figure() {
    let narrow = "nearer than the guard of any gauge here that is fit for it";
    assert!(!said("bush.ts.clearance", "", "").contains(narrow));
    let out = said("bush.ts.clearance", "at or above: 0.210 mm", "at or above: 0.2195 mm");
    let line = out.lines().find(|line| line.contains(narrow)).unwrap_or_else(|| panic!("{out}"));
    // D3 is finer, and its whole range is 0.2 mm
    assert!(line.contains("(bush.ts.clearance) lies 0.0005 mm") && line.contains(" mm with D2."), "{line}");
}

/// A limit in inches beside an alert in millimetres is as easily a figure in the wrong unit. Source: common practice.
#[test]
fn levels_in_units_that_differ_are_told() {
    let text =
        std::fs::read_to_string(format!("{}/docs/files/sheets/INV-420.yaml", env!("CARGO_MANIFEST_DIR"))).unwrap();
    let sheet = |text: &str| asfound::records::sheet_file::read_sheet("a", text.as_bytes()).unwrap();
    let mixed = |text: &str| asfound::domain::sheet::mixed(&sheet(text)).collect::<Vec<_>>();
    assert_eq!(mixed(&text), []);
    let text = text.replacen("above: 0.220 mm", "above: 0.030 in", 1);
    let found = mixed(&text);
    assert!(
        matches!(found.as_slice(), [(one, units)] if one.id() == "bush.ts.clearance" && units == "new `mm`, alert `mm`, limit `mm` and `in`"),
        "{found:?}"
    );
    let folder = TempDir::new().unwrap();
    std::fs::create_dir(folder.path().join("sheets")).unwrap();
    let file = folder.path().join("sheets/INV-420.yaml");
    std::fs::write(&file, text).unwrap();
    let report = asfound::records::check::check_files(&[file]);
    let said = "clearance (bush.ts.clearance) has its levels in several units: new `mm`, alert `mm`, limit `mm` and `in`. Look whether";
    assert!(report.remarks.iter().any(|remark| remark.contains(said)), "{:?}", report.remarks);
}

/// A clearance is bad when small as when large: with one limit the other side is green whatever is measured.
#[test]
fn a_limit_on_one_side_alone_of_what_is_bad_on_both_is_told_by_check_and_in_the_form() {
    use asfound::records::paper::{Kind, Paper, Place};
    let path = format!("{}/assets/demo/INV-420.yaml", env!("CARGO_MANIFEST_DIR"));
    let report = asfound::records::check::check_files(&[path.clone().into()]);
    let said = "has an upper limit alone: as found, nothing judges what is too small";
    let told: Vec<_> = report.remarks.iter().filter(|remark| remark.contains(said)).collect();
    assert!(matches!(told.as_slice(), [one] if one.contains("(labyrinth.clearance)")), "{told:?}");
    let text = std::fs::read_to_string(path).unwrap();
    let form = |text: &str| {
        let paper = Paper::open(Kind::Sheet, "INV-420", text).unwrap();
        paper.grid(&Place::Levels).told.iter().any(|line| line.starts_with("labyrinth.clearance: upper limit alone,"))
    };
    assert!(form(&text));
    let (before, behind) = text.split_once("- characteristic: labyrinth.clearance").unwrap();
    let behind = behind.replacen("limit: {above", "limit: {below: 0.10 mm, above", 1);
    assert!(!form(&format!("{before}- characteristic: labyrinth.clearance{behind}")));
    // whatever is said of it when new
    let (_, alone) = behind.split_once("\n  new: ").unwrap();
    let (_, alone) = alone.split_once('\n').unwrap();
    let bare = format!("{before}- characteristic: labyrinth.clearance\n{}", alone.replacen("below: 0.10 mm, ", "", 1));
    assert!(form(&bare));
    let folder = TempDir::new().unwrap();
    let file = folder.path().join("INV-420.yaml");
    std::fs::write(&file, &bare).unwrap();
    let report = asfound::records::check::check_files(&[file]);
    assert!(report.remarks.iter().any(|one| one.contains("(labyrinth.clearance)") && one.contains(said)), "{bare}");
}

/// A new part that is to be watched at once, and pages of an edition that is no longer the sheet's.
#[test]
fn a_new_range_past_the_alert_and_sources_of_another_edition_are_told_by_check() {
    let text = std::fs::read_to_string(format!("{}/assets/demo/INV-420.yaml", env!("CARGO_MANIFEST_DIR"))).unwrap();
    let folder = TempDir::new().unwrap();
    let remarks = |text: &str, words: &str| {
        let file = folder.path().join("INV-420.yaml");
        std::fs::write(&file, text).unwrap();
        let remarks = asfound::records::check::check_files(&[file]).remarks;
        remarks.into_iter().filter(|remark| remark.contains(words)).collect::<Vec<_>>()
    };
    let past = "has a new range that goes past its alert";
    assert!(remarks(&text, past).is_empty() && remarks(&text, "another edition").is_empty());
    let told = remarks(&text.replacen("at or below: 0.24 mm", "at or below: 0.29 mm", 1), past);
    assert!(matches!(told.as_slice(), [one] if one.contains("axial float (float.axial)")), "{told:?}");
    let told = remarks(&text.replacen("edition: \"3\"", "edition: \"33\"", 1), "edition 33, and ");
    assert!(matches!(told.as_slice(), [one] if one.contains(" sources name another edition of it")), "{told:?}");
}
