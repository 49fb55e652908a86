//! Whole inspections through the program itself, from `begin` to the close, their answers from a file.
//!
//! The answers are found by a session in this process, over the record that the program began; the program then gets
//! them as one file, and must come to the same record.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use asfound::domain::checklist::{Against, Takes};
use asfound::domain::entry::Act;
use asfound::domain::instrument::GaugeKind;
use asfound::records::store::Store;
use tempfile::TempDir;

use super::bench::Bench;
use super::demo::played;
use super::verbs::asfound;

/// What is read where, and with which gauge: as typed in the demonstration's present inspection.
type Figures = BTreeMap<(String, String), (String, Option<String>)>;

fn figures() -> Figures {
    let [.., present] = played();
    let readings = present.entries().iter().filter_map(|entry| match &entry.act {
        Act::Reading { step, place, typed, gauge, .. } => {
            Some(((step.clone(), place.clone()), (typed.clone(), gauge.as_ref().map(ToString::to_string))))
        }
        _ => None,
    });
    readings.collect()
}

/// What is typed of a gauge that nobody knows yet.
fn of_a_new_gauge(question: &str) -> Option<&'static str> {
    [(" is new here: ", "0.002"), (": its range", "")]
        .into_iter()
        .find(|(asked, _)| question.contains(asked))
        .map(|it| it.1)
}

/// The word that a question of few words takes.
fn word_for(question: &str) -> Option<&'static str> {
    let by_words = [
        ("insist takes", "insist"),
        ("(yes", "yes"),
        ("(done)", "done"),
        ("what is seen (nothing more", "nothing more"),
        ("what is seen", "nothing"),
        ("(sign,", "sign"),
        ("(carry on)", "carry on"),
    ];
    by_words.into_iter().find(|(asked, _)| question.contains(asked)).map(|(_, word)| word)
}

/// What no start goes without: pieces counted back as many as came off, and torques.
fn proof(bench: &Bench, figures: &Figures, (step, place): &(String, String)) -> Option<(String, Option<String>)> {
    let step = bench.inspection().head().checklist.step(step)?;
    let Takes::Readings(grid) = &step.takes else { return None };
    let before = match &grid.against {
        Some(Against::Equal(first)) => figures.get(&(first.clone(), place.clone())).cloned(),
        _ => None,
    };
    before.or_else(|| (grid.counts() || grid.gauge == GaugeKind::Wrench).then(|| ("40".to_owned(), None)))
}

/// What a fitter types at the question that stands.
fn line_for(bench: &Bench, figures: &Figures) -> Vec<String> {
    let question = bench.question();
    let place = bench.session.place(bench.now).and_then(|(step, place)| Some((step, place?)));
    let figure = place.and_then(|at| figures.get(&at).cloned().or_else(|| proof(bench, figures, &at)));
    let (typed, gauge) = figure.unzip();
    if let Some(word) = word_for(question) {
        return vec![word.to_owned()];
    }
    let said = if bench.said_last().contains("no hours or no date") {
        vec!["! next opening", "60510", "2199-07-02", "as the manual has it"]
    } else if question.contains("(start)") {
        // a file is read in no time, and no soak has its own
        vec!["! 4", "the whole step", "not on this one"]
    } else if question.starts_with("in words") {
        vec!["nothing to tell"]
    } else if let (true, Some(Some(gauge))) = (bench.said_last().contains("cannot be read on"), &gauge) {
        return vec!["! 2".to_owned(), gauge.clone()];
    } else if let (true, Some(gauge)) = (question.contains("in your hand"), gauge) {
        let kind = question.trim_start_matches("which ").split(" is in").next().unwrap().replace(' ', "-");
        return vec![gauge.unwrap_or_else(|| format!("X-{kind}"))];
    } else if let Some(said) = of_a_new_gauge(question) {
        vec![said]
    } else if question.starts_with("! for what else") {
        vec!["! 4", "the whole step", "no size known"]
    } else if let Some(typed) = typed {
        return vec![typed];
    } else {
        vec!["! 4", "the whole step", "not on this one"]
    };
    said.into_iter().map(str::to_owned).collect()
}

/// The lines of a whole inspection over a record just begun, and the readings they come to.
fn lines_of(data: &Path, figures: &Figures) -> (Vec<String>, usize) {
    let store = Store::at(data);
    let opened = store.open(&record_in(data)).unwrap();
    let mut bench = Bench::over(opened.inspection);
    // a file is read in no time: no soak comes due on the way
    bench.pace = 0;
    let (mut lines, mut in_vain) = (Vec::new(), 0);
    while bench.left_to_do() {
        let before = bench.inspection().entries().len();
        let said = line_for(&bench, figures);
        for line in said {
            // where no step is open it is asked for
            if bench.question().starts_with("at which step") {
                bench.types(&["1"]);
                lines.push("1".to_owned());
            }
            bench.types(&[&line]);
            lines.push(line);
        }
        in_vain = if bench.inspection().entries().len() == before { in_vain + 1 } else { 0 };
        // each hold that the close carries on is one answer and no entry
        assert!(in_vain < 100 && lines.len() < 1400, "{}\n{:?}", bench.hears(), &lines[lines.len() - 20..]);
    }
    (lines, bench.inspection().reading_count())
}

/// The record that is the newest of the folder.
fn record_in(data: &Path) -> PathBuf {
    let rotor = std::fs::read_dir(data.join("rotors")).unwrap().next().unwrap().unwrap().path();
    let files = std::fs::read_dir(rotor).unwrap().map(|one| one.unwrap().path());
    let records = files.filter(|path| path.extension().is_some_and(|end| end == "yaml"));
    records.filter(|path| path.file_name().unwrap() != "rotor.yaml").max().unwrap()
}

/// Types the lines into the program as a file, and looks at what the record says then.
fn closes(data: &Path, lines: &[String], readings: usize) {
    let file = lines.iter().map(|line| format!("{line}\n")).collect::<String>();
    let (code, out, err) = asfound(data, &["resume", "--plain"], &file);
    assert_eq!(code, 0, "{err}");
    assert!(out.contains("Every step is settled,"), "{}", &out[out.len().saturating_sub(3000)..]);
    assert!(out.contains(&format!("The record stays as it stands: {readings} saved.")), "{}", &out[out.len() - 300..]);
    let record = record_in(data);
    let record = record.to_str().unwrap();
    let (code, out, err) = asfound(data, &["verify", record], "");
    assert_eq!(code, 0, "{out}{err}");
    let (code, out, err) = asfound(data, &["check"], "");
    assert_eq!(code, 0, "{out}{err}");
    assert!(out.lines().next().unwrap().ends_with(", 0 problems"), "{out}");
    let (code, out, _) = asfound(data, &["review", record, "--plain"], "");
    assert_eq!(code, 0);
    assert!(out.contains("Is it closed? ~ Signed, countersign pending ashore."), "{}", &out[..1500.min(out.len())]);
}

#[test]
fn the_demonstration_is_inspected_and_closed_by_a_file_of_answers() {
    let folder = TempDir::new().unwrap();
    let begin = "INV-0001\nfitter-a\n48480\noverhaul\n\nperiodic\nin place\n\n\n\n\n\n\n\n";
    let (code, out, err) = asfound(folder.path(), &["demo", "--plain"], begin);
    assert_eq!(code, 0, "{out}{err}");
    let data = folder.path().join("demo");
    let (lines, readings) = lines_of(&data, &figures());
    assert!(readings > 300, "{readings} readings");
    closes(&data, &lines, readings);
}

/// A machine of one's own, invented for this test: files after the samples, gauges as they come to hand.
#[test]
fn a_machine_entered_by_hand_from_an_empty_folder_is_inspected_and_closed() {
    let folder = TempDir::new().unwrap();
    let data = folder.path();
    let sample = std::fs::read_to_string("docs/files/sheets/INV-420.yaml").unwrap();
    std::fs::create_dir_all(data.join("sheets")).unwrap();
    std::fs::write(data.join("sheets/TRY-900.yaml"), sample.replace("INV-420", "TRY-900")).unwrap();
    let (code, out, _) = asfound(data, &["check"], "");
    assert_eq!(code, 0, "{out}");
    let begin = ["begin", "TRY-7", "--invented", "--later", "--hours", "1200", "--checklist", "overhaul"];
    let typed = "TRY-900\nS-42\n\nnew\nfit-1\nfitter one\nfitter\ndone\n";
    let (code, out, err) = asfound(data, &begin, typed);
    assert_eq!(code, 0, "{out}{err}");
    let (lines, readings) = lines_of(data, &figures());
    assert!(readings > 200, "{readings} readings");
    closes(data, &lines, readings);
    let (_, json, _) = asfound(data, &["show", record_in(data).to_str().unwrap(), "--json"], "");
    let json: serde_json::Value = serde_json::from_str(&json).unwrap();
    let parts = json["parts"].as_array().unwrap();
    let of = |id: &str| parts.iter().find(|part| part["part"] == id).unwrap();
    assert_eq!(of("bush.ts")["disposition"], "watch", "its clearance is past the sheet's alert");
    assert!(!of("casing")["holds"].as_array().unwrap().is_empty(), "nothing is good without a level");
}
