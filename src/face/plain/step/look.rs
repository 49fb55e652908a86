//! Looking: nothing found, or findings with grade and details, one after the other.

use std::collections::BTreeMap;

use crate::domain::checklist::{Ask, FindingKind, Part, Step};
use crate::domain::entry::{Act, FindingMade};
use crate::domain::inspection::Inspection;
use crate::domain::progress;
use crate::domain::request::Request;

use super::super::inquiry::{Answers, Reply, Stop, chosen, numbered};
use super::super::{Deed, Session};
use super::act;

impl Session {
    /// The kinds that may be seen, then "nothing"; asked again until nothing more is seen.
    pub(super) fn look(&self, step: &Step, answers: &mut Answers<'_>) -> Reply<Deed> {
        let Some(part) = self.inspection.head().checklist.part(&step.part) else { return Ok(Deed::Say(Vec::new())) };
        let seen = self
            .inspection
            .standing_entries()
            .any(|entry| matches!(&entry.act, Act::Finding(finding) if finding.step == step.id));
        let nothing = if seen { "nothing more" } else { "nothing" };
        let kinds: Vec<_> = part.findings.iter().map(|kind| kind.kind.clone()).collect();
        let text = format!("what is seen ({nothing}, or 1 to {})?", kinds.len());
        let text = if kinds.is_empty() { format!("what is seen ({nothing})?") } else { text };
        let typed = answers.line(numbered(&kinds), &text)?;
        if typed.eq_ignore_ascii_case("nothing") || typed.eq_ignore_ascii_case(nothing) {
            return Ok(act(Act::Looked { step: step.id.clone() }));
        }
        let kind = chosen(typed, &kinds).and_then(|index| part.findings.get(index));
        let Some(kind) = kind else {
            let wrong = format!("`{typed}` is none of these. Type its number, its words, or {nothing}.");
            return Err(Stop::Wrong(wrong));
        };
        finding(&self.inspection, step, (part, kind), answers)
    }
}

/// Grade and details of one finding.
pub(in super::super) fn finding(
    inspection: &Inspection,
    step: &Step,
    (part, kind): (&Part, &FindingKind),
    answers: &mut Answers<'_>,
) -> Reply<Deed> {
    let grades: Vec<_> =
        kind.grades.iter().map(|grade| format!("{}, leads to {}", grade.grade, grade.leads_to.word())).collect();
    let index = answers.choose(&format!("{}, how grave", kind.kind), &grades)?;
    let grade = kind.grades.get(index).map(|grade| grade.grade.clone()).unwrap_or_default();
    let mut details = BTreeMap::new();
    for ask in kind.asks.iter().filter(|ask| **ask != Ask::Photo) {
        let last = progress::last_detail(inspection, &part.id, *ask);
        let offer = last.as_ref().map(|last| format!(" ({} for {last})", progress::AGAIN)).unwrap_or_default();
        let typed = answers.maybe(&format!("{}, {}{offer}", kind.kind, asked(*ask)))?;
        if let Some(text) = if typed.as_deref() == Some(progress::AGAIN) { last } else { typed } {
            details.insert(ask.word().to_owned(), text);
        }
    }
    let note = answers.maybe(&format!("{}, in words", kind.kind))?;
    let made = FindingMade {
        part: part.id.clone(),
        step: step.id.clone(),
        kind: kind.kind.clone(),
        grade,
        details,
        note,
        photos: Vec::new(),
    };
    if kind.asks.contains(&Ask::Photo) {
        let photo = answers.maybe("photo: its file, or newest for the newest in the watched folder")?;
        if let Some(path) = photo {
            let path = Some(path).filter(|path| !path.eq_ignore_ascii_case("newest"));
            return Ok(Deed::Found(Box::new(made), path));
        }
    }
    Ok(Deed::Ask(vec![Request::Do(Act::Finding(made))]))
}

fn asked(ask: Ask) -> &'static str {
    match ask {
        Ask::Number => "number: which blade, vane, land or field",
        Ask::Place => "place: where on it",
        Ask::Length => "length",
        Ask::Width => "width",
        Ask::Depth => "depth",
        Ask::Others => "others: how many others were looked at and are sound",
        Ask::Photo => "photo",
    }
}
