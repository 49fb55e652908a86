//! Two ways to one figure, held against each other: bore less journal and the lift, radial float over its lever and the
//! lift; and what the run-outs say beyond their own station. Nothing here is a verdict; where the other way would be past a
//! level and the two disagree, `disputed` says so.

mod disputed;
mod seated;
mod turned;

pub use disputed::{Dispute, disputed, is_beside};

use super::characteristic::Given;
use super::checklist::{Step, Takes};
use super::exact::Exact;
use super::inspection::Inspection;
use super::instrument::GaugeKind;
use super::judge::Condition;
use super::measured::{self, Measured, PlaceValue};
use super::progress;
use super::reckon::guard::two_figures_up;
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
    /// The smallest and the largest that the other way to a clearance by lift comes to, in mm.
    pub other_way: Option<[Exact; 2]>,
}

/// Every cross-check that the figures at `step` belong to and whose figures are all taken; as found, but for a new wheel.
pub fn of_step(inspection: &Inspection, step: &Step) -> Vec<CrossCheck> {
    let mut all: Vec<_> = ["cs", "ts"].into_iter().flat_map(|side| of_side(inspection, step, side)).collect();
    all.extend(seated::wheel(inspection, step));
    all.extend(turned::moved(inspection, step));
    all.extend(turned::bow_at(inspection, step));
    all
}

/// A range of figures in mm with the square of the largest standard uncertainty in it.
struct Range {
    smallest: Exact,
    largest: Exact,
    variance: Option<Exact>,
    /// The same as its own step shows them, where that is not as read: at 20 degC.
    shown: Option<[Exact; 2]>,
}

impl Range {
    fn of(sizes: &[Exact], variance: Option<Exact>) -> Option<Self> {
        let [smallest, largest] = ends(sizes)?;
        Some(Self { smallest, largest, variance, shown: None })
    }

    /// Of the places that a characteristic is judged at, as read: all were as warm as each other that day.
    fn of_measured(measured: &Measured) -> Option<Self> {
        let values: Vec<_> = measured.values.iter().map(|value| value.as_read.clone()).collect();
        let judged: Vec<_> = measured.values.iter().map(|value| value.value.clone()).collect();
        let variances: Option<Vec<_>> =
            measured.values.iter().map(|one| Some(one.variance.as_ref()?.variance.clone())).collect();
        let range = Self::of(&values, variances.and_then(|all| all.into_iter().max()))?;
        Some(Self { shown: ends(&judged), ..range })
    }

    fn of_readings(inspection: &Inspection, step: &Step, block: usize) -> Option<Self> {
        Self::of(&measured::sizes_of(inspection, step, block)?, measured::variance_of_one(inspection, step))
    }

    fn words(&self) -> String {
        in_words(&self.smallest, &self.largest)
    }

    /// As its own step shows it.
    fn words_as_judged(&self) -> String {
        self.shown.as_ref().map_or_else(|| self.words(), |[smallest, largest]| in_words(smallest, largest))
    }
}

fn ends(sizes: &[Exact]) -> Option<[Exact; 2]> {
    Some([sizes.iter().min()?.clone(), sizes.iter().max()?.clone()])
}

fn in_words(smallest: &Exact, largest: &Exact) -> String {
    let [least, most] = [smallest, largest].map(|size| beside(size, None, 4));
    if least == most { least } else { format!("{least} to {most}") }
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
        let judging = |id: String| found().find(|step| step.judges_id(&id));
        let bush = format!("bush.{side}");
        let bore = |step: &&Step| matches!(&step.takes, Takes::Readings(grid) if grid.gauge == GaugeKind::Bore);
        Self {
            lift: judging(format!("{bush}.clearance")),
            bore: found().find(|step| step.part == bush && bore(step)),
            journal: judging(format!("shaft.{side}.step")),
            float: judging(format!("float.radial.{side}")),
        }
    }

    fn all(&self) -> [Option<&'a Step>; 4] {
        [self.lift, self.bore, self.journal, self.float]
    }

    /// Smallest bore less largest journal, largest bore less smallest journal, against the lift, place by place where both
    /// were taken at the same ones. Source: arithmetic.
    fn bore_and_journal(&self, inspection: &Inspection) -> Option<CrossCheck> {
        let lift = complete(inspection, self.lift?)?;
        let bore = Range::of_readings(inspection, self.bore?, 0)?;
        // the first block is the unworn diameter beside the track
        let journal = Range::of_readings(inspection, self.journal?, 1)?;
        let less = Range {
            smallest: &bore.smallest - &journal.largest,
            largest: &bore.largest - &journal.smallest,
            variance: sum(bore.variance.as_ref(), journal.variance.as_ref()),
            shown: None,
        };
        let mut working = plain("crosscheck", "bore less journal against the clearance by lift");
        working.step("bore", "", "", format!("{} mm", bore.words()));
        working.step("journal, in its track", "", "", format!("{} mm", journal.words()));
        working.step("bore - journal", "", "", format!("{} mm", less.words()));
        let apart = self.farthest(inspection, &journal)?;
        Some(compared("bore less journal", (&less, &lift), apart, working))
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
        let (smallest, largest) = (float.smallest.over(&lever)?, float.largest.over(&lever)?);
        let over = Range { smallest, largest, variance, shown: None };
        let mut working = plain("crosscheck", "radial float over its lever against the clearance by lift");
        working.step("float / lever", "", format!("{} / {lever}", float.words()), format!("{} mm", over.words()));
        // the float is taken one way, and an oval bush lifts more the other: within the lift's range is all it can say
        let apart = (&over.smallest - &lift.largest).max(&lift.smallest - &over.largest).max(Exact::zero());
        Some(compared("radial float / lever", (&over, &lift), ("apart".to_owned(), apart), working))
    }

    /// Where the lift is farthest from what the bore at its own place leaves over the journal, at whatever angle the
    /// journal lay; a place whose bore was not taken against the bores as a whole.
    fn farthest(&self, inspection: &Inspection, journal: &Range) -> Option<(String, Exact)> {
        let step = self.lift?;
        let lifted = measured::measure(inspection, step, step.judges.first()?);
        let bores = measured::readings_of(inspection, self.bore?)?;
        let at = |value: &PlaceValue| {
            let here = bores.iter().filter(|(cell, _)| cell.spot() == value.spot).map(|(_, size)| size.clone());
            let here: Vec<Exact> = here.collect();
            let all = || bores.iter().map(|(_, size)| size.clone()).collect();
            let bore = Range::of(&if here.is_empty() { all() } else { here }, None)?;
            let below = &(&bore.smallest - &journal.largest) - &value.as_read;
            let above = &value.as_read - &(&bore.largest - &journal.smallest);
            Some((format!("apart, at {}", value.spot), below.max(above).max(Exact::zero())))
        };
        lifted.values.iter().filter_map(at).max_by(|(_, one), (_, other)| one.cmp(other))
    }
}

/// The figures that a step judges first; none before all of them are taken, nor of a set that is void in part.
fn complete(inspection: &Inspection, step: &Step) -> Option<Range> {
    let measured = measured::measure(inspection, step, step.judges.first()?);
    Range::of_measured(&measured).filter(|_| measured.is_complete() && measured.faults.is_empty())
}

fn plain(rule: &str, purpose: &'static str) -> Working {
    let source = "arithmetic; k = 2";
    Working { rule: rule.to_owned(), purpose, source, lines: Vec::new(), result: String::new() }
}

fn sum(a: Option<&Exact>, b: Option<&Exact>) -> Option<Exact> {
    Some(a? + b?)
}

/// Two ranges: how far apart, against twice the standard uncertainty of both.
fn compared(
    name: &str,
    (one, lift): (&Range, &Range),
    (apart_at, apart): (String, Exact),
    mut working: Working,
) -> CrossCheck {
    working.step("clearance by lift", "", "", format!("{} mm", lift.words()));
    let variance = sum(one.variance.as_ref(), lift.variance.as_ref());
    working.step(apart_at, "", "", format!("{} mm", beside(&apart, None, 4)));
    let agrees = variance.as_ref().map(|variance| &apart * &apart <= variance * &Exact::from(4));
    if let Some(u) = variance.as_ref().and_then(two_figures_up) {
        let twice = format!("{} mm", &u * &Exact::from(2));
        working.step("allowed", "2 u of both together", "", twice);
    }
    let both = format!("{name} {}, the lift {}", one.words(), lift.words_as_judged());
    let words = match agrees {
        Some(true) => format!("{both}: they agree"),
        Some(false) => format!("{both}: one of them is wrong, find which"),
        None => format!("{both}: gauge not known well enough to say"),
    };
    let other_way = Some([one.smallest.clone(), one.largest.clone()]);
    CrossCheck { agrees, working: working.resulting(words.clone()), words, other_way }
}
