//! The answers as JSON: exact decimals as strings, computed figures as numbers with all their digits.

use serde_json::{Map, Value, json};

use crate::domain::reckon::{FORMULAS, Formula, Outcome};
use crate::report::json::answers;

/// The outcome, the rule's name and number first.
pub(super) fn outcome(formula: &Formula, outcome: &Outcome) -> String {
    let mut whole = Map::new();
    whole.insert("reckoning".to_owned(), formula.id().into());
    if let Value::Object(map) = answers(&outcome.answers) {
        whole.extend(map);
    }
    printed(&Value::Object(whole))
}

/// Every reckoning with its purpose.
pub(super) fn list() -> String {
    let row = |formula: &Formula| json!({"reckoning": formula.id(), "name": formula.name, "purpose": formula.purpose});
    printed(&FORMULAS.iter().map(row).collect())
}

fn printed(value: &Value) -> String {
    format!("{value:#}")
}
