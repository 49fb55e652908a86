//! Hours of each part: typed, or since it was fitted.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use rust_decimal::Decimal;

use super::characteristic::Characteristic;
use super::entry::{Act, Replaces};
use super::exact::Exact;
use super::figure::Figure;
use super::inspection::{Doubted, Inspection, Opening, OwnHours, Past};
use super::refusal::{Refusal, RefusalKind};
use super::rotor::{Fitted, is_same_number};
use super::stamp::long_day;
use super::unit::Unit;

/// Hours of the machine at this opening.
pub fn of_machine(inspection: &Inspection) -> Option<Exact> {
    inspection.opening().machine_hours?.to(Unit::Hour)
}

/// Hours of a part since new: as typed at this opening, else its hours when fitted and what the machine has run since;
/// a part of which nothing is known runs with the machine. A new counter tells of neither.
pub fn of_part(inspection: &Inspection, part: &str) -> Option<Exact> {
    if let Some(typed) = inspection.opening().part_hours.get(part) {
        return typed.to(Unit::Hour);
    }
    let machine = of_machine(inspection).filter(|_| !is_new_counter(inspection.opening()))?;
    // the part found, not one that has replaced it since
    match inspection.found_fitted(part) {
        Some(fitted) => since(fitted, &machine),
        None => Some(machine),
    }
}

/// Hours of a part that a life or a forecast may run on: what is known is offered at the opening, and not taken while its
/// answer is left for later.
///
/// # Errors
/// Why there are none.
pub fn told_of_part(inspection: &Inspection, part: &str) -> Result<Exact, &'static str> {
    let opening = inspection.opening();
    if opening.own_hours == Some(OwnHours::Later) && !opening.part_hours.contains_key(part) {
        return Err("the hours of the parts are left for later");
    }
    of_part(inspection, part).ok_or(NOT_KNOWN)
}

/// Why nothing runs on hours that nobody knows.
pub const NOT_KNOWN: &str = "the hours of the part are not known";

fn is_new_counter(opening: &Opening) -> bool {
    opening.doubted_machine() == Some(Opening::NEW_COUNTER)
}

/// Whether a doubt was insisted on in the hours on which a part's life and its forecasts run; hours of its own, typed
/// without one, need no counter.
pub fn doubted(inspection: &Inspection, part: &str) -> Doubted {
    let opening = inspection.opening();
    let fitted = || inspection.found_fitted(part).is_some_and(|fitted| !fitted.has_sure_hours());
    let is_doubted = if opening.part_hours.contains_key(part) {
        opening.doubts.iter().any(|one| one == part)
    } else {
        opening.doubted_machine().is_some() || fitted()
    };
    if is_doubted { Doubted::Yes } else { Doubted::No }
}

/// The parts as the next record begins with them. Hours of their own run on from here; what a new counter does not tell
/// stays in doubt.
///
/// Of several records, the first begun first, the last one counts, with what was fitted since in one that was open beside it.
pub fn carried_parts(records: &[&Inspection]) -> BTreeMap<String, Fitted> {
    let Some((inspection, before)) = records.split_last() else { return BTreeMap::new() };
    let mut parts = carried_by(inspection);
    let fitted_at = |one: &Inspection, part: &str| Some(one.entry(one.replaced_at(part)?)?.at);
    let names = before.iter().flat_map(|one| one.parts().keys().map(move |part| (*one, part)));
    let since = names.filter_map(|(one, part)| Some((fitted_at(one, part)?, part, one.fitted(part)?)));
    let mut since: Vec<_> = since.filter(|(at, ..)| *at > inspection.head().begun).collect();
    since.sort_by_key(|(at, ..)| *at);
    for (at, part, fitted) in since {
        if fitted_at(inspection, part).is_none_or(|own| own < at) {
            parts.insert(part.clone(), fitted.clone());
        }
    }
    parts
}

fn carried_by(inspection: &Inspection) -> BTreeMap<String, Fitted> {
    let (opening, mut parts) = (inspection.opening(), inspection.parts().clone());
    let Some(machine) = opening.machine_hours else { return parts };
    let steps = inspection.head().checklist.steps.iter();
    let judged = steps.flat_map(|step| &step.judges).map(|judged| part_of(judged.characteristic));
    let untold = judged.chain(inspection.parts().keys().map(String::as_str)).filter(|_| is_new_counter(opening));
    let own = opening.part_hours.keys().map(String::as_str).chain(untold);
    for part in own.filter(|part| !inspection.is_replaced(part)) {
        let known = opening.part_hours.get(part).copied();
        let before = parts.get(part);
        let hours = known.or(before.map(|before| before.hours)).unwrap_or(Figure::new(Decimal::ZERO, Unit::Hour));
        let sure = known.is_some() && doubted(inspection, part) == Doubted::No;
        let doubts = if sure { Vec::new() } else { vec![Fitted::HOURS.to_owned()] };
        let serial = before.and_then(|before| before.serial.clone());
        parts.insert(part.to_owned(), Fitted { serial, hours, machine, doubts });
    }
    parts
}

/// Hours that the records tell of parts: as the machine's make them now, under a new counter as they were at the last
/// opening.
pub fn known_of(parts: &BTreeMap<String, Fitted>, machine: Figure, last: Option<Figure>) -> BTreeMap<String, Exact> {
    let told = last.filter(|last| is_fewer(machine, *last)).unwrap_or(machine);
    let sure = parts.iter().filter(|(_, fitted)| fitted.has_sure_hours());
    sure.filter_map(|(part, fitted)| Some((part.clone(), since_new(fitted, told)?))).collect()
}

/// Whether the counter stands lower than at the last opening.
pub fn is_fewer(now: Figure, last: Figure) -> bool {
    now.to(Unit::Hour) < last.to(Unit::Hour)
}

/// The doubt that is carried by hours of the machine that were insisted on.
pub fn doubt_of(now: Figure, last: Option<Figure>) -> String {
    let word = if last.is_some_and(|last| is_fewer(now, last)) { Opening::NEW_COUNTER } else { Opening::MACHINE };
    word.to_owned()
}

/// Hours that the part has which was fitted during this inspection; none where none was.
pub fn of_renewed(inspection: &Inspection, part: &str) -> Option<Exact> {
    let fitted = inspection.fitted(part).filter(|_| inspection.is_replaced(part))?;
    since(fitted, &of_machine(inspection)?)
}

/// Whether a life in hours is judged of the part: one without a serial number has no life that anybody could follow.
pub fn counts_life(inspection: &Inspection, part: &str) -> bool {
    let judged = inspection.head().checklist.steps.iter().flat_map(|step| &step.judges);
    judged.map(|judged| judged.characteristic).any(|one| one.part() == part && one.unit() == Unit::Hour)
}

/// Hours of a part since new, when the machine stands at `machine`; none when the counter stands lower than at its
/// fitting, since a counter renewed tells nothing of the hours before.
pub fn since_new(fitted: &Fitted, machine: Figure) -> Option<Exact> {
    since(fitted, &machine.to(Unit::Hour)?)
}

fn since(fitted: &Fitted, machine: &Exact) -> Option<Exact> {
    let then = fitted.machine.to(Unit::Hour)?;
    (*machine >= then).then_some(&fitted.hours.to(Unit::Hour)? + &(machine - &then))
}

/// Hours of the machine at the last opening of which the record knows, and its day: from a part that ran with it since it
/// was fitted.
pub fn at_last_opening(inspection: &Inspection) -> Option<(Figure, NaiveDate)> {
    let machine = |past: &Past| {
        let then = past.hours.to(Unit::Hour)?;
        let Some(fitted) = inspection.head().parts.get(part_of(past.characteristic)) else {
            return Some((past.date, then));
        };
        let (hours, at) = (fitted.hours.to(Unit::Hour)?, fitted.machine.to(Unit::Hour)?);
        // what was read before it was fitted ran on another part's hours
        (then >= hours).then(|| (past.date, &(&then - &hours) + &at))
    };
    let (day, hours) = inspection.head().history.iter().filter_map(machine).max()?;
    Some((Figure::new(hours.decimal()?, Unit::Hour), day))
}

/// What is in doubt about the hours given for this opening: insisted on, or more than days have passed since the last one.
pub fn in_doubt(inspection: &Inspection) -> Option<String> {
    let now = (inspection.opening().machine_hours?, inspection.head().begun.date());
    let many = || {
        let last = at_last_opening(inspection)?;
        odd(now, last).filter(|_| !is_fewer(now.0, last.0))
    };
    let insisted = |doubt| {
        let mend = if doubt == Opening::NEW_COUNTER {
            "a new counter tells no part's"
        } else {
            "typed alike once more it holds"
        };
        format!("{} was insisted on; {mend}", now.0)
    };
    many().or_else(|| inspection.opening().doubted_machine().map(insisted))
}

/// Whether hours are fewer than none.
pub fn below_nothing(hours: Figure) -> bool {
    hours.decimal().is_sign_negative() && !hours.decimal().is_zero()
}

/// Hours run forward from nothing.
///
/// # Errors
/// `NotGiven`, those below nothing.
pub fn possible<'a>(all: impl IntoIterator<Item = &'a Figure>) -> Result<(), Refusal> {
    let below = all.into_iter().find(|hours| below_nothing(**hours));
    below.map_or(Ok(()), |hours| Err(RefusalKind::NotGiven(format!("{hours}: hours are not below nothing.")).into()))
}

/// The same of all that an opening gives.
///
/// # Errors
/// `NotGiven`, those below nothing.
pub fn opening_possible(opening: &Opening) -> Result<(), Refusal> {
    possible(opening.machine_hours.iter().chain(&opening.next_hours).chain(opening.part_hours.values()))
}

/// All that is odd about hours of the machine, one sentence each: as they are typed, and beside the last opening's.
pub fn doubts(hours: Figure, today: NaiveDate, last: Option<(Figure, NaiveDate)>) -> Vec<String> {
    let beside = match last {
        Some(last) => odd((hours, today), last),
        None => odd_age(hours),
    };
    odd_thousands(hours).into_iter().chain(beside).collect()
}

/// What is odd about hours of the machine beside those of the last opening: fewer, or more than there were between the
/// two days. The question, one sentence; none where nothing is odd.
pub fn odd(now: (Figure, NaiveDate), last: (Figure, NaiveDate)) -> Option<String> {
    let (hours, then) = (now.0.to(Unit::Hour)?, last.0.to(Unit::Hour)?);
    let was = format!("The counter stood at {} on {}", last.0, long_day(last.1));
    if hours < then {
        return Some(format!("{was}, {} is less: a new counter", now.0));
    }
    if now.1 < last.1 && hours > then {
        let today = long_day(now.1);
        return Some(format!("{was}, a day still to come by this computer's clock, {today}: is it so"));
    }
    // the day it was read and today both count whole
    let days = u32::try_from((now.1 - last.1).num_days()).unwrap_or(0).saturating_add(1);
    let passed = Exact::from(days.saturating_mul(24));
    let run = &hours - &then;
    (run > passed).then(|| format!("{was}; since then {run} h are more than the {passed} h that have passed: is it so"))
}

/// Hours of the machine at the latest fitting of which a rotor's own file knows.
pub fn at_fitting(parts: &BTreeMap<String, Fitted>) -> Option<Figure> {
    parts.values().map(|fitted| fitted.machine).max_by_key(|machine| machine.to(Unit::Hour))
}

/// What is odd about hours of the machine beside those, before there is any record. The question; none where nothing is odd.
pub fn odd_fitted(hours: Figure, parts: &BTreeMap<String, Fitted>) -> Option<String> {
    let then = at_fitting(parts).filter(|then| is_fewer(hours, *then))?;
    let was = format!("The counter stood at {then} when a part in the rotor's file was fitted");
    Some(format!("{was}, {hours} is less: a new counter"))
}

/// What hours with three digits behind the mark are meant as: thousands, as people write them. None where they have not three.
pub fn without_mark(hours: Figure) -> Option<String> {
    let three = hours.decimal().scale() == 3 && hours.unit() == Unit::Hour;
    three.then(|| format!("{} h", hours.decimal().to_string().replace('.', "")))
}

/// The question about such hours; none where nothing is odd.
fn odd_thousands(hours: Figure) -> Option<String> {
    without_mark(hours).map(|plain| format!("{hours} is less than a year's: {plain} is typed without a mark"))
}

/// More hours than fifty years have, of 8766 each, where no earlier opening tells better. The question; none otherwise.
fn odd_age(hours: Figure) -> Option<String> {
    let endless = hours.to(Unit::Hour).is_some_and(|hours| hours > Exact::from(438_300_u32));
    endless.then(|| format!("{hours} is more than fifty years without a stop: is it so"))
}

/// What is odd about the hours of one part beside the machine's, and beside those that follow from the records. The
/// question, one sentence; none where nothing is.
pub fn odd_part(part: &str, hours: Figure, machine: Option<Figure>, known: Option<&Exact>) -> Option<String> {
    let (typed, machine_is) = (hours.to(Unit::Hour)?, machine.and_then(|machine| machine.to(Unit::Hour)));
    if let (Some(machine), Some(machine_is)) = (machine, machine_is)
        && typed > machine_is
    {
        return Some(format!("{part} {hours} is more than the machine has run, {machine}: from another machine"));
    }
    let known = known.filter(|known| typed < **known)?;
    Some(format!("{part} {hours} is less than the {known} h that follow from the records: is it so"))
}

/// The same of a part that is identified late, whose hours follow from its fitting.
pub fn odd_found(inspection: &Inspection, part: &str, fitted: &Fitted) -> Option<String> {
    let machine = inspection.opening().machine_hours?;
    let hours = Figure::new(since_new(fitted, machine)?.decimal()?, Unit::Hour);
    let known = of_renewed(inspection, part).or_else(|| of_part(inspection, part));
    let name = inspection.head().checklist.part(part).map_or(part, |part| part.name.as_str());
    odd_part(name, hours, Some(machine), known.as_ref())
}

/// Hours that a piece has which bears this number, as far as this record knows it: the one found, one fitted since, or one
/// taken out at an earlier opening.
pub fn of_number(inspection: &Inspection, part: &str, number: &str) -> Option<Exact> {
    let bears = |fitted: &Fitted| bears(fitted, number);
    let found = inspection.found_fitted(part).filter(|fitted| bears(fitted)).and_then(|_| of_part(inspection, part));
    let machine = of_machine(inspection);
    let since_fitted = inspection.standing_entries().filter_map(|entry| {
        let Act::PartFitted { part: of, fitted, replaces: Replaces::Yes } = &entry.act else { return None };
        since(fitted, machine.as_ref().filter(|_| of == part && bears(fitted))?)
    });
    let earlier = inspection.head().taken_out.iter().filter(|one| one.is(part, number));
    let earlier = earlier.filter_map(|one| one.hours?.to(Unit::Hour));
    found.into_iter().chain(since_fitted).chain(earlier).max()
}

fn bears(fitted: &Fitted, number: &str) -> bool {
    fitted.serial.as_ref().is_some_and(|serial| is_same_number(serial, number))
}

/// What is odd about a new part: its number is that of one that was in the machine. The question; none where nothing is.
pub fn odd_new(inspection: &Inspection, part: &str, number: &str) -> Option<String> {
    let bears = |fitted: &Fitted| bears(fitted, number);
    let fitted_since = inspection.standing_entries().any(|entry| {
        matches!(&entry.act, Act::PartFitted { part: of, fitted, replaces: Replaces::Yes } if of == part && bears(fitted))
    });
    let was_in = fitted_since || inspection.found_fitted(part).is_some_and(bears);
    let out = inspection.head().taken_out.iter().find(|one| one.is(part, number));
    let was = match (was_in, out) {
        (true, _) => "the part that was in".to_owned(),
        (false, Some(out)) => format!("one taken out at {}", out.inspection),
        (false, None) => return None,
    };
    let known = of_number(inspection, part, number).map(|known| format!(", {known} h")).unwrap_or_default();
    Some(format!("{} is the number of {was}{known}: is it another one with this number", number.trim()))
}

/// What is odd about a plan: more hours than there are until its day. The question, one sentence; none where nothing is.
pub fn odd_plan(opening: &Opening, today: NaiveDate) -> Option<String> {
    let (next, day) = (opening.next_hours?, opening.next_date?);
    let run = &next.to(Unit::Hour)? - &opening.machine_hours?.to(Unit::Hour)?;
    let days = u32::try_from((day - today).num_days()).ok()?;
    let there = Exact::from(days.saturating_mul(24));
    let of = long_day(day);
    (run > there).then(|| format!("{next} by {of} are {run} h more, and until then there are {there} h: is it so"))
}

/// The next opening must lie after this one.
///
/// # Errors
/// `NextNotLater` with what is planned and what stands now.
pub fn planned(opening: &Opening, today: NaiveDate) -> Result<(), Refusal> {
    opening.next_hours.map_or(Ok(()), |next| planned_hours(next, opening.machine_hours))?;
    opening.next_date.map_or(Ok(()), |next| planned_day(next, today))
}

/// The same of the hours alone.
///
/// # Errors
/// `NextNotLater`.
pub fn planned_hours(next: Figure, machine: Option<Figure>) -> Result<(), Refusal> {
    match machine {
        Some(now) if next.to(Unit::Hour) <= now.to(Unit::Hour) => not_later(next.to_string(), now.to_string()),
        Some(_) | None => Ok(()),
    }
}

/// The same of the day alone.
///
/// # Errors
/// `NextNotLater`.
pub fn planned_day(next: NaiveDate, today: NaiveDate) -> Result<(), Refusal> {
    if next <= today { not_later(long_day(next), long_day(today)) } else { Ok(()) }
}

fn not_later(next: String, now: String) -> Result<(), Refusal> {
    Err(RefusalKind::NextNotLater { next, now }.into())
}

/// Hours the part will have at the next planned opening.
pub fn of_part_at_next(inspection: &Inspection, part: &str) -> Option<Exact> {
    Some(&of_part(inspection, part)? + &to_next(inspection)?)
}

/// Hours that the machine will run up to the next planned opening.
pub fn to_next(inspection: &Inspection) -> Option<Exact> {
    Some(&inspection.opening().next_hours?.to(Unit::Hour)? - &of_machine(inspection)?)
}

/// The part whose hours a characteristic runs on.
pub fn part_of(characteristic: Characteristic) -> &'static str {
    characteristic.part()
}
