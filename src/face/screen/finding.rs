//! Something seen: its kind, its grade with what that leads to, the place and the size where they are asked.

use std::collections::BTreeMap;

use crate::domain::checklist::{Ask, FindingKind, Grade};
use crate::domain::entry::{Act, FindingMade};
use crate::domain::progress;
use crate::domain::request::Request;
use crate::domain::verdict::Consequence;

use super::super::effect::Effect;
use super::super::form::{Form, Line, Need};
use super::super::look::Tone;
use super::super::model::{Model, Overlay};
use super::asked::{self, Finish, Purpose};
use super::list::{self, List};

/// Opens the list of what may be seen on the part of this step.
pub fn open(model: &mut Model) {
    let Some(job) = model.job() else { return };
    let Some(part) = job.step().and_then(|step| job.inspection.head().checklist.part(&step.part)) else { return };
    if part.findings.is_empty() {
        let words = format!("The checklist names nothing to be seen on {}. Write a note instead: Esc 7.", part.name);
        model.say(Tone::Watch, words);
        return;
    }
    let lines = part.findings.iter().map(|kind| (said(kind), Tone::Plain)).collect();
    let title = format!("what was seen: {}", part.name);
    let purpose = list::Purpose::Finding(part.id.clone());
    model.open(Overlay::List(List::new(title, lines, purpose)));
}

/// `scoring: light, deep or many`.
pub fn said(kind: &FindingKind) -> String {
    let grades: Vec<_> = kind.grades.iter().map(|grade| grade.grade.as_str()).collect();
    format!("{}: {}", kind.kind, grades.join(", "))
}

/// A kind was chosen: grade, then what else it asks for.
pub fn chosen(model: &mut Model, part: &str, line: usize) -> Vec<Effect> {
    let found = model.job().and_then(|job| job.inspection.head().checklist.part(part)?.findings.get(line).cloned());
    if let Some(kind) = found {
        open_form(model, part, kind);
    }
    Vec::new()
}

/// Opens the form of one kind.
pub fn open_form(model: &mut Model, part: &str, kind: FindingKind) {
    let grades = kind.grades.iter().map(|grade| format!("{} -> {}", grade.grade, leads_to(grade)));
    let mut lines = vec![Line::one_of("how bad", grades.collect(), Need::Wanted)];
    let last = |ask| progress::last_detail(&model.job()?.inspection, part, ask);
    lines.extend(kind.asks.iter().filter_map(|ask| question(*ask, last(*ask))));
    lines.push(Line::text("note", "in words", Need::Free));
    let title = format!("{}: what was seen", kind.kind);
    asked::open(model, Purpose::Finding(part.to_owned(), Box::new(kind)), Form::new(&title, lines));
}

/// What a grade leads to, said before it is chosen.
fn leads_to(grade: &Grade) -> &'static str {
    match grade.leads_to {
        Consequence::Nothing => "recorded only",
        Consequence::Call => "stop and call",
        Consequence::Watch | Consequence::Refer | Consequence::Rework | Consequence::Replace => grade.leads_to.word(),
    }
}

/// The line that asks for a detail; the picture is taken afterwards, with Esc 8.
fn question(ask: Ask, last: Option<String>) -> Option<Line> {
    let (label, hint) = match ask {
        Ask::Number => ("which one", "number of the blade, vane, land or field"),
        Ask::Place => ("where on it", "such as 22 mm from the tip"),
        Ask::Length => ("length", "such as 1.8 mm"),
        Ask::Width => ("width", "such as 0.4 mm"),
        Ask::Depth => ("depth", "such as 0.6 mm"),
        Ask::Others => ("others looked at, sound", "how many"),
        Ask::Photo => return None,
    };
    let hint =
        last.map_or_else(|| hint.to_owned(), |last| format!("last time {last}; {} takes it again", progress::AGAIN));
    Some(Line::text(label, &hint, Need::Free))
}

/// The finding.
pub fn finish(model: &Model, part: &str, kind: &FindingKind, form: &Form) -> Finish {
    let step = model.job().and_then(|job| job.step()).map(|step| step.id.clone()).unwrap_or_default();
    let Some(grade) = form.chosen(0).and_then(|line| kind.grades.get(line)) else {
        return Finish::Wrong(0, "How bad is it? Type the number of the grade.".to_owned());
    };
    let asks: Vec<Ask> = kind.asks.iter().copied().filter(|ask| *ask != Ask::Photo).collect();
    let details = asks.iter().enumerate().filter_map(|(line, ask)| {
        let answer = form.answer(line + 1)?;
        let last = || progress::last_detail(&model.job()?.inspection, part, *ask);
        let answer = if answer == progress::AGAIN { last()? } else { answer };
        Some((ask.word().to_owned(), answer))
    });
    let made = FindingMade {
        part: part.to_owned(),
        step,
        kind: kind.kind.clone(),
        grade: grade.grade.clone(),
        details: details.collect::<BTreeMap<_, _>>(),
        note: form.answer(asks.len() + 1),
        photos: Vec::new(),
    };
    Finish::Requests(vec![Request::Do(Act::Finding(made))])
}
