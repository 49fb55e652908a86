//! What is on the disk and what is not: the model's side of every save.

use crate::domain::entry::{Act, Entry};

use super::effect::Fault;

/// So many entries may wait; then nothing more is taken until the three ways out have been shown.
pub const MOST_WAITING: usize = 20;

/// Entries between the hand and the disk.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Saving {
    readings_saved: usize,
    waiting: Vec<Entry>,
    fault: Option<Fault>,
}

impl Saving {
    /// Nothing waits; so many readings are on the disk.
    pub fn with(readings_saved: usize) -> Self {
        Self { readings_saved, ..Self::default() }
    }

    /// An entry was made.
    pub fn wait_for(&mut self, entry: Entry) {
        self.waiting.push(entry);
    }

    /// Everything up to entry `number` is on the disk.
    pub fn saved(&mut self, number: u32) {
        let reading = |entry: &&Entry| matches!(entry.act, Act::Reading { .. });
        let now = self.waiting.iter().filter(|entry| entry.number <= number);
        self.readings_saved += now.filter(reading).count();
        self.waiting.retain(|entry| entry.number > number);
        self.fault = None;
    }

    /// It was not.
    pub fn failed(&mut self, fault: Fault) {
        self.fault = Some(fault);
    }

    /// Why the last save failed, until one succeeds.
    pub fn fault(&self) -> Option<&Fault> {
        self.fault.as_ref()
    }

    /// Entries that are not on the disk.
    pub fn waiting(&self) -> &[Entry] {
        &self.waiting
    }

    /// Whether this entry is on the disk.
    pub fn has(&self, number: u32) -> bool {
        self.waiting.iter().all(|entry| entry.number != number)
    }

    /// Whether so many wait that nothing more is taken.
    pub fn is_full(&self) -> bool {
        self.fault.is_some() && self.waiting.len() >= MOST_WAITING
    }

    /// `118 saved`; `117 saved, 1 NOT`. A reading on its way is not counted before it is on the disk.
    pub fn words(&self) -> String {
        match &self.fault {
            Some(_) => format!("{} saved, {} NOT", self.readings_saved, self.waiting.len()),
            None => format!("{} saved", self.readings_saved),
        }
    }
}
