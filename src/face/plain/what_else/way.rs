//! Leaving something out, going to another step, copying from paper.

use crate::domain::checklist::Step;
use crate::domain::entry::{Act, Late};
use crate::domain::progress::{self, StepState};
use crate::domain::stamp::Stamp;

use super::super::inquiry::{Answers, Reply, Stop};
use super::super::step::act;
use super::super::{Deed, Session};

/// The usual reasons for leaving something out.
const REASONS: [&str; 5] =
    ["cannot be reached", "no gauge for it", "not to be had", "destroyed before it was taken", "no time, by order"];

impl Session {
    /// One place of a grid, or a whole step.
    pub(super) fn leave_out(&self, now: Stamp, answers: &mut Answers<'_>) -> Reply<Deed> {
        let Some(step) = self.at(now) else { return Ok(Deed::Say(vec!["No step is at hand.".to_owned()])) };
        let cell = progress::next_cell(&self.inspection, step);
        let place = match &cell {
            Some(cell) => {
                let which = answers
                    .word(&format!("leave out {} alone, or the whole step", cell.spoken()), &["place", "step"])?;
                (which == 0).then(|| cell.place())
            }
            None => None,
        };
        let reason = answers.choose_or_say("why", &REASONS)?;
        Ok(act(Act::Skip { step: step.id.clone(), place, reason }))
    }

    /// A step that this machine or job does not have.
    pub(super) fn not_here(&self, now: Stamp, answers: &mut Answers<'_>) -> Reply<Deed> {
        let Some(step) = self.at(now) else { return Ok(Deed::Say(vec!["No step is at hand.".to_owned()])) };
        let reason = answers.sentence("why does it not apply")?;
        Ok(act(Act::NotApplicable { step: step.id.clone(), point: None, reason }))
    }

    /// Every step with its state; one is chosen by its number or its id.
    pub(super) fn steps(&self, now: Stamp, answers: &mut Answers<'_>) -> Reply<Deed> {
        let steps: Vec<&Step> = progress::steps(&self.inspection).collect();
        let numbered = (1_usize..).zip(&steps);
        let before =
            numbered.map(|(number, step)| format!("{number} {}, {}", step.id, self.state_word(step))).collect();
        let text = format!("go to which step (1 to {}, or its id)?", steps.len());
        let typed = answers.line(before, &text)?;
        let by_number = typed.parse::<usize>().ok().and_then(|number| number.checked_sub(1));
        let step = by_number.and_then(|index| steps.get(index)).or_else(|| steps.iter().find(|step| step.id == typed));
        let Some(step) = step else {
            return Err(Stop::Wrong(format!("`{typed}` is no step. Type its number or its id.")));
        };
        let state = progress::state(&self.inspection, step);
        if state.is_settled() && state != StepState::NotAsked {
            let words = format!("{} is {}. Strike its entry first if it was wrong.", step.id, self.state_word(step));
            return Ok(Deed::Say(vec![words]));
        }
        let missing = crate::domain::gate::missing(&self.inspection, step, &self.hand(now));
        let missing: Vec<_> = missing
            .iter()
            .filter(|one| **one != crate::domain::gate::Missing::SafetyAgain)
            .map(|one| one.words(&self.inspection))
            .collect();
        if missing.is_empty() {
            return Ok(Deed::Go(step.id.clone()));
        }
        Ok(Deed::Say(vec![format!("{} is not open yet: {}.", step.id, missing.join("; "))]))
    }

    fn state_word(&self, step: &Step) -> String {
        match progress::state(&self.inspection, step) {
            StepState::ToDo => "to do".to_owned(),
            StepState::Partly { done, of } => format!("{done} of {of}"),
            StepState::Running { since } => format!("soaking since {}", since.clock()),
            StepState::Done => "done".to_owned(),
            StepState::Skipped => "skipped".to_owned(),
            StepState::NotApplicable => "not on this machine or job".to_owned(),
            StepState::NotAsked => "not asked for".to_owned(),
        }
    }

    /// From now on entries are copied from paper, or no longer.
    pub(super) fn paper(&self, answers: &mut Answers<'_>) -> Reply<Deed> {
        if self.late.is_some() {
            answers.word("entries are late from paper now; no longer", &["off"])?;
            return Ok(Deed::Late(None));
        }
        let taken = answers.sentence("when it was taken, as the paper says")?;
        Ok(Deed::Late(Some(Late { taken, sheet: None })))
    }
}
