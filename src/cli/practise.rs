//! `asfound practise`: a rotor with hidden faults, in a folder of its own; what lies on its bench; what was found of it.

use std::io;
use std::path::PathBuf;
use std::sync::Arc;

use crate::demo::{PRACTICE_ROTOR, Scenery, debrief, hidden, on_the_bench, practice};
use crate::domain::inspection::Inspection;
use crate::exit::Exit;
use crate::face::acts::begin::Beginning;
use crate::face::shelf::RecordShelf;
use crate::records::clock::{Clock, RealClock};
use crate::records::store::Store;

use super::out::Out;
use super::surroundings::Surroundings;
use super::{bench, demo, folder, raw};

/// Said before everything else.
const MARK: &str = "PRACTICE, INVENTED ROTOR: no such rotor exists, and no figure here comes from any machine.";

/// Makes the rotor where it is missing, and begins or goes on with its record; or says what lies on the bench, or what the
/// record found.
///
/// # Errors
/// When the page cannot be written or the input not be read.
pub(super) fn run(
    words: &raw::Practise,
    store: &Store,
    surroundings: &Surroundings,
    out: &mut Out,
) -> io::Result<Exit> {
    let practice_store = store.practice();
    out.say(MARK)?;
    let told = match ready(&practice_store) {
        Err(why) => Err(why),
        Ok((_, truth)) if words.bench => Ok(on_the_bench(&truth)),
        Ok((_, truth)) if words.debrief => debriefed(&practice_store, &truth),
        Ok((scenery, truth)) => match record(&practice_store, &scenery, &truth) {
            Ok(path) => {
                out.say("What its gauges show and the eye sees: asfound practise --bench")?;
                out.say("What was hidden, beside what you found: asfound practise --debrief")?;
                let way = surroundings.way(words.plain);
                return bench::go_on((&practice_store, &path), None, way, surroundings, out);
            }
            Err(why) => Err(why),
        },
    };
    match told {
        Ok(lines) => {
            lines.iter().try_for_each(|line| out.say(line))?;
            Ok(Exit::Done)
        }
        Err(why) => {
            out.complain(&format!("asfound practise: {why}"))?;
            Ok(Exit::NotDone)
        }
    }
}

/// The files in place, and the rotor as it is.
fn ready(store: &Store) -> Result<(Scenery, Inspection), String> {
    let scenery = practice(RealClock::default().now().date()).map_err(|problems| problems.to_string())?;
    if store.rotors().map_err(|problems| problems.to_string())?.is_empty() {
        demo::lay(store, &scenery)?;
    }
    let truth = hidden(&scenery).map_err(|fault| fault.to_string())?;
    Ok((scenery, truth))
}

/// The record that is not closed, or a new one by the trainee, opened as the hidden one was.
fn record(store: &Store, scenery: &Scenery, truth: &Inspection) -> Result<PathBuf, String> {
    let (mut going, unread) = folder::going(store)?;
    if let Some((path, _)) = going.pop() {
        return Ok(path);
    }
    if !unread.is_empty() {
        return Err(unread.to_string());
    }
    let by = scenery.people.iter().find(|person| person.id.as_str() == "trainee").or(scenery.people.first());
    let by = by.cloned().ok_or("there is nobody to practise")?;
    let checklist = truth.head().checklist.id.clone();
    let beginning = Beginning { rotor: scenery.rotor.clone(), by, checklist, opening: truth.opening().clone() };
    let shelf = RecordShelf::new(store.clone(), Arc::new(RealClock::default()));
    shelf.begin(&beginning).map_err(|fault| fault.to_string())
}

/// The latest record beside the rotor as it is.
fn debriefed(store: &Store, truth: &Inspection) -> Result<Vec<String>, String> {
    let rotor = PRACTICE_ROTOR.parse().map_err(|refusal: crate::domain::refusal::Refusal| refusal.to_string())?;
    let records = store.records(&rotor).map_err(|problems| problems.to_string())?;
    let last = records.last().ok_or("nothing is practised yet: asfound practise begins.")?;
    let opened = store.open(last).map_err(|problems| problems.to_string())?;
    Ok(debrief(truth, &opened.inspection))
}
