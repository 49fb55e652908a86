//! Where each entry's bytes stand in a record.

use std::borrow::Cow;
use std::ops::Range;

use crate::records::yaml::{Node, What};

/// The bytes of one entry, in the file with its line ends as LF.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stretch {
    /// From its `- entry:` up to, not including, its `chain:` line.
    pub entry: Range<usize>,
    /// Up to and including its `chain:` line.
    pub end: usize,
    /// Nothing stands between this entry and what comes before.
    pub follows: bool,
}

/// The bytes with line ends LF.
pub(in crate::records) fn with_lf(bytes: &[u8]) -> Cow<'_, [u8]> {
    if !bytes.windows(2).any(|pair| pair == b"\r\n") {
        return Cow::Borrowed(bytes);
    }
    let mut out = Vec::with_capacity(bytes.len());
    for (place, byte) in bytes.iter().enumerate() {
        if *byte != b'\r' || bytes.get(place + 1) != Some(&b'\n') {
            out.push(*byte);
        }
    }
    Cow::Owned(out)
}

/// The number of the entry in which `there` begins to differ from `mine`; 0 in the head, none when all of mine stands there.
pub(super) fn entry_at_difference(mine: &[u8], there: &[u8]) -> Option<u32> {
    let place = mine.iter().zip(there).take_while(|(mine, there)| mine == there).count();
    if place == mine.len() {
        return None;
    }
    // a cut may come right before an entry: its first letter is the first that differs
    let until = mine.get(..=place).unwrap_or(mine);
    let begins =
        (0..until.len()).filter(|at| (*at == 0 || until.get(*at - 1) == Some(&b'\n')) && until.get(*at) == Some(&b'-'));
    let number = |at: usize| {
        let line = mine.get(at..)?.split(|byte| *byte == b'\n').next()?;
        std::str::from_utf8(line.strip_prefix(b"- entry: ")?).ok()?.parse().ok()
    };
    Some(begins.filter_map(number).next_back().unwrap_or(0))
}

/// Where the head ends, and where each entry stands; `bytes` have LF line ends.
pub(super) fn stretches(bytes: &[u8], entries_line: u32, items: &[Node]) -> (usize, Vec<Stretch>) {
    let begins = line_begins(bytes);
    let begin = |line: u32| {
        let place = usize::try_from(line).unwrap_or(0);
        place.checked_sub(1).and_then(|place| begins.get(place)).copied().unwrap_or(bytes.len())
    };
    let head_end = begin(entries_line.saturating_add(1));
    let mut stretches = Vec::with_capacity(items.len());
    let mut before = head_end;
    for item in items {
        let first = begin(item.at.line);
        let chain = chain_at(item).map_or(bytes.len(), begin);
        let end = bytes.get(chain..).and_then(|rest| rest.iter().position(|byte| *byte == b'\n'));
        let end = end.map_or(bytes.len(), |length| chain + length + 1);
        stretches.push(Stretch { entry: first..chain.max(first), end, follows: first == before });
        before = end;
    }
    (head_end, stretches)
}

/// The line of the last key, when it is `chain`.
fn chain_at(item: &Node) -> Option<u32> {
    let What::Map(_, pairs) = &item.what else { return None };
    pairs.last().filter(|(key, _)| key.text == "chain").map(|(key, _)| key.at.line)
}

fn line_begins(bytes: &[u8]) -> Vec<usize> {
    let ends = bytes.iter().enumerate().filter(|(_, byte)| **byte == b'\n').map(|(place, _)| place + 1);
    std::iter::once(0).chain(ends).collect()
}
