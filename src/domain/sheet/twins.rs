//! The two sides of a machine, whose levels are near each other: where they are not, a figure may stand in a wrong unit.

use super::super::characteristic::Characteristic;
use super::super::exact::Exact;
use super::super::figure::Figure;
use super::super::judge;
use super::{Amount, Level, Sheet, Which};

/// From this factor on a figure in the wrong unit is likelier than two sides that differ so. Our own choice: inches taken for
/// millimetres are off by 25.4, a mark one place off by 10.
const FAR: u32 = 10;

/// A level of the compressor side far off the same one of the turbine side.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FarTwins {
    /// The one of the compressor side, and of the turbine side.
    pub both: [Characteristic; 2],
    /// Which level.
    pub which: Which,
    /// The two figures, in the same order.
    pub figures: [Figure; 2],
}

/// What it is called with both figures: `limit of clearance (bush.cs.clearance) at 0.0010 in, of bush.ts.clearance at ...`.
impl std::fmt::Display for FarTwins {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let Self { both: [one, other], which, figures: [here, there] } = self;
        let (which, one, other) = (which.word(), one.id(), other.id());
        write!(out, "{which} of {one} at {here}, of {other} at {there}: {FAR} times apart or more")
    }
}

/// Every level that is far off the same one of the other side.
pub fn far_twins(sheet: &Sheet) -> impl Iterator<Item = FarTwins> {
    let pairs = sheet.levels.iter().filter_map(|(one, levels)| {
        let other = twin(*one)?;
        Some(([*one, other], [levels, sheet.levels.get(&other)?]))
    });
    pairs.flat_map(|(both, levels)| {
        Which::ALL.into_iter().filter_map(move |which| {
            let [here, there] = levels.map(|levels| levels.of(which));
            Some(FarTwins { both, which, figures: far(here?, there?)? })
        })
    })
}

/// The same of the turbine side; none of what has no sides, or is of the turbine side itself.
pub fn twin(one: Characteristic) -> Option<Characteristic> {
    let is_side = one.id().split('.').any(|piece| piece == "cs");
    let pieces = one.id().split('.').map(|piece| if piece == "cs" { "ts" } else { piece });
    is_side.then(|| pieces.collect::<Vec<_>>().join(".")).and_then(|id| Characteristic::parse(&id))
}

/// The first figures of two levels, on one side, that are far apart.
fn far(here: &Level, there: &Level) -> Option<[Figure; 2]> {
    let figures = |level: &Level| {
        let fixed = judge::bounds(level).filter_map(|(bound, side)| match bound.amount {
            Amount::Fixed(figure) => Some((side, figure)),
            Amount::BySize { .. } => None,
        });
        fixed.collect::<Vec<_>>()
    };
    let others = figures(there);
    let pairs = figures(here).into_iter().flat_map(|(side, one)| {
        let same = others.iter().filter(move |(of, _)| *of == side).map(|(_, other)| *other);
        same.map(move |other| [one, other]).collect::<Vec<_>>()
    });
    pairs.into_iter().find(|[one, other]| are_far(*one, *other))
}

/// Whether one of two figures above nothing is at least ten times the other.
pub fn are_far(one: Figure, other: Figure) -> bool {
    let Some((one, other)) = one.to(one.unit()).zip(other.to(one.unit())) else { return false };
    let (small, large) = if one < other { (one, other) } else { (other, one) };
    small > Exact::zero() && large >= &small * &Exact::from(FAR)
}
