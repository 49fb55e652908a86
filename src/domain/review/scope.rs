//! What the limits sheet has and nobody judges: said, so that silence is not taken for good.

use super::super::characteristic::Characteristic;
use super::super::checklist::Step;
use super::super::exact::Rounding;
use super::super::inspection::Inspection;
use super::super::outlook;
use super::super::progress::{self, StepState};
use super::super::standing::{Outcome, Standing};

/// What they are called in lists.
pub const NOT_JUDGED: &str = "on the sheet, not judged";

/// The heading over what the sheet itself leaves out.
pub const LEFT_OUT: &str = "left out by the sheet";

fn steps_of(inspection: &Inspection, one: Characteristic) -> impl Iterator<Item = &Step> {
    let judges = move |step: &&Step| step.judges.iter().any(|by| by.characteristic == one);
    inspection.head().checklist.steps.iter().filter(judges)
}

/// Characteristics with levels on the sheet that no step of the checklist judges.
fn not_judged(inspection: &Inspection) -> Vec<Characteristic> {
    let sheet = inspection.sheet().into_iter().flat_map(|sheet| sheet.levels.keys().copied());
    sheet.filter(|one| steps_of(inspection, *one).next().is_none()).collect()
}

/// How many of all there are this scope does not judge, when they were judged last, and the first of them that meets a limit
/// before the next opening as the records before have it. None where the scope judges all, and there is something to judge.
pub(super) fn unseen(inspection: &Inspection, judged: usize) -> Option<String> {
    let all = not_judged(inspection);
    if all.is_empty() {
        return (judged == 0).then(|| "nothing was judged, the limits sheet has nothing for this scope".to_owned());
    }
    let past = inspection.head().history.iter().filter(|past| all.contains(&past.characteristic));
    let last = past.max_by_key(|past| past.date).map(|past| past.inspection.as_str());
    let last = last.map_or("in no record before".to_owned(), |record| format!("last in {record}"));
    let met = all.iter().filter_map(|one| Some((outlook::met_before_next(inspection, *one)?, one))).min();
    let met = met.map(|(at, one)| {
        let (part, at) = (short(inspection, *one), at.rounded(0, Rounding::Down));
        format!("; first at a limit, by those before: {part}, {}, {at} h", one.name())
    });
    let of = all.len() + judged;
    Some(format!("not judged in this scope: {} of {of}; {last}{}", all.len(), met.unwrap_or_default()))
}

/// Characteristics with levels on the sheet that no step of the checklist judges, and those with an alert or a limit whose
/// steps were not asked for, or went with their part: `impeller: hours since new, not in this scope`. What else is not
/// judged holds its part by name.
pub fn not_judged_in_words(inspection: &Inspection, standing: &Standing) -> Vec<String> {
    let sheet = inspection.sheet().into_iter().flat_map(|sheet| &sheet.levels);
    let why = |one: Characteristic, is_limited: bool| {
        let steps = || steps_of(inspection, one);
        let mut mine = standing.characteristics.iter().filter(|standing| standing.characteristic == one).peekable();
        if steps().next().is_none() {
            return Some("not in this scope");
        }
        let excused = mine.peek().is_some() && mine.all(|standing| standing.outcome == Outcome::Excused);
        let asked = || steps().any(|step| progress::state(inspection, step) != StepState::NotAsked);
        (excused && is_limited).then(|| if asked() { "not measured" } else { "not asked for" })
    };
    let told = sheet.filter_map(|(one, levels)| {
        let part = short(inspection, *one);
        let why = why(*one, levels.alert.is_some() || levels.limit.is_some())?;
        Some(format!("{part}: {}, {why}", one.name()))
    });
    told.collect()
}

/// Characteristics that the sheet says this machine has not, or does not limit, though steps of the checklist would judge them:
/// `shaft: bow (the maker gives none)`. Nothing judges them and nothing holds their part: whoever signs reads why.
pub fn left_out_in_words(inspection: &Inspection) -> Vec<String> {
    let left_out = inspection.sheet().into_iter().flat_map(|sheet| &sheet.absent);
    let asked = left_out.filter(|(one, _)| steps_of(inspection, **one).next().is_some());
    asked.map(|(one, why)| format!("{}: {} ({why})", short(inspection, *one), one.name())).collect()
}

/// What nothing judges although it is on the sheet: each list under its heading, where there is anything in it.
pub fn unjudged_lists(
    inspection: &Inspection,
    standing: &Standing,
) -> impl Iterator<Item = (&'static str, Vec<String>)> {
    let lists = [(NOT_JUDGED, not_judged_in_words(inspection, standing)), (LEFT_OUT, left_out_in_words(inspection))];
    lists.into_iter().filter(|(_, list)| !list.is_empty())
}

/// The part of a characteristic as it is named in tables.
fn short(inspection: &Inspection, one: Characteristic) -> &str {
    inspection.head().checklist.part(one.part()).map_or(one.part_word(), |part| part.short.as_str())
}
