//! What keeps people and readings from harm: made safe before the machine is touched, as-found figures before the strip that
//! destroys them, parts held back from the rebuild.

use std::collections::BTreeSet;

use crate::domain::checklist::{Checklist, Part, Step, Takes};
use crate::domain::instrument::GaugeKind;
use crate::domain::phase::Phase;
use crate::records::yaml::Problems;

use super::{Sources, Spot};

/// What is said where nothing makes the machine safe.
pub(super) const UNSAFE: &str = ", with no step before it that makes the machine safe";
/// What is said of as-found figures that gate nothing.
pub(super) const UNGATED: &str = ", as-found figures that no step of the strip waits for";

/// Work on the machine without a step that makes it safe; as-found figures that stripping would destroy unread.
pub(super) fn check(checklist: &Checklist, sources: &Sources<'_>, problems: &mut Problems) {
    let mut fault = |step: &Step, key: &str, found: &str, expected: &str, mend: &str| {
        let place = checklist.steps.iter().position(|one| one == step);
        let source = place.and_then(|place| sources.steps.get(place)).copied();
        Spot { source, problems: &mut *problems }.fault((key, None), found, expected, mend);
    };
    let mut steps = checklist.steps.iter();
    let makes_safe =
        |step: &Step| step.phase == Phase::Safe && !step.on_demand && matches!(step.takes, Takes::Points(_));
    if !checklist.steps.iter().any(makes_safe)
        && let Some(step) = steps.find(|step| matches!(step.phase, Phase::Found | Phase::Strip | Phase::Clean))
    {
        let found = format!("`{}`{UNSAFE}", step.id);
        let mend = "Put back what asks for permit, isolation and draining: nobody works on a machine that can turn.";
        fault(step, "phase", &found, "a step of the phase `safe` that takes points, not on demand", mend);
    }
    if !checklist.steps.iter().any(|step| step.phase == Phase::Strip) {
        return;
    }
    let gates = gates(checklist);
    let figures = |step: &&Step| step.phase == Phase::Found && !step.on_demand && !step.judges.is_empty();
    for step in checklist.steps.iter().filter(figures).filter(|step| !gates.contains(step.id.as_str())) {
        let mend = "Name it under `needs` of the step that takes the part off: stripped, it is never measured again.";
        fault(step, "step", &format!("`{}`{UNGATED}", step.id), "a step of the phase `strip` that needs it", mend);
    }
}

/// Every step that one of the strip waits for, at once or through another.
fn gates(checklist: &Checklist) -> BTreeSet<&str> {
    let strip = checklist.steps.iter().filter(|step| step.phase == Phase::Strip);
    let mut left: Vec<&str> = strip.flat_map(|step| &step.needs).map(String::as_str).collect();
    let mut gates = BTreeSet::new();
    while let Some(need) = left.pop() {
        if gates.insert(need) {
            left.extend(checklist.step(need).into_iter().flat_map(|step| &step.needs).map(String::as_str));
        }
    }
    gates
}

/// Pieces judged by a gauge's figures that no step of the rebuild waits for, whatever is found on them, where there is one.
pub fn holding_nothing_back(checklist: &Checklist) -> impl Iterator<Item = &Part> {
    let is_rebuilt = checklist.steps.iter().any(|step| step.phase == Phase::Rebuild && !step.on_demand);
    let by_gauge = |step: &Step| matches!(&step.takes, Takes::Readings(grid) if grid.gauge != GaugeKind::Other);
    let judged = move |step: &Step| !step.judges.is_empty() && by_gauge(step);
    let is_judged = move |part: &Part| checklist.steps.iter().any(|step| step.part == part.id && judged(step));
    checklist
        .parts
        .iter()
        .filter(move |part| is_rebuilt && part.stretch().is_none() && part.holds_back.is_empty() && is_judged(part))
}

/// Pieces that may be replaced where no step looks at what is fitted new.
pub fn with_new_unchecked(checklist: &Checklist) -> impl Iterator<Item = &Part> {
    let checks = checklist.steps.iter().any(|step| step.phase == Phase::New);
    let is_piece = |part: &&Part| part.stretch().is_none() && !checklist.is_of_the_job(&part.id);
    checklist.parts.iter().filter(move |part| !checks && is_piece(part))
}
