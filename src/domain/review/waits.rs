//! Why a record waits for somebody's decision.

use super::super::checklist::Signing;
use super::super::inspection::Inspection;
use super::super::signing;
use super::super::standing::Standing;
use super::super::telling::{counted, hands_of};

/// What a record waits for, the most pressing first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Wait {
    /// It came back with remarks.
    CameBack,
    /// A signature waits for its countersignature.
    Countersign,
    /// A figure was insisted on, or is too close to call.
    NotSure,
    /// It is not closed.
    NotClosed,
}

/// Why the record waits, in words; none when it waits for nothing.
pub fn waits(inspection: &Inspection, standing: &Standing) -> Option<(Wait, String)> {
    let remarks = signing::open_remarks(inspection);
    if let Some((entry, ..)) = remarks.last() {
        let who = inspection.entry(*entry).map(|entry| hands_of(inspection, entry)).unwrap_or_default();
        let remarks = counted(remarks.len(), "remark");
        return Some((Wait::CameBack, format!("came back from {who}: {remarks} to answer")));
    }
    let closed = signing::standing_signature(inspection, Signing::Close).is_some();
    if !signing::countersign_pending(inspection).is_empty() {
        let what = if closed { "the close" } else { "the decisions" };
        return Some((Wait::Countersign, format!("countersign pending ashore: {what}")));
    }
    let counts = &standing.counts;
    let doubted = [(counts.provisional, "provisional"), (counts.undecided, "undecided")];
    let doubted: Vec<_> = doubted
        .into_iter()
        .filter(|(number, _)| *number > 0)
        .map(|(number, what)| format!("{number} {what}"))
        .collect();
    if !doubted.is_empty() {
        return Some((Wait::NotSure, doubted.join(", ")));
    }
    if closed {
        return None;
    }
    let held = match standing.holds_in_words().len() {
        0 => "nothing holds it".to_owned(),
        holds => counted(holds, "hold"),
    };
    Some((Wait::NotClosed, format!("not closed: {held}")))
}
