//! Everything that can be done besides the step's own question: one list, the same on every step, and a dialogue for
//! each line of it. Bench and line mode ask the same questions in the same words.

pub mod begin;
mod gauge;
mod levels;
mod mend;
mod opening;
mod parts;
pub mod people;
mod rule;
mod say;
mod seen;
mod sign;
mod strike;
mod way;

use std::collections::BTreeSet;

use crate::domain::checklist::{Cell, Point, Signing, Step};
use crate::domain::entry::{Act, FindingMade, Late};
use crate::domain::id::Id;
use crate::domain::inspection::Inspection;
use crate::domain::instrument::{GaugeKind, Instrument};
use crate::domain::person::Person;
use crate::domain::request::{Hand, Request};
use crate::domain::standing::Standing;

use super::inquiry::{Answers, Reply};

pub use gauge::{choose as choose_gauge, enter as enter_gauge};
pub use mend::Way;
pub use opening::{Known as KnownOpening, answers_of_opening};
pub use people::{enter as enter_person, id_of};
pub use say::{besides_in_words, sentence, standing_in_words, worst_in_words};
pub use seen::finding;
pub use strike::entry_in_words;
pub use way::{NAMED, and_more, found, is_to_do, state_word};

/// One line of the list, and the dialogue behind it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Other {
    /// The list itself.
    Menu,
    /// An entry taken back.
    Strike,
    /// Another gauge in hand.
    Gauge,
    /// A finding.
    Seen,
    /// A place or a step left out.
    LeaveOut,
    /// A part held with a question, or its answer.
    Call,
    /// Another step.
    Steps,
    /// A note, or figures late from paper.
    Note,
    /// A picture.
    Photo,
    /// A picture of the paper that figures are copied from.
    Sheet,
    /// When a part went into the bath, or out of it, as the paper says.
    Soak,
    /// Who reads and who writes.
    Who,
    /// Opening answers.
    Opening,
    /// The next opening.
    Plan,
    /// A part fitted, or identified late.
    Part,
    /// A figure of the machine that the sheet does not give.
    Given,
    /// Levels from the manual.
    Level,
    /// The answer to a call or a finding.
    Answer,
    /// The same to this entry.
    AnswerTo(u32),
    /// The answer to a remark of a returned record.
    Remark,
    /// What maker, owner or class allows.
    Concede,
    /// A disposition other than the computed one.
    Overrule,
    /// A characteristic accepted as it is.
    Unjudged,
    /// A part condemned.
    Condemn,
    /// One repeat more.
    Repeat,
    /// Somebody new.
    Person,
    /// Who watches.
    Mentor,
    /// A gauge tried on a piece.
    Check,
    /// What is signed, signed with a key too.
    Key,
    /// Parts and holds.
    Stands,
    /// The last entries.
    Last,
    /// The working of the step at hand.
    Working,
    /// Away, everything kept.
    Leave,
    /// The record was changed outside, at this entry: somebody says that it was seen.
    Outside(u32),
}

/// What the hand reaches for on every step: nine digits known by heart after a day.
pub const FIRST: [(Other, &str); 9] = [
    (Other::Strike, "strike an entry, with a reason"),
    (Other::Gauge, "other gauge"),
    (Other::Seen, "something seen: a finding"),
    (Other::LeaveOut, "cannot be measured or done: skip, not on this machine"),
    (Other::Call, "stop and call: hold this part with a question, or answer it"),
    (Other::Steps, "all steps: go to one"),
    (Other::Note, "note, or figures late from paper"),
    (Other::Photo, "photo"),
    (Other::Who, "who is here: who reads, who writes"),
];

/// What is wanted once in a while.
pub const MORE: [(Other, &str); 17] = [
    (Other::Opening, "opening answers given later"),
    (Other::Plan, "next opening planned anew"),
    (Other::Part, "part fitted new, or identified late"),
    (Other::Level, "level from the manual"),
    (Other::Answer, "answer to a call or a finding"),
    (Other::Remark, "remark of a returned record: answer it"),
    (Other::Concede, "concession of maker, owner or class"),
    (Other::Overrule, "overrule what is done with a part"),
    (Other::Unjudged, "accept without a judgement"),
    (Other::Condemn, "condemn a part without measuring the rest"),
    (Other::Person, "enter a person"),
    (Other::Mentor, "mentor: who watches"),
    (Other::Check, "gauge checked on a piece"),
    (Other::Key, "sign with a key what is signed already"),
    (Other::Stands, "how it stands: to order, refer, measure; parts and holds"),
    (Other::Last, "read the last entries"),
    (Other::Repeat, "one more repeat where a place is undecided"),
];

/// What the screen has keys for.
const LINES_ALONE: [(Other, &str); 3] = [
    (Other::Working, "working of this step: figures put in, what comes out"),
    (Other::Leave, "leave for now"),
    (Other::Given, "figure of the machine: lands, vanes, sizes that the sheet does not give"),
];

/// Said when figures are copied from paper.
pub const FROM_PAPER: &str = "What is typed now is late from paper, until note, no longer from paper says otherwise.";

/// What a dialogue comes to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Deed {
    /// Asked of the inspection in turn; the first refusal ends it.
    Ask(Vec<Request>),
    /// A finding, and the path of its picture: empty for the newest one.
    Found(Box<FindingMade>, Option<String>),
    /// A picture of a step.
    Photo(Option<String>, Option<String>),
    /// A signature, carrying on these holds.
    Sign(Signing, Vec<String>),
    /// To another step.
    Go(String),
    /// Another gauge in hand.
    Gauge(GaugeKind, Id),
    /// A gauge that the record does not know goes into it, and into the hand.
    NewGauge(GaugeKind, Box<Instrument>),
    /// Other hands: who stands for it, who writes; those who are new go into the record.
    Hands(Box<Hands>),
    /// Entries are late from paper from now on, or no longer.
    Late(Option<Late>),
    /// Done at the time that the paper says, which counts for what follows too.
    AtPaper(String, Box<Act>),
    /// A sign entry, to be signed with the key of this file.
    Key(u32, String),
    /// Another dialogue.
    Open(Other),
    /// Only said.
    Say(Vec<String>),
    /// The end.
    Leave,
}

/// Whose hands are at the machine.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Hands {
    /// Who stands for what is entered.
    pub by: Id,
    /// Who writes, where somebody else.
    pub writer: Option<Id>,
    /// Those of them whom the record does not know.
    pub new: Vec<Person>,
}

/// What the folder's own files hold when the record is opened: who and what the record may not know yet.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Files {
    /// Gauges, whole.
    pub gauges: Vec<Instrument>,
    /// People.
    pub people: Vec<Person>,
    /// Photos that a signature would miss, in words; looked for when somebody signs.
    pub lost: Vec<String>,
    /// Entries that end no waiting here: by supervisors whom this machine does not know.
    pub strange: BTreeSet<u32>,
    /// Entries that were signed by key when the record was opened, by one that does not give way to another.
    pub keyed: BTreeSet<u32>,
}

impl Files {
    /// The gauge with this id, where the record does not know it.
    pub fn gauge(&self, inspection: &Inspection, id: &Id) -> Option<&Instrument> {
        self.gauges.iter().find(|gauge| gauge.id.same_as(id)).filter(|_| inspection.gauge(id).is_none())
    }

    /// Gauges of a kind that the record does not know.
    pub fn of_kind(&self, inspection: &Inspection, kind: GaugeKind) -> Vec<&Instrument> {
        self.gauges.iter().filter(|gauge| gauge.kind == kind && inspection.gauge(&gauge.id).is_none()).collect()
    }
}

/// Where a dialogue is held: the record, whose hand, the step and the place under it.
#[derive(Debug, Clone)]
pub struct At<'a> {
    /// Every entry applied.
    pub inspection: &'a Inspection,
    /// How it stands.
    pub standing: &'a Standing,
    /// What the folder's own files hold besides.
    pub files: &'a Files,
    /// Whose hand, and when.
    pub hand: Hand,
    /// The step at hand.
    pub step: Option<&'a Step>,
    /// The field at hand, where the step has fields.
    pub cell: Option<Cell>,
    /// The point at hand, where the step has points.
    pub point: Option<&'a Point>,
}

impl At<'_> {
    /// The dialogue behind a line of the list.
    ///
    /// # Errors
    /// The next question, or why the last answer will not do.
    pub fn ask(&self, other: Other, answers: &mut Answers<'_>) -> Reply<Deed> {
        match other {
            Other::Menu => menu(answers),
            Other::Strike => self.strike(answers),
            Other::Gauge => self.other_gauge(answers),
            Other::Check => self.check_gauge(answers),
            Other::Seen => self.seen(answers),
            Other::LeaveOut => self.leave_out(answers),
            Other::Call => self.call(answers),
            Other::Answer => self.answer(answers),
            Other::AnswerTo(entry) => self.answer_to(entry, answers),
            Other::Remark => self.remark(answers),
            Other::Note => self.note(answers),
            Other::Photo => self.photo(answers),
            Other::Key => self.key(answers),
            Other::Steps => self.steps(answers),
            Other::Stands => Ok(Deed::Say(self.stands())),
            Other::Last => Ok(Deed::Say(self.last_entries())),
            Other::Who => self.who(answers),
            Other::Person => people::enter(answers).map(|person| act(Act::Person(person))),
            Other::Mentor => self.mentor(answers),
            Other::Opening => self.opening(answers),
            Other::Plan => self.plan(answers),
            Other::Part => self.part_fitted(answers),
            Other::Level => self.level(answers),
            Other::Given => self.given(answers),
            Other::Sheet => self.sheet_photo(answers),
            Other::Soak => self.soaked(answers),
            Other::Unjudged => self.unjudged(answers),
            Other::Condemn => self.condemn(answers),
            Other::Repeat => self.one_more(answers),
            Other::Overrule => self.overrule(answers),
            Other::Concede => self.concede(answers),
            Other::Working => Ok(Deed::Say(self.working())),
            Other::Leave => Ok(Deed::Leave),
            Other::Outside(entry) => self.outside(entry, answers),
        }
    }
}

fn menu(answers: &mut Answers<'_>) -> Reply<Deed> {
    let all: Vec<_> = FIRST.iter().chain(&MORE).chain(&LINES_ALONE).collect();
    let names: Vec<_> = all.iter().map(|(_, name)| (*name).to_owned()).collect();
    let index = answers.choose("what else, ! goes back", &names)?;
    Ok(all.get(index).map_or(Deed::Say(Vec::new()), |(other, _)| Deed::Open(*other)))
}

impl Other {
    /// Its number in the line mode's list.
    pub fn number(self) -> usize {
        let mut all = FIRST.iter().chain(&MORE).chain(&LINES_ALONE);
        all.position(|(other, _)| *other == self).map_or(0, |at| at + 1)
    }

    /// What it is called in the list.
    pub fn title(self) -> &'static str {
        let named = FIRST.iter().chain(&MORE).find(|(other, _)| *other == self);
        match (named, self) {
            (Some((_, title)), _) => title,
            (None, Self::Given) => "figure of the machine that the sheet does not give",
            (None, Self::Sheet) => "photo of the paper that is copied",
            (None, Self::Soak) => "clock of a wait, as the paper says",
            (None, Self::AnswerTo(_)) => "answer to a call or a finding",
            (None, Self::Outside(_)) => "changed outside this program",
            (None, _) => "leave for now",
        }
    }
}

/// One act, asked for.
pub fn act(act: Act) -> Deed {
    Deed::Ask(vec![Request::Do(act)])
}

/// Nothing to be done: why.
fn only_say(words: &str) -> Deed {
    Deed::Say(vec![words.to_owned()])
}

fn owned(words: &[&str]) -> Vec<String> {
    words.iter().map(|word| (*word).to_owned()).collect()
}
