//! A figure that stands against one of an earlier step of the job.

use super::super::super::beside;
use super::super::super::checklist::Against;
use super::super::super::doubt::Doubt;
use super::Suspect;

/// Not what was counted before.
pub(super) fn count(suspect: &Suspect<'_>) -> Option<Doubt> {
    let Against::Equal(step) = suspect.grid.against.as_ref()? else { return None };
    let first = suspect.inspection.reading(step, &suspect.cell.place())?.figure;
    let same = suspect.figure.to(suspect.grid.unit)? == first.to(suspect.grid.unit)?;
    (!same).then_some(Doubt::Count { first })
}

/// Worse than before the job, or at another load.
pub(super) fn worse(suspect: &Suspect<'_>) -> Option<Doubt> {
    let Against::Compared(step) = suspect.grid.against.as_ref()? else { return None };
    let before = suspect.inspection.reading(step, &suspect.cell.place())?.figure;
    let is_off = beside::is_off((before, suspect.figure), suspect.grid.unit, suspect.grid.worse)?;
    let same = suspect.grid.worse.is_none();
    is_off.then_some(if same { Doubt::OtherLoad { before } } else { Doubt::Worse { before } })
}
