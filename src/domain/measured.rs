//! From the readings of a step to the figures that are judged: one for each place, never averaged with another.

mod binding;
mod feelers;
mod known;
mod lands;
mod lifts;
mod places;
mod shaft;
mod warmth;

pub use binding::Binding;
pub use known::{
    common_variance, corrected_figure, is_below_nothing, known_gauge, readings_of, sizes_of, u_of, variance_of_one,
};
pub use shaft::{eccentricity_of, is_mark, turn_of};

use super::checklist::{Cell, Judged, Step};
use super::exact::Exact;
use super::id::Id;
use super::inspection::{Doubted, Inspection};
use super::judge::{self, Side};
use super::progress;
use super::reckon::budget::Budget;
use super::reckon::uncertainty::{self, Warmth};
use super::reckon::working::Working;
use super::repeated;
use super::unit::Unit;

/// One figure to be judged.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PlaceValue {
    /// Where: `inner 0`, `land 3, first transfer`.
    pub spot: String,
    /// The figure, in the unit of [`Measured`].
    pub value: Exact,
    /// The same before it was brought to 20 degC, to set beside others of that day.
    pub as_read: Exact,
    /// The only side it is judged on: a largest limit by the leaf that stops, a smallest by the leaf that goes.
    pub side: Option<Side>,
    /// What a trend runs on where that is not the value: the flat of a land, in mm.
    pub trend: Option<Exact>,
    /// How well it is known: the terms, their sum, its degrees of freedom.
    pub variance: Option<Budget>,
    /// Entries it comes from.
    pub entries: Vec<u32>,
    /// The gauges they were taken with.
    pub gauges: Vec<Id>,
    /// Whether a doubt was insisted on in one of them, or in the levels that judge it.
    pub doubted: Doubted,
    /// Why this place cannot be judged as it was taken.
    pub fault: Option<Fault>,
}

/// Why the figures of a place cannot be judged.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fault {
    /// What is to be done, a word: `retake`.
    pub word: &'static str,
    /// In full, its place before it.
    pub words: String,
}

impl PlaceValue {
    /// As it is judged, in `unit`.
    pub fn judged(&self, unit: Unit) -> judge::Judged<'_> {
        judge::Judged { value: &self.value, unit, variance: self.variance.as_ref(), side: self.side }
    }

    /// Where, and by which leaf: `place 1, the leaf that stops`.
    pub fn place(&self) -> String {
        match self.side {
            None => self.spot.clone(),
            Some(Side::Upper) => format!("{}, the leaf that stops", self.spot),
            Some(Side::Lower) => format!("{}, the leaf that goes", self.spot),
        }
    }
}

/// What a step's readings say of one characteristic so far.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Measured {
    /// The unit of the values.
    pub unit: Unit,
    /// Places whose repeats are complete.
    pub values: Vec<PlaceValue>,
    /// Of a set that is judged whole, and is not yet: what it comes to at least, judged by its largest levels alone; or what it
    /// stays below, judged by its smallest. Of a place whose repeats are too far apart their mean, on both sides.
    pub so_far: Vec<(Side, PlaceValue)>,
    /// Places of which a reading is struck, left out or asked for once more: what those left come to, on each side, which
    /// clears nothing; after a strike no more than the place had come to when it was whole.
    pub left: Vec<(Side, PlaceValue)>,
    /// Whether a field is struck and not retaken, or asked for once more: what is left still says what it has said.
    pub taken_back: bool,
    /// Fields taken.
    pub done: usize,
    /// Fields there are.
    pub of: usize,
    /// Fields left out with a reason.
    pub left_out: usize,
    /// What keeps the set from being judged: a void set, repeats too far apart, a figure of the machine not given.
    pub faults: Vec<String>,
    /// Formula, figures put in, result, rule.
    pub working: Vec<Working>,
}

impl Measured {
    /// Whether every field is taken.
    pub fn is_complete(&self) -> bool {
        self.done == self.of && self.of > 0
    }

    /// What a forecast starts from: the places that are complete, what is left of the others, and where repeats are too far
    /// apart, or a reading is struck, what the rest comes to at least.
    pub fn to_look_ahead(&self) -> Vec<PlaceValue> {
        let at_least = self.so_far.iter().filter(|_| self.taken_back || self.is_complete());
        let one_sided = self.left.iter().chain(at_least);
        let one_sided = one_sided.map(|(side, value)| PlaceValue { side: Some(*side), ..value.clone() });
        self.values.iter().cloned().chain(one_sided).filter(|value| value.fault.is_none()).collect()
    }

    /// The working of how well the figure at `spot` is known.
    pub fn budget_of(&self, spot: Option<&str>) -> Option<Working> {
        let wanted = |value: &&PlaceValue| spot.is_none_or(|spot| value.spot == spot);
        let value = self.values.iter().rev().find(wanted)?;
        let working = uncertainty::working(value.variance.as_ref()?, self.unit);
        Some(working.about(format!("how well the figure at {} is known", value.spot)))
    }

    fn empty(unit: Unit) -> Self {
        let (values, so_far, left, faults, working) = (Vec::new(), Vec::new(), Vec::new(), Vec::new(), Vec::new());
        Self { unit, values, so_far, left, taken_back: false, done: 0, of: 0, left_out: 0, faults, working }
    }

    fn fault(mut self, words: impl Into<String>) -> Self {
        self.faults.push(words.into());
        self
    }
}

/// The reading that makes one lift together with this place: its entry, and its field.
pub fn other_of_lift(inspection: &Inspection, step: &Step, place: &str) -> Option<(u32, Cell)> {
    let cell = progress::cells(inspection, step).into_iter().find(|cell| cell.place() == place)?;
    let other = step.mate_of(&cell).filter(|_| step.is_reckoned_by("lift"))?;
    Some((inspection.reading(&step.id, &other.place())?.entry, other))
}

/// The first field of a place that is taken and cannot be judged, its repeats too far apart or one of them misread: where
/// the work goes on when it is taken again.
pub fn to_retake(inspection: &Inspection, step: &Step) -> Option<Cell> {
    let measured = step.judges.iter().map(|judged| measure(inspection, step, judged));
    let void = measured.flat_map(|measured| measured.values).find(|value| value.fault.is_some())?;
    let is_of = |cell: &Cell| {
        inspection.reading(&step.id, &cell.place()).is_some_and(|taken| void.entries.contains(&taken.entry))
    };
    progress::cells(inspection, step).into_iter().find(is_of)
}

/// Reckons what `step` says of `judged` so far.
pub fn measure(inspection: &Inspection, step: &Step, judged: &Judged) -> Measured {
    let mut measured = Measured::empty(judged.characteristic.unit());
    let Some(binding) = Binding::of(judged) else {
        return measured.fault(format!("{} is no reckoning known here", judged.reckoning));
    };
    if !judged.characteristic.is_reckoned_by(&judged.reckoning, judged.result.as_deref()) {
        // an older record's checklist may ask for it: that is said at once, whatever is taken
        (measured.done, measured.of) = (1, 1);
        return measured.fault(format!("{} yields no {}", judged.reckoning, judged.characteristic.name()));
    }
    let cells = own_rows(step, judged, progress::cells(inspection, step));
    measured.of = cells.len();
    measured.done = cells.iter().filter(|cell| inspection.reading(&step.id, &cell.place()).is_some()).count();
    measured.left_out = cells.iter().filter(|cell| inspection.is_left_out(&step.id, &cell.place())).count();
    let back =
        |cell: &Cell| inspection.is_struck(&step.id, &cell.place()) || repeated::is_awaited(inspection, step, cell);
    measured.taken_back = cells.iter().any(back);
    let field = Field { inspection, step, judged, cells };
    let mut measured = match binding {
        Binding::Lift => lifts::lift(&field, measured),
        Binding::Repeats => places::repeats(&field, measured),
        Binding::Feelers => feelers::feelers(&field, measured),
        Binding::Wear => places::wear(&field, measured),
        Binding::Life => places::life(&field, measured),
        Binding::Lands => lands::lands(&field, measured),
        Binding::Journal(wear) => shaft::journal(&field, wear, measured),
        Binding::RunOut => shaft::run_out(&field, measured),
    };
    let at_places: Vec<_> =
        measured.values.iter().filter_map(|value| Some(value.fault.as_ref()?.words.clone())).collect();
    measured.faults.extend(at_places);
    // whoever says it ends the sentence
    measured.faults.iter_mut().for_each(|words| words.truncate(words.trim_end_matches('.').len()));
    if inspection.doubted_levels(judged.characteristic) == Doubted::Yes {
        let one_sided = measured.so_far.iter_mut().chain(&mut measured.left).map(|(_, value)| value);
        let all = measured.values.iter_mut().chain(one_sided);
        all.for_each(|value| value.doubted = Doubted::Yes);
    }
    if let Some(first) = measured.working.first_mut() {
        known::tell_corrections(&field, first);
    }
    measured
}

/// What the temperatures taken leave unknown of a clearance by lift, before its first reading; none of other figures, whose
/// share hangs on their size.
pub fn warmth_of(inspection: &Inspection, step: &Step, judged: &Judged) -> Option<Warmth> {
    Binding::of(judged).filter(|binding| *binding == Binding::Lift)?;
    warmth::Warm::of_lift(&Field { inspection, step, judged, cells: Vec::new() }).ok()?.of_clearance()
}

/// A balancing report has a row for each plane, in the order in which the step judges them; other grids are judged whole.
fn own_rows(step: &Step, judged: &Judged, mut cells: Vec<Cell>) -> Vec<Cell> {
    let mut planes = step.judges.iter().filter(|one| one.reckoning.starts_with("unbalance/"));
    if let Some(plane) = planes.position(|one| one == judged) {
        let mut rows: Vec<String> = cells.iter().map(|cell| cell.row.clone()).collect();
        rows.dedup();
        cells.retain(|cell| rows.get(plane) == Some(&cell.row));
    }
    cells
}

/// The step's fields, and the inspection they are read from.
struct Field<'a> {
    inspection: &'a Inspection,
    step: &'a Step,
    judged: &'a Judged,
    cells: Vec<Cell>,
}
