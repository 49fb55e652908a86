//! A figure that stands against one of an earlier step of the job.

use super::super::super::checklist::{Against, Worse};
use super::super::super::doubt::Doubt;
use super::super::super::exact::Exact;
use super::Suspect;

/// Not what was counted before.
pub(super) fn count(suspect: &Suspect<'_>) -> Option<Doubt> {
    let Against::Equal(step) = suspect.grid.against.as_ref()? else { return None };
    let first = suspect.inspection.reading(step, &suspect.cell.place())?.figure;
    let same = suspect.figure.to(suspect.grid.unit)? == first.to(suspect.grid.unit)?;
    (!same).then_some(Doubt::Count { first })
}

/// Worse than before the job by more than a fifth of that figure. Common practice, no source.
pub(super) fn worse(suspect: &Suspect<'_>) -> Option<Doubt> {
    let Against::Compared(step) = suspect.grid.against.as_ref()? else { return None };
    let before = suspect.inspection.reading(step, &suspect.cell.place())?.figure;
    let (was, is) = (before.to(suspect.grid.unit)?, suspect.figure.to(suspect.grid.unit)?);
    let off = match suspect.grid.worse? {
        Worse::More => &is - &was,
        Worse::Less => &was - &is,
    };
    (off > &was.abs() * &Exact::fraction(1, 5)?).then_some(Doubt::Worse { before })
}
