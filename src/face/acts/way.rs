//! Leaving something out, going to another step.

use crate::domain::checklist::{Step, Takes};
use crate::domain::entry::Act;
use crate::domain::gate::{self, Missing};
use crate::domain::inspection::Inspection;
use crate::domain::progress::{self, StepState};
use crate::domain::signing;
use crate::domain::soak::is_cut_short;

use super::super::inquiry::{Answers, Reply, Stop};
use super::{At, Deed, act, only_say, owned};

/// The usual reasons for leaving something out.
const REASONS: [&str; 7] = [
    "cannot be reached",
    "part missing or broken",
    "no gauge for it here",
    "not to be had",
    "not asked for on this job",
    "destroyed before it was taken",
    "no time, by order",
];

impl At<'_> {
    /// One place of a grid, a whole step, or what this machine does not have.
    pub(super) fn leave_out(&self, answers: &mut Answers<'_>) -> Reply<Deed> {
        let Some(step) = self.step else { return Ok(only_say("No step is at hand.")) };
        if let (Takes::Points(_), Some(point)) = (&step.takes, self.point) {
            let asked = format!("{}. Not on this machine or job: why", point.text);
            let reason = answers.sentence(&asked)?;
            return Ok(act(Act::NotApplicable { step: step.id.clone(), point: Some(point.id.clone()), reason }));
        }
        let mut lines: Vec<_> = self.cell.iter().map(|cell| format!("this place only: {}", cell.spoken())).collect();
        let places = lines.len();
        lines.push("the whole step; the part stays open".to_owned());
        lines.push("not on this machine or job".to_owned());
        let index = answers.choose("what is left out", &lines)?;
        let step = step.id.clone();
        if index > places {
            let reason = answers.sentence("why does it not apply")?;
            return Ok(act(Act::NotApplicable { step, point: None, reason }));
        }
        let place = self.cell.as_ref().filter(|_| index < places).map(crate::domain::checklist::Cell::place);
        let reason = answers.choose_or_say("why", &owned(&REASONS))?;
        Ok(act(Act::Skip { step, place, reason }))
    }

    /// Every step with its state; one is chosen by its number, its id or a few letters.
    pub(super) fn steps(&self, answers: &mut Answers<'_>) -> Reply<Deed> {
        let steps: Vec<&Step> = progress::steps(self.inspection).collect();
        let numbered = (1_usize..).zip(&steps);
        let state = |step: &Step| state_word(self.inspection, step);
        let before = numbered.map(|(number, step)| format!("{number} {}, {}", step.id, state(step))).collect();
        let text = format!("go to which step (1 to {}, its id, or a few letters)", steps.len());
        let typed = answers.line(before, &text)?;
        let by_number = typed.parse::<usize>().ok().and_then(|number| number.checked_sub(1));
        let known = by_number.and_then(|index| steps.get(index)).or_else(|| steps.iter().find(|step| step.id == typed));
        let step = match (known, found(self.inspection, typed).as_slice()) {
            (Some(step), _) | (None, [step]) => *step,
            (None, []) => {
                return Err(Stop::Wrong(format!("`{typed}` is no step. Type its number, its id or a few letters.")));
            }
            (None, several) => return Err(Stop::Wrong(which_of(typed, several))),
        };
        let stands = progress::state(self.inspection, step);
        if signing::remarks_at(self.inspection, &step.id).is_empty()
            && stands.is_settled()
            && stands != StepState::NotAsked
            && !is_cut_short(self.inspection, step)
            && !signing::is_to_sign_again(self.inspection, step)
        {
            let words = format!("{} is {}. Strike its entry first if it was wrong.", step.id, state(step));
            return Ok(Deed::Say(vec![words]));
        }
        if stands.is_settled() && stands != StepState::NotAsked {
            // sent back, or to be signed again: at any time
            return Ok(Deed::Go(step.id.clone()));
        }
        let missing = gate::missing(self.inspection, step, &self.hand);
        let missing: Vec<_> =
            missing.iter().filter(|one| **one != Missing::SafetyAgain).map(|one| one.words(self.inspection)).collect();
        if missing.is_empty() {
            return Ok(Deed::Go(step.id.clone()));
        }
        Ok(Deed::Say(vec![format!("{} is not open yet: {}.", step.id, missing.join("; "))]))
    }
}

/// How many steps are named before the rest is counted.
const NAMED: usize = 5;

/// Letters that more steps than one have.
fn which_of(typed: &str, steps: &[&Step]) -> String {
    let named: Vec<&str> = steps.iter().take(NAMED).map(|step| step.id.as_str()).collect();
    let more = steps.len().saturating_sub(NAMED);
    let more = if more > 0 { format!(" and {more} more") } else { String::new() };
    format!("`{typed}` is more than one step: {}{more}. Type more of it, or the id.", named.join(", "))
}

/// How a step stands, in a word or two.
pub fn state_word(inspection: &Inspection, step: &Step) -> String {
    let sent_back = if signing::remarks_at(inspection, &step.id).is_empty() { "" } else { "SENT BACK, " };
    let state = match progress::state(inspection, step) {
        StepState::ToDo => "to do".to_owned(),
        StepState::Partly { done, of } => format!("{done} of {of}"),
        StepState::Running { since } => format!("soaking since {}", since.clock()),
        StepState::Done => "done".to_owned(),
        StepState::Skipped => "skipped".to_owned(),
        StepState::NotApplicable => "not on this machine or job".to_owned(),
        StepState::NotAsked => "not asked for".to_owned(),
    };
    format!("{sent_back}{state}")
}

/// Steps whose name has every word of the search; where there are none, those whose texts have.
pub fn found<'a>(inspection: &'a Inspection, search: &str) -> Vec<&'a Step> {
    let words: Vec<String> = search.split_whitespace().map(str::to_lowercase).collect();
    let holds = |text: &str| words.iter().all(|word| begins_in(text, word));
    let by = |texts: &dyn Fn(&Step) -> String| -> Vec<&'a Step> {
        progress::steps(inspection).filter(|step| holds(&texts(step).to_lowercase())).collect()
    };
    let named = by(&|step| names(inspection, step));
    if named.is_empty() { by(&|step| format!("{} {}", names(inspection, step), told(inspection, step))) } else { named }
}

/// Whether a word of `text` begins so; what holds more than letters and digits is looked for as it is.
fn begins_in(text: &str, word: &str) -> bool {
    let plain = word.chars().all(char::is_alphanumeric);
    let begins = |text: &str| text.split(|letter: char| !letter.is_alphanumeric()).any(|one| one.starts_with(word));
    // run-out is found as runout too
    if plain { begins(text) || begins(&text.replace('-', "")) } else { text.contains(word) }
}

fn names(inspection: &Inspection, step: &Step) -> String {
    let part = inspection.head().checklist.part(&step.part).map_or("", |part| part.name.as_str());
    format!("{part} {} {} {}", step.title, step.phase.title(), step.id)
}

/// What a step says: its texts, its gauge, and what may be found where it looks.
fn told(inspection: &Inspection, step: &Step) -> String {
    let texts = [&step.doing, &step.why, &step.how, &step.mistakes].into_iter().flatten().map(String::as_str);
    let gauge = if let Takes::Readings(grid) = &step.takes { grid.gauge.word() } else { "" };
    let part = inspection.head().checklist.part(&step.part).filter(|_| step.takes == Takes::Look);
    let kinds = part.into_iter().flat_map(|part| &part.findings).map(|finding| finding.kind.as_str());
    let takes = if let Takes::Soak { .. } = &step.takes { "timer soak" } else { "" };
    texts.chain([takes]).chain(step.caution.as_deref()).chain([gauge]).chain(kinds).collect::<Vec<_>>().join(" ")
}
