//! A numbered list, one digit a line, the marked line reversed.

use super::super::look::Tone;
use super::super::pen::{Pen, width, wrap};

/// The digit of a line: 1 to 9, then 0; later lines have none.
pub fn digit(index: usize) -> Option<char> {
    match index {
        0..=8 => char::from_digit(u32::try_from(index + 1).ok()?, 10),
        9 => Some('0'),
        _ => None,
    }
}

/// The line of a digit.
pub fn index(digit: char) -> Option<usize> {
    let number = usize::try_from(digit.to_digit(10)?).ok()?;
    Some(if number == 0 { 9 } else { number - 1 })
}

/// The first line in sight where there is room for so many.
pub fn first(room: usize, marked: Option<usize>) -> usize {
    marked.map_or(0, |marked| (marked + 1).saturating_sub(room))
}

/// Draws the lines from row `y`, so that the marked one, if any, is in sight; says how many rows were used.
pub fn draw(pen: &mut Pen<'_>, y: usize, lines: &[(String, Tone)], marked: impl Into<Option<usize>>) -> usize {
    let marked = marked.into();
    let room = pen.height().saturating_sub(y);
    let first = first(room, marked);
    let shown = lines.iter().enumerate().skip(first).take(room);
    let mut row = y;
    for (number, (text, tone)) in shown {
        line(pen, row, (number, text), if marked == Some(number) { Tone::Here } else { *tone });
        row += 1;
    }
    row - y
}

/// A heading and the lines below it, less so many rows at the end; the heading says which of them are in sight, where not
/// all are. Says in which row they end.
pub fn headed(pen: &mut Pen<'_>, title: &str, (lines, marked): (&[(String, Tone)], usize), less: usize) -> usize {
    let room = pen.height().saturating_sub(1 + less);
    let first = first(room, Some(marked));
    let few = lines.len() > room;
    let beside = if few { format!("{} to {} of {}", first + 1, first + room, lines.len()) } else { String::new() };
    pen.rule_beside(0, title, &beside);
    1 + draw(&mut pen.rows(1, room), 0, lines, marked)
}

/// A marked line that is cut, once more in as many rows as it takes, under an empty one; none where it stands whole.
pub fn whole(pen: &Pen<'_>, text: &str) -> Vec<String> {
    let columns = pen.width().saturating_sub(6);
    if width(text) <= columns {
        return Vec::new();
    }
    let lines = wrap(text, columns);
    // the list itself keeps the better half
    let lines = lines.into_iter().take((pen.height() / 2).saturating_sub(2));
    std::iter::once(String::new()).chain(lines).collect()
}

/// One line behind its digit; `Tone::Here` marks it.
pub fn line(pen: &mut Pen<'_>, row: usize, (number, text): (usize, &str), tone: Tone) {
    let number = digit(number).map_or("  ".to_owned(), |digit| format!("{digit} "));
    let here = tone == Tone::Here;
    if here {
        pen.wash(row, Tone::Here);
    }
    let end = pen.width().saturating_sub(1);
    let x = pen.put(2, row, &number, if here { Tone::Here } else { Tone::Key });
    pen.cut_in((x + 1, row), text, end, tone);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ten_lines_have_a_digit() {
        for line in 0..10 {
            assert_eq!(digit(line).and_then(index), Some(line));
        }
        assert_eq!(digit(10), None);
    }
}
