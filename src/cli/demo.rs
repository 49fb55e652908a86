//! `asfound demo`: the invented rotor with its two earlier inspections, ready to begin or filled in.

use std::io::{self, BufRead};
use std::path::{Path, PathBuf};

use chrono::NaiveDate;

use crate::demo::{Keeper, Scenery, over_by, play, scenery};
use crate::domain::checklist::{Signing, Takes};
use crate::domain::entry::Entry;
use crate::domain::id::Id;
use crate::domain::inspection::{Head, Inspection};
use crate::domain::progress;
use crate::domain::refusal::Refusal;
use crate::domain::signing::{Seal, last_signature};
use crate::exit::Exit;
use crate::face::effect::Query;
use crate::records::clock::{Clock, RealClock};
use crate::records::inspection_file::InspectionFile;
use crate::records::lock::Lock;
use crate::records::store::Store;

use super::bench::Way;
use super::out::Out;
use super::surroundings::Surroundings;
use super::{begin, bench, folder, raw, screen};

/// Makes what is missing of the demonstration, then begins or goes on with its present inspection.
///
/// # Errors
/// When the page cannot be written or the input not be read.
pub(super) fn run(words: &raw::Demo, store: &Store, surroundings: &Surroundings, out: &mut Out) -> io::Result<Exit> {
    let demo = store.demo();
    let fresh = if words.fresh { start_again(&demo, out)? } else { finish_or_begin(&demo, out)? };
    let wanted = if words.typed { 3 } else { 2 };
    if demo.rotors().is_ok_and(|rotors| rotors.is_empty()) {
        // the earlier inspections are played through the state machine, which takes a moment
        out.say("INVENTED DEMONSTRATION: its two earlier inspections are made ...")?;
        out.flush()?;
    }
    match fresh.and_then(|again| if again { stage(&demo, wanted).map(|()| true) } else { Ok(false) }) {
        Ok(true) => {}
        Ok(false) => {
            out.say("The demonstration stays as it is.")?;
            return Ok(Exit::Done);
        }
        Err(why) => {
            out.complain(&format!("asfound demo: {why}"))?;
            return Ok(Exit::NotDone);
        }
    }
    out.say(&format!("INVENTED DEMONSTRATION: no such rotor exists. Its files are in {}", demo.root().display()))?;
    match folder::going(&demo) {
        Err(why) => {
            out.complain(&format!("asfound demo: {why}"))?;
            Ok(Exit::NotDone)
        }
        Ok((going, _)) => match going.last() {
            Some((path, opened)) if words.typed => filled_in((path, &opened.inspection), surroundings, out),
            Some((path, _)) => bench::go_on((&demo, path), None, surroundings.way(words.plain), surroundings, out),
            None if surroundings.way(words.plain) == Way::Screen => screen::run(demo, Query::Home, out),
            None => {
                out.say("DEMO-1 is ready, its serial number is INV-0001. A new inspection begins here:")?;
                begin::run(("demo", &raw::Begin::of_rotor("DEMO-1", words.plain)), &demo, surroundings, out)
            }
        },
    }
}

/// Says where the present inspection stands, and how to go on. One that somebody began by hand is left alone.
fn filled_in((path, inspection): (&Path, &Inspection), surroundings: &Surroundings, out: &mut Out) -> io::Result<Exit> {
    let id = &inspection.head().id;
    let name = bench::named(id, path, surroundings);
    let signed = last_signature(inspection, Signing::Decisions).is_some();
    let signs = progress::next_step(inspection).is_some_and(|step| step.takes == Takes::Sign(Signing::Decisions));
    let (stands, opens) = match (signed, signs) {
        (true, _) => ("decisions signed", "it opens where the work stands."),
        (false, true) => ("decisions not signed", "it opens where fitter A signs, by typing the name."),
        (false, false) => {
            out.complain(&format!(
                "asfound demo: {id} was begun by hand and stays as it is: nothing was filled in. Go on with it: asfound \
                 resume {name}. To start again, filled in: asfound demo --fresh --typed"
            ))?;
            return Ok(Exit::NotDone);
        }
    };
    out.say(&format!("{id} is filled in, {stands}, in {}", path.display()))?;
    out.say(&format!("Read it: asfound review {name}"))?;
    out.say(&format!("Go on with it: asfound resume {name}; {opens}"))?;
    out.say(&format!("Once it is signed, supervisor B countersigns it or sends it back: asfound review {name}"))?;
    Ok(Exit::Done)
}

/// Asks before the folder is set aside. Nobody writes in it meanwhile, nor begins to.
fn start_again(demo: &Store, out: &mut Out) -> io::Result<Result<bool, String>> {
    if demo.rotors().is_ok_and(|rotors| rotors.is_empty()) {
        return Ok(Ok(true));
    }
    let locks = match demo.lock_all("asfound demo --fresh", RealClock::default().now()) {
        Ok(locks) => locks,
        Err(fault) => return Ok(Err(fault.to_string())),
    };
    out.say(&format!("{} is set aside, what you entered too. Start again (yes, no)?", demo.root().display()))?;
    out.flush()?;
    let mut line = String::new();
    io::stdin().lock().read_line(&mut line)?;
    if !line.trim().eq_ignore_ascii_case("yes") {
        return Ok(Ok(false));
    }
    put_aside(demo, locks, out)
}

fn put_aside(demo: &Store, locks: Vec<Lock>, out: &mut Out) -> io::Result<Result<bool, String>> {
    match demo.set_aside(locks) {
        Ok(aside) => out.say(&format!("The former one is now {}", aside.display())).map(|()| Ok(true)),
        Err(fault) => Ok(Err(fault.to_string())),
    }
}

/// What was cut off while its earlier inspections were made is no demonstration: it is set aside and made again. Both of them
/// end closed.
fn finish_or_begin(demo: &Store, out: &mut Out) -> io::Result<Result<bool, String>> {
    let records = records(demo).unwrap_or_default();
    if records.is_empty() || records.len() > 2 {
        return Ok(Ok(true));
    }
    let opened: Vec<_> = records.iter().filter_map(|path| demo.open(path).ok()).collect();
    let whole = opened.len() == 2 && opened.iter().all(|one| folder::is_closed(&one.inspection));
    if opened.len() < records.len() || whole {
        return Ok(Ok(true));
    }
    out.say("The demonstration was cut off while its earlier inspections were made: it is made again.")?;
    match demo.lock_all("asfound demo", RealClock::default().now()) {
        Ok(locks) => put_aside(demo, locks, out),
        Err(fault) => Ok(Err(fault.to_string())),
    }
}

fn rotor() -> Result<Id, String> {
    "DEMO-1".parse().map_err(|refusal: Refusal| refusal.to_string())
}

fn records(demo: &Store) -> Result<Vec<PathBuf>, String> {
    demo.records(&rotor()?).map_err(|problems| problems.to_string())
}

/// Makes the files and plays the inspections that are not there yet, two or all three.
fn stage(demo: &Store, wanted: usize) -> Result<(), String> {
    let now = RealClock::default().now();
    let today = if wanted == 3 { over_by(now) } else { now.date() };
    let opened: Vec<_> = records(demo)?.iter().filter_map(|path| demo.open(path).ok()).collect();
    let (scenery, played) = match opened.last() {
        None => (set(demo, today)?, Vec::new()),
        // days were moved when it was made, and stay
        Some(_) => return if wanted == 3 && opened.len() == 2 { third(demo, today) } else { Ok(()) },
    };
    play_behind(demo, &scenery, played, wanted)
}

fn set(demo: &Store, today: NaiveDate) -> Result<Scenery, String> {
    let scenery = scenery(today).map_err(|problems| problems.to_string())?;
    lay(demo, &scenery).map(|()| scenery)
}

/// Puts the invented files into a folder.
pub(super) fn lay(demo: &Store, scenery: &Scenery) -> Result<(), String> {
    let fault = |fault: crate::records::save_fault::SaveFault| fault.to_string();
    demo.save_invented_people(&scenery.people).map_err(fault)?;
    demo.save_sheet(&scenery.sheet)?;
    demo.save_rotor(&scenery.rotor).map_err(fault)?;
    for instrument in &scenery.instruments {
        demo.save_instrument(instrument).map_err(fault)?;
    }
    Ok(())
}

/// The present inspection behind the two that are there, on the day that they were made for.
fn third(demo: &Store, today: NaiveDate) -> Result<(), String> {
    let (earlier, problems) = demo.earlier(&rotor()?).map_err(|problems| problems.to_string())?;
    if !problems.is_empty() {
        return Err(problems.to_string());
    }
    let scenery = scenery(today).map_err(|problems| problems.to_string())?;
    let played = earlier.into_iter().map(|one| (one.inspection, one.file.chain().to_owned())).collect();
    play_behind(demo, &scenery, played, 3)
}

fn play_behind(
    demo: &Store,
    scenery: &Scenery,
    mut played: Vec<(Inspection, String)>,
    wanted: usize,
) -> Result<(), String> {
    for answers in scenery.answers.iter().take(wanted).skip(played.len()) {
        let mut keeper = Folder { store: demo, file: None };
        let before = played.last().map(|(inspection, chain)| (inspection, chain.as_str()));
        let inspection = play(scenery, answers, before, &mut keeper).map_err(|fault| fault.to_string())?;
        let chain = keeper.chain();
        played.push((inspection, chain));
    }
    Ok(())
}

/// Keeps played records in the demonstration's folder.
struct Folder<'a> {
    store: &'a Store,
    file: Option<InspectionFile>,
}

impl Folder<'_> {
    fn path(&self, head: &Head) -> PathBuf {
        self.store.new_record(&head.rotor.id, head.begun.date(), &head.checklist.id).path
    }
}

impl Keeper for Folder<'_> {
    fn begin(&mut self, head: &Head) -> Result<(), String> {
        let file = InspectionFile::begin(&self.path(head), head, &[]).map_err(|fault| fault.to_string())?;
        self.file = Some(file);
        Ok(())
    }

    fn append(&mut self, entries: &[Entry]) -> Result<(), String> {
        let file = self.file.as_mut().ok_or("the record is not begun")?;
        file.append(entries).map_err(|fault| fault.to_string())
    }

    fn seal(&mut self) -> Result<Seal, String> {
        let file = self.file.as_ref().ok_or("the record is not begun")?;
        file.seal_behind(&[]).map_err(|fault| fault.to_string())
    }

    fn chain(&self) -> String {
        self.file.as_ref().map(|file| file.chain().to_owned()).unwrap_or_default()
    }
}
