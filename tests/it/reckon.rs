//! Reckonings against values from outside the project; each row of tests/data/outside names its source.

mod anything;
mod columns;
mod command;
mod due;
mod exact;
mod fit;
mod impossible;
mod keys;
mod lands;
mod lengths;
mod lift;
mod marks;
mod page;
mod units;
mod workings;

use std::collections::BTreeMap;

use asfound::cli::reckon::words;
use asfound::domain::exact::Exact;
use asfound::domain::reckon::{Answer, Answers, Formula, Problem};

/// A row of a file of outside values, by column.
pub(crate) type Row = BTreeMap<String, String>;

/// The rows of tests/data/outside/`name`.csv; a file without rows fails the test.
pub(crate) fn rows(name: &str) -> Vec<Row> {
    let path = format!("{}/tests/data/outside/{name}.csv", env!("CARGO_MANIFEST_DIR"));
    let mut file = csv::Reader::from_path(&path).unwrap();
    let rows: Vec<Row> = file.deserialize().collect::<Result<_, _>>().unwrap();
    assert!(!rows.is_empty(), "{path} has no rows");
    rows
}

/// Reckons from words as typed behind the name.
pub(crate) fn tried(name: &str, given: &[String]) -> Result<Answers, Vec<Problem>> {
    let tree = words::tree(given).unwrap_or_else(|fault| panic!("{name} {given:?}: {fault}"));
    Formula::find(name).unwrap().run(&tree).map(|outcome| outcome.answers)
}

/// The same where it must succeed.
pub(crate) fn reckoned(name: &str, given: &[String]) -> Answers {
    tried(name, given).unwrap_or_else(|problems| panic!("{name} {given:?}: {problems:?}"))
}

/// The text of the answer at `path`, `none` where there is nothing.
pub(crate) fn at(answers: &Answers, path: &str) -> String {
    answers.at(path).unwrap_or_else(|| panic!("no {path} in {answers:?}")).shown()
}

/// The exact figure at `path`: a decimal, or the fraction beside a number.
pub(crate) fn exact_at(answers: &Answers, path: &str) -> Exact {
    match answers.at(path) {
        Some(Answer::Text(text)) => exact(text),
        _ => exact(&at(answers, &format!("{path}_exact"))),
    }
}

/// A decimal or a fraction.
pub(crate) fn exact(text: &str) -> Exact {
    match text.split_once('/') {
        Some((above, below)) => exact(above).over(&exact(below)).unwrap(),
        None => Exact::parse(text).unwrap_or_else(|| panic!("`{text}` is no decimal")),
    }
}

/// Fails unless two figures agree to a relative 1e-14, the last digit of what the outside files print.
pub(crate) fn assert_near(found: &str, expected: &str, what: &str) {
    let (found, expected): (f64, f64) = (found.parse().unwrap(), expected.parse().unwrap());
    let off = (found - expected).abs();
    assert!(off <= 1e-14 * expected.abs(), "{what}: {found}, expected {expected}");
}

/// `key=value`, or nothing for an empty value.
pub(crate) fn word(key: &str, value: &str) -> Option<String> {
    (!value.is_empty()).then(|| format!("{key}={value}"))
}
