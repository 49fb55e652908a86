//! What an entry puts out of date: a step done before it has to be done again, what stood there stays readable.
//!
//! A finding asks anew for what accounts for it, and with it what is built on the parts that come out or are mended for it;
//! once the machine has run, for all that it obliges and for the machine made safe, as a part changed then does. A new part is
//! measured itself, not the one before, has its own papers, and with it is done again what was built on the one before: its
//! own fitting, floats, tips, covers, the filter, the first run. What was counted back once is counted out anew. A rotor is
//! balanced after the last thing that was done to what turns, dressed or off its seat. The next opening planned anew is told anew; a
//! look whose finding was struck has to be looked at again; a wait or a test goes on from the stage that was struck or done anew.
//! Where something that came off, and was put back, comes off once more, the machine is made safe, put together and run again.

mod opened;

use super::checklist::{Against, Checklist, Grid, Step, StepAsk, Takes};
use super::entry::{Act, Entry, FindingMade, Replaces};
use super::inspection::{Inspection, Ledger};
use super::judge::Condition;
use super::phase::Phase;
use super::verdict::Consequence;

/// The steps that `entry` puts out of date, by id, as the entries before it stand in `ledger`.
pub(in crate::domain) fn by(inspection: &Inspection, ledger: &Ledger, entry: &Entry) -> Vec<String> {
    let again = done_again(inspection, ledger, entry);
    let counted_out = counted_out(inspection, ledger, &again);
    again.into_iter().chain(counted_out).collect()
}

fn done_again(inspection: &Inspection, ledger: &Ledger, entry: &Entry) -> Vec<String> {
    let checklist = &inspection.head().checklist;
    let those = |fits: &dyn Fn(&Step) -> bool| {
        let steps = checklist.steps.iter().filter(|step| fits(step));
        steps.map(|step| step.id.clone()).collect()
    };
    let taken_back = struck(inspection, entry);
    if let Some(step) = taken_back.and_then(|act| opened::at(checklist, act)) {
        return opened::by(inspection, ledger, step);
    }
    match (&entry.act, taken_back) {
        (Act::Strike { .. }, Some(Act::Finding(found))) => by_taking_back(inspection, ledger, found),
        (Act::Strike { .. }, Some(Act::Looked { step })) => opened::again(inspection, ledger, step),
        (Act::Strike { .. }, Some(Act::Tick { step })) => {
            // it was not in as it should be, or came out again, a shim changed: what stands on it shows another machine
            let opened = opened::again(inspection, ledger, step);
            let reseats = reseats(checklist, ledger, step);
            those(&|one| opened.contains(&one.id) || reseats && one.is_balance_as_left())
        }
        (Act::Finding(found), _) => by_finding(inspection, ledger, found),
        (Act::Answer { entry, .. }, _) => {
            let stands = !ledger.struck.contains_key(entry);
            let found = inspection.entry(*entry).filter(|_| stands).map(Entry::deed);
            let mended = if let Some(Act::Finding(found)) = found { by_mending(inspection, found) } else { Vec::new() };
            // mended only behind a run that came after it was found, hands went in once more
            let ran = !mended.is_empty() && has_run_since(inspection, ledger, *entry);
            let run = those(&|step| ran && is_of_the_run(step));
            mended.into_iter().chain(run).collect()
        }
        (Act::PartFitted { part, replaces: Replaces::Yes, .. }, _) => {
            let again = ledger.replaced.contains_key(part);
            let put_back = put_back_with(checklist, part);
            let ran = has_run(inspection, ledger);
            those(&|step| {
                let as_new = step.part == *part && step.phase == Phase::New && again;
                // the first run was one of the machine as it was then, whatever it waited for
                let run = step.phase == Phase::After || ran && step.phase == Phase::Safe;
                as_new || confirms_new(step) || run || rests_on(checklist, step, (part, &put_back))
            })
        }
        (Act::Reading { step: stage, .. } | Act::Timer { step: stage, .. }, _)
        | (Act::Strike { .. }, Some(Act::Reading { step: stage, .. } | Act::Timer { step: stage, .. })) => {
            checklist.step(stage).map(|stage| behind(checklist, stage)).unwrap_or_default()
        }
        (Act::Tick { step: done }, _) => {
            let reseats = checklist.step(done).is_some_and(|done| done.asks.contains(&StepAsk::Balance));
            if reseats { those(&Step::is_balance_as_left) } else { Vec::new() }
        }
        // what was said of the next opening was said of another one
        (act, _) if act.plans_next() => those(&|step| step.asks.contains(&StepAsk::Plan)),
        _ => Vec::new(),
    }
}

/// The steps that a finding taken back puts out of date: each look that missed what there is now to be seen, and where one of
/// them is into a machine that has run since, the machine made safe and its run.
fn by_taking_back(inspection: &Inspection, ledger: &Ledger, found: &FindingMade) -> Vec<String> {
    let checklist = &inspection.head().checklist;
    // one that was seen while something else was at hand was overlooked by every look at its part
    let looks = |step: &Step| step.takes == Takes::Look && step.part == found.part;
    let at_look = checklist.step(&found.step).is_some_and(looks);
    let anew = |step: &Step| looks(step) && (!at_look || step.id == found.step);
    let goes_in = |step: &Step| anew(step) && takes_hands(step) && stands(ledger, &step.id);
    let unlocked = has_run(inspection, ledger) && checklist.steps.iter().any(goes_in);
    let closing = checklist.steps.iter().filter(|step| anew(step) && opened::looks_before_closing(step));
    let looked_into = opened::by_looks(inspection, ledger, closing);
    let opened = |step: &Step| looked_into.contains(&step.id) || unlocked && is_of_the_run(step);
    let steps = checklist.steps.iter().filter(|step| anew(step) || opened(step));
    steps.map(|step| step.id.clone()).collect()
}

/// The first counts of what was counted back, where that is done again: what is brought, and covered, is another count at
/// each opening.
fn counted_out(inspection: &Inspection, ledger: &Ledger, again: &[String]) -> Vec<String> {
    let checklist = &inspection.head().checklist;
    let back = again.iter().filter(|id| stands(ledger, id)).filter_map(|id| checklist.step(id));
    let first = back.filter(|step| is_counted_back(checklist, step)).filter_map(|step| match &step.takes {
        Takes::Readings(Grid { against: Some(Against::Equal(first)), .. }) => Some(first.clone()),
        Takes::Readings(_)
        | Takes::Points(_)
        | Takes::Tick
        | Takes::Look
        | Takes::Soak { .. }
        | Takes::Words
        | Takes::Sign(_) => None,
    });
    first.collect()
}

/// Whether something was done at a step that is neither struck nor out of date.
fn stands(ledger: &Ledger, step: &str) -> bool {
    standing(ledger, step).next().is_some()
}

/// Entries at a step that are neither struck nor out of date.
fn standing<'a>(ledger: &'a Ledger, step: &str) -> impl Iterator<Item = u32> + use<'a> {
    let since = ledger.outdated.get(step).copied().unwrap_or(0);
    let numbers = ledger.by_step.get(step).into_iter().flatten().copied();
    numbers.filter(move |number| *number >= since && !ledger.struck.contains_key(number))
}

/// The steps that a finding puts out of date: those it obliges, and all that is built on what comes out or is mended for it.
fn by_finding(inspection: &Inspection, ledger: &Ledger, found: &FindingMade) -> Vec<String> {
    let checklist = &inspection.head().checklist;
    let obliges = inspection.obliged_by_finding(found);
    // hands go into a machine whose locks came off for the run, and what was measured before it shows nothing of what it did
    let ran = has_run(inspection, ledger);
    let asked = |step: &Step| {
        let inside = || ran && takes_hands(step) && !opened::looks_before_closing(step);
        obliges.contains(&step.id) && (step.on_demand || step.is_balance_as_left() || inside())
    };
    let steps = || checklist.steps.iter();
    let looks = steps().filter(|step| obliges.contains(&step.id) && opened::looks_before_closing(step));
    let looked_into = opened::by_looks(inspection, ledger, looks);
    let comes_out = |step: &&Step| asked(step) && matches!(step.takes, Takes::Readings(_) | Takes::Soak { .. });
    let out: Vec<&str> = steps().filter(comes_out).map(|step| step.part.as_str()).collect();
    let put_back: Vec<String> = out.iter().flat_map(|part| put_back_with(checklist, part)).collect();
    let mended = by_mending(inspection, found);
    let built_on = |step: &Step| step.phase == Phase::Rebuild && is_built_on(checklist, step, &put_back);
    let opens = !put_back.is_empty() || !mended.is_empty();
    // what is asked for inside lies behind what came off for it, and went on again before the run
    let inside: Vec<_> = steps().filter(|step| ran && asked(step) && takes_hands(step)).collect();
    let opened = |step: &Step| {
        let before = || opened::is_of_opening_before(inspection, ledger, step);
        inside.iter().any(|goal| opened::leads_to(checklist, step, goal)) && before()
    };
    let off: Vec<_> = steps().filter(|step| opened(step)).collect();
    let rebuilt = opened::rebuilt(checklist, &off);
    // what leaks as the oil comes on is found with the isolations off, whatever was done there before
    let at_run = checklist.step(&found.step).is_some_and(|at| at.phase == Phase::After);
    let unlocked = (ran || at_run) && opens || at_run && !looked_into.is_empty() || !inside.is_empty();
    let reseated = out.iter().any(|part| rotates(checklist, part));
    let anew = |step: &&Step| {
        // what was seen in the run itself has it run anew too
        let run = unlocked && is_of_the_run(step) || looked_into.contains(&step.id);
        let balanced = reseated && step.is_balance_as_left();
        let counted = !put_back.is_empty() && is_counted_back(checklist, step);
        let mended = mended.contains(&step.id);
        let opened = off.contains(step) || rebuilt.contains(step);
        run || step.id != found.step && (asked(step) || opened || mended || balanced || counted || built_on(step))
    };
    steps().filter(anew).map(|step| step.id.clone()).collect()
}

/// The steps that are done again for what is mended of a part: its own measures as left, the balance of one that turns, and
/// all that is built on it. None where the finding leads to no mending.
fn by_mending(inspection: &Inspection, found: &FindingMade) -> Vec<String> {
    let checklist = &inspection.head().checklist;
    let obliges = inspection.obliged_by_finding(found);
    let steps = || checklist.steps.iter();
    let is_mended = inspection.consequences_of(found).contains(&Consequence::Rework)
        || steps().any(|step| step.is_balance_as_left() && obliges.contains(&step.id));
    if !is_mended {
        return Vec::new();
    }
    let put_back = put_back_with(checklist, &found.part);
    let anew = |step: &&Step| rests_on(checklist, step, (&found.part, &put_back)) || is_counted_back(checklist, step);
    steps().filter(anew).map(|step| step.id.clone()).collect()
}

/// Whether a step shows a part as it is now: its own measures as left and those with it, the balance of one that turns, and
/// what is built on the steps that put it back.
fn rests_on(checklist: &Checklist, step: &Step, (part, put_back): (&str, &[String])) -> bool {
    let as_left = is_measured_as_left(step) && (step.part == part || step.is_measured_with(part));
    let balanced = step.is_balance_as_left() && rotates(checklist, part);
    as_left || balanced || step.phase == Phase::Rebuild && is_built_on(checklist, step, put_back)
}

/// Whether what was brought, tools and rags and no pieces of the machine, is counted back there: hands that go in again take
/// it with them.
fn is_counted_back(checklist: &Checklist, step: &Step) -> bool {
    let counts = matches!(&step.takes, Takes::Readings(grid) if grid.counts());
    counts && step.phase == Phase::Rebuild && checklist.part(&step.part).is_some_and(|part| part.stretch().is_some())
}

/// Whether it is done again where hands go into a machine that has run: locks and tags on, then the run itself.
fn is_of_the_run(step: &Step) -> bool {
    matches!(step.phase, Phase::Safe | Phase::After)
}

/// Whether what turns comes off its seat once more where this step is taken back: what was put on the rotor there, or on what
/// it put in. What itself waits for the balance goes in as it was balanced.
fn reseats(checklist: &Checklist, ledger: &Ledger, taken_back: &str) -> bool {
    let waits = put_back_with_balance(checklist);
    let parts = checklist.parts.iter().filter(|part| part.rotates);
    let mut seats = parts.flat_map(|part| &part.holds_back).filter(|seat| !waits.contains(seat));
    let from = [taken_back.to_owned()];
    let behind = |seat: &String| checklist.step(seat).is_some_and(|seat| checklist.is_behind(seat, &from));
    seats.any(|seat| seat == taken_back || behind(seat) && stands(ledger, seat))
}

/// The steps that wait for the balance.
fn put_back_with_balance(checklist: &Checklist) -> Vec<String> {
    let balance = checklist.steps.iter().filter(|step| step.is_balance_as_left());
    balance.filter_map(|step| checklist.part(&step.part)).flat_map(|part| part.holds_back.clone()).collect()
}

fn rotates(checklist: &Checklist, part: &str) -> bool {
    checklist.part(part).is_some_and(|part| part.rotates)
}

/// Whether the engine, or its oil, has run since the locks came off.
pub(in crate::domain) fn is_unlocked(inspection: &Inspection) -> bool {
    has_run(inspection, inspection.ledger())
}

/// Whether hands go in where a step is done.
fn takes_hands(step: &Step) -> bool {
    step.phase > Phase::Safe && step.phase < Phase::After && step.phase != Phase::Decide
}

/// Whether somebody looks into the machine there.
pub(in crate::domain) fn looks_inside(step: &Step) -> bool {
    takes_hands(step) && step.takes == Takes::Look
}

/// Whether something was done on the way to the run or in it, locks and tags off; points say that they hang.
fn has_run(inspection: &Inspection, ledger: &Ledger) -> bool {
    has_run_since(inspection, ledger, 0)
}

/// The same behind this entry.
fn has_run_since(inspection: &Inspection, ledger: &Ledger, since: u32) -> bool {
    let run = inspection.head().checklist.steps.iter().filter(|step| step.phase == Phase::After);
    let done = |number: &u32| {
        let act = inspection.entry(*number).map(|entry| &entry.act);
        let does = matches!(act, Some(Act::Looked { .. } | Act::Tick { .. } | Act::Reading { .. } | Act::Finding(_)));
        does && *number > since && !ledger.struck.contains_key(number)
    };
    run.filter_map(|step| ledger.by_step.get(&step.id)).flatten().any(done)
}

/// The entry since which a step is to be done again, where something was done there before it.
pub(in crate::domain) fn since<'a>(inspection: &'a Inspection, step: &str) -> Option<&'a Entry> {
    let ledger = inspection.ledger();
    let mut done = ledger.by_step.get(step)?.iter().filter(|number| !ledger.struck.contains_key(number));
    let since = done.find_map(|number| inspection.outdated_by(inspection.entry(*number)?))?;
    inspection.entry(since)
}

/// The steps that put a part back; for one that turns, what waits for the balance too: the rotor goes to the balancing machine
/// as it will run, and comes out of its bearings for that.
fn put_back_with(checklist: &Checklist, part: &str) -> Vec<String> {
    let own = checklist.part(part).map(|part| part.holds_back.clone()).unwrap_or_default();
    let balance = if rotates(checklist, part) { put_back_with_balance(checklist) } else { Vec::new() };
    own.into_iter().chain(balance).collect()
}

/// Whether a step of the rebuild is one of these, needs one of them, or comes later in the order of the work than one on which
/// something else is built: nobody gets at what was closed over but through all that came after.
fn is_built_on(checklist: &Checklist, step: &Step, put_back: &[String]) -> bool {
    let rebuild: Vec<&Step> = checklist.steps.iter().filter(|one| one.phase == Phase::Rebuild).collect();
    let closed_over = || rebuild.iter().any(|one| !put_back.contains(&one.id) && checklist.is_behind(one, put_back));
    let mut from_there = rebuild.iter().skip_while(|one| !put_back.contains(&one.id));
    checklist.is_behind(step, put_back) || from_there.any(|one| one.id == step.id) && closed_over()
}

/// Steps of the same part, by id, that show nothing any more once a stage that they come after is done anew.
fn behind(checklist: &Checklist, stage: &Step) -> Vec<String> {
    if !is_stage(checklist, stage) {
        return Vec::new();
    }
    let from = std::slice::from_ref(&stage.id);
    let other = |step: &&Step| step.part == stage.part && step.id != stage.id && step.judges.is_empty();
    let behind = checklist.steps.iter().filter(other).filter(|step| checklist.is_behind(step, from));
    behind.map(|step| step.id.clone()).collect()
}

/// Whether it is a wait, or a condition of a wait or a look at the same part: how warm, how bright.
fn is_stage(checklist: &Checklist, stage: &Step) -> bool {
    let rests = |step: &Step| {
        let shows = matches!(step.takes, Takes::Soak { .. } | Takes::Look);
        shows && step.part == stage.part && step.needs.contains(&stage.id)
    };
    match &stage.takes {
        Takes::Soak { .. } => true,
        Takes::Readings(grid) => stage.judges.is_empty() && !grid.counts() && checklist.steps.iter().any(rests),
        Takes::Points(_) | Takes::Tick | Takes::Look | Takes::Words | Takes::Sign(_) => false,
    }
}

/// What an entry takes back, where it may.
pub(in crate::domain) fn struck<'a>(inspection: &'a Inspection, entry: &Entry) -> Option<&'a Act> {
    let Act::Strike { entry: number, .. } = &entry.act else { return None };
    inspection.entry(*number).filter(|_| inspection.passed_over(entry.number).is_none()).map(|target| &target.act)
}

/// Whether an entry of this kind, once struck, changes what else is out of date.
pub(in crate::domain) fn concerns(act: &Act) -> bool {
    let undone = matches!(act, Act::Tick { .. } | Act::Looked { .. });
    undone || matches!(act, Act::Finding(_) | Act::PartFitted { .. } | Act::Answer { .. })
}

/// Whether it asks of every new part at once for what is common to all: what was confirmed says nothing of the next one.
pub(in crate::domain) fn confirms_new(step: &Step) -> bool {
    step.phase == Phase::New && !step.on_demand && matches!(step.takes, Takes::Points(_))
}

/// Whether a judged figure of the rebuild shows what was left.
pub(in crate::domain) fn is_measured_as_left(step: &Step) -> bool {
    step.condition() == Condition::AsLeft && step.phase == Phase::Rebuild && !step.judges.is_empty()
}
