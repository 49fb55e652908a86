//! Where what keeps a step shut is mended: at the step that comes first, or by what ends a hold.

use crate::domain::checklist::Step;
use crate::domain::entry::{Act, Entry};
use crate::domain::gate::Missing;
use crate::domain::progress::{self, StepState};
use crate::domain::soak;
use crate::domain::telling;
use crate::domain::verdict::Hold;

use super::{At, Deed, Other};

/// Where a shut step leads.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Way {
    /// To this step.
    Step(String),
    /// To what ends a hold.
    Ends(Other),
}

impl From<Way> for Deed {
    fn from(way: Way) -> Self {
        match way {
            Way::Step(step) => Self::Go(step),
            Way::Ends(other) => Self::Open(other),
        }
    }
}

impl At<'_> {
    /// The way to the first that is missing and can be mended; a hold that names neither a step nor an entry is read
    /// among all others.
    pub fn way_out(&self, shut: &Step, missing: &[Missing]) -> Way {
        let step = missing.iter().find_map(|one| one.step(self.inspection));
        if let Some(step) = step {
            return Way::Step(step.to_owned());
        }
        let given = missing.iter().any(|one| matches!(one, Missing::Given(_)));
        let held = missing.iter().find_map(|one| match one {
            Missing::Held(part, hold) => Some((part, hold)),
            Missing::Safety(_)
            | Missing::SafetyAgain
            | Missing::Step(_)
            | Missing::More(_)
            | Missing::Decisions
            | Missing::DecisionsAgain
            | Missing::NotAsked
            | Missing::Given(_) => None,
        });
        match (given, held) {
            (true, _) => Way::Ends(Other::Given),
            (false, Some((part, hold))) => self.end_of(self.part_called(part).unwrap_or(&shut.part), hold),
            (false, None) => Way::Ends(Other::Stands),
        }
    }

    fn part_called(&self, short: &str) -> Option<&str> {
        let parts = &self.inspection.head().checklist.parts;
        parts.iter().find(|part| part.short == short || part.id == short).map(|part| part.id.as_str())
    }

    /// What ends a hold on a part.
    fn end_of(&self, part: &str, hold: &Hold) -> Way {
        match hold {
            Hold::StopAndCall(what) => self.answer_of(|entry| asks(entry, what)).unwrap_or(Way::Ends(Other::Concede)),
            Hold::Referred(_) => Way::Ends(Other::Concede),
            Hold::NewPart => Way::Ends(Other::Part),
            Hold::Balance => self.to_step(progress::steps(self.inspection).find(|step| balances(step))),
            Hold::Open(what) => {
                let answer = self.answer_of(|entry| is_to_rework(entry, (part, what)));
                answer.unwrap_or_else(|| self.to_step(self.left_open_at(part, what)))
            }
        }
    }

    /// To the answer of the first that waits for one.
    fn answer_of(&self, is_this: impl Fn(&Entry) -> bool) -> Option<Way> {
        let entry = self.answerable().into_iter().find(|entry| is_this(entry))?;
        Some(Way::Ends(Other::AnswerTo(entry.number)))
    }

    /// The step that a hold names by what it judges, or by its title.
    fn left_open_at(&self, part: &str, what: &str) -> Option<&Step> {
        let checklist = &self.inspection.head().checklist;
        let mut judged = self.standing.characteristics.iter().filter(|one| one.characteristic.part() == part);
        let judged = judged.find(|one| one.judgement().is_none() && what.starts_with(one.characteristic.name()));
        let titled = || progress::steps(self.inspection).filter(|step| what.contains(&step.title));
        let mine = || titled().find(|step| step.part == part);
        judged.and_then(|one| checklist.step(&one.step)).or_else(mine).or_else(|| titled().next())
    }

    fn to_step(&self, step: Option<&Step>) -> Way {
        match step.map(|step| (step, progress::state(self.inspection, step))) {
            Some((step, StepState::ToDo | StepState::Partly { .. } | StepState::Running { .. })) => {
                Way::Step(step.id.clone())
            }
            // put in again, or said why it is left at that
            Some((step, StepState::Done)) if soak::strayed(self.inspection, step).is_some() => {
                Way::Step(step.id.clone())
            }
            // what was left out is taken once that entry is struck
            Some((_, StepState::Skipped)) => Way::Ends(Other::Strike),
            Some((_, StepState::Done | StepState::NotApplicable | StepState::NotAsked)) | None => {
                Way::Ends(Other::Stands)
            }
        }
    }
}

/// Whether it is this entry that a call is about.
fn asks(entry: &Entry, what: &str) -> bool {
    if let Act::Finding(finding) = &entry.act {
        return telling::of_finding(finding) == what;
    }
    matches!(&entry.act, Act::Call { question, .. } if question == what)
}

/// Whether this finding is what a part is to be reworked for.
fn is_to_rework(entry: &Entry, (part, what): (&str, &str)) -> bool {
    matches!(&entry.act, Act::Finding(found) if found.part == part && telling::rework_to_do(found) == what)
}

fn balances(step: &Step) -> bool {
    step.judges.iter().any(|judged| judged.characteristic.is_of_balance())
}
