//! What is not done: left out with a reason, or not on this machine at all.

use super::super::checklist::{Point, Step, Takes};
use super::super::entitled::{May, reasoned, supervises};
use super::super::entry::{Act, Entry};
use super::super::inspection::Inspection;
use super::super::left_out;
use super::super::phase::Phase;
use super::super::progress::{self, StepState};
use super::super::refusal::{Refusal, RefusalKind};
use super::super::request::Hand;
use super::super::standing::has_levels;
use super::act::{point_of, step_of};
use super::at_step;

/// A point, or a whole step, that this machine does not have; what was counted at one end is not among them, nor is a
/// signature.
///
/// # Errors
/// Why this hand may not say so.
pub fn not_here(inspection: &Inspection, id: &str, point: Option<&str>, hand: &Hand) -> May {
    let step = step_of(inspection, id)?;
    if matches!(step.takes, Takes::Sign(_)) {
        return Err(Refusal::from(RefusalKind::NeverSkipped).at(at_step(id)));
    }
    if point.is_none() && left_out::is_counted_elsewhere(inspection, step) {
        let why = "Pieces were counted at the other end: a mark does not make them come out.".to_owned();
        let mend = "Count them, or leave the step out with the reason: Esc, cannot.";
        return Err(Refusal::from(RefusalKind::NoAnswer { why, mend }).at(at_step(id)));
    }
    if supervises(inspection, &hand.by).is_err()
        && let Some(why) = takes_supervisor(inspection, step, point)
    {
        // a point is never left out by itself
        let mend = match point {
            None => "Do it, leave it out as not done, or have a supervisor mark it: Esc, who is here.",
            Some(_) => "See to it, or have a supervisor mark it: Esc, who is here.",
        };
        return Err(Refusal::from(RefusalKind::Obliged { why, by: hand.by.to_string(), mend }).at(at_step(id)));
    }
    point_of(inspection, id, point, hand)
}

/// Whether the entry says that something is not on this machine, which it takes a supervisor to say.
pub fn is_waived(inspection: &Inspection, entry: &Entry) -> bool {
    let Act::NotApplicable { step, point, .. } = &entry.act else { return false };
    let step = inspection.head().checklist.step(step);
    step.is_some_and(|step| takes_supervisor(inspection, step, point.as_deref()).is_some())
}

/// Why it takes a supervisor to say that a point, or a whole step, is not on this machine; none where anybody may.
fn takes_supervisor(inspection: &Inspection, step: &Step, point: Option<&str>) -> Option<&'static str> {
    // papers of new parts are no question before one is entered
    let papers = step.phase == Phase::New && inspection.ledger().replaced.is_empty();
    // safety is never marked away as a whole, by anybody
    let asked = !papers && (point.is_some() || step.phase != Phase::Safe);
    let always =
        |points: &[Point]| asked && points.iter().any(|one| !one.optional && point.is_none_or(|id| one.id == id));
    if matches!(&step.takes, Takes::Points(points) if always(points)) {
        return Some("Every machine and job has this point");
    }
    if point.is_some() {
        return None;
    }
    if step.phase == Phase::Close && step.on_demand && progress::state(inspection, step) != StepState::NotAsked {
        return Some("What was replaced, mended or is watched has a cause");
    }
    if progress::is_obliged(inspection, &step.id) {
        return Some("What was found obliges this step");
    }
    if step.judges.iter().any(|judged| has_levels(inspection, judged.characteristic)) {
        return Some("The limits sheet has levels for this step");
    }
    if step.phase == Phase::Found && !step.judges.is_empty() {
        return Some("Once stripped, nobody can measure it again");
    }
    let shows = left_out::shows_state(inspection, step) && left_out::is_here(inspection, step);
    shows.then_some("This part is on the machine")
}

/// Anything may be left out with a reason and a name, but never the safety points and never a signature.
pub(super) fn skip(inspection: &Inspection, id: &str, place: Option<&str>, reason: &str) -> May {
    reasoned(reason)?;
    let step = step_of(inspection, id)?;
    if step.phase == Phase::Safe || matches!(step.takes, Takes::Sign(_)) {
        return Err(Refusal::from(RefusalKind::NeverSkipped).at(at_step(id)));
    }
    let Some(place) = place else { return Ok(()) };
    if !progress::cells(inspection, step).iter().any(|cell| cell.place() == place) {
        return Err(Refusal::from(RefusalKind::NoSuchPlace { place: place.to_owned() }).at(at_step(id)));
    }
    if inspection.reading(id, place).is_some() {
        return Err(Refusal::from(RefusalKind::TakenAlready { place: place.to_owned() }).at(at_step(id)));
    }
    Ok(())
}
