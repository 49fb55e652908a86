//! Who, and how fast.

use std::collections::{BTreeMap, BTreeSet};

use super::super::checklist::{Grid, Takes};
use super::super::entry::{Act, Entry};
use super::super::id::Id;
use super::super::inspection::Inspection;
use super::super::instrument::GaugeKind;
use super::super::standing::Standing;
use super::super::{gate, progress, telling};
use super::{Pattern, Unusual};

/// So many readings in a row are looked at.
const LEAST_RUN: usize = 4;

/// Seconds that a hand needs from one figure of such a grid to the next: to move the gauge, hold still, read and type. Common
/// practice, no source. None where a counter, a log or a machine shows several figures at once.
fn least_seconds(grid: &Grid) -> Option<i64> {
    match grid.gauge {
        // down and up, pushed and pulled, goes and stops: the pair takes ten
        GaugeKind::Dial | GaugeKind::Feelers if !grid.figures.is_empty() => Some(5),
        // only turned on
        GaugeKind::Dial | GaugeKind::Gaussmeter => Some(3),
        GaugeKind::Calliper | GaugeKind::Ultrasonic | GaugeKind::Wrench => Some(4),
        GaugeKind::Micrometer => Some(5),
        GaugeKind::Bore | GaugeKind::Feelers => Some(8),
        GaugeKind::Balancer | GaugeKind::Other => None,
    }
}

/// Steps at which one hand gave [`LEAST_RUN`] figures in a row, or more, faster than [`least_seconds`] for each.
pub(super) fn fast(inspection: &Inspection) -> Vec<Pattern> {
    let readings: Vec<&Entry> = inspection
        .standing_entries()
        .filter(|entry| matches!(entry.act, Act::Reading { .. }) && entry.late.is_none())
        .collect();
    let told = progress::steps(inspection).filter_map(|step| {
        let Takes::Readings(grid) = &step.takes else { return None };
        let least = least_seconds(grid)?;
        let here = |entry: &Entry| entry.act.step() == Some(&step.id);
        let runs = readings.chunk_by(|one, next| here(one) == here(next) && one.by == next.by);
        let (mut count, mut seconds, mut entry) = (0, 0, None);
        for run in runs.filter(|run| run.first().is_some_and(|first| here(first))) {
            let gaps: Vec<_> =
                run.iter().zip(run.iter().skip(1)).map(|(one, next)| next.at.seconds_since(one.at)).collect();
            let quick = quick(&gaps, least);
            let first = run.iter().zip(&quick).find(|(_, quick)| **quick).map(|(first, _)| first.number);
            entry = entry.or(first);
            count += quick.iter().filter(|quick| **quick).count();
            let both = quick.iter().zip(quick.iter().skip(1)).map(|(one, next)| *one && *next);
            seconds += gaps.iter().zip(both).filter(|(_, both)| *both).map(|(gap, _)| gap).sum::<i64>();
        }
        entry.map(|entry| Pattern {
            unusual: Unusual::Fast,
            what: format!("{}: {count} figures within {seconds} s", gate::step_name(inspection, step)),
            step: Some(step.id.clone()),
            entry: Some(entry),
        })
    });
    told.collect()
}

/// Which figures of a run belong to [`LEAST_RUN`] in a row that came faster than `least` seconds each; a clock that was put
/// back says nothing of how fast hands are.
fn quick(gaps: &[i64], least: i64) -> Vec<bool> {
    let mut quick = vec![false; gaps.len() + 1];
    for (from, window) in gaps.windows(LEAST_RUN - 1).enumerate() {
        let all = least * i64::try_from(window.len()).unwrap_or(i64::MAX);
        let is_quick = window.iter().all(|gap| *gap >= 0) && window.iter().sum::<i64>() < all;
        quick.iter_mut().skip(from).take(LEAST_RUN).for_each(|one| *one |= is_quick);
    }
    quick
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
