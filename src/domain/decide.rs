//! The one place that allows, asks or refuses. Screen, line mode, practice and demonstration all come through here.

mod act;
mod countersigning;
mod fitting;
mod level;
mod not_done;
mod planning;
mod reading;
mod suspect;

pub use act::{detail_fits, refers};
pub use level::{is_other, looser, may_judge, odd_level};
pub use not_done::{is_waived, not_here};
pub use planning::is_sooner_for_a_limit;

use super::entry::{Act, Entry};
use super::inspection::Inspection;
use super::refusal::{Refusal, RefusalKind, Spot};
use super::request::{Decision, Hand, Request};
use super::signing;

/// May this be done now? Changes nothing.
pub fn decide(inspection: &Inspection, request: &Request, hand: &Hand) -> Decision {
    if let Err(refusal) = known(inspection, hand, request) {
        return Decision::Refuse(refusal);
    }
    match request {
        Request::Reading { step, place, text, gauge, insisted } => {
            let field = reading::Field { step, place, text, gauge: gauge.as_ref(), insisted };
            reading::decide(inspection, &field, hand)
        }
        Request::Sign { what, seal, carried } => {
            let lost: Vec<_> = seal.lost.iter().filter(|lost| !carried.contains(lost)).cloned().collect();
            if !lost.is_empty() {
                return Decision::Refuse(RefusalKind::HeldOpen { holds: lost }.into());
            }
            done(inspection, Act::Sign(signing::signature(inspection, *what, (seal, carried))), hand)
        }
        Request::Do(act) => done(inspection, act.clone(), hand),
    }
}

fn done(inspection: &Inspection, act: Act, hand: &Hand) -> Decision {
    match act::may(inspection, &act, hand) {
        Ok(()) => take(inspection, act, hand),
        Err(refusal) => Decision::Refuse(refusal),
    }
}

/// The request that would make this entry again; for remarks on old records, and for tests.
pub fn request_of(entry: &Entry) -> (Request, Hand) {
    let request = if let Act::Reading { step, place, typed, gauge, doubts, .. } = &entry.act {
        Request::Reading {
            step: step.clone(),
            place: place.clone(),
            text: typed.clone(),
            gauge: gauge.clone(),
            insisted: doubts.clone(),
        }
    } else {
        Request::Do(entry.act.clone())
    };
    let hand = Hand {
        by: entry.by.clone(),
        writer: entry.writer.clone(),
        at: entry.at,
        late: entry.late.clone(),
        break_hours: u32::MAX / 3600,
    };
    (request, hand)
}

fn take(inspection: &Inspection, act: Act, hand: &Hand) -> Decision {
    let number = inspection.entries().last().map_or(1, |last| last.number.saturating_add(1));
    Decision::Take(Box::new(Entry {
        number,
        at: hand.at,
        by: hand.by.clone(),
        writer: hand.writer.clone(),
        late: hand.late.clone(),
        act,
    }))
}

/// Entries are made by somebody whom the record knows.
fn known(inspection: &Inspection, hand: &Hand, request: &Request) -> Result<(), Refusal> {
    let introduces = |id: &super::id::Id| matches!(request, Request::Do(Act::Person(person)) if person.id.same_as(id));
    for id in [Some(&hand.by), hand.writer.as_ref()].into_iter().flatten() {
        if inspection.person(id).is_none() && !introduces(id) {
            return Err(RefusalKind::UnknownPerson { id: id.to_string() }.into());
        }
    }
    let begun = !inspection.entries().is_empty();
    let begins = matches!(request, Request::Do(Act::Begin));
    match (begun, begins) {
        (false, false) => Err(RefusalKind::NotBegun.into()),
        (true, true) => Err(RefusalKind::BegunAlready.into()),
        (true, false) | (false, true) => Ok(()),
    }
}

fn at_step(step: &str) -> Spot {
    Spot::Step(step.to_owned())
}
