//! Levels whose consequence nobody could ever see to: they would hold a part for good.

use crate::domain::characteristic::Characteristic;
use crate::domain::checklist::Checklist;
use crate::domain::judge::Condition;
use crate::domain::sheet::{Levels, Sheet, Which};
use crate::domain::verdict::Consequence;

use super::places::Places;

/// A line for each level of a sheet that leads to a rework which no step measures, or to a new one of what is no piece, in
/// one of these checklists.
pub(super) fn told(places: &Places<'_>, sheet: &Sheet, checklists: &[Checklist]) -> Vec<String> {
    let ends: [(Consequence, Fits); 2] =
        [(Consequence::Rework, is_never_measured), (Consequence::Replace, is_no_piece)];
    let all = sheet.levels.iter().flat_map(|(one, levels)| {
        ends.into_iter()
            .filter(|(consequence, _)| leads_to(levels, *consequence))
            .filter_map(|(consequence, fits)| words(places, *one, consequence, &those(sheet, *one, checklists, fits)))
    });
    all.collect()
}

/// Whether a consequence of this characteristic never ends there.
type Fits = fn(&Sheet, &Checklist, Characteristic) -> bool;

/// What is found leads there; of what is left, anything outside is done again.
fn leads_to(levels: &Levels, consequence: Consequence) -> bool {
    [Which::Alert, Which::Limit]
        .into_iter()
        .filter_map(|which| levels.of(which))
        .any(|one| one.leads_to() == consequence)
}

fn those<'a>(sheet: &Sheet, one: Characteristic, checklists: &'a [Checklist], fits: Fits) -> Vec<&'a Checklist> {
    let judges = |checklist: &&Checklist| {
        let mut steps = checklist.steps.iter().filter(|step| step.condition() == Condition::AsFound);
        steps.any(|step| step.judges_id(one.id()))
    };
    checklists.iter().filter(judges).filter(|checklist| fits(sheet, checklist, one)).collect()
}

/// A rework ends once the part is measured as left and within.
fn is_never_measured(sheet: &Sheet, checklist: &Checklist, one: Characteristic) -> bool {
    let left = checklist.steps.iter().filter(|step| step.condition() == Condition::AsLeft);
    let mut judged = left.flat_map(|step| &step.judges).map(|judged| judged.characteristic);
    !judged.any(|other| other.part() == one.part() && !sheet.absent.contains_key(&other))
}

fn is_no_piece(_: &Sheet, checklist: &Checklist, one: Characteristic) -> bool {
    checklist.part(one.part()).is_some_and(|part| part.stretch().is_some())
}

fn words(places: &Places<'_>, one: Characteristic, consequence: Consequence, those: &[&Checklist]) -> Option<String> {
    let part = those.first()?.part(one.part()).map_or(one.part(), |part| part.name.as_str());
    let names: Vec<_> = those.iter().map(|checklist| format!("`{}`", checklist.id)).collect();
    let why = if consequence == Consequence::Rework {
        "no step there measures the part as left, so that the rework would never be done: another consequence, or a step \
         of the phase `rebuild` that judges it"
    } else {
        "it is no piece there, so that nobody could ever enter a new one: refer, rework or call"
    };
    let (name, id, to, names) = (one.name(), one.id(), consequence.word(), names.join(", "));
    let at = places.item("levels", "characteristic", id);
    Some(format!("{at}: {part}, a level of {name} ({id}) leads to {to}. In {names} {why}."))
}
