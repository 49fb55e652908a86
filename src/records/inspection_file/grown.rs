//! A record grown by entries, before it is saved.

use crate::domain::entry::Entry;
use crate::records::entry_file::entry_text;
use crate::records::seal::{chain_after, chain_line, sha256};

use super::Seal;
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

    pub(super) fn seal(&self) -> Seal {
        let lf = with_lf(&self.bytes);
        Seal { length: u64::try_from(lf.len()).unwrap_or(u64::MAX), sha256: sha256(&lf) }
    }
}
