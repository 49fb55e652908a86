//! What must be done before what: no later phase, no circle.

use std::collections::{BTreeMap, BTreeSet};

use crate::domain::checklist::{Checklist, Grid, Part, Step, Takes};
use crate::domain::phase::Phase;
use crate::domain::unit::Dimension;
use crate::records::yaml::{Problems, nearest};

use super::{Sources, Spot};

/// A step cannot wait for one of a later phase.
pub(super) fn check_order(step: &Step, checklist: &Checklist, spot: &mut Spot<'_>) {
    for (place, need) in step.needs.iter().enumerate() {
        let later = checklist.step(need).filter(|need| need.phase > step.phase);
        if let Some(later) = later {
            let found = format!("`{need}`, which comes later, in the phase `{}`", later.phase.word());
            let expected = format!("a step of the phase `{}` or before", step.phase.word());
            spot.fault(("needs", Some(place)), &found, &expected, "Take it out, or change one of the two phases.");
        }
    }
}

/// What puts a part back is a step of the rebuild.
pub(super) fn check_put_back(part: &Part, checklist: &Checklist, spot: &mut Spot<'_>) {
    for (place, name) in part.holds_back.iter().enumerate() {
        let at = ("holds back", Some(place));
        let Some(step) = checklist.step(name) else {
            let near = nearest(name, checklist.steps.iter().map(|step| step.id.as_str()));
            let mend = near.map_or_else(
                || "Name the step that puts the part back, or take it out.".to_owned(),
                |near| format!("Did you mean `{near}`?"),
            );
            spot.fault(at, &format!("`{name}`"), "a step of this checklist", &mend);
            continue;
        };
        if step.phase != Phase::Rebuild {
            let found = format!("`{name}`, a step of the phase `{}`", step.phase.word());
            spot.fault(at, &found, "a step of the phase `rebuild`", "Name the step that puts the part back.");
        }
    }
}

/// Sizes are brought to 20 degC by a step that takes two temperatures: of the part, then of the gauge.
pub(super) fn check_temperatures(step: &Step, checklist: &Checklist, spot: &mut Spot<'_>) {
    let Takes::Readings(Grid { temperatures: Some(named), .. }) = &step.takes else { return };
    let fits = checklist.step(named).is_some_and(|other| match &other.takes {
        Takes::Readings(grid) => grid.unit.dimension() == Dimension::Temperature && grid.cells(None).len() >= 2,
        Takes::Points(_) | Takes::Tick | Takes::Look | Takes::Soak { .. } | Takes::Words | Takes::Sign(_) => false,
    });
    if !fits {
        let expected = "a step that takes two temperatures, of the part, then of the gauge";
        spot.fault(
            ("grid", None),
            &format!("temperatures from `{named}`"),
            expected,
            "Name such a step, or take it out.",
        );
    }
}

/// Steps that wait for each other, each circle said once.
pub(super) fn check_circles(checklist: &Checklist, sources: &Sources<'_>, problems: &mut Problems) {
    let places: BTreeMap<&str, usize> =
        checklist.steps.iter().enumerate().map(|(place, step)| (step.id.as_str(), place)).collect();
    let needs = |place: usize| -> Vec<usize> {
        let step = checklist.steps.get(place);
        step.into_iter().flat_map(|step| &step.needs).filter_map(|need| places.get(need.as_str()).copied()).collect()
    };
    let mut done = BTreeSet::new();
    for start in 0..checklist.steps.len() {
        // the way from the start to the step looked at, each with the needs not yet followed
        let mut way = vec![(start, needs(start))];
        while let Some((place, rest)) = way.last_mut() {
            let place = *place;
            let Some(next) = rest.pop() else {
                done.insert(place);
                way.pop();
                continue;
            };
            if let Some(begin) = way.iter().position(|(step, _)| *step == next) {
                let circle: Vec<_> = way.iter().skip(begin).map(|(step, _)| *step).collect();
                say(&circle, checklist, sources, problems);
            } else if !done.contains(&next) {
                way.push((next, needs(next)));
            }
        }
    }
}

fn say(circle: &[usize], checklist: &Checklist, sources: &Sources<'_>, problems: &mut Problems) {
    let name = |place: &usize| checklist.steps.get(*place).map_or("", |step| step.id.as_str());
    let names: Vec<_> = circle.iter().chain(circle.first()).map(name).collect();
    let source = circle.first().and_then(|place| sources.steps.get(*place)).copied();
    let found = format!("a circle: {}", names.join(" needs "));
    Spot { source, problems }.fault(("needs", None), &found, "steps that can be begun", "Take one of these needs out.");
}
