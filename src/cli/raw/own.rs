//! Words of the verbs for one's own machine.

use std::path::PathBuf;

use clap::{Args, Subcommand};

use crate::domain::id::Id;

use super::Plain;

/// Words of `asfound fill`.
#[derive(Debug, Args)]
pub(in crate::cli) struct Fill {
    /// people, instruments, sheets, rotors or checklists.
    pub(in crate::cli) kind: String,
    /// Which one; without it a new one, or the draft of one.
    pub(in crate::cli) name: Option<String>,
    /// A sheet typed again, blind, by this person.
    #[arg(long, value_name = "PERSON")]
    pub(in crate::cli) second: Option<String>,
    #[command(flatten)]
    pub(in crate::cli) plain: Plain,
}

/// Words of `asfound sheet`.
#[derive(Debug, Args)]
pub(in crate::cli) struct Sheet {
    #[command(subcommand)]
    pub(in crate::cli) what: SheetVerb,
}

#[derive(Debug, Subcommand)]
pub(in crate::cli) enum SheetVerb {
    /// Print a sheet as CSV; semicolons where the settings say decimal comma.
    Export(SheetExport),
    /// Show what a table would change, and change it after yes.
    Import(SheetImport),
}

/// Words of `asfound sheet export`.
#[derive(Debug, Args)]
pub(in crate::cli) struct SheetExport {
    /// The machine type, or the sheet's file.
    #[arg(value_name = "MACHINE | FILE")]
    pub(in crate::cli) sheet: String,
}

/// Words of `asfound sheet import`.
#[derive(Debug, Args)]
#[expect(clippy::struct_excessive_bools, reason = "two flags, as typed; what they mean is settled in cli/sheet")]
pub(in crate::cli) struct SheetImport {
    /// The table: CSV, with commas, semicolons or tabs.
    #[arg(value_name = "FILE.csv")]
    pub(in crate::cli) file: PathBuf,
    /// Who typed the table, by id or name; else it is asked.
    #[arg(long, value_name = "PERSON")]
    pub(in crate::cli) by: Option<String>,
    /// Change it without asking.
    #[arg(long)]
    pub(in crate::cli) yes: bool,
    /// For programs; nothing is changed without `--yes`.
    #[arg(long)]
    pub(in crate::cli) json: bool,
}

/// Words of `asfound checklist`.
#[derive(Debug, Args)]
pub(in crate::cli) struct Checklist {
    #[command(subcommand)]
    pub(in crate::cli) what: ChecklistVerb,
}

#[derive(Debug, Subcommand)]
pub(in crate::cli) enum ChecklistVerb {
    /// Copy one into the data folder, comments kept.
    Copy(ChecklistCopy),
}

/// Words of `asfound checklist copy`.
#[derive(Debug, Args)]
pub(in crate::cli) struct ChecklistCopy {
    /// The checklist: overhaul, bearing, cleaning, or one of your own.
    pub(in crate::cli) name: String,
    /// What the copy is called; without it the same, before the program's.
    pub(in crate::cli) new: Option<Id>,
}
