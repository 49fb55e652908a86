//! What is said of a file: in the sheet's own unit, at its line, and nothing taken that no certificate states.

use asfound::records::check::{check_files, check_folder};
use asfound::records::instrument_file::read_instrument;
use asfound::records::sheet_file::read_sheet;
use asfound::records::store::Store;
use tempfile::TempDir;

use super::samples::sample;

fn text_of(name: &str) -> String {
    String::from_utf8(sample(name)).unwrap()
}

/// Whoever types a manual in inches looks for the figure that stands there.
#[test]
fn a_fault_of_an_inch_sheet_is_said_in_inches() {
    let sheet = text_of("sheets/INV-420.yaml");
    let limit = "limit: {above: 0.220 mm, below: 0.130 mm, leads";
    assert!(sheet.contains(limit));
    for (alert, upper, lower, said) in [
        ("0.010 in", "0.009 in", "0.005 in", "an alert at 0.010 in, above the limit at 0.009 in"),
        ("0.008 in", "2 in", "0.005 in", "clearance at 2 in"),
        ("0.008 in", "2 in", "0.005 in", "at most 0.98 in (25 mm)"),
        ("0.008 in", "0.009 in", "0.012 in", "between the lower bound 0.012 in and the upper bound 0.009 in"),
    ] {
        let inches = sheet
            .replace(limit, &format!("limit: {{above: {upper}, below: {lower}, leads"))
            .replace("alert: {at or above: 0.210 mm", &format!("alert: {{at or above: {alert}"));
        let told = read_sheet("a", inches.as_bytes()).unwrap_err().to_string();
        assert!(told.contains(said), "{told}");
    }
}

/// With a k of 100 a certificate of any gauge would pass any limit.
#[test]
fn a_coverage_factor_that_no_certificate_states_is_refused_with_its_reason() {
    let gauge = text_of("instruments/D2.yaml");
    let with = |k: &str| read_instrument("a", gauge.replacen("k: 2,", &format!("k: {k},"), 1).as_bytes());
    for k in ["1", "1.96", "2.87", "4.53"] {
        with(k).unwrap_or_else(|problems| panic!("{problems}"));
    }
    for k in ["100", "20", "5.1", "0.99", "0", "-2"] {
        let told = with(k).unwrap_err().to_string();
        assert!(told.contains(&format!("k of {k}")) && told.contains("a factor from 1 to 5"), "{told}");
    }
}

fn stands_at(remark: &str, text: &str, words: &str) -> bool {
    let line = text.lines().position(|line| line.contains(words)).unwrap() + 1;
    remark.contains(&format!(".yaml:{line}:"))
}

/// File and line, as for a fault: an editor goes there.
#[test]
fn a_remark_about_a_line_says_which() {
    let folder = TempDir::new().unwrap();
    let path = |name: &str| folder.path().join(name);
    for inner in ["sheets", "rotors/TRY-1", "instruments", "checklists"] {
        std::fs::create_dir_all(path(inner)).unwrap();
    }
    let sheet = text_of("sheets/INV-420.yaml").replacen("above: 0.220 mm", "above: 0.030 in", 1);
    std::fs::write(path("sheets/our.yaml"), &sheet).unwrap();
    std::fs::write(
        path("people.yaml"),
        "# asfound people\nformat: 1\npeople:\n- {id: fitter-a, name: A, roles: [fitter]}\n",
    )
    .unwrap();
    let rotor = "# asfound rotor\nformat: 1\nrotor: TRY-2\nserial: S-1\nmachine: INV-999\n";
    std::fs::write(path("rotors/TRY-1/rotor.yaml"), rotor).unwrap();
    let report = check_folder(&Store::at(folder.path()));
    for (said, text, words) in [
        ("in several units: new `mm`", &sheet[..], "- characteristic: bush.ts.clearance"),
        ("it says INV-420 inside", &sheet, "sheet: INV-420"),
        ("entered by `supervisor-b`, whom", &sheet, "entered by:"),
        ("no figure `", &sheet, "- {name: thrust.lands"),
        ("it says TRY-2, which counts", rotor, "rotor: TRY-2"),
        ("there is no limits sheet INV-999", rotor, "machine:"),
    ] {
        let all = || report.remarks.iter().filter(|remark| remark.contains(said));
        assert!(all().count() > 0 && all().all(|remark| stands_at(remark, text, words)), "{said}: {}", report.text());
    }
    // of a sheet named by itself too
    let report = check_files(&[path("sheets/our.yaml")]);
    let mixed = report.remarks.iter().find(|remark| remark.contains("in several units: new `mm`")).unwrap();
    assert!(stands_at(mixed, &sheet, "- characteristic: bush.ts.clearance"), "{mixed}");
}
