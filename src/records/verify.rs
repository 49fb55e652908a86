//! What holds of a record: chain, seals, photos, and the links between a rotor's records. What `asfound verify` says.

mod keys;
mod pictures;
mod told;

pub(in crate::records) use keys::entry_bytes;
pub use told::{Kind, Sign, Told};

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use crate::domain::entitled;
use crate::domain::entry::Act;
use crate::domain::stranger::{entered_as_supervisor, strangers};
use crate::domain::watch::Watch;

use super::inspection_file::{Break, Flaw, Opened, Trust};
use super::seal::chain_after;
use super::store::Store;
use super::yaml::Problems;

/// What holds of one record, and what does not.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Verified {
    /// The file.
    pub file: String,
    /// The inspection's id; empty when the file cannot be read.
    pub id: String,
    /// Every sentence.
    pub told: Vec<Told>,
}

impl Verified {
    /// Whether nothing was found to be wrong.
    pub fn is_fine(&self) -> bool {
        self.faults().is_empty()
    }

    /// Whether everything that is there to be checked could be.
    pub fn is_checked(&self) -> bool {
        self.of(Sign::Unchecked).next().is_none()
    }

    /// What holds, a sentence each.
    pub fn holds(&self) -> Vec<&str> {
        self.of(Sign::Holds).collect()
    }

    /// What does not, a sentence each.
    pub fn faults(&self) -> Vec<&str> {
        self.of(Sign::Fault).collect()
    }

    /// What this check could not see, a sentence each.
    pub fn unseen(&self) -> Vec<&str> {
        self.of(Sign::Unchecked).chain(self.of(Sign::Unseen)).collect()
    }

    /// Every sentence with its sign: `X` does not hold, `+` holds, `?` cannot be seen.
    pub fn lines(&self) -> Vec<String> {
        let signs = [Sign::Fault, Sign::Holds, Sign::Unchecked, Sign::Unseen].into_iter();
        signs.flat_map(|sign| self.of(sign).map(move |what| format!("{} {what}", sign.mark()))).collect()
    }

    fn of(&self, sign: Sign) -> impl Iterator<Item = &str> {
        self.told.iter().filter(move |told| told.sign == sign).map(|told| told.what.as_str())
    }

    fn tell(&mut self, told: Told) {
        self.told.push(told);
    }
}

/// Said of every record whose end nothing names.
pub const TAIL_UNSEEN: &str =
    "A missing tail cannot be seen: no later signature, record or note of this data folder names the last entry.";

/// Verifies records; other records of their folders are read for what they say about them.
pub fn verify(store: &Store, files: &[PathBuf]) -> Vec<Verified> {
    files.iter().map(|file| verify_one(store, file)).collect()
}

/// Every record of a data folder.
///
/// # Errors
/// When a folder cannot be read.
pub fn all_records(store: &Store) -> Result<Vec<PathBuf>, Problems> {
    let mut all = Vec::new();
    for listed in store.rotors()? {
        all.extend(store.records_in(&store.root().join("rotors").join(listed.folder))?);
    }
    Ok(all)
}

fn verify_one(store: &Store, file: &Path) -> Verified {
    let mut verified = Verified { file: store.name_of(file), ..Verified::default() };
    let opened = match store.open_whole_part(file) {
        Ok(opened) => opened,
        Err(problems) => {
            verified.tell(Told::new(Sign::Fault, Kind::File, format!("It cannot be read. {problems}")));
            return verified;
        }
    };
    opened.inspection.head().id.clone_into(&mut verified.id);
    chain(&opened, &mut verified);
    signatures(&opened, &mut verified);
    keys::look(store, file, &opened, &mut verified);
    // a people file that cannot be read knows nobody
    let people = store.people().unwrap_or_default();
    let inspection = &opened.inspection;
    let strange = strangers(&people, inspection, inspection.entries()).into_iter();
    for (entry, who, what) in strange.chain(entered_as_supervisor(inspection)) {
        verified.tell(Told::new(Sign::Unseen, Kind::Person, what).at(entry).named(&who));
    }
    brought(&opened, &mut verified);
    pictures::look(store, file, &opened, &mut verified);
    let others = others(store, file, &mut verified);
    twice(store, &opened, &others, &mut verified);
    before(&opened, &others, &mut verified);
    let named = later(&opened, &others, &mut verified) | note(store, file, &opened, &mut verified);
    if let Some(entry) = store.signed_beyond(file, &opened.inspection) {
        let what = format!(
            "{entry}.sig beside it is a signature by key of entry {entry}, which is missing: the tail was cut off."
        );
        verified.tell(Told::new(Sign::Fault, Kind::Tail, what).at(entry));
    } else if !named {
        verified.tell(Told::new(Sign::Unseen, Kind::Tail, TAIL_UNSEEN));
    }
    verified
}

/// Other records of the same folder; what one that cannot be read would say is told as not seen.
fn others(store: &Store, file: &Path, verified: &mut Verified) -> Vec<Opened> {
    let records = file.parent().and_then(|folder| store.records_in(folder).ok()).unwrap_or_default();
    let mut others = Vec::new();
    for other in records.iter().filter(|other| other.as_path() != file) {
        let Ok(opened) = store.open(other) else {
            let name = store.name_of(other);
            let what = format!("{name} beside it cannot be read: what it says of this record is not known.");
            verified.tell(Told::new(Sign::Unseen, Kind::Record, what).named(&name));
            continue;
        };
        others.push(opened);
    }
    others
}

fn chain(opened: &Opened, verified: &mut Verified) {
    let count = opened.inspection.entries().len();
    match opened.trust {
        Trust::Whole => {
            let what = match count {
                1 => "The chain holds through its one entry.".to_owned(),
                count => format!("The chain holds through all {count} entries."),
            };
            verified.tell(Told::new(Sign::Holds, Kind::Chain, what));
        }
        Trust::Newer { format } => {
            let what = format!("Format {format} is newer than this program: verify it with the newer one.");
            verified.tell(Told::new(Sign::Unchecked, Kind::File, what));
        }
        Trust::Cut { entry } => {
            let why = opened.problems.as_ref().map(ToString::to_string).unwrap_or_default();
            let what =
                format!("It cannot be read from entry {entry} on; the {count} entries before it were read. {why}");
            verified.tell(Told::new(Sign::Fault, Kind::File, what).at(entry));
        }
        Trust::Seen { .. } | Trust::Changed { .. } => {}
    }
    verified.told.extend(opened.breaks.iter().map(Told::from));
    if let Trust::Seen { .. } = opened.trust {
        verified.tell(Told::new(Sign::Holds, Kind::Chain, "A later entry says that somebody has seen it."));
    }
}

fn signatures(opened: &Opened, verified: &mut Verified) {
    let entries = opened.inspection.entries();
    let mut passed_over = entitled::told(&opened.inspection);
    for entry in entries {
        let number = entry.number;
        if let Act::Sign(signature) = &entry.act
            && let Some(seen) = seen_before(opened, number)
        {
            let (what, by, length) = (signature.what.word(), &entry.by, signature.length);
            let watch = Watch::over(&opened.inspection, by, number);
            let what = format!(
                "Entry {number}, {what} signed by {by}{watch}: length {length} and SHA-256 of all before it are right{seen}."
            );
            verified.tell(Told::new(Sign::Holds, Kind::Seal, what).at(number).named(by));
        }
        let (Act::Countersign { sign, chain } | Act::Return { sign, chain, .. }) = entry.deed() else { continue };
        let by = entry.doer();
        let mut tell = |sign, what| verified.tell(Told::new(sign, Kind::Countersign, what).at(number).named(by));
        if let Some(told) = passed_over.remove(&number) {
            let stray = chain_at(opened, *sign) != Some(chain.as_str());
            let names =
                if stray { format!(" It names chain {chain}, which is not in this record.") } else { String::new() };
            tell(Sign::Fault, format!("{told}{names}"));
        } else {
            let word = if matches!(entry.deed(), Act::Return { .. }) { "sent back" } else { "countersigned" };
            let what = format!("Entry {number}, {word} by {by}");
            tell(Sign::Holds, format!("{what}, is about the signature {sign}, which is there."));
        }
    }
    for (number, what) in passed_over {
        verified.tell(Told::new(Sign::Fault, Kind::Decision, what).at(number));
    }
}

/// What is said behind a signature of what was changed outside under it: nothing where nothing was, in which entry it was
/// seen where somebody had said so before signing. None where it was changed since, or nobody had.
fn seen_before(opened: &Opened, sign: u32) -> Option<String> {
    let seen_in = |changed: u32| {
        let says = opened.inspection.entries().iter().filter(|entry| (changed + 1..sign).contains(&entry.number));
        let mut says = says
            .filter(|entry| matches!(&entry.act, Act::SeenOutside { from, .. } if from.unwrap_or_default() <= changed));
        says.next().map(|entry| entry.number)
    };
    let under = opened.breaks.iter().filter(|one| one.entry <= sign);
    let seen: BTreeSet<_> = under.map(|one| seen_in(one.entry)).collect::<Option<_>>()?;
    let last = seen.last().map(|entry| format!(", changed outside as it was and seen in entry {entry}"));
    Some(last.unwrap_or_default())
}

/// The originals of brought entries: each must be what its chain value was taken of, behind a value known here.
fn brought(opened: &Opened, verified: &mut Verified) {
    let mut known: Vec<&str> = opened.chains.iter().map(String::as_str).collect();
    for entry in opened.inspection.entries() {
        let Act::Brought { bytes, chain, .. } = &entry.act else { continue };
        let number = entry.number;
        let mut tell = |sign, what: String| verified.tell(Told::new(sign, Kind::Brought, what).at(number));
        if known.iter().any(|before| chain_after(before, bytes.as_bytes()) == *chain) {
            tell(Sign::Holds, format!("Entry {number} holds the original's bytes, as its chain value says."));
        } else {
            tell(Sign::Fault, format!("Entry {number} was brought, and is not what its original's chain value says."));
        }
        if entry.original().is_none() {
            let what = format!("Entry {number} was brought, and names nothing that it is about: it does not count.");
            tell(Sign::Fault, what);
        }
        known.push(chain);
    }
}

/// Other files that hold this inspection: one of them may have been put in the place of another record.
fn twice(store: &Store, opened: &Opened, others: &[Opened], verified: &mut Verified) {
    let head = opened.inspection.head();
    for other in others.iter().filter(|other| other.inspection.head().id == head.id) {
        let file = store.name_of(other.file.path());
        let (sign, what) = if other.inspection.head() == head {
            (Sign::Fault, "holds the same inspection: one of the two is a copy, or was put in another record's place.")
        } else {
            (Sign::Unseen, "has the same id and another head; neither is preferred.")
        };
        verified.tell(Told::new(sign, Kind::Record, format!("{file} {what}")).named(&head.id));
    }
}

/// The record that this one names as the one before.
fn before(opened: &Opened, others: &[Opened], verified: &mut Verified) {
    let Some(previous) = &opened.inspection.head().previous else { return };
    let (name, entry) = (&previous.inspection, previous.entry);
    let mut tell = |sign, what: String| verified.tell(Told::new(sign, Kind::Record, what).named(name));
    let named = || others.iter().filter(|other| other.inspection.head().id == *name);
    // of two that were begun under one id the one that is meant
    let meant = named().find(|other| chain_at(other, entry) == Some(&previous.chain)).or_else(|| named().next());
    let Some(other) = meant else {
        return tell(Sign::Unseen, format!("The record before, {name}, is not here."));
    };
    let is_change = |one: &&Break| one.entry <= entry && one.flaw != Flaw::LineEnds;
    match chain_at(other, entry) {
        // its own chain must hold up to there: a value that was left standing says nothing of what was changed under it
        Some(chain) if chain == previous.chain && other.breaks.iter().any(|one| is_change(&one)) => tell(
            Sign::Fault,
            format!("The record before, {name}, was changed since it stood there: asfound verify of it says where."),
        ),
        Some(chain) if chain == previous.chain => {
            tell(Sign::Holds, format!("The record before, {name}, stands as it stood then."));
        }
        Some(_) => tell(
            Sign::Fault,
            format!(
                "The record before, {name}, is another than the one that stood there: entry {entry} has another chain value."
            ),
        ),
        None => tell(Sign::Fault, format!("The record before, {name}, had {entry} entries then and has fewer now.")),
    }
}

/// What later records say of this one; whether one names its last entry.
fn later(opened: &Opened, others: &[Opened], verified: &mut Verified) -> bool {
    let id = &opened.inspection.head().id;
    let mut named = false;
    for other in others {
        let Some(previous) = other.inspection.head().previous.as_ref().filter(|link| link.inspection == *id) else {
            continue;
        };
        let is_meant = |one: &Opened| chain_at(one, previous.entry) == Some(&previous.chain);
        let is_twin = |one: &&Opened| one.inspection.head().id == *id && is_meant(one);
        if !is_meant(opened) && others.iter().any(|one| is_twin(&one)) {
            continue;
        }
        let later = &other.inspection.head().id;
        let who = (Kind::Record, format!("The later record {later}"));
        named |= told(opened, (previous.entry, &previous.chain), &who, verified);
    }
    named
}

/// What the data folder's note says; whether it names the last entry.
fn note(store: &Store, file: &Path, opened: &Opened, verified: &mut Verified) -> bool {
    // what lies beside a copy came along with it, and knows no more than it does
    if !store.holds(file) {
        return false;
    }
    let Some(last) = store.noted_last(file) else {
        if store.has_note(file) {
            let what =
                "The note of this data folder, last.yaml, cannot be read: which entry was the last is not known.";
            verified.tell(Told::new(Sign::Unseen, Kind::Note, what));
        }
        return false;
    };
    told(opened, (last.entry, &last.chain), &(Kind::Note, "The note of this data folder".to_owned()), verified)
}

/// Compares what somebody else knows of an entry; whether it is the last one.
fn told(opened: &Opened, (entry, chain): (u32, &str), (kind, who): &(Kind, String), verified: &mut Verified) -> bool {
    if let Some(here) = opened.inspection.brought_as(chain).map(|entry| entry.number) {
        let what = format!("{who} names entry {entry}, which is there as entry {here}, brought.");
        verified.tell(Told::new(Sign::Holds, *kind, what).at(entry));
        return false;
    }
    let (sign, what, last) = match chain_at(opened, entry) {
        Some(known) if known == chain => {
            let last = opened.inspection.entries().last().is_some_and(|last| last.number == entry);
            (Sign::Holds, format!("{who} names entry {entry}, which is there."), last)
        }
        Some(_) => {
            let what = format!("{who} names entry {entry} with another chain value: the record was replaced.");
            (Sign::Fault, what, true)
        }
        None => {
            let what = format!("{who} names entry {entry}, which is missing: the tail was cut off.");
            (Sign::Fault, what, true)
        }
    };
    verified.tell(Told::new(sign, *kind, what).at(entry));
    last
}

fn chain_at(opened: &Opened, entry: u32) -> Option<&str> {
    let place = opened.inspection.entries().iter().position(|other| other.number == entry)?;
    opened.chains.get(place).map(String::as_str)
}
