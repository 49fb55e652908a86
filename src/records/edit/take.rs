//! Taking a key or an item out of a text. What somebody noted at it stays, and says at what it stood.

use std::ops::Range;

use crate::records::yaml::{Layout, Node, What};

use super::{Path, Step, line_end, line_start};

/// Begins the comments that stood at something that is gone.
const STOOD: &str = "# (stood at what was taken out";
/// Characters of what was taken out, before a comment.
const NAMED: usize = 60;

/// The bytes that go, and what comes there instead; `None` where the layout is not known.
pub(super) fn take(text: &str, root: &Node, path: &Path) -> Option<(Range<usize>, String)> {
    let (parent, last) = path.parent()?;
    let around = parent.find(root)?;
    let gone = path.find(root)?;
    let (layout, spans, at): (_, Vec<_>, _) = match (&around.what, last) {
        (What::Map(layout, pairs), Step::Key(key)) => {
            let span = |(key, node): &(crate::records::yaml::Key, Node)| {
                key.bytes.start..node.bytes.end.max(colon(text, &key.bytes))
            };
            (*layout, pairs.iter().map(span).collect(), pairs.iter().position(|(known, _)| known.text == *key)?)
        }
        (What::List(layout, items), Step::Item(item)) => {
            (*layout, items.iter().map(|item| item.bytes.clone()).collect(), *item)
        }
        (What::Text(..) | What::Map(..) | What::List(..), _) => return None,
    };
    if layout == Layout::Flow {
        return between(around, &spans, at).map(|bytes| (bytes, String::new()));
    }
    let key = last.as_key().map(|key| format!("{key}: ")).unwrap_or_default();
    let name = format!("{key}{}", texts(gone).join(", "));
    lines(text, (around, gone), &spans, at, &name)
}

/// Behind the colon of a key.
fn colon(text: &str, key: &Range<usize>) -> usize {
    text.get(key.end..).and_then(|rest| rest.find(':')).map_or(key.end, |at| key.end + at + 1)
}

/// One of several between brackets.
fn between(around: &Node, spans: &[Range<usize>], at: usize) -> Option<Range<usize>> {
    let span = spans.get(at)?;
    let before = at.checked_sub(1).and_then(|before| spans.get(before));
    Some(match (before, spans.get(at + 1)) {
        (_, Some(after)) => span.start..after.start,
        (Some(before), None) => before.end..span.end,
        // nothing is left between the brackets
        (None, None) => around.bytes.start + 1..around.bytes.end - 1,
    })
}

/// One that stands on lines of its own.
fn lines(
    text: &str,
    (around, gone): (&Node, &Node),
    spans: &[Range<usize>],
    at: usize,
    name: &str,
) -> Option<(Range<usize>, String)> {
    let span = spans.get(at)?;
    let line = line_start(text, span.start);
    let lead = text.get(line..span.start)?;
    let end = line_end(text, span.end);
    let behind = end + text.get(end..)?.find('\n').map_or(0, |at| at + 1);
    let is_first_behind_dash = lead.contains('-') && !matches!(around.what, What::List(..));
    // what is noted above a dash is the item's, not its first key's
    let start = if is_first_behind_dash { line } else { above(text, line) };
    let indent = " ".repeat(lead.len() - lead.trim_start_matches(' ').len());
    let stood: Vec<_> =
        comments(text, gone, start..end).into_iter().map(|note| format!("{indent}{}\n", stood(note, name))).collect();
    let stood = stood.concat();
    if is_first_behind_dash {
        // the next one takes its place, what is noted above that one goes before both
        let after = spans.get(at + 1)?.start;
        let notes = text.get(behind..after)?.lines().map(str::trim).filter(|note| note.starts_with('#'));
        let notes: Vec<_> = notes.map(|note| format!("{indent}{note}\n")).collect();
        return Some((start..after, format!("{stood}{}{lead}", notes.concat())));
    }
    Some((start..behind, stood))
}

/// Where the comments begin that stand right above a line.
fn above(text: &str, line: usize) -> usize {
    let before = text.get(..line).unwrap_or_default();
    let notes = before.lines().rev().take_while(|line| line.trim_start().starts_with('#')).count();
    before.split_inclusive('\n').rev().take(notes).fold(line, |at, line| at - line.len())
}

/// Every comment of some bytes; a `#` in a text is none.
fn comments<'a>(text: &'a str, gone: &Node, bytes: Range<usize>) -> Vec<&'a str> {
    let (mut found, mut at) = (Vec::new(), bytes.start);
    while let Some(sign) = text.get(at..bytes.end).and_then(|rest| rest.find('#')).map(|sign| at + sign) {
        at = sign + 1;
        let begins = text.get(..sign).is_none_or(|before| before.is_empty() || before.ends_with([' ', '\t', '\n']));
        if begins && !is_in_text(gone, sign) {
            at = line_end(text, sign).max(at);
            found.extend(text.get(sign..at));
        }
    }
    found
}

fn is_in_text(node: &Node, at: usize) -> bool {
    match &node.what {
        What::Text(..) => node.bytes.contains(&at),
        What::List(_, items) => items.iter().any(|item| is_in_text(item, at)),
        What::Map(_, pairs) => pairs.iter().any(|(key, node)| key.bytes.contains(&at) || is_in_text(node, at)),
    }
}

/// `# (stood at what was taken out: 45 mm, 60 mm) looked up`; what stood at another before says that.
fn stood(note: &str, name: &str) -> String {
    if note.starts_with(STOOD) {
        return note.to_owned();
    }
    let name: String = name.split_whitespace().collect::<Vec<_>>().join(" ").chars().take(NAMED).collect();
    format!("{STOOD}: {}) {}", name.trim_end_matches([':', ' ']), note.trim_start_matches('#').trim_start())
}

/// Every text in a value.
fn texts(node: &Node) -> Vec<&str> {
    match &node.what {
        What::Text(text, _) => vec![text],
        What::List(_, items) => items.iter().flat_map(texts).collect(),
        What::Map(_, pairs) => pairs.iter().flat_map(|(_, node)| texts(node)).collect(),
    }
}
