//! A picture of this step: by its path, or the newest in the watched folder. Kept with the record under its hash.

use crate::domain::entry::{Act, PhotoRef};
use crate::domain::request::Request;

use super::super::acts::Other;
use super::super::asking;
use super::super::effect::Effect;
use super::super::model::{Model, Overlay};
use super::asked::Purpose;

/// It came: it goes into the record; one of the paper that is being copied stands beside all that is copied. Where it is
/// refused, the dialogue stays with its answers.
pub fn came(model: &mut Model, photo: PhotoRef) -> Vec<Effect> {
    let step = model.job().and_then(|job| job.step()).map(|step| step.id.clone());
    let (forms, rest): (Vec<_>, _) = model.overlays.drain(..).partition(|one| matches!(one, Overlay::Form(_)));
    model.overlays = rest;
    let is_sheet = |one: &Overlay| matches!(one, Overlay::Form(asked) if asked.purpose == Purpose::Other(Other::Sheet));
    let of_paper = forms.iter().any(is_sheet);
    let act = if let Some(mut finding) = model.job_mut().and_then(|job| job.found.take()) {
        finding.photos.push(photo);
        Act::Finding(*finding)
    } else {
        if let Some(late) = model.job_mut().and_then(|job| job.late.as_mut()).filter(|_| of_paper) {
            late.sheet = Some(photo.hash.clone());
        }
        Act::Photo { step, photo }
    };
    let effects = asking::ask(model, Request::Do(act));
    if effects.is_empty() && !matches!(model.overlays.last(), Some(Overlay::Question(_))) {
        model.overlays.extend(forms);
    }
    effects
}
