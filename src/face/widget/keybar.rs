//! The lowest row: the keys that do something here, from the table.

use super::super::action::Scope;
use super::super::keymap;
use super::super::look::Tone;
use super::super::pen::{Pen, width};

/// Draws the keys of `scope` into row `y`; those that do not fit are left out, the first ones stay.
pub fn draw(pen: &mut Pen<'_>, y: usize, scope: Scope) {
    let gap = if keymap::columns(scope, 3) <= pen.width() { 3 } else { 2 };
    let mut x = 1;
    for (key, word) in keymap::footer(scope) {
        if x + width(key) + 1 + width(word) > pen.width() {
            break;
        }
        x = pen.put(x, y, key, Tone::Key);
        x = pen.put(x + 1, y, word, Tone::Plain) + gap;
    }
}
