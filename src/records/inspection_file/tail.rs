//! A look at a record's end, without reading all of it: what home shows of each.

use crate::domain::checklist::Signing;
use crate::domain::entry::{Act, Entry};
use crate::records::entry_file::chained;
use crate::records::form::{self, Unknown};
use crate::records::yaml::{Node, parse};

/// What the end of a record tells.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Glance {
    /// The last entries that fit into the stretch read, oldest first; at least one.
    pub entries: Vec<Entry>,
    /// The chain value behind the last.
    pub chain: String,
    /// Whether the whole record was looked at.
    pub whole: bool,
}

impl Glance {
    /// The last entry.
    pub fn last(&self) -> Option<&Entry> {
        self.entries.last()
    }

    /// Whether it was signed for closing; unknown when no closing signature stands in what was read of a longer record.
    pub fn is_closed(&self) -> Option<bool> {
        let closing = |entry: &Entry| matches!(&entry.act, Act::Sign(signature) if signature.what == Signing::Close);
        let closed = self.entries.iter().any(closing);
        (closed || self.whole).then_some(closed)
    }
}

/// What `end`, the last bytes of a record, tells; `None` when they hold no entry that can be read.
///
/// `whole` is whether they begin with the record's first byte.
pub fn glance(end: &[u8], whole: Whole) -> Option<Glance> {
    let text = String::from_utf8_lossy(end).replace("\r\n", "\n");
    let begin = if text.starts_with("- entry: ") { 0 } else { text.find("\n- entry: ")? + 1 };
    let tree = parse("", text.get(begin..)?.as_bytes()).ok()?;
    let read = |node: &Node| form::read("", node, Unknown::Passed, |slot| chained(slot, None)).ok();
    let entries: Vec<_> = tree.items().iter().filter_map(read).collect();
    let chain = entries.last()?.chain.clone();
    let entries = entries.into_iter().map(|chained| chained.entry).collect();
    Some(Glance { entries, chain, whole: whole == Whole::Yes })
}

/// Whether bytes are a whole file or its end only.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Whole {
    /// From the first byte.
    Yes,
    /// The end only.
    No,
}
