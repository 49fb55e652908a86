//! Answers, one a line: what was answered stays in sight, the line under the hand has its field and what is on offer.

use super::super::form::{Form, Line, Need};
use super::super::look::Tone;
use super::super::pen::{Pen, tail, width, wrap};

/// ```text
/// -- strike an entry ---------------------------------------------------------
///   which                 12  inner 0, second up: 0.230 mm
/// > why                  [ 2_                                              ]
///      1 typed wrong   2 wrong place   3 wrong gauge   4 slipped
/// ```
pub fn draw(pen: &mut Pen<'_>, form: &Form) {
    pen.clear();
    pen.rule(0, &form.title);
    let label = form.lines.iter().map(|line| width(&line.label)).max().unwrap_or(0).min(34);
    let field = label + 6;
    let choices = form.line().map_or(0, |line| line.choices.len().min(6) + 1);
    let room = pen.height().saturating_sub(1 + choices);
    let first = (form.at + 1).saturating_sub(room.max(1));
    let mut row = 1;
    for (number, line) in form.lines.iter().enumerate().skip(first) {
        if row >= pen.height() {
            break;
        }
        let here = number == form.at;
        let tone = if here { Tone::Strong } else { Tone::Plain };
        if here {
            let mark = pen.glyphs().here.to_string();
            pen.put(1, row, &mark, Tone::Strong);
        }
        pen.cut_in((3, row), &line.label, field - 1, tone);
        row = if here { draw_field(pen, row, field, line) } else { draw_answer(pen, row, field, line) };
    }
}

fn draw_answer(pen: &mut Pen<'_>, row: usize, x: usize, line: &Line) -> usize {
    let end = pen.width().saturating_sub(1);
    match (line.answer(), line.need) {
        (Some(answer), _) => pen.cut_in((x, row), &answer, end, Tone::Strong),
        (None, Need::Later) => pen.put(x, row, "later", Tone::Watch),
        (None, Need::Wanted | Need::Free) => pen.put(x, row, "-", Tone::Quiet),
    };
    row + 1
}

fn draw_field(pen: &mut Pen<'_>, row: usize, x: usize, line: &Line) -> usize {
    let end = pen.width().saturating_sub(1);
    let room = end.saturating_sub(x + 5).max(1);
    let shown = tail(line.field.text(), room);
    pen.put(x, row, "[ ", Tone::Plain);
    pen.put(x + 2, row, &format!("{shown}_"), Tone::Field);
    pen.put(end.saturating_sub(1), row, "]", Tone::Plain);
    let mut next = row + 1;
    let hint = match line.need {
        Need::Later if line.hint.is_empty() => "empty: later, and held until given".to_owned(),
        Need::Later => format!("{}; empty: later", line.hint),
        Need::Wanted | Need::Free => line.hint.clone(),
    };
    if !hint.is_empty() {
        for row in wrap(&hint, end.saturating_sub(x + 2)) {
            pen.put(x + 2, next, &row, Tone::Quiet);
            next += 1;
        }
    }
    let chosen = line.chosen();
    // choices that have no room below the field begin at the left
    let widest = line.choices.iter().map(|choice| width(choice)).max().unwrap_or(0);
    let x = if x + 4 + widest > end { 5 } else { x + 2 };
    for (number, choice) in line.choices.iter().enumerate().take(9) {
        let mine = chosen == Some(number);
        let tone = if mine { Tone::Here } else { Tone::Plain };
        let after = pen.put(x, next, &format!("{} ", number + 1), Tone::Key);
        pen.cut_in((after, next), choice, end, tone);
        next += 1;
    }
    next
}
