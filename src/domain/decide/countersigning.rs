//! What is done with a signature by somebody else: countersigned, sent back, or brought in from another copy.

use super::super::brought;
use super::super::entitled::{self, May, known_person};
use super::super::entry::{Act, Entry, Remark};
use super::super::inspection::Inspection;
use super::super::refusal::RefusalKind;
use super::super::request::Hand;
use super::super::signing;
use super::act::{self, step_of};

/// Once, by whom it counts; no break and no other hand stands in the way.
pub(super) fn countersign(inspection: &Inspection, number: u32, hand: &Hand) -> May {
    entitled::countersign(inspection, number, &hand.by)?;
    if signing::has_countersigned(inspection, number, &hand.by) { Err(RefusalKind::DoneAlready.into()) } else { Ok(()) }
}

/// What a remark is about must be a step of the record.
pub(super) fn send_back(inspection: &Inspection, (number, remarks): (u32, &[Remark]), hand: &Hand) -> May {
    entitled::send_back(inspection, (number, remarks), &hand.by)?;
    let mut steps = remarks.iter().filter_map(|remark| remark.step.as_ref());
    steps.try_for_each(|step| step_of(inspection, step).map(drop))
}

/// What names the entry it is about may come along, when it might be done here as well by who did it there.
pub(super) fn bring(inspection: &Inspection, original: Option<&Entry>) -> May {
    let original = original.filter(|original| brought::may_come_along(&original.act)).ok_or(RefusalKind::NotToBring)?;
    if let Act::Person(person) = &original.act {
        // who is known stays who that is, at most a supervisor by now
        return act::introduced(inspection, person).map_err(|_known| RefusalKind::NotToBring.into());
    }
    known_person(inspection, &original.by)?;
    let hand = Hand {
        by: original.by.clone(),
        writer: original.writer.clone(),
        at: original.at,
        late: None,
        break_hours: u32::MAX / 3600,
    };
    act::may(inspection, &original.act, &hand)
}
