//! `asfound verify`: what holds of records, what does not, what cannot be seen.

use std::io;
use std::path::PathBuf;

use serde_json::{Value, json};

use super::folder::{self, NotFound};
use super::{Out, raw};
use crate::exit::Exit;
use crate::records::store::Store;
use crate::records::verify::{Told, Verified, all_records, verify};

/// Verifies the records named, else every one of the data folder and of its demonstration.
pub(super) fn run(words: &raw::Verify, store: &Store, out: &mut Out) -> io::Result<Exit> {
    let files = match named(words, store) {
        Ok(files) => files,
        Err(not_found) => return not_found.told("verify", out),
    };
    let verified: Vec<_> =
        files.into_iter().flat_map(|(store, file)| verify(&store, std::slice::from_ref(&file))).collect();
    let faulty = verified.iter().filter(|one| !one.is_fine()).count();
    let unchecked = verified.iter().filter(|one| !one.is_checked()).count();
    if words.json {
        out.say(&json!({ "records": verified.iter().map(of_record).collect::<Vec<_>>() }).to_string())?;
    } else {
        for one in &verified {
            say(one, out)?;
        }
        let plural = if verified.len() == 1 { "" } else { "s" };
        let not = match unchecked {
            0 => String::new(),
            count => format!(", {count} with something that could not be checked"),
        };
        let here = if verified.is_empty() { folder::looked_in(store) } else { String::new() };
        out.say(&format!("{} record{plural} verified, {faulty} with faults{not}.{here}", verified.len()))?;
    }
    Ok(match (faulty, unchecked) {
        (0, 0) => Exit::Done,
        (0, _) => Exit::NotChecked,
        _ => Exit::FallsShort,
    })
}

/// The records meant, each with the folder whose people and notes are known.
fn named(words: &raw::Verify, store: &Store) -> Result<Vec<(Store, PathBuf)>, NotFound> {
    if words.records.is_empty() {
        let mut all = Vec::new();
        for store in [store.clone(), store.demo()] {
            let files = all_records(&store).map_err(|problems| NotFound::from(problems.to_string()))?;
            all.extend(files.into_iter().map(|file| (store.clone(), file)));
        }
        return Ok(all);
    }
    words.records.iter().map(|name| folder::record_named(store, name)).collect()
}

fn of_record(one: &Verified) -> Value {
    json!({
        "file": one.file,
        "inspection": one.id,
        "fine": one.is_fine(),
        "checked": one.is_checked(),
        "holds": one.holds(),
        "faults": one.faults(),
        "not_seen": one.unseen(),
        "told": one.told.iter().map(of_sentence).collect::<Vec<_>>(),
    })
}

fn of_sentence(told: &Told) -> Value {
    json!({
        "sign": told.sign.word(),
        "kind": told.kind.word(),
        "entry": told.entry,
        "place": told.place,
        "name": told.name,
        "what": told.what,
    })
}

fn say(one: &Verified, out: &mut Out) -> io::Result<()> {
    out.say(&one.file)?;
    for line in one.lines() {
        out.say(&format!("  {line}"))?;
    }
    Ok(())
}
