//! What was left: why a set of figures is not complete, and who has waved a step off.

use super::super::checklist::{Step, StepAsk};
use super::super::entitled;
use super::super::entry::{Act, Entry};
use super::super::id::Id;
use super::super::inspection::Inspection;
use super::super::progress::{self, StepState};
use super::CharacteristicStanding;

/// Why a set of figures is not complete.
pub(super) fn not_taken(inspection: &Inspection, one: &CharacteristicStanding) -> &'static str {
    let struck = inspection.entries().iter().any(|entry| {
        let Act::Reading { step, place, .. } = &entry.act else { return false };
        *step == one.step
            && inspection.struck_by(entry.number).is_some()
            && inspection.reading(step, place).is_none()
            && !inspection.is_left_out(step, place)
    });
    let outdated = inspection.entries().iter().any(|entry| {
        matches!(&entry.act, Act::Reading { step, .. } if *step == one.step) && inspection.outdated_by(entry).is_some()
    });
    match one.measured.done {
        _ if outdated && one.measured.done < one.measured.of => "out of date, to be taken again",
        _ if struck => "struck and not retaken",
        0 => "not taken",
        _ => "not all taken",
    }
}

/// Who has marked the step as not on this machine, where nobody who may wave it off has: a supervisor.
pub(in crate::domain) fn waved_off<'a>(inspection: &'a Inspection, step: &Step) -> Option<&'a Id> {
    let marked = |entry: &&Entry| matches!(entry.act, Act::NotApplicable { point: None, .. });
    let mut by = inspection.standing_entries_of(&step.id).filter(marked).map(|entry| &entry.by).peekable();
    let first = *by.peek()?;
    (!by.any(|id| entitled::supervises(inspection, id).is_ok())).then_some(first)
}

/// Whether a step is done without the picture that it asks for, and nobody has said why.
pub fn wants_picture(inspection: &Inspection, step: &Step) -> bool {
    is_bare(inspection, step) && excuse(inspection, step).is_none()
}

/// Why a step was done without the picture that it asks for.
pub fn pictureless<'a>(inspection: &'a Inspection, step: &Step) -> Option<&'a str> {
    is_bare(inspection, step).then(|| excuse(inspection, step).unwrap_or("nobody says why"))
}

/// The supervisor who has marked the step as not on this machine, and why; none where the job itself leaves it out.
pub(super) fn marked_away<'a>(inspection: &'a Inspection, step: &Step) -> Option<(&'a Id, &'a str)> {
    inspection.standing_entries_of(&step.id).rev().find_map(|entry| {
        let Act::NotApplicable { point: None, reason, .. } = &entry.act else { return None };
        entitled::supervises(inspection, &entry.by).is_ok().then_some((&entry.by, reason.as_str()))
    })
}

fn is_bare(inspection: &Inspection, step: &Step) -> bool {
    let is_done = || progress::state(inspection, step) == StepState::Done;
    let is_picture = |entry: &Entry| {
        matches!(&entry.act, Act::Finding(finding) if !finding.photos.is_empty())
            || matches!(entry.act, Act::Photo { .. })
    };
    step.asks.contains(&StepAsk::Picture) && is_done() && !inspection.standing_entries_of(&step.id).any(is_picture)
}

/// The last note that stands instead of a picture.
fn excuse<'a>(inspection: &'a Inspection, step: &Step) -> Option<&'a str> {
    inspection.standing_entries_of(&step.id).rev().find_map(|entry| {
        let Act::Note { text, .. } = &entry.act else { return None };
        entitled::excuses_picture(text).is_ok().then_some(text.as_str())
    })
}
