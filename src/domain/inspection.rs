//! One inspection: its head, and the fold over its entries.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use super::characteristic::Characteristic;
use super::checklist::Checklist;
use super::entry::Entry;
use super::exact::Exact;
use super::figure::Figure;
use super::id::Id;
use super::instrument::Instrument;
use super::person::Person;
use super::rotor::{Fitted, Rotor};
use super::sheet::Sheet;
use super::stamp::Stamp;

/// How the rotor comes to the bench.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Arrives {
    /// The machine is opened where it stands.
    InPlace,
    /// As a cartridge.
    Cartridge,
    /// Already taken apart: as-found readings are lost.
    Stripped,
}

impl Arrives {
    /// Every way.
    pub const ALL: [Self; 3] = [Self::InPlace, Self::Cartridge, Self::Stripped];

    /// The word in files.
    pub fn word(self) -> &'static str {
        match self {
            Self::InPlace => "in place",
            Self::Cartridge => "cartridge",
            Self::Stripped => "stripped",
        }
    }

    /// The way a word in a file means.
    pub fn parse(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|one| one.word() == word)
    }
}

/// What is asked when a rotor is opened; whatever is missing is "later", and a hold until given.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Opening {
    /// Why it is opened.
    pub reason: Option<String>,
    /// How it comes.
    pub arrives: Option<Arrives>,
    /// Hours of the machine.
    pub machine_hours: Option<Figure>,
    /// Hours of each part since new.
    pub part_hours: BTreeMap<String, Figure>,
    /// The manual, asked afresh.
    pub manual: Option<Manual>,
    /// Service letters looked up: which, or that there are none.
    pub letters: Option<String>,
    /// Machine hours planned for the next opening.
    pub next_hours: Option<Figure>,
    /// The day planned for it.
    pub next_date: Option<NaiveDate>,
}

/// The manual as it lay on the bench.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Manual {
    /// Its title.
    pub title: String,
    /// Its edition.
    pub edition: String,
    /// The day somebody looked whether it is in force.
    pub checked: NaiveDate,
}

/// Where the record before this one stood when this one began; it may have grown since.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Previous {
    /// Its id.
    pub inspection: String,
    /// Its last entry then.
    pub entry: u32,
    /// The chain value there.
    pub chain: String,
}

/// One characteristic at an earlier opening.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Past {
    /// The inspection's id.
    pub inspection: String,
    /// Its day.
    pub date: NaiveDate,
    /// What was judged.
    pub characteristic: Characteristic,
    /// Hours of the part then.
    pub hours: Figure,
    /// The figure that counted, in the characteristic's unit.
    pub value: Exact,
    /// Its standard uncertainty in that unit, as a decimal; none known.
    pub u: Option<Exact>,
    /// The place that counted.
    pub place: Option<String>,
    /// As left with a new part, from which the hours run.
    pub as_left: bool,
}

/// Whether the rotor exists.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Scene {
    /// A machine of somebody's.
    Real,
    /// Belongs to a demonstration or a test; every screen and file says so.
    Invented,
    /// A rehearsal with hidden faults, for learning.
    Practice,
}

/// All that is written before the first entry, and never changed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Head {
    /// `DEMO-1/2024-07-12-overhaul`; this counts, not the file's name.
    pub id: String,
    /// When it was begun.
    pub begun: Stamp,
    /// Who began it.
    pub by: Id,
    /// Whether it is a real machine.
    pub scene: Scene,
    /// The record before.
    pub previous: Option<Previous>,
    /// The rotor as known then.
    pub rotor: Rotor,
    /// The opening answers.
    pub opened: Opening,
    /// Whole, as in force.
    pub checklist: Checklist,
    /// Whole, as in force; a machine type without one can be inspected, everything stays open.
    pub sheet: Option<Sheet>,
    /// Whole.
    pub instruments: Vec<Instrument>,
    /// Whole.
    pub people: Vec<Person>,
    /// Earlier openings, so that the record stands alone.
    pub history: Vec<Past>,
    /// Parts fitted when it began.
    pub parts: BTreeMap<String, Fitted>,
}

/// The inspection after some entry.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Inspection {
    head: Head,
    entries: Vec<Entry>,
}

impl Inspection {
    /// The inspection before its first entry.
    pub fn new(head: Head) -> Self {
        Self { head, entries: Vec::new() }
    }

    /// What was written before the first entry.
    pub fn head(&self) -> &Head {
        &self.head
    }

    /// Every entry so far, struck ones included.
    pub fn entries(&self) -> &[Entry] {
        &self.entries
    }
}
