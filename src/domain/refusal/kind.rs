//! Every kind of refusal: its data, and its words in one place.

use crate::domain::figure::Figure;
use crate::domain::sheet::Fault;
use crate::domain::unit::{Unit, article};

use super::reversed::Reversed;
use super::unfit::Unfit;

/// What is wrong.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum RefusalKind {
    /// Nothing was typed.
    Empty,
    /// A text longer than any figure.
    TooLong {
        /// The most characters taken.
        longest: usize,
    },
    /// Letters, a lone sign, a point with nothing behind it.
    NotAFigure {
        /// As typed.
        text: String,
    },
    /// Comma and point in one figure, or two points.
    Thousands {
        /// As typed.
        text: String,
    },
    /// A figure typed as a division.
    Division {
        /// As typed.
        text: String,
    },
    /// A second figure behind the first.
    TwoFigures {
        /// As typed.
        text: String,
    },
    /// More digits than any gauge shows.
    TooManyDigits {
        /// The most digits taken.
        most: usize,
    },
    /// A word behind the figure that is no unit.
    UnknownUnit {
        /// The word.
        word: String,
    },
    /// An id with other characters, empty, or too long.
    BadId {
        /// As written.
        text: String,
    },
    /// A further repeat at a place where none may decide: the set is not complete, or its verdict is plain.
    NotUndecided(String),
    /// A level that lets pass what the one in force does not.
    LooserLevel {
        /// `new`, `alert`, `limit`.
        which: &'static str,
        /// The entry that set what stands; none where the sheet does.
        entry: Option<u32>,
    },
    /// No moment with its offset from UTC.
    BadMoment {
        /// As written.
        text: String,
    },
    /// No day, or one that does not exist.
    BadDay {
        /// As written.
        text: String,
    },
    /// A level without a source.
    NoSource,
    /// A level without a bound on any side.
    NoBound,
    /// Fewer figures than the reckoning needs.
    TooFew {
        /// What they are, in the plural.
        what: &'static str,
        /// How many there are.
        given: usize,
        /// How many it takes.
        needed: usize,
    },
    /// Figures from which nothing can be reckoned.
    NoAnswer {
        /// Why, one sentence.
        why: String,
        /// What would help, one sentence.
        mend: &'static str,
    },
    /// Nobody in the record has this id.
    UnknownPerson {
        /// The id.
        id: String,
    },
    /// The record has no first entry yet.
    NotBegun,
    /// The record was begun already.
    BegunAlready,
    /// The checklist has no such step on this machine.
    NoSuchStep {
        /// The step's id.
        step: String,
    },
    /// The step has no such place.
    NoSuchPlace {
        /// The place.
        place: String,
    },
    /// The checklist has no such part.
    NoSuchPart {
        /// The part's id.
        part: String,
    },
    /// The part's list has no such finding or grade.
    NoSuchFinding {
        /// Kind and grade.
        finding: String,
    },
    /// The record has no such entry to speak of.
    NoSuchEntry {
        /// Its number.
        entry: u32,
    },
    /// The step takes something else.
    OtherKindOfStep,
    /// It is done already.
    DoneAlready,
    /// The place holds a reading that counts.
    TakenAlready {
        /// The place.
        place: String,
    },
    /// The soak is not running.
    NotRunning,
    /// Out of the bath before it was in: both times.
    OutBeforeIn {
        /// When it came out.
        out: String,
        /// When it was put in.
        since: String,
    },
    /// Safety points are settled one by one.
    PointByPoint,
    /// A safety point or a signature.
    NeverSkipped,
    /// The entry is struck already.
    StruckAlready {
        /// Its number.
        entry: u32,
    },
    /// Others rest on the entry by name.
    NotToStrike(u32),
    /// A reason, question or answer without words.
    NoWords,
    /// A part with a life of its own, and no number to follow it by.
    NoSerial,
    /// The next opening is planned for before this one.
    NextNotLater {
        /// Hours or day planned.
        next: String,
        /// Hours or day of this one.
        now: String,
    },
    /// The person is no supervisor.
    NoSupervisor(String),
    /// A figure that no machine can have: what it is, and what is expected.
    NotGiven(String),
    /// A stretch of the job or of the machine, of which nothing can be scrapped or fitted.
    NoPiece {
        /// Its name.
        name: String,
        /// What it is a stretch of.
        of: String,
    },
    /// A step obliged by what was found is not waved off by a fitter.
    Obliged {
        /// Why it belongs to the job.
        why: &'static str,
        /// Who wanted to.
        by: String,
        /// What can be done instead.
        mend: &'static str,
    },
    /// A crack is never overruled.
    NeverForCracks,
    /// Levels that do not hold together.
    BadLevel(Box<Fault>),
    /// A concession whose time is over: the day or the hours at which it ended.
    ConcessionOver(String),
    /// Who signed may not countersign.
    OwnSignature,
    /// The signature was sent back.
    SentBack,
    /// Bytes under the signature were changed after it was given.
    Shaken,
    /// Remarks of a return that nobody has answered.
    RemarksOpen {
        /// Each in words.
        remarks: Vec<String>,
    },
    /// An entry of another copy that names nothing it is about, or cannot be read.
    NotToBring,
    /// The record knows no such gauge.
    UnknownGauge {
        /// The id.
        id: String,
    },
    /// A reading without the gauge that took it.
    NoGauge {
        /// The kind that the step asks for, in a sentence: `a dial gauge`.
        kind: String,
    },
    /// What is due next is asked before anybody has planned it.
    NotPlanned,
    /// A step that does not open yet.
    Shut {
        /// What is missing, each in words.
        missing: Vec<String>,
    },
    /// An answer in a sentence to what was referred.
    TakesConcession,
    /// What a signature does not carry on by name: holds at the close, photos that are lost.
    HeldOpen {
        /// Each in words.
        holds: Vec<String>,
    },
    /// A figure of another dimension.
    OtherDimension {
        /// The figure.
        figure: Figure,
        /// What it is.
        is: &'static str,
        /// What is wanted.
        wanted: &'static str,
    },
    /// A fraction of what is counted, as typed.
    NotWhole(String),
    /// A number for a place, as typed: nobody can tell of what.
    BareNumber(String),
    /// A finding without what it is asked for: which kind, and what is missing.
    NotTold(String),
    /// More blades, vanes or lands than the part has: as typed, and how many there are.
    NotSoMany {
        /// As typed.
        typed: String,
        /// How many the part has.
        has: Figure,
    },
    /// A figure that the gauge cannot show.
    OutsideRange(Box<Unfit>),
    /// A clearance below nothing.
    LiftReversed(Box<Reversed>),
}

impl RefusalKind {
    /// What is wrong, one sentence.
    pub fn what(&self) -> String {
        match self {
            Self::Empty => "Nothing is in the field.".to_owned(),
            Self::TooLong { longest } => format!("That is longer than {longest} characters, no figure is."),
            Self::NotAFigure { text } => format!("`{text}` is not a figure."),
            Self::Thousands { text } => format!("`{text}` has more than one point or comma."),
            Self::Division { text } => format!("`{text}` is a division."),
            Self::TwoFigures { text } if text.contains(' ') => format!("`{text}` has a space: that makes two figures."),
            Self::TwoFigures { text } => format!("`{text}` holds two figures."),
            Self::TooManyDigits { most } => format!("More than {most} digits, no gauge shows so many."),
            Self::UnknownUnit { word } => Unit::unknown(word),
            Self::BadId { text } => format!("`{text}` cannot be an id."),
            Self::BadMoment { text } | Self::BadDay { text } => format!("`{text}` is no day or moment."),
            Self::NoSource => "A level needs a source.".to_owned(),
            Self::NoBound => "A level needs a bound on one side at least.".to_owned(),
            Self::TooFew { what, given, needed } => format!("{given} {what}, it takes {needed}."),
            Self::NoAnswer { why: words, .. } | Self::NotGiven(words) | Self::NotTold(words) => words.clone(),
            Self::UnknownPerson { id } => format!("Nobody here is known as `{id}`."),
            Self::NotBegun => "The record is not begun.".to_owned(),
            Self::BegunAlready | Self::DoneAlready => "This was done already.".to_owned(),
            Self::NoSuchStep { step } => format!("There is no step `{step}` here."),
            Self::NoSuchPlace { place: it } | Self::NoSuchPart { part: it } => format!("There is no `{it}` here."),
            Self::NoSuchFinding { finding } => format!("`{finding}` is not among this part's findings."),
            Self::NoSuchEntry { entry } => format!("Entry {entry} is not there, or is nothing that this can be about."),
            Self::OtherKindOfStep => "This step takes something else.".to_owned(),
            Self::TakenAlready { place } => format!("{place} holds a reading already."),
            Self::LooserLevel { which, entry } => looser(which, *entry),
            Self::NotUndecided(place) => format!("{place} is not undecided, no further repeat counts there."),
            Self::NotRunning => "No clock runs here.".to_owned(),
            Self::OutBeforeIn { out, since } => format!("Stopped at {out}, before it was started, at {since}."),
            Self::PointByPoint => "Safety points are settled one by one.".to_owned(),
            Self::NeverSkipped => "This is never skipped.".to_owned(),
            Self::StruckAlready { entry } => format!("Entry {entry} is struck already."),
            Self::NotToStrike(entry) => format!("Entry {entry} cannot be struck, others rest on it."),
            Self::NoWords => "No word is written yet.".to_owned(),
            Self::NoSerial => "A part whose life is counted, and no serial number.".to_owned(),
            Self::NextNotLater { next, now } => format!("The next opening, {next}, is not later than this one, {now}."),
            Self::NoSupervisor(id) => format!("`{id}` is no supervisor."),
            Self::NoPiece { name, of } => format!("{name}: a stretch of {of}, no piece to scrap or to fit."),
            Self::Obliged { why, by, .. } => format!("{why}, and `{by}` is no supervisor."),
            Self::NeverForCracks => "A crack is never overruled toward the less safe side.".to_owned(),
            Self::BadLevel(fault) => fault.what(),
            Self::ConcessionOver(over) => format!("A concession until {over} is over already."),
            Self::OwnSignature => "Who signed may not countersign.".to_owned(),
            Self::SentBack => "This signature was sent back.".to_owned(),
            Self::Shaken => "What was signed was changed outside since: the signature holds no more.".to_owned(),
            Self::RemarksOpen { remarks } => format!("Remarks wait for an answer: {}.", remarks.join("; ")),
            Self::NotToBring => "This entry of the other copy names nothing that it is about.".to_owned(),
            Self::UnknownGauge { id } => format!("No gauge here is known as `{id}`."),
            Self::NoGauge { kind } => format!("No gauge is in hand; the step asks for {kind}."),
            Self::NotPlanned => "The next opening has no hours or no date yet.".to_owned(),
            Self::Shut { missing } => format!("This step is not open yet: {}.", missing.join("; ")),
            Self::TakesConcession => "This was referred: a sentence does not free it.".to_owned(),
            Self::HeldOpen { holds } => format!("Still held: {}.", holds.join("; ")),
            Self::OtherDimension { figure, is, wanted } => other_dimension(*figure, is, wanted),
            Self::NotWhole(text) => format!("`{text}` is no whole number."),
            Self::BareNumber(text) => format!("`{text}` does not say of what."),
            Self::OutsideRange(unfit) => unfit.what(),
            Self::NotSoMany { typed, has } => format!("`{typed}`, and this machine has {has} of them."),
            Self::LiftReversed(lift) => format!("{} {} is not above {} {}.", lift.high, lift.up, lift.low, lift.down),
        }
    }

    /// How to mend it, one sentence.
    pub fn mend(&self) -> String {
        match self {
            Self::Empty => "Type the figure, or Esc for what else can be done.",
            Self::TooLong { .. } | Self::TooManyDigits { .. } => "Type the figure as the gauge shows it.",
            Self::NotAFigure { .. } => "Type digits with a point or a comma, and a unit if it is not the one shown.",
            Self::Thousands { .. } => "Use one point or one comma, for the decimals only.",
            Self::Division { .. } => "Type it as a decimal, such as 0.05.",
            Self::TwoFigures { .. } => "Type one figure, its digits side by side.",
            Self::UnknownUnit { .. } => "Use mm, um, in, thou or the unit shown beside the field.",
            Self::OtherDimension { .. } => "Type the figure in the unit shown beside the field.",
            Self::BadId { .. } => "Use 1 to 40 of the letters A to Z, digits, point, dash and underscore.",
            Self::BadMoment { .. } => "Write it as 2031-04-17T14:05:31+02:00.",
            Self::BadDay { .. } => "Write it as 2031-04-17.",
            Self::NoSource => "Say where it stands: manual, edition, page or table.",
            Self::NoBound => "Give `above`, `at or above`, `below` or `at or below`.",
            Self::TooFew { .. } => "Take more readings.",
            Self::NoAnswer { mend, .. } | Self::Obliged { mend, .. } => mend,
            Self::UnknownPerson { .. } => "Enter the person first: Esc, who is here.",
            Self::NotBegun => "Begin it first.",
            Self::BegunAlready => "Go on with it, or begin another inspection.",
            Self::NoSuchStep { .. } => "Choose a step of the list: Esc, all steps.",
            Self::NoSuchPlace { .. } | Self::NoSuchPart { .. } => "Choose one of those shown.",
            Self::NoSuchEntry { .. } => "Choose one of the entries shown.",
            Self::NoSuchFinding { .. } => "Choose a kind and a grade of the list, and say the rest in a note.",
            Self::OtherKindOfStep => "Do what the step asks for.",
            Self::DoneAlready | Self::TakenAlready { .. } => "If it was wrong, strike it first: Esc, strike.",
            Self::LooserLevel { .. } => "A supervisor enters it, with the page it stands on: Esc, who is here.",
            Self::NotUndecided(_) => "Take what is open there, or strike what was wrong: Esc, strike.",
            Self::NotRunning => "Say first when it was started.",
            Self::OutBeforeIn { .. } => "Type the time again, or strike when it was started.",
            Self::PointByPoint | Self::NeverSkipped => "Confirm each point, or mark what this machine lacks.",
            Self::StruckAlready { .. } => "Nothing more is needed; retake the reading.",
            Self::NotToStrike(_) => "Write what is right as a new entry or a note.",
            Self::NoWords => "Write why, in a few words.",
            Self::NoSerial => "Type the serial number from the part; none on it: refer it before it is fitted.",
            Self::NextNotLater { .. } => "Type what is planned, or leave it for later.",
            Self::NoSupervisor(_) => "It takes a supervisor: name one, or have one do it.",
            Self::NotGiven(_) => "Count or measure once more, or look it up in the manual.",
            Self::NoPiece { .. } => "Name the piece, of a rotor each of its pieces; a step is left out by Esc, cannot.",
            Self::NeverForCracks | Self::TakesConcession => "Refer it, replace the part, or enter a concession.",
            Self::BadLevel(fault) => &fault.mend,
            Self::ConcessionOver(_) => "Type the day or the machine hours at which it ends, or ask for a new one.",
            Self::OwnSignature => "Have another supervisor countersign.",
            Self::SentBack => "Wait until the remarks are answered and it is signed again.",
            Self::Shaken => "Fetch an unchanged copy, or send it back, to be looked at and signed again as it is.",
            Self::RemarksOpen { .. } => "Answer each one: Esc, more, remark of a returned record.",
            Self::NotToBring => "Enter it here again by hand; the other copy stays as it is.",
            Self::UnknownGauge { .. } => "Enter it in three answers: Esc, other gauge.",
            Self::NoGauge { .. } => "Choose one: Esc, other gauge.",
            Self::NotPlanned => "Plan it first: Esc, next opening planned anew. Then say here what decides it.",
            Self::Shut { .. } => "Enter goes to what is missing.",
            Self::HeldOpen { .. } => "Settle each, or carry it on by name.",
            Self::NotWhole(_) => "Pieces are counted: type how many, such as 7; several numbers as 7 and 8.",
            Self::BareNumber(_) => "Type what it counts and from where, such as 22 mm from the tip, or 45 deg.",
            Self::NotTold(_) => "Say it, or why it cannot be told in words.",
            Self::NotSoMany { .. } => "Count again from the mark, or look at the number on the limits sheet.",
            Self::OutsideRange(unfit) => return unfit.mend(),
            Self::LiftReversed(lift) => return lift.mend(),
        }
        .to_owned()
    }
}

/// `59.909 deg is an angle, a length is wanted.`
fn other_dimension(figure: Figure, is: &str, wanted: &str) -> String {
    format!("{figure} is {} {is}, {} {wanted} is wanted.", article(is), article(wanted))
}

fn looser(which: &str, entry: Option<u32>) -> String {
    let what =
        entry.map_or("what the limits sheet does not".to_owned(), |entry| format!("what does not since entry {entry}"));
    format!("The {which} would let pass {what}.")
}
