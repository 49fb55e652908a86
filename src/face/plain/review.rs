//! A review line by line: the pages first, then what is done with the record, one thing after the other. Same texts and
//! same `decide` as the screen.
//!
//! `countersign` and one word more, or `send back`, a line's number and the remark for each, `done`; every other answer is
//! refused and printed.

mod decisions;
mod outside;
mod pages;
mod sending;

use std::collections::BTreeSet;

use crate::domain::entry::Act;
use crate::domain::id::Id;
use crate::domain::telling::counted;
use crate::records::store::{HalfForm, ReviewDraft, Unsent};

use super::super::reviewing::{Pending, Reading};

pub use pages::{pages, shortly};

/// Where the conversation stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Asked {
    /// It was changed outside: whether that is gone on with.
    Outside,
    /// What was seen.
    Seen,
    /// The name of who has seen it, whom nobody here knows; what was seen.
    SeenBy(String),
    /// Whether that is entered.
    SeenSo(Vec<Act>),
    /// What to do with the record.
    What,
    /// Whether to countersign.
    Countersign,
    /// The number of the line that the next remark starts at.
    Line,
    /// Its words; the line and its step.
    Words(String, Option<String>),
    /// The answers to a concession so far.
    Concession(Vec<String>),
    /// The answers about a part that is overruled, so far.
    Overrule(Vec<String>),
    /// Whether answers that were left are gone on with: what they were for.
    Offer(Box<Asked>),
    /// The file of the key that signs an entry.
    Key(u32),
    /// Nothing more.
    Over,
}

impl Asked {
    /// What is to be done by the answer, one word for all questions of it.
    fn deed(&self) -> &'static str {
        match self {
            Self::Outside | Self::Seen | Self::SeenBy(_) | Self::SeenSo(_) => "seen",
            Self::What | Self::Over => "what",
            Self::Countersign => "countersign",
            Self::Line | Self::Words(..) => "send back",
            Self::Concession(_) => "concession",
            Self::Overrule(_) => "overrule",
            Self::Offer(left) => left.deed(),
            Self::Key(_) => "key",
        }
    }
}

/// What a line led to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Heard {
    /// Said, and the next question.
    Said(String),
    /// Something to be done with the record: to be decided, saved, and told by [`Session::done`].
    Do(Vec<Act>),
    /// All that holds of the record is to be said.
    Verify,
    /// An entry is to be signed with the key of a file.
    Key(u32, String),
}

/// How the conversation stands when no line is left.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Left {
    /// Everything that was asked for is done.
    Done,
    /// The last thing asked for was not taken, or only half of it was answered.
    NotDone,
}

/// A review in progress.
#[derive(Debug, Clone)]
pub struct Session {
    reading: Reading,
    by: Id,
    asked: Asked,
    pending: Vec<Pending>,
    /// Remarks that were not sent yet.
    unsent: Vec<Unsent>,
    /// A decision that was left half answered.
    aside: Option<HalfForm>,
    /// A decision that was to be entered, as it would be kept.
    sent: Option<HalfForm>,
    /// What has been entered so far.
    entered: usize,
    /// What the line heard last was an answer to.
    doing: &'static str,
    /// What was refused, and not done since.
    missed: BTreeSet<&'static str>,
    /// How it stands with what was to be done last.
    did: Left,
}

impl Session {
    /// About a record, by `by`.
    pub fn new(reading: Reading, by: Id) -> Self {
        let draft = reading.unsent.clone().unwrap_or_default();
        let mut session = Self {
            pending: Vec::new(),
            reading,
            by,
            asked: Asked::What,
            unsent: draft.remarks,
            aside: draft.form,
            sent: None,
            entered: 0,
            doing: "",
            missed: BTreeSet::new(),
            did: Left::Done,
        };
        session.look();
        session
    }

    /// The record as it stands now: what waits, and whether somebody must see a change first.
    fn look(&mut self) {
        self.pending = self.reading.to_countersign(&self.by);
        self.asked = if self.reading.outside.is_some() { Asked::Outside } else { Asked::What };
    }

    /// What has been shown: the chain value behind the last entry.
    pub fn shown(&self) -> &str {
        self.reading.shown()
    }

    /// What is kept until it is sent; none when there is nothing.
    pub fn draft(&self) -> Option<ReviewDraft> {
        let form = self.half().or_else(|| self.aside.clone());
        let any = form.is_some() || !self.unsent.is_empty();
        any.then(|| ReviewDraft { remarks: self.unsent.clone(), form })
    }

    /// How it stands when no line is left.
    pub fn left(&self) -> Left {
        if self.is_inside() || !self.missed.is_empty() { Left::NotDone } else { self.did }
    }

    /// What is said at the end.
    pub fn farewell(&self) -> &'static str {
        if self.entered > 0 { "Nothing else was entered." } else { "The record stays as it stands." }
    }

    /// The question that waits; none when it is over.
    pub fn question(&self) -> Option<String> {
        match &self.asked {
            Asked::Outside => {
                let outside = self.reading.outside_words().unwrap_or_default();
                Some(format!("{outside} seen, or leave?"))
            }
            Asked::Seen => Some("What was seen, and what became of it?".to_owned()),
            Asked::SeenBy(_) => Some(format!("`{}` is not known here. The name, to be entered as a fitter?", self.by)),
            Asked::SeenSo(_) => Some("Enter that under this name: yes, no?".to_owned()),
            Asked::What => {
                let key = if self.reading.keyless(&self.by).is_some() { ", key" } else { "" };
                let deeds = format!("concession, overrule, all to read, verify{key}, or leave?");
                Some(if self.pending.is_empty() {
                    format!("No signature waits for a countersignature: {deeds}")
                } else {
                    let words = self.pending.iter().map(|one| one.words.as_str()).collect::<Vec<_>>().join("; ");
                    format!("Waiting: {words}. countersign, send back, {deeds}")
                })
            }
            Asked::Offer(left) => Some(decisions::offer_question(left)),
            Asked::Key(_) => Some("The key's file, or its .pub where an agent holds the key?".to_owned()),
            Asked::Countersign => Some("Countersign it under your name: yes, no?".to_owned()),
            Asked::Line => {
                let back = self.reading.sent_back();
                Some(if self.unsent.is_empty() {
                    format!("To send back {back}: a remark at which line? Its number, such as 3.2")
                } else {
                    format!("Another remark: its line's number; or done, which sends back {back}; or cancel?")
                })
            }
            Asked::Words(..) => Some("What is asked there?".to_owned()),
            Asked::Concession(answers) => Some(decisions::concession_question(answers)),
            Asked::Overrule(answers) => Some(self.overrule_question(answers)),
            Asked::Over => None,
        }
    }

    /// Takes a line for an answer.
    pub fn hear(&mut self, line: &str) -> Heard {
        let line = line.trim();
        if matches!(line, "?" | "!") {
            return Heard::Said(self.help().to_owned());
        }
        self.doing = self.asked.deed();
        if line == "leave" && self.is_inside() {
            self.aside = self.half().or_else(|| self.aside.take());
            self.asked = if matches!(self.asked, Asked::Words(..)) {
                Asked::Line
            } else if self.reading.outside.is_some() {
                Asked::Outside
            } else {
                Asked::What
            };
            return Heard::Said("Left; nothing was entered.".to_owned());
        }
        match std::mem::replace(&mut self.asked, Asked::What) {
            Asked::Outside => self.outside(line),
            Asked::Seen => self.seen(line),
            Asked::SeenBy(note) => self.seen_by(line, note),
            Asked::SeenSo(acts) => self.seen_so(line, acts),
            Asked::What => self.what(line),
            Asked::Countersign => self.countersign(line),
            Asked::Line => self.line(line),
            Asked::Words(at, step) if line.is_empty() => self.again(Asked::Words(at, step), "A remark needs words."),
            Asked::Words(at, step) => {
                self.unsent.push(Unsent { line: at, step, text: line.to_owned() });
                self.ask(Asked::Line)
            }
            Asked::Concession(answers) => self.concession(line, answers),
            Asked::Overrule(answers) => self.overrule(line, answers),
            Asked::Offer(left) => self.offered(line, *left),
            Asked::Key(entry) if line.is_empty() => self.again(Asked::Key(entry), "It needs a path."),
            Asked::Key(entry) => Heard::Key(entry, line.to_owned()),
            Asked::Over => self.over(),
        }
    }

    /// Something was done, and the record reads so now; or it was not, and why. The next thing is asked for.
    pub fn done(&mut self, done: Result<Reading, String>) -> String {
        let reading = match done {
            Ok(reading) => reading,
            Err(why) => {
                self.missed.insert(self.doing);
                return why;
            }
        };
        // only the same thing done makes good what was refused; a word that was nothing may have been meant for it
        self.missed.retain(|missed| *missed != self.doing && *missed != Asked::What.deed());
        self.entered += 1;
        self.reading = reading;
        self.look();
        let last = self.reading.inspection.entries().last().map(|entry| &entry.act);
        // once nothing waits, nothing can be sent back any more
        if matches!(last, Some(Act::Return { .. })) || self.reading.pending().is_empty() {
            self.unsent.clear();
        }
        if matches!(last, Some(Act::Concession { .. } | Act::Overrule { .. })) {
            self.aside = None;
        }
        "Saved.".to_owned()
    }

    /// The key has signed, and the record reads so now; or it has not: what is said of it.
    pub fn keyed(&mut self, done: Result<(String, Reading), String>) -> String {
        self.did = if done.is_ok() { Left::Done } else { Left::NotDone };
        done.map_or_else(
            |why| why,
            |(words, reading)| {
                self.reading = reading;
                self.look();
                words
            },
        )
    }

    /// Whether a question is open from which one goes back to what can be done.
    fn is_inside(&self) -> bool {
        !matches!(self.asked, Asked::Outside | Asked::What | Asked::Over)
    }

    fn ask(&mut self, asked: Asked) -> Heard {
        self.asked = asked;
        Heard::Said(String::new())
    }

    /// The line was none of the answers: it is asked again.
    fn again(&mut self, asked: Asked, words: impl Into<String>) -> Heard {
        self.missed.insert(self.doing);
        self.asked = asked;
        Heard::Said(words.into())
    }

    /// What the question is about, and the way out of it.
    fn help(&self) -> &'static str {
        match self.asked {
            Asked::Outside | Asked::Seen | Asked::SeenBy(_) | Asked::SeenSo(_) => {
                "Bytes of the file are not those that were saved. Who says so stands for it; nothing is repaired. verify, from the shell, says where. leave: nothing is entered."
            }
            Asked::What => {
                "countersign: a supervisor who did not sign. send back: remarks at numbered lines. concession: the answer to what was referred. overrule: what is done with a part. verify: what holds. key: what was signed or countersigned, signed with a key too. all: every page, or its number alone. leave: nothing is changed."
            }
            Asked::Countersign => "yes puts it under your name; no or leave goes back.",
            Asked::Line | Asked::Words(..) => {
                "A remark starts at a line's number; the fitter sees it at that step. done sends all, cancel drops all, leave goes back and keeps them."
            }
            Asked::Key(_) => "ssh-keygen signs the entry and asks for the passphrase itself; leave goes back.",
            Asked::Offer(_) => {
                "go on asks what is still missing; again asks from the start; leave goes back and keeps them."
            }
            Asked::Concession(_) | Asked::Over => {
                "What the rules say stays beside it. again asks from the start; leave goes back, nothing is entered, the answers are kept."
            }
            Asked::Overrule(_) => {
                "Toward the safer side who enters it decides; the other way a supervisor, never for a crack. again asks from the start; leave goes back, nothing is entered, the answers are kept."
            }
        }
    }

    fn over(&mut self) -> Heard {
        self.asked = Asked::Over;
        Heard::Said(self.farewell().to_owned())
    }

    fn what(&mut self, line: &str) -> Heard {
        let waits = !self.pending.is_empty();
        match line {
            "countersign" if waits => {
                self.asked = Asked::Countersign;
                let dropped = !self.unsent.is_empty() && self.pending.len() == self.reading.pending().len();
                let unsent = counted(self.unsent.len(), "remark");
                let words =
                    format!("! {unsent} not sent: dropped with this. no, then send back, sends it back instead.");
                let besides = self.reading.approves(&self.pending, &self.by);
                let said: Vec<_> =
                    besides.into_iter().chain(dropped.then_some(words)).chain(self.reading.warned()).collect();
                Heard::Said(said.join("\n"))
            }
            "send back" if waits => {
                self.asked = Asked::Line;
                let kept = self.unsent.iter().map(|one| format!("Not sent yet: {}", one.text));
                Heard::Said(kept.collect::<Vec<_>>().join("\n"))
            }
            "countersign" | "send back" => {
                let [none, no_more] = self.reading.none_waits();
                let why = if line == "countersign" { none } else { no_more };
                self.again(Asked::What, format!("Not now: {why}."))
            }
            "concession" => self.begun(line, Asked::Concession),
            "overrule" => self.begun(line, Asked::Overrule),
            "verify" => Heard::Verify,
            "key" => match self.reading.keyless(&self.by) {
                Some((entry, words)) => {
                    self.asked = Asked::Key(entry);
                    Heard::Said(format!("A key for {words}."))
                }
                None => self.again(Asked::What, "Nothing that you signed waits for a key."),
            },
            "leave" => self.over(),
            other => match pages::asked(&self.reading, other) {
                Some(lines) => Heard::Said(lines),
                None => self.again(Asked::What, format!("Not taken: `{other}`. One of the words of the question.")),
            },
        }
    }

    fn countersign(&mut self, line: &str) -> Heard {
        match line {
            "yes" => Heard::Do(self.pending.iter().cloned().map(Pending::countersign).collect()),
            "no" => Heard::Said(String::new()),
            other => self.again(Asked::Countersign, format!("Not taken: `{other}`. yes or no.")),
        }
    }
}
