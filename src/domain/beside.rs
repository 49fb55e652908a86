//! What a step's figures are set beside once they are taken: the figures before the job, the count before, the mate of
//! a new part. Nothing here is a verdict; a count that does not agree holds its part, by [`unlike`].

mod torque;
mod worse;

pub use torque::{missed as torque_missed, off as torque_off};
pub use worse::{is_off, told as worse};

use super::characteristic::Characteristic;
use super::checklist::{Against, Cell, Step, Takes, Worse};
use super::crosscheck;
use super::exact::Exact;
use super::figure::Figure;
use super::inspection::Inspection;
use super::instrument::GaugeKind;
use super::judge::{self, Condition, Judged, Reach};
use super::measured;
use super::phase::Phase;
use super::progress;
use super::sheet::Bound;
use super::telling;
use super::unit::Unit;
use super::worked;

/// One line beside the figures of a step.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Beside {
    /// The sign before it: `+` agrees, `?` look again, `X` outside, `.` for the eye alone.
    pub sign: char,
    /// In words.
    pub words: String,
}

/// Everything beside the figures of `step`: what it reckons of them at once, the rest not before all of them are taken or
/// left out.
pub fn lines(inspection: &Inspection, step: &Step) -> Vec<Beside> {
    let worked = worked::of_step(inspection, step);
    let mut lines: Vec<_> = worked
        .iter()
        .map(|one| Beside { sign: if one.outcome.is_ok() { '.' } else { '?' }, words: one.words() })
        .collect();
    if step.phase == Phase::Order {
        lines.extend(clearance_to_come(inspection, step));
        return lines;
    }
    if !matches!(step.takes, Takes::Readings(_)) || progress::next_cell(inspection, step).is_some() {
        return lines;
    }
    lines.extend(pairs(inspection, step).iter().filter_map(Pair::line));
    lines.extend(torque_off(inspection, step).into_iter().map(|words| Beside { sign: '?', words }));
    lines.extend(clearance_to_come(inspection, step));
    lines.extend(crosscheck::of_step(inspection, step).into_iter().map(|check| {
        let sign = match check.agrees {
            Some(true) => '+',
            Some(false) => '?',
            None => '.',
        };
        Beside { sign, words: check.words }
    }));
    lines
}

/// What keeps the engine from starting, in words: counts that are not as they were first, `washers: 51, first 52`, and
/// joints that are not tightened as the manual has it.
pub fn unlike(inspection: &Inspection, step: &Step) -> Vec<String> {
    unequal(inspection, step).into_iter().chain(torque_off(inspection, step)).collect()
}

fn unequal(inspection: &Inspection, step: &Step) -> Vec<String> {
    let differing = |pair: &Pair| {
        let (now, then) = (pair.now?, pair.then?);
        (pair.kind == Kind::Equal && now.to(pair.unit) != then.to(pair.unit))
            .then(|| format!("{}: {now}, first {then}", pair.spot))
    };
    pairs(inspection, step).iter().filter_map(differing).collect()
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Kind {
    Compared,
    Equal,
}

/// A figure and the one of the earlier step at the same place.
struct Pair {
    kind: Kind,
    worse: Option<Worse>,
    spot: String,
    unit: Unit,
    now: Option<Figure>,
    then: Option<Figure>,
}

fn pairs(inspection: &Inspection, step: &Step) -> Vec<Pair> {
    let Takes::Readings(grid) = &step.takes else { return Vec::new() };
    let Some(against) = &grid.against else { return Vec::new() };
    let kind = match against {
        Against::Compared(_) => Kind::Compared,
        Against::Equal(_) => Kind::Equal,
    };
    let taken = |step: &str, place: &str| inspection.reading(step, place).map(|reading| reading.figure);
    let pair = |cell: &Cell| Pair {
        kind,
        worse: grid.worse,
        spot: cell.spoken(),
        unit: grid.unit_of(cell),
        now: taken(&step.id, &cell.place()),
        then: taken(against.step(), &cell.place()),
    };
    progress::cells(inspection, step).iter().map(pair).collect()
}

impl Pair {
    /// Whether it is worse than before the job, or of another load.
    fn is_off(&self) -> bool {
        let off = || is_off((self.then?, self.now?), self.unit, self.worse);
        self.kind == Kind::Compared && off() == Some(true)
    }

    fn line(&self) -> Option<Beside> {
        let (spot, now) = (&self.spot, self.now?);
        let Some(then) = self.then else {
            return Some(Beside { sign: '.', words: format!("{spot}: {now} now, no figure before") });
        };
        let off = &now.to(self.unit)? - &then.to(self.unit)?;
        match (self.kind, off.is_zero()) {
            (Kind::Equal, true) => Some(Beside { sign: '+', words: format!("{spot}: {now}, as counted first") }),
            (Kind::Equal, false) => {
                let words = format!("{spot}: {now}, and {then} at the first count: look for it, count again");
                Some(Beside { sign: '?', words })
            }
            (Kind::Compared, true) => Some(Beside { sign: '.', words: format!("{spot}: {then} before, the same now") }),
            (Kind::Compared, false) => {
                let way = if off.is_negative() { "less" } else { "more" };
                let off = telling::beside(&off.abs(), None, 4);
                let behind = self.unit.behind();
                let words = format!("{spot}: {then} before, {now} now, {off}{behind} {way}");
                Some(Beside { sign: if self.is_off() { '?' } else { '.' }, words })
            }
        }
    }
}

fn last_block(step: &Step) -> usize {
    if let Takes::Readings(grid) = &step.takes { grid.blocks.len().saturating_sub(1) } else { 0 }
}

/// The smallest and the largest bore of a new bush by the sheet, in mm.
fn bores_of_sheet(inspection: &Inspection, side: &str) -> Option<Vec<Exact>> {
    let sheet = inspection.sheet()?;
    let new = sheet.levels.get(&Characteristic::parse(&format!("bush.{side}.bore"))?)?.new.as_ref()?;
    let size = |bound: Option<&Bound>| sheet.amount(&bound?.amount)?.to(Unit::Millimetre);
    Some(vec![size(new.lower())?, size(new.upper())?])
}

/// Bores and journal diameters of a side as they will go together, in mm: of what is new or mended, else of what was found
/// and is still there.
fn pair_to_come(inspection: &Inspection, step: &Step, side: &str) -> (Option<Vec<Exact>>, Option<Vec<Exact>>) {
    let (bush, bore) = (format!("bush.{side}"), format!("bush.{side}.bore"));
    let (diameter, worn) = (format!("shaft.{side}.diameter"), format!("shaft.{side}.step"));
    let steps = || progress::steps(inspection);
    let of_old = |step: &&Step| {
        let bore = matches!(&step.takes, Takes::Readings(grid) if grid.gauge == GaugeKind::Bore);
        bore && step.judges.is_empty() && step.part == bush
    };
    // a journal's last block is its track, a block before it the diameter beside the track
    let track = |step: &Step| measured::sizes_of(inspection, step, last_block(step));
    let whole = |step: &Step| measured::sizes_of(inspection, step, 0);
    let new_bores = steps().filter(|one| one.judges_id(&bore)).find_map(whole);
    let old_bores = || steps().find(of_old).and_then(whole);
    let bores = new_bores.or_else(|| match (step.phase == Phase::Order, inspection.is_replaced(&bush)) {
        (true, _) => bores_of_sheet(inspection, side),
        (false, true) => None,
        (false, false) => old_bores(),
    });
    let new_journals = steps().filter(|one| one.judges_id(&diameter)).find_map(track);
    let old_journals = || steps().find(|one| one.judges_id(&worn)).and_then(track);
    let journals = new_journals.or_else(|| if inspection.is_replaced("shaft") { None } else { old_journals() });
    (bores, journals)
}

/// The clearance that a new bush or a new journal will give with its mate, against the new range, before it is
/// ordered: smallest bore less largest journal, largest bore less smallest journal. Source: arithmetic.
fn clearance_to_come(inspection: &Inspection, step: &Step) -> Option<Beside> {
    let side = ["cs", "ts"].into_iter().find(|side| {
        let ordered = step.phase == Phase::Order && step.part == format!("bush.{side}");
        ordered || step.judges_id(&format!("bush.{side}.bore")) || step.judges_id(&format!("shaft.{side}.diameter"))
    })?;
    let bush = format!("bush.{side}");
    let (bores, journals) = pair_to_come(inspection, step, side);
    let (Some(bores), Some(journals)) = (&bores, &journals) else {
        let lacks = match (step.phase, &bores, &journals) {
            (_, _, None) if inspection.is_replaced("shaft") => "the journal of the new shaft is measured",
            (Phase::Order, _, None) => "the journal is measured",
            (Phase::Order, _, _) => "a spare's bore, or the sheet's, is known",
            (_, None, _) if inspection.is_replaced(&bush) => "the bore of the new bush is measured",
            _ => return None,
        };
        return Some(Beside { sign: '?', words: format!("clearance to come: not known before {lacks}") });
    };
    let smallest = bores.iter().min()? - journals.iter().max()?;
    let largest = bores.iter().max()? - journals.iter().min()?;
    let shown = |size: &Exact| telling::beside(size, None, 4);
    let range = format!("clearance to come: {} to {} mm", shown(&smallest), shown(&largest));
    let clearance = Characteristic::parse(&format!("bush.{side}.clearance"))?;
    let inside = inspection.sheet().and_then(|sheet| {
        let levels = sheet.levels.get(&clearance)?;
        let within = |value: &Exact| {
            let figure = Judged { value, unit: Unit::Millimetre, variance: None, side: None };
            judge::judge(&figure, levels, Condition::AsLeft, sheet).ok().map(|reached| reached.reach == Reach::Within)
        };
        Some(within(&smallest)? && within(&largest)?)
    });
    let (sign, words) = match inside {
        Some(true) => ('+', "inside the new range"),
        Some(false) => ('X', "outside the new range: ask before it is ordered or fitted"),
        None => ('?', "the sheet has no new range to judge it by"),
    };
    Some(Beside { sign, words: format!("{range}, {words}") })
}
