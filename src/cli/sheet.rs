//! `asfound sheet`: a limits sheet as a table for spreadsheets, out and in.

use std::io::{self, BufRead};

use serde_json::json;

use crate::domain::id::Id;
use crate::domain::person::Person;
use crate::domain::sheet::Sheet;
use crate::exit::Exit;
use crate::records::paper::known;
use crate::records::sheet_table::{Change, changes};
use crate::records::store::Store;
use crate::records::yaml::{At, Problems};

use super::check::faults;
use super::out::Out;
use super::raw;

/// Writes a sheet as a table, or takes a table in.
///
/// # Errors
/// When stdout cannot be written or the input not be read.
pub(super) fn run(words: &raw::Sheet, store: &Store, out: &mut Out) -> io::Result<Exit> {
    match &words.what {
        raw::SheetVerb::Export(words) => export(words, store, out),
        raw::SheetVerb::Import(words) => import(words, store, out),
    }
}

fn export(words: &raw::SheetExport, store: &Store, out: &mut Out) -> io::Result<Exit> {
    match store.sheet_as_table(&words.sheet) {
        Ok(Some(table)) => {
            out.page().write_all(table.as_bytes())?;
            Ok(Exit::Done)
        }
        Ok(None) => {
            out.complain(&format!("asfound sheet export: {}", store.no_sheet(&words.sheet)))?;
            Ok(Exit::WrongWords)
        }
        Err(why) => {
            out.complain(&format!("asfound sheet export: {why}"))?;
            Ok(Exit::NotDone)
        }
    }
}

fn import(words: &raw::SheetImport, store: &Store, out: &mut Out) -> io::Result<Exit> {
    let read = store.sheet_from_table(&words.file).and_then(|sheet| Ok((store.sheet(&sheet.id)?, sheet)));
    let (was, now) = match read {
        Ok(read) => read,
        Err(problems) => return faulty(words, &problems, out),
    };
    // a people file that cannot be read is told by the check
    let people = store.people().unwrap_or_default();
    let by = match words.by.as_deref().map(|by| named(by, &people)).transpose() {
        Ok(by) => by,
        Err(why) => {
            out.complain(&format!("asfound sheet import: {why} Nothing was changed."))?;
            return Ok(Exit::WrongWords);
        }
    };
    let nobody = by.is_none() && !people.is_empty() && is_asked(was.as_ref(), &now);
    let table = now;
    let now = table.clone().in_place_of(was.as_ref(), by.as_deref());
    let changes = changes(was.as_ref(), &now);
    if !words.json {
        for line in told(was.as_ref(), &now, &changes) {
            out.say(&line)?;
        }
        if !changes.is_empty() {
            out.say("What a table brings, nobody has typed a second time: that is to be done again.")?;
        }
    }
    let wanted = !changes.is_empty() && agreed(words, out)?;
    let now = if wanted && nobody {
        match asked(words, &people, out)? {
            Ok(by) => table.in_place_of(was.as_ref(), Some(&by)),
            Err(why) => {
                out.complain(&format!("asfound sheet import: {why} Nothing was changed."))?;
                return Ok(Exit::WrongWords);
            }
        }
    } else {
        now
    };
    let saved = if wanted { store.save_sheet(&now) } else { Ok(()) };
    if words.json {
        let changed = wanted && saved.is_ok();
        let one = |change: &Change| json!({"what": change.what, "was": change.was, "now": change.now});
        let changes: Vec<_> = changes.iter().map(one).collect();
        out.say(&json!({"sheet": now.id.as_str(), "changed": changed, "changes": changes}).to_string())?;
    }
    match saved {
        Err(why) => {
            out.complain(&format!("asfound sheet import: {why}"))?;
            Ok(Exit::NotDone)
        }
        Ok(()) if !words.json && wanted => out.say(&format!("Saved as the sheet {}.", now.id)).map(|()| Exit::Done),
        Ok(()) if !words.json && !changes.is_empty() => out.say("Nothing was changed.").map(|()| Exit::Done),
        Ok(()) => Ok(Exit::Done),
    }
}

/// Whether nobody stands for what a table brings, unless they are named: it changes a sheet, or names nobody itself.
fn is_asked(was: Option<&Sheet>, table: &Sheet) -> bool {
    was.map_or(table.entered_by.is_empty(), |was| !was.entered_by.is_empty() || table.entered_by.is_empty())
}

/// The id of whoever is meant; where nobody is known yet, the name as it is.
fn named(by: &str, people: &[Person]) -> Result<String, String> {
    if people.is_empty() { Ok(by.trim().to_owned()) } else { known(by, people).map(Id::to_string) }
}

/// Who typed the table, asked until somebody is named; a fault where no line comes any more.
fn asked(words: &raw::SheetImport, people: &[Person], out: &mut Out) -> io::Result<Result<String, String>> {
    if words.yes {
        return Ok(Err("say who typed the table: --by PERSON.".to_owned()));
    }
    loop {
        out.say("Who typed the table (an id or a name)?")?;
        let typed = answer(out)?;
        match named(typed.trim(), people) {
            Err(why) if !typed.is_empty() => out.say(&why)?,
            Err(_) => return Ok(Err("nobody was named.".to_owned())),
            Ok(by) => return Ok(Ok(by)),
        }
    }
}

/// Whether the changes are wanted; a program says so with `--yes`.
fn agreed(words: &raw::SheetImport, out: &mut Out) -> io::Result<bool> {
    if words.yes || words.json {
        return Ok(words.yes);
    }
    out.say("Change it so (yes, no)?")?;
    Ok(answer(out)?.trim().eq_ignore_ascii_case("yes"))
}

fn answer(out: &mut Out) -> io::Result<String> {
    out.flush()?;
    let mut line = String::new();
    io::stdin().lock().read_line(&mut line)?;
    Ok(line)
}

/// What is wrong with a table; nothing of it is taken.
fn faulty(words: &raw::SheetImport, problems: &Problems, out: &mut Out) -> io::Result<Exit> {
    if words.json {
        let told = json!({"sheet": null, "changed": false, "changes": [], "problems": faults(problems)});
        out.say(&told.to_string())?;
    } else {
        out.complain(&problems.to_string())?;
    }
    out.complain("asfound sheet import: nothing was changed.")?;
    let is_unread = problems.iter().all(|one| one.at == At::WHOLE);
    Ok(if is_unread { Exit::NotDone } else { Exit::FallsShort })
}

fn told(was: Option<&Sheet>, now: &Sheet, changes: &[Change]) -> Vec<String> {
    let count = changes.len();
    let lines = if count == 1 { "line" } else { "lines" };
    let first = match (was, count) {
        (Some(_), 0) => format!("{}: nothing would change.", now.id),
        (Some(_), _) => format!("{}: {count} {lines} would change.", now.id),
        (None, _) => format!("{}: a new sheet of {count} {lines}.", now.id),
    };
    let mut told = vec![first];
    for Change { what, was: before, now } in changes {
        match (before, now) {
            (Some(before), Some(now)) => {
                told.extend([format!("* {what}"), format!("    was {before}"), format!("    now {now}")]);
            }
            (None, Some(now)) => told.push(format!("+ {what}: {now}")),
            (Some(before), None) => told.push(format!("- {what}: {before}")),
            (None, None) => {}
        }
    }
    if !changes.is_empty() {
        told.push(match (now.enterers().as_slice(), now.changed_since.is_empty()) {
            ([], _) => "The table does not say who entered it: nobody has checked these figures.".to_owned(),
            ([one], true) => format!("Entered by {one} alone, as the table says."),
            (names, true) => format!("Entered by {}, as before.", names.join(" and by ")),
            (names, false) => format!("Entered by {}, but for what is changed since.", names.join(" and by ")),
        });
    }
    told
}
