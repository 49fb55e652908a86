//! A record on the bench for tests: the demonstration rotor, and a line mode session over it.

use asfound::domain::apply::apply;
use asfound::domain::checklist::Takes;
use asfound::domain::entry::{Act, Entry, PhotoRef};
use asfound::domain::inspection::{Head, Inspection, Opening, Scene};
use asfound::domain::phase::Phase;
use asfound::domain::request::{Decision, Hand, Request};
use asfound::domain::signing::Seal;
use asfound::domain::stamp::Stamp;
use asfound::face::plain::{Come, Session, Want};
use asfound::records::checklist_file::built_in;

pub(super) fn moment(text: &str) -> Stamp {
    text.parse().unwrap()
}

/// The head of a record of the demonstration rotor, nothing answered but the hours.
pub(super) fn demo_head() -> Head {
    let scenery = super::demo::as_written();
    Head {
        id: "DEMO-1/2024-07-12-overhaul".to_owned(),
        begun: moment("2024-07-12T07:00:00+02:00"),
        by: "fitter-a".parse().unwrap(),
        scene: Scene::Invented,
        previous: None,
        parts: scenery.rotor.parts.clone(),
        rotor: scenery.rotor,
        opened: Opening { machine_hours: Some("48480 h".parse().unwrap()), ..Opening::default() },
        checklist: built_in("overhaul").unwrap().unwrap(),
        sheet: Some(scenery.sheet),
        instruments: scenery.instruments,
        people: scenery.people,
        history: Vec::new(),
        carried: Vec::new(),
        taken_out: Vec::new(),
    }
}

/// An inspection with its first entry.
pub(super) fn begun(head: Head) -> Inspection {
    let mut inspection = Inspection::new(head);
    let hand = Hand {
        by: inspection.head().by.clone(),
        writer: None,
        at: inspection.head().begun,
        late: None,
        break_hours: 12,
    };
    let Decision::Take(entry) = asfound::domain::decide::decide(&inspection, &Request::Do(Act::Begin), &hand) else {
        panic!("a record begins with `begin`");
    };
    apply(&mut inspection, *entry);
    inspection
}

/// Whether somebody has left.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Ended {
    No,
    Left,
}

/// Whether there is room.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Disk {
    Room,
    Full,
}

/// A session whose files never fail, a clock that runs twenty seconds a line, and all that was said.
#[derive(Clone)]
pub(crate) struct Bench {
    pub(super) session: Session,
    pub(super) now: Stamp,
    pub(super) saved: Vec<Entry>,
    pub(super) left: Ended,
    pub(super) disk: Disk,
    /// Seconds a line.
    pub(super) pace: i64,
    /// Whether the walk goes to the close: what the start waits for is not on this machine, instead of left out.
    pub(super) whole: bool,
    /// Photos that the disk has not.
    pub(super) lost: Vec<String>,
    said: Vec<String>,
    question: String,
}

impl Bench {
    pub(crate) fn over(inspection: Inspection) -> Self {
        let by = inspection.head().by.clone();
        let now = inspection.entries().last().unwrap().at;
        let saved = inspection.entries().to_vec();
        let session = Session::new(inspection, by, 12);
        let mut bench = Self {
            session,
            now,
            saved,
            left: Ended::No,
            disk: Disk::Room,
            pace: 20,
            whole: false,
            lost: Vec::new(),
            said: Vec::new(),
            question: String::new(),
        };
        bench.come(Come::Start);
        bench
    }

    pub(super) fn demo() -> Self {
        Self::over(begun(demo_head()))
    }

    fn come(&mut self, mut come: Come) {
        loop {
            let turn = self.session.hear(come, self.now);
            if let Some(last) = turn.said.last() {
                self.question.clone_from(last);
            }
            self.said.extend(turn.said);
            come = match turn.want {
                Want::Line => return,
                Want::Leave => {
                    self.left = Ended::Left;
                    return;
                }
                Want::Save(_) if self.disk == Disk::Full => Come::NotSaved("No room on the disk.".to_owned()),
                Want::Save(entries) => {
                    self.saved.extend(entries);
                    Come::Saved
                }
                Want::Elsewhere(folder, _) if folder == "full" => Come::NotSaved("No room there either.".to_owned()),
                Want::Elsewhere(_, entries) => {
                    self.disk = Disk::Room;
                    self.saved.extend(entries);
                    Come::Saved
                }
                Want::Copy(folder, entries) => Come::Copied(Ok(format!("{} in {folder}", entries.len()))),
                Want::Seal => Come::Sealed(Ok(Seal {
                    length: u64::try_from(self.saved.len()).unwrap(),
                    sha256: "0".repeat(64),
                    lost: self.lost.clone(),
                })),
                Want::Key(..) => Come::Keyed(Err("no key here".to_owned())),
                Want::Photo(Some(path)) if path.starts_with("missing") => {
                    Come::Photo(Err(format!("{path} is not there. Type another file, or an empty line.")))
                }
                Want::Photo(path) => Come::Photo(Ok(PhotoRef {
                    hash: "a".repeat(64),
                    name: path.unwrap_or_else(|| "newest.jpg".to_owned()),
                })),
            };
        }
    }

    /// Types lines; the clock runs on.
    pub(crate) fn types(&mut self, lines: &[&str]) -> &mut Self {
        for line in lines {
            self.said.push(format!("> {line}"));
            self.now = Stamp::from(self.now.moment() + chrono::TimeDelta::seconds(self.pace));
            self.come(Come::Line((*line).to_owned()));
        }
        self
    }

    pub(super) fn waits(&mut self, minutes: i64) -> &mut Self {
        self.now = Stamp::from(self.now.moment() + chrono::TimeDelta::minutes(minutes));
        self
    }

    /// Types what the question asks for until `step` stands: points confirmed, done, nothing seen, everything else left out.
    pub(super) fn walks_to(&mut self, step: &str) -> &mut Self {
        for _ in 0..2000 {
            if self.session.place(self.now).is_some_and(|(at, _)| at == step) {
                return self;
            }
            self.answers();
        }
        panic!("{step} was not reached:\n{}", self.said_tail());
    }

    /// Types what the question asks for: confirmed, done, nothing seen, signed; everything else left out.
    pub(crate) fn answers(&mut self) -> &mut Self {
        let question = self.question.clone();
        let lines: &[&str] = if question.contains("(yes") {
            &["yes"]
        } else if question.contains("(done)") {
            &["done"]
        } else if question.contains("what is seen") {
            if question.contains("nothing more") { &["nothing more"] } else { &["nothing"] }
        } else if self.said_last().contains("no hours or no date") {
            &["! next opening", "60510", "2026-07-02", "as the manual has it"]
        } else if ["in words", "stopped after"].iter().any(|asked| question.starts_with(asked))
            && !question.contains("(start)")
        {
            &["nothing to tell"]
        } else if self.whole && question.contains("(start)") {
            // no soak has its time in a walk of twenty seconds a line
            &["! 4", "not on this machine or job", "not on this one"]
        } else if question.contains("(start)") {
            &["start"]
        } else if question.contains("(sign,") {
            &["sign"]
        } else if question.contains("(carry on)") {
            &["carry on"]
        } else if question.contains("(stop)") {
            &["stop"]
        } else if question.starts_with("! for what else") {
            &["! 4", "2", "3"]
        } else if self.proves() {
            &["! 4", "3", "not on this one"]
        } else {
            &["! 4", "2", "3"]
        };
        self.types(&lines[..1]);
        if self.question.starts_with("at which step") {
            self.types(&["1"]);
        }
        self.types(&lines[1..])
    }

    /// Whether nothing starts while it is left out: counts, torques, conditions of a test, all that is done after the decisions.
    fn proves(&self) -> bool {
        let step = self.session.place(self.now).and_then(|(id, _)| self.inspection().head().checklist.step(&id));
        self.whole
            && step.is_some_and(|step| {
                let at_the_bench = step.phase > Phase::Safe && step.judges.is_empty();
                step.phase > Phase::Decide || at_the_bench && matches!(step.takes, Takes::Readings(_))
            })
    }

    /// All that was said since the last look.
    pub(super) fn hears(&mut self) -> String {
        std::mem::take(&mut self.said).join("\n")
    }

    /// Whether a step's question stands, or may yet.
    pub(super) fn left_to_do(&self) -> bool {
        !(self.question.starts_with("! for what else")
            && self.said.iter().any(|line| line.starts_with("Every step is settled")))
    }

    /// What was said before the question that stands.
    pub(super) fn said_last(&self) -> &str {
        self.said.iter().rev().nth(1).map_or("", String::as_str)
    }

    /// The last of what was said, for a walk that got nowhere.
    pub(super) fn said_tail(&self) -> String {
        self.said[self.said.len().saturating_sub(30)..].join("\n")
    }

    pub(crate) fn question(&self) -> &str {
        &self.question
    }

    pub(crate) fn inspection(&self) -> &Inspection {
        self.session.inspection()
    }
}
