//! A picture of this step: by its path, or the newest in the watched folder. Kept with the record under its hash.

use crate::domain::entry::{Act, PhotoRef};
use crate::domain::request::Request;

use super::super::acts::Other;
use super::super::asking;
use super::super::effect::Effect;
use super::super::model::{Model, Overlay};
use super::asked::Purpose;

/// It came: it goes into the record; one of the paper that is being copied stands beside all that is copied.
pub fn came(model: &mut Model, photo: PhotoRef) -> Vec<Effect> {
    let step = model.job().and_then(|job| job.step()).map(|step| step.id.clone());
    let of_paper = model
        .overlays
        .iter()
        .any(|overlay| matches!(overlay, Overlay::Form(asked) if asked.purpose == Purpose::Other(Other::Sheet)));
    model.overlays.retain(|overlay| !matches!(overlay, Overlay::Form(_)));
    if let Some(mut finding) = model.job_mut().and_then(|job| job.found.take()) {
        finding.photos.push(photo);
        return asking::ask(model, Request::Do(Act::Finding(*finding)));
    }
    if let Some(late) = model.job_mut().and_then(|job| job.late.as_mut()).filter(|_| of_paper) {
        late.sheet = Some(photo.hash.clone());
    }
    asking::ask(model, Request::Do(Act::Photo { step, photo }))
}
