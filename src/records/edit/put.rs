//! Putting a value, a key or an item into a text.

use std::ops::Range;

use crate::records::yaml::{Key, Layout, Node, What, emit_behind_dash, emit_behind_key, emit_key};

use super::{Path, Step, column, dash, in_brackets, line_end};

/// Which bytes become what; `None` where the layout is not known.
type Replaced = Option<(Range<usize>, String)>;

/// A value in the place of the old one, or a new key.
pub(super) fn put(text: &str, root: &Node, path: &Path, value: &Node, behind: &[String]) -> Replaced {
    let (parent, last) = path.parent()?;
    let around = parent.find(root)?;
    let surround = if in_brackets(root, path) { Layout::Flow } else { Layout::Block };
    match (&around.what, last) {
        (What::Map(layout, pairs), Step::Key(key)) => match pairs.iter().find(|(known, _)| known.text == *key) {
            Some((known, old)) => {
                let colon = known.bytes.end + text.get(known.bytes.end..)?.find(':')? + 1;
                let end = old.bytes.end.max(colon);
                Some((colon..end, emit_behind_key(value, column(text, known.bytes.start), surround)))
            }
            None => new_key(text, around, (*layout, pairs), (key, value), behind),
        },
        (What::List(..), Step::Item(item)) => {
            let old = around.items().get(*item)?;
            let indent = if surround == Layout::Flow { 0 } else { dash(text, &old.bytes)? };
            Some((old.bytes.clone(), emit_behind_dash(value, indent, surround)))
        }
        (What::Text(..) | What::Map(..) | What::List(..), _) => None,
    }
}

fn new_key(
    text: &str,
    around: &Node,
    (layout, pairs): (Layout, &[(Key, Node)]),
    (key, value): (&str, &Node),
    behind: &[String],
) -> Replaced {
    let before = pairs.iter().rfind(|(known, _)| behind.contains(&known.text));
    let first = pairs.first();
    let key_text = emit_key(key);
    if layout == Layout::Flow {
        let value = emit_behind_key(value, 0, Layout::Flow);
        return Some(match (before, first) {
            (Some((known, node)), _) => {
                let at = node.bytes.end.max(known.bytes.end);
                (at..at, format!(", {key_text}:{value}"))
            }
            (None, Some((first, _))) => (first.bytes.start..first.bytes.start, format!("{key_text}:{value}, ")),
            (None, None) => (around.bytes.clone(), format!("{{{key_text}:{value}}}")),
        });
    }
    let (first, _) = first?;
    let indent = column(text, first.bytes.start);
    let blanks = " ".repeat(indent);
    let value = emit_behind_key(value, indent, Layout::Block);
    match before {
        Some((known, node)) => {
            let at = line_end(text, node.bytes.end.max(known.bytes.end));
            Some((at..at, format!("\n{blanks}{key_text}:{value}")))
        }
        None => Some((first.bytes.start..first.bytes.start, format!("{key_text}:{value}\n{blanks}"))),
    }
}

/// An item behind the last one.
pub(super) fn push(text: &str, root: &Node, path: &Path, item: &Node) -> Replaced {
    let list = path.find(root)?;
    let What::List(layout, items) = &list.what else { return None };
    match (layout, items.last()) {
        (Layout::Flow, Some(last)) => {
            Some((last.bytes.end..last.bytes.end, format!(", {}", emit_behind_dash(item, 0, Layout::Flow))))
        }
        (Layout::Flow, None) => Some((list.bytes.clone(), format!("[{}]", emit_behind_dash(item, 0, Layout::Flow)))),
        (Layout::Block, Some(last)) => {
            let indent = dash(text, &last.bytes)?;
            let at = line_end(text, last.bytes.end);
            let blanks = " ".repeat(indent);
            Some((at..at, format!("\n{blanks}- {}", emit_behind_dash(item, indent, Layout::Block))))
        }
        (Layout::Block, None) => None,
    }
}
