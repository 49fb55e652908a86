//! A picture of this step: by its path, or the newest in the watched folder. Kept with the record under its hash.

use crate::domain::entry::{Act, PhotoRef};
use crate::domain::request::Request;

use super::super::asking;
use super::super::effect::{Effect, Query};
use super::super::form::{Form, Line, Need};
use super::super::model::Model;
use super::asked::{self, Finish, Purpose};

/// Opens the form.
pub fn open(model: &mut Model) {
    let path = Line::offered(
        "which picture",
        "its path, or 1",
        vec!["newest picture in the watched folder".to_owned()],
        Need::Wanted,
    );
    asked::open(model, Purpose::Photo, Form::new("photo of this step, kept with the record", vec![path]));
}

/// Fetches it.
pub fn finish(form: &Form) -> Finish {
    let path = if form.chosen(0).is_some() { None } else { form.answer(0) };
    Finish::Query(Query::Photo(path))
}

/// It came: it goes into the record, and onto the paper that is being copied.
pub fn came(model: &mut Model, photo: PhotoRef) -> Vec<Effect> {
    let step = model.job().and_then(|job| job.step()).map(|step| step.id.clone());
    if let Some(late) = model.job_mut().and_then(|job| job.late.as_mut()) {
        late.sheet = Some(photo.hash.clone());
    }
    asking::ask(model, Request::Do(Act::Photo { step, photo }))
}
