//! The trade, and nothing else: no file, no clock, no terminal, no global. Functions from values to values.

pub mod exact;
pub mod figure;
pub mod refusal;
pub mod typed;
pub mod unit;
