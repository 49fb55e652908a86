//! Words of the verbs that read records and change none.

use clap::Args;

/// Words of `asfound due`.
#[derive(Debug, Args)]
pub(in crate::cli) struct Due {
    /// For programs.
    #[arg(long)]
    pub(in crate::cli) json: bool,
}

/// Words of `asfound trend`.
#[derive(Debug, Args)]
pub(in crate::cli) struct Trend {
    /// A record's id or file, or a rotor's id for its latest.
    #[arg(value_name = "RECORD | ROTOR")]
    pub(in crate::cli) record: String,
    /// One characteristic, bush.ts.clearance; else all.
    pub(in crate::cli) characteristic: Option<String>,
    /// For programs.
    #[arg(long)]
    pub(in crate::cli) json: bool,
}

/// Words of `asfound export`.
#[derive(Debug, Args)]
pub(in crate::cli) struct Export {
    /// Which table; without it all, each line with its table's name.
    pub(in crate::cli) table: Option<String>,
    /// CSV of one table; else newline JSON.
    #[arg(long)]
    pub(in crate::cli) csv: bool,
}

/// Words of `asfound report`.
#[derive(Debug, Args)]
pub(in crate::cli) struct Report {
    /// The record's id or file.
    pub(in crate::cli) record: String,
}

/// Words of `asfound refer` and `asfound spares`.
#[derive(Debug, Args)]
pub(in crate::cli) struct OfRecord {
    /// The record's id or file.
    pub(in crate::cli) record: String,
    /// For programs.
    #[arg(long)]
    pub(in crate::cli) json: bool,
}

/// Words of `asfound blank`.
#[derive(Debug, Args)]
pub(in crate::cli) struct Blank {
    /// The checklist; without it the overhaul.
    pub(in crate::cli) checklist: Option<String>,
    /// Levels of this machine, and only its own steps.
    #[arg(long, value_name = "MACHINE | FILE")]
    pub(in crate::cli) machine: Option<String>,
    /// The same for this rotor, its id on every page.
    #[arg(long, conflicts_with = "machine")]
    pub(in crate::cli) rotor: Option<String>,
}
