//! The entries of two copies, compared as they lie in their files.

use crate::domain::brought::names;
use crate::domain::entry::{Act, Entry};

use super::super::inspection_file::{Opened, Stretch};

/// An entry with its bytes and chain value.
pub(super) struct Piece<'a> {
    pub(super) entry: &'a Entry,
    pub(super) bytes: &'a [u8],
    pub(super) chain: &'a str,
}

/// Its entries; `lf` is the file with its line ends as LF.
pub(super) fn pieces<'a>(opened: &'a Opened, lf: &'a [u8]) -> Vec<Piece<'a>> {
    let of = |stretch: &Stretch| lf.get(stretch.entry.clone()).unwrap_or_default();
    let entries = opened.inspection.entries().iter().zip(&opened.stretches).zip(&opened.chains);
    entries.map(|((entry, stretch), chain)| Piece { entry, bytes: of(stretch), chain }).collect()
}

/// Whether one of `among` holds `piece` as brought.
pub(super) fn holds(among: &[Piece<'_>], piece: &Piece<'_>) -> bool {
    among.iter().any(|other| {
        matches!(&other.entry.act, Act::Brought { bytes, chain, .. } if bytes.as_bytes() == piece.bytes && chain == piece.chain)
    })
}

/// Whether an entry of theirs only holds one of mine as brought.
pub(super) fn is_mine(piece: &Piece<'_>, my_rest: &[Piece<'_>]) -> bool {
    my_rest.iter().any(|mine| holds(std::slice::from_ref(piece), mine))
}

/// Whether the entry that an act is about stands in both copies, with the chain value that it names.
pub(super) fn names_the_stem(act: &Act, stem: &[Piece<'_>]) -> bool {
    let Some(number) = names(act) else { return true };
    let Some(about) = stem.iter().find(|piece| piece.entry.number == number) else { return false };
    if let Act::Countersign { chain, .. } | Act::Return { chain, .. } = act { chain == about.chain } else { true }
}
