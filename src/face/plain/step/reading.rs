//! Figures, field by field in the hand's order; the gauge first.

use crate::domain::capability;
use crate::domain::checklist::{Grid, Step};
use crate::domain::entry::Act;
use crate::domain::id::Id;
use crate::domain::instrument::{GaugeKind, Instrument};
use crate::domain::progress;
use crate::domain::request::Request;
use crate::domain::stamp::{self, Stamp};
use crate::domain::unit::Unit;

use super::super::super::acts::{Deed, choose_gauge};
use super::super::Session;
use super::super::course::Course;
use super::super::inquiry::{Answers, Reply};

impl Session {
    /// The next field of the grid; the gauge is asked for where none is in hand.
    pub(super) fn reading(&self, step: &Step, grid: &Grid, answers: &mut Answers<'_>) -> Reply<Deed> {
        let gauge = self.gauge_of(step);
        if gauge.is_none() && grid.gauge != GaugeKind::Other {
            return choose_gauge((&self.inspection, &self.files, Some(step)), (grid.gauge, grid.unit), answers);
        }
        let Some(cell) = progress::next_cell(&self.inspection, step) else { return self.taken_all(answers) };
        let unit = grid.unit_of(&cell);
        let unit = if unit == Unit::One { String::new() } else { format!(", {unit}") };
        let first =
            self.inspection.standing_entries_of(&step.id).all(|entry| !matches!(entry.act, Act::Reading { .. }));
        let gauge_is = gauge.filter(|_| first).and_then(|gauge| self.inspection.gauge(gauge));
        let can = gauge_is.map(|gauge| capability::of_step(&self.inspection, step, gauge)).unwrap_or_default();
        let lacks = gauge_is.and_then(|gauge| capability::lacks(&self.inspection, step, gauge));
        let can = can.iter().map(capability::Capability::told).chain(lacks).collect();
        let text = answers.line(can, &format!("{}{unit}", cell.spoken()))?;
        Ok(Deed::Ask(vec![Request::Reading {
            step: step.id.clone(),
            place: cell.place(),
            text: text.to_owned(),
            gauge: gauge.cloned(),
            insisted: Vec::new(),
        }]))
    }

    /// Gone to since figures of it are to be taken again: they are struck first.
    fn taken_all(&self, answers: &mut Answers<'_>) -> Reply<Deed> {
        answers.word("every figure is taken: ! 1 strikes what is to be taken again, on goes on", &["on"])?;
        let next = progress::next_step(&self.inspection).map(|step| step.id.clone());
        Ok(next.map_or_else(|| Deed::Say(Vec::new()), Deed::Go))
    }

    /// The gauge in hand at a step: chosen there, or at another that one gauge serves too.
    fn gauge_of(&self, step: &Step) -> Option<&Id> {
        let checklist = &self.inspection.head().checklist;
        let serves = |at: &&String| checklist.step(at).is_some_and(|other| step.shares_gauge_with(other));
        self.gauges.get(&step.id).or_else(|| self.gauges.get(self.gauges.keys().find(serves)?))
    }

    /// A gauge is in hand for the step that the work has come to.
    pub(in super::super) fn hold(&mut self, gauge: Id, now: Stamp) {
        if let Course::Step(step) = self.course(now) {
            let step = step.clone();
            let served = |at: &String| {
                let other = self.inspection.head().checklist.step(at);
                other.is_some_and(|other| step.shares_gauge_with(other))
            };
            let others: Vec<String> = self.gauges.keys().filter(|at| served(at)).cloned().collect();
            for at in others {
                self.gauges.remove(&at);
            }
            self.gauges.insert(step.id, gauge);
        }
    }

    /// A gauge is taken in hand: what must be known of it, once.
    pub(in super::super) fn take_in_hand(&mut self, id: Id, now: Stamp) -> Vec<String> {
        let said = self.inspection.gauge(&id).map(|gauge| about(gauge, now));
        self.hold(id, now);
        said.into_iter().flatten().collect()
    }
}

/// `D2, dial gauge, 0.002 mm, one turn 0.200 mm.` and what speaks against it.
fn about(gauge: &Instrument, now: Stamp) -> Vec<String> {
    let resolution = gauge.resolution.map(|step| format!(", resolves {step}")).unwrap_or_default();
    let turn = gauge.turn.map(|turn| format!(", one turn {turn}")).unwrap_or_default();
    let remark = gauge.remark.as_ref().map(|remark| format!(" {remark}")).unwrap_or_default();
    let mut lines = vec![format!("{}, {}{resolution}{turn} in hand.{remark}", gauge.id, gauge.kind.word())];
    let today = now.date();
    match gauge.calibration(today) {
        None => lines.push(format!("? {} has no calibration: what a guarded limit needs stays open.", gauge.id)),
        Some(calibration) if gauge.is_past_date(today) => {
            let due = calibration.due.map(stamp::long_day).unwrap_or_default();
            lines.push(format!("? {} is past its date since {due}: every reading with it says so.", gauge.id));
        }
        Some(_) => {}
    }
    lines
}
