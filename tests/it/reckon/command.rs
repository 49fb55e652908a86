//! `asfound reckon` from outside: what it prints, and its exit codes.

use assert_cmd::Command;

use super::Formula;
use super::{at, reckoned};
use asfound::domain::reckon::FORMULAS;

fn asfound(words: &[&str]) -> Command {
    let mut command = Command::cargo_bin("asfound").unwrap();
    command.arg("reckon").args(words);
    command
}

fn stdout(command: &mut Command) -> String {
    String::from_utf8(command.assert().success().get_output().stdout.clone()).unwrap()
}

/// All that went to stderr, when the exit code is as expected.
fn stderr(command: &mut Command, code: i32) -> String {
    String::from_utf8(command.assert().code(code).get_output().stderr.clone()).unwrap()
}

#[test]
fn every_reckoning_is_listed_and_has_help() {
    let list = stdout(&mut asfound(&[]));
    for formula in FORMULAS {
        assert!(list.contains(&formula.id()), "{list}");
        assert!(list.lines().all(|line| line.chars().count() <= 80), "a line each: {list}");
        let help = stdout(&mut asfound(&[formula.name, "--help"]));
        assert!(help.contains("Example:") && help.contains("result: "), "{help}");
        for key in formula.keys {
            assert!(help.contains(key.name), "{} in {help}", key.name);
        }
        let wide = help.lines().filter(|line| !line.starts_with("  asfound")).find(|line| line.chars().count() > 76);
        assert_eq!(wide, None, "{}", formula.name);
    }
}

/// One figure that cannot be does not hide units that do not go together; a key that another one needs says what it takes.
#[test]
fn problems_of_one_figure_do_not_hide_those_among_several() {
    let said =
        stderr(&mut asfound(&["judge", "value=3 bar", "limit=2 mm", "side=largest", "touching=fails", "u=-1"]), 1);
    assert!(said.contains("u: found `-1`") && said.contains("value: found `3 bar`"), "{said}");
    let said = stderr(&mut asfound(&["unbalance", "grade=2.5", "mass=1", "speed=3000"]), 1);
    for key in ["a", "b"] {
        assert!(said.contains(&format!("{key}: missing, expected a figure in mm, above 0")), "{said}");
    }
    let said = stderr(&mut asfound(&["judge", "value=x", "limit=y", "side=largest", "touching=fails"]), 1);
    assert_eq!(said.lines().count(), 3, "each once, and where to look: {said}");
}

#[test]
fn worked_examples_give_what_they_say() {
    for formula in FORMULAS {
        let words: Vec<String> = formula.example.iter().map(|word| (*word).to_owned()).collect();
        let answers = reckoned(&formula.id(), &words);
        assert!(!formula.expected.is_empty(), "{} expects nothing", formula.name);
        for (path, expected) in formula.expected {
            assert_eq!(at(&answers, path), *expected, "{} {path}", formula.name);
        }
    }
}

#[test]
fn every_answer_is_in_the_table_of_what_is_given() {
    for formula in FORMULAS {
        let words: Vec<String> = formula.example.iter().map(|word| (*word).to_owned()).collect();
        for (key, _) in reckoned(&formula.id(), &words).entries() {
            let key = key.trim_end_matches("_exact").trim_end_matches("_why");
            let named = |name: &str| name.split([':', ',', ' ']).any(|word| word == key);
            assert!(formula.outputs.iter().any(|output| named(output.name)), "{} gives {key}", formula.name);
        }
    }
}

#[test]
fn no_two_reckonings_share_name_and_number() {
    for formula in FORMULAS {
        assert_eq!(FORMULAS.iter().filter(|other| other.id() == formula.id()).count(), 1, "{}", formula.id());
        assert_eq!(Formula::find(&formula.id()).unwrap().id(), formula.id());
        assert!(Formula::find(formula.name).unwrap().number >= formula.number);
    }
}

#[test]
fn unknown_names_and_keys_are_wrong_words() {
    let said = stderr(&mut asfound(&["lifft"]), 2);
    assert!(said.contains("`lift`"), "{said}");
    let said = stderr(&mut asfound(&["lift", "place=3", "divison=0.01"]), 2);
    assert!(said.contains("did you mean `places`") && said.contains("did you mean `division`"), "{said}");
    assert!(said.contains("places: missing"), "the missing key is said as well: {said}");
    stderr(&mut asfound(&["lift", "division=0.01", "division=0.01"]), 2);
    stderr(&mut asfound(&["lift", "division=0.01", "loose"]), 2);
    stderr(&mut asfound(&["lift", "--jsno"]), 2);
    stderr(&mut asfound(&["lift/99"]), 2);
}

#[test]
fn all_impossible_figures_are_named_at_once() {
    let places = "places=[{place: a, pairs: [[nan, 3 bar], [x, 1]]}, {pairs: [[0, 0.1]]}, 7]";
    let said = stderr(&mut asfound(&["lift", places, "division=-0.01"]), 1);
    for part in [
        "places 1, pairs 1, 1: found `nan`, which is not finite, expected a figure in mm",
        "places 1, pairs 1, 2: found `3 bar`, expected a figure in mm",
        "places 1, pairs 2, 1: found `x`, expected a figure in mm",
        "places 2, place: missing, expected words in one line",
        "places 3: found `7`, expected a map with place, pairs",
        "division: found `-0.01`, expected a figure in mm, above 0",
    ] {
        assert!(said.contains(part), "{part} in\n{said}");
    }
}

#[test]
fn words_files_and_stdin_give_the_same() {
    let folder = tempfile::tempdir().unwrap();
    let json = r#"{"places": [{"place": "outer 0", "pairs": [[0.020, "228 um"], ["0,020", 0.230]]}]}"#;
    let yaml = "places:\n- place: outer 0\n  pairs:\n  - [0.020, 228 um]\n  - ['0,020', 0.230]\n";
    let flow = "places=[{place: outer 0, pairs: [[0.020, 228 um], ['0,020', 0.230]]}]";
    let by_words = stdout(&mut asfound(&["lift", "--json", flow]));
    for (name, text) in [("a.json", json), ("b.yaml", yaml)] {
        let path = folder.path().join(name);
        std::fs::write(&path, text).unwrap();
        assert_eq!(stdout(&mut asfound(&["lift", path.to_str().unwrap(), "--json"])), by_words, "{name}");
        assert_eq!(stdout(asfound(&["lift", "-", "--json"]).write_stdin(text)), by_words, "{name}");
    }
    let value: serde_json::Value = serde_json::from_str(&by_words).unwrap();
    assert_eq!(value["reckoning"], "lift/1");
    assert_eq!(value["largest"]["mean"], "0.209");
    assert!(value["places"][0]["retake"].is_null() && value["places"][0]["retake_why"].is_string());
}

#[test]
fn nothing_that_was_typed_moves_the_cursor() {
    let text = r#"{"places": [{"place": "\u001b[2Jx", "pairs": [["\u001b[2J", 1]]}], "\u001b[2J": 1}"#;
    let said = stderr(asfound(&["lift", "-"]).write_stdin(text), 2);
    assert!(said.contains("places 1, place") && said.contains("pairs 1, 1"), "{said}");
    assert!(!said.contains('\u{1b}'), "{said:?}");
}

#[test]
fn files_that_cannot_be_read_are_named() {
    let said = stderr(&mut asfound(&["lift", "no-such-file.yaml"]), 1);
    assert!(said.contains("no-such-file.yaml"), "{said}");
    let said = stderr(asfound(&["lift", "-"]).write_stdin("places: [\n"), 1);
    assert!(said.contains("stdin:1:9"), "{said}");
    let said = stderr(asfound(&["lift", "-"]).write_stdin(&b"\xff\xfe"[..]), 1);
    assert!(said.contains("stdin"), "{said}");
}

#[cfg(unix)]
#[test]
fn a_reader_that_goes_away_is_no_fault() {
    use std::process::{Command, Stdio};
    let mut child = Command::new(assert_cmd::cargo::cargo_bin("asfound"))
        .args(["reckon", "--help"])
        .stdout(Stdio::piped())
        .stdin(Stdio::null())
        .spawn()
        .unwrap();
    drop(child.stdout.take());
    assert_eq!(child.wait().unwrap().code(), Some(0));
}

#[test]
fn a_comma_parts_a_list_only_where_it_cannot_be_a_decimal_one() {
    let planes = "planes=[{plane: a, diameters: [9]}]".to_owned();
    let smallest = |unworn: &str| {
        let given = [format!("unworn={unworn}"), planes.clone()];
        super::tried("journal", &given).map(|answers| at(&answers, "step_wear.value"))
    };
    for unworn in
        ["9.5;10.25", "9.5; 10.25", "9.5,10.25", "9.5, 10.25", "[9.5, 10.25]", "9,5; 10,25", "9,5, 10,25", "10,25"]
    {
        assert_eq!(smallest(unworn).unwrap(), "1.25", "{unworn}");
    }
    assert_eq!(smallest("9, 10").unwrap(), "1");
    for unworn in ["1,2,3", "1,234.5", "9.5,,10.25", "9.5 10.25"] {
        assert!(smallest(unworn).is_err(), "{unworn}");
    }
}

/// What one reckoning answers another takes: fractions, powers of ten, units of any kind behind them.
#[test]
fn figures_are_read_in_every_form_that_programs_write() {
    for (value, expected) in [
        ("47/300 mm", "0.15666666666666668"),
        ("1.5e-5 m", "0.015"),
        ("50um", "0.05"),
        ("0,002\"", "0.0508"),
        ("2 thou", "0.0508"),
        ("-1E-3m", "-1"),
        ("\u{2212}0.5 mm", "-0.5"),
    ] {
        assert_eq!(at(&reckoned("convert", &[format!("value={value}"), "to=mm".to_owned()]), "value"), expected);
    }
    let expansion = |text: &str| {
        let part = format!("part={{temperature: 25 degC, expansion: {text}}}");
        at(&reckoned("to-20", &["length=50".to_owned(), part]), "length_20_exact")
    };
    let written = ["11.5e-6", "0.0000115", "11.5 um/m/K", "11.5e-6/K", "11.5e-6 1/K", "23/2000000"].map(expansion);
    assert!(written.iter().all(|length| *length == written[0]), "{written:?}");
}
