//! What is done again where a machine that was closed is taken apart once more: whoever takes back that something came off
//! goes there a second time, by the same way.

use super::super::checklist::{Checklist, Step, StepAsk, Takes};
use super::super::entry::Act;
use super::super::inspection::{Inspection, Ledger};
use super::super::phase::Phase;
use super::{has_run_since, is_built_on, is_counted_back, put_back_with_balance, standing, stands};

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
    let put_back = put_back_after(checklist, &[opened]);
    let built_on = |step: &Step| step.phase == Phase::Rebuild && is_built_on(checklist, step, &put_back);
    let closes = |step: &Step| step.phase == Phase::After || step.takes == Takes::Tick && built_on(step);
    if !checklist.steps.iter().any(|step| closes(step) && stands(ledger, &step.id)) {
        return Vec::new();
    }
    let is_unlocked = is_unlocked(inspection, ledger);
    let leads = |step: &Step| {
        let before = step.takes == Takes::Tick || is_of_opening_before(inspection, ledger, step);
        step.id != opened.id && before && leads_to(checklist, step, opened)
    };
    let off: Vec<_> = checklist.steps.iter().filter(|step| step.id == opened.id || leads(step)).collect();
    let rebuilt = rebuilt(checklist, &off);
    let again = |step: &&Step| match step.phase {
        Phase::Safe => is_unlocked,
        Phase::Found | Phase::Strip => leads(step),
        Phase::Rebuild => rebuilt.contains(step),
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

/// What is done again where a step of the rebuild is taken back: what was built on it and, as hands go in there, what was brought
/// counted back and all that closes over that; the run, and locks and tags where it ran since they were put on. Nothing where
/// it is a look over which nothing was closed yet.
pub(super) fn again(inspection: &Inspection, ledger: &Ledger, step: &str) -> Vec<String> {
    let checklist = &inspection.head().checklist;
    let Some(step) = checklist.step(step) else { return Vec::new() };
    let steps = || checklist.steps.iter().filter(|one| one.id != step.id);
    let is_open = step.takes == Takes::Look && !is_closed_over(checklist, ledger, step);
    if step.phase != Phase::Rebuild || step.on_demand || is_open {
        return Vec::new();
    }
    let counted = steps().filter(|one| is_counted_back(checklist, one)).map(|one| one.id.clone());
    let from: Vec<_> = counted.chain([step.id.clone()]).collect();
    let unlocked = is_unlocked(inspection, ledger);
    let built_on = |one: &Step| one.phase == Phase::Rebuild && is_built_on(checklist, one, &from);
    let run = |one: &Step| one.phase == Phase::After || unlocked && one.phase == Phase::Safe;
    steps().filter(|one| run(one) || built_on(one)).map(|one| one.id.clone()).collect()
}

/// The same where these looks of the rebuild have to be done again: what was closed over them is opened.
pub(super) fn by_looks<'a>(
    inspection: &Inspection,
    ledger: &Ledger,
    looks: impl Iterator<Item = &'a Step>,
) -> Vec<String> {
    let opened = looks.map(|look| (look, again(inspection, ledger, &look.id))).filter(|(_, again)| !again.is_empty());
    opened.flat_map(|(look, again)| again.into_iter().chain([look.id.clone()])).collect()
}

/// Whether somebody looks in there before it is closed.
pub(super) fn looks_before_closing(step: &Step) -> bool {
    step.phase == Phase::Rebuild && step.takes == Takes::Look && !step.on_demand
}

/// Whether something that needs this step was done.
fn is_closed_over(checklist: &Checklist, ledger: &Ledger, step: &Step) -> bool {
    let from = std::slice::from_ref(&step.id);
    let behind = |one: &&Step| one.id != step.id && checklist.is_behind(one, from);
    checklist.steps.iter().filter(behind).any(|one| stands(ledger, &one.id))
}

/// Whether something comes off there on the way to a step, or is measured or looked at before it does.
pub(super) fn leads_to(checklist: &Checklist, step: &Step, goal: &Step) -> bool {
    let comes_off = step.takes == Takes::Tick && step.phase <= Phase::Strip;
    let is_gate = matches!(step.phase, Phase::Found | Phase::Strip);
    (comes_off || is_gate) && checklist.is_behind(goal, std::slice::from_ref(&step.id))
}

/// Whether it was done before the last run: what was found and taken off then was that of the opening before.
pub(super) fn is_of_opening_before(inspection: &Inspection, ledger: &Ledger, step: &Step) -> bool {
    standing(ledger, &step.id).max().is_some_and(|last| has_run_since(inspection, ledger, last))
}

/// Where the rebuild begins once these have come off.
fn put_back_after(checklist: &Checklist, off: &[&Step]) -> Vec<String> {
    let ticks = off.iter().filter(|step| step.takes == Takes::Tick);
    ticks.filter_map(|step| checklist.part(&step.part)).flat_map(|part| part.holds_back.clone()).collect()
}

/// The steps of the rebuild that are done again once these have come off: not what is still in, and what only that needed. What
/// comes off at `strip/rotor` goes in at `rebuild/rotor`; the rotor comes out for the balance where something was off its seat.
pub(super) fn rebuilt<'a>(checklist: &'a Checklist, off: &[&Step]) -> Vec<&'a Step> {
    let put_back = put_back_after(checklist, off);
    let reseated = off.iter().any(|step| step.asks.contains(&StepAsk::Balance));
    let comes_out = if reseated { put_back_with_balance(checklist) } else { Vec::new() };
    let is_twin = |one: &Step, other: &Step| one.id.rsplit('/').next() == other.id.rsplit('/').next();
    let stays_on = |step: &&Step| step.phase == Phase::Strip && step.takes == Takes::Tick && !off.contains(step);
    let on: Vec<_> = checklist.steps.iter().filter(stays_on).collect();
    let rebuild = || checklist.steps.iter().filter(|step| step.phase == Phase::Rebuild);
    let is_in = |step: &&Step| on.iter().any(|one| is_twin(one, step)) && !checklist.is_behind(step, &comes_out);
    let still_in: Vec<_> = rebuild().filter(is_in).collect();
    let only_for_it = |step: &Step| {
        let from = std::slice::from_ref(&step.id);
        !put_back.contains(&step.id) && still_in.iter().any(|one| checklist.is_behind(one, from))
    };
    rebuild().filter(|step| is_built_on(checklist, step, &put_back) && !only_for_it(step)).collect()
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
