//! Entries as they stand in a record: what each kind carries, key by key.

mod act;
mod later;
mod signing;

use crate::domain::entry::{Entry, FindingMade, Late, PhotoRef};

use super::form::{Fields, Slot, Unknown, keys};
use super::words::{count, id, name, stamp, text, verbatim, words};
use super::yaml::{Layout, emit_item};

pub(super) use later::opening_answers;

/// An entry with the chain value that stands behind it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Chained {
    /// The entry.
    pub entry: Entry,
    /// 16 hexadecimal digits.
    pub chain: String,
}

/// An entry with its chain value, as it is read.
pub fn chained(slot: &mut Slot<'_>, value: Option<&Chained>) -> Option<Chained> {
    slot.map(Layout::Block, |fields| {
        let entry = entry_keys(fields, value.map(|value| &value.entry));
        let chain = fields.need("chain", verbatim, value.map(|value| &value.chain));
        Some(Chained { entry: entry?, chain: chain? })
    })
}

/// The bytes of an entry, from its `- entry:` up to where its `chain:` line will stand.
pub fn entry_text(entry: &Entry) -> String {
    let entry = |slot: &mut Slot<'_>| drop(slot.map(Layout::Block, |fields| entry_keys(fields, Some(entry))));
    emit_item(&super::form::write(entry))
}

/// The entry that such bytes say; `None` when they cannot be read, or say something that was itself brought.
pub fn entry_of(bytes: &str) -> Option<Entry> {
    let tree = super::yaml::parse("", bytes.as_bytes()).ok()?;
    let [item] = tree.items() else { return None };
    // what was brought is never brought on: no depth for a hostile file to dig
    if item.get("kind").and_then(|kind| kind.as_text()) == Some("brought") {
        return None;
    }
    let whole = |slot: &mut Slot<'_>| slot.map(Layout::Block, |fields| entry_keys(fields, None));
    super::form::read("", item, Unknown::Passed, whole).ok()
}

fn entry_keys(fields: &mut Fields<'_>, value: Option<&Entry>) -> Option<Entry> {
    let number = fields.need("entry", count, value.map(|entry| &entry.number));
    let at = fields.need("at", stamp, value.map(|entry| &entry.at));
    let by = fields.need("by", id, value.map(|entry| &entry.by));
    let writer = fields.may("writer", id, value.map(|entry| &entry.writer));
    let late = fields.may("late", late, value.map(|entry| &entry.late));
    let act = fields.choice("kind", act::KINDS, value.map(|entry| (entry.act.kind(), &entry.act)));
    Some(Entry { number: number?, at: at?, by: by?, writer: writer?, late: late?, act: act? })
}

keys! {
    fn late -> Late, Flow {
        taken "taken" need words,
        sheet "sheet" may verbatim,
    }

    fn photo -> PhotoRef, Flow {
        hash "hash" need verbatim,
        name "name" need words,
    }
}

/// The keys of a finding.
fn finding_keys(fields: &mut Fields<'_>, value: Option<&FindingMade>) -> Option<FindingMade> {
    let part = fields.need("part", name, value.map(|finding| &finding.part));
    let step = fields.need("step", name, value.map(|finding| &finding.step));
    let kind = fields.need("finding", text, value.map(|finding| &finding.kind));
    let grade = fields.need("grade", text, value.map(|finding| &finding.grade));
    let details = fields.pairs("details", verbatim, value.map(|finding| &finding.details));
    let note = fields.may("note", words, value.map(|finding| &finding.note));
    let photos = fields.list("photos", photo, value.map(|finding| &finding.photos));
    Some(FindingMade {
        part: part?,
        step: step?,
        kind: kind?,
        grade: grade?,
        details: details?,
        note: note?,
        photos: photos?,
    })
}
