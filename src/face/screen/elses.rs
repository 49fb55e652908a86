//! What else: the same ten lines on every step, each by its digit. Nothing here is lost by going back.

use super::super::effect::Effect;
use super::super::half;
use super::super::look::Tone;
use super::super::model::{Model, Overlay, Screen};
use super::super::update::to_home;
use super::list::{List, Purpose};
use super::{finding, gauge, hands, help, note, photo, skip, steps, stop, strike};

/// The lines in their order; the digits are known by heart after a day.
const LINES: [&str; 11] = [
    "strike an entry, with a reason",
    "other gauge",
    "something seen: a finding",
    "cannot be measured, skip, not on this machine",
    "stop and call: hold this part with a question, or answer one",
    "all steps, with a search",
    "note, or figures late from paper",
    "photo",
    "who is here: who reads, who writes",
    "words, signs and keys",
    "leave for now, to the first screen (Ctrl-Q ends the program)",
];

/// Opens the list.
pub fn open(model: &mut Model) {
    let lines = LINES.iter().map(|line| ((*line).to_owned(), Tone::Plain)).collect();
    model.open(Overlay::List(List::new(
        "what else: a digit, or arrows and Enter; Esc goes back",
        lines,
        Purpose::Elses,
    )));
}

/// A line was chosen.
pub fn chosen(model: &mut Model, line: usize) -> Vec<Effect> {
    match line {
        0 => strike::open(model),
        1 => gauge::open(model),
        2 => finding::open(model),
        3 => skip::open(model),
        4 => stop::open(model),
        5 => steps::open(model),
        6 => note::open(model),
        7 => photo::open(model),
        8 => hands::open(model),
        9 => model.open(Overlay::Help(help::Help::words())),
        _ => return away(model),
    }
    Vec::new()
}

/// To the first screen, everything kept.
fn away(model: &mut Model) -> Vec<Effect> {
    let Screen::Job(job) = &model.screen else { return Vec::new() };
    if job.saving.fault().is_some() && !job.saving.waiting().is_empty() {
        super::saving::ways_out(model);
        return vec![Effect::Retry];
    }
    let mut effects = half::keep(model);
    effects.extend(to_home(model));
    effects
}
