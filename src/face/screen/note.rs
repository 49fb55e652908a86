//! A note, or figures copied late from paper: they keep the time the paper says.

use crate::domain::entry::{Act, Late};
use crate::domain::request::Request;

use super::super::form::{Form, Line, Need};
use super::super::look::Tone;
use super::super::model::Model;
use super::asked::{self, Finish, Purpose};

const WHAT: [&str; 4] =
    ["a note on this step", "a note on the whole job", "from here on: figures late from paper", "no longer from paper"];

/// Opens the form.
pub fn open(model: &mut Model) {
    let what = Line::one_of("what", WHAT.map(str::to_owned).to_vec(), Need::Wanted);
    let text = Line::text("words", "", Need::Free);
    asked::open(model, Purpose::Note, Form::new("note, or late from paper", vec![what, text]));
}

/// The second line asks what the first one needs.
pub fn grow(form: &mut Form) {
    let chosen = form.chosen(0);
    let Some(line) = form.lines.get_mut(1) else { return };
    let (label, hint, need) = match chosen {
        Some(2) => ("when it was taken", "as the paper says, such as 11 July, 15:20", Need::Wanted),
        Some(3) => ("nothing more", "Enter", Need::Free),
        Some(_) | None => ("the note", "in words", Need::Wanted),
    };
    (line.label, line.hint, line.need) = (label.to_owned(), hint.to_owned(), need);
}

/// The note, or the paper laid beside.
pub fn finish(model: &mut Model, form: &Form) -> Finish {
    let text = form.answer(1).unwrap_or_default();
    let Some(job) = model.job_mut() else { return Finish::Done };
    let step = job.step().map(|step| step.id.clone());
    match form.chosen(0) {
        Some(0) => Finish::Requests(vec![Request::Do(Act::Note { step, text })]),
        Some(1) => Finish::Requests(vec![Request::Do(Act::Note { step: None, text })]),
        Some(2) => {
            job.late = Some(Late { taken: text, sheet: None });
            model.say(
                Tone::Watch,
                "What is typed now is late from paper, until Esc 7 says otherwise. Take a photo of the sheet: Esc 8.",
            );
            Finish::Done
        }
        Some(_) | None => {
            job.late = None;
            model.say(Tone::Good, "No longer from paper.");
            Finish::Done
        }
    }
}
