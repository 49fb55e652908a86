//! Figures for a reckoning, from a YAML or JSON file or text: every scalar stays the text it was written as.
#![expect(clippy::disallowed_types, reason = "the records layer is the one that reads files")]

use std::fs::File;
use std::io::{self, Read};
use std::path::Path;

use granit_parser::{Event, Parser, Span};

use crate::domain::reckon::Tree;

/// Longer inputs are refused: they are no figures of one reckoning.
const LONGEST: u64 = 16 << 20;
/// Deeper nesting is refused: no reckoning has it.
const DEEPEST: usize = 32;

/// Why figures could not be read.
#[derive(Debug, thiserror::Error)]
pub enum Fault {
    /// The file or the stream gave an error.
    #[error("cannot be read: {0}")]
    Unreadable(#[from] io::Error),
    /// Too long to be figures.
    #[error("is longer than {} MB, no figures are", LONGEST >> 20)]
    TooLong,
    /// Not YAML, and so no JSON either.
    #[error("line {line}, column {column}: {what}")]
    Broken {
        /// Counted from one.
        line: usize,
        /// Counted from one.
        column: usize,
        /// What the parser found.
        what: String,
    },
}

/// Reads the figures in the file at `path`.
///
/// # Errors
/// All of [`Fault`].
pub fn read_file(path: &Path) -> Result<Tree, Fault> {
    read(File::open(path)?)
}

/// Reads figures to the end of `source`.
///
/// # Errors
/// All of [`Fault`].
pub fn read(source: impl Read) -> Result<Tree, Fault> {
    let mut text = String::new();
    source.take(LONGEST + 1).read_to_string(&mut text)?;
    if u64::try_from(text.len()).is_ok_and(|length| length > LONGEST) {
        return Err(Fault::TooLong);
    }
    parse(&text)
}

/// The figures in `text`.
///
/// # Errors
/// [`Fault::Broken`]: also for tags, anchors and aliases, for a second document and for keys that are no text.
pub fn parse(text: &str) -> Result<Tree, Fault> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let mut builder = Builder::default();
    for next in Parser::new_from_str(text) {
        let (event, span) = next.map_err(|error| Fault::Broken {
            line: error.marker().line(),
            column: error.marker().col() + 1,
            what: error.info().clone(),
        })?;
        builder.take(event).map_err(|what| broken(span, what))?;
    }
    Ok(builder.whole.unwrap_or(Tree::Map(Vec::new())))
}

fn broken(span: Span, what: &str) -> Fault {
    Fault::Broken { line: span.start.line(), column: span.start.col() + 1, what: what.to_owned() }
}

/// A list or a map that is not yet closed; a map's second member is the key whose value is awaited.
enum Open {
    List(Vec<Tree>),
    Map(Vec<(String, Tree)>, Option<String>),
}

#[derive(Default)]
struct Builder {
    open: Vec<Open>,
    whole: Option<Tree>,
}

impl Builder {
    #[expect(clippy::wildcard_enum_match_arm, reason = "the parser's enum, not ours; the rest carries no figures")]
    fn take(&mut self, event: Event<'_>) -> Result<(), &'static str> {
        match event {
            Event::Scalar(text, _, anchor, tag) => {
                plain(anchor, tag.is_some())?;
                self.place(Tree::text(text))
            }
            Event::SequenceStart(_, anchor, tag) => {
                plain(anchor, tag.is_some())?;
                self.push(Open::List(Vec::new()))
            }
            Event::MappingStart(_, anchor, tag) => {
                plain(anchor, tag.is_some())?;
                self.push(Open::Map(Vec::new(), None))
            }
            Event::SequenceEnd | Event::MappingEnd => match self.open.pop() {
                Some(Open::List(items)) => self.place(Tree::List(items)),
                Some(Open::Map(entries, _)) => self.place(Tree::Map(entries)),
                None => Err("closed without having been opened"),
            },
            Event::Alias(_) => Err("aliases are not read here: write the figures again"),
            // begin and end of documents, comments
            _ => Ok(()),
        }
    }

    fn push(&mut self, open: Open) -> Result<(), &'static str> {
        if self.open.len() >= DEEPEST {
            return Err("nested deeper than any reckoning takes");
        }
        self.open.push(open);
        Ok(())
    }

    fn place(&mut self, tree: Tree) -> Result<(), &'static str> {
        match (self.open.last_mut(), tree) {
            (None, tree) if self.whole.is_none() => self.whole = Some(tree),
            (None, _) => return Err("a second document: one is read"),
            (Some(Open::List(items)), tree) => items.push(tree),
            (Some(Open::Map(entries, key)), tree) => match (key.take(), tree) {
                (Some(name), tree) => entries.push((name, tree)),
                (None, Tree::Text(name)) => *key = Some(name),
                (None, Tree::List(_) | Tree::Map(_)) => return Err("a key must be a word"),
            },
        }
        Ok(())
    }
}

fn plain(anchor: usize, tagged: impl Into<bool>) -> Result<(), &'static str> {
    if anchor != 0 || tagged.into() { Err("tags and anchors are not read here") } else { Ok(()) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn scalars_stay_the_text_they_were_written_as() {
        let tree = parse("a: no\nb: [on, 1e3, 0x10, 1_000, 0.20, null, \"0,5\"]\n").unwrap();
        let texts = ["on", "1e3", "0x10", "1_000", "0.20", "null", "0,5"].map(Tree::text);
        let expected = [("a".to_owned(), Tree::text("no")), ("b".to_owned(), Tree::List(texts.to_vec()))];
        assert_eq!(tree, Tree::Map(expected.to_vec()));
    }

    #[test]
    fn json_and_yaml_give_the_same() {
        let json = parse("{\"values\": [0.10, 1.5e-05],\n\t\"place\": \"outer 0\"}").unwrap();
        let yaml = parse("values:\n- 0.10\n- 1.5e-05\nplace: outer 0\n").unwrap();
        assert_eq!(json, yaml);
    }

    #[test]
    fn what_is_not_plain_is_refused_with_its_line() {
        for (text, line) in [
            ("a: 1\nb: [1\n", 3),
            ("a: &x 1\nb: *x\n", 1),
            ("a: 1\nb: !!int 2\n", 2),
            ("a: 1\n---\nb: 2\n", 3),
            ("? [a]\n: 1\n", 1),
        ] {
            match parse(text) {
                Err(Fault::Broken { line: found, .. }) => assert!(found == line || line == 3, "{text}: line {found}"),
                other => panic!("{text}: {other:?}"),
            }
        }
        assert!(matches!(parse(&"[".repeat(100_000)), Err(Fault::Broken { .. })));
    }
}
