//! A record read by somebody who was not there, and what that person does with it. Nothing is held open in between: the
//! file may lie on a stick, and somebody else may go on with it.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

use crate::domain::apply::apply;
use crate::domain::decide::decide;
use crate::domain::entry::{Act, Entry};
use crate::domain::id::Id;
use crate::domain::inspection::Inspection;
use crate::domain::person::Person;
use crate::domain::refusal::RefusalKind;
use crate::domain::request::{Decision, Hand, Request};
use crate::domain::review::{Kept, Wait, waits};
use crate::domain::standing::Standing;
use crate::domain::stranger::{strangers, to_introduce};
use crate::domain::telling;
use crate::records::clock::Clock;
use crate::records::inspection_file::{Opened, Trust};
use crate::records::key::{KeyFault, KeyState};
use crate::records::store::{Held, PhotoKept, Pictured, Store, has_key};
use crate::records::verify::{Verified, all_records, verify};
use crate::records::yaml::Problems;

use super::super::effect::{Fault, Unread, Waits};
use super::super::reviewing::Reading;
use super::{fault, wrong};

/// Reads a record with its photos and the people of this machine.
///
/// # Errors
/// What is wrong with the file.
pub fn read(store: &Store, path: &Path) -> Result<Reading, Problems> {
    let store = &of_its_folder(store, path);
    let opened = store.open_whole_part(path)?;
    let mut kept = kept(store, path, &opened);
    kept.faults.extend(store.set_unsent_aside(path));
    // without a register of people the record's own are enough
    let people = store.people().unwrap_or_default();
    let file = path.display().to_string();
    let outside = opened.outside();
    let reading = Reading::new(file, opened.inspection, opened.chains, kept, &people);
    Ok(Reading { unsent: store.review_draft(path), outside, ..reading })
}

/// What the files of a record say of it, and the record before it where that is at hand.
pub fn kept(store: &Store, file: &Path, opened: &Opened) -> Kept {
    let pictures = store.pictures(file, &opened.inspection);
    let lost = pictures.iter().filter_map(Pictured::lost).map(|lost| format!("The {lost}."));
    let keyed = store.keyed(file, opened);
    let people = store.people().unwrap_or_default();
    let strange = strangers_to(&people, &opened.inspection, &keyed);
    let unknown = unknown_to(&people, &opened.inspection);
    let known = keyed.iter().filter(|(entry, _)| !unknown.contains_key(&entry.number));
    let forged = known.filter_map(|(entry, state)| {
        let who = telling::name_of(&opened.inspection, entry.doer());
        Some((entry.number, state.as_ref().ok()?.against(&who)?))
    });
    let words = |state: &KeyOf| state.as_ref().map_or_else(|_| "by key, not checked".to_owned(), KeyState::words);
    Kept {
        photos: pictures.iter().map(|one| fate(store, file, one)).collect(),
        faults: opened.faults().into_iter().chain(lost).chain(strange.values().cloned()).collect(),
        keyed: keyed.iter().map(|(entry, state)| (entry.number, words(state))).collect(),
        rekey: rekey(&people, &keyed),
        strange: strange.into_keys().collect(),
        forged: forged.collect(),
        before: store.before(file, &opened.inspection).map(|before| Box::new(before.inspection)),
    }
}

/// Entries by which somebody has decided whom this machine does not know, or with a key that is not that person's; looked for
/// where somebody has countersigned, whom it may leave waiting.
pub fn strange(store: &Store, file: &Path, opened: &Opened) -> BTreeSet<u32> {
    if !is_countersigned(&opened.inspection) {
        return BTreeSet::new();
    }
    let people = store.people().unwrap_or_default();
    strangers_to(&people, &opened.inspection, &store.keyed(file, opened)).into_keys().collect()
}

fn is_countersigned(inspection: &Inspection) -> bool {
    inspection.entries().iter().any(|entry| matches!(entry.deed(), Act::Countersign { .. }))
}

/// What a signature by key is worth, or why that was not checked.
type KeyOf = Result<KeyState, String>;

/// Entries by which somebody has decided whom this machine does not know as a supervisor, and what to say of each. A
/// machine without a register knows nobody; one that has it knows who is missing.
fn unknown_to(people: &[Person], inspection: &Inspection) -> BTreeMap<u32, String> {
    let told = if people.is_empty() { Vec::new() } else { strangers(people, inspection, inspection.entries()) };
    told.into_iter().map(|(entry, _, what)| (entry, what)).collect()
}

/// These, and entries whose key is not that person's.
fn strangers_to(people: &[Person], inspection: &Inspection, keyed: &[(&Entry, KeyOf)]) -> BTreeMap<u32, String> {
    let forged = keyed.iter().filter_map(|(entry, state)| {
        let state = state.as_ref().ok().filter(|state| state.is_fault())?;
        let who = telling::hands_of(inspection, entry);
        Some((entry.number, format!("Entry {}, {}, {who}: {}.", entry.number, entry.deed().kind(), state.words())))
    });
    unknown_to(people, inspection).into_iter().chain(forged).collect()
}

/// Entries whose signature by key is no good and gives way to a good one. What only nobody here knows is no fault as
/// long as people.yaml has no key that would be better.
fn rekey(people: &[Person], keyed: &[(&Entry, KeyOf)]) -> BTreeSet<u32> {
    let gives_way = |(entry, state): &&(&Entry, KeyOf)| {
        let state = state.as_ref().ok().filter(|state| state.gives_way());
        state.is_some_and(|state| state.is_fault() || has_key(people, entry.doer()))
    };
    keyed.iter().filter(gives_way).map(|(entry, _)| entry.number).collect()
}

/// The entries of [`strange`], and those whose signature by key stays; each signature is looked at once.
pub fn strange_and_keyed(store: &Store, file: &Path, opened: &Opened) -> (BTreeSet<u32>, BTreeSet<u32>) {
    let (people, keyed) = (store.people().unwrap_or_default(), store.keyed(file, opened));
    let strange = is_countersigned(&opened.inspection).then(|| strangers_to(&people, &opened.inspection, &keyed));
    let rekey = rekey(&people, &keyed);
    let stays = keyed.iter().map(|(entry, _)| entry.number).filter(|number| !rekey.contains(number));
    (strange.unwrap_or_default().into_keys().collect(), stays.collect())
}

/// Signs an entry with a key, by the people of the folder that the record lies in.
///
/// # Errors
/// Why nothing was written.
pub fn sign_by_key(store: &Store, path: &Path, entry: u32, key: &Path) -> Result<String, KeyFault> {
    of_its_folder(store, path).sign_entry_by_key(path, entry, key).map(|signed| signed.words())
}

/// What holds of a record, in the words of `asfound verify`.
pub fn verified(store: &Store, path: &Path) -> Vec<String> {
    let store = of_its_folder(store, path);
    verify(&store, &[path.to_owned()]).iter().flat_map(Verified::lines).collect()
}

/// The demonstration's folder for its records: its people and its locks are its own.
fn of_its_folder(store: &Store, path: &Path) -> Store {
    let demo = store.demo();
    if demo.holds(path) { demo } else { store.clone() }
}

/// What has become of a photo, with its path, by its hash.
fn fate(store: &Store, file: &Path, one: &Pictured<'_>) -> (String, String) {
    let path = store.photo_path(file, one.photo).display().to_string();
    let fate = match one.kept {
        PhotoKept::Whole => format!("as taken, {path}"),
        PhotoKept::Changed => format!("CHANGED since, {path}"),
        PhotoKept::Missing => format!("NOT THERE, {path}"),
    };
    (one.photo.hash.clone(), fate)
}

/// Puts these behind the record, in one save, as `by`. Somebody whom the record does not know and this machine does is
/// introduced first. What was decided looking at a record that ended with the chain value `shown` is about that one alone.
///
/// # Errors
/// Why nothing was entered.
pub fn put(
    store: &Store,
    clock: &dyn Clock,
    path: &Path,
    (by, acts): (&Id, Vec<Act>),
    shown: &str,
) -> Result<(), Fault> {
    let store = &of_its_folder(store, path);
    let hand = Hand { by: by.clone(), writer: None, at: clock.now(), late: None, break_hours: u32::MAX / 3600 };
    // nobody else writes from here on, wherever the file lies and however its path was typed
    let Held { lock: _lock, mut opened, .. } = store.hold(path, Some(by), hand.at).map_err(fault)?;
    let seen = acts.iter().any(|act| matches!(act, Act::SeenOutside { .. }));
    match opened.trust {
        Trust::Whole | Trust::Seen { .. } => {}
        Trust::Changed { .. } if seen => {}
        Trust::Changed { .. } | Trust::Cut { .. } | Trust::Newer { .. } => {
            let mend = "asfound verify says where. Open the review anew: it asks who has seen that.";
            return Err(wrong("This record was changed outside, or by a newer program.", mend));
        }
    }
    if opened.chains.last().is_none_or(|last| last != shown) {
        let came = came_since(&opened, shown).join("; ");
        return Err(wrong(
            &format!("Not entered: the record has grown since it was shown. {came}."),
            "Look at it as it stands now, and say it again.",
        ));
    }
    let people = store.people().unwrap_or_default();
    let named =
        acts.iter().filter_map(|act| if let Act::Overrule { supervisor, .. } = act { Some(supervisor) } else { None });
    let mut known: Vec<_> =
        named.chain([by]).filter_map(|one| to_introduce(&people, &opened.inspection, one)).collect();
    known.dedup();
    // nothing is written over what cannot be read
    drop(store.set_unreadable_aside(path));
    let mut entries = Vec::new();
    for act in known.into_iter().map(Act::Person).chain(acts) {
        let deed = act.kind();
        match decide(&opened.inspection, &Request::Do(act), &hand) {
            Decision::Take(entry) => {
                drop(apply(&mut opened.inspection, (*entry).clone()));
                entries.push(*entry);
            }
            Decision::Refuse(refusal) => return Err(wrong(&refusal.kind.what(), &mend(&refusal.kind, deed))),
            Decision::Ask { .. } => return Err(wrong("It asks a question that no review answers.", "")),
        }
    }
    opened.file.append(&entries).map_err(fault)?;
    // without the note the record is as good, only a tail cut off later is harder to see
    drop(store.note_last(opened.file.path(), &opened.file.last_entry()));
    Ok(())
}

/// Entries behind the one with this chain value, the last few in words.
fn came_since(opened: &Opened, shown: &str) -> Vec<String> {
    let seen = opened.chains.iter().position(|chain| chain == shown).map_or(0, |last| last + 1);
    let came = opened.inspection.entries().get(seen..).unwrap_or_default();
    let told = came.iter().skip(came.len().saturating_sub(4)).map(|entry| {
        let what = telling::of_entry(&opened.inspection, entry);
        format!("Entry {}, {}: {what}", entry.number, telling::hands_of(&opened.inspection, entry))
    });
    told.collect()
}

/// How to mend what was refused, for somebody who has no bench before him.
fn mend(kind: &RefusalKind, deed: &str) -> String {
    if matches!(kind, RefusalKind::UnknownPerson { .. }) {
        return "Enter that person first: first screen, people, with the role.".to_owned();
    }
    if matches!(kind, RefusalKind::NoSupervisor(_)) && matches!(deed, "countersign" | "return") {
        return "Only a supervisor countersigns or sends back; roles are entered on the first screen, people."
            .to_owned();
    }
    kind.mend()
}

/// Why it is not to be believed, then why it waits, in one line.
fn joined(faults: &[String], words: &str) -> String {
    let faults = faults.iter().map(|fault| fault.trim_end_matches('.'));
    faults.chain([words]).filter(|words| !words.is_empty()).collect::<Vec<_>>().join("; ")
}

/// Every record of the folder and of its demonstration that waits for a decision, the most pressing first; and what is
/// wrong with those that cannot be read.
///
/// # Errors
/// When a folder cannot be read.
pub fn waiting(store: &Store) -> Result<(Vec<Waits>, Vec<Unread>), Problems> {
    let mut found = Vec::new();
    let mut wrong = Vec::new();
    for store in [store.clone(), store.demo()] {
        for file in all_records(&store)? {
            match store.open(&file) {
                Ok(opened) => {
                    let inspection = &opened.inspection;
                    let faults = opened.faults();
                    let strange = strange(&store, &file, &opened);
                    let waits = waits(inspection, &Standing::of(inspection), &strange);
                    // one that is not to be believed waits for somebody to look at it
                    let waits = waits.or_else(|| (!faults.is_empty()).then(|| (Wait::NotSure, String::new())));
                    found.extend(waits.map(|(wait, words)| Waits {
                        wait,
                        inspection: inspection.head().id.clone(),
                        scene: inspection.head().scene,
                        // why it is not to be believed stands where nothing is cut
                        words: joined(&faults, &words),
                        file: file.display().to_string(),
                    }));
                }
                Err(problems) => wrong.push(Unread { file: store.name_of(&file), why: problems.to_string() }),
            }
        }
    }
    found.sort();
    Ok((found, wrong))
}
