//! What was signed beside what today's rules make of the same entries. The signed standing counts.

use super::super::apply::before;
use super::super::checklist::Signing;
use super::super::entry::{Act, SignedVerdict};
use super::super::inspection::Inspection;
use super::super::signing;
use super::super::standing::{PartStanding, Standing, hold_words};
use super::super::verdict::Disposition;

/// A part whose verdict was signed otherwise than today's reckoning has it: a rule or the program has changed since.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Difference {
    /// Which signature.
    pub signing: Signing,
    /// Its entry.
    pub entry: u32,
    /// The part's name.
    pub part: String,
    /// As signed; it counts.
    pub signed: String,
    /// As reckoned today from the same entries.
    pub today: String,
}

/// Differences of the last signature of each kind; entries that came after it play no part.
pub fn differences(inspection: &Inspection) -> Vec<Difference> {
    let mut found = Vec::new();
    for what in [Signing::Decisions, Signing::Close] {
        let Some(entry) = signing::last_signature(inspection, what) else { continue };
        let Act::Sign(signature) = &entry.act else { continue };
        let today = Standing::of(&before(inspection, entry.number));
        let mut differs = |part: &str, signed: String, today: String| {
            if signed != today {
                found.push(Difference { signing: what, entry: entry.number, part: part.to_owned(), signed, today });
            }
        };
        for part in &today.parts {
            let signed = signature.standing.iter().find(|one| one.part == part.id);
            differs(&part.name, signed.map_or_else(|| "nothing".to_owned(), signed_words), today_words(part));
        }
        for signed in signature.standing.iter().filter(|one| today.part(&one.part).is_none()) {
            differs(&signed.part, signed_words(signed), "no such part".to_owned());
        }
    }
    found
}

fn signed_words(signed: &SignedVerdict) -> String {
    words(signed.disposition, signed.holds.clone())
}

fn today_words(part: &PartStanding) -> String {
    words(part.verdict.disposition, part.verdict.holds.iter().map(hold_words).collect())
}

fn words(disposition: Disposition, mut holds: Vec<String>) -> String {
    holds.sort();
    holds.insert(0, disposition.word().to_owned());
    holds.join("; ")
}
