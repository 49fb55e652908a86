//! Why a record waits for somebody's decision.

use std::collections::BTreeSet;

use super::super::checklist::Signing;
use super::super::entry::{Act, Entry};
use super::super::inspection::Inspection;
use super::super::signing;
use super::super::standing::{Standing, behind_claims, claimed_things};
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
    let pending = awaited(inspection, strange);
    if let Some(words) = signing::came_back(inspection) {
        // what was sent back is one signature, what waits may be the other; a list cuts the end of its lines
        let before = pending.map(|_| format!("{}; ", signing::PENDING)).unwrap_or_default();
        return Some((Wait::CameBack, format!("{before}{words}")));
    }
    if let Some(words) = pending.or_else(|| unsigned_claims(inspection)) {
        return Some((Wait::Countersign, words));
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
    if signing::standing_signature(inspection, Signing::Close).is_some() {
        return None;
    }
    let held = match standing.holds_in_words().len() {
        0 => "nothing holds it".to_owned(),
        holds => counted(holds, "hold"),
    };
    Some((Wait::NotClosed, format!("not closed: {held}")))
}

/// `2 decisions only claimed: ...`, where a signature stands behind them that whoever is said to have decided can countersign.
pub fn unsigned_claims(inspection: &Inspection) -> Option<String> {
    let stands = !behind_claims(inspection).is_empty();
    let claimed = counted(claimed_things(inspection).len(), "decision");
    stands.then(|| format!("{claimed} only claimed: that supervisor countersigns what is signed"))
}

/// `countersign pending ashore: the close; went on since`; none where nothing is signed, or all of it countersigned.
pub fn awaited(inspection: &Inspection, strange: &BTreeSet<u32>) -> Option<String> {
    let pending = signing::pending_here(inspection, strange);
    if pending.is_empty() {
        return None;
    }
    let word = |sign: &&Entry| if let Act::Sign(signature) = &sign.act { Some(signature.what.word()) } else { None };
    let what = pending.iter().filter_map(word).collect::<Vec<_>>().join(" and the ");
    let shaken = |sign: &&Entry| signing::is_shaken(inspection, sign.number);
    let words = match (pending.iter().any(shaken), signing::gone_on(inspection)) {
        (true, _) => format!("; changed outside since: to send back the {what}"),
        (false, true) => format!(": the {what}; went on since"),
        (false, false) => format!(": the {what}"),
    };
    Some(format!("{}{words}", signing::PENDING))
}
