//! Files with a slip of the hand, and figures too near to each other, read from outside.

use tempfile::TempDir;

use super::own::{asfound, root};

#[test]
fn what_the_notation_has_wrong_hides_nothing_else() {
    let folder = TempDir::new().unwrap();
    let file = folder.path().join("D2.yaml");
    let text = std::fs::read_to_string(root("docs/files/instruments/D2.yaml")).unwrap();
    let text = text.replacen("resolution:", "resolutoin:", 1).replacen("kind: dial gauge", "kind: &a dial gauge", 1);
    std::fs::write(&file, text.replacen("instrument: D2\n", "instrument: D2\ninstrument: D3\n", 1)).unwrap();
    let (code, out, _) = asfound(folder.path(), &["check", file.to_str().unwrap()]);
    let told = ["`instrument` a second time", "an anchor before this value", "`resolutoin`"];
    assert!(code == 3 && told.iter().all(|words| out.contains(words)) && out.contains(" 3 problems"), "{code}: {out}");
}

/// `24,370` typed with a mark of thousands would be a day.
#[test]
fn hours_of_a_part_with_a_mark_of_thousands_are_found() {
    let folder = TempDir::new().unwrap();
    let rotor = std::fs::read_to_string(root("docs/files/rotors/DEMO-1/rotor.yaml")).unwrap();
    let file = folder.path().join("rotors/DEMO-1/rotor.yaml");
    std::fs::create_dir_all(file.parent().unwrap()).unwrap();
    std::fs::write(&file, rotor.replacen("machine: 24110 h", "machine: 24.110 h", 1)).unwrap();
    let (code, out, _) = asfound(folder.path(), &["check"]);
    assert!(code == 3 && out.contains("Write 24110 h without a mark"), "{code}: {out}");
}

#[test]
fn an_alert_nearer_to_its_limit_than_any_gauge_can_tell_is_remarked() {
    let folder = TempDir::new().unwrap();
    let sheets = folder.path().join("sheets");
    std::fs::create_dir_all(&sheets).unwrap();
    std::fs::create_dir_all(folder.path().join("instruments")).unwrap();
    std::fs::copy(root("docs/files/instruments/D2.yaml"), folder.path().join("instruments/D2.yaml")).unwrap();
    let sheet = std::fs::read_to_string(root("docs/files/sheets/INV-420.yaml")).unwrap();
    let file = sheets.join("INV-420.yaml");
    let said = "Bush, turbine side, the alert of clearance (bush.ts.clearance) lies 0.001 mm before its limit";
    for (alert, wanted) in [("0.210 mm", false), ("0.219 mm", true)] {
        std::fs::write(&file, sheet.replacen("at or above: 0.210 mm", &format!("at or above: {alert}"), 1)).unwrap();
        for words in [vec!["check"], vec!["check", file.to_str().unwrap()]] {
            let (code, out, _) = asfound(folder.path(), &words);
            assert_eq!((code, out.contains(said)), (0, wanted), "{words:?}: {out}");
        }
    }
}
