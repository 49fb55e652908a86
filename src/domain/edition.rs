//! The manual on the bench and the one that the limits sheet was written from: a figure judged by an old book is no judgement.

use super::entry::{Act, Entry};
use super::inspection::Inspection;

/// What the difference of the two editions asks of a named person; settled by that person's answer to the entry, or by the edition
/// given anew.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Asked {
    /// The entry that gave the edition: the first one where it was given at the beginning.
    pub entry: u32,
    /// The question.
    pub words: String,
}

/// Whether the levels still hold, where the manual is of another edition than the sheet and nobody has said so.
pub fn asked(inspection: &Inspection) -> Option<Asked> {
    let (manual, sheet) = (inspection.opening().manual.as_ref()?, inspection.sheet()?);
    let (bench, kept) = (manual.edition.trim(), sheet.edition.trim());
    if bench.is_empty() || kept.is_empty() || bench.eq_ignore_ascii_case(kept) {
        return None;
    }
    let gives = |entry: &&Entry| matches!(&entry.act, Act::Opening(later) if later.manual.is_some());
    let entry = inspection.standing_entries().rev().find(gives).map_or(1, |entry| entry.number);
    if inspection.is_answered(entry) {
        return None;
    }
    let words = format!("manual edition {bench}, limits sheet edition {kept}: do its levels still hold?");
    Some(Asked { entry, words })
}
