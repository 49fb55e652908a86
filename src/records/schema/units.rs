//! In a sheet the characteristic says what its figures measure: a unit of another dimension is marked as it is typed.
//!
//! A record keeps what was once entered, and a grid names its own unit: there the reader alone can tell, and no schema does.

use std::collections::BTreeMap;

use serde_json::{Map, Value, json};

use crate::domain::characteristic::{Characteristic, Given};
use crate::domain::sheet::Which;
use crate::domain::unit::Dimension;

use super::{NUMBER, words};

/// The schema of a sheet, each figure in a unit of the dimension that its characteristic has.
pub(super) fn of_sheet(mut schema: Value) -> Value {
    let levels = Characteristic::all().map(|one| (one.dimension(), one.id()));
    let given = Given::all().map(|one| (one.unit().dimension(), one.name()));
    narrow(&mut schema, ("levels", "characteristic"), levels, |dimension| {
        let bands = json!({ "bands": { "items": { "properties": { "figure": figure(dimension, &[]) } } } });
        let mut bound = figure(dimension, &["object"]);
        super::put(&mut bound, "properties", bands);
        let words = ["at or above", "above", "at or below", "below"];
        let level = json!({ "type": "object", "properties": keys(words, &bound) });
        keys(Which::ALL.map(Which::word), &level)
    });
    narrow(&mut schema, ("given", "name"), given, |dimension| keys(["figure"], &figure(dimension, &[])));
    schema
}

/// Each key with the same.
fn keys<const N: usize>(keys: [&str; N], value: &Value) -> Value {
    Value::Object(keys.into_iter().map(|key| (key.to_owned(), value.clone())).collect::<Map<_, _>>())
}

/// Adds to the items of a list, for each dimension: where `key` holds one of its ids, these are its keys.
fn narrow(
    schema: &mut Value,
    (list, key): (&str, &str),
    ids: impl Iterator<Item = (Dimension, &'static str)>,
    keys: impl Fn(Dimension) -> Value,
) {
    let mut groups: BTreeMap<Dimension, Vec<&str>> = BTreeMap::new();
    ids.for_each(|(dimension, id)| groups.entry(dimension).or_default().push(id));
    let rules = groups.into_iter().map(|(dimension, ids)| {
        let when = json!({ "properties": { key: { "enum": ids } }, "required": [key] });
        json!({ "if": when, "then": { "properties": keys(dimension) } })
    });
    let items = schema.pointer_mut(&format!("/properties/{list}/items")).and_then(Value::as_object_mut);
    let all = items.map(|items| items.entry("allOf").or_insert_with(|| json!([])));
    if let Some(all) = all.and_then(Value::as_array_mut) {
        all.extend(rules);
    }
}

/// A figure in a unit of this dimension, or one of these `others`; a ratio may have none, anything else is no bare number.
fn figure(dimension: Dimension, others: &[&str]) -> Value {
    let words = words(|unit| unit.dimension() == dimension);
    let (types, may) =
        if dimension == Dimension::Ratio { (&["string", "number"][..], "?") } else { (&["string"][..], "") };
    let types = [types, others].concat();
    json!({ "type": types, "pattern": format!(r"{NUMBER}\s*({words}){may}\s*$") })
}
