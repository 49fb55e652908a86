//! How tight a new wheel will sit: the seat it goes on less its own bore. The manual says how much it may be.

use super::super::checklist::Step;
use super::super::inspection::Inspection;
use super::super::judge::Condition;
use super::super::progress;
use super::{CrossCheck, Range, complete, plain};

/// Each new wheel's bore, and the seat of the shaft it goes on.
const WHEELS: [(&str, &str); 2] = [("impeller.bore", "shaft.cs.seat"), ("turbine.bore", "shaft.ts.seat")];

/// Smallest seat less largest bore to largest seat less smallest bore, as read: both were as warm as each other. Source:
/// arithmetic.
pub(super) fn wheel(inspection: &Inspection, step: &Step) -> Option<CrossCheck> {
    let of = |id: &'static str| progress::steps(inspection).filter(move |one| one.judges_id(id));
    let (bore, seat) = WHEELS.into_iter().find(|(bore, _)| of(bore).any(|one| one.id == step.id))?;
    let bore = complete(inspection, of(bore).next()?)?;
    // a mended seat counts before the one that was found
    let seats = of(seat).filter_map(|one| Some((one.condition() == Condition::AsLeft, complete(inspection, one)?)));
    let (_, seat) = seats.max_by_key(|(left, _)| *left)?;
    let tight = Range {
        smallest: &seat.smallest - &bore.largest,
        largest: &seat.largest - &bore.smallest,
        variance: None,
        shown: None,
    };
    let mut working = plain("crosscheck", "seat less bore: how tight the new wheel will sit");
    working.step("seat", "", "", format!("{} mm", seat.words()));
    working.step("bore", "", "", format!("{} mm", bore.words()));
    let words = format!("seat less bore {} mm: how tight it sits; the manual says how tight it may", tight.words());
    Some(CrossCheck { agrees: None, working: working.resulting(words.clone()), words, other_way: None })
}
