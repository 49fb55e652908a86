//! Domain in, text out: records for people and for programs. No file, no clock, no terminal.

pub mod json;
pub mod record;
pub mod trend;
