//! What is only claimed lifts nothing: a part keeps the holds, and no milder a disposition by the rules, that it would have
//! without the approvals that nobody has signed for. What is claimed stands beside it.

use std::sync::Arc;

use super::super::apply;
use super::super::entry::{Act, Entry};
use super::super::inspection::Inspection;
use super::super::verdict::Hold;
use super::{PartStanding, Standing, claims, hold_words};

/// Puts back on every part what only claims have taken off it.
pub(super) fn keep(inspection: &Inspection, parts: &mut [PartStanding]) {
    put_back(inspection, parts, |without| Standing::of(without).parts);
}

/// The same of one part, nothing else reckoned.
pub(super) fn keep_of_one(inspection: &Inspection, of: &str, parts: &mut [PartStanding]) {
    put_back(inspection, parts, |without| Standing::of_part(without, of).into_iter().collect());
}

fn put_back(
    inspection: &Inspection,
    parts: &mut [PartStanding],
    reckon: impl FnOnce(&Inspection) -> Vec<PartStanding>,
) {
    let claims = claims(inspection);
    if claims.is_empty() {
        return;
    }
    let numbers: Vec<_> = claims.iter().map(|claim| claim.number).collect();
    let folded = inspection.unclaimed().of("", || vec![Arc::new(apply::without(inspection, &numbers))]);
    let Some(unclaimed) = folded.first() else { return };
    for (part, without) in parts.iter_mut().zip(reckon(unclaimed)) {
        let mine = claims.iter().rev().find(|claim| is_about(inspection, claim, &part.id));
        if let Some(claim) = mine.or_else(|| claims.iter().rev().find(|claim| is_about_all(claim))) {
            part.put_back(without, claim);
        }
    }
}

/// A sooner opening, a figure of the machine or a step waved off may reach any part.
fn is_about_all(claim: &Entry) -> bool {
    matches!(claim.deed(), Act::Plan { .. } | Act::Given { .. } | Act::NotApplicable { .. })
}

/// Whether a decision is on this part, by name or by what was found or judged there.
pub(in crate::domain) fn is_about(inspection: &Inspection, claim: &Entry, part: &str) -> bool {
    if let Act::Answer { entry, .. } = claim.deed() {
        let asks = inspection.entry(*entry).map(Entry::deed);
        return matches!(asks, Some(Act::Finding(found)) if found.part == part)
            || asks.and_then(Act::part) == Some(part);
    }
    if let Act::Unjudged { characteristic, .. } | Act::Level { characteristic, .. } = claim.deed() {
        return characteristic.part() == part;
    }
    claim.deed().part() == Some(part)
}

impl PartStanding {
    fn put_back(&mut self, without: Self, claim: &Entry) {
        // what somebody has decided of the part by name is shown as decided, and as claimed
        let by_name = matches!(claim.deed(), Act::Overrule { .. } | Act::Concession { .. });
        // a sooner opening may reach every part: what was held before it is held as it was, and page 1 says so once
        let planned = matches!(claim.deed(), Act::Plan { .. });
        let claim = claim.number;
        if !self.verdict.holds.contains(&Hold::NewPart) && without.verdict.holds.contains(&Hold::NewPart) {
            self.claimed_not_needed = Some(claim);
        }
        let graver = [(&self.verdict, &without.verdict), (&self.computed, &without.computed)];
        let settles = graver
            .iter()
            .any(|(mine, without)| without.disposition > mine.disposition || !without.holds.is_subset(&mine.holds));
        // what needs no words of its own has none to say it with
        let bare = without.verdict.holds.difference(&self.verdict.holds);
        let bare = bare.filter(|hold| matches!(hold, Hold::NewPart | Hold::Balance)).map(hold_words);
        let bare: Vec<_> = bare.collect();
        let sets = [
            (&mut self.verdict.holds, without.verdict.holds),
            (&mut self.computed.holds, without.computed.holds),
            (&mut self.waits, without.waits),
            (&mut self.fitting, without.fitting),
            (&mut self.to_come, without.to_come),
            (&mut self.elsewhere, without.elsewhere),
            (&mut self.rebuilding, without.rebuilding),
        ];
        for (mine, without) in sets {
            let lifted: Vec<_> = without.into_iter().filter(|hold| !mine.contains(hold)).collect();
            mine.extend(lifted.into_iter().map(|hold| if planned { hold } else { only_claimed(hold, claim) }));
        }
        self.computed.disposition = self.computed.disposition.max(without.computed.disposition);
        let news: Vec<_> = if by_name {
            bare
        } else {
            self.verdict.disposition = self.verdict.disposition.max(without.verdict.disposition);
            without.reasons.into_iter().filter(|reason| settles && !self.reasons.contains(reason)).collect()
        };
        self.claimed = news.into_iter().map(|reason| format!("{reason}; {}", words(claim))).collect();
        self.reasons.extend(self.claimed.iter().cloned());
        if planned && settles {
            self.before_plan = Some(claim);
            self.claimed = vec![format!("as before entry {claim}, only claimed")];
        }
    }
}

fn words(claim: u32) -> String {
    format!("only claimed settled, entry {claim}")
}

fn only_claimed(hold: Hold, claim: u32) -> Hold {
    let behind = |what: String| format!("{what}; {}", words(claim));
    match hold {
        Hold::StopAndCall(what) => Hold::StopAndCall(behind(what)),
        Hold::Referred(what) => Hold::Referred(behind(what)),
        Hold::Open(what) => Hold::Open(behind(what)),
        Hold::NewPart | Hold::Balance => hold,
    }
}
