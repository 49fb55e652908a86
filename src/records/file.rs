//! What all our files have in common: the remark on top, `format: 1` as the first key, then their own keys.

mod checked;
mod filling;

pub(super) use checked::every;
pub use checked::{Gathered, Lost, Read, gathered, read_checked};
pub use filling::{Filling, Round, steady};

use super::form::{self, Shape, Slot, shape_of};
use super::yaml::{Key, Layout, Node, Problems, Quoting, What, emit, nearest, parse_on};

/// The format that this program writes.
pub const FORMAT: u32 = 1;

/// One kind of file: its remark, and the keys behind `format`.
pub struct Format<T> {
    /// The first line without its `# `.
    pub remark: &'static str,
    /// All keys behind `format`.
    pub body: fn(&mut Slot<'_>, Option<&T>) -> Option<T>,
}

/// Reads a file.
///
/// # Errors
/// Every fault of it.
pub fn read<T>(format: &Format<T>, file: &str, bytes: &[u8]) -> Result<T, Problems> {
    read_checked(format, file, bytes, |_, _| {})
}

/// The tree behind `format`, and what is wrong with the format; a newer one is not read further.
fn opened(file: &str, bytes: &[u8]) -> Result<(Node, Problems), Problems> {
    let (tree, mut problems) = parse_on(file, bytes);
    let Some(tree) = tree else { return Err(problems.sorted()) };
    obeyed(&tree, &mut problems);
    let (number, rest) = without_format(tree, &mut problems);
    if number.is_some_and(|number| number > FORMAT) { Err(problems) } else { Ok((rest, problems)) }
}

/// What a terminal would obey instead of showing it, written behind a backslash.
fn obeyed(node: &Node, problems: &mut Problems) {
    match &node.what {
        What::Text(text, _) if text.chars().any(|letter| letter.is_control() && letter != '\n') => {
            let mend = "Take it out: a terminal would obey it.";
            problems.add(node.at, "a control character", "letters, digits and signs", mend);
        }
        What::Text(..) => {}
        What::List(_, items) => items.iter().for_each(|item| obeyed(item, problems)),
        What::Map(_, pairs) => pairs.iter().for_each(|(_, value)| obeyed(value, problems)),
    }
}

/// Takes the key `format` off a tree; says what is wrong with it.
pub(super) fn without_format(tree: Node, problems: &mut Problems) -> (Option<u32>, Node) {
    let (at, bytes) = (tree.at, tree.bytes.clone());
    let What::Map(layout, mut pairs) = tree.what else {
        return (None, tree);
    };
    let first = pairs.first().is_some_and(|(key, _)| key.text == "format");
    let Some(place) = pairs.iter().position(|(key, _)| key.text == "format") else {
        let slip = pairs.first().filter(|(key, _)| nearest(&key.text, ["format"]).is_some());
        if let Some((key, _)) = slip {
            let found = format!("the key `{}`, not known here", key.text);
            problems.add(key.at, found, "`format: 1` as the first key", "Did you mean `format`?");
            pairs.remove(0);
            return (None, Node { at, bytes, what: What::Map(layout, pairs) });
        }
        problems.add(at, "no key `format`", "`format: 1` as the first key", "Put the line `format: 1` on top.");
        return (None, Node { at, bytes, what: What::Map(layout, pairs) });
    };
    let (key, value) = pairs.remove(place);
    if !first {
        problems.add(
            key.at,
            "`format` behind another key",
            "`format: 1` as the first key",
            "Move the line to the top.",
        );
    }
    let number = value.as_text().and_then(|text| text.parse::<u32>().ok()).filter(|number| *number > 0);
    match number {
        None => problems.add(value.at, value.said(), "the number of the format, `1`", "Write `format: 1`."),
        Some(number) if number > FORMAT => {
            let mend = "Read it with the newer version of the program that wrote it.";
            problems.add(value.at, format!("format {number}"), format!("format {FORMAT} at most"), mend);
        }
        Some(_) => {}
    }
    (number, Node { at, bytes, what: What::Map(layout, pairs) })
}

/// The text of a file.
pub fn write<T>(format: &Format<T>, value: &T) -> String {
    format!("# {}\n{}", format.remark, emit(&tree(format, value)))
}

/// The tree of a file, as it is written.
pub fn tree<T>(format: &Format<T>, value: &T) -> Node {
    let body = form::write(|slot| drop((format.body)(slot, Some(value))));
    let mut pairs = vec![(Key::new("format"), Node::text(FORMAT.to_string(), Quoting::Bare))];
    if let What::Map(_, rest) = body.what {
        pairs.extend(rest);
    }
    Node::new(What::Map(Layout::Block, pairs))
}

/// The shape of a file behind `format`.
pub fn shape<T>(format: &Format<T>) -> Shape {
    shape_of(|slot| (format.body)(slot, None))
}
