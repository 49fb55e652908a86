//! asfound: a guided turbocharger rotor inspection, judged against the manual's limits, kept in one dated record.
//!
//! Three layers, one way: `face` may name `records` and `domain`, `records` may name `domain`, `domain` names nobody.
//! `report` stands beside `records`: domain in, text out. `cli` takes the words of the command line and calls them all.
//! `tests/it/layers.rs` fails when the rule is broken.

pub mod cli;
pub mod demo;
pub mod domain;
pub mod exit;
pub mod face;
pub mod records;
pub mod report;
