//! Why a record waits for somebody's decision.

use std::collections::BTreeSet;

use super::super::checklist::Signing;
use super::super::entry::Act;
use super::super::inspection::Inspection;
use super::super::signing;
use super::super::standing::Standing;
use super::super::telling::counted;

/// What a record waits for, the most pressing first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Wait {
    /// It came back with remarks.
    CameBack,
    /// A signature waits for its countersignature.
    Countersign,
    /// Somebody has gone on with it since it was closed.
    GoneOn,
    /// A figure was insisted on, or is too close to call.
    NotSure,
    /// It is not closed.
    NotClosed,
}

/// Why the record waits, in words; none when it waits for nothing. `strange` are entries by people unknown here.
pub fn waits(inspection: &Inspection, standing: &Standing, strange: &BTreeSet<u32>) -> Option<(Wait, String)> {
    if let Some(words) = signing::came_back(inspection) {
        return Some((Wait::CameBack, words));
    }
    let closed = signing::standing_signature(inspection, Signing::Close).is_some();
    let pending = signing::pending_here(inspection, strange);
    if let Some(Act::Sign(signature)) = pending.last().map(|sign| &sign.act) {
        let shaken = pending.iter().any(|sign| signing::shaken(inspection, sign.number).is_some());
        let words = if shaken { "to send back, changed outside since" } else { signing::PENDING };
        let since = if signing::gone_on(inspection) && !shaken { "; went on since" } else { "" };
        return Some((Wait::Countersign, format!("{words}: the {}{since}", signature.what.word())));
    }
    if signing::gone_on(inspection) {
        return Some((Wait::GoneOn, signing::GONE_ON.to_owned()));
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
