//! The lowest row: the keys that do something here, from the table.

use super::super::action::Scope;
use super::super::keymap;
use super::super::look::Tone;
use super::super::pen::{Pen, width};

/// Draws the keys of `scope` into row `y`; those that do not fit are left out, the first ones stay, and the one that tells
/// of the others.
pub fn draw(pen: &mut Pen<'_>, y: usize, scope: Scope) {
    let gap = if keymap::columns(scope, 3) <= pen.width() { 3 } else { 2 };
    let footer = keymap::footer(scope);
    let room = |(key, word): &(&str, &str)| width(key) + 1 + width(word);
    let (others, help) = footer.split_at(footer.len() - usize::from(footer.last().is_some_and(|last| last.0 == "F1")));
    let end = pen.width().saturating_sub(help.iter().map(|help| gap + room(help)).sum());
    let mut x = 1;
    let others = others.iter().scan(1, |end, part| {
        *end += room(part) + gap;
        Some((*end - gap, part))
    });
    for (key, word) in others.take_while(|(last, _)| *last <= end).map(|(_, part)| part).chain(help) {
        x = pen.put(x, y, key, Tone::Key);
        x = pen.put(x + 1, y, word, Tone::Plain) + gap;
    }
}
