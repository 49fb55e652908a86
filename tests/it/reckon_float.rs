//! The reckonings in floats against published and independently computed values.
//!
//! The files in `tests/data/outside/` say in `source` where each row comes from and in `confirmed` how far it was checked:
//! `secondary` against a text that quotes the standard, `memory` not looked up, `recomputed` reached by a second route.

mod budget;
mod capable;
mod circle;
mod command;
mod conformity;
mod distribution;
mod forecast;
mod line;
mod repeats;
mod run_out;
mod unbalance;

use asfound::domain::exact::Exact;

/// The rows of `tests/data/outside/<name>.csv`, each as a map from column to text.
fn rows(name: &str) -> Vec<std::collections::BTreeMap<String, String>> {
    let path = format!("{}/tests/data/outside/{name}.csv", env!("CARGO_MANIFEST_DIR"));
    let rows: Vec<_> = csv::Reader::from_path(&path).unwrap().deserialize().map(Result::unwrap).collect();
    assert!(!rows.is_empty(), "{path} is empty");
    rows
}

/// The number a field holds.
fn number(text: &str) -> f64 {
    text.parse().unwrap_or_else(|_| panic!("`{text}` is no number"))
}

/// The exact number a field holds.
fn exact(text: &str) -> Exact {
    Exact::from(text.parse::<rust_decimal::Decimal>().unwrap_or_else(|_| panic!("`{text}` is no decimal")))
}

/// The exact numbers of a field, apart by semicolons.
fn list(text: &str) -> Vec<Exact> {
    text.split(';').map(exact).collect()
}

/// Fails when `got` is further from `want` than `relative` of it (or than `absolute`, for what should be zero).
#[track_caller]
fn close(what: &str, got: f64, want: f64, (relative, absolute): (f64, f64)) {
    let off = (got - want).abs();
    assert!(off <= relative * want.abs() || off <= absolute, "{what}: got {got:e}, expected {want:e}");
}

/// Digits that agree: the logarithm of the relative error.
fn lre(got: f64, want: f64) -> f64 {
    if got.to_bits() == want.to_bits() { 16.0 } else { -((got - want) / want).abs().log10() }
}
