//! Checklists: the order of parts and steps, the texts, what each step takes. No number of any machine.

mod finding;
mod grid;
mod offers;
mod soon;
mod works;

pub use finding::{Ask, FindingKind, Grade};
pub use grid::{Against, Block, Cell, Grid, Order, Usual, Worse};
pub use soon::Soon;
pub use works::{Source, Works};

use std::collections::BTreeSet;

use super::characteristic::Characteristic;
use super::figure::Figure;
use super::id::Id;
use super::judge::Condition;
use super::phase::Phase;

/// A part of the rotor, or a stretch of the job that has a verdict of its own.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Part {
    /// `bush.ts`.
    pub id: String,
    /// `Bush, turbine side`.
    pub name: String,
    /// For tables: `bush, turbine`.
    pub short: String,
    /// What it is a stretch of, where it is no piece that can be scrapped: `the job`, `the machine`.
    pub stretch_of: Option<String>,
    /// Turns with the shaft: replacing, dressing or reseating it leaves the balance to do.
    pub rotates: bool,
    /// Seen to again after so many months, whatever the hours. Common practice unless the sheet says otherwise.
    pub every_months: Option<u32>,
    /// Steps that put it back: they wait for what is open, referred or called on it, and for its checks.
    pub holds_back: Vec<String>,
    /// What may be seen on it.
    pub findings: Vec<FindingKind>,
}

impl Part {
    /// What it is a stretch of. A gap between other pieces is none itself, also where an older checklist does not say so:
    /// another one would keep the readings of each piece that makes it.
    pub fn stretch(&self) -> Option<&str> {
        let between = || Characteristic::is_between(&self.id).then_some("the pieces that turn");
        self.stretch_of.as_deref().or_else(between)
    }

    /// The finding of this kind.
    pub fn finding(&self, kind: &str) -> Option<&FindingKind> {
        self.findings.iter().find(|one| one.kind == kind)
    }
}

/// A point to be confirmed by name.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Point {
    /// Its id within the step.
    pub id: String,
    /// What is confirmed, one line.
    pub text: String,
    /// Whether there are machines or jobs without it; on any other it is marked away by a supervisor alone.
    pub optional: bool,
}

/// Which of the two signatures.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Signing {
    /// What to do with each part; opens the rebuild.
    Decisions,
    /// The end of the job.
    Close,
}

impl Signing {
    /// The word in files.
    pub fn word(self) -> &'static str {
        match self {
            Self::Decisions => "decisions",
            Self::Close => "close",
        }
    }

    /// The signing a word in a file means.
    pub fn parse(word: &str) -> Option<Self> {
        [Self::Decisions, Self::Close].into_iter().find(|one| one.word() == word)
    }
}

/// What a step takes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Takes {
    /// Every point confirmed by name, or marked not applicable by name.
    Points(Vec<Point>),
    /// Done, by whom, when.
    Tick,
    /// Findings of the part, or "looked, nothing found".
    Look,
    /// Figures in a grid of places.
    Readings(Grid),
    /// A soak or a wait between a smallest and a largest time.
    Soak {
        /// At least so long.
        from: Figure,
        /// At most so long; none when longer does no harm.
        to: Option<Figure>,
    },
    /// A sentence in words.
    Words,
    /// A signature.
    Sign(Signing),
}

impl Takes {
    /// The step whose temperatures bring its sizes to 20 degC.
    pub fn temperatures(&self) -> Option<&str> {
        if let Self::Readings(grid) = self { grid.temperatures.as_deref() } else { None }
    }
}

/// How a characteristic follows from the step's readings.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Judged {
    /// What is judged.
    pub characteristic: Characteristic,
    /// By which reckoning, with its number: `lift/1`.
    pub reckoning: String,
    /// Which of its results, where it has several: `step_wear`.
    pub result: Option<String>,
    /// Steps that it opens or holds open once it is past its limit as found, by step id.
    pub obliges: Vec<String>,
}

/// What a step asks for besides what it takes; until it is there, a part is held, or the step takes nothing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum StepAsk {
    /// A picture of what was seen; a note at the step stands for it where there is no camera.
    Picture,
    /// The rotor's balance: something that turns comes off its seat here.
    Balance,
    /// Hours and date of the next opening, before anything is written here.
    Plan,
}

impl StepAsk {
    /// Everything that may be asked for.
    pub const ALL: [Self; 3] = [Self::Picture, Self::Balance, Self::Plan];

    /// The word in files.
    pub fn word(self) -> &'static str {
        match self {
            Self::Picture => "picture",
            Self::Balance => "balance",
            Self::Plan => "plan",
        }
    }
}

/// One step.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Step {
    /// `bush.ts/clearance`, unique in the checklist.
    pub id: String,
    /// The part it belongs to.
    pub part: String,
    /// When it is done.
    pub phase: Phase,
    /// `clearance by lift`.
    pub title: String,
    /// What to do, at most three lines of 76 characters.
    pub doing: Vec<String>,
    /// Why it is done.
    pub why: Vec<String>,
    /// How to hold the instrument or tool.
    pub how: Vec<String>,
    /// The usual mistakes, and which way each errs.
    pub mistakes: Vec<String>,
    /// What can hurt someone, one line.
    pub caution: Option<String>,
    /// Seen from, zero, sense, running direction.
    pub seen: Option<String>,
    /// Steps that must be done or skipped first.
    pub needs: Vec<String>,
    /// How soon it follows a wait among them; later it shows nothing.
    pub soon: Option<Soon>,
    /// Done only when a finding or a disposition asks for it.
    pub on_demand: bool,
    /// What doing it asks for besides.
    pub asks: Vec<StepAsk>,
    /// What it takes.
    pub takes: Takes,
    /// Kinds of its part that it looks for: they stand first in its list.
    pub looks_for: Vec<String>,
    /// Words that it offers, where it takes a sentence: the usual causes.
    pub offers: Vec<String>,
    /// What it judges.
    pub judges: Vec<Judged>,
    /// What it reckons besides, and judges nothing by.
    pub works: Vec<Works>,
}

impl Step {
    /// The kinds that may be seen on a part in the order in which this step offers them: those that it looks for first.
    pub fn kinds_of<'a>(&self, part: &'a Part) -> Vec<&'a FindingKind> {
        let place = |kind: &&FindingKind| self.looks_for.iter().position(|one| *one == kind.kind).unwrap_or(usize::MAX);
        let mut kinds: Vec<_> = part.findings.iter().collect();
        if self.part == part.id {
            kinds.sort_by_key(place);
        }
        kinds
    }

    /// Whether its figures show how the machine was found, or how it will run on.
    pub fn condition(&self) -> Condition {
        if self.phase.is_as_left() { Condition::AsLeft } else { Condition::AsFound }
    }

    /// Whether its figures are judged by this reckoning, whatever its number: `lift`.
    pub fn is_reckoned_by(&self, name: &str) -> bool {
        self.judges.iter().any(|judged| judged.reckoning.split('/').next() == Some(name))
    }

    /// Whether it judges the characteristic with this id: `bush.ts.clearance`.
    pub fn judges_id(&self, id: &str) -> bool {
        self.judges.iter().any(|judged| judged.characteristic.id() == id)
    }

    /// Whether a figure that it judges is one of this part too, its own part's mate.
    pub fn is_measured_with(&self, part: &str) -> bool {
        self.judges.iter().any(|judged| judged.characteristic.mate() == Some(part))
    }

    /// Whether it measures the balance as left.
    pub fn is_balance_as_left(&self) -> bool {
        self.condition() == Condition::AsLeft && self.judges.iter().any(|judged| judged.characteristic.is_of_balance())
    }

    /// Whether one gauge serves both: figures of one unit for one reckoning. Any other step asks for its own.
    pub fn shares_gauge_with(&self, other: &Self) -> bool {
        let (Takes::Readings(a), Takes::Readings(b)) = (&self.takes, &other.takes) else { return false };
        let reckonings = |step: &Self| step.judges.iter().map(|judged| judged.reckoning.clone()).collect::<Vec<_>>();
        a.gauge == b.gauge && a.unit == b.unit && reckonings(self) == reckonings(other)
    }

    /// The field with which `cell` makes one figure: the other of two readings of a place.
    pub fn mate_of(&self, cell: &Cell) -> Option<Cell> {
        let Takes::Readings(grid) = &self.takes else { return None };
        let [one, other] = grid.figures.as_slice() else { return None };
        let figure = if cell.figure.as_ref() == Some(one) { other } else { one };
        Some(Cell { figure: Some(figure.clone()), ..cell.clone() })
    }
}

/// The order of parts and steps.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Checklist {
    /// `overhaul`.
    pub id: Id,
    /// Grows with every change.
    pub version: u32,
    /// `Full overhaul`.
    pub title: String,
    /// In the order in which they are shown.
    pub parts: Vec<Part>,
    /// In the order of the work.
    pub steps: Vec<Step>,
}

impl Checklist {
    /// The step with this id.
    pub fn step(&self, id: &str) -> Option<&Step> {
        self.steps.iter().find(|step| step.id == id)
    }

    /// The part with this id.
    pub fn part(&self, id: &str) -> Option<&Part> {
        self.parts.iter().find(|part| part.id == id)
    }

    /// Whether a part is the making safe, or nothing but signatures: a stretch of the job, said so or not.
    pub fn is_of_the_job(&self, part: &str) -> bool {
        let mut steps = self.steps.iter().filter(|step| step.part == part).peekable();
        let is_there = steps.peek().is_some();
        let (mut safe, mut signed) = (false, is_there);
        for step in steps {
            safe |= step.phase == Phase::Safe;
            signed &= matches!(step.takes, Takes::Sign(_));
        }
        safe || signed
    }

    /// The part that waits for the balance when something that turns was touched.
    pub fn waits_for_balance(&self) -> Option<&Part> {
        self.part("balance").or_else(|| self.part("shaft"))
    }

    /// Whether a step is one of these or comes after one, at once or through others.
    pub fn is_behind(&self, step: &Step, these: &[String]) -> bool {
        let mut left: Vec<&String> = step.needs.iter().chain([&step.id]).collect();
        let mut seen = BTreeSet::new();
        while let Some(need) = left.pop() {
            if these.contains(need) {
                return true;
            }
            if seen.insert(need) {
                left.extend(self.step(need).into_iter().flat_map(|step| &step.needs));
            }
        }
        false
    }
}
