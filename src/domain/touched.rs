//! What an instrument touched: for the day it is found wrong.

use super::characteristic::Characteristic;
use super::entry::{Act, Entry};
use super::id::Id;
use super::inspection::Inspection;

/// An entry that an instrument touched.
#[derive(Debug, Clone, Copy)]
pub struct Touched<'a> {
    /// A reading taken with it, a check of it, or its own first entry.
    pub entry: &'a Entry,
    /// The entry that struck it.
    pub struck: Option<u32>,
}

impl<'a> Touched<'a> {
    /// The step it was used at.
    pub fn step(&self) -> Option<&'a str> {
        if let Act::Reading { step, .. } = &self.entry.act { Some(step) } else { None }
    }
}

/// Every entry that the instrument touched, struck ones too, in their order. Ids that differ in case only are the same.
pub fn touched<'a>(inspection: &'a Inspection, instrument: &Id) -> Vec<Touched<'a>> {
    let by_it = |entry: &&Entry| used(&entry.act).is_some_and(|gauge| gauge.same_as(instrument));
    let told = |entry: &'a Entry| Touched { entry, struck: inspection.struck_by(entry.number) };
    inspection.entries().iter().filter(by_it).map(told).collect()
}

fn used(act: &Act) -> Option<&Id> {
    if let Act::GaugeCheck { gauge, .. } | Act::Reading { gauge: Some(gauge), .. } = act {
        return Some(gauge);
    }
    if let Act::Gauge(entered) = act { Some(&entered.id) } else { None }
}

/// The characteristics that rest on these entries, in the checklist's order; struck ones judge nothing.
pub fn rests_on(inspection: &Inspection, touched: &[Touched<'_>]) -> Vec<Characteristic> {
    let counts = |step: &str| touched.iter().any(|one| one.struck.is_none() && one.step() == Some(step));
    let steps = inspection.head().checklist.steps.iter().filter(|step| counts(&step.id));
    let mut all: Vec<_> = steps.flat_map(|step| &step.judges).map(|judged| judged.characteristic).collect();
    let mut seen = std::collections::BTreeSet::new();
    all.retain(|one| seen.insert(*one));
    all
}
