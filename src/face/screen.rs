//! One file a screen: its state, what its keys do, how it is drawn. Here: who gets the action.

pub mod asked;
pub mod begin;
pub mod bench;
pub mod deed;
pub mod elses;
pub mod far;
pub mod finding;
pub mod gauge;
pub mod hands;
pub mod help;
pub mod home;
pub mod list;
pub mod look;
pub mod lower;
pub mod notice;
pub mod photo;
pub mod points;
pub mod question;
pub mod readings;
pub mod registers;
pub mod review;
pub mod saving;
pub mod sign;
pub mod small;
pub mod soak;
pub mod steps;
pub mod tick;
pub mod wide;
pub mod words;

use super::action::Action;
use super::effect::Effect;
use super::form::Go;
use super::half;
use super::input::Key;
use super::model::{Model, Overlay, Screen};

/// Which way a key goes.
pub fn way(key: Key) -> Go {
    if matches!(key, Key::Up | Key::Left | Key::BackTab | Key::PageUp) { Go::Back } else { Go::On }
}

/// Rows scrolled away behind a key that scrolls by so many.
pub fn scrolled(scroll: usize, key: Key, by: usize) -> usize {
    match way(key) {
        Go::Back => scroll.saturating_sub(by),
        Go::On => scroll + by,
    }
}

/// Does what a key means, to whatever lies on top.
pub fn act(model: &mut Model, action: Action, key: Key) -> Vec<Effect> {
    if action == Action::Leave {
        return leave(model);
    }
    if action == Action::Help {
        if !matches!(model.overlays.last(), Some(Overlay::Help(_))) {
            let scope = model.scope();
            model.open(Overlay::Help(help::Help::keys(scope)));
        }
        return Vec::new();
    }
    if action == Action::Rub {
        rub(model, key);
        return Vec::new();
    }
    match model.overlays.pop() {
        Some(Overlay::List(list)) => list::act(model, list, action, key),
        Some(Overlay::Form(asked)) => asked::act(model, asked, action, key),
        Some(Overlay::Question(question)) => question::act(model, question, action, key),
        Some(Overlay::Notice(notice)) => notice::act(model, notice, action, key),
        Some(Overlay::Steps(steps)) => steps::act(model, steps, action, key),
        Some(Overlay::Help(help)) => help::act(model, help, action, key),
        Some(Overlay::Far) => far::act(model, action, key),
        None => on_screen(model, action, key),
    }
}

fn on_screen(model: &mut Model, action: Action, key: Key) -> Vec<Effect> {
    match &mut model.screen {
        Screen::Home(_) => home::act(model, action, key),
        Screen::Begin(_) => begin::act(model, action, key),
        Screen::Job(_) => bench::act(model, action, key),
        Screen::Review(_) => review::act(model, action, key),
        Screen::Registers(_) => registers::act(model, action, key),
        Screen::Wait(_) => super::update::to_home(model),
    }
}

/// Takes characters out of the field.
fn rub(model: &mut Model, key: Key) {
    if let Some((field, _)) = model.field_mut() {
        if key == Key::Delete {
            field.take();
        } else {
            field.backspace();
        }
    }
    typed(model);
}

/// The text of a field has changed: a search is run again, what was marked is marked no longer.
pub fn typed(model: &mut Model) {
    if let Some(Overlay::Steps(steps)) = model.overlays.last_mut() {
        steps.marked = 0;
    }
    if let Some(Overlay::Form(asked)) = model.overlays.last_mut() {
        asked.talk.marked = None;
    }
    if let Screen::Begin(begin) = &mut model.screen {
        begin.talk.marked = None;
    }
}

/// Marks a line; says whether there is one.
pub fn mark(model: &mut Model, line: Option<usize>) -> bool {
    let Some(line) = line else { return false };
    match (model.overlays.last_mut(), &mut model.screen) {
        (Some(Overlay::List(list)), _) => list.mark(line),
        (None, Screen::Home(home)) => home.mark(line),
        (None, Screen::Review(review)) => review.mark(line),
        (None, Screen::Registers(registers)) => registers.mark(line),
        (None, Screen::Job(job)) => {
            let there = line < job.lines();
            if there {
                job.go_to_line(line);
            }
            there
        }
        (Some(_), _) | (None, Screen::Begin(_) | Screen::Wait(_)) => false,
    }
}

/// Leaves for now: what is half typed is kept. Entries that are not on the disk are shown first.
pub fn leave(model: &mut Model) -> Vec<Effect> {
    if review::keeps(model) {
        return Vec::new();
    }
    let Some(job) = model.job() else { return half::keep(model).into_iter().chain([Effect::End(0)]).collect() };
    if job.saving.fault().is_some() && !job.saving.waiting().is_empty() {
        saving::ways_out(model);
        return vec![Effect::Retry];
    }
    half::keep(model).into_iter().chain([Effect::PutDown, Effect::End(0)]).collect()
}
