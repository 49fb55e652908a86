//! A review line by line: the pages first, then what is done with the record. Same texts and same `decide` as the screen.
//!
//! `countersign` and one word more, or `send back`, a line's number and the remark for each, `done`; every other answer is
//! refused and printed.

use crate::domain::entry::{Act, Remark};
use crate::domain::inspection::Inspection;
use crate::domain::review::{Item, Page, Review, Tenor};
use crate::domain::verdict::Consequence;
use crate::domain::{signing, telling};

/// Where the conversation stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Asked {
    /// What to do with the record.
    What,
    /// Whether to countersign.
    Countersign,
    /// The number of the line that the next remark starts at.
    Line(Vec<Remark>),
    /// Its words; the step of the line.
    Words(Vec<Remark>, Option<String>),
    /// The answers to a concession so far.
    Concession(Vec<String>),
    /// Nothing more.
    Over,
}

/// What a line led to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Heard {
    /// Said, and the next question.
    Said(String),
    /// Something to be done with the record: to be decided, saved, and told by [`Session::done`].
    Do(Box<Act>),
}

/// A review in progress.
#[derive(Debug, Clone)]
pub struct Session {
    lines: Vec<Item>,
    asked: Asked,
    signature: Option<(u32, String)>,
}

const CONCESSION: [&str; 7] = [
    "About which line? Its number",
    "Who gave it?",
    "Which document?",
    "Under which conditions?",
    "Until when?",
    "What does it allow? nothing, watch, rework, replace",
    "Is that right? yes, no",
];

impl Session {
    /// The record's own pages; `chains` are the chain values behind its entries.
    pub fn new(inspection: &Inspection, review: &Review, chains: &[String]) -> Self {
        let pending = signing::countersign_pending(inspection).last().map(|entry| entry.number);
        let chain = |number: u32| {
            let place = inspection.entries().iter().position(|entry| entry.number == number)?;
            chains.get(place).cloned()
        };
        Self {
            lines: numbered(&review.pages).map(|(_, item)| item.clone()).collect(),
            asked: Asked::What,
            signature: pending.and_then(|number| Some((number, chain(number)?))),
        }
    }

    /// The question that waits; none when it is over.
    pub fn question(&self) -> Option<String> {
        match &self.asked {
            Asked::What => Some(match self.signature {
                Some((number, _)) => format!("Signature {number}: countersign, send back, concession, or leave?"),
                None => "No signature waits for a countersignature: concession, or leave?".to_owned(),
            }),
            Asked::Countersign => Some("Countersign it under your name: yes, no?".to_owned()),
            Asked::Line(remarks) if remarks.is_empty() => Some("Remark at which line? Its number".to_owned()),
            Asked::Line(_) => Some("Another remark: its line's number; or done, or cancel?".to_owned()),
            Asked::Words(..) => Some("What is asked there?".to_owned()),
            Asked::Concession(answers) => CONCESSION.get(answers.len()).map(|question| (*question).to_owned()),
            Asked::Over => None,
        }
    }

    /// Takes a line for an answer.
    pub fn hear(&mut self, line: &str) -> Heard {
        let line = line.trim();
        match std::mem::replace(&mut self.asked, Asked::What) {
            Asked::What => self.what(line),
            Asked::Countersign => self.countersign(line),
            Asked::Line(remarks) => self.line(line, remarks),
            Asked::Words(mut remarks, step) => {
                if line.is_empty() {
                    self.asked = Asked::Words(remarks, step);
                    return Heard::Said("A remark needs words.".to_owned());
                }
                remarks.push(Remark { step, text: line.to_owned() });
                self.asked = Asked::Line(remarks);
                Heard::Said(String::new())
            }
            Asked::Concession(answers) => self.concession(line, answers),
            Asked::Over => self.over(),
        }
    }

    /// Something was done: it is over, or the question is asked again.
    pub fn done(&mut self, done: Result<(), String>) -> String {
        match done {
            Ok(()) => {
                self.asked = Asked::Over;
                "Saved.".to_owned()
            }
            Err(why) => why,
        }
    }

    fn over(&mut self) -> Heard {
        self.asked = Asked::Over;
        Heard::Said("Nothing was changed.".to_owned())
    }

    fn what(&mut self, line: &str) -> Heard {
        let waits = self.signature.is_some();
        self.asked = match line {
            "countersign" if waits => Asked::Countersign,
            "send back" if waits => Asked::Line(Vec::new()),
            "concession" => Asked::Concession(Vec::new()),
            "leave" => return self.over(),
            other => return Heard::Said(format!("Not taken: `{other}`. One of the words of the question.")),
        };
        Heard::Said(String::new())
    }

    fn countersign(&mut self, line: &str) -> Heard {
        match (line, &self.signature) {
            ("yes", Some((sign, chain))) => Heard::Do(Box::new(Act::Countersign { sign: *sign, chain: chain.clone() })),
            ("no", _) => Heard::Said(String::new()),
            (other, _) => {
                self.asked = Asked::Countersign;
                Heard::Said(format!("Not taken: `{other}`. yes or no."))
            }
        }
    }

    fn line(&mut self, line: &str, remarks: Vec<Remark>) -> Heard {
        match (line, &self.signature) {
            ("cancel", _) => return Heard::Said("Not sent back.".to_owned()),
            ("done", Some((sign, chain))) if !remarks.is_empty() => {
                return Heard::Do(Box::new(Act::Return { sign: *sign, chain: chain.clone(), remarks }));
            }
            _ => {}
        }
        if let Some(item) = self.numbered(line) {
            let (text, step) = (item.text.clone(), item.step.clone());
            self.asked = Asked::Words(remarks, step);
            Heard::Said(format!("At: {text}"))
        } else {
            self.asked = Asked::Line(remarks);
            Heard::Said(format!("Not taken: `{line}`. No line has that number."))
        }
    }

    fn numbered(&self, line: &str) -> Option<&Item> {
        let number: usize = line.parse().ok()?;
        self.lines.get(number.checked_sub(1)?)
    }

    fn concession(&mut self, line: &str, mut answers: Vec<String>) -> Heard {
        let taken = match answers.len() {
            0 => self.numbered(line).is_some_and(|item| item.part.is_some()),
            5 => {
                Consequence::parse(line).is_some_and(|allows| !matches!(allows, Consequence::Call | Consequence::Refer))
            }
            6 => matches!(line, "yes" | "no"),
            _ => !line.is_empty(),
        };
        if !taken {
            self.asked = Asked::Concession(answers);
            return Heard::Said(format!("Not taken: `{line}`."));
        }
        if answers.len() < 6 {
            answers.push(line.to_owned());
            self.asked = Asked::Concession(answers);
            return Heard::Said(String::new());
        }
        if line == "no" {
            return Heard::Said("Not entered.".to_owned());
        }
        self.act_of(&answers).map_or_else(
            || Heard::Said("That line is about nothing that was referred.".to_owned()),
            |act| Heard::Do(Box::new(act)),
        )
    }

    fn act_of(&self, answers: &[String]) -> Option<Act> {
        let [line, who, document, conditions, until, allows] = answers else { return None };
        let item = self.numbered(line)?;
        Some(Act::Concession {
            part: item.part.clone()?,
            about: item.about.clone()?,
            who: who.clone(),
            document: document.clone(),
            conditions: conditions.clone(),
            until: until.clone(),
            allows: Consequence::parse(allows)?,
        })
    }
}

/// Every line of the further pages with its number, from 1 through all of them.
fn numbered(pages: &[Page]) -> impl Iterator<Item = (&Page, &Item)> {
    pages.iter().flat_map(|page| page.items.iter().map(move |item| (page, item)))
}

/// All pages as lines: the first page's answers, then every page, each line numbered and opened.
pub fn pages(inspection: &Inspection, review: &Review) -> Vec<String> {
    let head = inspection.head();
    let mut said = vec![format!("{}REVIEW {}. {}.", super::told::scene(inspection), head.id, head.rotor.machine)];
    let tenor = |tenor: Tenor| match tenor {
        Tenor::Good => '+',
        Tenor::Watch => '~',
        Tenor::Bad => 'X',
    };
    said.push(format!("Will it last? {} {}", tenor(review.lasts.tenor), review.lasts.text));
    said.push(format!("Is it closed? {} {}", tenor(review.closed.tenor), review.closed.text));
    said.push(format!(
        "To decide: {}.",
        if review.decide.is_empty() { "nothing".to_owned() } else { review.decide.join("; ") }
    ));
    for line in &review.lines {
        let hold = line.hold.as_ref().map(|(sign, words)| format!(", {sign} {words}")).unwrap_or_default();
        let more = if line.more_holds == 0 { String::new() } else { format!(" and {} more", line.more_holds) };
        let why = line.made_so.join("; ");
        said.push(format!(
            "{} {}: {}{hold}{more}. {why}.",
            line.disposition.sign(),
            line.short,
            line.disposition.word()
        ));
    }
    said.push(format!("+ within, {} parts: {}.", review.within.len(), review.within.join(", ")));
    for count in review.sure.iter().chain(&review.unusual) {
        said.push(format!("{}: {}.", count.name, count.number));
    }
    let mut number = 0_usize;
    for page in &review.pages {
        said.push(String::new());
        said.push(format!("{}.", page.title));
        for item in &page.items {
            number += 1;
            said.push(format!("{number} {} {}", item.sign, item.text));
            said.extend(item.evidence.iter().map(|line| format!("    {line}")));
        }
    }
    let remarks = signing::open_remarks(inspection);
    said.extend(remarks.iter().map(|(entry, ..)| entry).min().map(|entry| {
        let who = inspection.entry(*entry).map(|entry| telling::hands_of(inspection, entry)).unwrap_or_default();
        format!("{} remarks by {who} wait for an answer.", remarks.len())
    }));
    said
}
