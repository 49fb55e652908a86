//! Striking an entry: it stays readable, with the reason; the place is open again.

use crate::domain::entry::{Act, Entry};
use crate::domain::request::Request;
use crate::domain::telling;

use super::super::form::{Form, Line, Need};
use super::super::job::Job;
use super::super::look::Tone;
use super::super::model::Model;
use super::asked::{self, Finish, Purpose};

/// Reasons on offer; any other may be typed.
const REASONS: [&str; 6] =
    ["typed wrong", "wrong place", "wrong gauge", "slipped or not seated", "misread", "part not clean"];

/// Opens the form: entries of this step that can be struck, the one under the hand first, then the latest.
pub fn open(model: &mut Model) {
    let Some(job) = model.job() else { return };
    let Some(step) = job.step() else { return };
    let inspection = &job.inspection;
    let of_step = |entry: &&Entry| entry.act.step() == Some(&step.id) && entry.act.can_be_struck();
    let mut entries: Vec<&Entry> = inspection.standing_entries().rev().filter(of_step).collect();
    let place = job.place();
    entries.sort_by_key(|entry| !matches!(&entry.act, Act::Reading { place: at, .. } if *at == place));
    entries.truncate(6);
    if entries.is_empty() {
        model.say(Tone::Watch, "Nothing of this step can be struck. All steps (Esc 6) shows the others.");
        return;
    }
    let choices = entries.iter().map(|entry| format!("entry {}: {}", entry.number, said(job, entry)));
    let mut which = Line::one_of("which entry", choices.collect(), Need::Wanted);
    which.field = super::super::field::Field::holding("1");
    let why = Line::offered("why", "a number, or in words", REASONS.map(str::to_owned).to_vec(), Need::Wanted);
    let numbers = entries.iter().map(|entry| entry.number).collect();
    asked::open(
        model,
        Purpose::Strike(numbers),
        Form::new("strike an entry: it stays readable, the place is open again", vec![which, why]),
    );
}

/// `outer 0, first up: 0.228 mm with D2`.
fn said(job: &Job, entry: &Entry) -> String {
    let Act::Reading { place, taken, gauge, .. } = &entry.act else {
        return telling::of_entry(&job.inspection, entry);
    };
    let cell = job.cells().into_iter().find(|cell| cell.place() == *place);
    let gauge = gauge.as_ref().map(|gauge| format!(" with {gauge}")).unwrap_or_default();
    format!("{}: {taken}{gauge}", cell.map_or_else(|| place.clone(), |cell| cell.spoken()))
}

/// The strike.
pub fn finish(entries: &[u32], form: &Form) -> Finish {
    let entry = form.chosen(0).and_then(|line| entries.get(line));
    match (entry, form.answer(1)) {
        (Some(entry), Some(reason)) => Finish::Requests(vec![Request::Do(Act::Strike { entry: *entry, reason })]),
        (None, _) | (_, None) => Finish::Wrong(0, "Which entry? Type its number in the list.".to_owned()),
    }
}
