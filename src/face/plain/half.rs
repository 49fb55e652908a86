//! What is half answered when the input ends: kept beside the record, and gone on with where its step is at hand again.

use crate::domain::checklist::{FindingKind, Step, Takes};
use crate::domain::inspection::Inspection;
use crate::domain::stamp::Stamp;
use crate::records::store::{HalfForm, LaidAside};

use super::super::acts::{FIRST, MORE, Other};
use super::super::half::{laid_aside, title_of};
use super::super::inquiry::{Answers, Question, Stop, chosen};
use super::super::screen::{elses, finding};
use super::course::Course;
use super::{Session, Talk};

impl Session {
    /// What was left half answered at a step; handed back where no line leads to it.
    pub fn left_half(&mut self, step: &str, form: HalfForm) -> Option<HalfForm> {
        let at = self.inspection.head().checklist.step(step);
        if at.and_then(|at| by_lines(&self.inspection, at, &form)).is_none() {
            return Some(form);
        }
        self.left.push((step.to_owned(), form));
        None
    }

    /// What waits half answered, on the screen or line by line, a sentence each.
    pub(super) fn half_answered(&self) -> impl Iterator<Item = String> {
        let by_lines = self.left.iter().filter_map(|(step, form)| {
            Some(format!("Half answered at {step}: {}. ! 6 {step} goes on with it.", title_of(form)?))
        });
        self.of_screen.iter().cloned().chain(by_lines)
    }

    /// What is half answered at this step, and all else that was left so. What is asked before a signature, and whether a
    /// doubted figure is so, is asked anew: there nothing is typed but a word.
    pub fn half(&self, at: &str, now: Stamp) -> (Option<HalfForm>, Vec<LaidAside>) {
        let mut left = self.left.clone();
        let own = self.inspection.head().checklist.step(at).and_then(|step| self.half_of(step, now));
        let own = own.or_else(|| Some(left.remove(left.iter().rposition(|(step, _)| step == at)?).1));
        (own, left.into_iter().filter_map(|(step, form)| laid_aside(&step, form)).collect())
    }

    /// Goes elsewhere from the midst of answers; says what becomes of them.
    pub(super) fn put_down(&mut self, now: Stamp) -> Option<String> {
        let step = self.place(now).and_then(|(id, _)| self.inspection.head().checklist.step(&id));
        let half = step.and_then(|step| Some((step.id.clone(), self.half_of(step, now)?)));
        let answers = std::mem::take(&mut self.answers).join(", ");
        if answers.is_empty() {
            return None;
        }
        let Some((step, form)) = half else { return Some(format!("Nothing was taken of: {answers}.")) };
        let words = format!("Not taken yet, and asked again at {step}: {answers}.");
        self.left.push((step, form));
        Some(words)
    }

    fn half_of(&self, step: &Step, now: Stamp) -> Option<HalfForm> {
        let (first, _) = self.answers.split_first()?;
        let (way, named) = match &self.talk {
            Talk::Step if step.takes == Takes::Look => {
                let kinds = kinds(&self.inspection, step);
                let names: Vec<_> = kinds.iter().map(|kind| kind.kind.clone()).collect();
                (way_to(kinds.get(chosen(first, &names)?)?), 1)
            }
            Talk::Other(other) => (elses::way_to(*other), 0),
            Talk::Step | Talk::Doubt(_) => return None,
        };
        let kept = |(at, line): (usize, &String)| {
            let question = self.asked(&self.talk, (step, self.answers.get(..at).unwrap_or_default()), now);
            question.map_or_else(|| line.clone(), |question| question.kept(&question.meant(line)))
        };
        let answers: Vec<_> = self.answers.iter().enumerate().skip(named).map(kept).collect();
        let at = u32::try_from(answers.len()).unwrap_or(0);
        (!way.is_empty()).then_some(HalfForm { way, at, answers })
    }

    /// The question that stands behind these answers.
    fn asked(&self, talk: &Talk, (step, answers): (&Step, &[String]), now: Stamp) -> Option<Question> {
        let mut answers = Answers::new(answers);
        let reply = match talk {
            Talk::Step => self.look(step, &mut answers),
            Talk::Other(other) => self.at(now).ask(*other, &mut answers),
            Talk::Doubt(_) => return None,
        };
        if let Err(Stop::Ask(question)) = reply { Some(*question) } else { None }
    }

    /// Goes on with what was left half answered, as soon as its step is asked.
    pub(super) fn take_up(&mut self, now: Stamp, said: &mut Vec<String>) {
        if self.talk != Talk::Step || !self.answers.is_empty() {
            return;
        }
        let Course::Step(step) = self.course(now) else { return };
        let Some(place) = self.left.iter().rposition(|(at, _)| *at == step.id) else { return };
        let found = self.left.get(place).and_then(|(_, form)| Some((by_lines(&self.inspection, step, form)?, form)));
        if let Some(((talk, mut answers), form)) = found {
            let (given, rest) =
                form.answers.split_at_checked(usize::try_from(form.at).unwrap_or(0)).unwrap_or_default();
            let is_whole = given.iter().all(|kept| {
                // what was chosen and is on offer no more is asked again
                let line = self.asked(&talk, (step, &answers), now).and_then(|question| question.given(kept));
                answers.extend(line.clone());
                line.is_some()
            });
            let title = title_of(form).unwrap_or_default();
            said.push(format!("Left half answered, {title}: {}. It goes on; ! drops it.", answers.join(", ")));
            let question = self.asked(&talk, (step, &answers), now).filter(|_| is_whole);
            let typed = question.zip(rest.first()).map(|(question, typed)| question.half_given(typed));
            said.extend(typed.filter(|typed| !typed.is_empty()).map(|typed| format!("`{typed}` stood in the field.")));
            (self.talk, self.answers) = (talk, answers);
        }
        self.left.remove(place);
    }
}

fn kinds<'a>(inspection: &'a Inspection, step: &Step) -> &'a [FindingKind] {
    inspection.head().checklist.part(&step.part).map_or(&[], |part| &part.findings)
}

/// The lines that lead to a finding of this kind.
fn way_to(kind: &FindingKind) -> Vec<String> {
    elses::way_to(Other::Seen).into_iter().chain([finding::said(kind)]).collect()
}

/// Where a form is asked line by line, and the answers that name it there; none for one that only the screen has.
fn by_lines(inspection: &Inspection, step: &Step, form: &HalfForm) -> Option<(Talk, Vec<String>)> {
    if let Some(kind) = kinds(inspection, step).iter().find(|kind| way_to(kind) == form.way) {
        let (talk, part) = match step.takes {
            Takes::Look => (Talk::Step, None),
            Takes::Points(_)
            | Takes::Tick
            | Takes::Readings(_)
            | Takes::Soak { .. }
            | Takes::Words
            | Takes::Sign(_) => (Talk::Other(Other::Seen), Some(step.part.clone())),
        };
        return Some((talk, part.into_iter().chain([kind.kind.clone()]).collect()));
    }
    let other = FIRST.iter().chain(&MORE).map(|(other, _)| *other).find(|other| elses::way_to(*other) == form.way)?;
    Some((Talk::Other(other), Vec::new()))
}
