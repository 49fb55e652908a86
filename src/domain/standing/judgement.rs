//! The figure that counts of a characteristic, and what speaks for and against it.

use std::collections::BTreeMap;

use super::super::exact::Exact;
use super::super::inspection::Doubted;
use super::super::judge::{Reached, Side};
use super::super::measured::PlaceValue;

/// The figure that counts, and what it has reached.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Judgement {
    /// The place that counts.
    pub value: PlaceValue,
    /// What it has reached.
    pub reached: Reached,
    /// Whether a doubt was insisted on in a reading that it rests on.
    pub provisional: Doubted,
    /// Why another way to the figure speaks against it: past a level, and the two disagree.
    pub disputed: Option<String>,
    /// The supervisor who has accepted it all the same.
    pub accepted: Option<String>,
    /// On each side on which a place is past a level, how far the worst of them is past it: its room, negative.
    pub past: BTreeMap<Side, Exact>,
    /// The side on which the sheet has no limit, and too much and too little are both bad: said of what is within.
    pub unjudged: Option<Side>,
}

impl Judgement {
    /// Whether it waits for being taken again, or accepted by a supervisor, since a doubt was insisted on.
    pub fn is_provisional(&self) -> bool {
        self.provisional == Doubted::Yes && self.accepted.is_none()
    }

    /// Whether either speaks against it, and nobody has accepted it.
    pub fn is_open(&self) -> bool {
        self.is_provisional() || self.disputed().is_some()
    }

    /// Why it waits for the same, since another way to the figure speaks against it.
    pub fn disputed(&self) -> Option<&str> {
        self.disputed.as_deref().filter(|_| self.accepted.is_none())
    }
}
