//! Entries: one line of the record each; what was done, by whom, when. Their bytes never change.

mod act;
mod late;

use std::collections::BTreeMap;

use chrono::NaiveDate;

pub use late::Late;

use super::characteristic::{Characteristic, Given};
use super::checklist::Signing;
use super::figure::Figure;
use super::id::Id;
use super::inspection::Opening;
use super::instrument::Instrument;
use super::person::Person;
use super::rotor::Fitted;
use super::sheet::{GivenFigure, Levels};
use super::stamp::Stamp;
use super::verdict::{Consequence, Disposition};

/// One line of the record.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Entry {
    /// From 1, without a gap.
    pub number: u32,
    /// When it was made; for an entry late from paper, when it was typed.
    pub at: Stamp,
    /// Who stands for it.
    pub by: Id,
    /// Who wrote, where another hand held the gauge.
    pub writer: Option<Id>,
    /// Late from paper: when it was taken, and the photo of the sheet.
    pub late: Option<Late>,
    /// What was done.
    pub act: Act,
}

impl Entry {
    /// When it was done: what the paper says, else when it was entered.
    pub fn when(&self) -> Stamp {
        Late::when(self.late.as_ref(), self.at)
    }
}

/// A photo kept under its hash.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PhotoRef {
    /// SHA-256 of the file, hexadecimal.
    pub hash: String,
    /// What the file was called.
    pub name: String,
}

/// Something seen.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct FindingMade {
    /// The part.
    pub part: String,
    /// The step at which it was seen.
    pub step: String,
    /// The kind, as the checklist has it.
    pub kind: String,
    /// The grade chosen.
    pub grade: String,
    /// Details by their word in the checklist (`number`, `place`, `length`), as typed.
    pub details: BTreeMap<String, String>,
    /// In words.
    pub note: Option<String>,
    /// Pictures.
    pub photos: Vec<PhotoRef>,
}

/// A remark of a returned record.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Remark {
    /// The step it is about; it is reopened.
    pub step: Option<String>,
    /// What is asked.
    pub text: String,
}

/// Where a soak stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum TimerMark {
    /// Put in.
    Started,
    /// Taken out.
    Ended,
}

/// The verdict on one part as it was signed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SignedVerdict {
    /// The part.
    pub part: String,
    /// Its disposition; none where nothing of it was judged, and nothing is to be done with it.
    pub disposition: Option<Disposition>,
    /// Its holds in words.
    pub holds: Vec<String>,
}

/// A signature.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Signature {
    /// Which of the two.
    pub what: Signing,
    /// Bytes of the record before this entry.
    pub length: u64,
    /// SHA-256 of those bytes, hexadecimal.
    pub sha256: String,
    /// What is signed: every part.
    pub standing: Vec<SignedVerdict>,
    /// Hashes of all photos so far.
    pub photos: Vec<String>,
    /// What it carries on by name: holds at the close, photos that were not there as they were taken.
    pub carried: Vec<String>,
}

/// The closed list of what an entry can be. A kind never changes its meaning; a new need is a new kind.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Act {
    /// The record begins.
    Begin,
    /// A safety point confirmed.
    Confirm {
        /// The step.
        step: String,
        /// The point.
        point: String,
    },
    /// A safety point, or a whole step, that this machine or job does not have.
    NotApplicable {
        /// The step.
        step: String,
        /// The point, or the whole step.
        point: Option<String>,
        /// Why.
        reason: String,
    },
    /// Done.
    Tick {
        /// The step.
        step: String,
    },
    /// A figure.
    Reading {
        /// The step.
        step: String,
        /// The place: `inner 0 / 3 / up`.
        place: String,
        /// As typed.
        typed: String,
        /// What it was taken for; nothing is added.
        taken: Figure,
        /// The gauge; none where the step needs none.
        gauge: Option<Id>,
        /// Doubts that were insisted on, by their words.
        doubts: Vec<String>,
    },
    /// One repeat more at a place than the checklist asks for, its mean being too close to a limit to call.
    Repeat {
        /// The step.
        step: String,
        /// The place, without a repeat: `inner 0`.
        place: String,
    },
    /// Something seen.
    Finding(FindingMade),
    /// Looked, nothing (more) found.
    Looked {
        /// The step.
        step: String,
    },
    /// A picture of a step.
    Photo {
        /// The step.
        step: Option<String>,
        /// The picture.
        photo: PhotoRef,
    },
    /// A sentence.
    Note {
        /// The step, or none for the whole job.
        step: Option<String>,
        /// The words.
        text: String,
    },
    /// A soak begun or ended.
    Timer {
        /// The step.
        step: String,
        /// Which.
        mark: TimerMark,
    },
    /// What a gauge shows on a piece, before or after a series.
    GaugeCheck {
        /// The gauge.
        gauge: Id,
        /// The piece's size.
        piece: Figure,
        /// What it shows.
        shows: Figure,
    },
    /// A step or one place of it left out, with a reason.
    Skip {
        /// The step.
        step: String,
        /// The place, or the whole step.
        place: Option<String>,
        /// Why.
        reason: String,
    },
    /// An earlier entry taken back.
    Strike {
        /// Its number.
        entry: u32,
        /// Why.
        reason: String,
    },
    /// Work on a part stops until somebody answers.
    Call {
        /// The part.
        part: String,
        /// The question.
        question: String,
    },
    /// The answer to a call, to a referral, or to another edition of the manual than the sheet's.
    Answer {
        /// The entry that asks: the call, the finding, or where the edition was given.
        entry: u32,
        /// Who answered, in words.
        who: String,
        /// The answer.
        text: String,
    },
    /// A characteristic accepted without a judgement.
    Unjudged {
        /// Which.
        characteristic: Characteristic,
        /// As left, else as found: the one says nothing of the other.
        as_left: bool,
        /// Who accepts it.
        supervisor: Id,
        /// Why.
        reason: String,
    },
    /// A part condemned without measuring the rest.
    Condemned {
        /// The part.
        part: String,
        /// Why.
        reason: String,
    },
    /// A disposition other than the computed one.
    Overrule {
        /// The part.
        part: String,
        /// The disposition.
        to: Disposition,
        /// Who decided.
        supervisor: Id,
        /// Why.
        reason: String,
    },
    /// The maker's, owner's or class's answer to a referral.
    Concession {
        /// The part.
        part: String,
        /// What it is about: a characteristic (`bush.ts.clearance`, `bush.ts.clearance as left`), or an entry's number.
        about: String,
        /// Who gave it.
        who: String,
        /// The document.
        document: String,
        /// Under which conditions.
        conditions: String,
        /// Until when, in words.
        until: String,
        /// What it allows.
        allows: Consequence,
    },
    /// Who teaches whom.
    Mentor {
        /// The one who watches.
        mentor: Id,
    },
    /// Work goes on after a break or with other hands.
    Resume,
    /// A signature.
    Sign(Signature),
    /// Sent back.
    Return {
        /// The sign entry's number.
        sign: u32,
        /// Its chain value.
        chain: String,
        /// What is asked.
        remarks: Vec<Remark>,
    },
    /// A remark answered.
    RemarkAnswered {
        /// The return's entry number.
        entry: u32,
        /// Which of its remarks, from 1.
        remark: u32,
        /// The answer.
        text: String,
    },
    /// Countersigned.
    Countersign {
        /// The sign entry's number.
        sign: u32,
        /// Its chain value.
        chain: String,
    },
    /// Somebody has seen that the file was changed outside, and goes on.
    SeenOutside {
        /// The first entry that does not hold.
        from: Option<u32>,
        /// What was seen.
        note: String,
        /// How many bytes the file had then; what is changed in them later is asked about anew.
        length: Option<u64>,
        /// Their SHA-256.
        sha256: Option<String>,
    },
    /// An entry brought in from another copy, where both went on.
    Brought {
        /// Its bytes there.
        bytes: String,
        /// Its chain value there.
        chain: String,
        /// The last entry that both copies have: who made it there had seen nothing later of this one.
        after: Option<u32>,
        /// What the bytes say; none when they cannot be read.
        entry: Option<Box<Entry>>,
    },
    /// Opening answers given later.
    Opening(Box<Opening>),
    /// A gauge the head does not hold.
    Gauge(Box<Instrument>),
    /// A person the head does not hold.
    Person(Person),
    /// A figure of the machine that the sheet does not give: counted, measured or looked up on the bench.
    Given {
        /// Which.
        given: Given,
        /// How much, and from where it is known.
        figure: GivenFigure,
    },
    /// Levels the head does not hold.
    Level {
        /// Of what.
        characteristic: Characteristic,
        /// All of them.
        levels: Box<Levels>,
        /// Doubts about them that were insisted on, by their words: what they judge is provisional.
        doubts: Vec<String>,
    },
    /// A part fitted: a new one, or one not known when the record began.
    PartFitted {
        /// The part.
        part: String,
        /// It, as fitted.
        fitted: Fitted,
        /// Whether it replaces the one found.
        replaces: Replaces,
    },
    /// The next opening planned anew.
    Plan {
        /// Machine hours.
        hours: Option<Figure>,
        /// The day.
        date: Option<NaiveDate>,
        /// Who decides, where a limit would be reached by the one before.
        supervisor: Option<Id>,
        /// Why.
        reason: String,
    },
}

/// What a fitted part does to the one before.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Replaces {
    /// The part found in the machine, identified late.
    No,
    /// A new part in its place: its hours start again.
    Yes,
}
