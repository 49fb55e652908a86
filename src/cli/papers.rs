//! `asfound report`, `refer`, `spares`, `blank`: what is printed off a record or a checklist.

use std::io;
use std::path::PathBuf;

use crate::domain::review::that_counts;
use crate::exit::Exit;
use crate::face::shelf::reading::kept;
use crate::records::inspection_file::Opened;
use crate::records::settings_file::Paper;
use crate::records::store::Store;
use crate::report::{blank, countersign, lists};

use super::folder::NotFound;
use super::out::Out;
use super::{folder, raw};

/// The record as HTML to print and countersign.
///
/// # Errors
/// When stdout cannot be written.
pub(super) fn report(words: &raw::Report, store: &Store, out: &mut Out) -> io::Result<Exit> {
    let made = open(store, &words.record).and_then(|(store, path, opened)| {
        let kept = kept(&store, &path, &opened);
        let standing = that_counts(&opened.inspection);
        Ok(countersign::html(&opened.inspection, &standing, &kept, size(&store)?))
    });
    told("report", made, out)
}

/// What is referred, as a letter.
///
/// # Errors
/// When stdout cannot be written.
pub(super) fn refer(words: &raw::OfRecord, store: &Store, out: &mut Out) -> io::Result<Exit> {
    let made = open(store, &words.record).map(|(store, path, opened)| {
        let (standing, kept) = (that_counts(&opened.inspection), kept(&store, &path, &opened));
        if words.json {
            return lists::referral_json(&opened.inspection, &standing, &kept).to_string();
        }
        lists::referral(&opened.inspection, &standing, &kept).join("\n")
    });
    told("refer", made, out)
}

/// What to order.
///
/// # Errors
/// When stdout cannot be written.
pub(super) fn spares(words: &raw::OfRecord, store: &Store, out: &mut Out) -> io::Result<Exit> {
    let made = open(store, &words.record).map(|(store, path, opened)| {
        let (standing, kept) = (that_counts(&opened.inspection), kept(&store, &path, &opened));
        if words.json {
            lists::spares_json(&opened.inspection, &standing, &kept).to_string()
        } else {
            lists::spares(&opened.inspection, &standing, &kept).join("\n")
        }
    });
    told("spares", made, out)
}

/// The empty forms of a checklist.
///
/// # Errors
/// When stdout cannot be written.
pub(super) fn blank(words: &raw::Blank, store: &Store, out: &mut Out) -> io::Result<Exit> {
    match forms(words, store) {
        Ok(Forms::Made(text)) => told("blank", Ok(text), out),
        Ok(Forms::NoSuch(why)) => out.complain(&format!("asfound blank: {why}")).map(|()| Exit::WrongWords),
        Err(why) => told("blank", Err(why.into()), out),
    }
}

/// Empty forms, or what was named and is not there.
enum Forms {
    Made(String),
    NoSuch(String),
}

fn forms(words: &raw::Blank, store: &Store) -> Result<Forms, String> {
    let name = words.checklist.as_deref().unwrap_or("overhaul");
    let Some(checklist) = store.checklist(name).map_err(|problems| problems.to_string())? else {
        let names = store.checklist_names().unwrap_or_default().join(", ");
        return Ok(Forms::NoSuch(format!("there is no checklist `{name}`. Known are {names}.")));
    };
    let rotor = match &words.rotor {
        None => None,
        Some(id) => {
            let listed = store.rotors().map_err(|problems| problems.to_string())?;
            let rotors: Vec<_> = listed.into_iter().filter_map(|listed| listed.rotor.ok()).collect();
            let known: Vec<_> = rotors.iter().map(|rotor| rotor.id.to_string()).collect();
            let found = rotors.into_iter().find(|rotor| rotor.id.as_str().eq_ignore_ascii_case(id));
            let Some(rotor) = found else {
                return Ok(Forms::NoSuch(format!("there is no rotor `{id}`. Known are: {}.", known.join(", "))));
            };
            Some(rotor)
        }
    };
    let machine = words.machine.clone().or_else(|| rotor.as_ref().map(|rotor| rotor.machine.to_string()));
    let sheet = match &machine {
        None => None,
        Some(machine) => match store.sheet_named(machine)? {
            None => return Ok(Forms::NoSuch(store.no_sheet(machine))),
            sheet => sheet,
        },
    };
    let who = blank::For { sheet: sheet.as_ref(), rotor: rotor.as_ref() };
    Ok(Forms::Made(blank::html(&checklist, who, size(store)?)))
}

fn told(verb: &str, made: Result<String, NotFound>, out: &mut Out) -> io::Result<Exit> {
    match made {
        Ok(text) => out.say(&text).map(|()| Exit::Done),
        Err(not_found) => not_found.told(verb, out),
    }
}

fn open(store: &Store, name: &str) -> Result<(Store, PathBuf, Opened), NotFound> {
    let (store, path) = folder::record_named(store, name)?;
    let opened = store.open_whole_part(&path).map_err(|problems| problems.to_string())?;
    Ok((store, path, opened))
}

/// The size of paper, as style sheets name it.
fn size(store: &Store) -> Result<&'static str, String> {
    Ok(match store.settings().map_err(|problems| problems.to_string())?.paper {
        Paper::A4 => "A4",
        Paper::Letter => "letter",
    })
}
