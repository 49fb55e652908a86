//! What the limits sheet has and nobody judges: said, so that silence is not taken for good.

use super::super::characteristic::Characteristic;
use super::super::inspection::Inspection;
use super::super::progress::{self, StepState};
use super::super::standing::{Outcome, Standing};

/// What they are called in lists.
pub const NOT_JUDGED: &str = "on the sheet, not judged";

/// Characteristics with levels on the sheet that no step of the checklist judges, and those with an alert or a limit whose
/// steps were not asked for, or went with their part: `impeller: hours since new, not in this scope`. What else is not
/// judged holds its part by name.
pub fn not_judged_in_words(inspection: &Inspection, standing: &Standing) -> Vec<String> {
    let checklist = &inspection.head().checklist;
    let sheet = inspection.sheet().into_iter().flat_map(|sheet| &sheet.levels);
    let why = |one: Characteristic, is_limited: bool| {
        let steps = || checklist.steps.iter().filter(|step| step.judges.iter().any(|by| by.characteristic == one));
        let mut mine = standing.characteristics.iter().filter(|standing| standing.characteristic == one).peekable();
        if steps().next().is_none() {
            return Some("not in this scope");
        }
        let excused = mine.peek().is_some() && mine.all(|standing| standing.outcome == Outcome::Excused);
        let asked = || steps().any(|step| progress::state(inspection, step) != StepState::NotAsked);
        (excused && is_limited).then(|| if asked() { "not measured" } else { "not asked for" })
    };
    let told = sheet.filter_map(|(one, levels)| {
        let part = checklist.part(one.part()).map_or(one.part(), |part| part.short.as_str());
        let why = why(*one, levels.alert.is_some() || levels.limit.is_some())?;
        Some(format!("{part}: {}, {why}", one.name()))
    });
    told.collect()
}
