//! A record for programs: exact figures as text, words as in files.

use serde_json::{Value, json};

use crate::domain::entry::{Act, Entry};
use crate::domain::inspection::{Inspection, Scene};
use crate::domain::judge::Condition;
use crate::domain::standing::{CharacteristicStanding, Outcome, PartStanding, Standing, hold_words};
use crate::domain::telling;

/// The record: head, parts, characteristics, entries.
pub fn of_record(inspection: &Inspection, standing: &Standing) -> Value {
    let head = inspection.head();
    let opening = inspection.opening();
    json!({
        "inspection": head.id,
        "begun": head.begun.to_string(),
        "by": head.by.as_str(),
        "invented": head.scene == Scene::Invented,
        "practice": head.scene == Scene::Practice,
        "rotor": head.rotor.id.as_str(),
        "serial": head.rotor.serial,
        "machine": head.rotor.machine.as_str(),
        "checklist": head.checklist.id.as_str(),
        "machine hours": opening.machine_hours.map(|hours| hours.to_string()),
        "next hours": opening.next_hours.map(|hours| hours.to_string()),
        "readings": inspection.reading_count(),
        "later": opening.missing(),
        "parts": standing.parts.iter().map(part).collect::<Vec<_>>(),
        "characteristics": standing.characteristics.iter().map(characteristic).collect::<Vec<_>>(),
        "entries": inspection.entries().iter().map(|one| entry(inspection, one)).collect::<Vec<_>>(),
    })
}

fn part(part: &PartStanding) -> Value {
    json!({
        "part": part.id,
        "disposition": part.verdict.disposition.word(),
        "holds": part.verdict.holds.iter().map(hold_words).collect::<Vec<_>>(),
        "reasons": part.reasons,
    })
}

fn characteristic(one: &CharacteristicStanding) -> Value {
    let judgement = one.judgement();
    let outcome = match &one.outcome {
        Outcome::NotTaken => "not taken",
        Outcome::Incomplete(_) => "incomplete",
        Outcome::LeftOut(_) => "left out",
        Outcome::Excused => "not asked for",
        Outcome::Open(_) => "open",
        Outcome::Unjudged { .. } => "accepted unjudged",
        Outcome::Judged(_) => "judged",
    };
    json!({
        "characteristic": one.characteristic.id(),
        "step": one.step,
        "condition": match one.condition {
            Condition::AsFound => "as found",
            Condition::AsLeft => "as left",
        },
        "outcome": outcome,
        "value": judgement.map(|judgement| judgement.value.value.to_string()),
        "unit": one.measured.unit.to_string(),
        "place": judgement.map(|judgement| judgement.value.spot.clone()),
        "reached": judgement.map(|judgement| judgement.reached.reach.word()),
        "leads to": one.leads_to().word(),
        "told": telling::of_characteristic(one),
    })
}

fn entry(inspection: &Inspection, entry: &Entry) -> Value {
    let mut value = json!({
        "entry": entry.number,
        "at": entry.at.to_string(),
        "by": entry.by.as_str(),
        "writer": entry.writer.as_ref().map(ToString::to_string),
        "kind": entry.act.kind(),
        "step": entry.act.step(),
        "part": entry.act.part(),
        "struck": inspection.struck_by(entry.number),
        "told": telling::of_entry(inspection, entry),
    });
    if let (Act::Reading { place, typed, taken, gauge, doubts, .. }, Some(fields)) = (&entry.act, value.as_object_mut())
    {
        fields.insert("place".to_owned(), json!(place));
        fields.insert("typed".to_owned(), json!(typed));
        fields.insert("taken".to_owned(), json!(taken.to_string()));
        fields.insert("gauge".to_owned(), json!(gauge.as_ref().map(ToString::to_string)));
        fields.insert("doubts".to_owned(), json!(doubts));
    }
    value
}
