//! What was signed beside what today's rules make of the same entries. The signed standing counts.

use super::super::apply::before;
use super::super::checklist::Signing;
use super::super::entry::{Act, SignedVerdict};
use super::super::inspection::Inspection;
use super::super::signing::{self, Signed};
use super::super::standing::{PartStanding, Standing, hold_words};
use super::super::verdict::{Disposition, Hold};

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

/// How it stood, by today's rules, before an entry.
fn standing_before(inspection: &Inspection, number: u32) -> Option<Standing> {
    let reckon = || vec![Standing::of(&before(inspection, number))];
    inspection.standings_before().of(&number.to_string(), reckon).pop()
}

/// Differences of the last signature of each kind; entries that came after it play no part.
pub fn differences(inspection: &Inspection) -> Vec<Difference> {
    let mut found = Vec::new();
    for what in [Signing::Decisions, Signing::Close] {
        let Some(entry) = signing::last_signature(inspection, what) else { continue };
        let Act::Sign(signature) = &entry.act else { continue };
        let Some(today) = standing_before(inspection, entry.number) else { continue };
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

/// Parts that entries after the last standing signature have changed: another disposition, a hold that was not signed, a
/// referral or a call that was signed and is answered since.
/// Both sides are reckoned by today's rules, so that a changed rule plays no part here.
pub fn since(inspection: &Inspection, standing: &Standing) -> Vec<Difference> {
    let signs = [Signing::Decisions, Signing::Close].map(|what| signing::standing_signature(inspection, what));
    let Some(sign) = signs.into_iter().flatten().max_by_key(|sign| sign.number) else { return Vec::new() };
    let Act::Sign(signature) = &sign.act else { return Vec::new() };
    if signing::grown_since(inspection, sign) == Signed::Whole {
        return Vec::new();
    }
    let Some(then) = standing_before(inspection, sign.number) else { return Vec::new() };
    let changed = standing.parts.iter().filter_map(|part| {
        let was = &then.part(&part.id)?.verdict;
        // what the rebuild itself brings is the work that was signed
        let by_work = |hold: &&Hold| matches!(hold, Hold::NewPart | Hold::Balance);
        let fresh = part.verdict.holds.iter().filter(|hold| !was.holds.contains(*hold) && !by_work(hold));
        let fresh: Vec<_> = fresh.map(hold_words).collect();
        let answered = |hold: &&Hold| matches!(hold, Hold::Referred(_) | Hold::StopAndCall(_));
        let gone = was.holds.iter().filter(|hold| answered(hold) && !part.verdict.holds.contains(*hold));
        let gone: Vec<_> = gone.map(hold_words).collect();
        let differs = was.disposition != part.verdict.disposition || !fresh.is_empty() || !gone.is_empty();
        differs.then(|| Difference {
            signing: signature.what,
            entry: sign.number,
            part: part.short.clone(),
            signed: words(was.disposition, gone),
            today: words(part.verdict.disposition, fresh),
        })
    });
    changed.collect()
}

/// The standing that pages and papers show. Where today's rules have a part otherwise than it was signed, and nothing that
/// was entered since has changed it, the signed verdict counts; today's stands beside it as computed.
pub fn that_counts(inspection: &Inspection) -> Standing {
    let mut standing = Standing::of(inspection);
    let signs = [Signing::Decisions, Signing::Close].map(|what| signing::standing_signature(inspection, what));
    let Some(sign) = signs.into_iter().flatten().max_by_key(|sign| sign.number) else { return standing };
    let Act::Sign(signature) = &sign.act else { return standing };
    let Some(then) = standing_before(inspection, sign.number) else { return standing };
    for part in &mut standing.parts {
        let (Some(was), Some(signed)) =
            (then.part(&part.id), signature.standing.iter().find(|signed| signed.part == part.id))
        else {
            continue;
        };
        let renewed = inspection.replaced_at(&part.id).is_some_and(|at| at > sign.number);
        if renewed || was.verdict != part.verdict || signed_words(signed) == today_words(was) {
            continue;
        }
        let (number, today) = (sign.number, part.verdict.disposition.word());
        let by =
            if signing::shaken(inspection, number).is_some() { "as changed outside since" } else { "by today's rules" };
        let words = format!("as signed, entry {number}; {by} {today}");
        part.reasons.insert(0, words.clone());
        part.signed = Some(words);
        part.verdict.disposition = signed.decided();
        part.verdict.holds = signed.holds.iter().filter_map(|words| Hold::parse(words)).collect();
    }
    standing
}

impl Difference {
    /// `nozzle ring: signed as watch, now replace`.
    pub fn since_words(&self) -> String {
        format!("{}: signed as {}, now {}", self.part, self.signed, self.today)
    }
}

fn signed_words(signed: &SignedVerdict) -> String {
    words(signed.decided(), signed.holds.clone())
}

fn today_words(part: &PartStanding) -> String {
    words(part.verdict.disposition, part.verdict.holds.iter().map(hold_words).collect())
}

fn words(disposition: Disposition, mut holds: Vec<String>) -> String {
    holds.sort();
    holds.insert(0, disposition.word().to_owned());
    holds.join("; ")
}
