//! Writes on the screen by column and row, cut at the edge of its area: no size makes it fail.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::text::Span;

use super::glyphs::Glyphs;
use super::look::{Look, Tone};

/// A part of the screen and the means to write on it.
pub struct Pen<'a> {
    buffer: &'a mut Buffer,
    area: Rect,
    look: Look,
}

/// A longer one, such as a path, is cut where the room ends.
const LONGEST_WORD: usize = 20;

/// Columns that `text` takes.
pub fn width(text: &str) -> usize {
    Span::raw(text).width()
}

/// The end of `text` that fits into `columns`.
pub fn tail(text: &str, columns: usize) -> &str {
    let mut rest = text;
    while width(rest) > columns {
        let mut letters = rest.chars();
        if letters.next().is_none() {
            break;
        }
        rest = letters.as_str();
    }
    rest
}

/// `text` in at most so many columns: what is too long gives way in its middle, so that it can be told from others.
pub fn middle_cut(text: &str, columns: usize) -> String {
    const GAP: &str = "...";
    if width(text) <= columns {
        return text.to_owned();
    }
    let room = columns.saturating_sub(GAP.len());
    let end = tail(text, room / 2);
    let mut begin = String::new();
    for letter in text.chars() {
        if width(&begin) + width(letter.encode_utf8(&mut [0; 4])) + width(end) > room {
            break;
        }
        begin.push(letter);
    }
    format!("{}{GAP}{}", begin.trim_end(), end.trim_start())
}

/// As much of a heading as has room, cut where it stops to take breath.
fn whole_part(words: &str, columns: usize) -> String {
    if width(words) <= columns {
        return words.to_owned();
    }
    let first = wrap(words, columns).into_iter().next().unwrap_or_default();
    let breath = ["; ", ": ", ", ", " ("].iter().filter_map(|mark| words.get(..first.len() + 1)?.rfind(mark)).max();
    words.get(..breath.unwrap_or(first.len())).unwrap_or(&first).to_owned()
}

/// `text` in lines of at most `columns`, broken at blanks; a longer word, such as a path, goes on in the next line.
pub fn wrap(text: &str, columns: usize) -> Vec<String> {
    let mut lines = vec![String::new()];
    for word in text.split_whitespace().flat_map(|word| broken(word, columns)) {
        let fits = lines.last().is_some_and(|line| line.is_empty() || width(line) + 1 + width(&word) <= columns);
        if !fits {
            lines.push(String::new());
        }
        if let Some(line) = lines.last_mut() {
            if !line.is_empty() {
                line.push(' ');
            }
            line.push_str(&word);
        }
    }
    lines
}

/// `text` as it is aligned where it fits, else wrapped: its indent stays, and what goes on stands two further in.
pub fn hang(text: &str, columns: usize) -> Vec<String> {
    let text = text.trim_end();
    if width(text) <= columns {
        return vec![text.to_owned()];
    }
    let indent = text.len() - text.trim_start().len();
    let on = indent + 2;
    let lines = wrap(text, columns.saturating_sub(on));
    let indented = |(row, line)| format!("{}{line}", " ".repeat(if row == 0 { indent } else { on }));
    lines.into_iter().enumerate().map(indented).collect()
}

/// A word in pieces that fit.
fn broken(word: &str, columns: usize) -> Vec<String> {
    if width(word) <= columns.max(1) {
        return vec![word.to_owned()];
    }
    let (mut pieces, mut piece) = (Vec::new(), String::new());
    for letter in word.chars() {
        if width(&piece) + width(letter.encode_utf8(&mut [0; 4])) > columns.max(1) {
            pieces.push(std::mem::take(&mut piece));
        }
        piece.push(letter);
    }
    pieces.push(piece);
    pieces
}

/// A whole number as a coordinate; what is larger is off the screen anyway.
fn coordinate(number: usize) -> u16 {
    u16::try_from(number).unwrap_or(u16::MAX)
}

impl<'a> Pen<'a> {
    /// A pen for `area` of `buffer`.
    pub fn new(buffer: &'a mut Buffer, area: Rect, look: Look) -> Self {
        let area = area.intersection(buffer.area);
        Self { buffer, area, look }
    }

    /// Columns.
    pub fn width(&self) -> usize {
        usize::from(self.area.width)
    }

    /// Rows.
    pub fn height(&self) -> usize {
        usize::from(self.area.height)
    }

    /// The characters to draw with.
    pub fn glyphs(&self) -> Glyphs {
        self.look.glyphs
    }

    /// The style of a tone.
    pub fn style(&self, tone: Tone) -> Style {
        self.look.style(tone)
    }

    /// A pen for the rows from `top`, at most `rows` of them.
    pub fn rows(&mut self, top: usize, rows: usize) -> Pen<'_> {
        self.part(0, top, self.width(), rows)
    }

    /// A pen for a part of the area.
    pub fn part(&mut self, left: usize, top: usize, columns: usize, rows: usize) -> Pen<'_> {
        let area = Rect {
            x: self.area.x.saturating_add(coordinate(left)),
            y: self.area.y.saturating_add(coordinate(top)),
            width: coordinate(columns),
            height: coordinate(rows),
        };
        let area = area.intersection(self.area);
        Pen { buffer: self.buffer, area, look: self.look }
    }

    /// Writes `text` from column `x` in row `y` and says in which column it ended.
    pub fn put(&mut self, x: usize, y: usize, text: &str, tone: Tone) -> usize {
        // what was written there before leaves neither weight nor colour
        let style = Style::reset().patch(self.look.style(tone));
        if x >= self.width() || y >= self.height() {
            return x;
        }
        let column = self.area.x.saturating_add(coordinate(x));
        let row = self.area.y.saturating_add(coordinate(y));
        let (end, _) = self.buffer.set_stringn(column, row, text, self.width().saturating_sub(x), style);
        usize::from(end.saturating_sub(self.area.x))
    }

    /// Writes the first of some words that has room, else the last.
    pub fn put_fitting(&mut self, (x, y): (usize, usize), ways: &[&str], tone: Tone) -> usize {
        let fits = ways.iter().find(|words| x + width(words) <= self.width());
        self.put(x, y, fits.or(ways.last()).copied().unwrap_or_default(), tone)
    }

    /// Writes `text` so that it ends `margin` columns before the right edge; says where it begins.
    pub fn right(&mut self, margin: usize, y: usize, text: &str, tone: Tone) -> usize {
        let x = self.width().saturating_sub(margin + width(text));
        self.put(x, y, text, tone);
        x
    }

    /// Writes `text` in the middle of the row; says where it begins.
    pub fn centre(&mut self, y: usize, text: &str, tone: Tone) -> usize {
        let x = self.width().saturating_sub(width(text)) / 2;
        self.put(x, y, text, tone);
        x
    }

    /// Writes `text` from `x`, cut with a mark when it would pass column `end`.
    pub fn cut(&mut self, x: usize, y: usize, text: &str, end: usize) -> usize {
        self.cut_in((x, y), text, end, Tone::Plain)
    }

    /// The same in a tone.
    pub fn cut_in(&mut self, (x, y): (usize, usize), text: &str, end: usize, tone: Tone) -> usize {
        let room = end.saturating_sub(x);
        if width(text) <= room {
            return self.put(x, y, text, tone);
        }
        let mut kept = String::new();
        for letter in text.chars() {
            if width(&kept) + 2 > room {
                break;
            }
            kept.push(letter);
        }
        // no word is cut in two, where another stands before it
        let rest = text.strip_prefix(&kept).unwrap_or_default();
        if !rest.starts_with(' ')
            && let Some((words, part)) = kept.rsplit_once(' ')
            && !words.trim().is_empty()
            && width(part) < LONGEST_WORD
        {
            kept = format!("{words} ");
        }
        kept.push(self.look.glyphs.cut);
        self.put(x, y, &kept, tone)
    }

    /// Fills `columns` from `x` with one character.
    pub fn fill(&mut self, (x, y): (usize, usize), columns: usize, with: char, tone: Tone) {
        let room = columns.min(self.width().saturating_sub(x));
        let text: String = std::iter::repeat_n(with, room).collect();
        self.put(x, y, &text, tone);
    }

    /// Draws a rule over the row, with words in it from the left.
    pub fn rule(&mut self, y: usize, words: &str) {
        self.rule_beside(y, words, "");
    }

    /// The same with something at its end, for which the words give way.
    pub fn rule_beside(&mut self, y: usize, words: &str, beside: &str) {
        let rule = self.look.glyphs.rule;
        self.fill((1, y), self.width().saturating_sub(2), rule, Tone::Quiet);
        let taken = if beside.is_empty() { 0 } else { width(beside) + 4 };
        if !words.is_empty() {
            let words = whole_part(words, self.width().saturating_sub(5 + taken));
            self.put(3, y, &format!(" {words} "), Tone::Plain);
        }
        if !beside.is_empty() {
            self.right(2, y, &format!(" {beside} "), Tone::Plain);
        }
    }

    /// Blanks the whole area.
    pub fn clear(&mut self) {
        for y in 0..self.height() {
            self.fill((0, y), self.width(), ' ', Tone::Plain);
        }
        self.buffer.set_style(self.area, Style::reset());
    }

    /// Gives the whole row a tone; what is written later keeps its own colour.
    pub fn wash(&mut self, y: usize, tone: Tone) {
        self.fill((0, y), self.width(), ' ', tone);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_is_written_outside() {
        let mut buffer = Buffer::empty(Rect::new(0, 0, 6, 1));
        let mut pen = Pen::new(&mut buffer, Rect::new(2, 0, 3, 5), Look::PLAIN);
        pen.put(1, 0, "abc", Tone::Plain);
        pen.put(9, 9, "abc", Tone::Plain);
        pen.part(7, 7, 9, 9).put(0, 0, "x", Tone::Plain);
        assert_eq!(buffer, Buffer::with_lines(["   ab "]));
    }

    #[test]
    fn words_are_wrapped_and_tails_kept() {
        assert_eq!(wrap("one two three", 7), ["one two", "three"]);
        assert_eq!(tail("0.12345", 4), "2345");
    }

    #[test]
    fn a_name_that_is_too_long_gives_way_in_its_middle() {
        assert_eq!(middle_cut("fitter A", 8), "fitter A");
        assert_eq!(middle_cut("Maximilian Anton Berg", 14), "Maximi...Berg");
        for columns in 3..24 {
            assert!(width(&middle_cut("Maximilian Anton Berg", columns)) <= columns, "{columns}");
        }
    }

    #[test]
    fn a_line_that_goes_on_is_no_wider_than_the_room_and_loses_no_letter() {
        let line = "    forecast: 12.280 mm at the next opening, bound 12.300 mm, path /records/DEMO-1/long-name";
        let letters = |text: &str| text.split_whitespace().collect::<String>();
        for columns in 10..=100 {
            let lines = hang(line, columns);
            assert!(lines.iter().all(|line| width(line) <= columns), "{columns}: {lines:?}");
            assert_eq!(letters(&lines.concat()), letters(line), "{columns}");
        }
    }
}
