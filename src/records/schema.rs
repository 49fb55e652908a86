//! JSON Schemas of all file kinds, made from the descriptions that read them: editors complete and underline by them.
//!
//! They say what keys there are, which must be there, the words of closed lists, and what a figure, a day or a name looks
//! like; what figures and keys mean together is the reader's. The draft is number 7, the one that editors know.

mod shared;
mod units;

pub use shared::text;

use serde_json::{Map, Value, json};

use crate::domain::unit::{Dimension, Unit};

use super::checklist_file::{GROUP, ORDER, WHOLE};
use super::entry_file::chained;
use super::file::shape;
use super::form::{Shape, ShapeField, ShapeRule, shape_of};
use super::head_file::head_keys;
use super::instrument_file::INSTRUMENT;
use super::people_file::PEOPLE;
use super::rotor_file::ROTOR;
use super::settings_file::SETTINGS;
use super::sheet_file::SHEET;
use super::yaml::Layout;

/// Every schema, by the name of its file.
pub fn schemas() -> Vec<(&'static str, Value)> {
    vec![
        ("checklist", of_file("asfound checklist", of(&shape(&WHOLE)))),
        ("checklist-group", of_file("asfound checklist group", of(&shape(&GROUP)))),
        ("checklist-order", of_file("asfound checklist order", of(&shape(&ORDER)))),
        ("inspection", of_file("asfound inspection record", of(&record()))),
        ("instrument", of_file("asfound instrument", of(&shape(&INSTRUMENT)))),
        ("people", of_file("asfound people", of(&shape(&PEOPLE)))),
        ("rotor", of_file("asfound rotor", of(&shape(&ROTOR)))),
        ("settings", of_file("asfound settings", of(&shape(&SETTINGS)))),
        ("sheet", of_file("asfound limits sheet", units::of_sheet(of(&shape(&SHEET))))),
    ]
}

/// A record: its head, then its entries.
fn record() -> Shape {
    shape_of(|slot| {
        slot.map(Layout::Block, |fields| {
            drop(head_keys(fields, None));
            fields.need("entries", |slot, _: Option<&Vec<_>>| slot.list(Layout::Block, chained, None), None)
        })
    })
}

/// The schema of a file: its own keys and `format`.
fn of_file(title: &str, mut schema: Value) -> Value {
    if let Some(properties) = schema.get_mut("properties").and_then(Value::as_object_mut) {
        properties.shift_insert(0, "format".to_owned(), json!({ "enum": [1, "1"] }));
    }
    match schema.get_mut("required").and_then(Value::as_array_mut) {
        Some(required) => required.insert(0, json!("format")),
        None => put(&mut schema, "required", json!(["format"])),
    }
    let mut whole = json!({ "$schema": "http://json-schema.org/draft-07/schema#", "title": title });
    if let (Some(whole), Value::Object(schema)) = (whole.as_object_mut(), schema) {
        whole.extend(schema);
    }
    shared::with_definitions(whole)
}

/// A number as figures have one.
const NUMBER: &str = r"^\s*[-+−]?\s*([0-9]+([.,][0-9]+)?|[.,][0-9]+)";

/// What a text looks like, by how its description begins: never narrower than the reader.
const PATTERNS: [(&str, &str); 9] = [
    ("text", r"\S"),
    ("letters", "^[A-Za-z]+$"),
    ("a number", r"^\s*[-+−]?\s*[.,]?[0-9]"),
    ("a whole number from 1", r"^0*[1-9][0-9]*$"),
    ("a whole number", r"^[0-9]+$"),
    ("a day", r"^\s*[0-9]{4}-[0-9]{1,2}-[0-9]{1,2}\s*$"),
    ("a moment", r"^\s*[0-9]{4}-[0-9]{2}-[0-9]{2}T"),
    ("an id", r"^[A-Za-z0-9._-]{1,40}$"),
    ("a name without blanks", r"^[A-Za-z0-9._/-]{1,60}$"),
];

/// The pattern of a text; of a figure with every word for its unit.
fn pattern(expected: &str) -> Option<String> {
    if expected.starts_with("hours") {
        return Some(format!(r"{NUMBER}\s*({})\s*$", words(|unit| unit.dimension() == Dimension::Time)));
    }
    if expected.starts_with("a figure") {
        return Some(format!(r"{NUMBER}\s*({})?\s*$", words(|_| true)));
    }
    let known = PATTERNS.iter().find(|(begins, _)| expected.starts_with(begins));
    known.map(|(_, pattern)| (*pattern).to_owned())
}

/// `mm|um|in`: every word for these units.
fn words(is: impl Fn(Unit) -> bool) -> String {
    let escaped = |word: &&str| {
        let letter = |letter: char| {
            if ".^$*+?()[]{}|/\\".contains(letter) { format!("\\{letter}") } else { letter.to_string() }
        };
        word.chars().map(letter).collect::<String>()
    };
    Unit::all().filter(|unit| is(*unit)).flat_map(Unit::words).map(escaped).collect::<Vec<_>>().join("|")
}

fn put(schema: &mut Value, key: &str, value: Value) {
    if let Some(object) = schema.as_object_mut() {
        object.insert(key.to_owned(), value);
    }
}

fn of(shape: &Shape) -> Value {
    match shape {
        Shape::Nothing => json!({}),
        // `8` and `true` are texts to us and not to an editor
        Shape::Text(expected) => {
            let mut schema = json!({ "type": ["string", "number", "boolean"], "description": expected });
            if let Some(pattern) = pattern(expected) {
                put(&mut schema, "pattern", json!(pattern));
            }
            schema
        }
        Shape::Words(words) => json!({ "enum": words }),
        Shape::List(_, inner) => json!({ "type": "array", "items": of(inner) }),
        Shape::Pairs(inner) => json!({ "type": "object", "additionalProperties": of(inner) }),
        Shape::Either(shapes) => json!({ "anyOf": shapes.iter().map(of).collect::<Vec<_>>() }),
        Shape::Map(fields, rules) => {
            let mut schema = keys(fields);
            let mut all: Vec<Value> = Vec::new();
            for choice in choices(fields) {
                let asks =
                    rules.iter().filter(|(_, with)| with.as_ref() == Some(&choice)).map(|(rule, _)| of_rule(rule));
                all.push(branch(fields, &choice, asks.collect()));
            }
            all.extend(rules.iter().filter(|(_, with)| with.is_none()).map(|(rule, _)| of_rule(rule)));
            if !all.is_empty() {
                put(&mut schema, "allOf", Value::Array(all));
            }
            schema
        }
    }
}

/// All keys of a mapping; those that go with a word are told in its branch.
fn keys(fields: &[ShapeField]) -> Value {
    let mut properties = Map::new();
    for field in fields {
        let value = if field.only_with.is_none() { of(&field.shape) } else { json!({}) };
        properties.entry(field.key.clone()).or_insert(value);
    }
    let mut schema = json!({ "type": "object", "additionalProperties": false, "properties": properties });
    let needed = needed(fields.iter().filter(|field| field.only_with.is_none()));
    if !needed.is_empty() {
        put(&mut schema, "required", json!(needed));
    }
    schema
}

fn needed<'a>(fields: impl Iterator<Item = &'a ShapeField>) -> Vec<&'a str> {
    fields.filter(|field| field.needed).map(|field| field.key.as_str()).collect()
}

/// Every key and word that decides which other keys there are, also where a word brings none of its own.
fn choices(fields: &[ShapeField]) -> Vec<(String, String)> {
    let chooses = |key: &str| fields.iter().filter_map(|one| one.only_with.as_ref()).any(|(chooser, _)| chooser == key);
    let mut choices = Vec::new();
    for field in fields.iter().filter(|field| field.only_with.is_none() && chooses(&field.key)) {
        if let Shape::Words(words) = &field.shape {
            choices.extend(words.iter().map(|word| (field.key.clone(), word.clone())));
        }
    }
    choices
}

/// What goes with one word.
fn branch(fields: &[ShapeField], choice: &(String, String), asks: Vec<Value>) -> Value {
    let (key, word) = choice;
    let own: Vec<_> = fields.iter().filter(|field| field.only_with.as_ref() == Some(choice)).collect();
    let shared = fields.iter().filter(|field| field.only_with.is_none());
    let known: Vec<_> = shared.chain(own.iter().copied()).map(|field| field.key.as_str()).collect();
    let properties: Map<_, _> = own.iter().map(|field| (field.key.clone(), of(&field.shape))).collect();
    let mut then = json!({ "properties": properties, "propertyNames": { "enum": known } });
    let needed = needed(own.iter().copied());
    if !needed.is_empty() {
        put(&mut then, "required", json!(needed));
    }
    if !asks.is_empty() {
        put(&mut then, "allOf", Value::Array(asks));
    }
    json!({ "if": { "properties": { key: { "const": word } }, "required": [key] }, "then": then })
}

fn of_rule(rule: &ShapeRule) -> Value {
    let filled = |key: &&str| json!({ "required": [key], "properties": { *key: { "minItems": 1 } } });
    match rule {
        ShapeRule::AtLeastOne(keys) => json!({ "anyOf": keys.iter().map(filled).collect::<Vec<_>>() }),
        ShapeRule::ExactlyOne(keys) => json!({ "oneOf": keys.iter().map(filled).collect::<Vec<_>>() }),
        ShapeRule::NotBoth(one, other) => json!({ "not": { "required": [one, other] } }),
        ShapeRule::OnlyWith(key, other, word) => json!({
            "if": { "required": [key] },
            "then": { "required": [other], "properties": { *other: { "const": word } } },
        }),
    }
}
