//! What the model asks of the world outside, and what comes back. Data only: `run` and `writer` do it.

use std::collections::BTreeMap;
use std::fmt;
use std::sync::Arc;

use chrono::NaiveDate;

use crate::domain::entry::{Act, Entry, PhotoRef};
use crate::domain::id::Id;
use crate::domain::inspection::{Inspection, Scene};
use crate::domain::person::Person;
use crate::domain::review::Wait;
use crate::domain::signing::Seal;
use crate::records::paper::{Beside, Kind};
use crate::records::store::Leaf;
use crate::records::store::{Draft, HalfForm};

use super::acts::begin::{Beginning, Known};
use super::half::Half;
use super::reviewing::Reading;

/// Something to be done outside the model.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Effect {
    /// These entries go to the disk, behind those that wait already.
    Save(Vec<Entry>),
    /// The waiting ones are tried again.
    Retry,
    /// Half-typed fields and the place are kept.
    Keep(Half),
    /// Something is asked.
    Ask(Box<Query>),
    /// Something is asked of a program that needs the terminal: the screen is handed over and taken back whole.
    HandOver(Box<Query>),
    /// The record is put down: its lock goes.
    PutDown,
    /// The program ends with this status.
    End(u8),
}

/// Something asked of the files.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Query {
    /// The first screen.
    Home,
    /// A record, to go on with.
    Open(String),
    /// A record's file, to go on with, and who stands for what is entered.
    OpenAs(String, Id),
    /// A record, to read: its id or its file, and who reads it, where that was said.
    Read(String, Option<Id>),
    /// These go behind the record that is read, in one save.
    Deed {
        /// Its file.
        file: String,
        /// Who does it.
        by: Id,
        /// What is done.
        acts: Vec<Act>,
        /// The chain value behind the last entry that was shown.
        shown: String,
    },
    /// What holds of a record: its file.
    Verify(String),
    /// Records that wait for a decision.
    Waiting,
    /// A new record.
    Begin(Box<Beginning>),
    /// A picture taken in: by its path, or the newest of the watched folder.
    Photo(Option<String>),
    /// The record and what waits go into another folder, and work goes on there.
    Move(String),
    /// A copy of the record with what waits is written elsewhere.
    Copy(String),
    /// Length and hash of all that is on the disk, and photos that are lost, for a signature.
    Seal,
    /// An entry of the open record signed with the key of this file, by `ssh-keygen`.
    Key(u32, String),
    /// The same of a record that is read: its file, the entry, the key's file.
    KeyOf(String, u32, String),
    /// Every file of a kind.
    Register(Kind),
    /// The same, one of them opened at once.
    Fill(Kind, Wanted),
    /// The draft of this name is thrown away.
    Discard(Kind, String),
    /// A file that was filled in.
    Put(Box<PaperPut>),
}

/// An answer of the files.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Answer {
    /// The first screen.
    Home(Result<Box<HomeFacts>, Fault>),
    /// A record opened or begun.
    Opened(Result<Box<Opened>, Fault>),
    /// A record to read.
    Read(Result<Box<Reading>, Fault>),
    /// The record as it reads after something was put behind it.
    Deed(Result<Box<Reading>, Fault>),
    /// Nothing was put behind it, for it reads otherwise by now: what came since.
    Grown(Box<Reading>, Fault),
    /// What holds of a record, what does not, what cannot be seen.
    Verified(Vec<String>),
    /// Records that wait for a decision, the most pressing first; what is wrong with those that cannot be read.
    Waiting(Result<(Vec<Waits>, Vec<Unread>), Fault>),
    /// A picture.
    Photo(Result<PhotoRef, Fault>),
    /// Where it went.
    Elsewhere(Result<String, Fault>),
    /// What a signature must state.
    Seal(Result<Seal, Fault>),
    /// A signature by key: where it is kept, and what is wanted before others can tell whose it is.
    Key(Result<String, Fault>),
    /// The same of a record that is read, and how it reads now.
    Keyed(String, Result<Box<Reading>, Fault>),
    /// Every file of a kind.
    Register(Result<Register, Fault>),
    /// A file that was filled in is on the disk, or is not.
    Put(Box<PaperPut>, Result<(), Fault>),
}

/// A file as filled in, for the disk.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PaperPut {
    /// What it is.
    pub kind: Kind,
    /// The name of its draft.
    pub draft: String,
    /// The name of its file when it is complete; none: it is kept as a draft.
    pub name: Option<String>,
    /// Its text.
    pub text: String,
    /// The text in use before, as this program knows it.
    pub before: Option<String>,
    /// Names of drafts that count no more, to be put aside.
    pub void: Vec<String>,
}

/// A file that is asked for by name.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Wanted {
    /// Its name.
    pub name: String,
    /// Who types it a second time, where it is that.
    pub second: Option<String>,
}

/// Every file of a kind, and what forms need to know besides.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Register {
    /// Which kind.
    pub kind: Kind,
    /// The files, then the draft of a new one.
    pub leaves: Vec<Leaf>,
    /// By file: what its form tells besides.
    pub told: BTreeMap<String, Vec<String>>,
    /// Everybody.
    pub people: Vec<Person>,
    /// What instruments and rotors are set against.
    pub beside: Arc<Beside>,
    /// The day on which it was asked for.
    pub day: NaiveDate,
    /// The file that is opened at once.
    pub wanted: Option<Wanted>,
    /// Whether the folder's rotors exist.
    pub scene: Scene,
}

impl Default for Register {
    fn default() -> Self {
        Self {
            kind: Kind::People,
            leaves: Vec::new(),
            told: BTreeMap::new(),
            people: Vec::new(),
            beside: Arc::default(),
            day: NaiveDate::default(),
            wanted: None,
            scene: Scene::Real,
        }
    }
}

/// An opened record.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Opened {
    /// It, every entry applied.
    pub inspection: Inspection,
    /// The half-typed fields and the place, where somebody left.
    pub draft: Option<Box<Draft>>,
    /// A break longer than this many hours has the safety points asked again.
    pub break_hours: u32,
    /// The entry from which on it was changed outside; 0 when its line ends were turned. Nothing is written before
    /// somebody has said that it was seen.
    pub outside: Option<u32>,
    /// What the folder's own files hold besides.
    pub files: super::acts::Files,
    /// Something to be said about it, such as what a save that was cut off left beside it.
    pub remark: Option<String>,
}

/// Why something could not be done: what, and how to mend it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fault {
    /// What went wrong, where.
    pub what: String,
    /// What can be done about it.
    pub mend: String,
}

impl fmt::Display for Fault {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "{} {}", self.what, self.mend)
    }
}

/// What the first screen shows.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct HomeFacts {
    /// Inspections begun and not closed.
    pub going: Vec<Going>,
    /// Records that wait for somebody.
    pub waiting: Vec<Waiting>,
    /// What is due next.
    pub due: Vec<Due>,
    /// What is wrong: a gauge past its date, no room on the disk.
    pub wrong: Vec<String>,
    /// Rotors, people and checklists.
    pub known: Known,
    /// The answers with which an inspection was being begun.
    pub begun: Option<HalfForm>,
    /// Forms of the registers that were left half done.
    pub half_done: Vec<String>,
    /// Where the files lie.
    pub folder: String,
    /// Room on that disk, `41 GB free`; empty where the system does not say.
    pub room: String,
    /// Whether its rotors exist.
    pub scene: Scene,
}

/// A record that waits for a decision.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Waits {
    /// For which.
    pub wait: Wait,
    /// Its id.
    pub inspection: String,
    /// Whether its rotor exists.
    pub scene: Scene,
    /// In words.
    pub words: String,
    /// Its file.
    pub file: String,
}

impl Waits {
    /// Before the words, where the rotor does not exist.
    pub fn mark(&self) -> &'static str {
        match self.scene {
            Scene::Real => "",
            Scene::Invented | Scene::Practice => "INVENTED: ",
        }
    }
}

/// A record that cannot be read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unread {
    /// Its file, as the data folder names it.
    pub file: String,
    /// Every fault.
    pub why: String,
}

/// An inspection to go on with.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Going {
    /// Its file: an id may stand in two.
    pub file: String,
    /// The rotor.
    pub rotor: String,
    /// `overhaul, begun today by fitter A`.
    pub what: String,
    /// `step 31 of 62`.
    pub step: String,
    /// `stopped at: bush turbine side, inner 0, third UP, 0.23 in the field`.
    pub stopped: Option<String>,
    /// A running soak each.
    pub soaks: Vec<String>,
}

/// A record that waits.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Waiting {
    /// Its file: an id may stand in two.
    pub file: String,
    /// The rotor.
    pub rotor: String,
    /// What it is.
    pub what: String,
    /// For whom or what.
    pub whom: String,
    /// Whether it came back with remarks, to be gone on with; else it is read.
    pub is_returned: bool,
}

/// Something due.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Due {
    /// The rotor.
    pub rotor: String,
    /// The part or the task.
    pub what: String,
    /// Running hours from now.
    pub hours: String,
    /// By the calendar.
    pub date: String,
    /// For how long it has been due.
    pub overdue: Option<String>,
    /// Why.
    pub because: String,
}
