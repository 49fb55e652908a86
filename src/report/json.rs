//! A record for programs: exact figures as text, words as in files.

use serde_json::{Number, Value, json};

use crate::domain::checklist::Signing;
use crate::domain::entry::{Act, Entry};
use crate::domain::inspection::{Inspection, Scene};
use crate::domain::judge::Condition;
use crate::domain::progress;
use crate::domain::reckon::{Answer, Answers};
use crate::domain::review::{
    Cause, Kept, differences, key_words, left_out_in_words, lists, not_judged_in_words, since, warnings,
};
use crate::domain::signing::{self, Signed};
use crate::domain::standing::{
    CharacteristicStanding, Counts, Outcome, PartStanding, Standing, claimed_words, hold_words, plan_claimed,
};
use crate::domain::telling;
use crate::domain::watch::Watch;
use crate::domain::worked::{self, Worked};

/// The record: head, parts, characteristics, entries.
/// `kept` is what its files say: decisions of people unknown here end no waiting.
pub fn of_record(inspection: &Inspection, standing: &Standing, kept: &Kept) -> Value {
    let head = inspection.head();
    let opening = inspection.opening();
    let lists = lists(inspection, standing);
    let about = |(part, what): &(String, String)| json!({"part": part, "about": what});
    json!({
        "inspection": head.id,
        "begun": head.begun.to_string(),
        "by": head.by.as_str(),
        "invented": head.scene == Scene::Invented,
        "practice": head.scene == Scene::Practice,
        "changed outside": signing::is_changed_outside(inspection),
        "warnings": warnings(inspection, kept),
        "rotor": head.rotor.id.as_str(),
        "serial": head.rotor.serial,
        "machine": head.rotor.machine.as_str(),
        "checklist": head.checklist.id.as_str(),
        "machine hours": opening.machine_hours.map(|hours| hours.to_string()),
        "hours insisted on": opening.doubts,
        "next hours": opening.next_hours.map(|hours| hours.to_string()),
        "next hours only claimed": !plan_claimed(inspection)[0].is_empty(),
        "readings": inspection.reading_count(),
        "later": opening.missing(),
        "not judged": not_judged_in_words(inspection, standing),
        "left out by the sheet": left_out_in_words(inspection),
        "signatures": signatures(inspection, kept),
        "remarks": signing::open_remarks(inspection).iter().map(|(entry, number, remark)| json!({
            "entry": entry,
            "remark": number,
            "step": remark.step,
            "text": remark.text,
        })).collect::<Vec<_>>(),
        "signed otherwise": differences(inspection).iter().map(|one| json!({
            "signature": one.signing.word(),
            "entry": one.entry,
            "part": one.part,
            "signed": one.as_signed(),
            "signature says": one.as_said(),
            "today": one.today,
            "changed outside": matches!(one.cause, Cause::Outside { .. }),
        })).collect::<Vec<_>>(),
        "changed since signing": since(inspection, standing).iter().map(|one| json!({
            "entry": one.entry,
            "part": one.part,
            "signed": one.signed,
            "now": one.today,
        })).collect::<Vec<_>>(),
        "job holds": standing.job.iter().map(hold_words).collect::<Vec<_>>(),
        "to order": standing.to_order(inspection).map(|one| json!({"part": one.part.name, "part number": one.number, "claimed not needed in entry": one.part.claimed_not_needed})).collect::<Vec<_>>(),
        "to refer": lists.refer.iter().map(about).collect::<Vec<_>>(),
        "to measure": lists.measure.iter().map(about).collect::<Vec<_>>(),
        "counts": counts(&standing.counts),
        "parts": standing.parts.iter().map(part).collect::<Vec<_>>(),
        "characteristics": standing.characteristics.iter().map(characteristic).collect::<Vec<_>>(),
        "reckoned": reckoned(inspection),
        "entries": inspection.entries().iter().map(|one| entry(inspection, one)).collect::<Vec<_>>(),
    })
}

/// Signatures that stand, with what has become of them.
fn signatures(inspection: &Inspection, kept: &Kept) -> Vec<Value> {
    let pending = signing::pending_here(inspection, &kept.strange);
    let standing = [Signing::Decisions, Signing::Close].into_iter();
    let signed = standing.filter_map(|what| Some((what, signing::standing_signature(inspection, what)?)));
    let told = signed.map(|(what, sign)| {
        let watch = Watch::over(inspection, &sign.by, sign.number);
        let countersigned = signing::countersigned(inspection, sign.number);
        json!({
            "signature": what.word(),
            "entry": sign.number,
            "by": sign.by.as_str(),
            "trainee": watch.words(),
            "trainee without mentor": watch == Watch::Nobody,
            "at": sign.at.to_string(),
            "key": key_words(&kept.keyed, sign.number),
            "grown since": signing::grown_since(inspection, sign) == Signed::Grown,
            "countersign pending": pending.contains(&sign),
            "countersigned by": countersigned.map(|entry| entry.doer().to_string()),
            "countersignature's key": countersigned.map(|entry| key_words(&kept.keyed, entry.number)),
        })
    });
    told.collect()
}

fn counts(counts: &Counts) -> Value {
    json!({
        "characteristics": counts.characteristics,
        "judged": counts.judged,
        "skipped": counts.skipped,
        "struck": counts.struck,
        "retaken": counts.retaken,
        "insisted": counts.insisted,
        "provisional": counts.provisional,
        "undecided": counts.undecided,
        "claimed": counts.claimed,
        "unjudged": counts.unjudged,
        "condemned": counts.condemned,
        "overruled": counts.overruled,
        "gauges past date": counts.past_date,
        "late": counts.late,
    })
}

fn part(part: &PartStanding) -> Value {
    json!({
        "part": part.id,
        // a part on which nothing was judged is not called reuse
        "disposition": part.in_short().1,
        "holds": part.verdict.holds.iter().map(hold_words).collect::<Vec<_>>(),
        "computed": part.by_the_rules(),
        "computed holds": part.computed.holds.iter().map(hold_words).collect::<Vec<_>>(),
        "reasons": part.reasons,
    })
}

pub(super) fn outcome_word(outcome: &Outcome) -> &'static str {
    match outcome {
        Outcome::NotTaken => "not taken",
        Outcome::Incomplete(_) => "incomplete",
        Outcome::LeftOut(_) => "left out",
        Outcome::Excused => "not asked for",
        // what it is past all the same stands beside it
        Outcome::Open(_) | Outcome::Past(..) => "open",
        Outcome::Unjudged { .. } => "accepted unjudged",
        Outcome::Judged(_) => "judged",
    }
}

pub(super) fn condition_word(condition: Condition) -> &'static str {
    match condition {
        Condition::AsFound => "as found",
        Condition::AsLeft => "as left",
    }
}

fn characteristic(one: &CharacteristicStanding) -> Value {
    let judgement = one.judgement();
    json!({
        "characteristic": one.characteristic.id(),
        "step": one.step,
        "condition": condition_word(one.condition),
        "outcome": outcome_word(&one.outcome),
        "value": judgement.map(|judgement| judgement.value.value.to_string()),
        "unit": one.measured.unit.to_string(),
        "place": judgement.map(|judgement| judgement.value.spot.clone()),
        "reached": judgement.map(|judgement| judgement.reached.reach.word()),
        "leads to": one.leads_to().word(),
        "told": telling::of_characteristic(one),
    })
}

/// What the steps reckoned besides: the answers as `asfound reckon --json` has them, or why there are none.
fn reckoned(inspection: &Inspection) -> Vec<Value> {
    let one = |step: &str, one: &Worked| {
        let (answers, problems) = match &one.outcome {
            Ok(outcome) => (Some(answers(&outcome.answers)), Vec::new()),
            Err(problems) => (None, problems.iter().map(ToString::to_string).collect()),
        };
        json!({
            "step": step,
            "reckoning": one.reckoning,
            "of": one.spot,
            "answers": answers,
            "problems": problems,
            "told": one.words(),
        })
    };
    let of_step =
        |step| worked::of_step(inspection, step).iter().map(|worked| one(&step.id, worked)).collect::<Vec<_>>();
    progress::steps(inspection).flat_map(of_step).collect()
}

/// Answers of a reckoning: exact decimals as strings, computed figures as numbers with all their digits.
pub fn answers(answers: &Answers) -> Value {
    answers.entries().iter().map(|(key, answer)| (key.clone(), answer_value(answer))).collect()
}

fn answer_value(answer: &Answer) -> Value {
    match answer {
        Answer::Nothing => Value::Null,
        Answer::Flag(flag) => Value::Bool(*flag),
        Answer::Whole(count) => Value::Number((*count).into()),
        // an Answer's number is always finite
        Answer::Number(number) => Number::from_f64(*number).map_or(Value::Null, Value::Number),
        Answer::Text(text) => Value::String(text.clone()),
        Answer::List(items) => items.iter().map(answer_value).collect(),
        Answer::Map(map) => answers(map),
    }
}

fn entry(inspection: &Inspection, entry: &Entry) -> Value {
    let mut value = json!({
        "entry": entry.number,
        "at": entry.at.to_string(),
        "by": entry.by.as_str(),
        "writer": entry.writer.as_ref().map(ToString::to_string),
        "late": entry.late.as_ref().map(|late| json!({"taken": late.taken, "sheet": late.sheet})),
        "kind": entry.act.kind(),
        "step": entry.act.step(),
        "part": entry.act.part(),
        "struck": inspection.struck_by(entry.number),
        "out of date": inspection.outdated_by(entry),
        "claimed": !claimed_words(inspection, entry).is_empty(),
        "told": telling::of_entry(inspection, entry),
    });
    if let (Act::Reading { place, typed, taken, gauge, doubts, .. }, Some(fields)) = (&entry.act, value.as_object_mut())
    {
        fields.insert("place".to_owned(), json!(place));
        fields.insert("typed".to_owned(), json!(typed));
        fields.insert("taken".to_owned(), json!(taken.to_string()));
        fields.insert("gauge".to_owned(), json!(gauge.as_ref().map(ToString::to_string)));
        fields.insert("gauge past date".to_owned(), json!(inspection.past_date(entry).is_some()));
        fields.insert("doubts".to_owned(), json!(doubts));
    }
    value
}
