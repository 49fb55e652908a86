//! The answers as JSON: exact decimals as strings, computed figures as numbers with all their digits.

use serde_json::{Map, Number, Value, json};

use crate::domain::reckon::{Answer, Answers, FORMULAS, Formula, Outcome};

/// The outcome, the rule's name and number first.
pub(super) fn outcome(formula: &Formula, outcome: &Outcome) -> String {
    let mut whole = Map::new();
    whole.insert("reckoning".to_owned(), formula.id().into());
    whole.extend(map(&outcome.answers));
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

fn map(answers: &Answers) -> Map<String, Value> {
    answers.entries().iter().map(|(key, answer)| (key.clone(), value(answer))).collect()
}

fn value(answer: &Answer) -> Value {
    match answer {
        Answer::Nothing => Value::Null,
        Answer::Flag(flag) => Value::Bool(*flag),
        Answer::Whole(count) => Value::Number((*count).into()),
        // an Answer's number is always finite
        Answer::Number(number) => Number::from_f64(*number).map_or(Value::Null, Value::Number),
        Answer::Text(text) => Value::String(text.clone()),
        Answer::List(items) => items.iter().map(value).collect(),
        Answer::Map(answers) => Value::Object(map(answers)),
    }
}
