//! The trade, and nothing else: no file, no clock, no terminal, no global. Functions from values to values.

pub mod characteristic;
pub mod checklist;
pub mod doubt;
pub mod entry;
pub mod exact;
pub mod figure;
pub mod id;
pub mod inspection;
pub mod instrument;
pub mod person;
pub mod phase;
pub mod reckon;
pub mod refusal;
pub mod request;
pub mod rotor;
pub mod sheet;
pub mod stamp;
pub mod typed;
pub mod unit;
pub mod verdict;
