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
