//! Something seen, said, asked or answered.

use crate::domain::entry::{Act, Entry};
use crate::domain::gate;
use crate::domain::stamp::Stamp;

use super::super::inquiry::{Answers, Reply};
use super::super::step::{act, look};
use super::super::{Deed, Session};

impl Session {
    /// A finding on any part, made at the step at hand.
    pub(super) fn seen(&self, now: Stamp, answers: &mut Answers<'_>) -> Reply<Deed> {
        let Some(step) = self.at(now) else { return Ok(Deed::Say(vec!["No step is at hand.".to_owned()])) };
        let checklist = &self.inspection.head().checklist;
        let parts: Vec<_> = checklist.parts.iter().filter(|part| !part.findings.is_empty()).collect();
        let names: Vec<_> = parts.iter().map(|part| part.name.clone()).collect();
        let index = answers.choose("on which part", &names)?;
        let Some(part) = parts.get(index) else { return Ok(Deed::Say(Vec::new())) };
        let kinds: Vec<_> = part.findings.iter().map(|kind| kind.kind.clone()).collect();
        let index = answers.choose("what is seen", &kinds)?;
        let Some(kind) = part.findings.get(index) else { return Ok(Deed::Say(Vec::new())) };
        look::finding(&self.inspection, step, (part, kind), answers)
    }

    pub(super) fn note(&self, now: Stamp, answers: &mut Answers<'_>) -> Reply<Deed> {
        let text = answers.sentence("note")?;
        // at a step that takes words a note would be its answer
        let step = self.at(now).filter(|step| step.takes != crate::domain::checklist::Takes::Words);
        Ok(act(Act::Note { step: step.map(|step| step.id.clone()), text }))
    }

    pub(super) fn photo(&self, now: Stamp, answers: &mut Answers<'_>) -> Reply<Deed> {
        let path = answers.sentence("the picture's file, or newest for the newest in the watched folder")?;
        let path = Some(path).filter(|path| !path.eq_ignore_ascii_case("newest"));
        Ok(Deed::Photo(self.at(now).map(|step| step.id.clone()), path))
    }

    /// Work on a part stops until somebody answers.
    pub(super) fn call(&self, now: Stamp, answers: &mut Answers<'_>) -> Reply<Deed> {
        let part = self.which_part("stop work on which part", now, answers)?;
        let question = answers.sentence("the question")?;
        Ok(act(Act::Call { part, question }))
    }

    /// An answer to a call, or to a finding that was referred.
    pub(super) fn answer(&self, answers: &mut Answers<'_>) -> Reply<Deed> {
        let asks = |entry: &&Entry| matches!(entry.act, Act::Call { .. } | Act::Finding(_));
        let answered = |number: u32| {
            self.inspection
                .standing_entries()
                .any(|later| matches!(later.act, Act::Answer { entry, .. } if entry == number))
        };
        let open: Vec<_> =
            self.inspection.standing_entries().filter(asks).filter(|entry| !answered(entry.number)).collect();
        if open.is_empty() {
            return Ok(Deed::Say(vec!["No call and no finding waits for an answer.".to_owned()]));
        }
        let words: Vec<_> = open.iter().map(|entry| super::strike::entry_in_words(entry)).collect();
        let index = answers.choose("answer to which", &words)?;
        let Some(entry) = open.get(index).map(|entry| entry.number) else { return Ok(Deed::Say(Vec::new())) };
        let who = answers.sentence("who answered")?;
        let text = answers.sentence("the answer")?;
        Ok(act(Act::Answer { entry, who, text }))
    }

    /// A part of the checklist; the one at hand is offered first.
    pub(super) fn which_part(&self, text: &str, now: Stamp, answers: &mut Answers<'_>) -> Reply<String> {
        let checklist = &self.inspection.head().checklist;
        let mut parts: Vec<_> = checklist.parts.iter().collect();
        let here = self.at(now).map(|step| step.part.clone());
        parts.sort_by_key(|part| here.as_ref() != Some(&part.id));
        let names: Vec<_> = parts.iter().map(|part| part.name.clone()).collect();
        let index = answers.choose(text, &names)?;
        Ok(parts.get(index).map(|part| part.id.clone()).unwrap_or_default())
    }

    /// Every part with its verdict, what holds the job, and running soaks.
    pub(super) fn stands(&self) -> Vec<String> {
        let mut lines = self.parts_in_words();
        let job = self.standing.job.iter().map(crate::domain::standing::hold_words);
        lines.extend(job.map(|hold| format!("? The job: {hold}.")));
        let soaks = crate::domain::progress::soaking(&self.inspection);
        lines.extend(soaks.iter().map(|one| {
            let to = one.to.map(|to| format!(" to {to}")).unwrap_or_default();
            let name = gate::step_name(&self.inspection, one.step);
            format!("Soaking: {name}, in since {}, for {}{to}.", one.since.clock(), one.from)
        }));
        lines.push(format!("{}.", self.saved()));
        lines
    }
}
