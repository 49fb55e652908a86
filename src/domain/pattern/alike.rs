//! Figures that are more alike than readings usually are.

use std::collections::{BTreeMap, BTreeSet};

use rust_decimal::Decimal;

use super::super::checklist::Step;
use super::super::crosscheck;
use super::super::figure::Figure;
use super::super::gate::step_name;
use super::super::inspection::{Inspection, Taken};
use super::super::progress;
use super::super::standing::{Outcome, Standing};
use super::{Pattern, Unusual};

/// So many groups of repeats must all be identical before it is remarked.
const LEAST_GROUPS: usize = 4;
/// So many figures must end alike, at so many different sizes: by chance once in some ten thousand steps on a scale of
/// one unit, once in some hundred on a scale of two.
const LEAST_ENDING: usize = 6;
const LEAST_SIZES: usize = 3;
/// So many figures are not all the same again by themselves.
const LEAST_SAME: usize = 6;
/// A mean of so many readings does not come out the same again by itself.
const LEAST_READINGS: usize = 3;

pub(super) fn identical_repeats(inspection: &Inspection) -> Vec<Pattern> {
    let remarked = progress::steps(inspection).filter_map(|step| {
        let mut groups: BTreeMap<(String, Option<String>), Vec<Taken>> = BTreeMap::new();
        for cell in progress::cells(inspection, step).iter().filter(|cell| cell.repeat.is_some()) {
            let taken = inspection.reading(&step.id, &cell.place())?;
            groups.entry((cell.spot(), cell.figure.clone())).or_default().push(taken);
        }
        let same =
            |group: &Vec<Taken>| group.windows(2).all(|pair| matches!(pair, [a, b] if equal(a.figure, b.figure)));
        let all_same = groups.len() >= LEAST_GROUPS && groups.values().all(same);
        let count: usize = groups.values().map(Vec::len).sum();
        let entry = groups.values().flatten().map(|taken| taken.entry).min();
        let repeats = groups.values().map(Vec::len).max().unwrap_or(0);
        all_same.then(|| Pattern {
            unusual: Unusual::IdenticalRepeats,
            what: format!(
                "{}: {count} figures, {} places, each {repeats} times the same",
                step_name(inspection, step),
                groups.len()
            ),
            step: Some(step.id.clone()),
            entry,
        })
    });
    remarked.collect()
}

fn equal(a: Figure, b: Figure) -> bool {
    a.to(b.unit()) == b.to(b.unit())
}

/// The history holds only the figure that counted for each characteristic; without the last record a grid is "equal to
/// last time's" as far as those say: all of a step's, same place and same digits, at least two of them or a mean of several readings.
pub(super) fn same_as_last(inspection: &Inspection, standing: &Standing) -> Vec<Pattern> {
    let remarked = progress::steps(inspection).filter_map(|step| {
        let mut equal = Vec::new();
        let mut readings = 0;
        for one in standing.of_step(&step.id) {
            let Outcome::Judged(judgement) = &one.outcome else { return None };
            let last = one.last.as_ref()?;
            let value = judgement.value.trend.as_ref().unwrap_or(&judgement.value.value);
            if *value != last.value || last.place.as_ref() != Some(&judgement.value.spot) {
                return None;
            }
            readings = readings.max(judgement.value.entries.len());
            equal.push((one.characteristic.name(), last.date, judgement.value.entries.first().copied()));
        }
        let (_, date, entry) = equal.first().copied()?;
        let telling = equal.len() >= 2 || readings >= LEAST_READINGS;
        telling.then(|| Pattern {
            unusual: Unusual::SameAsLast,
            what: format!(
                "{}: {} as on {}",
                step_name(inspection, step),
                equal.iter().map(|(name, ..)| *name).collect::<Vec<_>>().join(", "),
                super::super::stamp::long_day(date)
            ),
            step: Some(step.id.clone()),
            entry,
        })
    });
    remarked.collect()
}

/// Grids in which every figure is the one that stood at the same place last time.
pub(super) fn same_grid(inspection: &Inspection, before: &Inspection) -> Vec<Pattern> {
    let date = super::super::stamp::long_day(before.head().begun.date());
    let remarked = progress::steps(inspection).filter_map(|step| {
        let mut entries = Vec::new();
        let mut sizes = BTreeSet::new();
        for cell in progress::cells(inspection, step) {
            let Some(taken) = inspection.reading(&step.id, &cell.place()) else { continue };
            let last = before.reading(&step.id, &cell.place())?;
            if !equal(taken.figure, last.figure) {
                return None;
            }
            entries.push(taken.entry);
            sizes.insert(taken.figure.decimal().normalize());
        }
        // a torque or a zero is the same every time
        let telling = entries.len() >= LEAST_SAME && sizes.len() >= LEAST_SIZES;
        telling.then(|| Pattern {
            unusual: Unusual::SameAsLast,
            what: format!("{}: all {} figures as on {date}", step_name(inspection, step), entries.len()),
            step: Some(step.id.clone()),
            entry: entries.iter().min().copied(),
        })
    });
    remarked.collect()
}

pub(super) fn one_ending(inspection: &Inspection) -> Vec<Pattern> {
    progress::steps(inspection).filter_map(|step| ending_of(inspection, step)).collect()
}

fn ending_of(inspection: &Inspection, step: &Step) -> Option<Pattern> {
    let mut endings = BTreeSet::new();
    let mut sizes = BTreeSet::new();
    let mut entries = Vec::new();
    for cell in progress::cells(inspection, step) {
        let Some(taken) = inspection.reading(&step.id, &cell.place()) else { continue };
        let resolution = taken.gauge.as_ref().and_then(|id| inspection.gauge(id))?.resolution?;
        endings.insert(last_digit(taken.figure, resolution)?);
        sizes.insert(taken.figure.decimal().normalize());
        entries.push(taken.entry);
    }
    let alike = endings.len() == 1 && entries.len() >= LEAST_ENDING && sizes.len() >= LEAST_SIZES;
    alike.then(|| Pattern {
        unusual: Unusual::OneEnding,
        what: format!(
            "{}: all {} figures end in {}",
            step_name(inspection, step),
            entries.len(),
            endings.iter().map(ToString::to_string).collect::<String>()
        ),
        step: Some(step.id.clone()),
        entry: entries.iter().min().copied(),
    })
}

/// The digit at the place of the gauge's last one; none where the figure is finer than the gauge, or the last place of
/// the scale holds one digit only, as on a scale of tens.
fn last_digit(figure: Figure, resolution: Figure) -> Option<u32> {
    let step = resolution.to(figure.unit())?.decimal()?.normalize();
    let scale = step.scale();
    let figure = figure.decimal().normalize();
    if figure.scale() > scale || step.is_zero() {
        return None;
    }
    let ten: Decimal = Decimal::new(10, 0);
    let tens = Decimal::new(1, scale).checked_mul(ten)?;
    let digit = (figure.abs() % tens).checked_mul(Decimal::from(10_u64.checked_pow(scale)?))?;
    // on a scale of half units the ending is 0 or 5 anyway
    let choices = tens.checked_div(step)?;
    if choices < Decimal::new(5, 0) {
        return None;
    }
    digit.normalize().to_string().parse().ok()
}

/// Cross-checks that do not agree, each once, at the first step that it belongs to.
pub fn disagreeing(inspection: &Inspection) -> Vec<Pattern> {
    let mut found: Vec<Pattern> = Vec::new();
    for step in progress::steps(inspection) {
        for check in crosscheck::of_step(inspection, step) {
            if check.agrees != Some(false) || found.iter().any(|one| one.what.ends_with(&check.words)) {
                continue;
            }
            let name = step_name(inspection, step);
            found.push(Pattern {
                unusual: Unusual::Disagree,
                what: format!("{name}: {}", check.words),
                step: Some(step.id.clone()),
                entry: inspection.standing_entries_of(&step.id).next().map(|entry| entry.number),
            });
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_last_digit_is_the_one_that_the_gauge_shows() {
        let digit = |figure: &str, resolution: &str| last_digit(figure.parse().unwrap(), resolution.parse().unwrap());
        assert_eq!(digit("0.230 mm", "0.002 mm"), Some(0));
        assert_eq!(digit("0.23 mm", "0.002 mm"), Some(0));
        assert_eq!(digit("0.236 mm", "0.002 mm"), Some(6));
        assert_eq!(digit("-12 um", "0.001 mm"), Some(2));
        assert_eq!(digit("0.2365 mm", "0.002 mm"), None);
        assert_eq!(digit("0.235 mm", "0.005 mm"), None);
        assert_eq!(digit("16 g mm", "1 g mm"), Some(6));
        assert_eq!(digit("16 mm", "1 h"), None);
    }
}
