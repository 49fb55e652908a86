//! Remarks with which a record was sent back, and what was answered to each: both stay.

use super::super::entry::{Act, Entry, Remark};
use super::super::inspection::Inspection;
use super::{Item, evidence};

/// A remark with its answers.
pub(super) struct Remarked<'a> {
    /// The entry that sent it back.
    pub(super) back: &'a Entry,
    /// Its number there, from 1.
    number: u32,
    pub(super) remark: &'a Remark,
    pub(super) answers: Vec<&'a Entry>,
}

/// Every remark ever made.
pub(super) fn all(inspection: &Inspection) -> Vec<Remarked<'_>> {
    let answers = |back: u32, number: u32| {
        let to = |deed: &Act| matches!(deed, Act::RemarkAnswered { entry, remark, .. } if (*entry, *remark) == (back, number));
        inspection.entries_of_signatures().filter(|later| to(later.deed())).collect()
    };
    let told = inspection.counted_entries().flat_map(|back| {
        let remarks = if let Act::Return { remarks, .. } = back.deed() { remarks.as_slice() } else { &[] };
        let numbered = (1_u32..).zip(remarks);
        numbered.map(move |(number, remark)| Remarked { back, number, remark, answers: answers(back.number, number) })
    });
    told.collect()
}

impl Remarked<'_> {
    /// `answered`, `not answered`.
    pub(super) fn state(&self) -> &'static str {
        if self.answers.is_empty() { "not answered" } else { "answered" }
    }
}

/// Puts what was remarked at its step before all else that a line opens to, the answer below it.
pub(super) fn put_on(item: &mut Item, inspection: &Inspection, all: &[Remarked<'_>]) {
    let here = all.iter().filter(|one| item.step.is_some() && one.remark.step == item.step);
    let mut lines = Vec::new();
    for one in here {
        item.sent_back += usize::from(one.answers.is_empty());
        let (number, back, state, text) = (one.number, one.back.number, one.state(), &one.remark.text);
        lines.push(format!("remark {number} of entry {back}, {state}: {text}"));
        lines.extend(one.answers.iter().map(|answer| evidence::entry_line(inspection, answer)));
    }
    item.evidence.splice(0..0, lines);
}
