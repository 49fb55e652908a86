//! What a gauge can pass at a step, to be said before the first reading and in the gauge's own form.

mod alert;

use chrono::NaiveDate;

use super::characteristic::Characteristic;
use super::checklist::{Judged, Step, Takes};
use super::exact::{Exact, Rounding};
use super::id::Id;
use super::inspection::Inspection;
use super::instrument::Instrument;
use super::judge::{self, Condition, Side};
use super::measured::{Binding, known_gauge, warmth_of};
use super::reckon::capable::{Room, capable, guard_with};
use super::reckon::guard::usual_factor;
use super::reckon::uncertainty::{Gauge, Taken, Warmth};
use super::reckon::working::Working;
use super::sheet::{Level, Levels, Rule, Sheet};
use super::unit::Unit;

pub use alert::{NarrowAlert, narrow_alerts};

/// With less than so many expanded uncertainties from new to the limit, the gauge's own interval of plus and minus U is wider
/// than the room that it is to judge. Common practice, no source.
const COARSE_BELOW: u32 = 2;

/// What one gauge can do for one characteristic.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Capability {
    /// The gauge.
    pub gauge: Id,
    /// What it is to judge.
    pub characteristic: Characteristic,
    /// What it can do.
    pub can: Can,
    /// From new to the limit, or half the way between two: what its guard must leave some of.
    pub way: Option<Exact>,
}

/// What a gauge can do; edges in the characteristic's unit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Can {
    /// Pass figures up to the limit less its guard, down to the limit plus its guard.
    Pass {
        /// Where small figures fail.
        down_to: Option<Exact>,
        /// Where large figures fail.
        up_to: Option<Exact>,
        /// Whether even a part as new would be too close to call.
        new_undecided: bool,
        /// Whether its scale ends before the limit: what is larger cannot be read on it.
        scale_ends: bool,
    },
    /// Nothing: its scale ends before the smallest figure that it could pass.
    TooShort,
    /// Nothing: the guards of both limits leave no room between them.
    PassNothing,
    /// The limit's rule needs the gauge's uncertainty, which is not known.
    PassUnknown,
    /// The limit has no guard, and how far off the gauge may be is not known.
    RoomUnknown,
    /// The limit has no guard.
    Room {
        /// The way from new to the limit, or half the way between two, over the gauge's expanded uncertainty.
        ratio: Exact,
        /// That uncertainty: how far off a figure may be.
        off: Exact,
    },
}

impl Capability {
    /// Whether it is a warning, not only a remark.
    pub fn warns(&self) -> bool {
        match &self.can {
            Can::Pass { new_undecided, .. } => *new_undecided,
            Can::PassNothing | Can::PassUnknown | Can::TooShort => true,
            Can::RoomUnknown => false,
            Can::Room { ratio, .. } => *ratio < Exact::from(COARSE_BELOW),
        }
    }

    /// Whether nobody knows how far off the gauge may be.
    pub fn is_unknown(&self) -> bool {
        matches!(self.can, Can::PassUnknown | Can::RoomUnknown)
    }

    /// One line before the first reading: `D2 can pass a clearance up to 0.2158`.
    pub fn words(&self) -> String {
        let gauge = &self.gauge;
        match &self.can {
            Can::Pass { new_undecided: true, .. } => {
                format!("! {gauge} can pass nothing: not even a new part")
            }
            Can::Pass { down_to, up_to, new_undecided: false, scale_ends } => {
                let ends = if *scale_ends { ENDS } else { "" };
                let edge = match (up_to, down_to) {
                    (Some(up), _) => format!("up to {}{ends}", safe(up, Rounding::Down)),
                    (None, Some(down)) => format!("down to {}", safe(down, Rounding::Up)),
                    (None, None) => "anything".to_owned(),
                };
                format!("{gauge} can pass {} {edge}", self.with_article())
            }
            Can::PassNothing => format!("! {gauge} can pass nothing: too coarse for both limits"),
            Can::TooShort => format!("! {gauge} can pass nothing: its scale is too short"),
            Can::PassUnknown => format!("! {gauge} can pass nothing: no certificate"),
            Can::RoomUnknown => format!("{gauge} has no certificate: how far off is unknown"),
            Can::Room { off, .. } => {
                let (mark, words) = self.fineness(off);
                format!("{mark}{gauge} is {words}")
            }
        }
    }

    /// The same where there is room for it: a warning says of what, and what would do instead.
    pub fn told(&self) -> String {
        if !self.warns() {
            return self.words();
        }
        let (gauge, name, unit) = (&self.gauge, self.characteristic.name(), self.characteristic.unit().behind());
        let at_most = |most: Option<Exact>| most.map(|most| format!("{}{unit}", safe(&most, Rounding::Down)));
        let finer = |guard: Option<String>| match guard {
            Some(guard) => format!("a gauge with a guard below {guard} would do"),
            None => "a finer gauge would do".to_owned(),
        };
        match &self.can {
            Can::Pass { .. } => {
                format!("! {gauge} can pass no {name}, not even of a new part: {}", finer(at_most(self.way.clone())))
            }
            Can::PassNothing => {
                format!(
                    "! {gauge} can pass no {name}, too coarse for both limits: {}",
                    finer(at_most(self.way.clone()))
                )
            }
            Can::PassUnknown => {
                format!("! {gauge} can pass no {name}: its uncertainty is not known before its certificate is entered")
            }
            Can::TooShort => {
                format!("! {gauge} can pass no {name}: its scale ends before the smallest that would pass")
            }
            Can::RoomUnknown | Can::Room { .. } => {
                let most = self.way.as_ref().and_then(|way| way.over(&Exact::from(COARSE_BELOW)));
                let most = at_most(most).map(|most| format!("; one would do that is at most {most} off"));
                let off = if let Can::Room { off, .. } = &self.can { self.fineness(off).1 } else { String::new() };
                format!("{name}: ! {gauge} is {off}{}", most.unwrap_or_default())
            }
        }
    }

    /// The sign of a warning, and `too coarse: it may be 0.006 mm off`.
    fn fineness(&self, off: &Exact) -> (&'static str, String) {
        let (mark, word) = if self.warns() { ("! ", "too coarse") } else { ("", "fit") };
        (mark, format!("{word}: it may be {}{} off", safe(off, Rounding::Up), self.characteristic.unit().behind()))
    }

    /// What it passes, in the gauge's own form beside the name of the characteristic: `0.1343 to 0.2158 mm`.
    pub fn said(&self) -> String {
        let unit = self.characteristic.unit().behind();
        match &self.can {
            Can::Pass { down_to, up_to, new_undecided, scale_ends } => {
                let (down, up) = (down_to.as_ref(), up_to.as_ref());
                let (down, up) = (down.map(|one| safe(one, Rounding::Up)), up.map(|one| safe(one, Rounding::Down)));
                let edge = match (down, up) {
                    (Some(down), Some(up)) => format!("{down} to {up}{unit}"),
                    (None, Some(up)) => format!("only to {up}{unit}"),
                    (Some(down), None) => format!("only down to {down}{unit}"),
                    (None, None) => "anything".to_owned(),
                };
                let sign = if *new_undecided { "! not even a new part for certain: " } else { "" };
                let ends = if *scale_ends { ENDS } else { "" };
                format!("{sign}{edge}{ends}")
            }
            Can::PassNothing => "! nothing: too coarse for both limits".to_owned(),
            Can::TooShort => "! nothing: its scale is too short".to_owned(),
            Can::PassUnknown => "! nothing: it has no certificate".to_owned(),
            Can::RoomUnknown => "no certificate: how far off is unknown".to_owned(),
            Can::Room { off, .. } => {
                let (mark, words) = self.fineness(off);
                format!("{mark}{words}")
            }
        }
    }

    /// `a clearance`, `an ovality`: the name up to its comma.
    fn with_article(&self) -> String {
        let name = self.characteristic.name();
        let name = name.split_once(',').map_or(name, |(short, _)| short);
        let article = if name.starts_with(['a', 'e', 'i', 'o', 'u']) { "an" } else { "a" };
        format!("{article} {name}")
    }
}

/// Behind the largest figure, where the scale and not the limit ends it.
const ENDS: &str = ", where its scale ends";

/// Cut toward the safe side: what is shown can be passed.
fn safe(edge: &Exact, rounding: Rounding) -> String {
    match edge.places() {
        Some(places) if places <= 4 => edge.to_string(),
        Some(_) | None => edge.rounded(4, rounding),
    }
}

/// What `gauge` can do for everything that `step` judges, warnings first, then the order of the step.
pub fn of_step(inspection: &Inspection, step: &Step, gauge: &Instrument) -> Vec<Capability> {
    can_each(step, gauge, |judged| Bench::in_job(inspection, step, judged, gauge))
}

/// The same before any job begins: by a limits sheet, with the gauge as calibrated on that day; nothing of what lies
/// outside its range.
pub fn by_sheet(by: (&Sheet, NaiveDate), step: &Step, gauge: &Instrument) -> Vec<Capability> {
    can_each(step, gauge, |judged| Bench::of(by, step, judged, gauge).filter(|bench| bench.is_shown(step, gauge)))
}

/// What is not known of a gauge on which figures are judged, and how that is mended.
pub fn lacks(inspection: &Inspection, step: &Step, gauge: &Instrument) -> Option<String> {
    let lacks = match gauge.calibration(inspection.head().begun.date()) {
        _ if step.judges.is_empty() => return None,
        None => "has no certificate: how far its figures may be off is not known",
        Some(_) if gauge.resolution.is_none() => "has no resolution entered, which counts as none",
        Some(_) => return None,
    };
    Some(format!("{} {lacks}. Take another gauge, or enter that among the instruments before the next job.", gauge.id))
}

fn can_each<'a>(step: &Step, gauge: &Instrument, bench: impl Fn(&Judged) -> Option<Bench<'a>>) -> Vec<Capability> {
    let one = |judged: &Judged| {
        let bench = bench(judged)?;
        let can = bench.can()?;
        let way = bench.way_to_limit();
        Some(Capability { gauge: gauge.id.clone(), characteristic: judged.characteristic, can, way })
    };
    let mut all: Vec<_> = step.judges.iter().filter_map(one).collect();
    all.sort_by_key(|one| !one.warns());
    all
}

/// Whether a gauge is too coarse for something that the step judges; of one that is not known well enough, nothing is said.
pub fn is_too_coarse(inspection: &Inspection, step: &Step, gauge: &Instrument) -> bool {
    of_step(inspection, step, gauge).iter().any(|one| one.warns() && one.can != Can::PassUnknown)
}

/// The working behind [`of_step`].
pub fn workings(inspection: &Inspection, step: &Step, gauge: &Instrument) -> Vec<Working> {
    let one = |judged: &Judged| {
        let bench = Bench::in_job(inspection, step, judged, gauge)?;
        let (room, factor) = (bench.room()?, bench.factor().unwrap_or_else(usual_factor));
        let capable = capable(&room, bench.known.as_ref()?, bench.repeats, bench.way(), &factor).ok()?;
        let mut working = capable.working(&room, &factor, bench.unit);
        working.purpose = "what this gauge can do here, before the first reading";
        if bench.factor().is_none() {
            working.lines.truncate(2);
            working = working.resulting("this limit keeps no guard: it counts as it stands");
        }
        Some(working)
    };
    step.judges.iter().filter_map(one).collect()
}

/// One characteristic at a step with a gauge in hand.
struct Bench<'a> {
    sheet: &'a Sheet,
    level: &'a Level,
    levels: &'a Levels,
    unit: Unit,
    known: Option<Gauge>,
    repeats: usize,
    taken: Taken,
    warmth: Option<Warmth>,
    /// How far apart two readings can lie, where one is taken from the other.
    span: Option<Exact>,
}

impl<'a> Bench<'a> {
    /// None where no gauge shows the figure, or nothing limits it.
    fn of((sheet, day): (&'a Sheet, NaiveDate), step: &Step, judged: &Judged, gauge: &Instrument) -> Option<Self> {
        let Takes::Readings(grid) = &step.takes else { return None };
        let taken = Binding::of(judged)?.taken()?;
        let levels = sheet.levels.get(&judged.characteristic)?;
        let level = match step.condition() {
            Condition::AsFound => levels.limit.as_ref(),
            Condition::AsLeft => levels.new.as_ref(),
        }?;
        let unit = judged.characteristic.unit();
        let (bound, _) = judge::bounds(level).next()?;
        let size = judge::size_of(bound, unit, sheet)?;
        let known = known_gauge(gauge, day, &size, unit);
        let repeats = usize::try_from(grid.repeats).unwrap_or(1);
        let span = gauge.range.filter(|_| taken == Taken::Difference && step.is_reckoned_by("lift"));
        let span = span.and_then(|(low, high)| Some(&high.to(unit)? - &low.to(unit)?));
        Some(Self { sheet, level, levels, unit, known, repeats, taken, warmth: None, span })
    }

    /// With the temperatures that were taken in the job.
    fn in_job(inspection: &'a Inspection, step: &Step, judged: &Judged, gauge: &Instrument) -> Option<Self> {
        let by = (inspection.sheet()?, inspection.head().begun.date());
        Some(Self { warmth: warmth_of(inspection, step, judged), ..Self::of(by, step, judged, gauge)? })
    }

    /// Whether the range of the gauge reaches what is read at the step: a bound on one side at least.
    fn is_shown(&self, step: &Step, gauge: &Instrument) -> bool {
        let mut sizes = [Side::Lower, Side::Upper].into_iter().filter_map(|side| self.size(self.level, side));
        sizes.any(|size| alert::shows(self.sheet, step, gauge, (self.taken, &size, self.unit)))
    }

    fn way(&self) -> (Taken, Option<&Warmth>) {
        (self.taken, self.warmth.as_ref())
    }

    fn factor(&self) -> Option<Exact> {
        match self.level.rule() {
            Rule::Simple => None,
            Rule::Guarded(factor) => Some(factor.into()),
        }
    }

    fn size(&self, level: &Level, side: Side) -> Option<Exact> {
        let (bound, _) = judge::bounds(level).find(|(_, of)| *of == side)?;
        judge::size_of(bound, self.unit, self.sheet)
    }

    /// Both limits, or one limit seen from the new figure on its side.
    fn room(&self) -> Option<Room> {
        let new = |side| self.size(self.levels.new.as_ref()?, side);
        match (self.size(self.level, Side::Lower), self.size(self.level, Side::Upper)) {
            (Some(lower), Some(upper)) => Some(Room::Between { lower, upper }),
            (None, Some(limit)) => Some(Room::Wear { new: new(Side::Upper)?, limit }),
            (Some(limit), None) => Some(Room::Wear { new: new(Side::Lower)?, limit }),
            (None, None) => None,
        }
    }

    /// How far it is from new to the limit, or half the way between two.
    fn way_to_limit(&self) -> Option<Exact> {
        match self.room()? {
            Room::Wear { new, limit } => Some((&limit - &new).abs()),
            Room::Between { lower, upper } => (&upper - &lower).over(&Exact::from(2)),
        }
    }

    fn can(&self) -> Option<Can> {
        let Some(known) = &self.known else {
            // without a guard the limit counts as it stands
            return Some(if self.factor().is_some() { Can::PassUnknown } else { Can::RoomUnknown });
        };
        let Some(factor) = self.factor() else {
            let able = capable(&self.room()?, known, self.repeats, self.way(), &usual_factor()).ok()?;
            return able.uncertainty_ratio.map(|ratio| Can::Room { ratio, off: known.expanded.clone() });
        };
        let Ok((guard, _)) = guard_with(known, self.repeats, self.way(), &factor) else {
            return Some(Can::PassUnknown);
        };
        let up_to = self.size(self.level, Side::Upper).map(|limit| &limit - &guard);
        let down_to = self.size(self.level, Side::Lower).map(|limit| &limit + &guard);
        if let (Some(up), Some(down)) = (&up_to, &down_to)
            && up < down
        {
            return Some(Can::PassNothing);
        }
        let new = |side| self.size(self.levels.new.as_ref()?, side);
        // a new range that ends on the limit leaves no room on that side for any gauge
        let apart = |side| new(side).filter(|new| self.size(self.level, side).as_ref() != Some(new));
        let beyond_up = up_to.as_ref().zip(apart(Side::Upper)).is_some_and(|(up, new)| *up < new);
        let beyond_down = down_to.as_ref().zip(apart(Side::Lower)).is_some_and(|(down, new)| *down > new);
        if self.span.as_ref().zip(down_to.as_ref()).is_some_and(|(span, down)| span < down) {
            return Some(Can::TooShort);
        }
        let scale_ends = self.span.as_ref().zip(up_to.as_ref()).is_some_and(|(span, up)| span < up);
        let up_to = if scale_ends { self.span.clone() } else { up_to };
        Some(Can::Pass { down_to, up_to, new_undecided: beyond_up || beyond_down, scale_ends })
    }
}
