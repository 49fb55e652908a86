//! A record grown by entries, before it is saved.

use std::borrow::Cow;

use crate::domain::entry::{Act, Entry};
use crate::domain::signing::Seal;
use crate::records::entry_file::entry_text;
use crate::records::seal::{chain_after, chain_line, sha256};

use super::layout::with_lf;

/// A record's bytes with entries behind them, and what the next one needs.
pub(super) struct Grown {
    pub(super) bytes: Vec<u8>,
    pub(super) chain: String,
    pub(super) next: u32,
}

impl Grown {
    pub(super) fn push(&mut self, entry: &Entry) {
        if self.bytes.last() != Some(&b'\n') {
            // a file cut outside, gone on with after somebody has seen it
            self.bytes.push(b'\n');
        }
        let text = entry_text(entry);
        self.chain = chain_after(&self.chain, text.as_bytes());
        self.bytes.extend(text.into_bytes());
        self.bytes.extend(chain_line(&self.chain).into_bytes());
        self.next = self.next.saturating_add(1);
    }

    /// That a change was seen, with the bytes that were seen: the file alone knows them.
    pub(super) fn with_what_was_seen<'e>(&self, entry: &'e Entry) -> Cow<'e, Entry> {
        let Act::SeenOutside { from, note, length: None, sha256: None } = &entry.act else {
            return Cow::Borrowed(entry);
        };
        let length = u64::try_from(self.bytes.len()).ok();
        let (note, sha256) = (note.clone(), Some(sha256(&self.bytes)));
        Cow::Owned(Entry { act: Act::SeenOutside { from: *from, note, length, sha256 }, ..entry.clone() })
    }

    pub(super) fn seal(&self) -> Seal {
        let lf = with_lf(&self.bytes);
        Seal { length: u64::try_from(lf.len()).unwrap_or(u64::MAX), sha256: sha256(&lf), lost: Vec::new() }
    }
}
