//! How well a figure of the bench is known: its gauge's correction, certificate and resolution, and the scatter of repeats.

use super::super::checklist::{Cell, Judged, Step};
use super::super::exact::Exact;
use super::super::figure::Figure;
use super::super::id::Id;
use super::super::inspection::{Inspection, Taken};
use super::super::instrument::Instrument;
use super::super::judge;
use super::super::progress;
use super::super::reckon::budget::{Budget, Kind, budget};
use super::super::reckon::repeats::Pooled;
use super::super::reckon::told;
use super::super::reckon::uncertainty::{self, Gauge, Warmth};
use super::super::reckon::working::Working;
use super::super::unit::{Dimension, Unit};
use super::places::{Read, shown};
use super::{Fault, Field, PlaceValue};

/// The figure as taken with its gauge's correction added, in `unit`; of a pole its amount.
pub(super) fn corrected(inspection: &Inspection, taken: &Taken, unit: Unit) -> Option<Exact> {
    let size = taken.figure.to(unit)?;
    let gauge = taken.gauge.as_ref().and_then(|gauge| inspection.gauge(gauge));
    let add = gauge.and_then(|gauge| gauge.correction(&size, unit));
    Some(unit.amount(&size + &add.unwrap_or_else(Exact::zero)))
}

/// The same in its own unit, as text; as it was typed where the gauge adds nothing.
pub fn corrected_figure(inspection: &Inspection, taken: &Taken) -> String {
    let unit = taken.figure.unit();
    let size = corrected(inspection, taken, unit).filter(|size| taken.figure.to(unit).as_ref() != Some(size));
    let corrected = size.and_then(|size| size.as_decimal()).map(|size| format!("{size} {unit}"));
    corrected.unwrap_or_else(|| taken.figure.to_string())
}

/// The standard uncertainty of one reading, in its own unit, as its gauge's certificate and scale have it.
pub fn u_of(inspection: &Inspection, taken: &Taken) -> Option<String> {
    let unit = taken.figure.unit();
    let size = corrected(inspection, taken, unit)?;
    let gauge = inspection.gauge(taken.gauge.as_ref()?)?;
    let known = known_gauge(gauge, inspection.head().begun.date(), &size, unit)?;
    let (_, budget) = uncertainty::of_values(&known, &[size], uncertainty::Taken::Single, None).ok()?;
    Some(format!("{} {unit}", told::u_shown(&budget.variance)?))
}

/// Every field of a step with its size in mm, corrected; `None` before all are taken.
pub fn readings_of(inspection: &Inspection, step: &Step) -> Option<Vec<(Cell, Exact)>> {
    let cells = progress::cells(inspection, step);
    let size = |cell: Cell| {
        let taken = inspection.reading(&step.id, &cell.place())?;
        Some((cell, corrected(inspection, &taken, Unit::Millimetre)?))
    };
    let all: Option<Vec<_>> = cells.into_iter().map(size).collect();
    all.filter(|all| !all.is_empty())
}

/// The sizes of a complete step from the block `first` on, in mm, corrected.
pub fn sizes_of(inspection: &Inspection, step: &Step, first: usize) -> Option<Vec<Exact>> {
    let all = readings_of(inspection, step)?;
    Some(all.into_iter().filter(|(cell, _)| cell.block >= first).map(|(_, size)| size).collect())
}

/// Scatter may leave the wear of a new part this many divisions below nothing; beyond, a size was misread. Common practice,
/// no source.
const DIVISIONS_BELOW: u32 = 2;

/// Whether a wear is clearly below nothing, by the divisions of the gauge; without them anything below is. As far below as
/// the limit lies above is too, however coarse the gauge.
pub fn is_below_nothing(
    wear: &Exact,
    gauge: Option<&Instrument>,
    (judged, inspection): (&Judged, &Inspection),
) -> bool {
    let unit = judged.characteristic.unit();
    let division = gauge.and_then(|gauge| gauge.resolution?.to(unit)).unwrap_or_else(Exact::zero);
    let limit = || {
        let sheet = inspection.sheet()?;
        let bound = sheet.levels.get(&judged.characteristic)?.limit.as_ref()?.upper()?;
        judge::size_of(bound, unit, sheet)
    };
    wear < &-&(&division * &Exact::from(DIVISIONS_BELOW)) || limit().is_some_and(|limit| wear <= &-&limit)
}

/// A wear that is clearly below nothing is never judged.
pub(super) fn deny_below_nothing(field: &Field<'_>, one: &mut PlaceValue) {
    let unit = field.judged.characteristic.unit();
    let gauge = one.gauges.first().and_then(|gauge| field.inspection.gauge(gauge));
    if is_below_nothing(&one.value, gauge, (field.judged, field.inspection)) {
        let words =
            format!("{}: a wear of {} {unit} is below nothing, a size was misread", one.spot, shown(&one.value));
        one.fault = Some(Fault { word: "misread", words });
    }
}

/// The gauge of a step's first reading.
pub(super) fn first_gauge<'a>(inspection: &'a Inspection, step: &Step) -> Option<&'a Instrument> {
    let first = progress::cells(inspection, step).into_iter().next()?;
    inspection.gauge(&inspection.reading(&step.id, &first.place())?.gauge?)
}

/// The squared standard uncertainty of one reading of a step, in mm squared.
pub fn variance_of_one(inspection: &Inspection, step: &Step) -> Option<Exact> {
    let first = readings_of(inspection, step)?.into_iter().next()?.1;
    let gauge = known_gauge(first_gauge(inspection, step)?, inspection.head().begun.date(), &first, Unit::Millimetre)?;
    let (_, budget) = uncertainty::of_values(&gauge, &[first], uncertainty::Taken::Single, None).ok()?;
    Some(budget.variance)
}

/// What of that is the same at every place, whatever is read there: the gauge's certificate. In mm squared.
pub fn common_variance(inspection: &Inspection, step: &Step) -> Option<Exact> {
    let first = readings_of(inspection, step)?.into_iter().next()?.1;
    let gauge = known_gauge(first_gauge(inspection, step)?, inspection.head().begun.date(), &first, Unit::Millimetre)?;
    Kind::Expanded { k: gauge.k }.variance(&gauge.expanded)
}

/// The correction tables of the gauges used, before everything else that is reckoned.
pub(super) fn tell_corrections(field: &Field<'_>, working: &mut Working) {
    let mut told: Vec<&Instrument> = Vec::new();
    let taken = field.cells.iter().filter_map(|cell| field.inspection.reading(&field.step.id, &cell.place()));
    for gauge in taken.filter_map(|taken| field.inspection.gauge(&taken.gauge?)) {
        if !gauge.corrections.is_empty() && !told.iter().any(|other| other.id == gauge.id) {
            told.push(gauge);
        }
    }
    for gauge in told.into_iter().rev() {
        let rows = gauge.corrections.iter().filter_map(|one| {
            let unit = one.shows.unit();
            let add = &one.piece.to(unit)? - &one.shows.to(unit)?;
            let add = if add.is_zero() { "nothing to add".to_owned() } else { format!("add {} {unit}", shown(&add)) };
            Some(format!("shows {} on {}, {add}", one.shows, one.piece))
        });
        let rows: Vec<_> = rows.collect();
        working.lines.insert(
            0,
            super::super::reckon::working::Line {
                symbol: format!("{}: {}", gauge.id, rows.join("; ")),
                ..Default::default()
            },
        );
    }
}

/// Every gauge that these were read with, each once; none where one of them is not known.
fn gauges<'a>(inspection: &'a Inspection, read: &[Read]) -> Option<Vec<&'a Instrument>> {
    let mut all: Vec<&Instrument> = Vec::new();
    for one in read {
        let gauge = inspection.gauge(one.taken.gauge.as_ref()?)?;
        if !all.iter().any(|other| other.id == gauge.id) {
            all.push(gauge);
        }
    }
    Some(all)
}

/// The step of the scale that these repeats were read from; of two gauges the finer one's.
pub(super) fn division(inspection: &Inspection, read: &[Read], unit: Unit) -> Option<Exact> {
    let gauges = read.iter().filter_map(|read| inspection.gauge(read.taken.gauge.as_ref()?));
    gauges.filter_map(|gauge| gauge.resolution?.to(unit)).min()
}

/// What certificate, resolution, scatter and temperature make of these repeats.
pub(super) fn known(
    inspection: &Inspection,
    (read, taken): (&[Read], uncertainty::Taken),
    values: &[Exact],
    warmth: Option<&Warmth>,
    unit: Unit,
) -> Option<Budget> {
    let day = inspection.head().begun.date();
    let of_gauge = |gauge: &Instrument| {
        let known = known_gauge(gauge, day, values.first()?, unit)?;
        let (_, budget) = uncertainty::of_values(&known, values, taken, warmth).ok()?;
        Some((gauge.id.clone(), budget))
    };
    let mut budgets: Vec<_> = gauges(inspection, read)?.into_iter().map(of_gauge).collect::<Option<_>>()?;
    if budgets.len() > 1 {
        return together(budgets);
    }
    budgets.pop().map(|(_, budget)| budget)
}

/// Several gauges in one set: scatter and temperature of the worst, and what each gauge brings in full, however few of the
/// readings are its own; never less than the sum of squares of JCGM 100:2008 5.1.2 asks for.
fn together(mut budgets: Vec<(Id, Budget)>) -> Option<Budget> {
    budgets.sort_by(|(_, one), (_, other)| other.variance.cmp(&one.variance));
    let mut terms = Vec::new();
    for (place, (gauge, of_gauge)) in budgets.into_iter().enumerate() {
        for (mut term, _) in of_gauge.terms {
            let own = matches!(term.kind, Kind::Resolution | Kind::Expanded { .. });
            if own {
                term.name = format!("{gauge}: {}", term.name);
            }
            if own || place == 0 {
                terms.push(term);
            }
        }
    }
    budget(terms).ok()
}

/// What the certificate of these leaves says: expanded uncertainty and its factor.
pub(super) fn of_leaves(inspection: &Inspection, read: &[Read], size: &Exact, unit: Unit) -> Option<(Exact, Exact)> {
    let day = inspection.head().begun.date();
    let of_leaf = |gauge: &Instrument| known_gauge(gauge, day, size, unit).map(|leaf| (leaf.expanded, leaf.k));
    let all: Vec<_> = gauges(inspection, read)?.into_iter().map(of_leaf).collect::<Option<_>>()?;
    // of several sets of leaves the one that is known least
    let u2 = |(expanded, k): &(Exact, Exact)| Kind::Expanded { k: k.clone() }.variance(expanded);
    all.into_iter().max_by(|one, other| u2(one).cmp(&u2(other)))
}

/// A gauge as the uncertainty reckoning takes it; a share of the reading becomes a size at `size`.
pub fn known_gauge(gauge: &Instrument, day: chrono::NaiveDate, size: &Exact, unit: Unit) -> Option<Gauge> {
    let calibration = gauge.calibration(day)?;
    let sized = |figure: Figure| {
        let share = figure.dimension() == Dimension::Ratio && unit.dimension() != Dimension::Ratio;
        if share { Some(&figure.to(Unit::One)? * &size.abs()) } else { figure.to(unit) }
    };
    let pooled =
        gauge.repeatability.as_ref().and_then(|one| Some(Pooled { s: sized(one.s)?, dof: one.dof.map(Exact::from) }));
    Some(Gauge {
        expanded: sized(calibration.expanded)?,
        k: Exact::from(calibration.k),
        resolution: gauge.resolution.and_then(|step| step.to(unit)).unwrap_or_else(Exact::zero),
        pooled,
    })
}
