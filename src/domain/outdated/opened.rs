//! What is done again where a machine that was closed is taken apart once more: whoever takes back that something came off
//! goes there a second time, by the same way.

use super::super::checklist::{Checklist, Step, Takes};
use super::super::entry::Act;
use super::super::inspection::{Inspection, Ledger};
use super::super::phase::Phase;
use super::{has_run_since, is_built_on, standing, stands};

/// The step of the taking apart at which this was done, or left out.
pub(super) fn at<'a>(checklist: &'a Checklist, act: &Act) -> Option<&'a Step> {
    let (Act::Tick { step } | Act::Skip { step, place: None, .. } | Act::NotApplicable { step, point: None, .. }) = act
    else {
        return None;
    };
    checklist.step(step).filter(|step| step.phase == Phase::Strip && step.takes == Takes::Tick)
}

/// What leads there, all that was built on what its part is put back by, and the run; locks and tags, where it ran since they
/// were put on. Nothing where the machine was not put together since.
pub(super) fn by(inspection: &Inspection, ledger: &Ledger, opened: &Step) -> Vec<String> {
    let checklist = &inspection.head().checklist;
    let put_back = checklist.part(&opened.part).map(|part| part.holds_back.clone()).unwrap_or_default();
    let built_on = |step: &Step| step.phase == Phase::Rebuild && is_built_on(checklist, step, &put_back);
    let closes = |step: &Step| step.phase == Phase::After || step.takes == Takes::Tick && built_on(step);
    if !checklist.steps.iter().any(|step| closes(step) && stands(ledger, &step.id)) {
        return Vec::new();
    }
    let is_unlocked = is_unlocked(inspection, ledger);
    let leads = |step: &Step| step.id != opened.id && leads_to(checklist, step, opened);
    let again = |step: &&Step| match step.phase {
        Phase::Safe => is_unlocked,
        Phase::Found | Phase::Strip => leads(step),
        Phase::Rebuild => built_on(step),
        Phase::After => true,
        Phase::Open
        | Phase::Before
        | Phase::Look1
        | Phase::Clean
        | Phase::Look2
        | Phase::Measure
        | Phase::Decide
        | Phase::Order
        | Phase::New
        | Phase::Close => false,
    };
    checklist.steps.iter().filter(again).map(|step| step.id.clone()).collect()
}

/// Whether something comes off there on the way to a step.
pub(super) fn leads_to(checklist: &Checklist, step: &Step, goal: &Step) -> bool {
    let comes_off = step.takes == Takes::Tick && step.phase <= Phase::Strip;
    comes_off && checklist.is_behind(goal, std::slice::from_ref(&step.id))
}

/// Whether it ran since it was last made safe, locks and tags off.
pub(super) fn is_unlocked(inspection: &Inspection, ledger: &Ledger) -> bool {
    has_run_since(inspection, ledger, safe_since(inspection, ledger))
}

/// The first of the entries by which the machine is safe as things stand; 0 while a point of it is open.
fn safe_since(inspection: &Inspection, ledger: &Ledger) -> u32 {
    let steps = inspection.head().checklist.steps.iter().filter(|step| step.phase == Phase::Safe);
    let points = steps.flat_map(|step| {
        let points = if let Takes::Points(points) = &step.takes { points.as_slice() } else { &[] };
        points.iter().map(|point| settled(inspection, ledger, (&step.id, &point.id)))
    });
    points.min().unwrap_or(0)
}

fn settled(inspection: &Inspection, ledger: &Ledger, (step, id): (&str, &str)) -> u32 {
    let settles = |number: &u32| {
        let act = inspection.entry(*number).map(|entry| &entry.act);
        matches!(
            act,
            Some(Act::Confirm { point, .. } | Act::NotApplicable { point: Some(point), .. }) if point == id
        )
    };
    standing(ledger, step).filter(settles).max().unwrap_or(0)
}
