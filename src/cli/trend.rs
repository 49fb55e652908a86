//! `asfound trend`: how parts wear on their own hours, and whether they last to the next opening.

use std::io;

use serde_json::json;

use crate::domain::characteristic::Characteristic;
use crate::domain::id::Id;
use crate::domain::inspection::Scene;
use crate::domain::judge::Condition;
use crate::domain::outlook::Outlook;
use crate::domain::standing::{CharacteristicStanding, Standing};
use crate::exit::Exit;
use crate::records::inspection_file::Opened;
use crate::records::store::Store;
use crate::records::yaml::nearest;
use crate::report::trend::{Drawing, as_json, lines};

use super::folder::NotFound;
use super::out::Out;
use super::surroundings::Surroundings;
use super::{folder, raw};

/// Prints the figures of each opening, the forecast, and on a terminal a plot.
///
/// # Errors
/// When stdout cannot be written.
pub(super) fn run(words: &raw::Trend, store: &Store, surroundings: &Surroundings, out: &mut Out) -> io::Result<Exit> {
    let wanted = match words.characteristic.as_deref().map(known).transpose() {
        Ok(wanted) => wanted,
        Err(why) => {
            out.complain(&format!("asfound trend: {why}"))?;
            return Ok(Exit::WrongWords);
        }
    };
    let opened = match open(store, &words.record) {
        Ok(opened) => opened,
        Err(not_found) => return not_found.told("trend", out),
    };
    let inspection = &opened.inspection;
    let standing = Standing::of(inspection);
    let asked = |one: &&CharacteristicStanding| {
        one.condition == Condition::AsFound
            && match wanted {
                Some(wanted) => one.characteristic == wanted,
                None => matches!(one.outlook, Some(Outlook::Told { .. })),
            }
    };
    let asked: Vec<_> = standing.characteristics.iter().filter(asked).collect();
    if words.json {
        let told: Vec<_> = asked.iter().map(|one| as_json(inspection, one)).collect();
        let head = inspection.head();
        let invented = head.scene != Scene::Real;
        out.say(&json!({"inspection": head.id, "invented": invented, "trends": told}).to_string())?;
        return Ok(Exit::Done);
    }
    if asked.is_empty() {
        out.say("No characteristic of this record has a forecast.")?;
    }
    let mark = inspection.head().scene.mark().map(|mark| format!("  ({mark})")).unwrap_or_default();
    out.say(&format!("{}{mark}", inspection.head().id))?;
    let drawing = if surroundings.shown { Drawing::Drawn } else { Drawing::LeftOut };
    for one in asked {
        for line in lines(inspection, one, drawing) {
            out.say(&line)?;
        }
        if wanted.is_some() {
            let working = one.workings(inspection).into_iter().flat_map(|working| working.text_lines());
            for line in working {
                out.say(&format!("  {line}"))?;
            }
        }
    }
    Ok(Exit::Done)
}

fn known(id: &str) -> Result<Characteristic, String> {
    Characteristic::parse(id).ok_or_else(|| match nearest(id, Characteristic::all().map(Characteristic::id)) {
        Some(near) => format!("there is no characteristic `{id}`. Did you mean `{near}`?"),
        None => format!("there is no characteristic `{id}`. `asfound sheet export` lists those of a sheet."),
    })
}

/// A record by its name, or the latest of the rotor of that name; another rotor's among them is passed over.
fn open(store: &Store, name: &str) -> Result<Opened, NotFound> {
    for store in [store.clone(), store.demo()] {
        let Ok(rotor) = name.parse::<Id>() else { break };
        let records = store.records(&rotor).map_err(|problems| problems.to_string())?;
        for record in records.iter().rev() {
            let opened = store.open(record).map_err(|problems| NotFound::from(problems.to_string()))?;
            if opened.inspection.head().rotor.id.same_as(&rotor) {
                return Ok(opened);
            }
        }
    }
    let (store, path) = folder::record_named(store, name)?;
    store.open(&path).map_err(|problems| NotFound::from(problems.to_string()))
}
