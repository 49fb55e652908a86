//! Everything that can be done besides the step's own question: one numbered list, the same on every step.

mod gauge;
mod levels;
mod parts;
mod people;
mod rule;
mod say;
mod strike;
mod way;

use crate::domain::checklist::Step;
use crate::domain::stamp::Stamp;
use crate::domain::telling;

use super::course::Course;
use super::inquiry::{Answers, Reply};
use super::{Deed, Session};

pub(super) use gauge::choose as gauge;
pub(super) use people::{answers_of_opening as opening_answers, enter};

/// One line of the list, and the dialogue behind it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Other {
    /// The list itself.
    Menu,
    Strike,
    Gauge,
    Seen,
    LeaveOut,
    Call,
    Steps,
    Note,
    Late,
    Photo,
    Who,
    Stands,
    Last,
    NotHere,
    Opening,
    Plan,
    Part,
    Level,
    Person,
    Answer,
    Check,
    Unjudged,
    Condemn,
    Overrule,
    Concede,
    Leave,
    Working,
    /// The record was changed outside, at this entry: somebody says that it was seen.
    Outside(u32),
}

/// The list in its order.
const LIST: [(Other, &str); 26] = [
    (Other::Strike, "strike an entry"),
    (Other::Gauge, "other gauge"),
    (Other::Seen, "something seen"),
    (Other::LeaveOut, "cannot be measured or done: skip with a reason"),
    (Other::Call, "stop and call"),
    (Other::Steps, "all steps: go to one"),
    (Other::Note, "note"),
    (Other::Late, "late from paper: on or off"),
    (Other::Photo, "photo"),
    (Other::Who, "who is here"),
    (Other::Stands, "how it stands: parts and holds"),
    (Other::Last, "read the last entries"),
    (Other::NotHere, "this machine does not have it"),
    (Other::Opening, "opening answers given later"),
    (Other::Plan, "next opening planned anew"),
    (Other::Part, "part fitted or identified"),
    (Other::Level, "level from the manual"),
    (Other::Person, "enter a person"),
    (Other::Answer, "answer to a call or a finding"),
    (Other::Check, "gauge checked on a piece"),
    (Other::Unjudged, "accept without a judgement"),
    (Other::Condemn, "condemn a part without measuring the rest"),
    (Other::Overrule, "overrule what is done with a part"),
    (Other::Concede, "concession of maker, owner or class"),
    (Other::Leave, "leave for now"),
    (Other::Working, "working of this step: figures put in, what comes out"),
];

impl Session {
    pub(super) fn other_question(&self, other: Other, now: Stamp, answers: &mut Answers<'_>) -> Reply<Deed> {
        match other {
            Other::Menu => menu(answers),
            Other::Strike => self.strike(answers),
            Other::Gauge => self.other_gauge(now, answers),
            Other::Check => self.check_gauge(answers),
            Other::Seen => self.seen(now, answers),
            Other::LeaveOut => self.leave_out(now, answers),
            Other::NotHere => self.not_here(now, answers),
            Other::Call => self.call(now, answers),
            Other::Answer => self.answer(answers),
            Other::Note => self.note(now, answers),
            Other::Photo => self.photo(now, answers),
            Other::Steps => self.steps(now, answers),
            Other::Late => self.paper(answers),
            Other::Stands => Ok(Deed::Say(self.stands())),
            Other::Last => Ok(Deed::Say(self.last_entries())),
            Other::Who => self.who(answers),
            Other::Person => enter(answers).map(people::entered),
            Other::Opening => people::opening(now, answers),
            Other::Plan => people::plan(answers),
            Other::Part => self.part_fitted(now, answers),
            Other::Level => levels::level(answers),
            Other::Unjudged => self.unjudged(answers),
            Other::Condemn => self.condemn(now, answers),
            Other::Overrule => self.overrule(answers),
            Other::Concede => self.concede(answers),
            Other::Leave => Ok(Deed::Leave),
            Other::Working => Ok(Deed::Say(self.working(now))),
            Other::Outside(entry) => people::outside(entry, &self.name(&self.by), answers),
        }
    }

    /// The working of the step at hand, or of the one entered last where that has just been finished.
    fn working(&self, now: Stamp) -> Vec<String> {
        let touched = |step: &&Step| self.inspection.standing_entries_of(&step.id).next().is_some();
        let last = || {
            let entry = self.inspection.standing_entries().rev().find_map(|entry| entry.act.step())?;
            self.inspection.head().checklist.step(entry)
        };
        let step = self.at(now).filter(touched).or_else(last);
        step.map_or_else(Vec::new, |step| {
            let mut lines = vec![format!("-- working: {} --", step.id)];
            lines.extend(telling::working_of_step(&self.inspection, &self.standing, step));
            lines
        })
    }

    /// The step at hand.
    fn at(&self, now: Stamp) -> Option<&Step> {
        match self.course(now) {
            Course::Step(step) | Course::SafeAgain(step) => Some(step),
            Course::Shut(shut) => shut.first().map(|(step, _)| *step),
            Course::Finished => None,
        }
    }
}

fn menu(answers: &mut Answers<'_>) -> Reply<Deed> {
    let names: Vec<_> = LIST.iter().map(|(_, name)| (*name).to_owned()).collect();
    let index = answers.choose("what else, ! goes back", &names)?;
    Ok(LIST.get(index).map_or(Deed::Say(Vec::new()), |(other, _)| Deed::Open(*other)))
}
