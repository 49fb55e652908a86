//! What else: the same lines on every step, each by its digit, and the rarer ones behind the last of them. Nothing here is
//! lost by going back.

use super::super::acts::{FIRST, MORE, Other};
use super::super::effect::Effect;
use super::super::half;
use super::super::look::Tone;
use super::super::model::{Model, Overlay, Screen};
use super::super::update::to_home;
use super::asked;
use super::list::{List, Purpose};
use super::{finding, gauge, help, steps};

/// Lines behind those that are acts.
const BEHIND: [&str; 3] = [
    "more: opening, plan, parts, limits, decisions, remarks, people",
    "words, signs and keys",
    "leave for now, to the first screen (Ctrl-Q ends the program)",
];

/// Opens the list.
pub fn open(model: &mut Model) {
    let acts = FIRST.iter().map(|(_, words)| *words);
    let lines = acts.chain(BEHIND).map(|line| (line.to_owned(), Tone::Plain)).collect();
    let title = "what else: a digit, or arrows and Enter; Esc goes back";
    model.open(Overlay::List(List::new(title, lines, Purpose::Elses)));
}

/// The lines that lead to it from here.
pub fn way_to(other: Other) -> Vec<String> {
    let is_it = |(one, _): &&(Other, &str)| *one == other;
    let first = FIRST.iter().find(is_it).map(|(_, words)| vec![*words]);
    let more = || MORE.iter().find(is_it).map(|(_, words)| vec![BEHIND[0], *words]);
    first.or_else(more).unwrap_or_default().into_iter().map(str::to_owned).collect()
}

/// A line was chosen.
pub fn chosen(model: &mut Model, line: usize) -> Vec<Effect> {
    if let Some((other, _)) = FIRST.get(line) {
        return begin(model, *other);
    }
    match line - FIRST.len() {
        0 => {
            let lines = MORE.iter().map(|(_, words)| ((*words).to_owned(), Tone::Plain)).collect();
            let title = "more: a digit, or arrows and Enter; Esc goes back";
            model.open(Overlay::List(List::new(title, lines, Purpose::More)));
        }
        1 => model.open(Overlay::Help(help::Help::words())),
        _ => return away(model),
    }
    Vec::new()
}

/// A rarer line was chosen.
pub fn chosen_more(model: &mut Model, line: usize) -> Vec<Effect> {
    MORE.get(line).map(|(other, _)| begin(model, *other)).unwrap_or_default()
}

/// Begins what a line stands for: a list where one digit does it, else a dialogue.
pub fn begin(model: &mut Model, other: Other) -> Vec<Effect> {
    let list: fn(&mut Model) = if other == Other::Gauge {
        gauge::open
    } else if other == Other::Seen {
        finding::open
    } else if other == Other::Steps {
        steps::open
    } else {
        return asked::open(model, asked::Purpose::Other(other), other.title());
    };
    list(model);
    Vec::new()
}

/// To the first screen, everything kept.
pub fn away(model: &mut Model) -> Vec<Effect> {
    let Screen::Job(job) = &model.screen else { return Vec::new() };
    if job.saving.fault().is_some() && !job.saving.waiting().is_empty() {
        super::saving::ways_out(model);
        return vec![Effect::Retry];
    }
    let mut effects = half::keep(model);
    effects.extend(to_home(model));
    effects
}
