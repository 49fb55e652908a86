//! What is planned, and who may bring the next opening forward.

use super::super::entitled::{May, supervises};
use super::super::hours;
use super::super::id::Id;
use super::super::inspection::{Inspection, Opening};
use super::super::request::Hand;
use super::super::standing::Standing;
use super::super::unit::Unit;
use super::super::verdict::Consequence;

/// Answers given later, as they stand beside those given before.
pub(super) fn opening(inspection: &Inspection, later: &Opening, hand: &Hand) -> May {
    hours::opening_possible(later)?;
    plan(inspection, (later, None), hand)
}

/// The next opening planned anew, by a supervisor where one is named.
pub(super) fn plan(inspection: &Inspection, (later, supervisor): (&Opening, Option<&Id>), hand: &Hand) -> May {
    let mut opening = inspection.opening().clone();
    opening.take_in(later);
    if later.next_date.is_none() {
        // a day planned long ago may have passed since
        opening.next_date = None;
    }
    hours::planned(&opening, hand.at.date())?;
    if is_sooner_for_a_limit(inspection, later) {
        return supervises(inspection, supervisor.unwrap_or(&hand.by));
    }
    Ok(())
}

/// Whether a plan brings the next opening forward where, by the one in force, a part would reach its limit before it: such
/// a shorter interval is a supervisor's.
pub fn is_sooner_for_a_limit(inspection: &Inspection, later: &Opening) -> bool {
    let hours = |opening: &Opening| opening.next_hours.and_then(|hours| hours.to(Unit::Hour));
    let sooner = hours(later).zip(hours(inspection.opening())).is_some_and(|(anew, stands)| anew < stands);
    sooner && Standing::of(inspection).characteristics.iter().any(|one| one.leads_to_ahead() > Consequence::Watch)
}
