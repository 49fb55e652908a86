//! The terminal: what the fitter sees and types. Asks `domain`, has `records` write, knows no limit itself.
//!
//! `update` changes the model and touches nothing else; `view` draws it and changes nothing; `run`, `writer` and
//! `terminal` alone reach outside. Keys, footer, help screen and docs come from the one table in `action`.

pub mod action;
pub mod acts;
mod asking;
mod ear;
pub mod effect;
pub mod field;
pub mod filling;
pub mod form;
pub mod glyphs;
pub mod half;
pub mod input;
pub mod inquiry;
pub mod job;
pub mod keymap;
pub mod look;
pub mod message;
pub mod model;
pub mod pen;
pub mod plain;
pub mod reviewing;
pub mod run;
pub mod saving;
pub mod screen;
pub mod shelf;
pub mod shown;
pub mod talk;
mod terminal;
pub mod typing;
pub mod update;
pub mod view;
pub mod widget;
pub mod writer;
