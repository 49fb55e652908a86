//! What was reckoned from the entries so far and is asked for at every key; forgotten as entries come.

use std::sync::Arc;

use super::super::memo::Memo;
use super::super::standing::{PartStanding, Standing};
use super::super::verdict::{Disposition, Hold};
use super::Inspection;

/// All of it.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(super) struct Reckoned {
    obliged: Memo<String>,
    /// What the parts hold against the start, by part.
    against_start: Memo<(String, Hold)>,
    signed: Memo<Standing>,
    /// How a part stands, nothing else reckoned.
    of_parts: Memo<PartStanding>,
    /// What a part has come to behind the decisions.
    behind: Memo<Disposition>,
    /// What it would be without the approvals that are only claimed.
    unclaimed: Memo<Arc<Inspection>>,
}

impl Inspection {
    pub(in crate::domain) fn obliged_by_figures(&self) -> &Memo<String> {
        &self.reckoned.obliged
    }

    /// What the parts hold against the start, as far as it was reckoned; forgotten at each entry.
    pub(in crate::domain) fn held_against_start(&self) -> &Memo<(String, Hold)> {
        &self.reckoned.against_start
    }

    /// How it stood before an entry, by its number: what is under a signature is reckoned once.
    pub(in crate::domain) fn standings_before(&self) -> &Memo<Standing> {
        &self.reckoned.signed
    }

    /// How parts stand for themselves, as far as it was reckoned; forgotten at each entry.
    pub(in crate::domain) fn standing_of_parts(&self) -> &Memo<PartStanding> {
        &self.reckoned.of_parts
    }

    /// The inspection without what is only claimed, once it was folded; forgotten at each entry.
    pub(in crate::domain) fn unclaimed(&self) -> &Memo<Arc<Self>> {
        &self.reckoned.unclaimed
    }

    /// What parts have come to behind the decisions, by part, as far as it was reckoned; forgotten at each entry.
    pub(in crate::domain) fn behind_decisions(&self) -> &Memo<Disposition> {
        &self.reckoned.behind
    }
}
