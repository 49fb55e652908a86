//! Stop and call: the part is held with a question until somebody has answered.

use crate::domain::entry::Act;
use crate::domain::inspection::Inspection;
use crate::domain::request::Request;

use super::super::form::{Form, Line, Need};
use super::super::model::Model;
use super::asked::{self, Finish, Purpose};

/// The call on this part that nobody has answered.
fn open_call<'a>(inspection: &'a Inspection, part: &str) -> Option<(u32, &'a str)> {
    let answered = |call: u32| {
        inspection.standing_entries().any(|later| matches!(&later.act, Act::Answer { entry, .. } if *entry == call))
    };
    inspection.standing_entries().find_map(|entry| {
        let Act::Call { part: of, question } = &entry.act else { return None };
        (of == part && !answered(entry.number)).then_some((entry.number, question.as_str()))
    })
}

/// Opens the form: a question, or the answer to the one that is open.
pub fn open(model: &mut Model) {
    let Some(job) = model.job() else { return };
    let Some(step) = job.step() else { return };
    let part = step.part.clone();
    let name = job.inspection.head().checklist.part(&part).map_or(part.clone(), |part| part.name.clone());
    if let Some((call, question)) = open_call(&job.inspection, &part) {
        let lines = vec![
            Line::text("who answered", "name and office", Need::Wanted),
            Line::text("the answer", "in words", Need::Wanted),
        ];
        let title = format!("answer to: {question}");
        asked::open(model, Purpose::Answer(call), Form::new(&title, lines));
        return;
    }
    let lines = vec![Line::text("the question", "who is called, and what is asked", Need::Wanted)];
    let title = format!("stop and call: {name} is held until somebody has answered");
    asked::open(model, Purpose::Call(part), Form::new(&title, lines));
}

/// The call.
pub fn finish(part: &str, form: &Form) -> Finish {
    match form.answer(0) {
        Some(question) => Finish::Requests(vec![Request::Do(Act::Call { part: part.to_owned(), question })]),
        None => Finish::Wrong(0, "The question is wanted.".to_owned()),
    }
}

/// The answer.
pub fn finish_answer(entry: u32, form: &Form) -> Finish {
    match (form.answer(0), form.answer(1)) {
        (Some(who), Some(text)) => Finish::Requests(vec![Request::Do(Act::Answer { entry, who, text })]),
        (None, _) | (_, None) => Finish::Wrong(0, "Who answered, and what?".to_owned()),
    }
}
