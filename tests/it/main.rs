//! The one test binary: the program from outside, files on the disk, figures against published values.
#![allow(clippy::allow_attributes, reason = "not every exception below is met in every state of the tests")]
#![allow(
    clippy::pedantic,
    clippy::string_slice,
    clippy::wildcard_enum_match_arm,
    clippy::fn_params_excessive_bools,
    clippy::as_conversions,
    clippy::print_stdout,
    clippy::too_many_lines,
    clippy::zombie_processes,
    reason = "a test says one thing in one place; a table of cases is long, and what is sliced is known text"
)]
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test may stop dead"
)]
#![allow(clippy::disallowed_methods, clippy::disallowed_types, reason = "a test stands outside the layers")]

mod bench;
mod content;
mod export;
mod files;
mod house;
mod inspection;
mod layers;
mod papers;
mod plain;
mod reckon;
mod reckon_float;
mod review;
mod rig;
mod sources;
mod words;
