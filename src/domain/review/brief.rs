//! What made a part so, in few words: a line of the first page has room for some forty characters.

use super::super::carried::about_in_words;
use super::super::entry::Act;
use super::super::inspection::Inspection;
use super::super::judge::{Condition, Reach};
use super::super::outlook::{Outlook, Trend};
use super::super::standing::{CharacteristicStanding, Outcome, PartStanding, Standing};
use super::super::telling::{self, beside, name_of};
use super::super::unit::Unit;
use super::super::verdict::Consequence;

/// Everything that made the part so, gravest first.
pub(super) fn made_so(inspection: &Inspection, standing: &Standing, part: &PartStanding) -> Vec<String> {
    let mine: Vec<_> = standing.characteristics.iter().filter(|one| one.characteristic.part() == part.id).collect();
    let alone = mine.iter().filter(|one| one.condition == Condition::AsFound).count() < 2;
    let mut reasons: Vec<(Consequence, String)> = Vec::new();
    for one in &mine {
        let name = if alone { String::new() } else { format!("{} ", one.characteristic.name()) };
        reasons.extend(of_characteristic(one).map(|(grave, words)| (grave, format!("{name}{words}"))));
    }
    for entry in inspection.standing_entries() {
        reasons.extend(of_entry(inspection, part, entry.deed()));
    }
    // the sort is stable: what is equally grave stays in the order of the work
    reasons.sort_by_key(|(grave, _)| std::cmp::Reverse(*grave));
    let mut said: Vec<String> = reasons.into_iter().map(|(_, words)| words).collect();
    if said.is_empty() {
        said.extend(part.verdict.holds.iter().map(super::super::standing::hold_words));
    }
    said
}

fn of_characteristic(one: &CharacteristicStanding) -> Option<(Consequence, String)> {
    if one.condition == Condition::AsLeft {
        let judgement = one.judgement().filter(|judgement| judgement.reached.reach > Reach::Within)?;
        let value = beside(&judgement.value.value, judgement.reached.bound.as_ref(), 4);
        return Some((Consequence::Rework, format!("as left {value}, not as new")));
    }
    match &one.outcome {
        Outcome::NotTaken | Outcome::Incomplete(None) => Some((Consequence::Nothing, "not taken".to_owned())),
        Outcome::LeftOut(why) | Outcome::Open(why) => Some((Consequence::Nothing, why.clone())),
        Outcome::Unjudged { .. } => Some((Consequence::Nothing, "accepted unjudged".to_owned())),
        Outcome::Excused => None,
        Outcome::Judged(_) | Outcome::Incomplete(Some(_)) => judged(one),
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
    let bound = reached.bound.as_ref().map(|bound| beside(bound, None, if hours { 0 } else { 4 }));
    let now = match (reached.reach, bound) {
        (Reach::Within, _) | (_, None) => value,
        (Reach::Alert, Some(bound)) => format!("{value}, alert {bound}"),
        (Reach::Undecided, Some(bound)) => format!("{value}, too close to {bound}"),
        (Reach::NotNew | Reach::Limit, Some(bound)) => format!("{value}, limit {bound}"),
    };
    let at = if one.measured.values.len() > 1 { format!(" ({})", judgement.value.spot) } else { String::new() };
    let ahead = match &one.outlook {
        Some(Outlook::Told { told, limit, on_flat, leads_to, .. }) if *leads_to > Consequence::Nothing => {
            let only_bound = *leads_to == Consequence::Watch && one.leads_to_now() <= Consequence::Watch;
            let next = beside(&told.next, Some(limit), if hours { 0 } else { 3 });
            let bound = beside(&told.bound, Some(limit), if hours { 0 } else { 3 });
            let limit = beside(limit, None, if hours { 0 } else { 3 });
            let flat = if *on_flat == Trend::Flat { "flat " } else { "" };
            match (*on_flat, only_bound) {
                (Trend::Hours, _) => format!("; {next} h at next, ends {limit} h"),
                (Trend::Value | Trend::Flat, true) => format!("; {flat}early bound {bound} at next, limit {limit}"),
                (Trend::Value | Trend::Flat, false) => format!("; {flat}{next} at next, limit {limit}"),
            }
        }
        Some(Outlook::Told { .. } | Outlook::None(_)) | None => String::new(),
    };
    let provisional =
        if judgement.provisional == super::super::inspection::Doubted::Yes { ", provisional" } else { "" };
    Some((grave, format!("{now}{at}{provisional}{ahead}")))
}

/// Findings and decisions about the part.
fn of_entry(inspection: &Inspection, part: &PartStanding, act: &Act) -> Option<(Consequence, String)> {
    if let Act::Finding(finding) = act {
        let kind = inspection.head().checklist.part(&finding.part).and_then(|part| part.finding(&finding.kind))?;
        let grade = kind.grades.iter().find(|grade| grade.grade == finding.grade)?;
        let grave = finding.part == part.id && grade.leads_to > Consequence::Nothing;
        return grave.then(|| (grade.leads_to, telling::of_finding(finding)));
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
