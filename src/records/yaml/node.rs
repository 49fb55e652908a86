//! The tree between a file's text and our types, the same for reading and writing.

use std::ops::Range;

/// A place in a file, both counted from 1; the column in characters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub struct At {
    /// The line.
    pub line: u32,
    /// The column.
    pub column: u32,
}

impl At {
    /// The whole of a file, and no place in it.
    pub const WHOLE: Self = Self { line: 0, column: 0 };

    /// `sheets/INV.yaml:14:7`; the file alone where it is about the whole of it.
    pub fn in_file(self, file: &str) -> String {
        let Self { line, column } = self;
        if self == Self::WHOLE { file.to_owned() } else { format!("{file}:{line}:{column}") }
    }
}

/// Whether a list or mapping stands on lines of its own or between brackets.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Layout {
    /// One line an item.
    Block,
    /// `{a: 1}`, `[a, b]`.
    Flow,
}

/// How a scalar is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Quoting {
    /// As it is: numbers, days, figures, our own words.
    Bare,
    /// Plain where every reader takes it for text, quoted else.
    Fitting,
    /// In quotes whatever it is.
    Always,
}

/// One node.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Node {
    /// Where it begins; line 0 when it never stood in a file.
    pub at: At,
    /// The bytes it takes in the file, without what stands around it; empty when it never stood in one.
    pub bytes: Range<usize>,
    /// What it is.
    pub what: What,
}

/// What a node is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum What {
    /// A scalar, as written; read ones are `Bare` when they stood without quotes.
    Text(String, Quoting),
    /// A list.
    List(Layout, Vec<Node>),
    /// A mapping in the order of the file, no key twice.
    Map(Layout, Vec<(Key, Node)>),
}

/// The key of a mapping.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Key {
    /// Where it begins.
    pub at: At,
    /// The bytes it takes in the file, without its colon.
    pub bytes: Range<usize>,
    /// As written.
    pub text: String,
}

impl Key {
    /// A key to be written.
    pub fn new(text: impl Into<String>) -> Self {
        Self { at: At::default(), bytes: 0..0, text: text.into() }
    }
}

impl Node {
    /// A node to be written.
    pub fn new(what: What) -> Self {
        Self { at: At::default(), bytes: 0..0, what }
    }

    /// A scalar to be written.
    pub fn text(text: impl Into<String>, quoting: Quoting) -> Self {
        Self::new(What::Text(text.into(), quoting))
    }

    /// The value under a key of a mapping.
    pub fn get(&self, key: &str) -> Option<&Self> {
        match &self.what {
            What::Map(_, pairs) => pairs.iter().find(|(known, _)| known.text == key).map(|(_, node)| node),
            What::Text(..) | What::List(..) => None,
        }
    }

    /// The items of a list; none when it is no list.
    pub fn items(&self) -> &[Self] {
        match &self.what {
            What::List(_, items) => items,
            What::Text(..) | What::Map(..) => &[],
        }
    }

    /// Adds every scalar's text below.
    pub fn texts(&self, all: &mut std::collections::BTreeSet<String>) {
        match &self.what {
            What::Text(text, _) => drop(all.insert(text.clone())),
            What::List(_, items) => items.iter().for_each(|item| item.texts(all)),
            What::Map(_, pairs) => pairs.iter().for_each(|(_, value)| value.texts(all)),
        }
    }

    /// The text of a scalar.
    pub fn as_text(&self) -> Option<&str> {
        match &self.what {
            What::Text(text, _) => Some(text),
            What::List(..) | What::Map(..) => None,
        }
    }

    /// What stands there, in words for a fault.
    pub fn said(&self) -> String {
        match &self.what {
            What::Text(text, Quoting::Bare) if text.is_empty() => "nothing".to_owned(),
            What::Text(text, _) => format!("`{}`", short(text)),
            What::List(..) => "a list".to_owned(),
            What::Map(..) => "keys with values".to_owned(),
        }
    }
}

/// The text, cut to what fits in a fault, line breaks and the like shown as escapes.
pub(super) fn short(text: &str) -> String {
    const LONGEST: usize = 60;
    let cut: String = text.chars().take(LONGEST).flat_map(shown).collect();
    if text.chars().nth(LONGEST).is_some() { format!("{cut}...") } else { cut }
}

fn shown(letter: char) -> Vec<char> {
    if letter.is_control() { letter.escape_default().collect() } else { vec![letter] }
}
