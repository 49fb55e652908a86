//! A record read from its bytes: head and entries, and whether they are as they were saved.

use crate::domain::apply::{about_nothing, apply, changed_outside};
use crate::domain::entry::Act;
use crate::domain::inspection::{Head, Inspection};
use crate::records::entry_file::{Chained, chained};
use crate::records::file::{FORMAT, Lost, every, without_format};
use crate::records::form::{self, Slot, Unknown};
use crate::records::head_file::head_keys;
use crate::records::seal::chain_of_head;
use crate::records::yaml::{Layout, Node, Problems, Quoting, What, parse_on};

use super::cut;
use super::layout::{self, Stretch};
use super::trust::{self, Break, Trust};

/// A record as read from bytes.
pub(in crate::records) struct Read {
    pub(in crate::records) inspection: Inspection,
    pub(in crate::records) chains: Vec<String>,
    pub(in crate::records) stretches: Vec<Stretch>,
    pub(in crate::records) trust: Trust,
    pub(in crate::records) breaks: Vec<Break>,
    pub(in crate::records) unread: usize,
    pub(super) chain_of_head: String,
}

/// Reads a record from bytes; `name` is what the file is called in faults.
pub(in crate::records) fn read(name: &str, bytes: &[u8]) -> Result<Read, Problems> {
    let lf = layout::with_lf(bytes);
    read_lf(name, bytes, &lf).map_err(|problems| cut::told(&lf, &problems))
}

fn read_lf(name: &str, bytes: &[u8], lf: &[u8]) -> Result<Read, Problems> {
    let (tree, mut problems) = parse_on(name, lf);
    let Some(tree) = tree else { return Err(problems.sorted()) };
    let mut of_format = Problems::of(name);
    let (format, tree) = without_format(tree, &mut of_format);
    let newer = format.filter(|format| *format > FORMAT);
    let unknown = if newer.is_some() { Unknown::Passed } else { Unknown::Refused };
    if newer.is_none() {
        problems.join_elsewhere(of_format);
    }
    let head = form::read(name, &tree, unknown, head_alone).ok();
    if head.is_none() {
        all_faults(&mut without_entries(&tree), &mut problems, head_alone);
    }
    let items = entries_of(&tree, &mut problems);
    let mut entries = Vec::new();
    for item in items {
        match form::read(name, item, unknown, |slot| chained(slot, None)) {
            Ok(entry) => entries.push(Some(entry)),
            Err(_) if newer.is_some() => entries.push(None),
            Err(_) => all_faults(&mut item.clone(), &mut problems, |slot| chained(slot, None)),
        }
    }
    let head = problems.unless_any(head)?;
    let entries_line = entries_line(&tree);
    let (head_end, stretches) = layout::stretches(lf, entries_line, items);
    let chain_of_head = chain_of_head(lf.get(..head_end).unwrap_or_default());
    // a newer format is no excuse: what does not hold by this one's chain is not taken for unchanged
    let breaks = trust::breaks(bytes, lf, &chain_of_head, &entries, &stretches);
    let unread = entries.iter().filter(|entry| entry.is_none()).count();
    let read = entries.into_iter().zip(stretches).filter_map(|(entry, stretch)| Some((entry?, stretch)));
    let (entries, stretches): (Vec<_>, Vec<_>) = read.unzip();
    let turned = if lf.len() == bytes.len() { 0 } else { trust::turned_until(bytes, &stretches) };
    let trust = newer.map_or_else(|| trust::of(&breaks, &entries, (bytes, turned)), |format| Trust::Newer { format });
    let mut inspection = Inspection::new(head);
    let mut chains = Vec::new();
    for Chained { entry, chain } in entries {
        let stray = stray((&inspection, &chains), entry.deed());
        chains.push(chain);
        drop(apply(&mut inspection, entry));
        if let Some(sign) = stray {
            about_nothing(&mut inspection, sign);
        }
    }
    changed_outside(&mut inspection, trust::changed(&breaks));
    Ok(Read { inspection, chains, stretches, trust, breaks, unread, chain_of_head })
}

/// The signature that an act names by a chain value which is not that signature's.
fn stray((inspection, chains): (&Inspection, &[String]), act: &Act) -> Option<u32> {
    let (Act::Countersign { sign, chain } | Act::Return { sign, chain, .. }) = act else { return None };
    let place = inspection.entries().iter().position(|other| other.number == *sign);
    let known = place.and_then(|place| chains.get(place));
    (known != Some(chain)).then_some(*sign)
}

/// Lists what is wrong below a node, also what shows only when other faults are out of the way.
fn all_faults<T>(node: &mut Node, problems: &mut Problems, body: impl Fn(&mut Slot<'_>) -> Option<T>) {
    let mut found = Problems::of(problems.file());
    drop(every(None, node, (&mut found, &mut Lost::default()), body));
    problems.join_elsewhere(found);
}

fn without_entries(tree: &Node) -> Node {
    let What::Map(layout, pairs) = &tree.what else { return tree.clone() };
    let pairs = pairs.iter().filter(|(key, _)| key.text != "entries").cloned().collect();
    Node { at: tree.at, bytes: tree.bytes.clone(), what: What::Map(*layout, pairs) }
}

fn head_alone(slot: &mut Slot<'_>) -> Option<Head> {
    slot.map(Layout::Block, |fields| {
        let head = head_keys(fields, None);
        fields.has("entries");
        head
    })
}

/// The entries; says when they are not the last key or no list.
fn entries_of<'a>(tree: &'a Node, problems: &mut Problems) -> &'a [Node] {
    let What::Map(_, pairs) = &tree.what else { return &[] };
    let mend = "Put the lines back from a copy: a record ends with its entries.";
    match pairs.last() {
        Some((key, node)) if key.text == "entries" => match &node.what {
            What::List(_, items) => items,
            What::Text(text, Quoting::Bare) if text.is_empty() => &[],
            What::Text(..) | What::Map(..) => {
                problems.add(node.at, node.said(), "a list of entries", mend);
                &[]
            }
        },
        Some((key, _)) => {
            problems.add(key.at, format!("`{}` as the last key", key.text), "`entries` as the last key", mend);
            &[]
        }
        None => &[],
    }
}

/// The line at which a break is said to stand.
pub(in crate::records) fn line_of(bytes: &[u8], read: &Read, one: &Break) -> u32 {
    line_at(bytes, read, usize::try_from(one.place).unwrap_or(0).checked_sub(1))
}

/// The line at which an entry begins.
pub(in crate::records) fn line_of_entry(bytes: &[u8], read: &Read, number: u32) -> u32 {
    line_at(bytes, read, read.inspection.entries().iter().position(|entry| entry.number == number))
}

fn line_at(bytes: &[u8], read: &Read, place: Option<usize>) -> u32 {
    let Some(stretch) = place.and_then(|place| read.stretches.get(place)) else { return 1 };
    let lf = layout::with_lf(bytes);
    let before = lf.get(..stretch.entry.start).unwrap_or_default();
    let lines = before.split(|byte| *byte == b'\n').count();
    u32::try_from(lines).unwrap_or(u32::MAX)
}

fn entries_line(tree: &Node) -> u32 {
    let What::Map(_, pairs) = &tree.what else { return 0 };
    pairs.last().map_or(0, |(key, _)| key.at.line)
}
