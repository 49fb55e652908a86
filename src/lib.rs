//! asfound: a guided turbocharger rotor inspection, judged against the manual's limits, kept in one dated record.
//!
//! Three layers, one way: `face` may name `records` and `domain`, `records` may name `domain`, `domain` names nobody.
//! `report` stands beside `records`: domain in, text out. `tests/it/layers.rs` fails when the rule is broken.

pub mod domain;
