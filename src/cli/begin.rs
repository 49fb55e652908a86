//! `asfound begin`: a new record, from options and, where they are missing, from one line a question.

use std::io;
use std::sync::Arc;

use crate::domain::inspection::{Manual, Opening};
use crate::domain::stamp::{self, Stamp};
use crate::domain::unit::Unit;
use crate::exit::Exit;
use crate::face::acts::begin::{Begun, Given, Invented, Rest};
use crate::face::plain::begin::{Asked, ask_beginning};
use crate::face::shelf::RecordShelf;
use crate::records::clock::{Clock, RealClock};
use crate::records::store::Store;

use super::out::Out;
use super::surroundings::Surroundings;
use super::{bench, folder, raw};

/// Begins a record and goes on with it line by line; what is refused is said by the verb that was typed.
///
/// # Errors
/// When the page cannot be written or the input not be read.
pub(super) fn run(
    (verb, words): (&str, &raw::Begin),
    store: &Store,
    surroundings: &Surroundings,
    out: &mut Out,
) -> io::Result<Exit> {
    let now = RealClock::default().now();
    let given = match given(words, now) {
        Ok(given) => given,
        Err(why) => {
            out.complain(&format!("asfound {verb}: {why}"))?;
            return Ok(Exit::WrongWords);
        }
    };
    let refused = |why: &str, out: &mut Out| {
        out.complain(&format!("asfound {verb}: {why}"))?;
        Ok(Exit::NotDone)
    };
    if let Some(why) = store.shut() {
        return refused(&format!("{why}. Nothing was asked: it could not be kept."), out);
    }
    let shelf = RecordShelf::new(store.clone(), Arc::new(RealClock::default()));
    let known = match shelf.known() {
        Ok(known) => known,
        Err(why) => return refused(&why.to_string(), out),
    };
    let (echo, way) = (bench::echo(surroundings), surroundings.way(words.plain));
    let asked = ask_beginning(&known, &given, (&mut io::stdin().lock(), out.page()), echo, now)?;
    match asked {
        Asked::Ended(question) => refused(&format!("nothing was begun: the input ended at `{question}`."), out),
        Asked::Refused(why) => refused(&why, out),
        Asked::Begun(Begun::GoOn(id)) => match folder::record_named(store, &id) {
            Ok((store, path)) => bench::go_on((&store, &path), words.by.as_ref(), way, surroundings, out),
            Err(not_found) => not_found.told(verb, out),
        },
        Asked::Begun(Begun::New(beginning)) => match shelf.begin(&beginning) {
            Ok(path) => bench::go_on((store, &path), Some(&beginning.by.id), way, surroundings, out),
            Err(why) => refused(&why.to_string(), out),
        },
    }
}

/// The options as answers; each is read as the question would read it.
fn given(words: &raw::Begin, now: Stamp) -> Result<Given, String> {
    let read = |option: &str, text: &Option<String>, unit: Unit| match text {
        None => Ok(None),
        Some(text) => match crate::domain::typed::parse(text, unit) {
            Ok(typed) if typed.figure.dimension() == unit.dimension() => Ok(Some(typed.figure)),
            Ok(typed) => Err(format!("{option}: {} is no {}.", typed.figure, unit.dimension().word())),
            Err(refusal) => Err(format!("{option}: {refusal}")),
        },
    };
    let next_date = words.next_date.as_deref().map(stamp::day).transpose();
    let manual = words.manual.clone().zip(words.edition.clone());
    if words.manual.is_some() != words.edition.is_some() {
        return Err("--manual and --edition go together.".to_owned());
    }
    Ok(Given {
        rotor: words.rotor.clone(),
        serial: words.serial.clone(),
        by: words.by.clone(),
        checklist: words.checklist.clone(),
        opening: Opening {
            reason: words.reason.clone(),
            arrives: words.arrives,
            machine_hours: read("--hours", &words.hours, Unit::Hour)?,
            manual: manual.map(|(title, edition)| Manual { title, edition, checked: now.date() }),
            letters: words.letters.clone(),
            next_hours: read("--next-hours", &words.next_hours, Unit::Hour)?,
            next_date: next_date.map_err(|refusal| format!("--next-date: {refusal}"))?,
            ..Opening::default()
        },
        part_hours: words.part_hours.clone(),
        rest: if words.later { Rest::Later } else { Rest::Asked },
        invented: if words.invented { Invented::Yes } else { Invented::No },
    })
}
