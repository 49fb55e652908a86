//! What is due next on a rotor, and why: the opening that is planned, what wears faster than that, what the calendar asks for.

use std::collections::BTreeSet;

use chrono::NaiveDate;

use super::characteristic::Given;
use super::checklist::{Part, Signing, Takes};
use super::entry::{Act, Entry};
use super::exact::{Exact, Rounding};
use super::hours;
use super::id::Id;
use super::inspection::Inspection;
use super::judge::Condition;
use super::outlook::{Outlook, Trend};
use super::phase::Phase;
use super::progress::{self, StepState};
use super::reckon::due::{DecidedBy, Hours, due};
use super::reckon::told::Now;
use super::signing;
use super::standing::{CharacteristicStanding, Standing, plan_claimed};
use super::unit::Unit;
use super::until::End;
use super::verdict::{Consequence, Disposition};

/// Something due.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DueItem {
    /// The rotor.
    pub rotor: Id,
    /// `next opening`, a part, a characteristic.
    pub what: String,
    /// At which hours of the machine.
    pub at_hours: Option<Exact>,
    /// On which day; when hours decide, the day on which they are run at the usual hours a day.
    pub day: Option<NaiveDate>,
    /// What decides; `None` when there are hours only and nobody knows how many are run a day.
    pub by: Option<DecidedBy>,
    /// Why.
    pub because: String,
}

impl DueItem {
    /// For how many days it has been due.
    pub fn days_over(&self, today: NaiveDate) -> Option<i64> {
        self.day.map(|day| (today - day).num_days()).filter(|days| *days > 0)
    }

    /// `as planned, by hours`.
    pub fn reason(&self) -> String {
        match self.by {
            Some(DecidedBy::Hours) => format!("{}, by hours", self.because),
            Some(DecidedBy::Calendar) => format!("{}, by date", self.because),
            Some(DecidedBy::Both) | None => self.because.clone(),
        }
    }
}

/// What is due on one rotor, from its records, the oldest first; the nearest day comes first, what has none last.
pub fn of_rotor(records: &[&Inspection]) -> Vec<DueItem> {
    let mut items: Vec<DueItem> = planned(records).into_iter().collect();
    items.extend(wearing(records));
    items.extend(conceded(records));
    items.extend(carried(records));
    items.extend(by_months(records));
    items.sort_by(|one, other| {
        (one.day.is_none(), one.day, &one.what).cmp(&(other.day.is_none(), other.day, &other.what))
    });
    items
}

/// What is due on several rotors together.
pub fn nearest_first(mut items: Vec<DueItem>) -> Vec<DueItem> {
    items.sort_by(|one, other| {
        (one.day.is_none(), one.day, &one.rotor).cmp(&(other.day.is_none(), other.day, &other.rotor))
    });
    items
}

/// The plan last made: an opening for less, without a plan of its own, leaves it as it was.
fn planned(records: &[&Inspection]) -> Option<DueItem> {
    let plans = |record: &&&Inspection| record.opening().next_hours.is_some() || record.opening().next_date.is_some();
    let record = records.iter().rev().find(plans)?;
    let (opening, [hours, day]) = (record.opening(), plan_claimed(record));
    let at_hours = opening.next_hours.and_then(|hours| hours.to(Unit::Hour));
    let by_hours = at_hours.as_ref().and_then(|at| day_of(records, at));
    let first = super::reckon::due::Due { by_hours, by_calendar: opening.next_date }.first();
    Some(DueItem {
        rotor: records.last()?.head().rotor.id.clone(),
        what: "next opening".to_owned(),
        because: format!("as planned{}{}", hours.max(day), passed(records, at_hours.as_ref())),
        at_hours,
        day: first.map(|(day, _)| day),
        by: first.map(|(_, by)| by),
    })
}

/// The last record that tells the hours of the machine, and those.
fn counter<'a>(records: &[&'a Inspection]) -> Option<(&'a Inspection, Exact)> {
    records.iter().rev().find_map(|record| Some((*record, hours::of_machine(record)?)))
}

/// Said of what the machine has run past.
fn passed(records: &[&Inspection], at: Option<&Exact>) -> &'static str {
    let past = at.zip(counter(records)).is_some_and(|(at, (_, now))| *at < now);
    if past { ", passed" } else { "" }
}

/// The day on which the machine will have run so many hours, at the sheet's hours a day; what is passed is due at once.
fn day_of(records: &[&Inspection], at: &Exact) -> Option<NaiveDate> {
    let (record, now) = counter(records)?;
    let per_day = record.sheet()?.given(Given::parse("use.daily")?)?;
    let left = (at - &now).max(Exact::zero());
    due(record.head().begun.date(), Some(&Hours { left, per_day }), None).ok()?.by_hours
}

/// Parts that went back in and reach their limit before the next opening, or whose bound does: each characteristic from
/// the last record that measured it, unless its part was replaced since.
fn wearing(records: &[&Inspection]) -> Vec<DueItem> {
    let (mut items, mut known, mut renewed) = (Vec::new(), BTreeSet::new(), BTreeSet::new());
    for record in records.iter().rev() {
        let judged = record.head().checklist.steps.iter().flat_map(|step| &step.judges);
        if judged.map(|judged| judged.characteristic).any(|one| !known.contains(&one)) {
            let standing = Standing::of(record);
            // the new part's own life before that of the one found
            let left_first = [Condition::AsLeft, Condition::AsFound];
            let all =
                left_first.iter().flat_map(|of| standing.characteristics.iter().filter(|one| one.condition == *of));
            for one in all.filter(|one| one.outlook.is_some()) {
                let part = one.characteristic.part();
                if known.insert(one.characteristic) && !renewed.contains(part) && goes_back(&standing, one) {
                    items.extend(worn(records, (record, &standing), one));
                }
            }
        }
        renewed.extend(record.parts().keys().filter(|part| record.is_replaced(part)).map(String::as_str));
    }
    items
}

fn goes_back(standing: &Standing, one: &CharacteristicStanding) -> bool {
    let part = standing.part(one.characteristic.part());
    one.condition == Condition::AsLeft || part.is_some_and(|part| part.verdict.disposition <= Disposition::Watch)
}

fn worn(
    records: &[&Inspection],
    (record, standing): (&Inspection, &Standing),
    one: &CharacteristicStanding,
) -> Option<DueItem> {
    let Some(Outlook::Told { told, leads_to, limit, unit, on_flat }) = &one.outlook else { return None };
    if *leads_to == Consequence::Nothing {
        return None;
    }
    let (left, what) = match (&told.hours_by_line, &told.hours_by_bound) {
        (Some(line), Some(bound)) if line <= bound => (line, "reaches"),
        (_, Some(bound)) => (bound, "may reach"),
        (Some(line), None) => (line, "reaches"),
        (None, None) => return None,
    };
    let at = hours::of_machine(record).map(|now| &now + left);
    let day = at.as_ref().and_then(|at| day_of(records, at));
    let part = standing.part(one.characteristic.part()).map_or("", |part| part.name.as_str());
    let limit = format!("{}{}", super::telling::beside(limit, None, 3), unit.behind());
    let because = match (told.now, left.is_zero(), *on_flat) {
        (Now::Past, _, _) => format!("its limit {limit} is reached now"),
        (Now::Within, true, _) => format!("its bound is past the limit {limit}"),
        (Now::Within, false, Trend::Flat) => format!("{what} its limit then, a flat of {limit}"),
        (Now::Within, false, Trend::Value | Trend::Hours) => format!("{what} its limit {limit} then"),
    };
    Some(DueItem {
        rotor: record.head().rotor.id.clone(),
        what: format!("{part}: {}", one.characteristic.name()),
        because: format!("{because}{}", passed(records, at.as_ref())),
        at_hours: at.and_then(|at| Exact::parse(&at.rounded(0, Rounding::Down))),
        by: day.map(|_| DecidedBy::Hours),
        day,
    })
}

/// What ends of concessions that parts rest on: each part by the last closed record of it, and by those begun since.
fn conceded(records: &[&Inspection]) -> Vec<DueItem> {
    let (mut items, mut settled) = (Vec::new(), BTreeSet::new());
    for record in records.iter().rev() {
        let parts = &record.head().checklist.parts;
        let gives = |entry: &Entry| matches!(entry.deed(), Act::Concession { .. });
        let resting = parts.iter().filter(|_| record.standing_entries().any(gives));
        for part in resting.filter(|part| !settled.contains(part.id.as_str())) {
            let ends = Standing::of_part(record, &part.id).map(|part| part.ends).unwrap_or_default();
            let by_hours = ends.hours.as_ref().and_then(|at| day_of(records, at));
            let first = super::reckon::due::Due { by_hours, by_calendar: ends.day }.first();
            if ends != End::default() {
                items.push(DueItem {
                    rotor: record.head().rotor.id.clone(),
                    what: format!("{}: concession", part.name),
                    because: format!("it ends then{}", passed(records, ends.hours.as_ref())),
                    at_hours: ends.hours,
                    day: first.map(|(day, _)| day),
                    by: first.map(|(_, by)| by),
                });
            }
        }
        let closed = signing::standing_signature(record, Signing::Close).is_some();
        let gone = |part: &&Part| closed || record.is_replaced(&part.id);
        settled.extend(parts.iter().filter(gone).map(|part| part.id.as_str()));
    }
    items
}

/// What the last close was signed over, open: since that day it waits for somebody.
fn carried(records: &[&Inspection]) -> Vec<DueItem> {
    let close = records.last().and_then(|last| Some((last, signing::standing_signature(last, Signing::Close)?)));
    let Some((record, sign)) = close else { return Vec::new() };
    let Act::Sign(signature) = &sign.act else { return Vec::new() };
    let because = match signature.carried.as_slice() {
        [] => return Vec::new(),
        [only] => only.clone(),
        [first, rest @ ..] => format!("{first}; and {} more", rest.len()),
    };
    let (rotor, what) = (record.head().rotor.id.clone(), "carried on at the close".to_owned());
    vec![DueItem { rotor, what, at_hours: None, day: Some(sign.at.date()), by: None, because }]
}

/// Parts that are seen to again after so many months, from the last day on which they were.
fn by_months(records: &[&Inspection]) -> Vec<DueItem> {
    let Some(last) = records.last() else { return Vec::new() };
    let mut items: Vec<DueItem> = Vec::new();
    for record in records.iter().rev() {
        for part in &record.head().checklist.parts {
            let Some((day, months)) =
                part.every_months.and_then(|months| Some((next_of(record, part, months)?, months)))
            else {
                continue;
            };
            if items.iter().any(|known| known.what == part.name) {
                continue;
            }
            items.push(DueItem {
                rotor: last.head().rotor.id.clone(),
                what: part.name.clone(),
                at_hours: None,
                day: Some(day),
                by: Some(DecidedBy::Calendar),
                because: format!("every {months} months, common practice"),
            });
        }
    }
    items
}

/// So many months behind the day on which the part was seen to.
fn next_of(record: &Inspection, part: &Part, months: u32) -> Option<NaiveDate> {
    due(seen_to(record, part)?, None, Some(months)).ok()?.by_calendar
}

/// The day of the last thing done at a part, none of whose steps waits or was left out: what was noted, photographed or
/// skipped is not done.
fn seen_to(record: &Inspection, part: &Part) -> Option<NaiveDate> {
    let (mut last, mine) = (None, progress::steps(record).filter(|step| step.part == part.id));
    for step in mine.filter(|step| step.phase <= Phase::Measure) {
        match progress::state(record, step) {
            StepState::Done => {}
            StepState::NotApplicable | StepState::NotAsked => continue,
            StepState::Skipped | StepState::ToDo | StepState::Partly { .. } | StepState::Running { .. } => return None,
        }
        let is_note = |act: &Act| matches!(act, Act::Note { .. }) && step.takes != Takes::Words;
        let did = record.standing_entries_of(&step.id).filter(|entry| entry.act.does_step() && !is_note(&entry.act));
        last = did.map(|entry| entry.when().date()).max().max(last);
    }
    last
}
