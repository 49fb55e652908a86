//! A question with its choices. In a small window the text gives way: the marked choice stands whole, the others are counted.

use super::super::look::Tone;
use super::super::pen::{Pen, wrap};

/// Rows that the text keeps where there are many choices.
const TEXT: usize = 2;

/// Title and sentences, choices and the marked one of them; the text from row `scroll` on, where it has no room whole.
pub fn draw(pen: &mut Pen<'_>, asked: (&str, &[String]), (choices, marked): (&[&str], usize), scroll: usize) {
    pen.rule(0, "a question: arrows and Enter answer it, nothing else");
    let columns = pen.width().saturating_sub(3);
    let title = wrap(asked.0, columns).into_iter().map(|line| (line, Tone::Watch));
    let sentences = asked.1.iter().flat_map(|line| wrap(line, columns)).map(|line| (line, Tone::Plain));
    let text: Vec<_> = title.chain(sentences).collect();
    let room = pen.height().saturating_sub(1);
    let rows = rows(choices, marked, (columns.saturating_sub(1), room.saturating_sub(text.len().min(TEXT))));
    let gap = usize::from(text.len() + rows.len() < room);
    let fits = text.len().min(room.saturating_sub(rows.len() + gap));
    let skipped = scroll.min(text.len() - fits);
    for (y, (line, tone)) in text.iter().skip(skipped).take(fits).enumerate() {
        pen.put(1, 1 + y, line, *tone);
    }
    if fits < text.len() {
        let words = format!(" {} to {} of {}, PgDn ", skipped + 1, skipped + fits, text.len());
        pen.right(3, 0, &words, Tone::Plain);
    }
    for (y, row) in rows.iter().enumerate() {
        choice(pen, 1 + fits + gap + y, row, marked);
    }
}

/// A row of a choice, or how many have no room.
enum Row {
    Begins(usize, String),
    GoesOn(usize, String),
    More(usize),
}

impl Row {
    fn is_of(&self, choice: usize) -> bool {
        match self {
            Self::Begins(number, _) | Self::GoesOn(number, _) => *number == choice,
            Self::More(_) => false,
        }
    }
}

fn rows(choices: &[&str], marked: usize, (columns, room): (usize, usize)) -> Vec<Row> {
    let wrapped = |number: usize, words: &str| {
        let begins = |(row, line)| if row == 0 { Row::Begins(number, line) } else { Row::GoesOn(number, line) };
        wrap(words, columns).into_iter().enumerate().map(begins).collect::<Vec<_>>()
    };
    let whole: Vec<_> = choices.iter().enumerate().flat_map(|(number, words)| wrapped(number, words)).collect();
    if whole.len() <= room {
        return whole;
    }
    let one = |(number, words): (usize, &&str)| {
        if number == marked { wrapped(number, words) } else { vec![Row::Begins(number, (*words).to_owned())] }
    };
    let mut rows: Vec<_> = choices.iter().enumerate().flat_map(one).collect();
    if rows.len() > room {
        let fits = room.saturating_sub(1).max(1);
        let last = rows.iter().rposition(|row| row.is_of(marked)).unwrap_or(0);
        rows = rows.into_iter().skip((last + 1).saturating_sub(fits)).take(fits).collect();
        let shown = (0..choices.len()).filter(|choice| rows.iter().any(|row| row.is_of(*choice))).count();
        rows.push(Row::More(choices.len() - shown));
    }
    rows
}

fn choice(pen: &mut Pen<'_>, y: usize, row: &Row, marked: usize) {
    let tone = if row.is_of(marked) { Tone::Here } else { Tone::Plain };
    if tone == Tone::Here {
        pen.wash(y, tone);
    }
    let end = pen.width().saturating_sub(1);
    match row {
        Row::Begins(_, words) => {
            let mark = if tone == Tone::Here { pen.glyphs().here } else { ' ' };
            pen.put(1, y, &mark.to_string(), tone);
            pen.cut_in((3, y), words, end, tone);
        }
        Row::GoesOn(_, words) => drop(pen.put(3, y, words, tone)),
        Row::More(more) => drop(pen.put(3, y, &format!("{more} more: arrows"), Tone::Quiet)),
    }
}
