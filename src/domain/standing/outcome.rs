//! How one characteristic stands: judged by its figures, or why not.

use std::collections::BTreeMap;

use super::super::characteristic::Characteristic;
use super::super::checklist::{Judged, Step};
use super::super::crosscheck;
use super::super::entry::Act;
use super::super::exact::Exact;
use super::super::hours;
use super::super::inspection::{Doubted, Inspection};
use super::super::judge::{self, Condition, NotJudged, Reach, Reached, Side};
use super::super::measured::Measured;
use super::super::progress::{self, StepState};
use super::super::sheet::unjudged_side;
use super::super::telling::name_of;
use super::super::unit::Unit;
use super::super::verdict::Consequence;
use super::{Judgement, Outcome, claimed_words, left};

pub(super) fn outcome(
    inspection: &Inspection,
    (step, judged, condition): (&Step, &Judged, Condition),
    measured: &Measured,
) -> Outcome {
    let outcome = by_figures(inspection, (step, judged, condition), measured);
    let accepted = unjudged(inspection, (step, judged, condition));
    let open = match &outcome {
        Outcome::Judged(judgement) => {
            let judgement = spoken_against(inspection, (step, judged, condition), (measured, judgement));
            return Outcome::Judged(Box::new(judgement));
        }
        Outcome::Incomplete(Some(_)) if accepted.is_none() => return outcome,
        Outcome::LeftOut(why) | Outcome::Open(why) if accepted.is_none() => Some(why.clone()),
        Outcome::LeftOut(_)
        | Outcome::Open(_)
        | Outcome::NotTaken
        | Outcome::Incomplete(_)
        | Outcome::Past(..)
        | Outcome::Excused
        | Outcome::Unjudged { .. } => None,
    };
    // what has figures that judge it is judged: a place that is void or left out wipes no other one away, and accepting it
    // unjudged fills what has no figure and hides none
    let past = || certain(inspection, (judged, condition), measured);
    match past().filter(|_| accepted.is_some() || !matches!(outcome, Outcome::Incomplete(None))) {
        Some(past) => Outcome::Past(Box::new(past), open),
        None => accepted.unwrap_or(outcome),
    }
}

/// Whether it is more than nothing: past a level, or too close to call.
fn is_told(reached: &Reached) -> bool {
    reached.leads_to > Consequence::Nothing || reached.reach == Reach::Undecided
}

/// What is certain of the places that can be judged, whatever is not known of others: past the alert, the new range or the
/// limit, or that it is too close to call.
fn certain(
    inspection: &Inspection,
    (judged, condition): (&Judged, Condition),
    measured: &Measured,
) -> Option<Judgement> {
    let certain = judgement(inspection, (judged, condition), measured).ok()?.judgement;
    is_told(&certain.reached).then_some(certain)
}

fn by_figures(
    inspection: &Inspection,
    (step, judged, condition): (&Step, &Judged, Condition),
    measured: &Measured,
) -> Outcome {
    let state = progress::state(inspection, step);
    if !measured.is_complete() {
        return match state {
            StepState::NotApplicable if has_levels(inspection, judged.characteristic) => marked(inspection, step),
            StepState::NotApplicable | StepState::NotAsked => Outcome::Excused,
            StepState::Skipped => Outcome::LeftOut("skipped".to_owned()),
            StepState::ToDo if measured.done == 0 => Outcome::NotTaken,
            StepState::Done => Outcome::LeftOut(format!("{} of {} places left out", measured.left_out, measured.of)),
            StepState::ToDo | StepState::Partly { .. } | StepState::Running { .. } => {
                let so_far = judgement(inspection, (judged, condition), measured).ok().map(|one| one.judgement);
                // an alert is told with the whole set, and then stands whatever is struck of it
                let told = |one: &Judgement| {
                    one.reached.reach >= Reach::NotNew || measured.taken_back && is_told(&one.reached)
                };
                Outcome::Incomplete(so_far.filter(told).map(Box::new))
            }
        };
    }
    if let Some(fault) = measured.faults.first() {
        return Outcome::Open(fault.clone());
    }
    match judgement(inspection, (judged, condition), measured) {
        Ok(Worst { judgement, unknown: None }) => Outcome::Judged(Box::new(judgement)),
        Ok(Worst { unknown: Some(why), .. }) | Err(why) => Outcome::Open(why.words().to_owned()),
    }
}

/// What the sheet judges, marked as not on this machine: by a supervisor nobody knows it all the same, by anybody else it
/// stays open. What the job leaves out, nobody marks.
fn marked(inspection: &Inspection, step: &Step) -> Outcome {
    if let Some(who) = left::waved_off(inspection, step) {
        return Outcome::Open(format!("waved off by {who}, and the limits sheet has levels for it"));
    }
    match left::marked_away(inspection, step) {
        Some((by, why)) => {
            let (by, reason) = (name_of(inspection, by), format!("marked as not on this machine: {why}"));
            Outcome::Unjudged { by, reason }
        }
        None => Outcome::Excused,
    }
}

/// Accepted so by a supervisor; not what was put out of date since.
fn unjudged(inspection: &Inspection, about: (&Step, &Judged, Condition)) -> Option<Outcome> {
    acceptances(inspection, about).next().map(|(_, by, reason)| Outcome::Unjudged { by, reason: reason.to_owned() })
}

/// With what speaks against it: a doubt that was insisted on, another way to the figure. Who accepts it has seen it, behind
/// the last entry that it rests on.
fn spoken_against(
    inspection: &Inspection,
    about: (&Step, &Judged, Condition),
    (measured, judgement): (&Measured, &Judgement),
) -> Judgement {
    let (step, judged, condition) = about;
    let leads_to = judgement.reached.leads_to;
    let dispute = crosscheck::disputed(inspection, (step, judged.characteristic, condition), leads_to);
    let own = measured.values.iter().flat_map(|value| &value.entries).copied();
    let last = own.chain(dispute.as_ref().map(|dispute| dispute.last)).max().unwrap_or(0);
    let accepted = || acceptances(inspection, about).find(|(number, ..)| *number > last).map(|(_, by, _)| by);
    let open = judgement.provisional == Doubted::Yes || dispute.is_some();
    let accepted = if open { accepted() } else { None };
    Judgement { accepted, disputed: dispute.map(|dispute| dispute.words), ..judgement.clone() }
}

/// Entries that accept a characteristic, each with its supervisor and the reason.
fn acceptances<'a>(
    inspection: &'a Inspection,
    (step, judged, condition): (&'a Step, &'a Judged, Condition),
) -> impl Iterator<Item = (u32, String, &'a str)> {
    inspection.standing_entries().filter_map(move |entry| {
        let Act::Unjudged { characteristic: of, as_left, supervisor, reason } = &entry.act else { return None };
        let about = *of == judged.characteristic && *as_left == (condition == Condition::AsLeft);
        let by = || format!("{}{}", name_of(inspection, supervisor), claimed_words(inspection, entry));
        let counts =
            || inspection.stands_at(&step.id, entry.number) && !is_struck_since(inspection, step, entry.number);
        (about && counts()).then(|| (entry.number, by(), reason.as_str()))
    })
}

/// Whether a figure of the step was struck behind this entry and not taken again: who accepted what was missing then has not
/// accepted that.
fn is_struck_since(inspection: &Inspection, step: &Step, number: u32) -> bool {
    let strikes = inspection.standing_entries().rev().take_while(|entry| entry.number > number);
    strikes.filter_map(|entry| if let Act::Strike { entry, .. } = &entry.act { Some(*entry) } else { None }).any(|of| {
        let Some(Act::Reading { step: at, place, .. }) = inspection.entry(of).map(|entry| &entry.act) else {
            return false;
        };
        *at == step.id && inspection.reading(at, place).is_none()
    })
}

/// The worst place, and why another one is not judged, where that leaves the whole open.
pub(super) struct Worst {
    pub(super) judgement: Judgement,
    unknown: Option<NotJudged>,
}

/// The worst place against all levels: places are never averaged.
pub(super) fn judgement(
    inspection: &Inspection,
    (judged, condition): (&Judged, Condition),
    measured: &Measured,
) -> Result<Worst, NotJudged> {
    let sheet = inspection.sheet().ok_or(NotJudged::NoLevel)?;
    let levels = sheet.levels.get(&judged.characteristic).ok_or(NotJudged::NoLevel)?;
    let ahead = (condition == Condition::AsFound).then(|| ahead(inspection, judged.characteristic));
    // of a set that is not whole the levels of one side alone speak
    let whole = measured.values.iter().map(|value| (value, value.side));
    let places = whole.chain(measured.left.iter().chain(&measured.so_far).map(|(side, value)| (value, Some(*side))));
    let provisional = places.clone().map(|(value, _)| value.doubted).chain(ahead).max().unwrap_or(Doubted::No);
    // a life has no new range: the hours that a wheel brings along count against the same end
    let life = judged.characteristic.unit() == Unit::Hour && levels.new.is_none();
    let condition = if life { Condition::AsFound } else { condition };
    let found = condition == Condition::AsFound;
    let unjudged = unjudged_side(judged.characteristic, levels).filter(|_| found);
    let (mut worst, mut certain): (Option<Judgement>, _) = (None, None);
    let mut unknown: Option<NotJudged> = None;
    let mut past: BTreeMap<Side, Exact> = BTreeMap::new();
    for (value, side) in places.filter(|(value, _)| value.fault.is_none()) {
        let figure = judge::Judged { side, ..value.judged(measured.unit) };
        let reached = match judge::judge(&figure, levels, condition, sheet) {
            // no bound on the side of this leaf; the other leaf has its own
            Err(NotJudged::NoLevel) if side.is_some() => continue,
            Err(why) => {
                unknown.get_or_insert(why);
                continue;
            }
            Ok(reached) => reached,
        };
        unknown = unknown.or(reached.open);
        // a place that is undecided hides no other that is past its alert for certain
        certain = certain.max(Some(reached.leads_to));
        if let Some(room) = reached.room.clone().filter(|_| reached.leads_to > Consequence::Nothing) {
            let furthest = past.entry(reached.side).or_insert_with(|| room.clone());
            *furthest = room.min(furthest.clone());
        }
        let rank = |one: &Reached| (one.reach, one.leads_to, one.room.as_ref().map(|room| -room));
        if worst.as_ref().is_none_or(|worst| rank(&reached) > rank(&worst.reached)) {
            let (value, past) = (value.clone(), BTreeMap::new());
            let disputed = None;
            worst = Some(Judgement { value, reached, provisional, disputed, accepted: None, past, unjudged });
        }
    }
    // a place past its limit is past it, whatever is not known of another; short of it, nothing is called within
    let known = worst.filter(|worst| unknown.is_none() || worst.reached.reach > Reach::Within);
    let worst = known.ok_or(unknown.unwrap_or(NotJudged::NoLevel))?;
    let unknown = unknown.filter(|_| worst.reached.reach < Reach::Undecided);
    let reached = worst.reached.leading_at_least_to(certain);
    Ok(Worst { judgement: Judgement { reached, past, ..worst }, unknown })
}

/// Whether what is forecast of it runs on hours that were doubted and insisted on.
fn ahead(inspection: &Inspection, characteristic: Characteristic) -> Doubted {
    if inspection.history_of(characteristic).next().is_some() {
        hours::doubted(inspection, hours::part_of(characteristic))
    } else {
        Doubted::No
    }
}

/// Whether the sheet in force has levels for it: then the machine has it.
pub(in crate::domain) fn has_levels(inspection: &Inspection, characteristic: Characteristic) -> bool {
    inspection.sheet().is_some_and(|sheet| sheet.levels.contains_key(&characteristic))
}
