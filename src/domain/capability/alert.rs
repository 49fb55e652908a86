//! Alerts that lie nearer to their limit than any gauge can tell: between the two nothing could ever be judged.

use super::super::characteristic::{Characteristic, Given};
use super::super::checklist::{Checklist, Judged, Step, Takes};
use super::super::exact::Exact;
use super::super::id::Id;
use super::super::instrument::Instrument;
use super::super::judge::{self, Condition, Side};
use super::super::measured::{Binding, known_gauge};
use super::super::reckon::capable::guard_with;
use super::super::reckon::uncertainty::Taken;
use super::super::sheet::{Level, Rule, Sheet};
use super::super::unit::Unit;
use super::by_sheet;

/// An alert whose distance to the limit is smaller than the guard of each gauge fit for it; in the characteristic's unit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NarrowAlert {
    /// Of what.
    pub characteristic: Characteristic,
    /// From the alert to the limit.
    pub room: Exact,
    /// The smallest guard.
    pub guard: Exact,
    /// Whose guard it is.
    pub gauge: Id,
}

/// Every such alert of a sheet, at the steps of a checklist, with these instruments as last calibrated.
pub fn narrow_alerts(sheet: &Sheet, checklist: &Checklist, instruments: &[Instrument]) -> Vec<NarrowAlert> {
    let found = checklist.steps.iter().filter(|step| step.condition() == Condition::AsFound);
    let judged = found.flat_map(|step| step.judges.iter().map(move |judged| (step, judged)));
    judged.filter_map(|(step, judged)| narrow(sheet, step, judged, instruments)).collect()
}

fn narrow(sheet: &Sheet, step: &Step, judged: &Judged, instruments: &[Instrument]) -> Option<NarrowAlert> {
    let Takes::Readings(grid) = &step.takes else { return None };
    let levels = sheet.levels.get(&judged.characteristic)?;
    let (alert, limit) = (levels.alert.as_ref()?, levels.limit.as_ref()?);
    let Rule::Guarded(factor) = limit.rule() else { return None };
    let unit = judged.characteristic.unit();
    let size = |level: &Level, side| {
        let (bound, _) = judge::bounds(level).find(|(_, of)| *of == side)?;
        judge::size_of(bound, unit, sheet)
    };
    let room = |side| Some((size(limit, side)?, (&size(limit, side)? - &size(alert, side)?).abs()));
    let rooms = [room(Side::Upper), room(Side::Lower)];
    let (limit, room) = rooms.into_iter().flatten().min_by(|one, other| one.1.cmp(&other.1))?;
    let taken = Binding::of(judged)?.taken()?;
    let repeats = usize::try_from(grid.repeats).unwrap_or(1);
    let guards = instruments.iter().filter(|gauge| gauge.kind == grid.gauge).filter_map(|gauge| {
        let day = gauge.calibrations.iter().map(|one| one.date).max()?;
        let coarse = by_sheet((sheet, day), step, gauge)
            .iter()
            .any(|one| one.characteristic == judged.characteristic && one.warns());
        if coarse || !shows(sheet, step, gauge, (taken, &limit, unit)) {
            return None;
        }
        let known = known_gauge(gauge, day, &limit, unit)?;
        let (guard, _) = guard_with(&known, repeats, (taken, None), &factor.into()).ok()?;
        Some((guard, gauge.id.clone()))
    });
    let (guard, gauge) = guards.min_by(|one, other| one.0.cmp(&other.0))?;
    (room < guard).then_some(NarrowAlert { characteristic: judged.characteristic, room, guard, gauge })
}

/// Whether a gauge's range holds what is read there: the limit itself, or two readings so far apart; of a journal its diameter,
/// of what is worn the width that is left.
pub(super) fn shows(
    sheet: &Sheet,
    step: &Step,
    gauge: &Instrument,
    (taken, limit, unit): (Taken, &Exact, Unit),
) -> bool {
    let Some((low, high)) = gauge.range else { return true };
    let holds = |size: &Exact, unit: Unit| {
        low.to(unit).zip(high.to(unit)).is_none_or(|(low, high)| low <= *size && *size <= high)
    };
    let apart = || low.to(unit).zip(high.to(unit)).is_none_or(|(low, high)| *limit <= &high - &low);
    let diameter = Given::parse("journal.diameter").filter(|_| step.is_reckoned_by("journal"));
    let diameter = diameter.and_then(|given| sheet.given(given));
    let left = Given::parse("bush.pin-width").filter(|_| step.is_reckoned_by("wear"));
    let left = left.and_then(|given| sheet.given(given)).map(|new| &new - limit);
    match taken {
        Taken::Single => holds(left.as_ref().unwrap_or(limit), unit),
        Taken::Difference => apart() && diameter.is_none_or(|size| holds(&size, Unit::Millimetre)),
    }
}
