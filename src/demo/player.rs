//! Plays a file of answers through `decide` and `apply`, with the clock that the answers pretend.

mod opening;
mod wish;

use std::fmt;

use crate::domain::apply::apply;
use crate::domain::carried::carried_on;
use crate::domain::checklist::Signing;
use crate::domain::decide::decide;
use crate::domain::entry::{Act, Entry};
use crate::domain::hours;
use crate::domain::id::Id;
use crate::domain::inspection::{Head, Inspection, Past, Previous, Scene};
use crate::domain::request::{Decision, Hand, Request};
use crate::domain::signing::{self, Seal};
use crate::domain::stamp::Stamp;
use crate::domain::standing::{Standing, history_after};
use crate::domain::taken_out::taken_out_after;

use super::answers::{Line, lines};
use super::scene::Scenery;
use opening::Opened;
use wish::Wish;

/// Where the entries go.
pub trait Keeper {
    /// Begins a record.
    ///
    /// # Errors
    /// Why it is not on the disk.
    fn begin(&mut self, head: &Head) -> Result<(), String>;

    /// Puts entries behind those that are there.
    ///
    /// # Errors
    /// Why they are not on the disk.
    fn append(&mut self, entries: &[Entry]) -> Result<(), String>;

    /// Length and SHA-256 of all that is there.
    ///
    /// # Errors
    /// Why they cannot be had.
    fn seal(&mut self) -> Result<Seal, String>;

    /// The chain value behind the last entry.
    fn chain(&self) -> String;
}

/// Why the answers could not be played to their end.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PlayFault {
    /// The line of the answers, from 1.
    pub line: usize,
    /// What is wrong.
    pub what: String,
}

impl fmt::Display for PlayFault {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "answer in line {}: {}", self.line, self.what)
    }
}

/// Seconds from one answer to the next.
const PACE: i64 = 15;

/// The remark that the first entry of every played record is followed by.
const PLAYED: &str =
    "Played by the demonstration with a pretended clock: nobody took these readings, and there is no such rotor.";

/// Plays one inspection of the demonstration rotor behind `before`, and hands it back.
///
/// # Errors
/// The answer that was refused, doubted or not understood, or what the keeper said.
pub fn play(
    scenery: &Scenery,
    answers: &str,
    before: Option<(&Inspection, &str)>,
    keeper: &mut dyn Keeper,
) -> Result<Inspection, PlayFault> {
    let lines = lines(answers);
    let opened = Opened::read(&lines)?;
    let head = head(scenery, &opened, before);
    let at = |what: String| PlayFault { line: opened.line, what };
    keeper.begin(&head).map_err(at)?;
    let mut player = Player {
        inspection: Inspection::new(head),
        by: opened.by.clone(),
        writer: None,
        now: opened.begun,
        waiting: Vec::new(),
        keeper,
    };
    let first = [Request::Do(Act::Begin), Request::Do(Act::Note { step: None, text: PLAYED.to_owned() })];
    for request in first {
        player.ask(&request).map_err(at)?;
    }
    for line in lines.iter().filter(|line| line.fields.first().is_some_and(|word| word != "opening")) {
        player.answer(line).map_err(|what| PlayFault { line: line.number, what })?;
    }
    player.save().map_err(at)?;
    Ok(player.inspection)
}

fn head(scenery: &Scenery, opened: &Opened, before: Option<(&Inspection, &str)>) -> Head {
    let rotor = scenery.rotor.clone();
    let history: Vec<Past> =
        before.map(|(before, _)| history_after(before.head().history.clone(), before)).unwrap_or_default();
    Head {
        id: format!("{}/{}-{}", rotor.id, opened.begun.date(), opened.checklist.id),
        begun: opened.begun,
        by: opened.by.clone(),
        scene: Scene::Invented,
        previous: before.map(|(before, chain)| Previous {
            inspection: before.head().id.clone(),
            entry: before.entries().last().map_or(0, |entry| entry.number),
            chain: chain.to_owned(),
        }),
        parts: before.map_or_else(|| rotor.parts.clone(), |(before, _)| hours::carried_parts(&[before])),
        rotor,
        opened: opened.opening.clone(),
        checklist: opened.checklist.clone(),
        sheet: Some(scenery.sheet.clone()),
        instruments: scenery.instruments.clone(),
        people: scenery.people.clone(),
        history,
        carried: before.map(|(before, _)| carried_on(before)).unwrap_or_default(),
        taken_out: before.map(|(before, _)| taken_out_after(Vec::new(), before)).unwrap_or_default(),
    }
}

struct Player<'a> {
    inspection: Inspection,
    by: Id,
    writer: Option<Id>,
    now: Stamp,
    waiting: Vec<Entry>,
    keeper: &'a mut dyn Keeper,
}

impl Player<'_> {
    fn answer(&mut self, line: &Line) -> Result<(), String> {
        let fields: Vec<&str> = line.fields.iter().map(String::as_str).collect();
        match wish::wish(&self.inspection, &fields)? {
            Wish::Clock(moment) => {
                self.now = self.now.max(moment);
                Ok(())
            }
            Wish::Hands(by, writer) => {
                (self.by, self.writer) = (by, writer);
                Ok(())
            }
            Wish::Ask(requests) => requests.iter().try_for_each(|request| self.ask(request)),
            Wish::Sign(what, by) => self.sign(what, by),
            Wish::Countersign(what, by) => self.countersign(what, by),
        }
    }

    fn ask(&mut self, request: &Request) -> Result<(), String> {
        let hand = Hand {
            by: self.by.clone(),
            writer: self.writer.clone(),
            at: self.now,
            late: None,
            break_hours: crate::records::settings_file::Settings::default().break_hours,
        };
        match decide(&self.inspection, request, &hand) {
            Decision::Take(entry) => {
                apply(&mut self.inspection, (*entry).clone());
                self.waiting.push(*entry);
                let pace = chrono::TimeDelta::try_seconds(PACE);
                self.now = pace.map_or(self.now, |pace| Stamp::from(self.now.moment() + pace));
                Ok(())
            }
            Decision::Ask { typed, doubts } => {
                let doubts: Vec<_> = doubts.iter().map(crate::domain::doubt::Doubt::question).collect();
                Err(format!("{} is doubted. {}", typed.figure, doubts.join(" ")))
            }
            Decision::Refuse(refusal) => Err(refusal.to_string()),
        }
    }

    fn save(&mut self) -> Result<(), String> {
        let entries = std::mem::take(&mut self.waiting);
        if entries.is_empty() { Ok(()) } else { self.keeper.append(&entries) }
    }

    /// Signs as `by`; what is held at the close is carried on by name.
    fn sign(&mut self, what: Signing, by: Id) -> Result<(), String> {
        self.save()?;
        let seal = self.keeper.seal()?;
        let carried = match what {
            Signing::Decisions => Vec::new(),
            Signing::Close => Standing::of(&self.inspection).holds_in_words(),
        };
        self.with_hand(by, &Request::Sign { what, seal, carried })?;
        self.save()
    }

    fn countersign(&mut self, what: Signing, by: Id) -> Result<(), String> {
        let sign = signing::standing_signature(&self.inspection, what).ok_or("nothing is signed yet")?.number;
        if self.inspection.entries().last().is_none_or(|last| last.number != sign) {
            return Err("the signature is not the last entry".to_owned());
        }
        let chain = self.keeper.chain();
        self.with_hand(by, &Request::Do(Act::Countersign { sign, chain }))
    }

    /// One request by another hand.
    fn with_hand(&mut self, by: Id, request: &Request) -> Result<(), String> {
        let hands = (std::mem::replace(&mut self.by, by), self.writer.take());
        let done = self.ask(request);
        (self.by, self.writer) = hands;
        done
    }
}
