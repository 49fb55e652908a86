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

    /// Every step with its state; one is chosen by its number or its id.
    pub(super) fn steps(&self, answers: &mut Answers<'_>) -> Reply<Deed> {
        let steps: Vec<&Step> = progress::steps(self.inspection).collect();
        let numbered = (1_usize..).zip(&steps);
        let state = |step: &Step| state_word(self.inspection, step);
        let before = numbered.map(|(number, step)| format!("{number} {}, {}", step.id, state(step))).collect();
        let text = format!("go to which step (1 to {}, or its id)", steps.len());
        let typed = answers.line(before, &text)?;
        let by_number = typed.parse::<usize>().ok().and_then(|number| number.checked_sub(1));
        let step = by_number.and_then(|index| steps.get(index)).or_else(|| steps.iter().find(|step| step.id == typed));
        let Some(step) = step else {
            return Err(Stop::Wrong(format!("`{typed}` is no step. Type its number or its id.")));
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
