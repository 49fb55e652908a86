//! Far view: place, last figure and verdict five rows high, to be read from two metres. The field goes on working.

use crate::domain::standing::CharacteristicStanding;

use super::super::action::Action;
use super::super::effect::Effect;
use super::super::input::Key;
use super::super::job::Job;
use super::super::look::Tone;
use super::super::model::{Model, Overlay};
use super::super::pen::{Pen, wrap};
use super::super::shown::{self, Shown};
use super::super::widget::digits;
use super::{elses, lower, readings, tick};

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

/// Rows of everything, and of everything without a free row between.
const ROOMY: usize = 21;
const CLOSE: usize = 14;

/// ```text
///  NOW   inner 0, third up
///        #### in figures five rows high: what is typed
///  LAST  inner 0, third down   0.018 mm
///        #### the last figure
///        + within
/// ```
pub fn view(pen: &mut Pen<'_>, model: &Model, job: &Job) {
    pen.clear();
    let is_small = pen.height() < CLOSE;
    let free = usize::from(pen.height() >= ROOMY);
    if job.is_step_settled() && job.field().is_empty() {
        let heads = wrap(&tick::settled(job, "all taken").to_uppercase(), pen.width().saturating_sub(2));
        for (row, line) in heads.iter().enumerate() {
            pen.centre(row, line, Tone::Strong);
        }
        let all = lower::by_weight(job);
        return match (all.is_empty(), is_small) {
            (true, _) => {
                pen.centre(heads.len(), "NOTHING IS JUDGED AT THIS STEP", Tone::Plain);
                last_taken(pen, job, heads.len() + 1 + free, (is_small, free));
            }
            (false, true) => settled_in_words(pen, heads.len(), &all),
            (false, false) => settled(pen, heads.len() + 1, &all),
        };
    }
    let place = job.cell().map(|cell| cell.spoken());
    let now = place.unwrap_or_else(|| job.step().map(|step| step.title.clone()).unwrap_or_default());
    pen.put(2, 0, "NOW", Tone::Key);
    pen.centre(0, &now.to_uppercase(), Tone::Strong);
    let typed = format!("{}_", job.field());
    let last = if is_small {
        pen.centre(1, &typed, Tone::Strong);
        2
    } else {
        if typed.chars().all(digits::is_drawn) {
            digits::draw(pen, 1 + free, &typed, Tone::Strong);
        } else {
            pen.centre(2, &typed, Tone::Strong);
        }
        6 + 3 * free
    };
    let below = if is_small { last + 2 } else { last + 7 + 3 * free };
    let said = model.said.as_ref().map(|said| (wrap(&said.text, pen.width().saturating_sub(4)), said.tone));
    let (lines, tone) = said.unwrap_or((Vec::new(), Tone::Plain));
    let fits = below + lines.len() <= pen.height();
    // what is said just now is read before the last figure is read again
    let top = if fits { below } else { last };
    for (row, line) in lines.iter().enumerate() {
        pen.put(2, top + row, line, tone);
    }
    if fits {
        last_taken(pen, job, last, (is_small, free));
    }
}

/// The figure taken last, from row `y`, with its verdict; `free` rows between.
fn last_taken(pen: &mut Pen<'_>, job: &Job, y: usize, (is_small, free): (bool, usize)) {
    let Some(last) = &job.last else { return };
    let (words, tone) = shown::last_verdict(job);
    let figure = last.figure.split(' ').next().unwrap_or_default();
    pen.put(2, y, "LAST", Tone::Key);
    if is_small {
        pen.centre(y, &format!("{}  {figure}", last.place.to_uppercase()), Tone::Strong);
        pen.centre(y + 1, &words.to_uppercase(), tone);
        return;
    }
    if free > 0 {
        pen.rule(y - 1, "");
    }
    pen.centre(y, &last.place.to_uppercase(), Tone::Strong);
    digits::draw(pen, y + 1 + free, figure, tone);
    pen.centre(y + 6 + 2 * free, &words.to_uppercase(), tone);
}

/// What was judged, in a window too low for large figures.
fn settled_in_words(pen: &mut Pen<'_>, mut y: usize, all: &[&CharacteristicStanding]) {
    for standing in all {
        let shown = Shown::of(standing);
        let words = format!("{} {}: {}", shown.verdict, standing.characteristic.name(), shown.figure);
        for line in wrap(words.trim_end_matches([':', ' ']), pen.width().saturating_sub(2)) {
            pen.put(1, y, &line, shown.tone);
            y += 1;
        }
    }
}

/// What was judged, the worst first.
fn settled(pen: &mut Pen<'_>, top: usize, all: &[&CharacteristicStanding]) {
    let rows = pen.height().saturating_sub(top);
    for (at, standing) in all.iter().take((rows + 1) / 9).enumerate() {
        let shown = Shown::of(standing);
        let (figure, place) = shown.figure.split_once(' ').unwrap_or((shown.figure.as_str(), ""));
        let y = top + at * 9;
        let name = format!("{}, {place}", standing.characteristic.name());
        pen.centre(y, &name.trim_end_matches([',', ' ']).to_uppercase(), Tone::Strong);
        digits::draw(pen, y + 1, figure, shown.tone);
        for (row, line) in wrap(&shown.verdict.to_uppercase(), pen.width().saturating_sub(2)).iter().take(2).enumerate()
        {
            pen.centre(y + 7 + row, line, shown.tone);
        }
    }
}
