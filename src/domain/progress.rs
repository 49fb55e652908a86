//! Where the work stands: the state of each step, the next one, the next field of a grid.

use super::characteristic::Characteristic;
use super::checklist::{Ask, Cell, Judged, Point, Signing, Step, Takes};
use super::entry::{Act, Entry, TimerMark};
use super::figure::Figure;
use super::inspection::{Arrives, Inspection};
use super::judge::Condition;
use super::phase::Phase;
use super::repeated;
use super::signing;
use super::soak;
use super::stamp::Stamp;
use super::standing;
use super::verdict::{Consequence, Disposition};

/// How far a step is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum StepState {
    /// Nothing entered.
    ToDo,
    /// Some of it.
    Partly {
        /// Entered or left out.
        done: usize,
        /// All there is.
        of: usize,
    },
    /// A soak is running.
    Running {
        /// Put in at.
        since: Stamp,
    },
    /// All of it.
    Done,
    /// Left out, with a reason and a name.
    Skipped,
    /// This machine or job does not have it.
    NotApplicable,
    /// Not asked for so far.
    NotAsked,
}

impl StepState {
    /// Whether it keeps nobody waiting.
    pub fn is_settled(&self) -> bool {
        match self {
            Self::Done | Self::Skipped | Self::NotApplicable | Self::NotAsked => true,
            Self::ToDo | Self::Partly { .. } | Self::Running { .. } => false,
        }
    }
}

/// Steps of the checklist that this machine has, in the order of the work.
pub fn steps(inspection: &Inspection) -> impl Iterator<Item = &Step> {
    let sheet = inspection.sheet();
    inspection.head().checklist.steps.iter().filter(move |step| sheet.is_none_or(|sheet| sheet.has(step)))
}

/// The fields of a step's grid in the hand's order; none when it takes no readings.
pub fn cells(inspection: &Inspection, step: &Step) -> Vec<Cell> {
    match &step.takes {
        Takes::Readings(grid) => repeated::with_further(inspection, step, grid.cells(inspection.sheet())),
        Takes::Points(_) | Takes::Tick | Takes::Look | Takes::Soak { .. } | Takes::Words | Takes::Sign(_) => Vec::new(),
    }
}

/// How far `step` is.
pub fn state(inspection: &Inspection, step: &Step) -> StepState {
    let acts: Vec<&Entry> = inspection.standing_entries_of(&step.id).collect();
    if acts.iter().any(|entry| matches!(&entry.act, Act::Skip { place: None, .. })) {
        return StepState::Skipped;
    }
    if acts.iter().any(|entry| matches!(&entry.act, Act::NotApplicable { point: None, .. })) {
        return StepState::NotApplicable;
    }
    let (done, of) = count(inspection, step, &acts);
    if done >= of && of > 0 {
        return StepState::Done;
    }
    if is_lost(inspection, step) || is_condemned(inspection, step) {
        return StepState::NotApplicable;
    }
    if done == 0 && step.on_demand && !is_asked(inspection, step) {
        return StepState::NotAsked;
    }
    // what was begun too late waits for nothing
    match running_since(&acts).filter(|_| soak::void(inspection, step).is_none()) {
        Some(since) => StepState::Running { since },
        None if done == 0 => StepState::ToDo,
        None => StepState::Partly { done, of },
    }
}

/// How many of its entries a step has, and how many it wants.
fn count(inspection: &Inspection, step: &Step, acts: &[&Entry]) -> (usize, usize) {
    let once = |found: bool| (usize::from(found), 1);
    match &step.takes {
        Takes::Points(points) => {
            let settled = |point: &&Point| settling(inspection, step, &point.id).is_some();
            (points.iter().filter(settled).count(), points.len())
        }
        Takes::Readings(_) => {
            let cells = cells(inspection, step);
            let settled = |cell: &&Cell| is_settled(inspection, step, &cell.place());
            (cells.iter().filter(settled).count(), cells.len())
        }
        Takes::Tick => once(acts.iter().any(|entry| matches!(entry.act, Act::Tick { .. }))),
        Takes::Look => {
            let looked = acts.iter().any(|entry| matches!(entry.act, Act::Looked { .. }));
            once(looked && !soak::is_cut_short(inspection, step))
        }
        Takes::Words => once(acts.iter().any(|entry| matches!(entry.act, Act::Note { .. }))),
        Takes::Soak { .. } => {
            // put in again, it runs again; what came out too early has shown nothing, and what needs it stays shut
            let last = acts.iter().rev().find(|entry| matches!(entry.act, Act::Timer { .. }));
            let is_out = last.is_some_and(|entry| matches!(&entry.act, Act::Timer { mark: TimerMark::Ended, .. }));
            once(is_out && !soak::is_cut_short(inspection, step) && soak::void(inspection, step).is_none())
        }
        Takes::Sign(what) => once(signing::standing_signature(inspection, *what).is_some()),
    }
}

/// The entry that settles a point as things stand: by name, or as not on this machine. One that is out of date settles nothing.
pub fn settling<'a>(inspection: &'a Inspection, step: &Step, id: &str) -> Option<&'a Entry> {
    inspection.standing_entries_of(&step.id).rev().find(|entry| {
        matches!(&entry.act, Act::Confirm { point, .. } | Act::NotApplicable { point: Some(point), .. } if point == id)
    })
}

/// Whether a place has a reading that counts, or was left out with a reason.
pub fn is_settled(inspection: &Inspection, step: &Step, place: &str) -> bool {
    inspection.reading(&step.id, place).is_some() || inspection.is_left_out(&step.id, place)
}

/// When the soak of a step was put in, while it runs.
fn running_since(acts: &[&Entry]) -> Option<Stamp> {
    let last = acts.iter().rev().find(|entry| matches!(entry.act, Act::Timer { .. }))?;
    matches!(&last.act, Act::Timer { mark: TimerMark::Started, .. }).then_some(last.when())
}

/// As-found readings and strip steps of a rotor that came already stripped are lost, not waiting; what must be counted back
/// is counted as it came.
fn is_lost(inspection: &Inspection, step: &Step) -> bool {
    inspection.opening().arrives == Some(Arrives::Stripped)
        && matches!(step.phase, Phase::Before | Phase::Found | Phase::Strip)
        && !matches!(&step.takes, Takes::Readings(grid) if grid.counts())
}

/// Whether a part was condemned, so that its other steps up to the decision need not be done; nothing makes safe but its points.
fn is_condemned(inspection: &Inspection, step: &Step) -> bool {
    step.phase <= Phase::Measure && step.phase != Phase::Safe && goes_unmeasured(inspection, &step.part)
}

/// Whether a part was condemned and nobody has let it back since: what goes in all the same is measured like any other.
pub(in crate::domain) fn goes_unmeasured(inspection: &Inspection, part: &str) -> bool {
    let lets_back = |entry: &Entry| {
        let over =
            matches!(&entry.act, Act::Overrule { part: of, to, .. } if *of == part && *to < Disposition::Replace);
        over && !inspection.passed().only_safer.contains_key(&entry.number)
    };
    let condemned = |entry: &Entry| matches!(&entry.act, Act::Condemned { part: of, .. } if of == part);
    inspection.standing_entries().rev().find(|entry| lets_back(entry) || condemned(entry)).is_some_and(condemned)
}

/// Whether something asks for a step that is done on demand only: a finding, what was signed for its part, or a new part
/// in its place or beside it.
fn is_asked(inspection: &Inspection, step: &Step) -> bool {
    is_obliged(inspection, &step.id)
        || follows_from_decision(inspection, step)
        || step.phase == Phase::Rebuild
            && step.judges.iter().any(|judged| has_new_mate(inspection, judged.characteristic))
}

/// Whether the other part whose size is in a figure was replaced during this inspection.
pub(in crate::domain) fn has_new_mate(inspection: &Inspection, characteristic: Characteristic) -> bool {
    characteristic.mate().is_some_and(|mate| inspection.is_replaced(mate))
}

/// A part that was replaced, or is signed to be or found since to be, asks for its checks as new and as left, one to be
/// reworked for those as left, and each that is not simply reused for the cause of its wear.
fn follows_from_decision(inspection: &Inspection, step: &Step) -> bool {
    // asked of every step at every key
    if !matches!(step.phase, Phase::Order | Phase::New | Phase::Rebuild | Phase::Close) {
        return false;
    }
    let sign = signing::standing_signature(inspection, Signing::Decisions);
    let reckon =
        |sign: u32| inspection.behind_decisions().of(&step.part, || vec![found_since(inspection, &step.part, sign)]);
    let since = sign.and_then(|sign| reckon(sign.number).pop()).unwrap_or(Disposition::Reuse);
    let decided = signing::decided(inspection, &step.part).unwrap_or(Disposition::Reuse).max(since);
    let replaced = decided == Disposition::Replace || inspection.is_replaced(&step.part);
    match step.phase {
        Phase::Order => decided == Disposition::Replace,
        Phase::New => replaced,
        // a step that judges nothing is asked by what was found or done, not by a new part
        Phase::Rebuild if replaced => !step.judges.is_empty() && !is_judged_as_new(inspection, step),
        Phase::Rebuild => decided == Disposition::Rework,
        // one that was replaced behind the decisions wore all the same
        Phase::Close => decided >= Disposition::Watch || replaced,
        Phase::Open
        | Phase::Before
        | Phase::Safe
        | Phase::Found
        | Phase::Strip
        | Phase::Look1
        | Phase::Clean
        | Phase::Look2
        | Phase::Measure
        | Phase::Decide
        | Phase::After => false,
    }
}

/// What a part has come to, at its worst, by what was seen, read, said or planned of it behind this signature.
fn found_since(inspection: &Inspection, part: &str, sign: u32) -> Disposition {
    let said = |entry: &Entry| {
        let act = entry.deed();
        if let Act::Finding(seen) = act {
            let leads_to = inspection.consequences_of(seen).into_iter().map(Consequence::at_least);
            return leads_to.max().filter(|_| seen.part == part);
        }
        if let Act::Condemned { part: of, .. } = act {
            return (of == part).then_some(Disposition::Replace);
        }
        if let Act::Overrule { part: of, to, .. } = act { Some(*to).filter(|_| of == part) } else { None }
    };
    let stands =
        |entry: &&Entry| inspection.struck_by(entry.number).is_none() && inspection.passed_over(entry.number).is_none();
    let later = || inspection.entries().iter().rev().take_while(|entry| entry.number > sign).filter(stands);
    // put off, a part may no longer last to the next opening; what a supervisor says of it is not reckoned anew
    let planned = later().any(|entry| entry.act.plans_next());
    let overruled = || {
        let over = |entry: &Entry| matches!(&entry.act, Act::Overrule { part: of, .. } if of == part);
        inspection.standing_entries().any(over)
    };
    let said = later().filter_map(said);
    let judges = |one: &&Step| {
        let mut judged = one.judges.iter().map(|judged| judged.characteristic.part());
        judged.any(|of| of == part) && one.condition() == Condition::AsFound
    };
    let read = |one: &&Step| {
        let mut entries = inspection.standing_entries_of(&one.id).rev();
        entries.any(|entry| entry.number > sign && matches!(entry.act, Act::Reading { .. }))
    };
    let asked_anew = planned && !overruled();
    let ahead = steps(inspection).filter(judges).filter(|_| asked_anew);
    let ahead = ahead.map(|one| standing::leads_to_ahead(inspection, one, part).at_least());
    let measured = steps(inspection).filter(judges).filter(read);
    let measured = measured.map(|one| standing::leads_to(inspection, one, part).at_least());
    said.chain(ahead).chain(measured).max().unwrap_or(Disposition::Reuse)
}

/// Whether the new part's own check judges all that this step would judge a second time.
fn is_judged_as_new(inspection: &Inspection, step: &Step) -> bool {
    let new = || steps(inspection).filter(|other| other.phase == Phase::New).flat_map(|other| &other.judges);
    let is_new = |one: &Judged| new().any(|other| other.characteristic == one.characteristic);
    step.judges.iter().all(is_new)
}

/// Whether a finding on the rotor, or a figure past its limit, asks for this step.
pub fn is_obliged(inspection: &Inspection, step: &str) -> bool {
    let names = |judged: &Judged| judged.obliges.iter().any(|obliged| obliged == step);
    // asked at every key: a step that this machine does not have has no figures, and need not be left out here
    let mut by_figure = inspection.head().checklist.steps.iter().filter(|by| by.judges.iter().any(names));
    by_figure.any(|by| {
        inspection
            .obliged_by_figures()
            .of(&by.id, || standing::obliged_by(inspection, by))
            .iter()
            .any(|one| one == step)
    }) || is_found(inspection, step)
}

/// Whether a finding on the rotor asks for this step.
fn is_found(inspection: &Inspection, step: &str) -> bool {
    inspection.standing_entries().any(|entry| {
        let Act::Finding(finding) = &entry.act else { return false };
        inspection.obliged_by_finding(finding).iter().any(|obliged| obliged == step)
    })
}

/// The sign that takes the last value again, where a finding's details are asked.
pub const AGAIN: &str = "=";

/// What was last typed for this detail of a finding on this part: offered again, never taken by itself.
pub fn last_detail(inspection: &Inspection, part: &str, ask: Ask) -> Option<String> {
    inspection.standing_entries().rev().find_map(|entry| {
        let Act::Finding(finding) = &entry.act else { return None };
        finding.details.get(ask.word()).filter(|_| finding.part == part).cloned()
    })
}

/// The first field in the hand's order that is still to be taken.
pub fn next_cell(inspection: &Inspection, step: &Step) -> Option<Cell> {
    cells(inspection, step).into_iter().find(|cell| !is_settled(inspection, step, &cell.place()))
}

/// The first step in the order of the work that keeps somebody waiting; running soaks are passed over.
///
/// A step that was sent back with a remark waits until the remark is answered.
pub fn next_step(inspection: &Inspection) -> Option<&Step> {
    let remarked = signing::open_remarks(inspection);
    let sent_back = |step: &Step| remarked.iter().any(|(_, _, remark)| remark.step.as_ref() == Some(&step.id));
    steps(inspection).find(|step| {
        if sent_back(step) {
            return true;
        }
        let state = state(inspection, step);
        !state.is_settled() && !matches!(state, StepState::Running { .. })
    })
}

/// Where a step stands in the order of the work, from 1, and how many there are: `step 31 of 62`.
pub fn position(inspection: &Inspection, step: &str) -> (usize, usize) {
    let before = steps(inspection).take_while(|other| other.id != step).count();
    (before + 1, steps(inspection).count())
}

/// A soak that runs.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Soaking<'a> {
    /// Its step.
    pub step: &'a Step,
    /// Put in at.
    pub since: Stamp,
    /// Not before.
    pub from: Figure,
    /// Not after.
    pub to: Option<Figure>,
}

/// Every soak that runs, in the order of the work.
pub fn soaking(inspection: &Inspection) -> Vec<Soaking<'_>> {
    let running = steps(inspection).filter_map(|step| {
        let Takes::Soak { from, to } = &step.takes else { return None };
        let StepState::Running { since } = state(inspection, step) else { return None };
        Some(Soaking { step, since, from: *from, to: *to })
    });
    running.collect()
}
