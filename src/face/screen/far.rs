//! Far view: place, last figure and verdict five rows high, to be read from two metres. The field goes on working.

use super::super::action::Action;
use super::super::effect::Effect;
use super::super::input::Key;
use super::super::job::Job;
use super::super::look::Tone;
use super::super::model::{Model, Overlay};
use super::super::pen::Pen;
use super::super::shown::{self, Shown};
use super::super::widget::digits;
use super::{elses, readings};

/// Keys of the far view.
pub fn act(model: &mut Model, action: Action, key: Key) -> Vec<Effect> {
    if action == Action::Far {
        return Vec::new();
    }
    model.overlays.push(Overlay::Far);
    if action == Action::Else {
        elses::open(model);
    }
    if action == Action::Place {
        readings::go(model, key);
    }
    if action == Action::FarTake { super::bench::enter(model) } else { Vec::new() }
}

/// ```text
///  NOW   inner 0, third up
///        #### in figures five rows high: what is typed
///  LAST  inner 0, third down   0.018 mm
///        #### the last figure
///        + within
/// ```
pub fn view(pen: &mut Pen<'_>, model: &Model, job: &Job) {
    pen.clear();
    if job.is_step_settled() && job.field().is_empty() {
        settled(pen, job);
        return;
    }
    let place = job.cell().map(|cell| cell.spoken());
    let now = place.unwrap_or_else(|| job.step().map(|step| step.title.clone()).unwrap_or_default());
    if let Some(said) = &model.said {
        pen.put(2, 19, &said.text, said.tone);
    }
    pen.put(2, 0, "NOW", Tone::Key);
    pen.centre(0, &now.to_uppercase(), Tone::Strong);
    let typed = format!("{}_", job.field());
    digits::draw(pen, 2, &typed, Tone::Strong);
    let Some(last) = &job.last else { return };
    pen.rule(8, "");
    pen.put(2, 9, "LAST", Tone::Key);
    pen.centre(9, &last.place.to_uppercase(), Tone::Strong);
    let (words, tone) = shown::last_verdict(job);
    digits::draw(pen, 11, last.figure.split(' ').next().unwrap_or_default(), tone);
    pen.centre(17, &words.to_uppercase(), tone);
}

/// All taken: what was judged, the worst first.
fn settled(pen: &mut Pen<'_>, job: &Job) {
    pen.centre(0, "ALL TAKEN. ENTER: NEXT STEP", Tone::Strong);
    let Some(step) = job.step() else { return };
    let mut judged: Vec<_> = job.standing.of_step(&step.id).collect();
    judged.sort_by_key(|one| std::cmp::Reverse(shown::how_bad(one)));
    for (at, standing) in judged.iter().take(2).enumerate() {
        let shown = Shown::of(standing);
        let (figure, place) = shown.figure.split_once(' ').unwrap_or((shown.figure.as_str(), ""));
        let y = 2 + at * 9;
        pen.centre(y, &format!("{}, {place}", standing.characteristic.name()).to_uppercase(), Tone::Strong);
        digits::draw(pen, y + 1, figure, shown.tone);
        pen.centre(y + 7, &shown.verdict.to_uppercase(), shown.tone);
    }
}
