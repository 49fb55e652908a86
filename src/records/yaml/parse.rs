//! From bytes to the tree.

use std::borrow::Cow;
use std::collections::BTreeSet;
use std::ops::Range;

use granit_parser::{ErrorKind, Event, Marker, Parser, ScalarStyle, ScanError, Span, StructureStyle, options};

use super::node::{At, Key, Layout, Node, Quoting, What, short};
use super::problem::Problems;

/// The largest file that is read.
pub const MOST_BYTES: usize = 64 * 1024 * 1024;
/// The most scalars, lists and mappings in one file.
pub const MOST_NODES: usize = 2_000_000;
/// How deep lists and mappings may stand in each other; our deepest file needs nine.
const DEEPEST: usize = 64;

/// Reads a file's bytes into a tree. `file` is what it is called in faults.
///
/// # Errors
/// Every fault that the notation itself has; after one that stops the parser, what follows is not looked at.
pub fn parse(file: &str, bytes: &[u8]) -> Result<Node, Problems> {
    let (root, problems) = parse_on(file, bytes);
    problems.unless_any(root)
}

/// The same, with the tree of a file that has faults but could be read to its end, so that what stands in it is looked
/// at too: a key twice hides nothing else.
pub fn parse_on(file: &str, bytes: &[u8]) -> (Option<Node>, Problems) {
    let mut problems = Problems::of(file);
    let Some(text) = text_of(bytes, &mut problems) else { return (None, problems) };
    let options = options! {
        strict_indentation: true,
        disallow_directives: true,
        emit_unresolved_aliases: true,
        emit_comments: false,
        flow_nesting_limit: DEEPEST,
        block_nesting_limit: DEEPEST,
    };
    let mut tree = Tree { problems, open: Vec::new(), root: None, nodes: 0, documents: 0, lost: false };
    for event in Parser::new_from_str_with_options(text, options) {
        let going = match event {
            Ok((event, span)) => {
                // the library gives `~` where nothing stands; only a written `~` has a length
                let nothing = span.start.index() == span.end.index();
                let event = if nothing { without_text(event) } else { event };
                tree.take(event, Stood { at: at(&span.start), bytes: bytes_of(&span, text) })
            }
            Err(error) => tree.broken(&error, text),
        };
        if going == Going::Stop {
            break;
        }
    }
    let Tree { mut problems, root, lost, .. } = tree;
    if root.is_none() && problems.is_empty() {
        problems.add(At { line: 1, column: 1 }, "an empty file", "keys with values", "Begin it with `format: 1`.");
    }
    (root.filter(|_| !lost), problems)
}

/// What stands under a key of the file itself, where its line has it, whatever else is wrong; of a file's first bytes too.
pub fn line_under(key: &str, bytes: &[u8]) -> Option<String> {
    let mut whole = bytes.split_inclusive(|byte| *byte == b'\n').filter(|line| line.ends_with(b"\n"));
    let line = whole.find(|line| line.strip_prefix(key.as_bytes()).is_some_and(|rest| rest.starts_with(b":")))?;
    let text = parse("", line).ok()?.get(key)?.as_text()?.to_owned();
    (!text.is_empty()).then_some(text)
}

/// The same event, a scalar that stands nowhere with an empty text.
#[expect(clippy::wildcard_enum_match_arm, reason = "the library's list of events grows with its features")]
fn without_text(event: Event<'_>) -> Event<'_> {
    match event {
        Event::Scalar(_, ScalarStyle::Plain, anchor, tag) => {
            Event::Scalar(Cow::Borrowed(""), ScalarStyle::Plain, anchor, tag)
        }
        other => other,
    }
}

/// The text of the bytes, unless they are too many, no UTF-8, or hold control characters.
fn text_of<'a>(bytes: &'a [u8], problems: &mut Problems) -> Option<&'a str> {
    if bytes.len() > MOST_BYTES {
        let found = format!("{} bytes", bytes.len());
        problems.add(
            At { line: 1, column: 1 },
            found,
            format!("at most {MOST_BYTES} bytes"),
            "Is this the right file?",
        );
        return None;
    }
    let whole = std::str::from_utf8(bytes);
    let good = match &whole {
        Ok(text) => text,
        Err(error) => bytes.get(..error.valid_up_to()).and_then(|good| std::str::from_utf8(good).ok()).unwrap_or(""),
    };
    let mend = "Save it as UTF-8 text with an ordinary editor, or fetch the file again.";
    let control = |letter: char| letter.is_control() && !matches!(letter, '\n' | '\r' | '\t' | '\u{85}');
    if let Some(offset) = good.find(control) {
        let letter = good.chars().filter(|letter| control(*letter)).map(u32::from).next().unwrap_or(0);
        problems.add(place(good, offset), format!("the control character {letter:#04x}"), "text", mend);
        return None;
    }
    if whole.is_err() {
        problems.add(place(good, good.len()), "bytes that are no UTF-8", "text in UTF-8", mend);
        return None;
    }
    Some(good)
}

/// Where the byte at `offset` stands.
fn place(text: &str, offset: usize) -> At {
    let before = text.get(..offset).unwrap_or(text);
    let line = before.matches('\n').count() + 1;
    let column = before.rsplit('\n').next().unwrap_or("").chars().count() + 1;
    At { line: number(line), column: number(column) }
}

fn number(count: usize) -> u32 {
    u32::try_from(count).unwrap_or(u32::MAX)
}

fn at(marker: &Marker) -> At {
    At { line: number(marker.line()), column: number(marker.col() + 1) }
}

/// Where something stands: its line and column, and its bytes.
struct Stood {
    at: At,
    bytes: Range<usize>,
}

/// The bytes of an event; a text on lines of its own goes to the end of its last one.
fn bytes_of(span: &Span, text: &str) -> Range<usize> {
    let bytes = span.byte_range().unwrap_or(0..0);
    let written = text.get(bytes.clone()).unwrap_or("").trim_end();
    bytes.start..bytes.start + written.len()
}

/// Where a list ends: behind its bracket, or with its last item.
fn end_of(layout: Layout, last: Option<&Node>, end: usize) -> usize {
    let last = last.filter(|_| layout == Layout::Block);
    last.map_or(end, |last| last.bytes.end)
}

#[derive(PartialEq, Eq)]
enum Going {
    On,
    Stop,
}

/// Whether a tag stands before a value.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Tagged {
    Yes,
    No,
}

impl From<bool> for Tagged {
    fn from(is: bool) -> Self {
        if is { Self::Yes } else { Self::No }
    }
}

/// A list or mapping whose end has not come.
enum Open {
    List(Stood, Layout, Vec<Node>),
    Map { stood: Stood, layout: Layout, pairs: Vec<(Key, Node)>, key: Option<Key> },
}

struct Tree {
    problems: Problems,
    open: Vec<Open>,
    root: Option<Node>,
    nodes: usize,
    documents: usize,
    /// What follows would be taken for something else.
    lost: bool,
}

impl Tree {
    fn take(&mut self, event: Event<'_>, stood: Stood) -> Going {
        let at = stood.at;
        #[expect(clippy::wildcard_enum_match_arm, reason = "the library's list of events grows with its features")]
        match event {
            Event::DocumentStart(..) => return self.document(at),
            Event::Alias(_) => self.alias(at, "an alias"),
            Event::UnresolvedAlias(name) => self.alias(at, &format!("the alias `*{}`", short(&name))),
            Event::Scalar(text, style, anchor, tag) => {
                self.plain_only(at, anchor, tag.is_some().into());
                self.scalar(text, style, stood);
            }
            Event::SequenceStart(style, anchor, tag) => {
                self.plain_only(at, anchor, tag.is_some().into());
                self.key_is_no_text(at, "a list");
                self.open.push(Open::List(stood, layout(style), Vec::new()));
            }
            Event::MappingStart(style, anchor, tag) => {
                self.plain_only(at, anchor, tag.is_some().into());
                self.key_is_no_text(at, "a mapping");
                let pairs = Vec::new();
                self.open.push(Open::Map { stood, layout: layout(style), pairs, key: None });
            }
            Event::SequenceEnd | Event::MappingEnd => self.close(stood.bytes.end),
            _ => return Going::On,
        }
        self.within_budget(at)
    }

    fn document(&mut self, at: At) -> Going {
        self.documents += 1;
        if self.documents == 1 {
            return Going::On;
        }
        self.problems.add(at, "a second document", "one document a file", "Take out the line `---` or `...`.");
        Going::Stop
    }

    fn within_budget(&mut self, at: At) -> Going {
        self.nodes += 1;
        if self.lost {
            return Going::Stop;
        }
        if self.nodes <= MOST_NODES {
            return Going::On;
        }
        self.problems.add(at, "more and more values", format!("at most {MOST_NODES}"), "Is this the right file?");
        Going::Stop
    }

    fn alias(&mut self, at: At, found: &str) {
        let mend = "Write the value itself; a text that begins with `*` goes in quotes.";
        self.problems.add(at, found, "the value itself", mend);
        self.key_is_no_text(at, "an alias");
        self.place(Node { at, ..Node::text("", Quoting::Bare) });
    }

    fn plain_only(&mut self, at: At, anchor: usize, tagged: Tagged) {
        if anchor != 0 {
            let mend = "Take out the `&` and the word behind it; a text that begins with `&` goes in quotes.";
            self.problems.add(at, "an anchor before this value", "the value alone", mend);
        }
        if tagged == Tagged::Yes {
            let mend = "Take out the `!` and the word behind it; a text that begins with `!` goes in quotes.";
            self.problems.add(at, "a tag before this value", "the value alone", mend);
        }
    }

    /// A list, mapping or alias where the next key belongs.
    fn key_is_no_text(&mut self, at: At, found: &str) {
        if let Some(Open::Map { key: None, .. }) = self.open.last() {
            self.problems.add(at, format!("{found} as a key"), "a word as a key", "Put a word and a colon before it.");
            self.lost = true;
        }
    }

    fn scalar(&mut self, text: Cow<'_, str>, style: ScalarStyle, Stood { at, bytes }: Stood) {
        let quoting = if style == ScalarStyle::Plain { Quoting::Bare } else { Quoting::Always };
        let Some(Open::Map { key: key @ None, .. }) = self.open.last_mut() else {
            self.place(Node { at, bytes, what: What::Text(text.into_owned(), quoting) });
            return;
        };
        if text == "<<" && quoting == Quoting::Bare {
            self.problems.add(at, "the merge key `<<`", "a key", "Write the keys themselves.");
        }
        *key = Some(Key { at, bytes, text: text.into_owned() });
    }

    fn close(&mut self, end: usize) {
        let node = match self.open.pop() {
            Some(Open::List(Stood { at, bytes }, layout, items)) => {
                let bytes = bytes.start..end_of(layout, items.last(), end);
                Node { at, bytes, what: What::List(layout, items) }
            }
            Some(Open::Map { stood: Stood { at, bytes }, layout, mut pairs, .. }) => {
                if layout == Layout::Flow {
                    join_at_commas(&mut pairs, &mut self.problems);
                }
                once_each(&pairs, &mut self.problems);
                let last = pairs.last().map(|(key, node)| node.bytes.end.max(key.bytes.end));
                let bytes = bytes.start..if layout == Layout::Flow { end } else { last.unwrap_or(end) };
                Node { at, bytes, what: What::Map(layout, pairs) }
            }
            None => return,
        };
        self.place(node);
    }

    fn place(&mut self, node: Node) {
        match self.open.last_mut() {
            Some(Open::List(_, _, items)) => items.push(node),
            Some(Open::Map { pairs, key, .. }) => {
                if let Some(key) = key.take() {
                    pairs.push((key, node));
                }
            }
            None => self.root = Some(node),
        }
    }

    fn broken(&mut self, error: &ScanError, text: &str) -> Going {
        let at = at(error.marker());
        let line = text.lines().nth(usize::try_from(at.line).unwrap_or(1).saturating_sub(1)).unwrap_or("").trim();
        let found = match line {
            "" => error.info(),
            line => format!("`{}`: {}", short(line), error.info()),
        };
        self.problems.add(at, found, "YAML that can be read", mend(error.kind()));
        Going::Stop
    }
}

/// Keys that stand twice; behind the commas, so that a figure cut in two is no key.
fn once_each(pairs: &[(Key, Node)], problems: &mut Problems) {
    let mut known = BTreeSet::new();
    for (key, _) in pairs.iter().filter(|(key, _)| !known.insert(key.text.as_str())) {
        let found = format!("the key `{}` a second time", short(&key.text));
        problems.add(key.at, found, "each key once", "Keep one of the two.");
    }
}

/// `{above: 0,220 mm}` is cut at its comma into a figure and a key without a value: told once, and read as it was meant.
fn join_at_commas(pairs: &mut Vec<(Key, Node)>, problems: &mut Problems) {
    let digits = |text: &str| !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
    let mut whole: Vec<(Key, Node)> = Vec::new();
    for (key, value) in pairs.drain(..) {
        let alone = value.as_text() == Some("") && key.text.starts_with(|letter: char| letter.is_ascii_digit());
        let before = whole.last_mut().and_then(|(_, before)| match &mut before.what {
            What::Text(text, Quoting::Bare) if alone && digits(text.trim_start_matches(['-', '+'])) => {
                Some((before.at, text))
            }
            What::Text(..) | What::List(..) | What::Map(..) => None,
        });
        let Some((at, figure)) = before else {
            whole.push((key, value));
            continue;
        };
        let found = format!("`{figure},{}`, cut in two: a comma separates inside braces", short(&key.text));
        // `1,234.5` has its point already
        let (mark, how) =
            if key.text.contains('.') { ("", "nothing between thousands") } else { (".", "with a point") };
        *figure = format!("{figure}{mark}{}", key.text);
        problems.add(at, found, "one figure", format!("Write {}, {how}.", short(figure)));
    }
    *pairs = whole;
}

fn layout(style: StructureStyle) -> Layout {
    match style {
        StructureStyle::Block => Layout::Block,
        StructureStyle::Flow => Layout::Flow,
    }
}

/// How to mend what the parser stopped at.
fn mend(kind: &ErrorKind) -> &'static str {
    #[expect(clippy::wildcard_enum_match_arm, reason = "the library's list of faults is long and grows")]
    match kind {
        ErrorKind::TabNotAllowed
        | ErrorKind::TabInBlockIndentation
        | ErrorKind::TabInIndentation
        | ErrorKind::TabInPlainScalar => "Use blanks in place of the tab.",
        ErrorKind::UnclosedQuotedScalar | ErrorKind::InvalidQuotedScalarIndent => "Close the quotes on the same line.",
        ErrorKind::UnclosedFlowCollection { .. }
        | ErrorKind::UnexpectedEofFlowSequence
        | ErrorKind::UnexpectedEofFlowMapping => "Close the bracket.",
        ErrorKind::MismatchedFlowCollectionEnd { .. } | ErrorKind::MisplacedFlowCollectionEnd => {
            "Close each bracket with its own kind."
        }
        ErrorKind::RecursionLimitExceeded => "Nothing here stands so deep: is this the right file?",
        ErrorKind::DirectiveDisallowed => "Take out the line that begins with `%`.",
        ErrorKind::MappingValueNotAllowed | ErrorKind::InvalidColonPlacement => {
            "A text with a colon in it goes in quotes; a key begins its own line."
        }
        ErrorKind::UnknownQuotedScalarEscape => "Write `\\\\` for a backslash between double quotes.",
        _ => "Look at this line and the one before it: blanks at the left, a colon and a blank behind each key.",
    }
}
