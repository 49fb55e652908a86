//! Files: what is read, what is refused and with which words, what is written.

mod checklists;
mod samples;
mod speed;
mod yaml;
