//! What was signed beside what today's rules make of the same entries: the signed standing counts. Where they are the same
//! entries no more, for somebody changed them outside, the graver of the two counts.

use super::super::apply::before;
use super::super::checklist::Signing;
use super::super::entry::{Act, Entry, SignedVerdict};
use super::super::inspection::Inspection;
use super::super::signing::{self, Signed};
use super::super::standing::{PartStanding, Standing, hold_words};
use super::super::telling::{counted, name_of};
use super::super::verdict::{Disposition, Hold, Verdict};

/// Why a verdict stands otherwise than it was signed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Cause {
    /// A rule or the program has changed since.
    Rules,
    /// Entries from this one on, the signature's own at the latest, were changed outside since.
    Outside {
        /// The first of them.
        from: u32,
        /// The entry that says so; none where so far only the file shows it.
        seen: Option<u32>,
        /// What of it is not as it was when it was signed.
        what: Changed,
    },
}

/// What was changed outside after a signature was given.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Changed {
    /// Entries under it: its own words are what was signed.
    Entries,
    /// Its own entry and none before it: what was signed is what those before it come to.
    Signature,
    /// Both: neither is what was signed.
    Both,
}

/// A part whose verdict was signed otherwise than the record has it now.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Difference {
    /// Which signature.
    pub signing: Signing,
    /// Its entry.
    pub entry: u32,
    /// The part's name.
    pub part: String,
    /// As signed.
    pub signed: String,
    /// As it stands now: by today's rules, or since the bytes were changed.
    pub today: String,
    /// Why the two differ.
    pub cause: Cause,
}

fn cause(inspection: &Inspection, sign: u32) -> Cause {
    let Some((from, seen)) = signing::shaken_from(inspection, sign) else { return Cause::Rules };
    let what = if from == sign {
        Changed::Signature
    } else if inspection.ledger().changed.contains(&sign) {
        Changed::Both
    } else {
        Changed::Entries
    };
    Cause::Outside { from, seen, what }
}

impl Cause {
    fn changed(self) -> Option<Changed> {
        match self {
            Self::Rules => None,
            Self::Outside { what, .. } => Some(what),
        }
    }
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
        let cause = cause(inspection, entry.number);
        let mut differs = |part: &str, stated: String, reckoned: String| {
            let own = cause.changed() == Some(Changed::Signature);
            let (signed, today) = if own { (reckoned, stated) } else { (stated, reckoned) };
            found.push(Difference { signing: what, entry: entry.number, part: part.to_owned(), signed, today, cause });
        };
        for part in &today.parts {
            let signed = signature.standing.iter().find(|one| one.part == part.id);
            if signed.is_none_or(|signed| !is_same(signed, part)) {
                differs(&part.name, signed.map_or_else(|| "nothing".to_owned(), signed_words), today_words(part));
            }
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
    let last = signing::standing_signatures(inspection).max_by_key(|sign| sign.number);
    let Some(sign) = last else { return Vec::new() };
    let Act::Sign(signature) = &sign.act else { return Vec::new() };
    if signing::grown_since(inspection, sign) == Signed::Whole {
        return Vec::new();
    }
    let Some(then) = standing_before(inspection, sign.number) else { return Vec::new() };
    let cause = cause(inspection, sign.number);
    // what the entries under it come to is not what was signed once they were changed
    let shaken = matches!(cause.changed(), Some(Changed::Entries | Changed::Both));
    // what stands as it was signed, no entry since has changed
    let changed = standing.parts.iter().filter(|part| part.signed.is_none()).filter_map(|part| {
        let was = then.part(&part.id)?;
        // what the rebuild itself brings is the work that was signed
        let by_work = |hold: &&Hold| matches!(hold, Hold::NewPart | Hold::Balance);
        let fresh = part.verdict.holds.iter().filter(|hold| !was.verdict.holds.contains(*hold) && !by_work(hold));
        let fresh: Vec<_> = fresh.map(hold_words).collect();
        let answered = |hold: &&Hold| matches!(hold, Hold::Referred(_) | Hold::StopAndCall(_));
        let gone = was.verdict.holds.iter().filter(|hold| answered(hold) && !part.verdict.holds.contains(*hold));
        let gone: Vec<_> = gone.map(hold_words).collect();
        let differs = was.verdict.disposition != part.verdict.disposition || !fresh.is_empty() || !gone.is_empty();
        let stated = signature.standing.iter().find(|one| shaken && one.part == part.id);
        differs.then(|| Difference {
            signing: signature.what,
            entry: sign.number,
            part: part.short.clone(),
            signed: stated.map_or_else(|| words(was.decided(), gone), signed_words),
            today: words(part.decided(), fresh),
            cause,
        })
    });
    changed.collect()
}

/// The standing that pages and papers show. Where today's rules have a part otherwise than it was signed, and nothing that
/// was entered since has changed it, the signed verdict counts; today's stands beside it as computed. Where the record was
/// changed outside after it was signed, the graver of the two counts: nothing good rests on either.
pub fn that_counts(inspection: &Inspection) -> Standing {
    let mut standing = Standing::of(inspection);
    let last = signing::standing_signatures(inspection).max_by_key(|sign| sign.number);
    let Some(sign) = last else { return standing };
    let Act::Sign(signature) = &sign.act else { return standing };
    let Some(then) = standing_before(inspection, sign.number) else { return standing };
    for part in &mut standing.parts {
        let (Some(was), Some(signed)) =
            (then.part(&part.id), signature.standing.iter().find(|signed| signed.part == part.id))
        else {
            continue;
        };
        let renewed = inspection.replaced_at(&part.id).is_some_and(|at| at > sign.number);
        if renewed || was.verdict != part.verdict || is_same(signed, was) {
            continue;
        }
        let (cause, sides) = (cause(inspection, sign.number), (signed.disposition, part.decided()));
        part.verdict = match cause {
            Cause::Rules => Verdict { disposition: signed.decided(), holds: held(signed).collect() },
            Cause::Outside { .. } => graver(&part.verdict, signed),
        };
        let words = why_signed(inspection, sign, sides, cause);
        part.reasons.insert(0, words.clone());
        part.signed = Some(words);
    }
    standing
}

/// Why a part stands as it does beside what was signed; the disposition once where both sides have the same.
fn why_signed(
    inspection: &Inspection,
    sign: &Entry,
    sides: (Option<Disposition>, Option<Disposition>),
    cause: Cause,
) -> String {
    let word = |side: Option<Disposition>| side.map_or(NOT_DECIDED, Disposition::word);
    let (number, same, stated, reckoned) = (sign.number, sides.0 == sides.1, word(sides.0), word(sides.1));
    match (cause, same) {
        (Cause::Rules, _) => {
            let who = name_of(inspection, &sign.by);
            let rules = if same {
                "today's rules hold it otherwise".to_owned()
            } else {
                format!("by today's rules {reckoned}")
            };
            format!("{stated} is what {who} signed, entry {number}; {rules}")
        }
        (Cause::Outside { from, .. }, true) => {
            format!("{stated}, what holds it changed outside from entry {from} on; the holds of both count")
        }
        (Cause::Outside { what: Changed::Signature, .. }, false) => {
            format!("signed as {reckoned}; entry {number} itself was changed outside since, to {stated}; {GRAVER}")
        }
        (Cause::Outside { what: Changed::Both, .. }, false) => format!(
            "entry {number} says {stated}, the entries under it {reckoned}, both changed outside since; {GRAVER}"
        ),
        (Cause::Outside { from, what: Changed::Entries, .. }, false) => {
            format!("signed as {stated}; changed outside since, from entry {from} on, to {reckoned}; {GRAVER}")
        }
    }
}

/// What a signature holds the part by; words that name no hold, as an editor may leave them, hold it too.
fn held(signed: &SignedVerdict) -> impl Iterator<Item = Hold> {
    signed.holds.iter().map(|words| Hold::parse(words).unwrap_or_else(|| Hold::Open(words.clone())))
}

/// What counts of a part in a record that was changed outside after it was signed: the graver of what the signature says
/// and of what the entries come to, with the holds of both.
pub fn graver(reckoned: &Verdict, signed: &SignedVerdict) -> Verdict {
    Verdict {
        disposition: reckoned.disposition.max(signed.decided()),
        holds: reckoned.holds.iter().cloned().chain(held(signed)).collect(),
    }
}

/// How many parts a line of the first page names.
const SAID: usize = 2;

/// What a signature says of a part that nobody judged, and that nothing is to be done with.
const NOT_DECIDED: &str = "not judged";

/// What counts of a verdict that was changed outside after it was signed.
const GRAVER: &str = "the graver counts";

impl Difference {
    /// What has become of it, behind the part's name.
    pub fn heading(&self) -> &'static str {
        match self.cause {
            Cause::Rules => "signed otherwise than today's rules have it",
            Cause::Outside { .. } => "changed outside after it was signed",
        }
    }

    /// Both sides with their entries, then which of them counts.
    pub fn sides(&self) -> Vec<String> {
        let (entry, what, signed, today) = (self.entry, self.signing.word(), &self.signed, &self.today);
        match self.cause {
            Cause::Rules => vec![
                format!("as signed, {what} in entry {entry}, and that counts: {signed}"),
                format!("as today's rules have the same entries: {today}"),
            ],
            Cause::Outside { seen, what: Changed::Signature, .. } => vec![
                format!("as signed, {what}, by the entries under the signature, which stand as they were: {signed}"),
                format!(
                    "as the signature says since its own entry {entry} was changed outside, {}: {today}",
                    said_by(seen)
                ),
                GRAVER.to_owned(),
            ],
            Cause::Outside { from, seen, what: Changed::Both } => vec![
                format!("as entry {entry} says, {what}, which was changed outside itself: {signed}"),
                format!(
                    "as the entries under it have it, changed outside from entry {from} on, {}: {today}",
                    said_by(seen)
                ),
                format!("neither is what was signed; {GRAVER}"),
            ],
            Cause::Outside { from, seen, what: Changed::Entries } => vec![
                format!("as signed, {what} in entry {entry}: {signed}"),
                format!(
                    "as the record has it since it was changed outside from entry {from} on, {}: {today}",
                    said_by(seen)
                ),
                GRAVER.to_owned(),
            ],
        }
    }

    /// A line for all of one signature, of the first page: what was done, then which parts it has moved.
    pub(super) fn in_short(all: &[Self]) -> Vec<String> {
        let mut lines = Vec::new();
        for (number, first) in all.iter().enumerate() {
            if all.iter().take(number).any(|one| one.entry == first.entry) {
                continue;
            }
            let mine: Vec<_> = all.iter().filter(|one| one.entry == first.entry).collect();
            let entry = first.entry;
            let done = match first.cause {
                Cause::Rules => {
                    lines.push(format!("{} {}", counted(mine.len(), "verdict"), first.heading()));
                    continue;
                }
                Cause::Outside { what: Changed::Signature, .. } => {
                    format!("entry {entry}, the signature itself, was changed outside after it was signed")
                }
                Cause::Outside { from, what: Changed::Both, .. } => {
                    format!("changed outside from entry {from} on, and entry {entry} that signed it too")
                }
                Cause::Outside { from, what: Changed::Entries, .. } => {
                    format!("changed outside from entry {from} on, after entry {entry} signed it")
                }
            };
            lines.push(format!("{done}: {}", first_of(&mine)));
        }
        lines
    }

    /// The same of what entries after the last signature have changed.
    pub(super) fn of_since(all: &[Self]) -> Option<String> {
        let first = all.first()?;
        let mut sorted: Vec<_> = all.iter().collect();
        sorted.sort_by_key(|one| one.weight());
        let parts = first_of(&sorted);
        Some(format!("not as entry {} signed it, entries came after: {parts}", first.entry))
    }

    /// What has become milder than it was signed comes first, then what has become another.
    fn weight(&self) -> u8 {
        let of = |words: &str| Disposition::parse(words.split([';', ',', ' ']).next().unwrap_or_default());
        match (of(&self.signed), of(&self.today)) {
            (Some(was), Some(is)) if is < was => 0,
            (was, is) if was != is => 1,
            (_, _) => 2,
        }
    }

    /// Both sides of what entries after a signature have changed.
    pub(super) fn after(&self) -> Vec<String> {
        let (entry, what) = (self.entry, self.signing.word());
        vec![
            format!("as signed, {what} in entry {entry}: {}", self.signed),
            format!("with what came after it: {}", self.today),
        ]
    }

    /// As it was signed; none where nothing that stands there now is that.
    pub fn as_signed(&self) -> Option<&str> {
        (self.cause.changed() != Some(Changed::Both)).then_some(self.signed.as_str())
    }

    /// What the words of the signature say now.
    pub fn as_said(&self) -> &str {
        if self.cause.changed() == Some(Changed::Signature) { &self.today } else { &self.signed }
    }

    /// `nozzle ring: signed as watch, now replace`.
    pub fn since_words(&self) -> String {
        let Self { part, signed, today, .. } = self;
        if self.cause.changed() == Some(Changed::Both) {
            return format!("{part}: entry {} says {signed}, the entries under it {today}", self.entry);
        }
        let (was, then) = signed.split_once("; ").unwrap_or((signed, ""));
        let (is, now) = today.split_once("; ").unwrap_or((today, ""));
        match (was == is, then, now) {
            (false, ..) => format!("{part}: signed as {signed}, now {today}"),
            (true, "", now) => format!("{part}: {is} as signed, now with {now}"),
            (true, then, "") => format!("{part}: {is} as signed, now without {then}"),
            (true, then, now) => format!("{part}: {is} as signed, with {then} then, with {now} now"),
        }
    }
}

/// The first few, and how many more there are.
fn first_of(all: &[&Difference]) -> String {
    let parts: Vec<_> = all.iter().take(SAID).map(|one| one.since_words()).collect();
    let more = all.len().checked_sub(SAID).filter(|more| *more > 0).map(|more| format!("; and {more} more"));
    format!("{}{}", parts.join("; "), more.unwrap_or_default())
}

/// Which entry says that a record was changed outside.
fn said_by(seen: Option<u32>) -> String {
    seen.map_or_else(|| "as the file shows".to_owned(), |entry| format!("entry {entry}"))
}

fn signed_words(signed: &SignedVerdict) -> String {
    words(signed.disposition, signed.holds.clone())
}

fn today_words(part: &PartStanding) -> String {
    words(part.decided(), holds_of(part))
}

/// What was decided, then what holds it; of a part that nobody judged nothing was.
fn words(decided: Option<Disposition>, mut holds: Vec<String>) -> String {
    holds.sort();
    holds.insert(0, decided.map_or(NOT_DECIDED, Disposition::word).to_owned());
    holds.join("; ")
}

/// Whether both come to the same. A part that nobody judged is left as it is, whatever an older signature calls that.
fn is_same(signed: &SignedVerdict, part: &PartStanding) -> bool {
    let decided = Some(signed.decided());
    words(decided, signed.holds.clone()) == words(Some(part.verdict.disposition), holds_of(part))
}

fn holds_of(part: &PartStanding) -> Vec<String> {
    part.verdict.holds.iter().map(hold_words).collect()
}
