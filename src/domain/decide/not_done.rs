//! What is not done: left out with a reason, or not on this machine at all.

use super::super::checklist::Takes;
use super::super::entitled::{May, supervises, worded};
use super::super::inspection::Inspection;
use super::super::left_out;
use super::super::phase::Phase;
use super::super::progress;
use super::super::refusal::{Refusal, RefusalKind};
use super::super::request::Hand;
use super::super::standing::has_levels;
use super::act::{point_of, step_of};
use super::at_step;

/// A point, or a whole step, that this machine does not have; what was counted at one end is not among them.
pub(super) fn not_here(inspection: &Inspection, id: &str, point: Option<&str>, hand: &Hand) -> May {
    if point.is_none() && left_out::is_counted_elsewhere(inspection, step_of(inspection, id)?) {
        let why = "Pieces were counted at the other end: a mark does not make them come out.".to_owned();
        let mend = "Count them, or leave the step out with the reason: Esc, cannot.";
        return Err(Refusal::from(RefusalKind::NoAnswer { why, mend }).at(at_step(id)));
    }
    if point.is_none() {
        waives(inspection, id, hand)?;
    }
    point_of(inspection, id, point, hand)
}

/// What was found has made the step part of the job, and what the limits sheet judges is on the machine: it is waved off by
/// a supervisor, with the reason, or done.
fn waives(inspection: &Inspection, id: &str, hand: &Hand) -> May {
    let step = step_of(inspection, id)?;
    let judged = step.judges.iter().any(|judged| has_levels(inspection, judged.characteristic));
    let why = match (progress::is_obliged(inspection, id), judged) {
        _ if supervises(inspection, &hand.by).is_ok() => return Ok(()),
        (false, false) => return Ok(()),
        (true, _) => "What was found obliges this step",
        (false, true) => "The limits sheet has levels for this step",
    };
    Err(Refusal::from(RefusalKind::Obliged { why, by: hand.by.to_string() }).at(at_step(id)))
}

/// Anything may be left out with a reason and a name, but never the safety points and never a signature.
pub(super) fn skip(inspection: &Inspection, id: &str, place: Option<&str>, reason: &str) -> May {
    worded(reason)?;
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
