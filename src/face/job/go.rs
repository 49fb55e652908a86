//! Moving about: from field to field, from step to step. A half-typed figure stays with its place.

use crate::domain::checklist::{Cell, Takes};
use crate::domain::gate::{self, Missing};
use crate::domain::phase::Phase;
use crate::domain::progress;
use crate::domain::signing;
use crate::domain::stamp::Stamp;
use crate::domain::telling;

use super::super::form::Go;
use super::{Job, Lower};

impl Job {
    /// Shows a step, with the hand on the first thing to be done there.
    pub fn go_to(&mut self, step: &str, now: Stamp) {
        step.clone_into(&mut self.step);
        self.scroll = 0;
        self.open_lower();
        self.at = self.first_open().or_else(|| self.deciding()).unwrap_or(0);
        self.look_at_gate(now);
    }

    /// The field of the place that decides what the step judges, where all is taken: its row is the one to be in sight.
    fn deciding(&self) -> Option<usize> {
        let gravest = self.standing.of_step(&self.step).filter(|one| one.judgement().is_some());
        let gravest = gravest.min_by_key(|one| std::cmp::Reverse(one.leads_to()))?;
        let spot = &gravest.judgement()?.value.spot;
        let is_there = |cell: &Cell| *spot == cell.spot() || spot.starts_with(&format!("{},", cell.spot()));
        let cells = self.cells();
        cells.iter().position(is_there).or_else(|| cells.iter().position(|cell| cell.row == *spot))
    }

    /// The lower half as it is when a step opens: as it was, or why and how for somebody who learns.
    pub fn open_lower(&mut self) {
        let learning = self.is_learning() && !self.is_step_settled();
        if learning && self.has_view(Lower::Why) {
            self.lower = Lower::Why;
        } else if learning || !self.has_view(self.lower) {
            self.lower = Lower::Judged;
        }
    }

    /// Puts the hand on a place of the present step.
    pub fn go_to_place(&mut self, place: &str) {
        let cell = self.cells().iter().position(|cell| cell.place() == place);
        let line = place.parse().ok().filter(|line| self.grid().is_none() && *line < self.lines());
        self.at = cell.or(line).unwrap_or(self.at);
    }

    /// Puts the hand on a field, point or line by its number.
    pub fn go_to_line(&mut self, line: usize) {
        self.at = line.min(self.lines().saturating_sub(1));
    }

    /// One line up or down.
    pub fn go_by(&mut self, by: Go) {
        match by {
            // what may be seen is a ring: up from the first is "nothing", however long the list
            Go::Back if self.at == 0 && self.is_look() => self.go_to_line(self.lines()),
            Go::Back => self.at = self.at.saturating_sub(1),
            Go::On => self.go_to_line(self.at + 1),
        }
    }

    fn is_look(&self) -> bool {
        self.step().is_some_and(|step| step.takes == Takes::Look)
    }

    /// The next thing to be done behind the hand, or else the first one; the hand stays where nothing is left.
    pub fn go_on(&mut self) {
        let behind = (self.at..self.lines()).find(|line| !self.is_settled(*line));
        if let Some(line) = behind.or_else(|| self.first_open()) {
            self.at = line;
        }
    }

    /// Shows the next step that waits; says whether there is one.
    pub fn go_to_next_step(&mut self, now: Stamp) -> Option<String> {
        let next = self.next_step()?;
        self.go_to(&next, now);
        Some(next)
    }

    /// Whether the step at hand is of making safe, and whether the machine still is, is asked again.
    pub fn is_safety_asked(&self, now: Stamp) -> bool {
        let safe = self.step().is_some_and(|step| step.phase == Phase::Safe);
        let next = self.next_step().and_then(|next| self.inspection.head().checklist.step(&next).cloned());
        let missing = next.map(|next| gate::missing(&self.inspection, &next, &self.hand(now))).unwrap_or_default();
        safe && missing.contains(&Missing::SafetyAgain)
    }

    /// The next step of making safe behind the one at hand.
    pub fn next_safety_step(&self) -> Option<String> {
        let behind = progress::steps(&self.inspection).skip_while(|step| step.id != self.step).skip(1);
        behind.filter(|step| step.phase == Phase::Safe).map(|step| step.id.clone()).next()
    }

    /// The next step behind the present one that waits, or else the first of all.
    pub fn next_step(&self) -> Option<String> {
        let waits = |step: &&crate::domain::checklist::Step| {
            let state = progress::state(&self.inspection, step);
            // what was sent back waits for an answer, however settled it was
            let sent_back = !signing::remarks_at(&self.inspection, &step.id).is_empty();
            sent_back || !state.is_settled() && !matches!(state, progress::StepState::Running { .. })
        };
        let behind = progress::steps(&self.inspection).skip_while(|step| step.id != self.step).skip(1).find(waits);
        let next = behind.or_else(|| progress::steps(&self.inspection).filter(|step| step.id != self.step).find(waits));
        next.map(|step| step.id.clone())
    }

    /// Turns the lower half.
    pub fn turn_lower(&mut self, by: Go) {
        self.scroll = 0;
        // a view with nothing in it is passed over
        for _ in Lower::ALL {
            self.lower = self.lower.turned(by);
            if self.has_view(self.lower) {
                break;
            }
        }
    }

    fn has_view(&self, view: Lower) -> bool {
        let Some(step) = self.step() else { return false };
        match view {
            Lower::Judged => true,
            Lower::Before => !telling::beforehand(&self.inspection, step).is_empty(),
            Lower::Working => !step.judges.is_empty() || !step.works.is_empty(),
            Lower::LastTime => !step.judges.is_empty(),
            Lower::Why if self.is_learning() => !step.why.is_empty() || !step.how.is_empty(),
            Lower::Why => !step.why.is_empty(),
            // who learns has it in one view with why
            Lower::How => !step.how.is_empty() && !self.is_learning(),
            Lower::Mistakes => !step.mistakes.is_empty(),
        }
    }

    /// Whether nothing of the step is left to do.
    pub fn is_step_settled(&self) -> bool {
        self.step().is_some_and(|step| progress::state(&self.inspection, step).is_settled())
    }

    /// Fields, points or lines of the step.
    pub fn lines(&self) -> usize {
        let Some(step) = self.step() else { return 0 };
        match &step.takes {
            Takes::Readings(_) => self.cells().len(),
            Takes::Points(points) => points.len(),
            Takes::Look => self.inspection.head().checklist.part(&step.part).map_or(1, |part| part.findings.len() + 1),
            Takes::Tick | Takes::Soak { .. } | Takes::Words | Takes::Sign(_) => 1,
        }
    }

    /// Puts the hand on the first thing to be done here.
    pub fn go_to_first_open(&mut self) {
        self.at = self.first_open().unwrap_or(self.at);
    }

    fn first_open(&self) -> Option<usize> {
        (0..self.lines()).find(|line| !self.is_settled(*line))
    }

    /// Whether a field or a point is done or left out.
    fn is_settled(&self, line: usize) -> bool {
        let Some(step) = self.step() else { return true };
        match &step.takes {
            Takes::Readings(_) => {
                let cells = self.cells();
                cells.get(line).is_none_or(|cell| progress::is_settled(&self.inspection, step, &cell.place()))
            }
            Takes::Points(points) => {
                points.get(line).is_none_or(|point| progress::settling(&self.inspection, step, &point.id).is_some())
            }
            Takes::Look | Takes::Tick | Takes::Soak { .. } | Takes::Words | Takes::Sign(_) => false,
        }
    }
}
