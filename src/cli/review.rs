//! `asfound review`: what waits for a decision; one record, to judge, countersign or send back.

use std::io::{self, BufRead};
use std::path::Path;

use super::bench::Way;
use super::{Out, bench, folder, raw, screen};
use crate::domain::id::Id;
use crate::exit::Exit;
use crate::face::effect::Query;
use crate::face::plain::Echo;
use crate::face::plain::review::{Heard, Left, Session, pages, shortly};
use crate::face::reviewing::Reading;
use crate::face::shelf::reading;
use crate::records::clock::Clock;
use crate::records::store::Store;

use super::surroundings::Surroundings;

/// Lists, or reviews the record named.
pub(super) fn run(
    words: &raw::Review,
    store: &Store,
    (clock, surroundings): (&dyn Clock, &Surroundings),
    out: &mut Out,
) -> io::Result<Exit> {
    let way = surroundings.way(words.plain);
    match (&words.record, way) {
        (None, Way::Screen) => screen::run(store.clone(), Query::Waiting, out),
        (None, Way::Lines) => list(store, out),
        (Some(record), way) => match folder::record_named(store, record) {
            Ok((store, path)) if way == Way::Screen => {
                screen::run(store, Query::Read(path.display().to_string(), words.by.clone()), out)
            }
            Ok((store, path)) => one(words, &path, (&store, clock, bench::echo(surroundings)), out),
            Err(not_found) => not_found.told("review", out),
        },
    }
}

fn list(store: &Store, out: &mut Out) -> io::Result<Exit> {
    let (waiting, wrong) = match reading::waiting(store) {
        Ok(found) => found,
        Err(problems) => {
            out.complain(&problems.to_string())?;
            return Ok(Exit::NotDone);
        }
    };
    for one in wrong {
        out.complain(&format!("{}: {}", one.file, one.why))?;
    }
    for one in &waiting {
        out.say(&format!("{}: {}{}; {}", one.inspection, one.mark(), one.words, one.file))?;
    }
    out.say(&match waiting.len() {
        1 => "1 record waits for a decision.".to_owned(),
        count => format!("{count} records wait for a decision."),
    })?;
    Ok(Exit::Done)
}

fn one(words: &raw::Review, path: &Path, at: (&Store, &dyn Clock, Echo), out: &mut Out) -> io::Result<Exit> {
    let (store, ..) = at;
    let reading = match reading::read(store, path) {
        Ok(reading) => reading,
        Err(problems) => {
            out.complain(&problems.to_string())?;
            return Ok(Exit::NotDone);
        }
    };
    let by = words.by.clone().filter(|_| words.plain.plain);
    // who answers is not kept from the question by all the pages: they are called for there
    let lines = if by.is_some() { shortly(&reading) } else { pages(&reading) };
    for line in lines {
        out.say(&line)?;
    }
    let Some(by) = by else {
        out.say("Reading changes nothing. To countersign or send back: --plain --as ID.")?;
        return Ok(Exit::Done);
    };
    converse(reading, (path, &by), at, out)
}

/// Questions and answers until somebody leaves or the input ends.
fn converse(
    reading: Reading,
    (path, by): (&Path, &Id),
    (store, clock, echo): (&Store, &dyn Clock, Echo),
    out: &mut Out,
) -> io::Result<Exit> {
    let mut session = Session::new(reading, by.clone());
    let mut lines = io::stdin().lock().lines();
    let read = || reading::read(store, path).map_err(|problems| format!("Saved, but: {problems}"));
    while let Some(question) = session.question() {
        out.say(&question)?;
        out.flush()?;
        let Some(line) = lines.next().transpose()? else {
            out.say(session.farewell())?;
            break;
        };
        if echo == Echo::Printed {
            out.say(&format!("> {line}"))?;
        }
        let before = session.draft();
        match session.hear(&line) {
            Heard::Said(said) if said.is_empty() => {}
            Heard::Said(said) => out.say(&said)?,
            Heard::Verify => {
                for line in reading::verified(store, path) {
                    out.say(&line)?;
                }
            }
            Heard::Key(entry, key) => {
                let signed = reading::sign_by_key(store, path, entry, Path::new(&key));
                let signed = signed.map_err(|fault| fault.to_string());
                out.say(&session.keyed(signed.and_then(|words| Ok((words, read()?)))))?;
            }
            Heard::Do(acts) => {
                let done = reading::put(store, clock, path, (by, acts), session.shown());
                out.say(&match (done, read()) {
                    (Ok(()), read) => session.done(read),
                    (Err(why), Ok(now)) if now.shown() != session.shown() => session.grown(&why.to_string(), now),
                    (Err(why), _) => session.done(Err(why.to_string())),
                })?;
            }
        }
        let now = session.draft();
        if now != before {
            // a disk that refuses is told by the next save, which meets it too
            drop(store.keep_review(path, now.as_ref()));
        }
    }
    Ok(match session.left() {
        Left::Done => Exit::Done,
        Left::NotDone => Exit::NotDone,
    })
}
