//! What is known of a record besides its entries, and what must be known before it is believed.

use std::collections::{BTreeMap, BTreeSet};

use super::super::checklist::Signing;
use super::super::entitled;
use super::super::entry::{Act, Entry};
use super::super::inspection::Inspection;
use super::super::signing;
use super::super::stamp::long_day;
use super::super::stranger::entered_as_supervisor;
use super::super::telling::name_of;

/// What has become of the record's photos, in words, by hash: where each is, and whether its bytes are the same.
pub type Photos = BTreeMap<String, String>;

/// What only the files of a record say of it.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Kept {
    /// Its photos.
    pub photos: Photos,
    /// Why it is not to be believed as it lies, a sentence each.
    pub faults: Vec<String>,
    /// What the signature by key is worth, in a few words, of each entry that has one.
    pub keyed: BTreeMap<u32, String>,
    /// Entries whose signature by key is no good, and gives way to one by the right key.
    pub rekey: BTreeSet<u32>,
    /// Entries by which somebody has decided whom this machine does not know as a supervisor, or not with that person's key.
    pub strange: BTreeSet<u32>,
    /// Of those that somebody known has made: what the key says against that.
    pub forged: BTreeMap<u32, String>,
    /// The record before it, where that is at hand.
    pub before: Option<Box<Inspection>>,
}

/// `by key too, good` or `not signed by key`.
pub fn key_words(keyed: &BTreeMap<u32, String>, sign: u32) -> &str {
    keyed.get(&sign).map_or("not signed by key", String::as_str)
}

impl Kept {
    /// Behind the name of whoever countersigned, where that leaves it waiting: `nobody known here`.
    pub fn against(&self, countersignature: &Entry) -> &str {
        self.forged.get(&countersignature.number).map_or("nobody known here", String::as_str)
    }
}

/// What stands first on every page and paper: the file's faults, each change that somebody has seen, each decision that
/// does not count.
pub fn warnings(inspection: &Inspection, kept: &Kept) -> Vec<String> {
    let seen = inspection.entries().iter().filter_map(|entry| seen(inspection, entry));
    let entered = entered_as_supervisor(inspection).into_iter().map(|(.., what)| what);
    let all = kept.faults.iter().cloned().chain(seen).chain(entitled::told(inspection).into_values());
    all.chain(entered).collect()
}

/// `changed outside from entry 10 on, seen by ...`, with the signatures that this has shaken.
pub(super) fn seen(inspection: &Inspection, entry: &Entry) -> Option<String> {
    let Act::SeenOutside { from, note, .. } = &entry.act else { return None };
    let at = from
        .map_or_else(|| "line ends turned outside".to_owned(), |from| format!("changed outside from entry {from} on"));
    let who = name_of(inspection, entry.doer());
    let shaken = [Signing::Decisions, Signing::Close].into_iter().filter_map(|what| {
        let sign = signing::standing_signature(inspection, what)?.number;
        let by = signing::shaken(inspection, sign).filter(|by| by.number == entry.number);
        by.map(|_| format!(". It does not hold any more: entry {sign}, {} signed before that", what.word()))
    });
    let shaken = shaken.collect::<String>();
    Some(format!("{at}, seen by {who} on {}, {}: {note}{shaken}", long_day(entry.at.date()), entry.at.clock()))
}
