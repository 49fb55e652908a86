//! Files on the disk and the clock: the only layer that touches either. Hands out domain types.
//!
//! `yaml` reads and writes the notation, `form` lets a file kind describe itself once for both ways, `words` holds the
//! scalars of the trade, `file` what all files begin with. One `*_file` module for each kind of file.

pub mod bring;
pub mod check;
pub mod checklist_file;
pub mod clock;
mod durable;
pub mod edit;
pub mod entry_file;
pub mod figures;
pub mod file;
pub mod form;
pub mod head_file;
pub mod inspection_file;
pub mod instrument_file;
pub mod key;
pub mod lock;
pub mod paper;
pub mod people_file;
mod reading;
pub mod rotor_file;
pub mod save_fault;
pub mod schema;
pub mod seal;
pub mod settings_file;
pub mod sheet_file;
pub mod sheet_table;
pub mod store;
pub mod verify;
pub mod words;
pub mod yaml;
