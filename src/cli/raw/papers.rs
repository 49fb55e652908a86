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
    /// The record's id or file, or a rotor's id for its latest record.
    #[arg(value_name = "RECORD | ROTOR")]
    pub(in crate::cli) record: String,
    /// One characteristic, as in bush.ts.clearance; without it all that have a forecast.
    pub(in crate::cli) characteristic: Option<String>,
    /// For programs.
    #[arg(long)]
    pub(in crate::cli) json: bool,
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
    /// A machine type or its sheet's file: every grid gets its rows, and the levels stand below it.
    #[arg(long, value_name = "MACHINE | FILE")]
    pub(in crate::cli) machine: Option<String>,
}
