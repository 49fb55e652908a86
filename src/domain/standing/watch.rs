//! What is to be watched: what, how, by when.

use super::super::checklist::Part;
use super::super::entry::Act;
use super::super::exact::{Exact, Rounding};
use super::super::hours;
use super::super::inspection::Inspection;
use super::super::judge::{Condition, Reach};
use super::super::outlook::Outlook;
use super::super::stamp::long_day;
use super::super::unit::Unit;
use super::super::until::End;
use super::super::verdict::Consequence;
use super::CharacteristicStanding;

/// `watch: measure clearance again, at the next opening, 60510 h, 2 July 2026`.
pub(super) fn told(inspection: &Inspection, part: &Part, (mine, ends): (&[&CharacteristicStanding], &End)) -> String {
    let grave =
        |one: &&&CharacteristicStanding| one.condition == Condition::AsFound && one.leads_to() >= Consequence::Watch;
    let watched: Vec<_> = mine.iter().filter(grave).collect();
    let measured: Vec<_> = watched.iter().map(|one| one.characteristic.name()).collect();
    let seen = seen(inspection, part);
    let what = [("measure", measured.join(", ")), ("look at", seen.join(", "))];
    let what: Vec<_> =
        what.iter().filter(|(_, what)| !what.is_empty()).map(|(how, what)| format!("{how} {what} again")).collect();
    let what = if what.is_empty() { "look again".to_owned() } else { what.join(", ") };
    // the nearest early bound of all that is watched; what is past its limit has none left, forecast or not
    let nothing = Exact::zero();
    let left = watched.iter().filter_map(|one| match &one.outlook {
        _ if is_past(inspection, part, one) => Some(&nothing),
        Some(Outlook::Told { told, .. }) => told.hours_by_bound.as_ref().or(told.hours_by_line.as_ref()),
        Some(Outlook::None(_)) | None => None,
    });
    format!("watch: {what}, {}", by_when(inspection, left.min(), ends))
}

/// Whether its figure is past the limit, and no concession lets it run until that ends.
fn is_past(inspection: &Inspection, part: &Part, one: &CharacteristicStanding) -> bool {
    let past = one.judgement().is_some_and(|judgement| judgement.reached.reach == Reach::Limit);
    let conceded = inspection.standing_entries().any(|entry| {
        let Act::Concession { part: of, about, .. } = entry.deed() else { return false };
        *of == part.id && about == one.characteristic.id()
    });
    past && !conceded
}

/// What was seen on the part and is to be watched.
fn seen(inspection: &Inspection, part: &Part) -> Vec<String> {
    let mut kinds: Vec<String> = Vec::new();
    let replaced = inspection.replaced_at(&part.id).unwrap_or(0);
    for entry in inspection.standing_entries().filter(|entry| entry.number > replaced) {
        let Act::Finding(finding) = &entry.act else { continue };
        let kind = part.finding(&finding.kind).filter(|_| finding.part == part.id);
        let grave = kind.is_some_and(|kind| kind.consequence(&finding.grade) >= Consequence::Watch);
        if grave && !kinds.contains(&finding.kind) {
            kinds.push(finding.kind.clone());
        }
    }
    kinds
}

/// Before the hours at which a bound reaches its limit or a concession ends, where that is sooner than the next opening;
/// else at that. What has none left does not run again first.
fn by_when(inspection: &Inspection, left: Option<&Exact>, ends: &End) -> String {
    if left.is_some_and(Exact::is_zero) {
        return "before it runs again".to_owned();
    }
    let opening = inspection.opening();
    let bound = left.zip(hours::of_machine(inspection)).map(|(left, now)| &now + left);
    let next = opening.next_hours.and_then(|hours| hours.to(Unit::Hour));
    let bound = bound.filter(|bound| next.as_ref().is_none_or(|next| bound < next));
    let bound = bound.and_then(|bound| Exact::parse(&bound.rounded(0, Rounding::Down)));
    if let Some(first) = (End { hours: bound, day: None }).or(&ends.before(opening)).in_words() {
        return format!("before {first}");
    }
    let hours = opening.next_hours.map(|hours| format!(", {hours}")).unwrap_or_default();
    let day = opening.next_date.map(|day| format!(", {}", long_day(day))).unwrap_or_default();
    if hours.is_empty() && day.is_empty() {
        return "by when is open: no next opening is planned".to_owned();
    }
    format!("at the next opening{hours}{day}")
}
