//! Figures five rows high, to be read from two metres.

use super::super::look::Tone;
use super::super::pen::Pen;

/// Rows of a large figure.
pub const ROWS: usize = 5;

/// Five rows of five columns, a bit a column from the left.
fn rows_of(letter: char) -> [u8; ROWS] {
    match letter {
        '0' => [0b01110, 0b10001, 0b10001, 0b10001, 0b01110],
        '1' => [0b00100, 0b01100, 0b00100, 0b00100, 0b01110],
        '2' => [0b11110, 0b00001, 0b01110, 0b10000, 0b11111],
        '3' => [0b11110, 0b00001, 0b00110, 0b00001, 0b11110],
        '4' => [0b10010, 0b10010, 0b11111, 0b00010, 0b00010],
        '5' => [0b11111, 0b10000, 0b11110, 0b00001, 0b11110],
        '6' => [0b01110, 0b10000, 0b11110, 0b10001, 0b01110],
        '7' => [0b11111, 0b00001, 0b00010, 0b00100, 0b00100],
        '8' => [0b01110, 0b10001, 0b01110, 0b10001, 0b01110],
        '9' => [0b01110, 0b10001, 0b01111, 0b00001, 0b01110],
        '.' | ',' => [0b00000, 0b00000, 0b00000, 0b01100, 0b01100],
        '-' => [0b00000, 0b00000, 0b11111, 0b00000, 0b00000],
        '+' => [0b00100, 0b00100, 0b11111, 0b00100, 0b00100],
        '_' => [0b00000, 0b00000, 0b00000, 0b00000, 0b11111],
        _ => [0; ROWS],
    }
}

/// Whether there is a large figure for it.
pub fn is_drawn(letter: char) -> bool {
    rows_of(letter) != [0; ROWS]
}

fn columns_of(letter: char) -> usize {
    // the point keeps a column free on both sides
    if letter == '.' || letter == ',' { 4 } else { 6 }
}

/// Columns that `text` takes.
pub fn width(text: &str) -> usize {
    text.chars().map(columns_of).sum()
}

/// Draws `text` from row `y`, in the middle; each dot two columns wide where there is room.
pub fn draw(pen: &mut Pen<'_>, y: usize, text: &str, tone: Tone) {
    let scale = if width(text) * 2 < pen.width() { 2 } else { 1 };
    let block = pen.glyphs().block;
    let mut x = pen.width().saturating_sub(width(text) * scale) / 2;
    for letter in text.chars() {
        for (row, bits) in rows_of(letter).into_iter().enumerate() {
            for column in 0..5_usize {
                if bits & (0b10000 >> column) != 0 {
                    pen.fill((x + column * scale, y + row), scale, block, tone);
                }
            }
        }
        x += columns_of(letter) * scale;
    }
}
