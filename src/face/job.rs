//! The inspection on the bench: where the hand is, what is half typed, who holds what. The record itself is the domain's.

mod gauge;
mod go;

use std::collections::BTreeMap;

use crate::domain::brought;
use crate::domain::checklist::{Cell, Grid, Step, Takes};
use crate::domain::entry::{Act, FindingMade, Late};
use crate::domain::gate::{self, Missing};
use crate::domain::id::Id;
use crate::domain::inspection::{Inspection, Scene};
use crate::domain::person::Role;
use crate::domain::progress;
use crate::domain::request::Hand;
use crate::domain::signing;
use crate::domain::stamp::Stamp;
use crate::domain::standing::Standing;
use crate::domain::unit::Unit;
use crate::records::store::{Draft, HalfForm, HalfTyped, LaidAside};

use super::acts::{At, Files};
use super::effect::Opened;
use super::field::{FIGURE, Field, SENTENCE};
use super::form::Go;
use super::saving::Saving;

/// What the lower half of a step shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub enum Lower {
    /// The scale with the figure.
    #[default]
    Judged,
    /// What must be known before: remarks, conditions of earlier concessions.
    Before,
    /// The reckoning line by line.
    Working,
    /// Why it is done.
    Why,
    /// How to hold the instrument.
    How,
    /// The usual mistakes.
    Mistakes,
    /// The last inspection's figure.
    LastTime,
}

impl Lower {
    /// Every view in Tab's order.
    pub const ALL: [Self; 7] =
        [Self::Judged, Self::Before, Self::Working, Self::Why, Self::How, Self::Mistakes, Self::LastTime];

    fn turned(self, by: Go) -> Self {
        let count = Self::ALL.len();
        let now = Self::ALL.iter().position(|view| *view == self).unwrap_or(0);
        let next = match by {
            Go::On => now + 1,
            Go::Back => now + count - 1,
        };
        Self::ALL.get(next % count).copied().unwrap_or_default()
    }
}

/// The figure taken last, for the far view and the line below the field.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LastTaken {
    /// Its entry.
    pub entry: u32,
    /// Its step.
    pub step: String,
    /// The place as said.
    pub place: String,
    /// As taken.
    pub figure: String,
}

/// The inspection on the bench.
#[derive(Debug, Clone)]
pub struct Job {
    /// Every entry applied, those on their way to the disk too.
    pub inspection: Inspection,
    /// All verdicts as reckoned from them.
    pub standing: Standing,
    /// Between the hand and the disk.
    pub saving: Saving,
    /// Who stands for what is taken.
    pub by: Id,
    /// Who writes, where somebody else.
    pub writer: Option<Id>,
    /// While entries are copied from paper.
    pub late: Option<Late>,
    /// What keeps the present step shut.
    pub shut: Vec<Missing>,
    /// The lower half.
    pub lower: Lower,
    /// Lines of it scrolled away.
    pub scroll: usize,
    /// The figure taken last.
    pub last: Option<LastTaken>,
    /// The entry from which on the record was changed outside, until somebody has said that it was seen.
    pub outside: Option<u32>,
    /// A finding that waits for its picture.
    pub found: Option<Box<FindingMade>>,
    /// What the signature that is being made carries on by name, once that was asked.
    pub carried: Option<Vec<String>>,
    /// What the folder's own files hold besides the record.
    pub files: Files,
    step: String,
    at: usize,
    fields: BTreeMap<(String, String), Field>,
    gauges: BTreeMap<String, Id>,
    today: Stamp,
    /// Answers of forms that were left, by step and title.
    aside: BTreeMap<(String, String), HalfForm>,
    break_hours: u32,
}

impl Job {
    /// The record as opened, with the hand where the draft left it, or at the next step.
    pub fn new(opened: Opened, now: Stamp) -> Self {
        let draft = opened.draft.map(|draft| *draft).unwrap_or_default();
        let (by, writer) = hands(&draft, &opened.inspection);
        let field = |half: &HalfTyped| ((half.step.clone(), half.place.clone()), Field::holding(&half.text));
        let mut job = Self {
            standing: Standing::of(&opened.inspection),
            saving: Saving::with(opened.inspection.reading_count()),
            by,
            writer,
            late: draft.late.clone(),
            shut: Vec::new(),
            lower: Lower::default(),
            scroll: 0,
            last: None,
            outside: opened.outside,
            found: None,
            carried: None,
            files: opened.files,
            step: String::new(),
            at: 0,
            fields: draft.typed.iter().map(field).collect(),
            gauges: BTreeMap::new(),
            today: now,
            aside: draft.aside.into_iter().map(|left| ((left.step, left.title), left.form)).collect(),
            break_hours: opened.break_hours,
            inspection: opened.inspection,
        };
        job.take_over(&draft.gauges);
        // with every step done the last one stands there, not an empty screen
        let next = progress::next_step(&job.inspection).or_else(|| progress::steps(&job.inspection).last());
        let next = next.map(|step| step.id.clone());
        let known = job.inspection.head().checklist.step(&draft.step).map(|step| step.id.clone());
        if let Some(step) = known.clone().or(next) {
            job.go_to(&step, now);
        }
        if known.is_some() {
            job.go_to_place(draft.place.as_deref().unwrap_or_default());
        }
        job.last = job.last_of_step();
        job
    }

    /// The figure taken last at the step, as the record has it.
    fn last_of_step(&self) -> Option<LastTaken> {
        let mut entries = self.inspection.standing_entries_of(&self.step).rev();
        let (entry, step, place, taken) = entries.find_map(|entry| {
            let Act::Reading { step, place, taken, .. } = &entry.act else { return None };
            Some((entry.number, step, place, taken))
        })?;
        let spoken = self.cells().iter().find(|cell| cell.place() == *place).map(Cell::spoken);
        let place = spoken.unwrap_or_else(|| place.clone());
        Some(LastTaken { entry, step: step.clone(), place, figure: taken.to_string() })
    }

    /// What is half done, to be kept beside the record.
    pub fn draft(&self) -> Draft {
        let typed = self.fields.iter().filter(|(_, field)| !field.text().is_empty());
        let half = |((step, place), field): (&(String, String), &Field)| HalfTyped {
            step: step.clone(),
            place: place.clone(),
            text: field.text().to_owned(),
        };
        let left = |((step, title), form): (&(String, String), &HalfForm)| LaidAside {
            step: step.clone(),
            title: title.clone(),
            form: form.clone(),
        };
        Draft {
            invented: self.inspection.head().scene != Scene::Real,
            step: self.step.clone(),
            place: Some(self.place()),
            typed: typed.map(half).collect(),
            gauges: self.gauges_chosen(),
            reads: Some(self.by.clone()),
            writes: self.writer.clone(),
            late: self.late.clone(),
            form: None,
            aside: self.aside.iter().map(left).collect(),
            notice: None,
        }
    }

    /// The step on the screen.
    pub fn step(&self) -> Option<&Step> {
        self.inspection.head().checklist.step(&self.step)
    }

    /// Its number among the fields, points or lines.
    pub fn at(&self) -> usize {
        self.at
    }

    /// The grid of the step, when it takes figures.
    pub fn grid(&self) -> Option<&Grid> {
        match &self.step()?.takes {
            Takes::Readings(grid) => Some(grid),
            Takes::Points(_) | Takes::Tick | Takes::Look | Takes::Soak { .. } | Takes::Words | Takes::Sign(_) => None,
        }
    }

    /// The unit of what is typed in the field at hand without one.
    pub fn unit(&self) -> Unit {
        let grid = self.grid().zip(self.cell());
        grid.map_or(Unit::One, |(grid, cell)| grid.unit_of(&cell))
    }

    /// The fields of the grid in the hand's order.
    pub fn cells(&self) -> Vec<Cell> {
        self.step().map(|step| progress::cells(&self.inspection, step)).unwrap_or_default()
    }

    /// The field that the hand is on.
    pub fn cell(&self) -> Option<Cell> {
        self.cells().into_iter().nth(self.at)
    }

    /// The place as the record has it; for other steps the number of the line.
    pub fn place(&self) -> String {
        self.cell().map_or_else(|| self.at.to_string(), |cell| cell.place())
    }

    /// What is typed at the present place.
    pub fn field(&self) -> &str {
        self.typed_at(&self.place())
    }

    /// What is half typed at a place of the present step.
    pub fn typed_at(&self, place: &str) -> &str {
        let at = (self.step.clone(), place.to_owned());
        self.fields.get(&at).map_or("", |field| field.text())
    }

    /// The field of the present place, and how much it holds.
    pub fn field_mut(&mut self) -> (&mut Field, usize) {
        let longest = if self.grid().is_some() { FIGURE } else { SENTENCE };
        let at = (self.step.clone(), self.place());
        (self.fields.entry(at).or_default(), longest)
    }

    /// Puts a text into the field of the present place.
    pub fn put_in_field(&mut self, text: &str) {
        *self.field_mut().0 = Field::holding(text);
    }

    /// Lays the answers of a form aside, to be found when it is opened again; one that was only looked into is no more than
    /// that.
    pub fn lay_aside(&mut self, title: &str, half: HalfForm) {
        if half.answers.iter().any(|answer| !answer.is_empty()) {
            self.aside.insert((self.step.clone(), title.to_owned()), half);
        }
    }

    /// Forms that were left half answered: the step, and the title.
    pub fn half_answered(&self) -> impl Iterator<Item = (&Step, &str)> {
        let step = |id: &str| self.inspection.head().checklist.step(id);
        self.aside.keys().filter_map(move |(id, title)| Some((step(id)?, title.as_str())))
    }

    /// Takes up what was laid aside of a form.
    pub fn take_up(&mut self, title: &str) -> Option<HalfForm> {
        self.aside.remove(&(self.step.clone(), title.to_owned()))
    }

    /// The hand at a moment.
    pub fn hand(&self, now: Stamp) -> Hand {
        Hand {
            by: self.by.clone(),
            writer: self.writer.clone(),
            at: now,
            late: self.late.clone(),
            break_hours: self.break_hours,
        }
    }

    /// Where a dialogue is held: the step and the place under the hand.
    pub fn at_hand(&self, now: Stamp) -> At<'_> {
        let step = self.step();
        let points = match step.map(|step| &step.takes) {
            Some(Takes::Points(points)) => points.as_slice(),
            _ => &[],
        };
        At {
            inspection: &self.inspection,
            standing: &self.standing,
            files: &self.files,
            hand: self.hand(now),
            step,
            cell: self.cell(),
            point: points.get(self.at),
        }
    }

    /// Whether nothing but the answer to a remark is wanted at the step: it was done once and sent back.
    pub fn is_sent_back(&self) -> bool {
        self.is_step_settled() && !signing::remarks_at(&self.inspection, &self.step).is_empty()
    }

    /// Looks again whether the step on the screen is open.
    pub fn look_at_gate(&mut self, now: Stamp) {
        let hand = self.hand(now);
        self.shut = self.step().map(|step| gate::missing(&self.inspection, step, &hand)).unwrap_or_default();
    }

    /// What every screen says while remarks wait for an answer, or a countersignature is awaited.
    pub fn pending(&self) -> Option<&'static str> {
        signing::state_in_words(&self.inspection, &self.files.strange)
    }

    /// Whether the hand is still learning: why and how stand open by themselves.
    pub fn is_learning(&self) -> bool {
        self.inspection.person(&self.by).is_some_and(|person| person.is(Role::Trainee))
    }

    /// The name of somebody in the record.
    pub fn name(&self, id: &Id) -> String {
        self.inspection.person(id).map_or_else(|| id.to_string(), |person| person.name.clone())
    }
}

/// Who reads and who writes: as kept, else the hands that worked last, else who began. Whoever countersigned or sent it
/// back does not stand at the machine.
pub fn hands(draft: &Draft, inspection: &Inspection) -> (Id, Option<Id>) {
    let known = |id: &Id| inspection.person(id).is_some();
    let mut worked = inspection.entries().iter().rev().filter(|entry| !brought::may_come_along(entry.deed()));
    match (draft.reads.clone().filter(known), worked.next()) {
        (Some(reads), _) => (reads, draft.writes.clone().filter(known)),
        (None, Some(last)) => (last.by.clone(), last.writer.clone()),
        (None, None) => (inspection.head().by.clone(), None),
    }
}
