//! Keys of a file that is filled in.

use super::super::super::action::Action;
use super::super::super::effect::{Effect, Query};
use super::super::super::filling::{Compared, Done, Put};
use super::super::super::form::Go;
use super::super::super::input::Key;
use super::super::super::look::Tone;
use super::super::super::model::{Model, Screen};
use super::super::way;
use super::{View, ask};

pub(super) fn on_form(model: &mut Model, action: Action, key: Key) -> Vec<Effect> {
    let Screen::Registers(registers) = &mut model.screen else { return Vec::new() };
    let Some(filling) = registers.filling_mut() else { return Vec::new() };
    if action == Action::Back {
        return if filling.back() { Vec::new() } else { leave_form(model) };
    }
    if action == Action::Cell {
        filling.go(step_of(key));
    }
    if action == Action::Leap {
        filling.leap(way(key));
    }
    let offers = action != Action::Other || filling.turn(way(key));
    let entered = (action == Action::PutIn).then(|| filling.enter());
    if !offers {
        model.say(Tone::Watch, "Nothing is on offer here: type it.");
    }
    entered.map_or_else(Vec::new, |entered| came_of(model, entered))
}

/// Who types what stands in the field, or that it is not said.
pub(super) fn typed_by(model: &mut Model, who: Option<&str>) -> Vec<Effect> {
    let Screen::Registers(registers) = &mut model.screen else { return Vec::new() };
    let Some(entered) = registers.filling_mut().map(|filling| filling.typed_by(who)) else { return Vec::new() };
    came_of(model, entered)
}

fn came_of(model: &mut Model, entered: Result<Done, String>) -> Vec<Effect> {
    match entered {
        Ok(Done::Put(Put { paper, told, .. })) => {
            if let Some(told) = told {
                model.say(Tone::Watch, told);
            }
            vec![Effect::Ask(Box::new(Query::Put(paper)))]
        }
        Err(why) => {
            model.say(Tone::Bad, why);
            Vec::new()
        }
        Ok(Done::Asks) => {
            if let Screen::Registers(registers) = &mut model.screen
                && let View::Filling(filling) = &registers.view
            {
                registers.view = View::Hand(filling.clone());
                registers.marked = 0;
            }
            Vec::new()
        }
        Ok(Done::Went) => Vec::new(),
    }
}

/// Rows and columns that an arrow goes.
fn step_of(key: Key) -> (isize, isize) {
    match (way(key), matches!(key, Key::Up | Key::Down)) {
        (Go::Back, true) => (-1, 0),
        (Go::On, true) => (1, 0),
        (Go::Back, false) => (0, -1),
        (Go::On, false) => (0, 1),
    }
}

/// Back to the files; a second entry that is complete is compared first, and what a form still wants is shown.
fn leave_form(model: &mut Model) -> Vec<Effect> {
    let Screen::Registers(registers) = &mut model.screen else { return Vec::new() };
    let View::Filling(filling) = &registers.view else { return Vec::new() };
    let kind = filling.paper.kind;
    if filling.is_second() && filling.paper.is_complete() {
        match filling.compare() {
            Ok(Compared::Differ(lines)) => {
                registers.view = View::Differ(filling.clone(), lines);
                registers.marked = 0;
                return Vec::new();
            }
            Ok(Compared::Agree(put)) => {
                model.say(Tone::Good, "Both entries agree: the sheet now says that two people entered it.");
                let mut effects = vec![Effect::Ask(Box::new(Query::Put(Box::new(put))))];
                effects.extend(ask(kind));
                return effects;
            }
            Err(why) => {
                model.say(Tone::Bad, why);
                return ask(kind);
            }
        }
    }
    if filling.is_begun() && !filling.paper.is_complete() {
        registers.view = View::Wanted(filling.clone(), filling.wanted());
        registers.marked = 0;
        return Vec::new();
    }
    ask(kind)
}
