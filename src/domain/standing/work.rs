//! How far the work on a part is: what was never done is not called good.

use super::super::checklist::{Part, Step, Takes};
use super::super::inspection::Inspection;
use super::super::phase::Phase;
use super::super::progress::{self, StepState};
use super::super::verdict::Disposition;
use super::PartStanding;

/// What there is to say of a part on which nothing is found and that nothing holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Work {
    /// Looked at or measured as found: it has a disposition.
    Judged,
    /// It could have been, and was not: the rotor came stripped, or it was not asked for.
    NotJudged,
    /// A stretch of the job that leaves nothing to reuse, and not all of it is done.
    ToDo,
    /// The same, done or left out with a reason.
    Done,
}

impl Work {
    pub(super) fn of(inspection: &Inspection, part: &Part) -> Self {
        let mine: Vec<&Step> = progress::steps(inspection).filter(|step| step.part == part.id).collect();
        let mut showing = mine.iter().filter(|step| shows_condition(step)).peekable();
        if showing.peek().is_none() && !mine.is_empty() {
            let settled = mine.iter().all(|step| progress::state(inspection, step).is_settled());
            return if settled { Self::Done } else { Self::ToDo };
        }
        let judged = showing.any(|step| progress::state(inspection, step) == StepState::Done);
        if judged { Self::Judged } else { Self::NotJudged }
    }

    /// Sign and word, where no disposition and no hold speaks.
    pub(super) fn in_short(self) -> (char, &'static str) {
        match self {
            Self::Judged => (Disposition::Reuse.sign(), Disposition::Reuse.word()),
            Self::NotJudged => ('.', "not judged"),
            Self::ToDo => ('.', "to do"),
            Self::Done => ('.', "done"),
        }
    }
}

impl PartStanding {
    /// What is decided of it; nothing where nothing was judged and nothing is to be done: no level, no reuse.
    pub fn decided(&self) -> Option<Disposition> {
        let decided = self.verdict.disposition > Disposition::Reuse || self.judged.0 > 0 || self.overruled.is_some();
        decided.then_some(self.verdict.disposition)
    }
}

/// Whether a step shows in which state the part was found.
fn shows_condition(step: &Step) -> bool {
    let looks = step.takes == Takes::Look && step.phase > Phase::Strip;
    step.phase <= Phase::Measure && (looks || !step.judges.is_empty())
}
