//! A scale: what is new, where alert and limit begin, and where the figure lies. Positions are exact; nothing drawn
//! here decides anything.

use crate::domain::exact::{Exact, Rounding};
use crate::domain::figure::Figure;
use crate::domain::judge::{self, Side};
use crate::domain::sheet::{Level, Levels, Sheet};
use crate::domain::unit::Unit;

use super::super::look::Tone;
use super::super::pen::{Pen, width};

/// Lower and upper end of a level.
type Ends<T> = (Option<T>, Option<T>);

/// Which stretch of the scale a column belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Zone {
    Past,
    Watch,
    New,
    Within,
}

/// The bounds of one characteristic.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Scale {
    low: Exact,
    high: Exact,
    /// Digits behind the point that every bound is shown with.
    places: u32,
    limit: Ends<Exact>,
    alert: Ends<Exact>,
    new: Ends<Exact>,
}

/// A figure on the scale.
pub struct Pointer<'a> {
    /// Where.
    pub figure: &'a Exact,
    /// What is written beside it.
    pub words: String,
    /// In which tone.
    pub tone: Tone,
}

/// The fewest digits behind the point that show a size converted from another unit as it is, four at most.
fn digits(size: &Exact) -> u32 {
    let is_shown = |places: &u32| Exact::parse(&size.rounded(*places, Rounding::Nearest)).as_ref() == Some(size);
    (0..4).find(is_shown).unwrap_or(4)
}

/// Lower and upper bound of a level on this machine, and the digits they are written with.
fn ends(level: Option<&Level>, unit: Unit, sheet: &Sheet, places: &mut u32) -> Ends<Exact> {
    let mut ends = (None, None);
    for (bound, side) in level.into_iter().flat_map(judge::bounds) {
        let size = judge::size_of(bound, unit, sheet);
        let own = |figure: Figure| {
            let digits = || size.as_ref().map_or(0, digits);
            if figure.unit() == unit { figure.decimal().scale() } else { digits() }
        };
        *places = sheet.amount(&bound.amount).map_or(0, own).max(*places);
        match side {
            Side::Lower => ends.0 = size,
            Side::Upper => ends.1 = size,
        }
    }
    ends
}

/// The zones column by column: where each bound stands.
struct Columns {
    count: usize,
    limit: Ends<usize>,
    alert: Ends<usize>,
    new: Ends<usize>,
}

impl Columns {
    fn zone(&self, column: usize) -> Zone {
        let outside =
            |ends: Ends<usize>| ends.0.is_some_and(|low| column < low) || ends.1.is_some_and(|high| column > high);
        if outside(self.limit) {
            Zone::Past
        } else if outside(self.alert) {
            Zone::Watch
        } else if self.new != (None, None) && !outside(self.new) {
            Zone::New
        } else {
            Zone::Within
        }
    }
}

impl Scale {
    /// The scale that shows all bounds and all `figures`; `None` without a bound.
    pub fn new(levels: &Levels, unit: Unit, sheet: &Sheet, figures: &[&Exact]) -> Option<Self> {
        let mut places = 0;
        let limit = ends(levels.limit.as_ref(), unit, sheet, &mut places);
        let alert = ends(levels.alert.as_ref(), unit, sheet, &mut places);
        let new = ends(levels.new.as_ref(), unit, sheet, &mut places);
        let bounds = [&limit.0, &limit.1, &alert.0, &alert.1, &new.0, &new.1];
        let all = || bounds.into_iter().flatten().chain(figures.iter().copied());
        bounds.into_iter().flatten().next()?;
        let (least, most) = (all().min()?.clone(), all().max()?.clone());
        let span = &most - &least;
        let room = if span.is_zero() { Exact::from(1) } else { &span * &Exact::fraction(1, 6)? };
        // a scale of sizes that cannot be below nothing begins at nothing when it comes near it
        let low = &least - &room;
        let low = if low.is_negative() && !least.is_negative() { Exact::zero() } else { low };
        Some(Self { low, high: &most + &room, places, limit, alert, new })
    }

    /// The column of a figure on a bar of `columns`.
    fn column(&self, figure: &Exact, columns: usize) -> usize {
        let whole = u32::try_from(columns.saturating_sub(1)).unwrap_or(0);
        let share = (figure - &self.low).over(&(&self.high - &self.low));
        let at = share.map(|share| (&share * &Exact::from(whole)).rounded(0, Rounding::Nearest));
        at.and_then(|at| at.parse::<usize>().ok()).unwrap_or(0).min(columns.saturating_sub(1))
    }

    fn columns(&self, count: usize) -> Columns {
        let of = |ends: &Ends<Exact>| {
            let column = |end: &Option<Exact>| end.as_ref().map(|end| self.column(end, count));
            (column(&ends.0), column(&ends.1))
        };
        Columns { count, limit: of(&self.limit), alert: of(&self.alert), new: of(&self.new) }
    }

    /// Draws figures, bar and pointer in three rows from `y`; `past` names what the limit leads to.
    pub fn draw(&self, pen: &mut Pen<'_>, y: usize, pointers: &[Pointer<'_>], past: &str) {
        let columns = self.columns(pen.width().saturating_sub(2));
        self.draw_bounds(pen, y, columns.count);
        draw_bar(pen, y + 1, &columns, past);
        for at in self.marks().into_iter().map(|mark| self.column(mark, columns.count)) {
            pen.fill((1 + at, y + 1), 1, pen.glyphs().bound, Tone::Strong);
        }
        // the first one's words come first; those of another stand where they leave room, or nowhere
        let mut taken: Vec<(usize, usize)> = Vec::new();
        for pointer in pointers {
            let at = 1 + self.column(pointer.figure, columns.count);
            let text = format!(" {} ", pointer.words);
            let (begin, end) = (at.checked_sub(width(&text)), at + 1 + width(&text));
            let free = |(from, to): (usize, usize)| taken.iter().all(|(begin, end)| to <= *begin || from >= *end);
            let left = begin.filter(|begin| *begin > 0).map(|begin| (begin, at + 1));
            let right = Some((at, end)).filter(|(_, end)| *end <= pen.width() || taken.is_empty());
            let Some((from, to)) = left.into_iter().chain(right).find(|span| free(*span)) else { continue };
            pen.fill((at, y + 2), 1, pen.glyphs().pointer, pointer.tone);
            pen.put(if from < at { from } else { at + 1 }, y + 2, &text, pointer.tone);
            taken.push((from, to));
        }
    }

    fn marks(&self) -> Vec<&Exact> {
        let bounds = [&self.limit.0, &self.limit.1, &self.alert.0, &self.alert.1, &self.new.0, &self.new.1];
        let mut marks: Vec<&Exact> = bounds.into_iter().flatten().collect();
        marks.sort();
        marks.dedup();
        marks
    }

    fn draw_bounds(&self, pen: &mut Pen<'_>, y: usize, columns: usize) {
        let mut free = 1;
        for mark in self.marks() {
            let text = mark.rounded(self.places, Rounding::Nearest);
            let at = 1 + self.column(mark, columns);
            let x = at.saturating_sub(width(&text) / 2).max(free);
            if x + width(&text) <= pen.width() {
                free = pen.put(x, y, &text, Tone::Plain) + 1;
            }
        }
    }
}

/// Each stretch in its character, with its name in it where there is room.
fn draw_bar(pen: &mut Pen<'_>, y: usize, columns: &Columns, past: &str) {
    let glyphs = pen.glyphs();
    let mut begin = 0;
    while begin < columns.count {
        let zone = columns.zone(begin);
        let length = (begin..columns.count).take_while(|column| columns.zone(*column) == zone).count().max(1);
        let (glyph, word, tone) = match zone {
            Zone::Past => (glyphs.past, past, Tone::Bad),
            Zone::Watch => (glyphs.watch, "watch", Tone::Watch),
            Zone::New => (glyphs.new, "new", Tone::Good),
            Zone::Within => (glyphs.within, "within", Tone::Plain),
        };
        pen.fill((1 + begin, y), length, glyph, tone);
        let word = format!(" {word} ");
        if width(&word) < length {
            pen.put(1 + begin + (length - width(&word)).div_ceil(2), y, &word, tone);
        }
        begin += length;
    }
}
