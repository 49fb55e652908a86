//! A sentence of the check, and what a program takes from it without reading words.

use super::super::inspection_file::{Break, Flaw};

/// Whether a sentence speaks for or against a record.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sign {
    /// It holds.
    Holds,
    /// It does not.
    Fault,
    /// No check can see it.
    Unseen,
    /// It is there to be checked, and could not be: nothing rests on it.
    Unchecked,
}

impl Sign {
    /// As it stands before the sentence.
    pub fn mark(self) -> char {
        match self {
            Self::Holds => '+',
            Self::Fault => 'X',
            Self::Unseen | Self::Unchecked => '?',
        }
    }

    /// Its word.
    pub fn word(self) -> &'static str {
        match self {
            Self::Holds => "holds",
            Self::Fault => "fault",
            Self::Unseen => "not seen",
            Self::Unchecked => "not checked",
        }
    }
}

/// What a sentence is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// The file as a whole.
    File,
    /// The chain of entries.
    Chain,
    /// One place where it breaks.
    Break(Flaw),
    /// Length and hash that a signature states.
    Seal,
    /// A signature by key.
    Key,
    /// A countersignature or a return.
    Countersign,
    /// An overruling, a concession, an answer.
    Decision,
    /// Somebody who decided as a supervisor.
    Person,
    /// The original of a brought entry.
    Brought,
    /// A picture.
    Photo,
    /// Another record of the rotor.
    Record,
    /// The note of this data folder.
    Note,
    /// The end of the record.
    Tail,
}

impl Kind {
    /// Its word.
    pub fn word(self) -> &'static str {
        match self {
            Self::File => "file",
            Self::Chain => "chain",
            Self::Break(flaw) => flaw.word(),
            Self::Seal => "seal",
            Self::Key => "key",
            Self::Countersign => "countersign",
            Self::Decision => "decision",
            Self::Person => "person",
            Self::Brought => "brought",
            Self::Photo => "photo",
            Self::Record => "record",
            Self::Note => "note",
            Self::Tail => "tail",
        }
    }
}

/// A sentence.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Told {
    /// For or against.
    pub sign: Sign,
    /// What it is about.
    pub kind: Kind,
    /// The entry, by its number.
    pub entry: Option<u32>,
    /// The entry's place in the file, from 1.
    pub place: Option<u32>,
    /// Who, which picture, which record.
    pub name: Option<String>,
    /// The sentence.
    pub what: String,
}

impl Told {
    pub(super) fn new(sign: Sign, kind: Kind, what: impl Into<String>) -> Self {
        Self { sign, kind, entry: None, place: None, name: None, what: what.into() }
    }

    pub(super) fn at(self, entry: u32) -> Self {
        Self { entry: Some(entry), ..self }
    }

    pub(super) fn named(self, name: &impl ToString) -> Self {
        Self { name: Some(name.to_string()), ..self }
    }
}

impl From<&Break> for Told {
    fn from(one: &Break) -> Self {
        let told = Self::new(Sign::Fault, Kind::Break(one.flaw), one.what());
        // 0 is the file as a whole
        Self { entry: Some(one.entry).filter(|_| one.place > 0), place: Some(one.place).filter(|at| *at > 0), ..told }
    }
}
