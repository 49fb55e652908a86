//! Which piece it is that was measured: what is done to a new part before its number is known may have been done to another.

use super::checklist::{Step, Takes};
use super::entry::{Act, Entry};
use super::inspection::Inspection;
use super::outdated;
use super::phase::Phase;
use super::progress;

/// Whether a check of a new part is shut until that part is entered: its figures and findings belong to a piece. A spare
/// may be measured on the shelf, before anybody has ordered or decided; which one it was is asked when a number is entered.
pub(in crate::domain) fn waits_for_number(inspection: &Inspection, step: &Step) -> bool {
    let checklist = &inspection.head().checklist;
    let has_papers = |need: &String| checklist.step(need).is_some_and(outdated::confirms_new);
    let on_shelf = || matches!(step.takes, Takes::Readings(_)) && !step.needs.iter().any(has_papers);
    is_check(inspection, step) && !inspection.is_replaced(&step.part) && !on_shelf()
}

/// What stands of the checks of a new part while none is entered: nobody has said yet that it is of the one to come. None
/// once one is entered: with the next all of it is done again.
pub fn before_number<'a>(inspection: &'a Inspection, part: &str) -> Vec<&'a Entry> {
    if inspection.is_replaced(part) {
        return Vec::new();
    }
    let checks = progress::steps(inspection).filter(|step| step.part == part && is_check(inspection, step));
    let left_out = |act: &Act| matches!(act, Act::Skip { .. } | Act::NotApplicable { .. });
    let done = |entry: &&Entry| entry.act.does_step() && !left_out(&entry.act);
    let mut all: Vec<_> = checks.flat_map(|step| inspection.standing_entries_of(&step.id).filter(done)).collect();
    all.sort_by_key(|entry| entry.number);
    all
}

/// `entries 419 to 422`, of what stands from before; none where nothing does.
pub fn before_number_in_words(inspection: &Inspection, part: &str) -> Option<String> {
    let before = before_number(inspection, part);
    let (first, last) = (before.first()?.number, before.last()?.number);
    Some(if first == last { format!("entry {first}") } else { format!("entries {first} to {last}") })
}

/// Whether it is a check of a piece as a new one; the papers are common to all new parts.
fn is_check(inspection: &Inspection, step: &Step) -> bool {
    let is_piece = || inspection.head().checklist.part(&step.part).is_some_and(|part| part.stretch().is_none());
    step.phase == Phase::New && !outdated::confirms_new(step) && is_piece()
}
