//! `asfound bring`: takes in a copy of a record that went on elsewhere.

use std::io;
use std::path::{Path, PathBuf};

use super::{Out, raw};
use crate::domain::inspection::Inspection;
use crate::exit::Exit;
use crate::records::bring::{Bringer, Outcome, bring};
use crate::records::clock::Clock;
use crate::records::store::Store;

/// Takes in the copy named.
pub(super) fn run(words: &raw::Bring, store: &Store, clock: &dyn Clock, out: &mut Out) -> io::Result<Exit> {
    let by = match words.by.as_deref().map(str::parse::<crate::domain::id::Id>).transpose() {
        Ok(by) => by,
        Err(refusal) => {
            out.complain(&refusal.to_string())?;
            return Ok(Exit::WrongWords);
        }
    };
    let brought = match bring(&home(store, &words.file), &words.file, &Bringer { by, at: clock.now() }) {
        Ok(brought) => brought,
        Err(fault) => {
            out.complain(&fault.to_string())?;
            return Ok(Exit::NotDone);
        }
    };
    let record = store.name_of(&brought.record);
    match &brought.outcome {
        Outcome::New => out.say(&format!("{record}: new here, kept."))?,
        Outcome::Both { other } => out.say(&format!(
            "{record}: another inspection with the same id as {}. Both are kept, neither is preferred.",
            store.name_of(other)
        ))?,
        Outcome::AtOnce { other } => out.say(&format!(
            "{record}: another inspection of this rotor, open at the same time as {}. Both are kept, neither is preferred.",
            store.name_of(other)
        ))?,
        Outcome::Nothing => out.say(&format!("{record}: nothing in the copy that is not here."))?,
        Outcome::Continued { entries: 1 } => out.say(&format!("{record}: continued, 1 entry came."))?,
        Outcome::Continued { entries } => out.say(&format!("{record}: continued, {entries} entries came."))?,
        Outcome::Appended { entries } => {
            out.say(&format!("{record}: both went on; appended as brought:"))?;
            for (there, here) in entries {
                out.say(&format!("  entry {there} there is entry {here} here"))?;
            }
        }
    }
    if brought.turned {
        out.say("Line ends of the copy had been turned, by mail or an editor: it was taken with them turned back.")?;
    }
    for stranger in &brought.strangers {
        out.say(&format!("! {stranger}"))?;
    }
    for words in &brought.passed_over {
        out.say(&format!("! {words}"))?;
    }
    for (entry, photo) in &brought.lost {
        out.say(&format!(
            "! The photo {photo} of entry {entry} did not come: it is not beside the copy as it was taken."
        ))?;
    }
    match brought.photos {
        0 => {}
        1 => out.say("1 photo came along.")?,
        photos => out.say(&format!("{photos} photos came along."))?,
    }
    // the record is here, and is less than it says
    Ok(if brought.lost.is_empty() { Exit::Done } else { Exit::FallsShort })
}

/// The folder that the copy belongs to: the demonstration's, where that has the record.
fn home(store: &Store, copy: &Path) -> Store {
    let demo = store.demo();
    let is_of_demo = |copy: &Inspection| {
        let head = copy.head();
        let own = |path: &PathBuf| demo.open(path).is_ok_and(|own| own.inspection.head() == head);
        demo.records(&head.rotor.id).is_ok_and(|records| records.iter().any(own))
    };
    match store.open_turned_back(copy) {
        Ok((copy, _)) if is_of_demo(&copy.inspection) => demo,
        Ok(_) | Err(_) => store.clone(),
    }
}
