//! Something seen: its part and kind, how grave, where, how large, with a picture.

use std::collections::BTreeMap;

use crate::domain::checklist::{Ask, FindingKind, Part, Step, Takes};
use crate::domain::decide::detail_fits;
use crate::domain::entitled::worded;
use crate::domain::entry::{Act, FindingMade};
use crate::domain::inspection::Inspection;
use crate::domain::phase::Phase;
use crate::domain::progress;
use crate::domain::refusal::RefusalKind;

use super::super::inquiry::{Answers, Reply, refused};
use super::say::{NEWEST, named};
use super::{At, Deed, act, only_say, owned};

impl At<'_> {
    /// A finding on any part, made at the step at hand; with every step done, at the last look of its part.
    pub(super) fn seen(&self, answers: &mut Answers<'_>) -> Reply<Deed> {
        let checklist = &self.inspection.head().checklist;
        let shut = |step| self.shut_to_findings(step).map(|words| only_say(&words));
        if let Some(shut) = self.step.and_then(shut) {
            return Ok(shut);
        }
        let part = self.which_of("on which part", |part| !part.findings.is_empty(), None, answers)?;
        let Some(part) = checklist.part(&part) else { return Ok(Deed::Say(Vec::new())) };
        let mine = progress::steps(self.inspection).filter(|step| step.part == part.id);
        let step = self.step.or_else(|| mine.max_by_key(|step| step.takes == Takes::Look));
        let Some(step) = step else { return Ok(Deed::Say(Vec::new())) };
        if let Some(shut) = Some(step).filter(|_| self.step.is_none()).and_then(shut) {
            return Ok(shut);
        }
        let offered = step.kinds_of(part);
        let kinds: Vec<_> = offered.iter().map(|kind| kind.kind.clone()).collect();
        let index = answers.choose("what is seen", &kinds)?;
        let Some(kind) = offered.get(index) else { return Ok(Deed::Say(Vec::new())) };
        finding(self.inspection, step, (part, kind), answers)
    }

    /// What keeps a step shut for a finding, said before anything of it is asked; that the machine is still safe is asked
    /// with it.
    pub fn shut_to_findings(&self, step: &Step) -> Option<String> {
        let missing = if step.phase > Phase::Safe { self.waits_for(step) } else { Vec::new() };
        let missing: Vec<_> = missing.iter().map(|one| one.words(self.inspection)).collect();
        if missing.is_empty() {
            return None;
        }
        let shut = RefusalKind::Shut { missing };
        Some(format!("{} {}", shut.what(), shut.mend()))
    }
}

/// Grade and details of one finding, then its picture.
///
/// # Errors
/// The next question, or why the last answer will not do.
pub fn finding(
    inspection: &Inspection,
    step: &Step,
    (part, kind): (&Part, &FindingKind),
    answers: &mut Answers<'_>,
) -> Reply<Deed> {
    let made = finding_made(inspection, step, (part, kind), answers)?;
    if kind.asks.contains(&Ask::Photo) {
        let photo = answers.maybe_choose_or_say("photo: its file", "none", &owned(&[NEWEST]))?;
        if let Some(path) = photo {
            return Ok(Deed::Found(Box::new(made), named(path)));
        }
    }
    Ok(act(Act::Finding(made)))
}

fn finding_made(
    inspection: &Inspection,
    step: &Step,
    (part, kind): (&Part, &FindingKind),
    answers: &mut Answers<'_>,
) -> Reply<FindingMade> {
    let grades = kind.grades.iter().map(|one| &one.grade);
    let grades: Vec<_> = grades.map(|grade| format!("{grade}, leads to {}", kind.leads_to_in_words(grade))).collect();
    let index = answers.choose(&format!("{}, how grave", kind.kind), &grades)?;
    let grade = kind.grades.get(index).map(|grade| grade.grade.clone()).unwrap_or_default();
    let mut details = BTreeMap::new();
    for ask in kind.asks.iter().filter(|ask| **ask != Ask::Photo) {
        let last = progress::last_detail(inspection, &part.id, *ask);
        let offer = last
            .as_ref()
            .map(|last| format!(" (last time {last}; {} takes it again)", progress::AGAIN))
            .unwrap_or_default();
        let read = |text: &str| match last {
            Some(last) if text == progress::AGAIN => Ok(last),
            _ => detail_fits(inspection, &part.id, *ask, text).map_err(|refusal| refused(&refusal)),
        };
        let text = format!("{}, {}{offer}, empty for none", kind.kind, asked(*ask));
        details.extend(answers.maybe_with(&text, read)?.map(|text| (ask.word().to_owned(), text)));
    }
    let missing = kind.not_told(|ask| details.contains_key(ask.word())).join(" and ");
    let note = if missing.is_empty() {
        answers.maybe(&format!("{}, in words", kind.kind))?
    } else {
        let asked = format!("{}, in words, and why its {missing} cannot be told", kind.kind);
        // refused here, where it is asked: behind the photo all answers would be gone
        Some(answers.with(&asked, |text| match text {
            "" => Err(refused(&RefusalKind::Empty.into())),
            _ => worded(text).map(|()| text.to_owned()).map_err(|refusal| refused(&refusal)),
        })?)
    };
    Ok(FindingMade {
        part: part.id.clone(),
        step: step.id.clone(),
        kind: kind.kind.clone(),
        grade,
        details,
        note,
        photos: Vec::new(),
    })
}

fn asked(ask: Ask) -> &'static str {
    match ask {
        Ask::Number => "number: which blade, vane, land or field",
        Ask::Place => "place: where on it",
        Ask::Length => "length, mm",
        Ask::Width => "width, mm",
        Ask::Depth => "depth, mm",
        Ask::Along => "along: where its middle lies, mm from a pen cross beside it",
        Ask::Across => "across: where its middle lies, mm from the same cross",
        Ask::Direction => "direction: where its length points, degrees from along toward across",
        Ask::Others => "others: how many others were looked at and are sound",
        Ask::Photo => "photo",
    }
}
