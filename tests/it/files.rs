//! Files: what is read, what is refused and with which words, what is written.

mod aside;
mod at_once;
mod begun;
mod checklists;
mod edit;
mod endless;
mod faults;
mod format_1;
mod own;
mod paper;
pub(crate) mod samples;
mod schemas;
mod second_reader;
mod slips;
mod store;
mod strict;
mod tables;
mod told;
mod trust;
mod typed;
mod writing;
mod yaml;
