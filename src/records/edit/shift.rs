//! Putting an item of a list to another place in it, with the comments above it.

use std::ops::Range;

use crate::records::yaml::{Layout, Node, What};

use super::{Path, Step, line_start};

/// Which bytes become what; `None` where the layout is not known.
pub(super) fn shift(text: &str, root: &Node, path: &Path, to: usize) -> Option<(Range<usize>, String)> {
    let (list, Step::Item(from)) = path.parent()? else { return None };
    let What::List(Layout::Block, items) = &list.find(root)?.what else { return None };
    let pieces = pieces(text, items)?;
    let (low, high) = ((*from).min(to), (*from).max(to));
    let mut order: Vec<&str> =
        pieces.get(low..=high)?.iter().map(|piece| text.get(piece.clone())).collect::<Option<_>>()?;
    if *from < to {
        order.rotate_left(1);
    } else {
        order.rotate_right(1);
    }
    Some((pieces.get(low)?.start..pieces.get(high)?.end, order.concat()))
}

/// Each item with its lines, from behind the one before: comments above it are its own. Above the first they are the list's.
fn pieces(text: &str, items: &[Node]) -> Option<Vec<Range<usize>>> {
    let mut start = line_start(text, items.first()?.bytes.start);
    let mut pieces = Vec::new();
    for item in items {
        let end = item.bytes.end + text.get(item.bytes.end..)?.find('\n')? + 1;
        pieces.push(start..end);
        start = end;
    }
    Some(pieces)
}
