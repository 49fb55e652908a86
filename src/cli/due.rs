//! `asfound due`: what is due next on every rotor, and why.

use std::io;

use chrono::NaiveDate;
use serde_json::json;

use crate::domain::due::{DueItem, nearest_first, of_rotor};
use crate::domain::id::Id;
use crate::domain::reckon::due::DecidedBy;
use crate::exit::Exit;
use crate::records::clock::{Clock, RealClock};
use crate::records::store::Store;

use super::out::Out;
use super::raw;

/// Lists what is due, the nearest day first.
///
/// # Errors
/// When stdout cannot be written.
pub(super) fn run(words: &raw::Due, store: &Store, out: &mut Out) -> io::Result<Exit> {
    let today = RealClock::default().now().date();
    let (items, invented, wrong) = match collected(store) {
        Ok(collected) => collected,
        Err(why) => {
            out.complain(&format!("asfound due: {why}"))?;
            return Ok(Exit::NotDone);
        }
    };
    if words.json {
        let items: Vec<_> = items.iter().map(|item| as_json(item, today, &invented)).collect();
        out.say(&json!({"due": items}).to_string())?;
    } else if items.is_empty() {
        out.say("Nothing is planned on any rotor.")?;
    } else {
        for item in &items {
            let mark = if invented.contains(&item.rotor) { "  (INVENTED DEMONSTRATION)" } else { "" };
            out.say(&format!("{}{mark}", line(item, today)))?;
        }
    }
    for why in &wrong {
        out.complain(&format!("asfound due: left out: {why}"))?;
    }
    Ok(if wrong.is_empty() { Exit::Done } else { Exit::NotDone })
}

/// Everything due, the rotors that are invented, and what could not be read.
type Collected = (Vec<DueItem>, Vec<Id>, Vec<String>);

fn collected(store: &Store) -> Result<Collected, String> {
    let (mut items, mut invented, mut wrong) = (Vec::new(), Vec::new(), Vec::new());
    for listed in store.rotors().map_err(|problems| problems.to_string())? {
        let rotor = match listed.rotor {
            Ok(rotor) => rotor,
            Err(problems) => {
                wrong.push(problems.to_string());
                continue;
            }
        };
        if rotor.invented {
            invented.push(rotor.id.clone());
        }
        let (opened, others) = store.open_all(&rotor.id).map_err(|problems| problems.to_string())?;
        wrong.extend(others.iter().map(ToString::to_string));
        let records: Vec<_> = opened.iter().map(|(_, one)| &one.inspection).collect();
        items.extend(of_rotor(&records));
    }
    Ok((nearest_first(items), invented, wrong))
}

/// `2031-04-17  DEMO-1  next opening  as planned, by hours, at 24000 h`.
fn line(item: &DueItem, today: NaiveDate) -> String {
    let about = if item.by == Some(DecidedBy::Hours) { "about " } else { "" };
    let day = item.day.map_or_else(|| "no day".to_owned(), |day| format!("{about}{day}"));
    let hours = item.at_hours.as_ref().map(|hours| format!(", at {hours} h")).unwrap_or_default();
    let over = item.days_over(today).map(|days| format!(", OVERDUE by {days} d")).unwrap_or_default();
    format!("{day:<16}  {}  {}: {}{hours}{over}", item.rotor, item.what, item.reason())
}

fn as_json(item: &DueItem, today: NaiveDate, invented: &[Id]) -> serde_json::Value {
    json!({
        "rotor": item.rotor.as_str(),
        "what": item.what,
        "day": item.day.map(|day| day.to_string()),
        "at_hours": item.at_hours.as_ref().map(ToString::to_string),
        "by": item.by.map(DecidedBy::word),
        "because": item.because,
        "days_over": item.days_over(today),
        "invented": invented.contains(&item.rotor),
    })
}
