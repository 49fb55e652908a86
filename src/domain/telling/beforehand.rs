//! What whoever comes to a step must know before: why it was sent back or is to be done again, conditions of earlier
//! concessions, what is planned.

use super::super::checklist::{Step, StepAsk, Takes};
use super::super::entry::Entry;
use super::super::inspection::Inspection;
use super::super::outdated;
use super::super::progress;
use super::super::signing;
use super::super::soak;
use super::super::standing::{claimed_things, is_about, plan_claimed, whose};
use super::{name_of, of_entry};

/// A line for each remark that waits for an answer at the step, where it is signed also for those on all of it, then what put
/// it out of date, then one for each decision on its part that is only claimed and each condition on it, then the plan where
/// the step asks for it.
pub fn beforehand(inspection: &Inspection, step: &Step) -> Vec<String> {
    let on_all =
        if let Takes::Sign(what) = step.takes { signing::remarks_on_all(inspection, Some(what)) } else { Vec::new() };
    let here = signing::remarks_at(inspection, &step.id).into_iter().map(|(entry, _, remark)| (entry, remark));
    let remarks = here.chain(on_all).map(|(entry, remark)| {
        let who = inspection.entry(entry).map(|entry| name_of(inspection, entry.doer())).unwrap_or_default();
        format!("! sent back by {who}: {}", remark.text)
    });
    let carried = inspection.head().carried.iter().filter(|one| one.part == step.part);
    let conditions = carried
        .map(|one| format!("> condition of {}, {}: {}; until {}", one.who, one.about, one.conditions, one.until));
    let plan = step.asks.contains(&StepAsk::Plan).then(|| planned(inspection));
    let again = outdated::since(inspection, &step.id).filter(|_| !progress::state(inspection, step).is_settled());
    let again = again.map(|since| format!("! out of date, do it again: {}", caused(inspection, since)));
    let in_time = in_time(inspection, step);
    remarks.chain(again).chain(in_time).chain(claimed(inspection, step)).chain(conditions).chain(plan).collect()
}

/// Decisions on the part that nobody who may make them stands for so far, and who is wanted.
fn claimed<'a>(inspection: &'a Inspection, step: &'a Step) -> impl Iterator<Item = String> + 'a {
    let claims = claimed_things(inspection).into_iter().filter(|claim| is_about(inspection, claim, &step.part));
    claims.map(|claim| {
        let who = whose(inspection, claim).map_or_else(|| "a supervisor".to_owned(), |id| name_of(inspection, id));
        format!("> {}, entry {}: only claimed until {who} signs for it", claim.deed().kind(), claim.number)
    })
}

/// Until when it follows the wait before, or that it came too late.
fn in_time(inspection: &Inspection, step: &Step) -> Option<String> {
    if progress::state(inspection, step).is_settled() {
        return None;
    }
    // one that ran outside its own times says so where it is taken out
    let late = soak::void(inspection, step).map(|words| format!("! to be done again: {words}"));
    let looked =
        || soak::told(inspection, step).filter(|_| step.takes == Takes::Look).map(|words| format!("? {words}"));
    let by = || {
        let soon = step.soon.as_ref()?;
        Some(format!("> by {}: {}", soak::latest(inspection, step)?.clock(), soon.in_words()))
    };
    late.or_else(looked).or_else(by)
}

/// `entry 443, Compressor impeller new, fitted, serial Z-1`.
fn caused(inspection: &Inspection, since: &Entry) -> String {
    let step = since.act.step().and_then(|id| inspection.head().checklist.step(id));
    let at = step.map(|step| format!("{}: ", step.title)).unwrap_or_default();
    format!("entry {}, {at}{}", since.number, of_entry(inspection, since))
}

fn planned(inspection: &Inspection) -> String {
    let opening = inspection.opening();
    let [of_hours, of_day] = plan_claimed(inspection);
    let hours = |hours| format!("at {hours}{of_hours}");
    let hours = opening.next_hours.map_or_else(|| "hours not planned".to_owned(), hours);
    let date = opening.next_date.map_or_else(|| "date not planned".to_owned(), |date| format!("{date}{of_day}"));
    format!("> next opening: {hours}, {date}")
}
