//! Whether a record is as this program left it.

use std::collections::BTreeSet;

use crate::domain::entry::Act;
use crate::records::entry_file::Chained;
use crate::records::seal::{chain_after, chain_line, sha256};

use super::Stretch;

/// Whether a record may be gone on with as it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Trust {
    /// Every entry holds.
    Whole,
    /// Changed outside, and somebody has said so in a later entry that holds.
    Seen {
        /// The first entry that does not hold; 0 when only line ends were turned.
        entry: u32,
    },
    /// Changed outside.
    Changed {
        /// The first entry that does not hold; 0 when only line ends were turned.
        entry: u32,
    },
    /// It cannot be read to its end: what stands before the broken entry is there to read, and nothing is written.
    Cut {
        /// The entry that is broken.
        entry: u32,
    },
    /// Written by a newer program: to be read only.
    Newer {
        /// Its format.
        format: u32,
    },
}

/// One thing that does not hold.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Break {
    /// The number the entry carries; 0 for the file as a whole.
    pub entry: u32,
    /// Its place in the file, from 1; 0 for the file as a whole.
    pub place: u32,
    /// What it is.
    pub flaw: Flaw,
}

/// What does not hold.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Flaw {
    /// Its bytes, or for the first entry the head's, are not those its chain value was taken of.
    Bytes,
    /// It does not carry the number that follows.
    Number,
    /// Something stands between it and what comes before.
    Stray,
    /// The signature states another length or hash than the bytes before it have.
    Seal,
    /// Something stands behind the last entry.
    Tail,
    /// Line ends were turned, by mail or an editor; all entries are judged with them turned back.
    LineEnds,
}

impl Flaw {
    /// Its word.
    pub fn word(self) -> &'static str {
        match self {
            Self::Bytes => "bytes",
            Self::Number => "number",
            Self::Stray => "stray",
            Self::Seal => "seal-broken",
            Self::Tail => "behind-the-end",
            Self::LineEnds => "line-ends",
        }
    }
}

impl Break {
    /// What was found in the place of what was saved.
    pub fn found(&self) -> String {
        let entry = self.entry;
        match self.flaw {
            Flaw::Bytes if self.place == 1 => "a head or an entry 1 that was changed".to_owned(),
            Flaw::Bytes => format!("entry {entry} changed, or something taken out before it"),
            Flaw::Number => format!("entry {entry} where it does not follow: one was put in, taken out or swapped"),
            Flaw::Stray => format!("something put in before entry {entry}"),
            Flaw::Seal => format!("a signature, entry {entry}, given under other bytes than those before it"),
            Flaw::Tail => "something behind the last entry".to_owned(),
            Flaw::LineEnds => "line ends that were turned, by mail or an editor".to_owned(),
        }
    }

    /// What does not hold, one sentence.
    pub fn what(&self) -> String {
        let entry = self.entry;
        match self.flaw {
            Flaw::Bytes if self.place == 1 => "The head or entry 1 was changed.".to_owned(),
            Flaw::Bytes => format!("Entry {entry} was changed, or what stood before it was taken out."),
            Flaw::Number => format!("Entry {entry} does not follow: one was put in, taken out or swapped."),
            Flaw::Stray => format!("Something was put in before entry {entry}."),
            Flaw::Seal => format!("The signature, entry {entry}, was given under other bytes than those before it."),
            Flaw::Tail => "Something stands behind the last entry.".to_owned(),
            Flaw::LineEnds => "Line ends were turned, by mail or an editor.".to_owned(),
        }
    }
}

/// Everything that does not hold. `raw` are the file's bytes, `lf` those with line ends LF; an entry is none where only a newer
/// program can read it: its chain value is taken from the bytes.
pub(super) fn breaks(
    raw: &[u8],
    lf: &[u8],
    chain_of_head: &str,
    entries: &[Option<Chained>],
    stretches: &[Stretch],
) -> Vec<Break> {
    let mut breaks = Vec::new();
    if raw.len() != lf.len() {
        breaks.push(Break { entry: 0, place: 0, flaw: Flaw::LineEnds });
    }
    let mut before = chain_of_head.to_owned();
    let mut largest = 0_u32;
    for ((place, read), stretch) in (1..).zip(entries).zip(stretches) {
        let entry = read.as_ref().map(|read| &read.entry);
        let number = entry.map_or(largest.saturating_add(1), |entry| entry.number);
        let mut add = |flaw| breaks.push(Break { entry: number, place, flaw });
        let bytes = lf.get(stretch.entry.clone()).unwrap_or_default();
        let chain_bytes = lf.get(stretch.entry.end..stretch.end).unwrap_or_default();
        let chain = read.as_ref().map_or_else(|| chain_of_line(chain_bytes), |read| read.chain.clone());
        if number != largest.saturating_add(1) {
            add(Flaw::Number);
        }
        largest = largest.max(number);
        if !stretch.follows {
            add(Flaw::Stray);
        }
        if chain_after(&before, bytes) != chain || chain_bytes != chain_line(&chain).as_bytes() {
            add(Flaw::Bytes);
        }
        if let Some(Act::Sign(signature)) = entry.map(|entry| &entry.act) {
            let sealed = lf.get(..stretch.entry.start).unwrap_or_default();
            let length = u64::try_from(sealed.len()).unwrap_or(u64::MAX);
            if signature.length != length || signature.sha256 != sha256(sealed) {
                add(Flaw::Seal);
            }
        }
        before = chain;
    }
    let end = stretches.last().map(|stretch| stretch.end);
    if end.is_some_and(|end| end != lf.len()) {
        let place = u32::try_from(entries.len()).unwrap_or(u32::MAX);
        breaks.push(Break { entry: largest, place, flaw: Flaw::Tail });
    }
    breaks
}

/// The value of a chain line that stands alone.
fn chain_of_line(bytes: &[u8]) -> String {
    let line = String::from_utf8_lossy(bytes);
    line.split('"').nth(1).unwrap_or_default().to_owned()
}

/// Entries that are not as they were written, or do not stand where they were: a seal that is broken is so by those before it,
/// and turned line ends change nothing that was signed.
pub(super) fn changed(breaks: &[Break]) -> BTreeSet<u32> {
    let moved = |one: &&Break| matches!(one.flaw, Flaw::Bytes | Flaw::Number | Flaw::Stray);
    breaks.iter().filter(moved).map(|one| one.entry).collect()
}

/// The place of the last entry that stands in turned line ends; what is appended behind it has its own.
pub(super) fn turned_until(raw: &[u8], stretches: &[Stretch]) -> u32 {
    let turned = raw.windows(2).enumerate().filter(|(_, pair)| pair == b"\r\n").map(|(place, _)| place);
    let (count, last) = turned.fold((0_usize, None), |(count, _), place| (count + 1, Some(place)));
    let last = last.map_or(0, |place| (place + 1).saturating_sub(count));
    let before = stretches.iter().filter(|stretch| stretch.entry.start <= last).count();
    u32::try_from(before).unwrap_or(u32::MAX)
}

/// What the breaks mean for going on: they are seen when a later entry that holds says so, behind all that was changed,
/// and the bytes are still those that were seen. `raw` are the file's bytes.
pub(super) fn of(breaks: &[Break], entries: &[Chained], (raw, turned_until): (&[u8], u32)) -> Trust {
    let Some(first) = breaks.iter().min_by_key(|one| one.place) else { return Trust::Whole };
    let last = breaks.iter().map(|one| one.place).max().unwrap_or(0).max(turned_until);
    let seen = (1..).zip(entries).any(|(place, chained)| place > last && covers(&chained.entry.act, raw));
    if seen { Trust::Seen { entry: first.entry } } else { Trust::Changed { entry: first.entry } }
}

/// Whether this says that the file as it is now was seen. Older entries do not say what the file was like.
fn covers(act: &Act, raw: &[u8]) -> bool {
    let Act::SeenOutside { length, sha256: stated, .. } = act else { return false };
    let Some((length, stated)) = length.zip(stated.as_ref()) else { return true };
    let then = usize::try_from(length).ok().and_then(|length| raw.get(..length));
    then.is_some_and(|then| sha256(then) == *stated)
}
