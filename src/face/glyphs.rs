//! The characters of rules, bars and marks: boxes where the locale is UTF-8, ASCII elsewhere. Nothing that must line up
//! with figures is drawn with them.

/// A set of characters.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Glyphs {
    /// Horizontal rule.
    pub rule: char,
    /// Vertical rule.
    pub bar: char,
    /// Scale: past a limit.
    pub past: char,
    /// Scale: between alert and limit.
    pub watch: char,
    /// Scale: the new range.
    pub new: char,
    /// Scale: within, outside new.
    pub within: char,
    /// Scale: no level known.
    pub unknown: char,
    /// Scale: a bound.
    pub bound: char,
    /// Scale: where the figure lies, under the bar.
    pub pointer: char,
    /// Before the line where the hand is.
    pub here: char,
    /// A full block of the large figures.
    pub block: char,
    /// Share done of a part.
    pub filled: char,
    /// Share still to do.
    pub empty: char,
    /// Stands for text that did not fit.
    pub cut: char,
}

impl Glyphs {
    /// For a UTF-8 locale.
    pub const BOX: Self = Self {
        rule: '\u{2500}',
        bar: '\u{2502}',
        past: '\u{2588}',
        watch: '\u{2592}',
        new: '\u{2550}',
        within: '\u{2500}',
        unknown: '\u{00b7}',
        bound: '\u{253c}',
        pointer: '\u{25b2}',
        here: '\u{25b6}',
        block: '\u{2588}',
        filled: '\u{25a0}',
        empty: '\u{00b7}',
        cut: '\u{2026}',
    };

    /// For everything else.
    pub const ASCII: Self = Self {
        rule: '-',
        bar: '|',
        past: 'X',
        watch: '~',
        new: '=',
        within: '-',
        unknown: '.',
        bound: '|',
        pointer: '^',
        here: '>',
        block: '#',
        filled: '#',
        empty: '.',
        cut: '~',
    };
}
