//! Taking a key or an item out of a text.

use std::ops::Range;

use crate::records::yaml::{Layout, Node, What};

use super::{Path, Step, line_end, line_start};

/// The bytes that go; `None` where the layout is not known.
pub(super) fn take(text: &str, root: &Node, path: &Path) -> Option<Range<usize>> {
    let (parent, last) = path.parent()?;
    let around = parent.find(root)?;
    match (&around.what, last) {
        (What::Map(layout, pairs), Step::Key(key)) => {
            let spans: Vec<_> =
                pairs.iter().map(|(key, node)| key.bytes.start..node.bytes.end.max(colon(text, &key.bytes))).collect();
            let at = pairs.iter().position(|(known, _)| known.text == *key)?;
            one_of(text, around, *layout, &spans, at)
        }
        (What::List(layout, items), Step::Item(item)) => {
            let spans: Vec<_> = items.iter().map(|item| item.bytes.clone()).collect();
            one_of(text, around, *layout, &spans, *item)
        }
        (What::Text(..) | What::Map(..) | What::List(..), _) => None,
    }
}

/// Behind the colon of a key.
fn colon(text: &str, key: &Range<usize>) -> usize {
    text.get(key.end..).and_then(|rest| rest.find(':')).map_or(key.end, |at| key.end + at + 1)
}

fn one_of(text: &str, around: &Node, layout: Layout, spans: &[Range<usize>], at: usize) -> Option<Range<usize>> {
    let span = spans.get(at)?;
    let before = at.checked_sub(1).and_then(|before| spans.get(before));
    let after = spans.get(at + 1);
    if layout == Layout::Flow {
        return Some(match (before, after) {
            (_, Some(after)) => span.start..after.start,
            (Some(before), None) => before.end..span.end,
            // nothing is left between the brackets
            (None, None) => around.bytes.start + 1..around.bytes.end - 1,
        });
    }
    let start = line_start(text, span.start);
    let is_item = matches!(around.what, What::List(..));
    let lead = text.get(start..span.start)?;
    if lead.contains('-') && !is_item {
        // the first key behind a dash: the next one takes its place
        return Some(span.start..after?.start);
    }
    let end = line_end(text, span.end);
    let line_break = text.get(end..)?.find('\n').map_or(0, |at| at + 1);
    Some(start..end + line_break)
}
