//! A level typed at the bench: refused where a sheet's file would be, asked about where it may be another unit's figure.

use std::borrow::Cow;

use super::super::characteristic::{Characteristic, Given};
use super::super::checklist::{Cell, Takes};
use super::super::entitled::{May, supervises};
use super::super::entry::{Act, Entry};
use super::super::exact::Exact;
use super::super::id::Id;
use super::super::inspection::Inspection;
use super::super::judge;
use super::super::measured;
use super::super::progress;
use super::super::refusal::{Refusal, RefusalKind};
use super::super::request::Hand;
use super::super::sheet::{self, GivenFigure, Levels, Sheet, Which};
use super::super::unit::Unit;

/// Whether these levels may judge from now on: the same checks that a sheet's file passes.
///
/// # Errors
/// `BadLevel`, the first fault.
pub fn may_judge(inspection: &Inspection, one: Characteristic, levels: &Levels) -> Result<(), Refusal> {
    let first = sheet::faults(&sheet_of(inspection), one, levels).into_iter().next();
    first.map_or(Ok(()), |fault| Err(RefusalKind::BadLevel(Box::new(fault)).into()))
}

/// Which of these levels would let pass what the record's sheet does not, or what another hand has entered before entry
/// `number` and nobody has struck: with that entry.
pub fn looser(
    inspection: &Inspection,
    (one, levels): (Characteristic, &Levels),
    (number, by): (u32, &Id),
) -> Option<(Which, Option<u32>)> {
    let head = inspection.head().sheet.as_ref();
    let sheet = head.or(inspection.sheet())?;
    let than = |was: &Levels| sheet::looser(sheet, one.unit(), (was, levels));
    let than_sheet = head.and_then(|head| than(head.levels.get(&one)?));
    if let Some(which) = than_sheet {
        return Some((which, None));
    }
    // the own hand's may be struck and typed anew
    let (entry, was) = others(inspection, (number, by)).find_map(|entry| {
        let Act::Level { characteristic, levels, .. } = entry.deed() else { return None };
        (*characteristic == one).then_some((entry.number, levels))
    })?;
    Some((than(was)?, Some(entry)))
}

/// What other hands have entered before this entry, the last first.
fn others<'a>(inspection: &'a Inspection, (number, by): (u32, &'a Id)) -> impl Iterator<Item = &'a Entry> {
    inspection.standing_entries().rev().filter(move |entry| entry.number < number && !entry.doer().same_as(by))
}

/// Levels are changed toward the safer side by anybody, the other way by a supervisor alone.
pub(super) fn no_looser(inspection: &Inspection, one: Characteristic, levels: &Levels, hand: &Hand) -> May {
    match looser(inspection, (one, levels), (u32::MAX, &hand.by)) {
        Some((which, entry)) if supervises(inspection, &hand.by).is_err() => {
            Err(RefusalKind::LooserLevel { which: which.word(), entry }.into())
        }
        Some(_) | None => Ok(()),
    }
}

/// Whether the sheet gives this figure, and it or another hand before entry `number` otherwise: another one changes what is
/// judged, and how many places are.
pub fn is_other(inspection: &Inspection, (given, figure): (Given, &GivenFigure), (number, by): (u32, &Id)) -> bool {
    let of_sheet = inspection.head().sheet.as_ref().and_then(|sheet| sheet.given(given));
    let now = figure.figure.to(given.unit());
    of_sheet.is_some_and(|of_sheet| {
        let since = others(inspection, (number, by)).find_map(|entry| {
            let Act::Given { given: of, figure } = entry.deed() else { return None };
            figure.figure.to(given.unit()).filter(|_| *of == given)
        });
        now != Some(of_sheet) || since.is_some_and(|since| now != Some(since))
    })
}

/// A figure that the sheet gives is given otherwise by a supervisor alone, and a count leaves no reading without its place.
pub(super) fn no_other(inspection: &Inspection, given: Given, figure: &GivenFigure, hand: &Hand) -> May {
    let refused = |words: String| Err(RefusalKind::NotGiven(words).into());
    if is_other(inspection, (given, figure), (u32::MAX, &hand.by)) && supervises(inspection, &hand.by).is_err() {
        return refused(format!("{}: the limits sheet gives it, another is a supervisor's to enter.", given.what()));
    }
    let mut sheet = sheet_of(inspection).into_owned();
    sheet.given.insert(given, figure.clone());
    let lost = inspection.head().checklist.steps.iter().find_map(|step| {
        let Takes::Readings(grid) = &step.takes else { return None };
        let places: Vec<_> = grid.cells(Some(&sheet)).iter().map(Cell::place).collect();
        let before = grid.cells(inspection.sheet());
        before
            .into_iter()
            .find(|cell| !places.contains(&cell.place()) && inspection.reading(&step.id, &cell.place()).is_some())
    });
    match lost {
        Some(cell) => {
            refused(format!("{}: with {} there is no {}, which is read.", given.what(), figure.figure, cell.spoken()))
        }
        None => Ok(()),
    }
}

/// What is odd about the bounds of one level beside all that is known of such figures: the question, one sentence
/// without its mark; none where nothing is. A unit confused moves every verdict by 25.4 or 1000.
pub fn odd_level(inspection: &Inspection, one: Characteristic, levels: &Levels, which: Which) -> Option<String> {
    let sheet = sheet_of(inspection);
    let known = known(inspection, one, levels, which);
    judge::bounds(levels.of(which)?).find_map(|(bound, _)| {
        let figure = sheet.amount(&bound.amount)?;
        let size = figure.to(one.unit())?.abs();
        let off = known.iter().find_map(|(what, other)| {
            Some(format!("{figure} is about {} times off {what}: another unit", times_off(&size, &other.abs())?))
        });
        off.or_else(|| {
            let journal = journal_of(&sheet, one).filter(|journal| !is_diameter(one) && size >= *journal);
            journal.map(|_| format!("{figure} is more than the journal measures: another unit"))
        })
    })
}

fn sheet_of(inspection: &Inspection) -> Cow<'_, Sheet> {
    let bare = || Cow::Owned(Sheet::bare(inspection.head().rotor.machine.clone()));
    inspection.sheet().map_or_else(bare, Cow::Borrowed)
}

/// What the bounds can be held against, what was typed just now first. Last time's figure is not said: it would be
/// copied.
fn known(inspection: &Inspection, one: Characteristic, levels: &Levels, which: Which) -> Vec<(&'static str, Exact)> {
    let sheet = sheet_of(inspection);
    let bounds = |levels: &Levels, of: Which| {
        let bounds = levels.of(of).into_iter().flat_map(judge::bounds);
        bounds.filter_map(|(bound, _)| judge::size_of(bound, one.unit(), &sheet)).collect::<Vec<_>>()
    };
    let mut known = Vec::new();
    let mut put = |what: &'static str, all: Vec<Exact>| known.extend(all.into_iter().map(|figure| (what, figure)));
    for before in Which::ALL.into_iter().take_while(|other| *other != which) {
        put("the level typed before it", bounds(levels, before));
    }
    if let Some(old) = sheet.levels.get(&one) {
        put("the level it replaces", bounds(old, which));
    }
    let judged = progress::steps(inspection).flat_map(|step| step.judges.iter().map(move |judged| (step, judged)));
    for (step, judged) in judged.filter(|(_, judged)| judged.characteristic == one) {
        let measured = measured::measure(inspection, step, judged);
        let worst = measured.values.into_iter().map(|place| place.value).max();
        put("what was read", worst.and_then(|worst| measured.unit.convert(&worst, one.unit())).into_iter().collect());
    }
    let past = inspection.history_of(one).next_back();
    put("the last opening's figure", past.into_iter().map(|past| past.value.clone()).collect());
    if is_diameter(one) {
        put("the journal's diameter", journal_of(&sheet, one).into_iter().collect());
    }
    known
}

/// The diameter beside which a length of shaft or bush is small, or which it nearly is.
fn journal_of(sheet: &Sheet, one: Characteristic) -> Option<Exact> {
    let beside = one.unit() == Unit::Millimetre && matches!(one.part(), "shaft" | "bush.cs" | "bush.ts");
    sheet.given(Given::parse("journal.diameter").filter(|_| beside)?)
}

fn is_diameter(one: Characteristic) -> bool {
    one.id().rsplit_once('.').is_some_and(|(_, last)| matches!(last, "diameter" | "bore"))
}

/// `25.4` or `1000`, where one is about so many times the other; levels and readings of one thing lie within a few
/// times of each other.
fn times_off(one: &Exact, other: &Exact) -> Option<&'static str> {
    let ratio = if one > other { one.over(other)? } else { other.over(one)? };
    let between = |low: u32, high: u32| ratio >= Exact::from(low) && ratio <= Exact::from(high);
    if between(22, 29) { Some("25.4") } else { between(300, 3000).then_some("1000") }
}
