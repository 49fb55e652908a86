//! The words as typed, before anything is known about them: `--help` works in a broken folder.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand};

/// Guided turbocharger rotor inspection: readings judged against the manual's limits, kept in one dated record.
#[derive(Debug, Parser)]
#[command(name = "asfound", version, disable_help_subcommand = true)]
pub(super) struct Words {
    /// The data folder.
    #[arg(long, global = true, value_name = "DIR")]
    pub(super) data: Option<PathBuf>,
    #[command(subcommand)]
    pub(super) verb: Option<Verb>,
}

#[derive(Debug, Subcommand)]
pub(super) enum Verb {
    /// Any computation of the job, with its working.
    Reckon(Reckon),
    /// What waits for a decision; or one record, to judge, countersign or send back.
    Review(Review),
    /// What holds of records, what was changed, whose signature is good.
    Verify(Verify),
    /// Takes in a copy of a record that went on elsewhere, photos too.
    Bring(Bring),
}

/// Words of `asfound review`.
#[derive(Debug, Args)]
pub(super) struct Review {
    /// The record; without one, what waits for a decision.
    pub(super) file: Option<PathBuf>,
    /// Line by line; answers come from the input, or from a file.
    #[arg(long)]
    pub(super) plain: bool,
    /// Who reviews; needed to countersign or send back.
    #[arg(long = "as", value_name = "ID")]
    pub(super) by: Option<String>,
}

/// Words of `asfound verify`.
#[derive(Debug, Args)]
pub(super) struct Verify {
    /// Records; without any, all of the data folder.
    pub(super) files: Vec<PathBuf>,
    /// For programs.
    #[arg(long)]
    pub(super) json: bool,
}

/// Words of `asfound bring`.
#[derive(Debug, Args)]
pub(super) struct Bring {
    /// The copy: a file on a stick.
    pub(super) file: PathBuf,
    /// Who brings it; else who made the last entry here.
    #[arg(long = "as", value_name = "ID")]
    pub(super) by: Option<String>,
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
