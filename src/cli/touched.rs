//! `asfound where`: every record, and the entries in it, that an instrument touched.

use std::io;

use serde_json::{Value, json};

use crate::domain::gate::step_name;
use crate::domain::id::Id;
use crate::domain::inspection::{Inspection, Scene};
use crate::domain::instrument::Instrument;
use crate::domain::telling::{hands_of, of_entry};
use crate::domain::touched::{Touched, rests_on, touched};
use crate::exit::Exit;
use crate::records::store::Store;
use crate::records::verify::all_records;
use crate::records::yaml::{Problems, nearest};

use super::out::Out;
use super::raw;

/// Lists what the instrument named touched, over all rotors of the data folder.
///
/// # Errors
/// When stdout cannot be written.
pub(super) fn run(words: &raw::Where, store: &Store, out: &mut Out) -> io::Result<Exit> {
    let (shelf, unread) = match shelf(store) {
        Ok(read) => read,
        Err(problems) => {
            out.complain(&format!("asfound where: {problems}"))?;
            return Ok(Exit::NotDone);
        }
    };
    let found: Vec<_> = shelf.iter().map(|one| (one, touched(&one.1, &words.instrument))).collect();
    let found: Vec<_> = found.into_iter().filter(|(_, entries)| !entries.is_empty()).collect();
    if found.is_empty()
        && let Some(why) = unknown(store, &shelf, &words.instrument)
    {
        out.complain(&format!("asfound where: {why}"))?;
        return Ok(Exit::WrongWords);
    }
    let count: usize = found.iter().map(|(_, entries)| entries.len()).sum();
    if words.json {
        let records: Vec<_> =
            found.iter().map(|((file, inspection), entries)| told(file, inspection, entries)).collect();
        let unread: Vec<_> = unread.iter().map(ToString::to_string).collect();
        let all =
            json!({ "instrument": words.instrument.as_str(), "entries": count, "records": records, "unread": unread });
        out.say(&all.to_string())?;
    } else {
        let entries = if count == 1 { "entry" } else { "entries" };
        let plural = if found.len() == 1 { "" } else { "s" };
        out.say(&format!(
            "{}{} touched {count} {entries} in {} record{plural}",
            words.instrument,
            what_it_is(&shelf, &words.instrument),
            found.len()
        ))?;
        for ((file, inspection), entries) in &found {
            say((file, inspection), entries, out)?;
        }
    }
    if unread.is_empty() {
        return Ok(Exit::Done);
    }
    out.complain(&format!("asfound where: these records were left out, they cannot be read:\n{unread}"))?;
    Ok(Exit::FallsShort)
}

/// Records by the names of their files, and what is wrong with those that cannot be read.
type Shelf = (Vec<(String, Inspection)>, Problems);

fn shelf(store: &Store) -> Result<Shelf, Problems> {
    let (mut read, mut unread) = (Vec::new(), Problems::default());
    for path in all_records(store)? {
        match store.open(&path) {
            Ok(opened) => read.push((store.name_of(&path), opened.inspection)),
            Err(problems) => unread.join(problems),
        }
    }
    Ok((read, unread))
}

/// Why nothing was found: nobody knows an instrument of that id. One that is known and was never used is no fault.
fn unknown(store: &Store, shelf: &[(String, Inspection)], wanted: &Id) -> Option<String> {
    let (kept, _) = store.instruments();
    let in_records = shelf.iter().flat_map(|(_, inspection)| inspection.gauges());
    let mut known: Vec<&str> = kept.iter().chain(in_records).map(|gauge| gauge.id.as_str()).collect();
    if known.iter().any(|id| id.eq_ignore_ascii_case(wanted.as_str())) {
        return None;
    }
    known.sort_unstable();
    known.dedup();
    let list = if known.is_empty() { "none".to_owned() } else { known.join(", ") };
    let near = nearest(wanted.as_str(), known).map(|near| format!(" Did you mean `{near}`?")).unwrap_or_default();
    Some(format!("no instrument `{wanted}` is known in {}.{near} Known are: {list}.", store.root().display()))
}

/// ` (dial gauge, 0 to 1.0 mm)`, as the last record has it.
fn what_it_is(shelf: &[(String, Inspection)], id: &Id) -> String {
    let known = shelf.iter().rev().find_map(|(_, inspection)| inspection.gauge(id));
    let range = |gauge: &Instrument| gauge.range.map(|(from, to)| format!(", {} to {to}", from.decimal()));
    known.map_or_else(String::new, |gauge| format!(" ({}{})", gauge.kind.word(), range(gauge).unwrap_or_default()))
}

fn say((file, inspection): (&str, &Inspection), entries: &[Touched<'_>], out: &mut Out) -> io::Result<()> {
    let mark = inspection.head().scene.mark().map(|mark| format!(", {mark}")).unwrap_or_default();
    out.say(&format!("\n{}, in {file}{mark}", inspection.head().id))?;
    let judged = rests_on(inspection, entries);
    if !judged.is_empty() {
        let checklist = &inspection.head().checklist;
        let names = judged.iter().map(|one| match checklist.part(one.part()) {
            Some(part) => format!("{}: {}", part.short, one.name()),
            None => one.name().to_owned(),
        });
        out.say(&format!("  what rests on it: {}", names.collect::<Vec<_>>().join("; ")))?;
    }
    for one in entries {
        let named = |id| inspection.head().checklist.step(id).map(|step| step_name(inspection, step));
        let step = one.step().map(|id| format!("{}, ", named(id).unwrap_or(id.to_owned()))).unwrap_or_default();
        let struck = one.struck.map(|by| format!(", struck by entry {by}")).unwrap_or_default();
        let (number, at) = (one.entry.number, one.entry.at);
        let (what, who) = (of_entry(inspection, one.entry), hands_of(inspection, one.entry));
        out.say(&format!("  entry {number}, {at}, {who}: {step}{what}{struck}"))?;
    }
    Ok(())
}

fn told(file: &str, inspection: &Inspection, entries: &[Touched<'_>]) -> Value {
    let entry = |one: &Touched<'_>| {
        json!({
            "entry": one.entry.number,
            "at": one.entry.at.to_string(),
            "by": one.entry.doer().as_str(),
            "kind": one.entry.act.kind(),
            "step": one.step(),
            "what": of_entry(inspection, one.entry),
            "struck_by": one.struck,
        })
    };
    json!({
        "file": file,
        "inspection": inspection.head().id,
        "invented": inspection.head().scene == Scene::Invented,
        "rotor": inspection.head().rotor.id.as_str(),
        "rests_on_it": rests_on(inspection, entries).iter().map(|one| one.id()).collect::<Vec<_>>(),
        "entries": entries.iter().map(entry).collect::<Vec<_>>(),
    })
}
