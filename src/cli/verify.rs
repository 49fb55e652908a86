//! `asfound verify`: what holds of records, what does not, what cannot be seen.

use std::io;

use serde_json::{Value, json};

use super::{Out, raw};
use crate::exit::Exit;
use crate::records::store::Store;
use crate::records::verify::{Verified, all_records, verify};

/// Verifies the files named, else every record of the data folder.
pub(super) fn run(words: &raw::Verify, store: &Store, out: &mut Out) -> io::Result<Exit> {
    let files = if words.files.is_empty() {
        match all_records(store) {
            Ok(files) => files,
            Err(problems) => {
                out.complain(&problems.to_string())?;
                return Ok(Exit::NotDone);
            }
        }
    } else {
        words.files.clone()
    };
    let verified = verify(store, &files);
    if words.json {
        out.say(&json!({ "records": verified.iter().map(told).collect::<Vec<_>>() }).to_string())?;
    } else {
        for one in &verified {
            say(one, out)?;
        }
        let failing = verified.iter().filter(|one| !one.is_fine()).count();
        let plural = if verified.len() == 1 { "" } else { "s" };
        out.say(&format!("{} record{plural} verified, {failing} with faults.", verified.len()))?;
    }
    Ok(if verified.iter().all(Verified::is_fine) { Exit::Done } else { Exit::FallsShort })
}

fn told(one: &Verified) -> Value {
    json!({
        "file": one.file,
        "inspection": one.id,
        "fine": one.is_fine(),
        "holds": one.holds,
        "faults": one.faults,
        "not_seen": one.unseen,
    })
}

fn say(one: &Verified, out: &mut Out) -> io::Result<()> {
    out.say(&one.file)?;
    for line in one.lines() {
        out.say(&format!("  {line}"))?;
    }
    Ok(())
}
