//! Pieces that go in, are identified late, or are scrapped: may they?

use super::super::entitled::May;
use super::super::entry::Replaces;
use super::super::hours;
use super::super::identity;
use super::super::inspection::Inspection;
use super::super::refusal::RefusalKind;
use super::super::rotor::Fitted;
use super::super::unit::Unit;
use super::act::known_part;

/// A new part whose life is counted carries the number that it is counted by, and no fewer hours than that number has.
pub(super) fn identified(inspection: &Inspection, part: &str, fitted: &Fitted, replaces: Replaces) -> May {
    piece(inspection, part)?;
    hours::possible([&fitted.hours, &fitted.machine])?;
    let nameless = replaces == Replaces::Yes && hours::counts_life(inspection, part) && !fitted.is_numbered();
    if nameless {
        return Err(RefusalKind::NoSerial.into());
    }
    if replaces == Replaces::Yes && !fitted.doubts.iter().any(|doubt| doubt == Fitted::CHECKS) {
        checked_before(inspection, part)?;
    }
    let number = fitted.serial.as_ref().filter(|_| replaces == Replaces::Yes && hours::counts_life(inspection, part));
    let known = number.and_then(|number| hours::of_number(inspection, part, number));
    match known.filter(|known| fitted.hours.to(Unit::Hour).is_none_or(|hours| hours < *known)) {
        Some(known) => {
            let why = format!("The part with this number has {known} h: its life does not begin again.");
            let mend = "Type the number stamped on the new one; if the same goes back, its own hours.";
            Err(RefusalKind::NoAnswer { why, mend }.into())
        }
        None => Ok(()),
    }
}

/// What was checked before any number was known may be of another piece: somebody says of which.
fn checked_before(inspection: &Inspection, part: &str) -> May {
    let Some(entries) = identity::before_number_in_words(inspection, part) else { return Ok(()) };
    let why = format!("A new one was checked before its number was known, {entries}: nobody knows which.");
    let mend = "Say that it is this very piece, or strike those checks first: Esc, strike.";
    Err(RefusalKind::NoAnswer { why, mend }.into())
}

/// Only a piece can be scrapped, or fitted; a stretch of the job is done, or left out step by step.
pub(super) fn piece(inspection: &Inspection, part: &str) -> May {
    known_part(inspection, part)?;
    let checklist = &inspection.head().checklist;
    let job = checklist.is_of_the_job(part).then_some("the job");
    match checklist.part(part).and_then(|part| Some((&part.name, part.stretch().or(job)?))) {
        Some((name, of)) => Err(RefusalKind::NoPiece { name: name.clone(), of: of.to_owned() }.into()),
        None => Ok(()),
    }
}
