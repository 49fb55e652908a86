//! Two ways to one figure, held against each other: bore less journal and the lift, radial float over its lever and the
//! lift; and the bow that the run-outs of several stations make together. Nothing here is a verdict.

use super::characteristic::{Characteristic, Given};
use super::checklist::{Step, Takes};
use super::exact::Exact;
use super::inspection::Inspection;
use super::instrument::GaugeKind;
use super::judge::Condition;
use super::measured::{self, Measured};
use super::progress;
use super::reckon::bow::{self, Station};
use super::reckon::guard::two_figures_up;
use super::reckon::run_out::{Turn, run_out};
use super::reckon::vector::Vector;
use super::reckon::working::Working;
use super::telling::beside;

/// What two ways to a figure, or several stations, say together.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CrossCheck {
    /// Whether they agree within their expanded uncertainty (k = 2); `None` where that is not known, or nothing is compared.
    pub agrees: Option<bool>,
    /// In one line.
    pub words: String,
    /// Figures put in, and what comes out.
    pub working: Working,
}

/// Every cross-check that the figures at `step` belong to and whose figures are all taken; as found only.
pub fn of_step(inspection: &Inspection, step: &Step) -> Vec<CrossCheck> {
    let mut all: Vec<_> = ["cs", "ts"].into_iter().flat_map(|side| of_side(inspection, step, side)).collect();
    all.extend(bow_at(inspection, step));
    all
}

/// A range of figures in mm with the square of the largest standard uncertainty in it.
struct Range {
    smallest: Exact,
    largest: Exact,
    variance: Option<Exact>,
}

impl Range {
    fn of(sizes: &[Exact], variance: Option<Exact>) -> Option<Self> {
        Some(Self { smallest: sizes.iter().min()?.clone(), largest: sizes.iter().max()?.clone(), variance })
    }

    /// Of the places that a characteristic is judged at.
    fn of_measured(measured: &Measured) -> Option<Self> {
        let values: Vec<_> = measured.values.iter().map(|value| value.value.clone()).collect();
        let variances: Option<Vec<_>> =
            measured.values.iter().map(|one| Some(one.variance.as_ref()?.variance.clone())).collect();
        Self::of(&values, variances.and_then(|all| all.into_iter().max()))
    }

    fn of_readings(inspection: &Inspection, step: &Step, block: usize) -> Option<Self> {
        Self::of(&measured::sizes_of(inspection, step, block)?, measured::variance_of_one(inspection, step))
    }

    fn words(&self) -> String {
        let [smallest, largest] = [&self.smallest, &self.largest].map(|size| beside(size, None, 4));
        if self.smallest == self.largest { smallest } else { format!("{smallest} to {largest}") }
    }
}

fn of_side(inspection: &Inspection, step: &Step, side: &str) -> Vec<CrossCheck> {
    let steps = Steps::of(inspection, side);
    let concerned = |all: &[Option<&Step>]| all.iter().flatten().any(|one| one.id == step.id);
    let mut checks = Vec::new();
    if concerned(&[steps.lift, steps.bore, steps.journal]) {
        checks.extend(steps.bore_and_journal(inspection));
    }
    if concerned(&[steps.lift, steps.float]) {
        checks.extend(steps.lever(inspection, side));
    }
    checks
}

/// The steps of one side, as found.
struct Steps<'a> {
    lift: Option<&'a Step>,
    bore: Option<&'a Step>,
    journal: Option<&'a Step>,
    float: Option<&'a Step>,
}

impl<'a> Steps<'a> {
    fn of(inspection: &'a Inspection, side: &str) -> Self {
        let found = || progress::steps(inspection).filter(|step| step.condition() == Condition::AsFound);
        let judging = |id: String| found().find(|step| step.judges.iter().any(|one| one.characteristic.id() == id));
        let bush = format!("bush.{side}");
        let bore = |step: &&Step| matches!(&step.takes, Takes::Readings(grid) if grid.gauge == GaugeKind::Bore);
        Self {
            lift: judging(format!("{bush}.clearance")),
            bore: found().find(|step| step.part == bush && bore(step)),
            journal: judging(format!("shaft.{side}.step")),
            float: judging(format!("float.radial.{side}")),
        }
    }

    /// Smallest bore less largest journal, largest bore less smallest journal, against the lift. Source: arithmetic.
    fn bore_and_journal(&self, inspection: &Inspection) -> Option<CrossCheck> {
        let lift = complete(inspection, self.lift?)?;
        let bore = Range::of_readings(inspection, self.bore?, 0)?;
        // the first block is the unworn diameter beside the track
        let journal = Range::of_readings(inspection, self.journal?, 1)?;
        let less = Range {
            smallest: &bore.smallest - &journal.largest,
            largest: &bore.largest - &journal.smallest,
            variance: sum(bore.variance.as_ref(), journal.variance.as_ref()),
        };
        let mut working = plain("crosscheck", "bore less journal against the clearance by lift");
        working.step("bore", "", "", format!("{} mm", bore.words()));
        working.step("journal, in its track", "", "", format!("{} mm", journal.words()));
        working.step("bore - journal", "", "", format!("{} mm", less.words()));
        Some(compared("bore less journal", &less, &lift, working))
    }

    /// The float at a nose is the lift at its journal times a lever. Source: geometry.
    fn lever(&self, inspection: &Inspection, side: &str) -> Option<CrossCheck> {
        let lift = complete(inspection, self.lift?)?;
        let float = complete(inspection, self.float?)?;
        let lever = inspection.sheet()?.given(Given::parse(&format!("lever.{side}"))?)?;
        let squared = &lever * &lever;
        let variance = match &float.variance {
            Some(variance) => Some(variance.over(&squared)?),
            None => None,
        };
        let over = Range { smallest: float.smallest.over(&lever)?, largest: float.largest.over(&lever)?, variance };
        let mut working = plain("crosscheck", "radial float over its lever against the clearance by lift");
        working.step("float / lever", "", format!("{} / {lever}", float.words()), format!("{} mm", over.words()));
        Some(compared("radial float / lever", &over, &lift, working))
    }
}

/// The figures that a step judges first; none before all of them are taken.
fn complete(inspection: &Inspection, step: &Step) -> Option<Range> {
    let measured = measured::measure(inspection, step, step.judges.first()?);
    Range::of_measured(&measured).filter(|_| measured.is_complete())
}

fn plain(rule: &str, purpose: &'static str) -> Working {
    let source = "arithmetic; k = 2";
    Working { rule: rule.to_owned(), purpose, source, lines: Vec::new(), result: String::new() }
}

fn sum(a: Option<&Exact>, b: Option<&Exact>) -> Option<Exact> {
    Some(a? + b?)
}

/// Two ranges: how far apart, against twice the standard uncertainty of both.
fn compared(name: &str, one: &Range, lift: &Range, mut working: Working) -> CrossCheck {
    working.step("clearance by lift", "", "", format!("{} mm", lift.words()));
    let apart = (&one.smallest - &lift.largest).max(&lift.smallest - &one.largest).max(Exact::zero());
    let variance = sum(one.variance.as_ref(), lift.variance.as_ref());
    working.step("apart", "", "", format!("{} mm", beside(&apart, None, 4)));
    let agrees = variance.as_ref().map(|variance| &apart * &apart <= variance * &Exact::from(4));
    if let Some(u) = variance.as_ref().and_then(two_figures_up) {
        let twice = format!("{} mm", &u * &Exact::from(2));
        working.step("allowed", "2 u of both together", "", twice);
    }
    let words = match agrees {
        Some(true) => format!("{name} {}, the lift {}: they agree", one.words(), lift.words()),
        Some(false) => {
            format!("{name} {}, the lift {}: one of them is wrong, find which", one.words(), lift.words())
        }
        None => format!("{name} {}, the lift {}: gauge not known well enough to say", one.words(), lift.words()),
    };
    CrossCheck { agrees, working: working.resulting(words.clone()), words }
}

/// Stations with the figure of the machine that says where they are; the compressor side journal is at zero.
const STATIONS: [(&str, &str); 6] = [
    ("nose", "station.nose"),
    ("collar", "station.collar"),
    ("cs", ""),
    ("mid", "station.mid"),
    ("ts", "station.ts"),
    ("hub", "station.hub"),
];

/// The bow at all stations turned so far, once both journals and one station more are.
fn bow_at(inspection: &Inspection, step: &Step) -> Option<CrossCheck> {
    let is_station = step.judges.iter().any(|one| one.characteristic.id().starts_with("shaft.runout."));
    if !is_station || step.condition() == Condition::AsLeft {
        return None;
    }
    let stations: Vec<_> = STATIONS.iter().filter_map(|(name, given)| station(inspection, name, given)).collect();
    let named = |name: &str| stations.iter().any(|station| station.name == name);
    if stations.len() < 3 || !(named("cs") && named("ts")) {
        return None;
    }
    let (justified, bows) = bow::bow(&stations, ["cs", "ts"]).ok()?;
    let working = bow::working(&stations, justified, &bows);
    Some(CrossCheck { agrees: None, words: format!("run-outs together: {}", working.result), working })
}

fn station(inspection: &Inspection, name: &str, given: &str) -> Option<Station> {
    let characteristic = Characteristic::parse(&format!("shaft.runout.{name}"))?;
    let judges = |step: &&Step| step.judges.iter().any(|one| one.characteristic == characteristic);
    let step = progress::steps(inspection).filter(judges).find(|step| step.condition() == Condition::AsFound)?;
    let at = if given.is_empty() { Exact::zero() } else { inspection.sheet()?.given(Given::parse(given)?)? };
    let turn = measured::turn_of(inspection, step)?;
    let vector = run_out(&turn).ok()?.eccentricity.unwrap_or_else(Vector::nothing);
    Some(Station { name: name.to_owned(), at, vector, u: u_of(inspection, step, &turn) })
}

/// Each part of a harmonic over `n` marks has the variance of a reading times `2 / n`. Source: least squares.
fn u_of(inspection: &Inspection, step: &Step, turn: &Turn) -> Option<Exact> {
    let marks = u32::try_from(turn.marks.len()).ok()?;
    let variance = measured::variance_of_one(inspection, step)?;
    two_figures_up(&(&variance * &Exact::from(2)).over(&Exact::from(marks))?).filter(|u| !u.is_zero())
}
