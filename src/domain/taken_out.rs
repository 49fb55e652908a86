//! Pieces that were taken out of the rotor at earlier openings: one that goes in again as new is asked about, and a life that
//! is counted does not begin again.

use super::entry::{Act, Replaces};
use super::figure::Figure;
use super::hours;
use super::inspection::Inspection;
use super::rotor::{Fitted, is_same_number};
use super::unit::Unit;

/// A piece that was in, by the number on it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TakenOut {
    /// The inspection at which it came out.
    pub inspection: String,
    /// The part it was.
    pub part: String,
    /// Its number.
    pub serial: String,
    /// The hours that it had then, where they are known.
    pub hours: Option<Figure>,
}

impl TakenOut {
    /// Whether this number on such a part is its own.
    pub fn is(&self, part: &str, number: &str) -> bool {
        self.part == part && is_same_number(&self.serial, number)
    }
}

/// What lies in the scrap after one more inspection: what was known before, and what came out there.
pub fn taken_out_after(before: Vec<TakenOut>, inspection: &Inspection) -> Vec<TakenOut> {
    let known = inspection.head().taken_out.iter().cloned();
    let mut all: Vec<TakenOut> = Vec::new();
    for one in before.into_iter().chain(known).chain(own(inspection)) {
        // the last time counts: it has run on since the first
        all.retain(|other| !other.is(&one.part, &one.serial));
        all.push(one);
    }
    all
}

/// Whatever had its place before the piece that is in now; one that was found with another number had left unseen.
fn own(inspection: &Inspection) -> Vec<TakenOut> {
    let out = |part: &str, fitted: &Fitted, hours: Option<Figure>| {
        let serial = fitted.serial.clone().filter(|_| fitted.is_numbered())?;
        Some(TakenOut { inspection: inspection.head().id.clone(), part: part.to_owned(), serial, hours })
    };
    let parts = inspection.head().checklist.parts.iter().map(|part| part.id.as_str());
    let gone = parts.clone().filter(|part| inspection.is_another(part)).filter_map(|part| {
        let fitted = inspection.head().parts.get(part)?;
        out(part, fitted, None)
    });
    let found = parts.filter(|part| inspection.is_replaced(part)).filter_map(|part| {
        let run = hours::of_part(inspection, part).and_then(|run| run.decimal());
        out(part, inspection.found_fitted(part)?, run.map(|run| Figure::new(run, Unit::Hour)))
    });
    let tried = inspection.standing_entries().filter_map(|entry| {
        let Act::PartFitted { part, fitted, replaces: Replaces::Yes } = &entry.act else { return None };
        let is_in = inspection.replaced_at(part) == Some(entry.number);
        if is_in { None } else { out(part, fitted, Some(fitted.hours)) }
    });
    gone.chain(found).chain(tried).collect()
}
