//! What is half done and not in the record: kept within a tenth of a second of a key, so that leaving in any way comes back
//! to the same field, the open form too.

use crate::records::store::{Draft, HalfForm};

use super::action::{Action, Scope};
use super::effect::Effect;
use super::field::Field;
use super::form::Form;
use super::input::Key;
use super::model::{Model, Overlay, Screen};
use super::screen::{self, asked, bench, elses, gauge, list};

/// What is kept, and of what.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Half {
    /// Of an inspection on the bench: its id.
    Job(String, Box<Draft>),
    /// Of an inspection being begun; none once it has begun.
    Begin(Option<HalfForm>),
}

/// The answers of a form as they stand.
pub fn of_form(form: &Form, way: &[String]) -> HalfForm {
    HalfForm {
        way: way.to_vec(),
        at: u32::try_from(form.at).unwrap_or(0),
        answers: form.lines.iter().map(|line| line.field.text().to_owned()).collect(),
    }
}

/// Everything half done on the screen.
pub(super) fn of(model: &Model) -> Option<Half> {
    match &model.screen {
        Screen::Job(job) => {
            let form = model.overlays.iter().find_map(|overlay| match overlay {
                Overlay::Form(asked) => Some(of_form(&asked.form, &model.way)),
                Overlay::List(_)
                | Overlay::Question(_)
                | Overlay::Notice(_)
                | Overlay::Steps(_)
                | Overlay::Help(_)
                | Overlay::Far => None,
            });
            let draft = Draft { form, ..job.draft() };
            Some(Half::Job(job.inspection.head().id.clone(), Box::new(draft)))
        }
        Screen::Begin(begin) => Some(Half::Begin(Some(of_form(&begin.form, &[])))),
        Screen::Wait(_) | Screen::Home(_) | Screen::Review(_) | Screen::Registers(_) => None,
    }
}

/// Keeps it now.
pub fn keep(model: &Model) -> Vec<Effect> {
    of(model).map(Effect::Keep).into_iter().collect()
}

/// Puts kept answers into a form of the same lines.
pub fn fill(form: &mut Form, half: &HalfForm) {
    if half.answers.len() != form.lines.len() {
        return;
    }
    for (line, text) in form.lines.iter_mut().zip(&half.answers) {
        line.field = Field::holding(text);
    }
    form.at = usize::try_from(half.at).unwrap_or(0).min(form.lines.len().saturating_sub(1));
}

/// Opens a form again by the way that was taken to it; nothing is opened where that way is closed.
pub(super) fn reopen(model: &mut Model, half: &HalfForm) {
    match half.way.split_first() {
        // the last line of a look is no finding: choosing it would be an entry
        None if model.scope() == Scope::Look && model.job().is_some_and(|job| job.at() + 1 < job.lines()) => {
            drop(bench::enter(model));
        }
        None => {}
        Some(_) => {
            elses::open(model);
            if !walk(model, &half.way) {
                model.overlays.clear();
                gauge::open(model);
                walk(model, &half.way);
            }
        }
    }
    if matches!(model.overlays.last(), Some(Overlay::Form(_))) {
        asked::fill(model, half);
        half.way.clone_into(&mut model.way);
    } else {
        model.overlays.clear();
    }
}

/// Chooses line after line; says whether each was there.
fn walk(model: &mut Model, way: &[String]) -> bool {
    way.iter().all(|words| {
        let Some(Overlay::List(found)) = model.overlays.last() else { return false };
        let Some(line) = found.lines.iter().position(|(line, _)| line == words) else { return false };
        let there = screen::mark(model, Some(line));
        if let Some(Overlay::List(found)) = model.overlays.pop() {
            drop(list::act(model, found, Action::Choose, Key::Enter));
        }
        there
    })
}
