//! What is to be watched: what, how, by when.

use super::super::checklist::Part;
use super::super::entry::Act;
use super::super::exact::{Exact, Rounding};
use super::super::hours;
use super::super::inspection::Inspection;
use super::super::judge::Reach;
use super::super::outlook::Outlook;
use super::super::stamp::long_day;
use super::super::unit::Unit;
use super::super::until::End;
use super::super::verdict::Consequence;
use super::CharacteristicStanding;

/// `watch: measure clearance again, at the next opening, 60510 h, 2 July 2026`.
///
/// What is past its limit, and what somebody was asked about, does not run before that is settled, whatever a forecast
/// says; `lets` says whether a concession that somebody stands for lets it run until that ends.
pub(super) fn told(
    (inspection, part): (&Inspection, &Part),
    mine: &[&CharacteristicStanding],
    (ends, lets): (&End, &dyn Fn(&str) -> bool),
) -> String {
    let watched: Vec<_> = mine.iter().filter(|one| one.leads_to() >= Consequence::Watch).collect();
    // a life is counted, nobody measures it
    let is_life = |one: &&&&CharacteristicStanding| one.characteristic.unit() == Unit::Hour;
    let measured = watched.iter().filter(|one| !is_life(one)).map(|one| one.characteristic.name());
    let mut measured: Vec<_> = measured.collect();
    // as found and as left
    measured.dedup();
    let lives = watched.iter().find(is_life).map_or("", |_| "hours");
    let (seen, asked) = seen((inspection, part), lets);
    let what = [("measure", measured.join(", ")), ("count the", lives.to_owned()), ("look at", seen.join(", "))];
    let what: Vec<_> =
        what.iter().filter(|(_, what)| !what.is_empty()).map(|(how, what)| format!("{how} {what} again")).collect();
    let what = if what.is_empty() { "look again".to_owned() } else { what.join(", ") };
    // the nearest early bound of all that is watched
    let nothing = Exact::zero();
    let left = watched.iter().filter(|one| !lets(&one.named())).filter_map(|one| match &one.outlook {
        _ if one.judgement().is_some_and(|judgement| judgement.reached.reach == Reach::Limit) => Some(&nothing),
        // somebody is asked, whatever a forecast says
        _ if matches!(one.leads_to(), Consequence::Refer | Consequence::Call) => Some(&nothing),
        Some(Outlook::Told { told, .. }) => told.hours_by_bound.as_ref().or(told.hours_by_line.as_ref()),
        Some(Outlook::None(_) | Outlook::Still(_)) | None => None,
    });
    format!("watch: {what}, {}", by_when(inspection, left.chain(asked.then_some(&nothing)).min(), ends))
}

/// What was seen on the part and is to be watched; whether somebody was asked about any of it, and has not let it run.
fn seen((inspection, part): (&Inspection, &Part), lets: &dyn Fn(&str) -> bool) -> (Vec<String>, bool) {
    let (mut kinds, mut asked): (Vec<String>, _) = (Vec::new(), false);
    let replaced = inspection.replaced_at(&part.id).unwrap_or(0);
    for entry in inspection.standing_entries().filter(|entry| entry.number > replaced) {
        let Act::Finding(finding) = &entry.act else { continue };
        let kind = part.finding(&finding.kind).filter(|_| finding.part == part.id);
        let grave = kind.is_some_and(|kind| kind.consequence(&finding.grade) >= Consequence::Watch);
        if grave && !kinds.contains(&finding.kind) {
            kinds.push(finding.kind.clone());
        }
        let mut leads_to = inspection.consequences_of(finding).into_iter();
        asked |= grave && leads_to.any(|one| one > Consequence::Watch) && !lets(&entry.number.to_string());
    }
    (kinds, asked)
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
