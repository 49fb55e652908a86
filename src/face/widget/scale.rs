//! A scale: what is new, where alert and limit begin, and where the figure lies. Positions are exact; nothing drawn
//! here decides anything.

use crate::domain::exact::{Exact, Rounding};
use crate::domain::judge::{self, Side};
use crate::domain::sheet::{Level, Levels, Sheet};
use crate::domain::unit::Unit;

use super::super::look::Tone;
use super::super::pen::{Pen, width};

/// Which stretch of the scale a column belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Zone {
    Past,
    Watch,
    New,
    Within,
}

/// The bounds of one characteristic, smallest first.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Scale {
    low: Exact,
    high: Exact,
    marks: Vec<Exact>,
    limit: (Option<Exact>, Option<Exact>),
    alert: (Option<Exact>, Option<Exact>),
    new: (Option<Exact>, Option<Exact>),
}

/// Lower and upper bound of a level on this machine.
fn ends(level: Option<&Level>, unit: Unit, sheet: &Sheet) -> (Option<Exact>, Option<Exact>) {
    let mut ends = (None, None);
    for (bound, side) in level.into_iter().flat_map(judge::bounds) {
        let size = judge::size_of(bound, unit, sheet);
        match side {
            Side::Lower => ends.0 = size,
            Side::Upper => ends.1 = size,
        }
    }
    ends
}

impl Scale {
    /// The scale that shows all bounds and all `figures`; `None` without a bound.
    pub fn new(levels: &Levels, unit: Unit, sheet: &Sheet, figures: &[&Exact]) -> Option<Self> {
        let limit = ends(levels.limit.as_ref(), unit, sheet);
        let alert = ends(levels.alert.as_ref(), unit, sheet);
        let new = ends(levels.new.as_ref(), unit, sheet);
        let bounds = [&limit.0, &limit.1, &alert.0, &alert.1, &new.0, &new.1];
        let mut marks: Vec<Exact> = bounds.into_iter().flatten().cloned().collect();
        marks.sort();
        marks.dedup();
        let all = || marks.iter().chain(figures.iter().copied());
        let (least, most) = (all().min()?.clone(), all().max()?.clone());
        let span = &most - &least;
        let room = if span.is_zero() { Exact::from(1) } else { &span * &Exact::fraction(1, 8)? };
        // a scale of sizes that cannot be below nothing begins at nothing when it comes near it
        let low = &least - &room;
        let low = if low.is_negative() && !least.is_negative() { Exact::zero() } else { low };
        Some(Self { low, high: &most + &room, marks, limit, alert, new })
    }

    /// The column of a figure on a bar of `columns`.
    fn column(&self, figure: &Exact, columns: usize) -> usize {
        let whole = u32::try_from(columns.saturating_sub(1)).unwrap_or(0);
        let share = (figure - &self.low).over(&(&self.high - &self.low));
        let at = share.map(|share| (&share * &Exact::from(whole)).rounded(0, Rounding::Nearest));
        at.and_then(|at| at.parse::<usize>().ok()).unwrap_or(0).min(columns.saturating_sub(1))
    }

    fn zone(&self, column: usize, columns: usize) -> Zone {
        let before = |bound: &Option<Exact>| bound.as_ref().is_some_and(|bound| column < self.column(bound, columns));
        let behind = |bound: &Option<Exact>| bound.as_ref().is_some_and(|bound| column > self.column(bound, columns));
        if before(&self.limit.0) || behind(&self.limit.1) {
            Zone::Past
        } else if before(&self.alert.0) || behind(&self.alert.1) {
            Zone::Watch
        } else if (self.new.0.is_some() || self.new.1.is_some()) && !before(&self.new.0) && !behind(&self.new.1) {
            Zone::New
        } else {
            Zone::Within
        }
    }

    /// Draws figures, bar and words in three rows from `y`, and the pointer under the bar.
    pub fn draw(&self, pen: &mut Pen<'_>, y: usize, figures: &[(&Exact, String, Tone)], past: &str) {
        let columns = pen.width().saturating_sub(2);
        self.draw_bounds(pen, y, columns);
        let glyphs = pen.glyphs();
        for column in 0..columns {
            let (glyph, tone) = match self.zone(column, columns) {
                Zone::Past => (glyphs.past, Tone::Bad),
                Zone::Watch => (glyphs.watch, Tone::Watch),
                Zone::New => (glyphs.new, Tone::Good),
                Zone::Within => (glyphs.within, Tone::Plain),
            };
            pen.fill(1 + column, y + 1, 1, glyph, tone);
        }
        for mark in &self.marks {
            pen.fill(1 + self.column(mark, columns), y + 1, 1, glyphs.bound, Tone::Strong);
        }
        self.draw_words(pen, y + 2, columns, past);
        for (figure, words, tone) in figures {
            let at = 1 + self.column(figure, columns);
            let text = format!(" {words} ");
            let before = at > width(&text) + 1;
            pen.fill(at, y + 2, 1, glyphs.pointer, *tone);
            let x = if before { at - width(&text) } else { at + 1 };
            pen.put(x, y + 2, &text, *tone);
        }
    }

    fn draw_bounds(&self, pen: &mut Pen<'_>, y: usize, columns: usize) {
        let mut free = 0;
        for mark in &self.marks {
            let text = mark.as_decimal().unwrap_or_else(|| mark.rounded(4, Rounding::Nearest));
            let at = 1 + self.column(mark, columns);
            let x = at.saturating_sub(width(&text) / 2).max(free);
            if x + width(&text) < pen.width() {
                free = pen.put(x, y, &text, Tone::Plain) + 1;
            }
        }
    }

    /// Names each stretch that is wide enough for its name, once.
    fn draw_words(&self, pen: &mut Pen<'_>, y: usize, columns: usize, past: &str) {
        let mut begin = 0;
        while begin < columns {
            let zone = self.zone(begin, columns);
            let length = (begin..columns).take_while(|column| self.zone(*column, columns) == zone).count().max(1);
            let (word, tone) = match zone {
                Zone::Past => (past, Tone::Bad),
                Zone::Watch => ("watch", Tone::Watch),
                Zone::New => ("new", Tone::Good),
                Zone::Within => ("within", Tone::Plain),
            };
            if width(word) <= length {
                pen.put(1 + begin + (length - width(word)) / 2, y, word, tone);
            }
            begin += length;
        }
    }
}
