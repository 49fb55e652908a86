//! What made a part so, in few words: a line of the first page has room for some forty characters.

use std::collections::BTreeSet;

use super::super::carried::about_in_words;
use super::super::entry::{Act, Entry, FindingMade};
use super::super::exact::Exact;
use super::super::inspection::Inspection;
use super::super::judge::{Condition, Reach};
use super::super::outlook::{Outlook, Trend};
use super::super::progress;
use super::super::standing::{CharacteristicStanding, Milder, Outcome, PartStanding, Standing, claims};
use super::super::telling::{beside, name_of};
use super::super::unit::Unit;
use super::super::verdict::Consequence;

/// The entries that are only claimed, by number.
pub(super) fn claims_of(inspection: &Inspection) -> BTreeSet<u32> {
    claims(inspection).iter().map(|claim| claim.number).collect()
}

/// Where a remark on a part starts: at the step that made it so, or at the first of the part's own.
pub(super) fn step_of(
    inspection: &Inspection,
    part: &PartStanding,
    reasons: &[(String, Option<String>)],
) -> Option<String> {
    let first = || progress::steps(inspection).find(|step| step.part == part.id).map(|step| step.id.clone());
    reasons.iter().find_map(|(_, step)| step.clone()).or_else(first)
}

/// Something that made a part so.
struct Reason {
    grave: Consequence,
    /// Whether it counts still: a decision may have been made anew, or by nobody who may.
    counts: bool,
    words: String,
    step: Option<String>,
}

/// Everything that made the part so, each with the step where it was seen; the first so many of them are said wherever it is.
pub(super) fn made_so(
    (inspection, claims): (&Inspection, &BTreeSet<u32>),
    standing: &Standing,
    part: &PartStanding,
) -> (Vec<(String, Option<String>)>, usize) {
    let mut reasons: Vec<Reason> = Vec::new();
    let call = |words: String| Reason { grave: Consequence::Call, counts: true, words, step: None };
    // who signed it, and as what, says more
    let milder = part.milder().filter(|whose| *whose != Milder::Signed);
    reasons.extend(milder.map(|_| call(part.beside_the_rules())));
    reasons.extend(part.claimed.iter().cloned().chain(part.signed.clone()).map(call));
    for one in standing.characteristics.iter().filter(|one| one.characteristic.part() == part.id) {
        let told = of_characteristic(one);
        let (name, step) = (one.characteristic.name(), Some(one.step.clone()));
        reasons.extend(told.map(|(grave, words)| Reason {
            grave,
            counts: true,
            words: format!("{name} {words}"),
            step,
        }));
    }
    for entry in inspection.standing_entries() {
        let step = entry.act.step().map(str::to_owned);
        let told = of_entry(inspection, part, entry.deed());
        let standing = stands((inspection, claims), part, entry);
        // a crack is never one of the rest
        let first =
            matches!(entry.deed(), Act::Finding(found) if inspection.kind_of(found).is_some_and(|kind| kind.crack));
        let rank = |grave: Consequence| if first { grave.max(Consequence::Call) } else { grave };
        let counts = !matches!(standing, NOT | NO_MORE);
        let words = |words: String| format!("{words}{standing}");
        reasons.extend(told.map(|(grave, said)| Reason { grave: rank(grave), counts, words: words(said), step }));
    }
    // what was decided, what holds it, then what made it so; the sort is stable: the equally grave stay in the order of the work
    let rank = |grave: Consequence| match grave {
        Consequence::Call => 3,
        Consequence::Refer => 2,
        Consequence::Nothing | Consequence::Watch | Consequence::Rework | Consequence::Replace => {
            // also by the rules, where somebody decided otherwise
            u8::from([part.verdict.disposition, part.computed.disposition].contains(&grave.at_least()))
        }
    };
    reasons.sort_by_key(|one| std::cmp::Reverse((one.counts, rank(one.grave), one.grave)));
    let of = |ranked: u8| reasons.iter().filter(|one| one.counts && rank(one.grave) == ranked).count();
    // what holds it, and beside it what made it so
    let foremost = of(3) + of(2).min(1) + of(1).min(2);
    let mut said: Vec<_> = reasons.into_iter().map(|one| (one.words, one.step)).collect();
    if said.is_empty() {
        said.extend(part.verdict.holds.iter().map(|hold| (super::super::standing::hold_words(hold), None)));
    }
    (said, foremost)
}

fn of_characteristic(one: &CharacteristicStanding) -> Option<(Consequence, String)> {
    if one.condition == Condition::AsLeft {
        let judgement = one.judgement().filter(|judgement| judgement.reached.reach > Reach::Within)?;
        let value = beside(&judgement.value.value, judgement.reached.bound.as_ref(), 4);
        return Some((Consequence::Rework, format!("as left {value}, not as new")));
    }
    match &one.outcome {
        Outcome::NotTaken | Outcome::Incomplete(None) => Some((Consequence::Nothing, "not taken".to_owned())),
        Outcome::LeftOut(why) | Outcome::Open(why) => {
            let ahead = ahead(one, None).map(|words| format!(", {words}")).unwrap_or_default();
            Some((one.leads_to(), format!("{why}{ahead}")))
        }
        Outcome::Unjudged { by, .. } => Some((Consequence::Nothing, format!("accepted unjudged by {by}"))),
        Outcome::Excused => None,
        Outcome::Judged(_) | Outcome::Incomplete(Some(_)) | Outcome::Past(..) => judged(one),
    }
}

fn judged(one: &CharacteristicStanding) -> Option<(Consequence, String)> {
    let judgement = one.judgement()?;
    let reached = &judgement.reached;
    let undecided = reached.reach == Reach::Undecided;
    let grave = one.leads_to();
    if grave == Consequence::Nothing && !undecided && judgement.provisional == super::super::inspection::Doubted::No {
        return None;
    }
    let hours = one.measured.unit == Unit::Hour;
    let value = beside(&judgement.value.value, reached.bound.as_ref(), if hours { 0 } else { 4 });
    let at = if one.measured.values.len() > 1 { format!(" ({})", judgement.value.place()) } else { String::new() };
    let past = matches!(reached.reach, Reach::NotNew | Reach::Limit);
    let named = reached.bound.as_ref().filter(|_| past);
    let ahead = ahead(one, named);
    let bound = reached.bound.as_ref().map(|bound| beside(bound, None, if hours { 0 } else { 4 }));
    let against = match (reached.reach, bound) {
        (Reach::Within, _) | (_, None) => String::new(),
        // the forecast is graver, and it names the limit
        (Reach::Alert, Some(_)) if ahead.is_some() => String::new(),
        (Reach::Alert, Some(bound)) => format!(", alert {bound}"),
        (Reach::Undecided, Some(bound)) if reached.is_unknown() => format!(", uncertainty not known, limit {bound}"),
        (Reach::Undecided, Some(bound)) => format!(", too close to {bound}"),
        (Reach::NotNew | Reach::Limit, Some(bound)) => format!(", limit {bound}"),
    };
    let provisional =
        if judgement.provisional == super::super::inspection::Doubted::Yes { ", provisional" } else { "" };
    let ahead = ahead.map(|words| format!(", {words}")).unwrap_or_default();
    let unit = one.measured.unit.behind();
    Some((grave, format!("{value}{unit}{at}{against}{provisional}{ahead}")))
}

/// What the forecast adds: `at next 0.251, limit 0.22`; the limit once only where it was `named` already.
fn ahead(one: &CharacteristicStanding, named: Option<&Exact>) -> Option<String> {
    let Some(Outlook::Told { told, limit, on_flat, leads_to, .. }) = &one.outlook else { return None };
    if *leads_to == Consequence::Nothing {
        return None;
    }
    let only_bound = *leads_to == Consequence::Watch && one.leads_to_now() <= Consequence::Watch;
    let large = *limit >= Exact::from(rust_decimal::Decimal::TEN);
    let places = if large { 1 } else { 3 };
    let against = if named == Some(limit) { String::new() } else { format!(", limit {}", beside(limit, None, 3)) };
    Some(match (*on_flat, only_bound) {
        (Trend::Hours, _) => {
            format!("at next {} h, ends at {} h", beside(&told.next, Some(limit), 0), beside(limit, None, 0))
        }
        (Trend::Value | Trend::Flat, true) => {
            format!("at next perhaps {}{against}", beside(&told.bound, Some(limit), places))
        }
        (Trend::Value, false) => format!("at next {}{against}", beside(&told.next, Some(limit), places)),
        (Trend::Flat, false) => format!("flat at next {}{against}", beside(&told.next, Some(limit), places)),
    })
}

/// What a concession is about.
fn conceded_in(act: &Act) -> Option<(&str, &str)> {
    if let Act::Concession { part, about, .. } = act { Some((part, about)) } else { None }
}

/// What stands behind a decision that nobody was entitled to, and behind one that was made anew.
const NOT: &str = ", does not count";
const NO_MORE: &str = ", counts no more";

/// What is to be known of a decision beside its words.
fn stands((inspection, claims): (&Inspection, &BTreeSet<u32>), part: &PartStanding, entry: &Entry) -> &'static str {
    let number = entry.number;
    if part.not_overruled.contains(&number) {
        return NOT;
    }
    let mut later = inspection.standing_entries().filter(|later| later.number > number);
    let conceded = conceded_in(entry.deed()).filter(|of| later.any(|later| conceded_in(later.deed()) == Some(*of)));
    if matches!(entry.deed(), Act::Overrule { .. }) && part.overruled != Some(number) || conceded.is_some() {
        return NO_MORE;
    }
    if claims.contains(&number) { ", claimed" } else { "" }
}

/// Findings and decisions about the part.
fn of_entry(inspection: &Inspection, part: &PartStanding, act: &Act) -> Option<(Consequence, String)> {
    if let Act::Finding(finding) = act {
        let leads_to = inspection.consequence_of(finding);
        let grave = finding.part == part.id && leads_to > Consequence::Nothing;
        return grave.then(|| (leads_to, short_finding(finding)));
    }
    if act.part() != Some(&part.id) {
        return None;
    }
    if let Act::Overrule { to, supervisor, .. } = act {
        return Some((Consequence::Call, format!("overruled to {} by {}", to.word(), name_of(inspection, supervisor))));
    }
    if let Act::Concession { who, about, .. } = act {
        let about = about_in_words(inspection, about);
        return Some((Consequence::Call, format!("concession of {who} on {about}")));
    }
    if let Act::Condemned { reason, .. } = act {
        return Some((Consequence::Replace, format!("condemned: {reason}")));
    }
    None
}

/// `dent, smooth, number 7, 22 mm from the tip`: what it is and where; its sizes stand on the part's page.
fn short_finding(finding: &FindingMade) -> String {
    let number = finding.details.get("number").map(|number| format!(", number {number}")).unwrap_or_default();
    let place = finding.details.get("place").map(|place| format!(", {place}")).unwrap_or_default();
    format!("{}, {}{number}{place}", finding.kind, finding.grade)
}
