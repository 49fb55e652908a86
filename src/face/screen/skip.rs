//! What cannot be measured: a place or a step left out, with a reason and a name; or not on this machine.

use crate::domain::checklist::Takes;
use crate::domain::entry::Act;
use crate::domain::request::Request;

use super::super::form::{Form, Line, Need};
use super::super::model::Model;
use super::asked::{self, Finish, Purpose};

/// What may be left out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum What {
    /// A point of a step.
    Point(String, String),
    /// A step, and the place under the hand where it has places.
    Step(String, Option<String>),
}

const REASONS: [&str; 6] = [
    "cannot be reached",
    "part missing or broken",
    "gauge not here",
    "not asked for on this job",
    "destroyed by taking apart",
    "no time left",
];

/// Opens the form for what the hand is on.
pub fn open(model: &mut Model) {
    let Some(job) = model.job() else { return };
    let Some(step) = job.step() else { return };
    let why = Line::offered("why", "a number, or in words", REASONS.map(str::to_owned).to_vec(), Need::Wanted);
    if let Takes::Points(points) = &step.takes {
        let Some(point) = points.get(job.at()) else { return };
        let why = Line::text("why this machine does not have it", "in words; your name stands for it", Need::Wanted);
        let title = format!("not applicable: {}", point.text);
        let what = What::Point(step.id.clone(), point.id.clone());
        asked::open(model, Purpose::Skip(what), Form::new(&title, vec![why]));
        return;
    }
    let mut choices =
        vec!["the whole step: skip it".to_owned(), "the whole step: this machine does not have it".to_owned()];
    let cell = job.cell();
    choices.extend(cell.as_ref().map(|cell| format!("this place only: {}", cell.spoken())));
    let what = What::Step(step.id.clone(), cell.map(|cell| cell.place()));
    let which = Line::one_of("what is left out", choices, Need::Wanted);
    asked::open(
        model,
        Purpose::Skip(what),
        Form::new("cannot be measured: left out with a reason, the part stays open", vec![which, why]),
    );
}

/// The skip, or the mark that the machine does not have it.
pub fn finish(what: &What, form: &Form) -> Finish {
    let act = match what {
        What::Point(step, point) => {
            let Some(reason) = form.answer(0) else { return Finish::Wrong(0, "A reason is wanted.".to_owned()) };
            Act::NotApplicable { step: step.clone(), point: Some(point.clone()), reason }
        }
        What::Step(step, place) => {
            let Some(reason) = form.answer(1) else { return Finish::Wrong(1, "A reason is wanted.".to_owned()) };
            match form.chosen(0) {
                Some(0) => Act::Skip { step: step.clone(), place: None, reason },
                Some(1) => Act::NotApplicable { step: step.clone(), point: None, reason },
                Some(_) | None => Act::Skip { step: step.clone(), place: place.clone(), reason },
            }
        }
    };
    Finish::Requests(vec![Request::Do(act)])
}
