//! Concessions of earlier openings whose conditions come up at the next inspection of the part.

use super::characteristic::Characteristic;
use super::entry::Act;
use super::inspection::Inspection;
use super::judge::Condition;
use super::standing::claims;

/// A concession given at an earlier opening.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Carried {
    /// The inspection at which it was entered.
    pub inspection: String,
    /// The part.
    pub part: String,
    /// What it is about, in words.
    pub about: String,
    /// Who gave it.
    pub who: String,
    /// The document.
    pub document: String,
    /// Under which conditions.
    pub conditions: String,
    /// Until when, in words.
    pub until: String,
}

/// What the next inspection of the rotor is to be told: its own concessions, and earlier ones on parts that it did
/// not look at. A part that was replaced takes its concessions with it.
pub fn carried_on(inspection: &Inspection) -> Vec<Carried> {
    let looked_at = |part: &str| inspection.head().checklist.part(part).is_some();
    let earlier = inspection.head().carried.iter().filter(|one| !looked_at(&one.part)).cloned();
    let claims = claims(inspection);
    let own = inspection.standing_entries().filter_map(|entry| {
        let Act::Concession { part, about, who, document, conditions, until, .. } = entry.deed() else { return None };
        Some(Carried {
            inspection: inspection.head().id.clone(),
            part: part.clone(),
            about: about_in_words(inspection, about),
            // whoever reads it next time is told that nobody has signed for it
            who: if claims.iter().any(|claim| claim.number == entry.number) {
                format!("{who}, only claimed")
            } else {
                who.clone()
            },
            document: document.clone(),
            conditions: conditions.clone(),
            until: until.clone(),
        })
    });
    earlier.chain(own).filter(|one| !inspection.is_replaced(&one.part)).collect()
}

/// The name of a characteristic, or the finding behind an entry's number.
pub fn about_in_words(inspection: &Inspection, about: &str) -> String {
    for condition in [Condition::AsFound, Condition::AsLeft] {
        if let Some(one) = about.strip_suffix(condition.behind()).and_then(Characteristic::parse) {
            return format!("{}{}", one.name(), condition.behind());
        }
    }
    let entry = about.parse().ok().and_then(|number| inspection.entry(number));
    match entry.map(|entry| &entry.act) {
        Some(Act::Finding(finding)) => format!("{}, {}", finding.kind, finding.grade),
        Some(_) | None => about.to_owned(),
    }
}
