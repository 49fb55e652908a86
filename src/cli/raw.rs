//! The words as typed, before anything is known about them: `--help` works in a broken folder.

mod own;
mod papers;

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand};

use crate::domain::id::Id;
use crate::domain::inspection::Arrives;

pub(super) use own::{Checklist, ChecklistVerb, Fill, Sheet, SheetExport, SheetImport, SheetVerb};
pub(super) use papers::{Blank, Due, Export, OfRecord, Report, Trend};

/// Guided turbocharger rotor inspection, judged at once, kept in dated records.
#[derive(Debug, Parser)]
#[command(name = "asfound", version, disable_help_subcommand = true)]
pub(super) struct Words {
    /// Data folder; else `ASFOUND_DATA` or the usual.
    #[arg(long, global = true, value_name = "DIR")]
    pub(super) data: Option<PathBuf>,
    #[command(subcommand)]
    pub(super) verb: Option<Verb>,
}

#[derive(Debug, Subcommand)]
pub(super) enum Verb {
    /// The invented rotor, with its history, ready to be inspected.
    Demo(Demo),
    /// An invented rotor with hidden faults, to learn on.
    Practise(Practise),
    /// Begin an inspection.
    Begin(Box<Begin>),
    /// Go on with an inspection where somebody left.
    Resume(Resume),
    /// Print a record.
    Show(Show),
    /// Read every file and list all that is wrong.
    Check(Files),
    /// Any computation of the job, with its working.
    Reckon(Reckon),
    /// What waits for a decision; one record, to countersign or send back.
    Review(Review),
    /// What holds of records, what was changed, whose signature is good.
    Verify(Verify),
    /// Takes in a copy of a record that went on elsewhere, photos too.
    Bring(Bring),
    /// What an instrument touched, for the day it is found wrong.
    Where(Where),
    /// What is due next on every rotor, and why.
    Due(Due),
    /// How a part wears, and whether it lasts to the next opening.
    Trend(Trend),
    /// Fill in people, instruments, limits sheets, rotors, checklists.
    Fill(Fill),
    /// A record as HTML, to print, countersign and send.
    Report(Report),
    /// What a record refers to the maker, with the evidence, as a letter.
    Refer(OfRecord),
    /// What a record says is to be ordered.
    Spares(OfRecord),
    /// The empty forms of a checklist as HTML, for use on paper.
    Blank(Blank),
    /// The records as tables, for an engine that analyses many.
    Export(Export),
    /// A limits sheet as a table for spreadsheets, out and in.
    Sheet(Sheet),
    /// A checklist of your own, begun as a copy.
    Checklist(Checklist),
}

/// Whether a screen is wanted.
#[derive(Debug, Args, Default, Clone, Copy)]
pub(super) struct Plain {
    /// Line by line, without a screen.
    #[arg(long)]
    pub(super) plain: bool,
}

/// Words of `asfound demo`.
#[derive(Debug, Args)]
#[expect(clippy::struct_excessive_bools, reason = "flags as typed; what they mean is settled in cli/demo")]
pub(super) struct Demo {
    /// Set the former one aside and start again; asks first.
    #[arg(long)]
    pub(super) fresh: bool,
    /// Fill in the present readings as a key script would.
    #[arg(long)]
    pub(super) typed: bool,
    #[command(flatten)]
    pub(super) plain: Plain,
}

/// Words of `asfound practise`.
#[derive(Debug, Args)]
#[expect(clippy::struct_excessive_bools, reason = "flags as typed; what they mean is settled in cli/practise")]
pub(super) struct Practise {
    /// Print what the gauges show and the eye sees.
    #[arg(long, conflicts_with = "debrief")]
    pub(super) bench: bool,
    /// Print what was hidden beside what was found.
    #[arg(long)]
    pub(super) debrief: bool,
    #[command(flatten)]
    pub(super) plain: Plain,
}

/// Words of `asfound begin`; what is missing is asked line by line.
#[derive(Debug, Args, Default)]
#[expect(clippy::struct_excessive_bools, reason = "flags as typed; what they mean is settled in cli/begin")]
pub(super) struct Begin {
    /// The rotor's id.
    pub(super) rotor: Option<Id>,
    /// Serial number, typed from the part.
    #[arg(long)]
    pub(super) serial: Option<String>,
    /// Who begins, by id.
    #[arg(long, value_name = "ID")]
    pub(super) by: Option<Id>,
    /// Hours of the machine, such as `48480`.
    #[arg(long)]
    pub(super) hours: Option<String>,
    /// Of parts: `bush.ts 9000`, `as known` or `later`.
    #[arg(long, value_name = "HOURS")]
    pub(super) part_hours: Option<String>,
    /// Which checklist.
    #[arg(long)]
    pub(super) checklist: Option<String>,
    /// Why it is opened.
    #[arg(long)]
    pub(super) reason: Option<String>,
    /// How it comes: `in place`, cartridge, stripped.
    #[arg(long, value_parser = arrives)]
    pub(super) arrives: Option<Arrives>,
    /// Title of the manual on the bench.
    #[arg(long)]
    pub(super) manual: Option<String>,
    /// Its edition, looked up today.
    #[arg(long)]
    pub(super) edition: Option<String>,
    /// Service letters looked up, or `no letters`.
    #[arg(long)]
    pub(super) letters: Option<String>,
    /// Machine hours planned for the next opening.
    #[arg(long)]
    pub(super) next_hours: Option<String>,
    /// The day planned for it.
    #[arg(long, value_name = "DAY")]
    pub(super) next_date: Option<String>,
    /// Other answers later, the checklist overhaul.
    #[arg(long)]
    pub(super) later: bool,
    /// A new rotor is invented; everything says so.
    #[arg(long)]
    pub(super) invented: bool,
    #[command(flatten)]
    pub(super) plain: Plain,
}

impl Begin {
    /// Nothing but the rotor said.
    pub(super) fn of_rotor(rotor: &str, plain: Plain) -> Self {
        Self { rotor: rotor.parse().ok(), plain, ..Self::default() }
    }
}

fn arrives(word: &str) -> Result<Arrives, String> {
    let words = Arrives::ALL.map(Arrives::word).join(", ");
    Arrives::parse(word).ok_or_else(|| format!("write one of: {words}"))
}

/// Words of `asfound resume`.
#[derive(Debug, Args)]
pub(super) struct Resume {
    /// The record's id or file; without it the only one that is not closed.
    pub(super) record: Option<String>,
    /// Who stands for what is entered, by id; else who worked last.
    #[arg(long, value_name = "ID")]
    pub(super) by: Option<Id>,
    #[command(flatten)]
    pub(super) plain: Plain,
}

/// Words of `asfound show`.
#[derive(Debug, Args)]
pub(super) struct Show {
    /// The record's file or id.
    #[arg(value_name = "FILE")]
    pub(super) record: String,
    /// For programs.
    #[arg(long)]
    pub(super) json: bool,
}

/// Words of `asfound check`.
#[derive(Debug, Args)]
pub(super) struct Files {
    /// Files; without them the whole data folder.
    #[arg(value_name = "FILE")]
    pub(super) files: Vec<PathBuf>,
    /// For programs.
    #[arg(long)]
    pub(super) json: bool,
}

/// Words of `asfound review`.
#[derive(Debug, Args)]
pub(super) struct Review {
    /// The record's file or id; else what waits for a decision.
    pub(super) record: Option<String>,
    #[command(flatten)]
    pub(super) plain: Plain,
    /// Who reviews; needed to countersign line by line.
    #[arg(long = "as", value_name = "ID")]
    pub(super) by: Option<Id>,
}

/// Words of `asfound verify`.
#[derive(Debug, Args)]
pub(super) struct Verify {
    /// Records, by file or id; without any, all of the data folder.
    pub(super) records: Vec<String>,
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

/// Words of `asfound where`.
#[derive(Debug, Args)]
pub(super) struct Where {
    /// The instrument's id.
    pub(super) instrument: Id,
    /// For programs.
    #[arg(long)]
    pub(super) json: bool,
}

/// Words of `asfound reckon`.
#[derive(Debug, Args)]
#[command(disable_help_flag = true)]
#[expect(clippy::struct_excessive_bools, reason = "two flags, as typed; what they mean is settled in cli/reckon")]
pub struct Reckon {
    /// Which, `lift` or `lift/1`; else all are listed.
    pub(super) name: Option<String>,
    /// Its keys, a YAML or JSON file, or `-` for stdin.
    #[arg(value_name = "key=value | FILE | -")]
    pub(super) given: Vec<String>,
    /// Print the result for programs, with all digits.
    #[arg(long)]
    pub(super) json: bool,
    /// What the reckoning takes and gives, and a worked example.
    #[arg(short, long)]
    pub(super) help: bool,
}
