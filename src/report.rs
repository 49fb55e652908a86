//! Domain in, text out: records for people and for programs, papers to print. No file, no clock, no terminal.

pub mod blank;
pub mod countersign;
pub mod export;
pub mod json;
pub mod lists;
mod paper;
pub mod record;
pub mod trend;
