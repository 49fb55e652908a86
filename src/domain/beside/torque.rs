//! What each joint was tightened to, beside the torque of the manual that was typed a step before: at the end the full one,
//! at each stage its share. Common practice, no source.

use super::super::checklist::{Cell, Grid, Source, Step, Takes, Works};
use super::super::exact::Exact;
use super::super::figure::Figure;
use super::super::id::Id;
use super::super::inspection::Inspection;
use super::super::instrument::{GaugeKind, Instrument};
use super::super::progress;
use super::super::telling;
use super::super::unit::Unit;

/// Joints that are not as the manual has them, in words: `shaft nut, final: 90 N m, by the manual 180 N m`.
pub fn off(inspection: &Inspection, step: &Step) -> Vec<String> {
    let Takes::Readings(grid) = &step.takes else { return Vec::new() };
    let told = |cell: Cell| {
        let taken = inspection.reading(&step.id, &cell.place())?;
        let manual = missed(inspection, step, (&cell, taken.figure, taken.gauge.as_ref()))?;
        let manual = telling::beside(&manual, None, 1);
        Some(format!("{}: {}, by the manual {manual}{}", cell.spoken(), taken.figure, grid.unit.behind()))
    };
    progress::cells(inspection, step).into_iter().filter_map(told).collect()
}

/// The manual's torque for this joint and stage, in the step's unit, where the wrench was set further off it than it
/// resolves and than its uncertainty together. A stage that the wrench cannot be set to may be anything up to the full torque.
pub fn missed(
    inspection: &Inspection,
    step: &Step,
    (cell, figure, gauge): (&Cell, Figure, Option<&Id>),
) -> Option<Exact> {
    let Takes::Readings(grid) = &step.takes else { return None };
    let reckoned = |works: &&Works| grid.gauge == GaugeKind::Wrench && works.reckoning.starts_with("torque/");
    let works = step.works.iter().find(reckoned)?;
    let set = figure.to(grid.unit)?;
    let full = of_row(inspection, works.with.get("value")?, cell)?.to(grid.unit)?;
    let share = of_row(inspection, stage(works, grid, cell)?, cell)?.to(Unit::One)?;
    let wanted = &full * &share;
    let gauge = gauge.and_then(|id| inspection.gauge(id));
    if gauge.is_some_and(|gauge| !is_within(gauge, &wanted, grid.unit)) {
        return (set > full).then_some(full);
    }
    let free = gauge.map_or_else(Exact::zero, |gauge| play(inspection, gauge, &wanted, grid.unit));
    ((&set - &wanted).abs() > free).then_some(wanted)
}

/// Where the share of this stage comes from; the stages of the reckoning stand in the order of the figures.
fn stage<'a>(works: &'a Works, grid: &Grid, cell: &Cell) -> Option<&'a str> {
    let which = grid.figures.iter().position(|figure| cell.figure.as_ref() == Some(figure))?;
    works.with.get("stages")?.split(';').nth(which)
}

/// A figure of an earlier step: in the joint's row where it has one there, else the one for all joints.
fn of_row(inspection: &Inspection, source: &str, cell: &Cell) -> Option<Figure> {
    let (id, name) = match Source::parse(source) {
        Source::Fixed(text) => return text.parse().ok(),
        Source::Place { step: Some(id), name } => (id, name),
        Source::Place { step: None, .. }
        | Source::Given(_)
        | Source::Words { .. }
        | Source::Uncertainty(_)
        | Source::Each(_) => return None,
    };
    let other = inspection.head().checklist.step(id)?;
    let cells = progress::cells(inspection, other);
    let in_row = |one: &&Cell| one.row == cell.row && one.across.as_deref() == Some(name);
    let there = cells.iter().find(in_row).or_else(|| cells.iter().find(|one| one.spot() == name))?;
    Some(inspection.reading(id, &there.place())?.figure)
}

fn is_within(gauge: &Instrument, size: &Exact, unit: Unit) -> bool {
    let ends = gauge.range.and_then(|(low, high)| Some((low.to(unit)?, high.to(unit)?)));
    ends.is_none_or(|(low, high)| low <= *size && *size <= high)
}

/// One step of its scale and its expanded uncertainty at this size, in force when the record was begun.
fn play(inspection: &Inspection, gauge: &Instrument, size: &Exact, unit: Unit) -> Exact {
    let resolution = gauge.resolution.and_then(|step| step.to(unit)).unwrap_or_else(Exact::zero);
    let expanded = gauge.calibration(inspection.head().begun.date()).map(|one| one.expanded);
    let share = |figure: Figure| figure.to(Unit::One).map(|share| &share * size);
    let expanded = expanded.and_then(|figure| figure.to(unit).or_else(|| share(figure)));
    &resolution + &expanded.unwrap_or_else(Exact::zero)
}
