//! A schema that a person can read: what stands in it more than once is written once, under `definitions`, and what fits
//! on a line is written on one.

use serde_json::{Map, Value, json};

/// Shorter schemas say themselves as quickly as a name would.
const LEAST: usize = 50;
/// Columns of a line.
const COLUMNS: usize = 110;

/// Puts every schema that stands in `whole` more than once under `definitions`, the largest first.
pub(super) fn with_definitions(mut whole: Value) -> Value {
    let mut definitions = Map::new();
    while let Some((name, twice)) = repeated(&whole, &definitions) {
        let names = std::iter::once(name.clone()).chain((2..).map(|number: u32| format!("{name}-{number}")));
        let free = names.into_iter().find(|name| !definitions.contains_key(name)).unwrap_or(name);
        let reference = json!({ "$ref": format!("#/definitions/{free}") });
        replace(&mut whole, &twice, &reference);
        for definition in definitions.values_mut() {
            replace(definition, &twice, &reference);
        }
        definitions.insert(free, twice);
    }
    if let Some(whole) = whole.as_object_mut().filter(|_| !definitions.is_empty()) {
        whole.insert("definitions".to_owned(), Value::Object(definitions));
    }
    whole
}

/// The largest schema that stands in two places, with a name for it.
fn repeated(whole: &Value, definitions: &Map<String, Value>) -> Option<(String, Value)> {
    let mut found: Vec<(String, String, &Value)> = Vec::new();
    gather(whole, "", &mut found);
    for (name, definition) in definitions {
        // the definition itself is no second place
        inner(definition, name, &mut found);
    }
    found.sort_by(|(one, ..), (other, ..)| other.len().cmp(&one.len()).then_with(|| one.cmp(other)));
    found.windows(2).find_map(|pair| match pair {
        [(text, name, value), (other, ..)] if text == other => Some((name.clone(), (*value).clone())),
        _ => None,
    })
}

/// Every schema below and at `node`, as text, with what it may be called.
fn gather<'a>(node: &'a Value, name: &str, found: &mut Vec<(String, String, &'a Value)>) {
    let text = node.to_string();
    if node.get("type").is_some() && !name.is_empty() && text.len() >= LEAST {
        found.push((text, name_of(node, name), node));
    }
    inner(node, name, found);
}

fn inner<'a>(node: &'a Value, name: &str, found: &mut Vec<(String, String, &'a Value)>) {
    match node {
        Value::Object(keys) => {
            for (key, value) in keys {
                match (key.as_str(), value) {
                    ("properties", Value::Object(properties)) => {
                        properties.iter().for_each(|(property, value)| gather(value, property, found));
                    }
                    ("items", _) => gather(value, name.strip_suffix('s').unwrap_or(name), found),
                    _ => gather(value, name, found),
                }
            }
        }
        Value::Array(items) => items.iter().for_each(|item| gather(item, name, found)),
        Value::Null | Value::Bool(_) | Value::Number(_) | Value::String(_) => {}
    }
}

/// `figure-with-its-unit`, of a text that says what it is; else the key under which it stands.
fn name_of(node: &Value, name: &str) -> String {
    let said = node.get("description").and_then(Value::as_str).and_then(|text| text.split(',').next());
    let said = said.map(|text| text.strip_prefix("a ").or_else(|| text.strip_prefix("an ")).unwrap_or(text));
    let plain = |letter: char| if letter.is_ascii_alphanumeric() { letter } else { '-' };
    said.unwrap_or(name).chars().map(plain).collect()
}

fn replace(node: &mut Value, what: &Value, by: &Value) {
    if node == what {
        node.clone_from(by);
        return;
    }
    match node {
        Value::Object(keys) => keys.values_mut().for_each(|value| replace(value, what, by)),
        Value::Array(items) => items.iter_mut().for_each(|item| replace(item, what, by)),
        Value::Null | Value::Bool(_) | Value::Number(_) | Value::String(_) => {}
    }
}

/// The schema as it is kept.
pub fn text(schema: &Value) -> String {
    let mut out = String::new();
    write(schema, 0, &mut out);
    out.push('\n');
    out
}

fn write(value: &Value, indent: usize, out: &mut String) {
    let flat = value.to_string();
    let column = out.len() - out.rfind('\n').map_or(0, |at| at + 1);
    let parts: Vec<(String, &Value)> = match value {
        Value::Object(keys) => keys.iter().map(|(key, value)| (format!("{}: ", json!(key)), value)).collect(),
        Value::Array(items) => items.iter().map(|item| (String::new(), item)).collect(),
        Value::Null | Value::Bool(_) | Value::Number(_) | Value::String(_) => Vec::new(),
    };
    if parts.is_empty() || column + flat.len() + parts.len() < COLUMNS {
        return line(value, out);
    }
    let (open, close) = if value.is_array() { ('[', ']') } else { ('{', '}') };
    out.push(open);
    let count = parts.len();
    for (number, (key, value)) in parts.into_iter().enumerate() {
        out.push('\n');
        out.push_str(&" ".repeat(indent + 2));
        out.push_str(&key);
        write(value, indent + 2, out);
        if number + 1 < count {
            out.push(',');
        }
    }
    out.push('\n');
    out.push_str(&" ".repeat(indent));
    out.push(close);
}

/// On one line, with a blank behind each colon and comma.
fn line(value: &Value, out: &mut String) {
    match value {
        Value::Object(keys) => {
            out.push('{');
            for (number, (key, value)) in keys.iter().enumerate() {
                out.push_str(if number > 0 { ", " } else { "" });
                out.push_str(&json!(key).to_string());
                out.push_str(": ");
                line(value, out);
            }
            out.push('}');
        }
        Value::Array(items) => {
            out.push('[');
            for (number, item) in items.iter().enumerate() {
                out.push_str(if number > 0 { ", " } else { "" });
                line(item, out);
            }
            out.push(']');
        }
        Value::Null | Value::Bool(_) | Value::Number(_) | Value::String(_) => out.push_str(&value.to_string()),
    }
}
