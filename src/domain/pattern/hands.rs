//! Who, and how fast.

use std::collections::{BTreeMap, BTreeSet};

use super::super::entry::{Act, Entry};
use super::super::id::Id;
use super::super::inspection::Inspection;
use super::super::standing::Standing;
use super::super::{gate, progress, telling};
use super::{Pattern, Unusual};

/// A run of so many readings is looked at.
const LEAST_RUN: usize = 5;
/// A hand needs at least so many seconds from one place to the next, to hold still, read and type.
const LEAST_SECONDS: i64 = 2;

/// Runs of readings of one step by one hand, each within [`LEAST_SECONDS`] of the one before.
pub(super) fn fast(inspection: &Inspection) -> Vec<Pattern> {
    let readings =
        inspection.standing_entries().filter(|entry| matches!(entry.act, Act::Reading { .. }) && entry.late.is_none());
    let mut runs: Vec<Vec<&Entry>> = Vec::new();
    for entry in readings {
        let follows = |run: &Vec<&Entry>| {
            run.last().is_some_and(|last| {
                let gap = entry.at.seconds_since(last.at);
                last.act.step() == entry.act.step() && last.by == entry.by && (0..LEAST_SECONDS).contains(&gap)
            })
        };
        match runs.last_mut() {
            Some(run) if follows(run) => run.push(entry),
            Some(_) | None => runs.push(vec![entry]),
        }
    }
    let mut steps: BTreeMap<&str, (usize, u32, i64)> = BTreeMap::new();
    for run in runs.iter().filter(|run| run.len() >= LEAST_RUN) {
        let (Some(first), Some(last)) = (run.first(), run.last()) else { continue };
        let step = first.act.step().unwrap_or_default();
        let so_far = steps.entry(step).or_insert((0, first.number, 0));
        so_far.0 += run.len();
        so_far.2 += last.at.seconds_since(first.at);
    }
    let told = progress::steps(inspection).filter_map(|step| {
        let (count, entry, seconds) = steps.get(step.id.as_str())?;
        Some(Pattern {
            unusual: Unusual::Fast,
            what: format!("{}: {count} figures within {seconds} s", gate::step_name(inspection, step)),
            step: Some(step.id.clone()),
            entry: Some(*entry),
        })
    });
    told.collect()
}

/// Entries that are older than the one before them.
pub(super) fn backwards(inspection: &Inspection) -> Vec<Pattern> {
    let pairs = inspection.entries().iter().zip(inspection.entries().iter().skip(1));
    let back = pairs.filter_map(|(before, entry)| {
        let seconds = before.at.seconds_since(entry.at);
        (seconds > 0).then(|| Pattern {
            unusual: Unusual::Backwards,
            what: format!("entry {} is {} older than entry {}", entry.number, span(seconds), before.number),
            step: entry.act.step().map(str::to_owned),
            entry: Some(entry.number),
        })
    });
    back.collect()
}

/// `40 s`, `12 min`, `3 h`.
fn span(seconds: i64) -> String {
    match seconds {
        0..120 => format!("{seconds} s"),
        120..7200 => format!("{} min", seconds / 60),
        _ => format!("{} h", seconds / 3600),
    }
}

/// Parts that one person alone looked at and measured, within or not; one line for each person.
pub(super) fn one_person(inspection: &Inspection, standing: &Standing) -> Vec<Pattern> {
    let mut hands: BTreeMap<&str, (BTreeSet<&Id>, bool)> = BTreeMap::new();
    for entry in inspection.standing_entries() {
        let Some(part) = part_of(inspection, entry) else { continue };
        let (people, looked) = hands.entry(part).or_default();
        people.extend([Some(&entry.by), entry.writer.as_ref()].into_iter().flatten());
        *looked |= matches!(entry.act, Act::Reading { .. } | Act::Finding(_) | Act::Looked { .. });
    }
    hands.retain(|_, (_, looked)| *looked);
    let mut alone: BTreeMap<&Id, Vec<&str>> = BTreeMap::new();
    for part in &standing.parts {
        let mut people = hands.get(part.id.as_str()).map(|(people, _)| people.iter()).into_iter().flatten();
        if let (Some(one), None) = (people.next(), people.next()) {
            alone.entry(one).or_default().push(&part.short);
        }
    }
    let told = alone.into_iter().map(|(id, parts)| {
        let all = parts.len() > 1 && parts.len() == hands.len();
        let parts = if all { "all parts".to_owned() } else { parts.join(", ") };
        Pattern {
            unusual: Unusual::OnePerson,
            what: format!("{parts} by {} alone", telling::name_of(inspection, id)),
            step: None,
            entry: None,
        }
    });
    told.collect()
}

/// The part that an entry speaks of.
fn part_of<'a>(inspection: &'a Inspection, entry: &'a Entry) -> Option<&'a String> {
    if let Act::Finding(finding) = &entry.act {
        return Some(&finding.part);
    }
    let step = entry.act.step().and_then(|id| inspection.head().checklist.step(id));
    step.map(|step| &step.part)
}
