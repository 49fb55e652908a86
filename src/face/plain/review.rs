//! A review line by line: the pages first, then what is done with the record. Same texts and same `decide` as the screen.
//!
//! `countersign` and one word more, or `send back`, a line's number and the remark for each, `done`; every other answer is
//! refused and printed.

mod pages;

use crate::domain::entry::{Act, Remark};
use crate::domain::id::Id;
use crate::domain::person::Role;
use crate::domain::review::Item;
use crate::domain::verdict::{Consequence, Disposition};
use crate::records::store::{ReviewDraft, Unsent};

use super::super::reviewing::{ALLOWS, CONCESSION, Pending, Reading};

pub use pages::pages;

/// Where the conversation stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Asked {
    /// It was changed outside: what was seen.
    Seen,
    /// The name of who has seen it, whom nobody here knows; what was seen.
    SeenBy(String),
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
    /// Nothing more.
    Over,
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
}

const OVERRULE: [&str; 4] = [
    "Overrule which part? Its name in tables",
    "What is done with it? reuse, watch, rework, replace",
    "Which supervisor decides? The id",
    "Why?",
];

impl Session {
    /// About a record, by `by`.
    pub fn new(reading: Reading, by: Id) -> Self {
        let unsent = reading.unsent.clone().map(|draft| draft.remarks).unwrap_or_default();
        let asked = if reading.outside.is_some() { Asked::Seen } else { Asked::What };
        Self { pending: reading.to_countersign(&by), reading, by, asked, unsent }
    }

    /// What is kept until it is sent; none when there is nothing.
    pub fn draft(&self) -> Option<ReviewDraft> {
        (!self.unsent.is_empty()).then(|| ReviewDraft { remarks: self.unsent.clone(), form: None })
    }

    /// The question that waits; none when it is over.
    pub fn question(&self) -> Option<String> {
        match &self.asked {
            Asked::Seen => {
                let outside = self.reading.outside_words().unwrap_or_default();
                Some(format!("{outside} What was seen, and what became of it; or leave?"))
            }
            Asked::SeenBy(_) => {
                Some(format!("`{}` is not known here. The name, to be entered as a fitter; or leave?", self.by))
            }
            Asked::What if self.pending.is_empty() => {
                Some("No signature waits for a countersignature: concession, overrule, verify, or leave?".to_owned())
            }
            Asked::What => {
                let words = self.pending.iter().map(|one| one.words.as_str()).collect::<Vec<_>>().join("; ");
                Some(format!("Waiting: {words}. countersign, send back, concession, overrule, verify, or leave?"))
            }
            Asked::Countersign => Some("Countersign it under your name: yes, no?".to_owned()),
            Asked::Line if self.unsent.is_empty() => Some("Remark at which line? Its number, such as 3.2".to_owned()),
            Asked::Line => Some("Another remark: its line's number; or done, or cancel?".to_owned()),
            Asked::Words(..) => Some("What is asked there?".to_owned()),
            Asked::Concession(answers) => Some(match answers.len() {
                0 => "A concession about which line? Its number, such as 3.2".to_owned(),
                5 => format!("What does it allow at worst? {}", ALLOWS.map(Consequence::word).join(", ")),
                6 => "Is that right? yes, no".to_owned(),
                count => CONCESSION.get(count - 1).map(|question| format!("{question}?")).unwrap_or_default(),
            }),
            Asked::Overrule(answers) => Some(match OVERRULE.get(answers.len()) {
                Some(question) => (*question).to_owned(),
                None => self.overruled(answers),
            }),
            Asked::Over => None,
        }
    }

    fn overruled(&self, answers: &[String]) -> String {
        let supervisor = answers.get(2).and_then(|named| self.reading.id_of(named));
        let behalf = match supervisor.filter(|id| !id.same_as(&self.by)) {
            Some(id) => format!(" Typed on behalf of {id}: claimed until {id} signs or countersigns."),
            None => String::new(),
        };
        format!("What the rules say stays beside it.{behalf} Is that right? yes, no")
    }

    /// Takes a line for an answer.
    pub fn hear(&mut self, line: &str) -> Heard {
        let line = line.trim();
        if matches!(line, "?" | "!") {
            return Heard::Said(self.help().to_owned());
        }
        if line == "leave" && self.is_inside() {
            let words = matches!(self.asked, Asked::Words(..));
            self.asked = if words { Asked::Line } else { Asked::What };
            return Heard::Said("Left; nothing was entered.".to_owned());
        }
        match std::mem::replace(&mut self.asked, Asked::What) {
            Asked::Seen => self.seen(line),
            Asked::SeenBy(note) => self.seen_by(line, note),
            Asked::What => self.what(line),
            Asked::Countersign => self.countersign(line),
            Asked::Line => self.line(line),
            Asked::Words(at, step) => {
                if line.is_empty() {
                    self.asked = Asked::Words(at, step);
                    return Heard::Said("A remark needs words.".to_owned());
                }
                self.unsent.push(Unsent { line: at, step, text: line.to_owned() });
                self.asked = Asked::Line;
                Heard::Said(String::new())
            }
            Asked::Concession(answers) => self.concession(line, answers),
            Asked::Overrule(answers) => self.overrule(line, answers),
            Asked::Over => self.over(),
        }
    }

    /// Something was done: it is over, or the question is asked again.
    pub fn done(&mut self, done: Result<(), String>) -> String {
        match done {
            Ok(()) if matches!(self.asked, Asked::Seen | Asked::SeenBy(_)) => {
                self.reading.outside = None;
                self.asked = Asked::What;
                "Saved.".to_owned()
            }
            Ok(()) => {
                if self.asked == Asked::Line {
                    self.unsent.clear();
                }
                self.asked = Asked::Over;
                "Saved.".to_owned()
            }
            Err(why) => why,
        }
    }

    /// Whether a question is open from which one goes back to what can be done.
    fn is_inside(&self) -> bool {
        !matches!(self.asked, Asked::Seen | Asked::SeenBy(_) | Asked::What | Asked::Over)
    }

    /// What the question is about, and the way out of it.
    fn help(&self) -> &'static str {
        match self.asked {
            Asked::Seen | Asked::SeenBy(_) => {
                "Bytes of the file are not those that were saved. Who says so stands for it; nothing is repaired. verify, from the shell, says where."
            }
            Asked::What => {
                "countersign: a supervisor who did not sign. send back: remarks at numbered lines. concession: the answer to what was referred. overrule: what is done with a part. verify: what holds. leave: nothing is changed."
            }
            Asked::Countersign => "yes puts it under your name; no or leave goes back.",
            Asked::Line | Asked::Words(..) => {
                "A remark starts at a line's number; the fitter sees it at that step. done sends all, cancel drops all, leave goes back and keeps them."
            }
            Asked::Concession(_) | Asked::Over => {
                "What the rules say stays beside it. leave goes back, nothing is entered."
            }
            Asked::Overrule(_) => {
                "Toward the safer side who enters it decides; the other way a supervisor, never for a crack. leave goes back, nothing is entered."
            }
        }
    }

    fn over(&mut self) -> Heard {
        self.asked = Asked::Over;
        Heard::Said("Nothing was changed.".to_owned())
    }

    /// Who reviews has seen the change, whatever the record says who that is.
    fn seen(&mut self, line: &str) -> Heard {
        match line {
            "leave" => self.over(),
            "" => {
                self.asked = Asked::Seen;
                Heard::Said("It needs words.".to_owned())
            }
            note if self.reading.id_of(self.by.as_str()).is_some() => {
                self.asked = Asked::Seen;
                let seen = self.reading.seen(self.by.as_str(), note);
                Heard::Do(seen.map(|(_, acts)| acts).unwrap_or_default())
            }
            note => {
                self.asked = Asked::SeenBy(note.to_owned());
                Heard::Said(String::new())
            }
        }
    }

    fn seen_by(&mut self, line: &str, note: String) -> Heard {
        if line == "leave" {
            return self.over();
        }
        let mut acts = self.reading.seen(self.by.as_str(), &note).map(|(_, acts)| acts).unwrap_or_default();
        self.asked = Asked::SeenBy(note);
        if line.is_empty() {
            return Heard::Said("It needs a name.".to_owned());
        }
        for act in &mut acts {
            let Act::Person(person) = act else { continue };
            (person.id, person.name) = (self.by.clone(), line.to_owned());
        }
        Heard::Do(acts)
    }

    fn what(&mut self, line: &str) -> Heard {
        let waits = !self.pending.is_empty();
        self.asked = match line {
            "countersign" if waits => Asked::Countersign,
            "send back" if waits => {
                self.asked = Asked::Line;
                let kept = self.unsent.iter().map(|one| format!("Not sent yet: {}", one.text));
                return Heard::Said(kept.collect::<Vec<_>>().join("\n"));
            }
            "concession" => Asked::Concession(Vec::new()),
            "overrule" => Asked::Overrule(Vec::new()),
            "verify" => return Heard::Verify,
            "leave" => return self.over(),
            other => return Heard::Said(format!("Not taken: `{other}`. One of the words of the question.")),
        };
        Heard::Said(String::new())
    }

    fn countersign(&mut self, line: &str) -> Heard {
        match line {
            "yes" => Heard::Do(self.pending.iter().cloned().map(Pending::countersign).collect()),
            "no" => Heard::Said(String::new()),
            other => {
                self.asked = Asked::Countersign;
                Heard::Said(format!("Not taken: `{other}`. yes or no."))
            }
        }
    }

    fn line(&mut self, line: &str) -> Heard {
        match line {
            "cancel" => {
                self.unsent.clear();
                return Heard::Said("Not sent back, the remarks are dropped.".to_owned());
            }
            "done" if !self.unsent.is_empty() => {
                let remark = |one: &Unsent| Remark { step: one.step.clone(), text: one.text.clone() };
                let remarks = self.unsent.iter().map(remark).collect();
                // asked again until it is saved
                self.asked = Asked::Line;
                return Heard::Do(self.reading.send_back(remarks).into_iter().collect());
            }
            _ => {}
        }
        if let Some(item) = self.numbered(line) {
            let (text, step) = (item.text.clone(), item.step.clone());
            let said = format!("At: {}{text}", self.named(line));
            self.asked = Asked::Words(text, step);
            Heard::Said(said)
        } else {
            self.asked = Asked::Line;
            Heard::Said(format!("Not taken: `{line}`. No line has that number."))
        }
    }

    /// The line called `3.2`: the second of the third page. So a line keeps its number when another page grows.
    fn numbered(&self, line: &str) -> Option<&Item> {
        let (page, line) = line.split_once('.')?;
        let of = |text: &str| text.parse::<usize>().ok()?.checked_sub(1);
        self.reading.review.pages.get(of(page)?)?.items.get(of(line)?)
    }

    /// `Bush, turbine side, `: the page on which that line stands.
    fn named(&self, line: &str) -> String {
        let page = line.split_once('.').and_then(|(page, _)| page.parse::<usize>().ok()?.checked_sub(1));
        let page = page.and_then(|page| self.reading.review.pages.get(page));
        page.map(|page| format!("{}, ", page.title)).unwrap_or_default()
    }

    /// What a concession can be about, each with its number.
    fn concedable(&self) -> String {
        let pages = (1_usize..).zip(&self.reading.review.pages);
        let all = pages.flat_map(|(page, one)| (1_usize..).zip(&one.items).map(move |(line, item)| (page, line, item)));
        let all = all.filter(|(_, _, item)| item.about.is_some());
        let all: Vec<_> = all.map(|(page, line, item)| format!("{page}.{line} {}", item.text)).collect();
        if all.is_empty() { "nothing asks for one here".to_owned() } else { all.join("; ") }
    }

    fn concession(&mut self, line: &str, mut answers: Vec<String>) -> Heard {
        let about = |item: &Item| item.part.is_some() && item.about.is_some();
        let taken = match answers.len() {
            0 => self.numbered(line).is_some_and(about),
            5 => ALLOWS.iter().any(|one| one.word() == line),
            6 => matches!(line, "yes" | "no"),
            _ => !line.is_empty(),
        };
        if !taken || answers.len() < 6 {
            let said = match (taken, answers.len()) {
                (true, 0) => {
                    let text = self.numbered(line).map(|item| item.text.clone()).unwrap_or_default();
                    format!("At: {}{text}", self.named(line))
                }
                (true, _) => String::new(),
                (false, 0) => format!("Not taken: `{line}`. A concession can be about: {}.", self.concedable()),
                (false, _) => format!("Not taken: `{line}`."),
            };
            answers.extend(taken.then(|| line.to_owned()));
            self.asked = Asked::Concession(answers);
            return Heard::Said(said);
        }
        if line == "no" {
            return Heard::Said("Not entered.".to_owned());
        }
        let item = answers.first().and_then(|line| self.numbered(line));
        let act = item.and_then(|item| Reading::concession(item, answers.get(1..).unwrap_or_default()));
        act.map_or_else(
            || Heard::Said("That line is about nothing that was referred.".to_owned()),
            |act| Heard::Do(vec![act]),
        )
    }

    fn overrule(&mut self, line: &str, mut answers: Vec<String>) -> Heard {
        let taken = match answers.len() {
            0 => self.reading.part(line).is_some(),
            1 => Disposition::parse(line).is_some(),
            2 => self.reading.people.iter().any(|person| person.id.as_str() == line && person.is(Role::Supervisor)),
            4 => matches!(line, "yes" | "no"),
            _ => !line.is_empty(),
        };
        if !taken || answers.len() < OVERRULE.len() {
            let said =
                if taken { String::new() } else { format!("Not taken: `{line}`. {}", self.wanted(answers.len())) };
            answers.extend(taken.then(|| line.to_owned()));
            if let [part, to] = answers.as_slice()
                && self.reading.is_safer(part, to)
            {
                answers.push(self.by.to_string());
            }
            self.asked = Asked::Overrule(answers);
            return Heard::Said(said);
        }
        match self.reading.overrule(&answers) {
            Some(act) if line == "yes" => Heard::Do(vec![act]),
            Some(_) | None => Heard::Said("Not overruled.".to_owned()),
        }
    }

    /// What would be taken for an answer about an overruled part.
    fn wanted(&self, answers: usize) -> String {
        match answers {
            0 => {
                let parts = self.reading.standing.parts.iter().map(|part| part.short.as_str());
                format!("One of: {}.", parts.collect::<Vec<_>>().join(", "))
            }
            1 => format!("One of: {}.", Disposition::ALL.map(Disposition::word).join(", ")),
            2 => {
                let ids: Vec<_> = self.reading.supervisors().map(|person| person.id.to_string()).collect();
                format!("A supervisor: {}.", ids.join(", "))
            }
            3 => "It needs words.".to_owned(),
            _ => "yes or no.".to_owned(),
        }
    }
}
