//! The manual on the bench and the one that the limits sheet was written from: a figure judged by another book is no judgement.

use super::entry::{Act, Entry};
use super::inspection::Inspection;

/// What the difference of the two books asks of a named person; settled by that person's answer to the entry, or by the
/// manual given anew.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Asked {
    /// The entry that gave the manual: the first one where it was given at the beginning.
    pub entry: u32,
    /// The question.
    pub words: String,
}

/// Whether the levels still hold, where the manual has another title or edition than the sheet's and nobody has said so.
pub fn asked(inspection: &Inspection) -> Option<Asked> {
    let (manual, sheet) = (inspection.opening().manual.as_ref()?, inspection.sheet()?);
    let titles =
        differ(&manual.title, &sheet.manual).map(|(bench, kept)| format!("manual `{bench}`, limits sheet `{kept}`"));
    // a manual of a sister type has the same pictures and other figures
    let editions = || {
        let differ = differ(&manual.edition, &sheet.edition);
        differ.map(|(bench, kept)| format!("manual edition {bench}, limits sheet edition {kept}"))
    };
    let books = titles.or_else(editions)?;
    let gives = |entry: &&Entry| matches!(&entry.act, Act::Opening(later) if later.manual.is_some());
    let entry = inspection.standing_entries().rev().find(gives).map_or(1, |entry| entry.number);
    let words = format!("{books}: do its levels still hold?");
    (!inspection.is_answered(entry)).then_some(Asked { entry, words })
}

/// Both, where both are given and say different things; letters, digits and their order count, nothing else.
fn differ<'a>(bench: &'a str, kept: &'a str) -> Option<(&'a str, &'a str)> {
    let bare =
        |text: &str| text.chars().filter(|one| one.is_alphanumeric()).flat_map(char::to_lowercase).collect::<String>();
    let (one, other) = (bare(bench), bare(kept));
    (!one.is_empty() && !other.is_empty() && one != other).then(|| (bench.trim(), kept.trim()))
}
