//! What is done with a signature by somebody else: countersigned, sent back, or brought in from another copy.

use super::super::brought;
use super::super::entry::{Act, Entry, Remark};
use super::super::inspection::Inspection;
use super::super::refusal::RefusalKind;
use super::super::request::Hand;
use super::super::signing;
use super::act::{self, May, known_person, step_of, supervises, worded};

/// Who signed may not countersign, and it takes a supervisor and a signature that holds; no break and no other hand stands
/// in the way.
pub(super) fn countersign(inspection: &Inspection, number: u32, hand: &Hand) -> May {
    let sign = signed(inspection, number)?;
    supervises(inspection, &hand.by)?;
    if sign.doer().same_as(&hand.by) {
        return Err(RefusalKind::OwnSignature.into());
    }
    not_sent_back(inspection, number)?;
    if signing::shaken(inspection, number).is_some() {
        return Err(RefusalKind::Shaken.into());
    }
    if signing::countersigned(inspection, number).is_some() { Err(RefusalKind::DoneAlready.into()) } else { Ok(()) }
}

/// It takes a supervisor and at least one remark; what a remark is about must be a step of the record.
pub(super) fn send_back(inspection: &Inspection, (number, remarks): (u32, &[Remark]), hand: &Hand) -> May {
    signed(inspection, number)?;
    supervises(inspection, &hand.by)?;
    not_sent_back(inspection, number)?;
    if remarks.is_empty() {
        return Err(RefusalKind::NoWords.into());
    }
    for remark in remarks {
        worded(&remark.text)?;
        if let Some(step) = &remark.step {
            step_of(inspection, step)?;
        }
    }
    Ok(())
}

/// What names the entry it is about may come along, when it might be done here as well by who did it there.
pub(super) fn bring(inspection: &Inspection, original: Option<&Entry>) -> May {
    let original = original.filter(|original| brought::may_come_along(&original.act)).ok_or(RefusalKind::NotToBring)?;
    if let Act::Person(person) = &original.act {
        // somebody new may be introduced; nobody is changed from outside
        let known = inspection.person(&person.id).is_some();
        return if known { Err(RefusalKind::NotToBring.into()) } else { Ok(()) };
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

fn signed(inspection: &Inspection, number: u32) -> Result<&Entry, super::Refusal> {
    let entry = inspection.entry(number).filter(|entry| matches!(entry.act, Act::Sign(_)));
    entry.ok_or_else(|| RefusalKind::NoSuchEntry { entry: number }.into())
}

fn not_sent_back(inspection: &Inspection, number: u32) -> May {
    if signing::sent_back(inspection, number).is_some() { Err(RefusalKind::SentBack.into()) } else { Ok(()) }
}
