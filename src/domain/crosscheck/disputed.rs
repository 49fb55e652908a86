//! Where the other way to a clearance would be past a level that the lift is not past, and the two disagree: one of them is
//! wrong, and nobody knows which. Until somebody does, the clearance is open.

use super::super::characteristic::Characteristic;
use super::super::checklist::Step;
use super::super::entry::{Act, Entry};
use super::super::inspection::Inspection;
use super::super::judge::{self, Condition, Judged, Side};
use super::super::unit::Unit;
use super::super::verdict::Consequence;
use super::{Steps, of_step};

/// Two ways to a clearance that disagree past a level.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Dispute {
    /// Both ways, in one line.
    pub words: String,
    /// The last entry that one of them rests on: who accepts it has seen them all.
    pub last: u32,
}

/// The side of the bush whose clearance by lift a characteristic is.
fn side_of(characteristic: Characteristic) -> Option<&'static str> {
    ["cs", "ts"].into_iter().find(|side| characteristic.id() == format!("bush.{side}.clearance"))
}

/// The first of the other ways that leads to more than the lift does, `leads_to`, and disagrees with it.
pub fn disputed(
    inspection: &Inspection,
    (step, characteristic, condition): (&Step, Characteristic, Condition),
    leads_to: Consequence,
) -> Option<Dispute> {
    let side = side_of(characteristic).filter(|_| condition == Condition::AsFound)?;
    let sheet = inspection.sheet()?;
    let levels = sheet.levels.get(&characteristic)?;
    let graver = |[smallest, largest]: &[_; 2]| {
        [(smallest, Side::Lower), (largest, Side::Upper)].into_iter().any(|(value, side)| {
            let figure = Judged { value, unit: Unit::Millimetre, variance: None, side: Some(side) };
            judge::judge(&figure, levels, condition, sheet).is_ok_and(|reached| reached.leads_to > leads_to)
        })
    };
    let mut ways = of_step(inspection, step).into_iter().filter(|check| check.agrees == Some(false));
    let words = ways.find(|check| check.other_way.as_ref().is_some_and(graver))?.words;
    let reads = |entry: &&Entry| matches!(entry.act, Act::Reading { .. });
    let steps = Steps::of(inspection, side).all().into_iter().flatten();
    let last = steps.filter_map(|step| inspection.standing_entries_of(&step.id).rfind(reads)).map(|entry| entry.number);
    Some(Dispute { words, last: last.max()? })
}

/// Whether what is taken at a step is held against the clearance by lift of another.
pub fn is_beside(inspection: &Inspection, lift: &Step, step: &str) -> bool {
    let mut sides = lift.judges.iter().filter_map(|judged| side_of(judged.characteristic));
    sides.any(|side| Steps::of(inspection, side).all().iter().flatten().any(|one| one.id == step))
}
