//! The line mode: one line a question, the same `decide` and the same words as on the screen.
//!
//! A session is a value. What comes in is a line, or an answer of the files; what goes out is lines to print and one
//! thing wanted next. Only `run` reads, prints and writes.

pub mod begin;
mod course;
mod deed;
mod doubt;
mod fill;
mod half;
pub mod review;
mod run;
mod step;
mod told;
mod unsaved;

use std::collections::{BTreeMap, BTreeSet};

use crate::domain::checklist::{Cell, Signing, Step};
use crate::domain::entry::{Act, Entry, FindingMade, Late, PhotoRef};
use crate::domain::id::Id;
use crate::domain::inspection::Inspection;
use crate::domain::measured;
use crate::domain::progress;
use crate::domain::request::{Hand, Request};
use crate::domain::signing::Seal;
use crate::domain::stamp::Stamp;
use crate::domain::standing::Standing;
use crate::records::store::HalfForm;

use course::Course;
use doubt::Doubted;

use super::acts::{At, Files, Other};
use super::inquiry::{self, Answers, Stop};

pub use run::{Desk, Echo, Ended, converse, fill_in};
pub use told::printable;

/// Something that comes to the session.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Come {
    /// The session begins: the first question is wanted.
    Start,
    /// A line typed, or read from a file of answers.
    Line(String),
    /// All entries wanted saved are on the disk.
    Saved,
    /// They are not, and why.
    NotSaved(String),
    /// A copy with what waits lies there, or why it does not.
    Copied(Result<String, String>),
    /// What a signature must state.
    Sealed(Result<Seal, String>),
    /// Where the signature by key is kept.
    Keyed(Result<String, String>),
    /// A picture taken in.
    Photo(Result<PhotoRef, String>),
}

/// The one thing wanted next.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Want {
    /// The next line.
    Line,
    /// These entries on the disk, behind those that are there.
    Save(Vec<Entry>),
    /// Length and SHA-256 of all that is on the disk, for a signature.
    Seal,
    /// A sign entry signed with the key of this file.
    Key(u32, String),
    /// A picture: its path, or the newest of the watched folder.
    Photo(Option<String>),
    /// These entries with all that is on the disk in another folder; work goes on there.
    Elsewhere(String, Vec<Entry>),
    /// A copy of all that in another folder; work goes on here.
    Copy(String, Vec<Entry>),
    /// The end: the record stays as it stands.
    Leave,
}

/// Lines to print, and what is wanted next.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Turn {
    /// To be printed, a line each.
    pub said: Vec<String>,
    /// What comes next.
    pub want: Want,
}

/// What the next line answers.
#[derive(Debug, Clone, PartialEq, Eq)]
enum Talk {
    /// The step's own question.
    Step,
    /// Something else.
    Other(Other),
    /// A question about a figure.
    Doubt(Box<Doubted>),
}

/// What goes on when the files have answered.
#[derive(Debug, Clone, PartialEq, Eq)]
enum Then {
    Nothing,
    Sign(Signing, Vec<String>),
    Found(Box<FindingMade>),
    Photo(Option<String>),
}

/// An open record, the hands at it, and the question that stands.
#[derive(Debug, Clone)]
pub struct Session {
    inspection: Inspection,
    standing: Standing,
    by: Id,
    writer: Option<Id>,
    late: Option<Late>,
    break_hours: u32,
    /// By the step at which each was chosen.
    gauges: BTreeMap<String, Id>,
    goal: Option<String>,
    shown: Option<String>,
    talk: Talk,
    answers: Vec<String>,
    waiting: Vec<Entry>,
    /// Asked for while the machine was not said to be safe: entered as soon as it is.
    until_safe: Vec<Request>,
    then: Then,
    /// What was left half answered, each with its step, until that is asked again.
    left: Vec<(String, HalfForm)>,
    before: Option<Box<Standing>>,
    files: Files,
    /// What was said beside the step at hand; said once.
    told_beside: BTreeSet<String>,
    /// What was left half answered on the screen and goes on only there, in words.
    of_screen: Vec<String>,
}

impl Session {
    /// A session over a record, every entry applied; `by` stands for what is entered.
    pub fn new(inspection: Inspection, by: Id, break_hours: u32) -> Self {
        Self {
            standing: Standing::of(&inspection),
            inspection,
            by,
            writer: None,
            late: None,
            break_hours,
            gauges: BTreeMap::new(),
            goal: None,
            shown: None,
            talk: Talk::Step,
            answers: Vec::new(),
            waiting: Vec::new(),
            until_safe: Vec::new(),
            then: Then::Nothing,
            left: Vec::new(),
            before: None,
            files: Files::default(),
            told_beside: BTreeSet::new(),
            of_screen: Vec::new(),
        }
    }

    /// The same with what the folder's own files hold besides the record.
    #[must_use]
    pub fn over(mut self, files: Files) -> Self {
        self.files = files;
        self
    }

    /// Goes on with the hands of the screen, and says before a signature what was left half answered there.
    pub fn beside_screen(&mut self, writer: Option<Id>, left: Vec<String>) {
        self.writer = writer;
        self.of_screen = left;
    }

    /// Goes on copying from paper, as it was left.
    pub fn late_from(&mut self, late: Option<Late>) {
        self.late = late;
    }

    /// While entries are copied from paper.
    pub fn late(&self) -> Option<&Late> {
        self.late.as_ref()
    }

    /// Who stands for what is entered, and who writes.
    pub fn hands(&self) -> (Option<Id>, Option<Id>) {
        (Some(self.by.clone()), self.writer.clone())
    }

    /// The inspection as it stands, entries on their way to the disk included.
    pub fn inspection(&self) -> &Inspection {
        &self.inspection
    }

    /// Entries that are not on the disk.
    pub fn waiting(&self) -> &[Entry] {
        &self.waiting
    }

    /// Whether something was answered that waits for the machine to be said to be safe.
    pub fn is_unentered(&self) -> bool {
        !self.until_safe.is_empty()
    }

    /// The step whose question stands, with its field: where the work goes on.
    pub fn place(&self, now: Stamp) -> Option<(String, Option<String>)> {
        match self.course(now) {
            Course::Step(step) => {
                let cell = progress::next_cell(&self.inspection, step).map(|cell| cell.place());
                Some((step.id.clone(), cell))
            }
            Course::SafeAgain(_) | Course::Shut(_) | Course::Finished => None,
        }
    }

    /// Goes to a step first; one that is done already is passed over.
    pub fn begin_at(&mut self, step: &str) {
        self.goal = Some(step.to_owned());
    }

    /// Somebody else's program changed the record, at this entry: that is asked about first.
    pub fn changed_outside(&mut self, entry: u32) {
        self.talk = Talk::Other(Other::Outside(entry));
    }

    /// Takes in what comes, and says what is wanted next.
    pub fn hear(&mut self, come: Come, now: Stamp) -> Turn {
        let mut said = Vec::new();
        let want = match come {
            Come::Start => self.go_on(now, &mut said),
            Come::Line(line) => self.line(&line, now, &mut said),
            Come::Saved => {
                let entries = std::mem::take(&mut self.waiting);
                if entries.iter().any(|entry| matches!(entry.act, Act::Sign(_))) {
                    // gone to and signed: what is entered since asks for it again when all else is done, not each time
                    self.goal = None;
                }
                said.extend(self.news(&entries));
                self.go_on(now, &mut said)
            }
            Come::NotSaved(why) => self.not_saved(&why, &mut said),
            Come::Copied(done) => self.copied(done, &mut said),
            Come::Keyed(done) => {
                said.push(done.unwrap_or_else(|why| why));
                self.go_on(now, &mut said)
            }
            Come::Sealed(Ok(seal)) => self.sealed(seal, now, &mut said),
            Come::Photo(Ok(photo)) => self.pictured(photo, now, &mut said),
            Come::Sealed(Err(why)) => {
                self.then = Then::Nothing;
                self.answers.clear();
                said.push(why);
                self.go_on(now, &mut said)
            }
            Come::Photo(Err(why)) => {
                self.then = Then::Nothing;
                self.answers.pop();
                said.push(why);
                self.go_on(now, &mut said)
            }
        };
        Turn { said, want }
    }

    /// The record, the hand and the step at hand.
    fn at(&self, now: Stamp) -> At<'_> {
        let step = match self.course(now) {
            Course::Step(step) | Course::SafeAgain(step) => Some(step),
            Course::Shut(shut) => {
                if let [(only, _)] = shut.as_slice() {
                    Some(*only)
                } else {
                    None
                }
            }
            Course::Finished => None,
        };
        At {
            inspection: &self.inspection,
            standing: &self.standing,
            files: &self.files,
            hand: self.hand(now),
            step,
            cell: step.and_then(|step| self.cell_of(step)),
            point: step.and_then(|step| self.next_point(step)),
        }
    }

    /// The field at hand: the next one, or where figures are to be taken again the first of those.
    fn cell_of(&self, step: &Step) -> Option<Cell> {
        let again = || measured::to_retake(&self.inspection, step);
        progress::next_cell(&self.inspection, step).or_else(again)
    }

    fn hand(&self, now: Stamp) -> Hand {
        Hand {
            by: self.by.clone(),
            writer: self.writer.clone(),
            at: now,
            late: self.late.clone(),
            break_hours: self.break_hours,
        }
    }

    /// `24 saved`: readings on the disk, struck ones included.
    fn saved(&self) -> String {
        let waiting = self.waiting.iter().filter(|entry| matches!(entry.act, Act::Reading { .. })).count();
        format!("{} saved", self.inspection.reading_count() - waiting)
    }

    /// A typed line: one of the two keys that count everywhere, or the next answer.
    fn line(&mut self, line: &str, now: Stamp, said: &mut Vec<String>) -> Want {
        if !self.waiting.is_empty() {
            return self.unsaved(line.trim(), said);
        }
        let line = line.trim();
        match line.strip_prefix('!').map(str::trim) {
            Some(rest) => {
                let inside = self.talk != Talk::Step || !self.answers.is_empty();
                if inside && rest.is_empty() {
                    self.answers.clear();
                    self.talk = Talk::Step;
                    said.push("Back at the step; nothing was done.".to_owned());
                } else {
                    said.extend(self.put_down(now));
                    self.talk = Talk::Other(Other::Menu);
                    // `! 6 bush.ts/clearance`: the number, and the first answer to what it opens
                    let number = rest.split_once(char::is_whitespace);
                    let number = number.filter(|(number, _)| number.bytes().all(|byte| byte.is_ascii_digit()));
                    let words = number.map_or_else(|| vec![rest], |(number, first)| vec![number, first.trim()]);
                    self.answers.extend(words.into_iter().filter(|word| !word.is_empty()).map(str::to_owned));
                }
            }
            None if line == "?" => said.extend(self.help(now)),
            // whatever the step takes, and whether it is open or not
            None if line == "leave" && self.talk == Talk::Step && self.answers.is_empty() => return Want::Leave,
            None if self.safety_comes_up(now) => {
                said.push(format!("`{line}` was not taken, it was typed for another question: first the machine."));
                self.answers.clear();
            }
            None => self.answers.push(line.to_owned()),
        }
        self.go_on(now, said)
    }

    /// Whether the walk-round is to be asked and is not on the page yet: no line typed before answers it.
    fn safety_comes_up(&self, now: Stamp) -> bool {
        let asked = matches!(self.course(now), Course::SafeAgain(_)) && self.talk == Talk::Step;
        asked && !self.shown.as_ref().is_some_and(|shown| shown.starts_with(step::AGAIN))
    }

    /// Runs the dialogue over the answers so far.
    fn go_on(&mut self, now: Stamp, said: &mut Vec<String>) -> Want {
        self.take_up(now, said);
        let answers = self.answers.clone();
        let mut answers = Answers::new(&answers);
        let talk = self.talk.clone();
        let reply = match &talk {
            Talk::Step => {
                said.extend(self.heading(now));
                self.step_question(now, &mut answers)
            }
            Talk::Other(other) => self.at(now).ask(*other, &mut answers),
            Talk::Doubt(doubted) => doubted.ask(&mut answers),
        };
        match reply {
            Ok(deed) => {
                let unread = answers.unread().filter(|_| talk != Talk::Other(Other::Menu));
                said.extend(unread.map(|line| format!("`{line}` was not taken: nothing asks for it.")));
                self.perform(deed, now, said)
            }
            Err(Stop::Ask(question)) => {
                said.extend(question.lines());
                said.push(told::without_esc(&question.line()));
                Want::Line
            }
            Err(stop @ (Stop::Wrong(_) | Stop::Again(_))) => {
                said.extend(stop.drop_from(&mut self.answers).map(|words| told::without_esc(&words)));
                self.go_on(now, said)
            }
        }
    }
}
