//! `asfound bring`: takes in a copy of a record that went on elsewhere.

use std::io;
use std::path::Path;

use super::{Out, raw};
use crate::exit::Exit;
use crate::records::bring::{Bringer, Brought, Outcome, bring, is_here};
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
    out.say(&outcome(store, &brought))?;
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

/// What became of the record.
fn outcome(store: &Store, brought: &Brought) -> String {
    let record = store.name_of(&brought.record);
    let words = match &brought.outcome {
        Outcome::New => "new here, kept.".to_owned(),
        Outcome::Both { other } => format!(
            "another inspection with the same id as {}. Both are kept, neither is preferred.",
            store.name_of(other)
        ),
        Outcome::AtOnce { other } => format!(
            "another inspection of this rotor, open at the same time as {}. Both are kept, neither is preferred.",
            store.name_of(other)
        ),
        Outcome::Beside { other } => format!(
            "kept beside {}, which cannot be read to its end and is no beginning of it. Go on with {}; what the other holds: asfound review {}.",
            store.name_of(other),
            brought.record.display(),
            other.display()
        ),
        Outcome::MadeWhole { kept } => {
            format!("made whole. It broke off; what stood there is kept as {}.", store.name_of(kept))
        }
        Outcome::Nothing => "nothing in the copy that is not here.".to_owned(),
        Outcome::Continued { entries: 1 } => "continued, 1 entry came.".to_owned(),
        Outcome::Continued { entries } => format!("continued, {entries} entries came."),
        Outcome::Appended { entries } => {
            let each = entries.iter().map(|(there, here)| format!("\n  entry {there} there is entry {here} here"));
            format!("both went on; appended as brought:{}", each.collect::<String>())
        }
    };
    format!("{record}: {words}")
}

/// The folder that the copy belongs to: the demonstration's, where that has the record.
fn home(store: &Store, copy: &Path) -> Store {
    let demo = store.demo();
    if is_here(&demo, copy) { demo } else { store.clone() }
}
