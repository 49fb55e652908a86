//! The first figure of its kind has no neighbour and no last time: the sheet alone says about where it lies.

use super::super::super::characteristic::Given;
use super::super::super::doubt::{Doubt, OneTurn};
use super::super::super::exact::Exact;
use super::super::super::judge;
use super::super::super::sheet::{Bound, Level, Which};
use super::super::super::unit::Unit;
use super::super::reading::is_lift;
use super::Suspect;

/// A lift outside all levels that one turn of the large hand brings back among them.
pub(super) fn turn(suspect: &Suspect<'_>, lift: &Exact) -> Option<Doubt> {
    let (low, high) = room(suspect)?;
    let turn = suspect.gauge?.turn?;
    let by = turn.to(suspect.grid.unit)?;
    let (bound, way, there) = match off(lift, &low, &high)? {
        Off::Small => (&low, OneTurn::More, lift + &by),
        Off::Large => (&high, OneTurn::Less, lift - &by),
    };
    if there < low || there > high {
        return None;
    }
    Some(Doubt::Turn { turn, beside: suspect.shown(bound)?, mended: suspect.with_turn(turn, way) })
}

/// A lift outside all levels, of which ten times as much, or a tenth, lies among them: a nought too many or too few.
pub(super) fn magnitude(suspect: &Suspect<'_>) -> Option<Doubt> {
    let (low, high) = room(suspect)?;
    if suspect.expected().is_some() {
        return None;
    }
    let lift = suspect.comparable(suspect.cell, Some(suspect.figure))?;
    let ten = Exact::from(10);
    let (bound, there) = match off(&lift, &low, &high)? {
        Off::Small => (&low, &lift * &ten),
        Off::Large => (&high, lift.over(&ten)?),
    };
    let among = low <= there && there <= high;
    if among { Some(Doubt::Factor { factor: "10".to_owned(), beside: suspect.shown(bound)? }) } else { None }
}

/// The nominal diameter of a journal, in the unit of the grid.
pub(super) fn nominal(suspect: &Suspect<'_>) -> Option<Exact> {
    let given = suspect.given(Given::parse("journal.diameter")?.name())?;
    let journal = suspect.step.is_reckoned_by("journal");
    journal.then(|| Unit::Millimetre.convert(&given, suspect.grid.unit))?
}

/// On which side of all levels a figure lies.
enum Off {
    Small,
    Large,
}

/// Below the smallest bound, or past twice the largest: a worn bush is never asked about for its wear alone.
fn off(lift: &Exact, low: &Exact, high: &Exact) -> Option<Off> {
    if lift < low {
        return Some(Off::Small);
    }
    (lift > &(high + high)).then_some(Off::Large)
}

/// The smallest and the largest bound that the sheet has for what a lift is judged by.
fn room(suspect: &Suspect<'_>) -> Option<(Exact, Exact)> {
    if !is_lift(suspect.step) {
        return None;
    }
    let sheet = suspect.inspection.sheet()?;
    let levels = sheet.levels.get(&suspect.step.judges.first()?.characteristic)?;
    let all: Vec<&Level> = Which::ALL.into_iter().filter_map(|which| levels.of(which)).collect();
    let size = |bound: &Bound| judge::size_of(bound, suspect.grid.unit, sheet);
    let low = all.iter().filter_map(|level| size(level.lower()?)).min()?;
    let high = all.iter().filter_map(|level| size(level.upper()?)).max()?;
    Some((low, high))
}
