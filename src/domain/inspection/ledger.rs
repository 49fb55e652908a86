//! What the entries so far add up to.

use std::collections::{BTreeMap, BTreeSet};

use super::super::entitled::Passed;
use super::super::id::Id;
use super::super::instrument::Instrument;
use super::super::person::Person;
use super::super::rotor::Fitted;
use super::super::sheet::Sheet;
use super::{Head, Opening};

/// What the entries so far add up to; follows from them alone.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(in crate::domain) struct Ledger {
    /// Struck entries, and the entry that struck each.
    pub(in crate::domain) struck: BTreeMap<u32, u32>,
    /// Decisions that do not count.
    pub(in crate::domain) passed: Passed,
    /// Entry numbers of readings by step and place, oldest first, struck ones included.
    pub(in crate::domain) readings: BTreeMap<String, BTreeMap<String, Vec<u32>>>,
    /// Entry numbers by step, oldest first, struck ones included.
    pub(in crate::domain) by_step: BTreeMap<String, Vec<u32>>,
    /// Further repeats asked for, by step: the entry and the place, oldest first, struck ones included.
    pub(in crate::domain) further: BTreeMap<String, Vec<(u32, String)>>,
    /// Entry numbers about signatures, what they were sent back or countersigned with, and what was changed under them.
    pub(in crate::domain) of_signatures: Vec<u32>,
    /// Entry numbers of places left out, by step and place.
    pub(in crate::domain) left_out: BTreeMap<String, BTreeMap<String, Vec<u32>>>,
    /// The opening answers, later ones put in.
    pub(in crate::domain) opening: Opening,
    /// The sheet with levels given later.
    pub(in crate::domain) sheet: Option<Sheet>,
    /// The same as typed, without what follows from its figures.
    typed: Option<Sheet>,
    /// Gauges, those entered later behind.
    pub(in crate::domain) instruments: Vec<Instrument>,
    /// People, those entered later behind.
    pub(in crate::domain) people: Vec<Person>,
    /// Parts as fitted now.
    pub(in crate::domain) parts: BTreeMap<String, Fitted>,
    /// Parts as found, those that were identified late put in.
    pub(in crate::domain) found: BTreeMap<String, Fitted>,
    /// Parts replaced during this inspection.
    pub(in crate::domain) replaced: BTreeMap<String, u32>,
    /// Gauges that missed a piece of known size by more than they are known for.
    pub(in crate::domain) missed: BTreeSet<Id>,
    /// Steps to be done again: what was done there before this entry counts no more.
    pub(in crate::domain) outdated: BTreeMap<String, u32>,
    /// Entries that are not as they were written, by what the file's own chain shows, whether somebody has said so or not.
    pub(in crate::domain) changed: BTreeSet<u32>,
}

impl Ledger {
    /// As the head has it.
    pub(in crate::domain) fn new(head: &Head) -> Self {
        Self {
            struck: BTreeMap::new(),
            passed: Passed::default(),
            readings: BTreeMap::new(),
            by_step: BTreeMap::new(),
            further: BTreeMap::new(),
            of_signatures: Vec::new(),
            left_out: BTreeMap::new(),
            opening: head.opened.clone(),
            sheet: head.sheet.clone().map(Sheet::with_shares),
            typed: head.sheet.clone(),
            instruments: head.instruments.clone(),
            people: head.people.clone(),
            parts: head.parts.clone(),
            found: head.parts.clone(),
            replaced: BTreeMap::new(),
            missed: BTreeSet::new(),
            outdated: BTreeMap::new(),
            changed: BTreeSet::new(),
        }
    }

    /// Puts a figure or a level typed later in; what follows from the sheet's figures is reckoned anew.
    pub(in crate::domain) fn put_in(&mut self, machine: &Id, change: impl FnOnce(&mut Sheet)) {
        change(self.typed.get_or_insert_with(|| Sheet::bare(machine.clone())));
        self.sheet = self.typed.clone().map(Sheet::with_shares);
    }
}
