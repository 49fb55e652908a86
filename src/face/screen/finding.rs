//! Something seen: its kind, its grade with what that leads to, the place and the size where they are asked.

use crate::domain::checklist::FindingKind;

use super::super::effect::Effect;
use super::super::look::Tone;
use super::super::model::{Model, Overlay};
use super::asked;
use super::list::{self, List};

/// What keeps the step shut is said before anything is asked.
fn is_shut(model: &mut Model) -> bool {
    let now = model.now.stamp;
    let shut = model.job().and_then(|job| job.at_hand(now).shut_to_findings(job.step()?));
    let is_shut = shut.is_some();
    if let Some(words) = shut {
        model.say(Tone::Bad, words);
    }
    is_shut
}

/// Opens the list of what may be seen on the part of this step.
pub fn open(model: &mut Model) {
    if is_shut(model) {
        return;
    }
    let Some(job) = model.job() else { return };
    let Some(step) = job.step() else { return };
    let Some(part) = job.inspection.head().checklist.part(&step.part) else { return };
    if part.findings.is_empty() {
        let words = format!("The checklist names nothing to be seen on {}. Write a note instead: Esc 7.", part.name);
        model.say(Tone::Watch, words);
        return;
    }
    let lines = step.kinds_of(part).into_iter().map(|kind| (said(kind), Tone::Plain)).collect();
    let title = format!("what was seen: {}", part.name);
    let purpose = list::Purpose::Finding(part.id.clone());
    model.open(Overlay::List(List::new(title, lines, purpose)));
}

/// `scoring: light, deep or many`.
pub fn said(kind: &FindingKind) -> String {
    let grades: Vec<_> = kind.grades.iter().map(|grade| grade.grade.as_str()).collect();
    format!("{}: {}", kind.kind, grades.join(", "))
}

/// What its dialogue is called.
pub fn title_of(kind: &str) -> String {
    format!("{kind}: what was seen")
}

/// A line of the step's list was chosen, a kind: grade, then what else it asks for.
pub fn chosen(model: &mut Model, part: &str, line: usize) -> Vec<Effect> {
    let kind = model.job().and_then(|job| {
        let part = job.inspection.head().checklist.part(part)?;
        let kind = *job.step()?.kinds_of(part).get(line)?;
        // what is half answered is kept by its place among the part's own kinds: those of no step
        Some((part.findings.iter().position(|one| one == kind)?, title_of(&kind.kind)))
    });
    let Some((place, title)) = kind else { return Vec::new() };
    if is_shut(model) {
        return Vec::new();
    }
    // nothing more is one arrow up again, as the screen says
    if let Some(job) = model.job_mut() {
        job.go_to_line(0);
    }
    asked::open(model, asked::Purpose::Finding(part.to_owned(), place), &title)
}
