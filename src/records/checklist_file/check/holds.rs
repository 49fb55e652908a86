//! Holds that no step of the checklist could ever lift.

use crate::domain::checklist::{Checklist, Part, Step, StepAsk};
use crate::domain::judge::Condition;
use crate::domain::phase::Phase;
use crate::domain::verdict::Consequence;
use crate::records::yaml::Problems;

use super::{Sources, Spot};

/// What is said where something leaves the balance to do, and nothing does it.
pub(super) const UNBALANCED: &str = ", and no step before the start measures the balance as left";

/// A balance to do that nothing measures; a new one for what is no piece; a step that waits for the part that waits for it.
pub(super) fn check(checklist: &Checklist, sources: &Sources<'_>, problems: &mut Problems) {
    let measures = |step: &Step| step.is_balance_as_left() && step.phase < Phase::After;
    if !checklist.steps.iter().any(measures) {
        check_balance(checklist, sources, problems);
    }
    for (place, part) in checklist.parts.iter().enumerate() {
        let mut spot = Spot { source: sources.parts.get(place).copied(), problems: &mut *problems };
        for (place, finding) in part.findings.iter().enumerate() {
            let at = ("findings", Some(place));
            let replaces = finding.grades.iter().find(|grade| grade.leads_to.contains(&Consequence::Replace));
            if let (Some(of), Some(grade)) = (part.stretch(), replaces) {
                let found = format!("`{}` that leads to replace, on a stretch of {of}", grade.grade);
                let mend = "Refer it, or call: nobody can enter a new one in its place, so the hold would never end.";
                spot.fault(at, &found, "a consequence that can be seen to", mend);
            }
            check_obliged((checklist, part), &finding.obliges, at, &mut spot);
        }
    }
    for (place, step) in checklist.steps.iter().enumerate() {
        let mut spot = Spot { source: sources.steps.get(place).copied(), problems: &mut *problems };
        for (place, judged) in step.judges.iter().enumerate() {
            if let Some(part) = checklist.part(judged.characteristic.part()) {
                check_obliged((checklist, part), &judged.obliges, ("judges", Some(place)), &mut spot);
            }
        }
    }
}

fn check_balance(checklist: &Checklist, sources: &Sources<'_>, problems: &mut Problems) {
    let turns = |part: &Part| {
        let put_back = checklist.waits_for_balance().is_some() || !part.holds_back.is_empty();
        part.rotates && put_back
    };
    let asks = |step: &Step| {
        let judges = || step.judges.iter().any(|judged| judged.characteristic.is_of_balance());
        step.asks.contains(&StepAsk::Balance) || step.condition() == Condition::AsFound && judges()
    };
    let part = checklist.parts.iter().position(turns);
    let step = checklist.steps.iter().position(asks);
    let (source, key, found) = match (part, step) {
        (Some(place), _) => (
            sources.parts.get(place),
            "rotates",
            checklist.parts.get(place).map(|part| format!("`{}`, which turns with the shaft", part.id)),
        ),
        (None, Some(place)) => (
            sources.steps.get(place),
            "asks",
            checklist.steps.get(place).map(|step| format!("`{}`, which leaves the balance to do", step.id)),
        ),
        (None, None) => return,
    };
    let found = format!("{}{UNBALANCED}", found.unwrap_or_default());
    let expected = "a step of the phase `rebuild` that judges `balance.cs` or `balance.ts`";
    let mend = "Write it: after a new wheel or a seat taken off, no start would ever open without it.";
    Spot { source: source.copied(), problems }.fault((key, None), &found, expected, mend);
}

/// What is obliged on a part keeps it from going back, and the engine from its start: it comes before both.
fn check_obliged(
    (checklist, part): (&Checklist, &Part),
    obliges: &[String],
    at: (&str, Option<usize>),
    spot: &mut Spot<'_>,
) {
    let obliged = obliges.iter().filter_map(|id| checklist.step(id));
    for step in obliged.filter(|step| step.phase > Phase::Rebuild || checklist.is_behind(step, &part.holds_back)) {
        let found = format!("obliges `{}`, which comes only when `{}` is back in", step.id, part.id);
        let expected = "a step that can be done before the part goes back";
        let mend = "Oblige a step that comes before: the part is held until it is done, and it waits for the part.";
        spot.fault(at, &found, expected, mend);
    }
}
