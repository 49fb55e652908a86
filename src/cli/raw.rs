//! The words as typed, before anything is known about them: `--help` works in a broken folder.

use clap::{Args, Parser, Subcommand};

/// Guided turbocharger rotor inspection: readings judged against the manual's limits, kept in one dated record.
#[derive(Debug, Parser)]
#[command(name = "asfound", version, disable_help_subcommand = true)]
pub(super) struct Words {
    #[command(subcommand)]
    pub(super) verb: Option<Verb>,
}

#[derive(Debug, Subcommand)]
pub(super) enum Verb {
    /// Any computation of the job, with its working.
    Reckon(Reckon),
}

/// Words of `asfound reckon`.
#[derive(Debug, Args)]
#[command(disable_help_flag = true)]
#[expect(clippy::struct_excessive_bools, reason = "two flags, as typed; what they mean is settled in cli/reckon")]
pub struct Reckon {
    /// Which reckoning, `lift` or `lift/1`; without it all are listed.
    pub(super) name: Option<String>,
    /// `key=value ...`, or a YAML or JSON file, or `-` for stdin.
    #[arg(value_name = "key=value | FILE | -")]
    pub(super) given: Vec<String>,
    /// Print the result for programs, with all digits.
    #[arg(long)]
    pub(super) json: bool,
    /// What the reckoning takes and gives, and a worked example.
    #[arg(short, long)]
    pub(super) help: bool,
}
