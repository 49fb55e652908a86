//! The first page: answers before figures.

use super::super::beside;
use super::super::checklist::Signing;
use super::super::decide::refers;
use super::super::entry::{Act, Entry};
use super::super::gate::step_name;
use super::super::inspection::Inspection;
use super::super::signing::{self, Signed};
use super::super::stamp::long_day;
use super::super::standing::{PartStanding, Standing, hold_words};
use super::super::telling::{counted, name_of, of_finding};
use super::super::verdict::{Hold, Verdict};
use super::super::watch::Watch;
use super::{Difference, Kept, Page, PartLine, Said, Tenor, brief, job_held, key_words};

/// Parts that are not within, gravest first; as many holds before fewer.
pub(super) fn lines(inspection: &Inspection, standing: &Standing, pages: &[Page]) -> Vec<PartLine> {
    let mut parts: Vec<_> = standing.parts.iter().filter(|part| is_told(part)).collect();
    // what somebody has made milder stays where the rules would have it
    let grave = |part: &PartStanding| part.verdict.disposition.max(part.computed.disposition);
    parts.sort_by_key(|part| std::cmp::Reverse((grave(part), part.verdict.holds.len())));
    let claims = brief::claims_of(inspection);
    let remarks = signing::open_remarks(inspection);
    let at = |step: &Option<String>| inspection.head().checklist.step(step.as_ref()?);
    let sent_back: Vec<_> = remarks.iter().filter_map(|(_, _, remark)| at(&remark.step)).collect();
    let line = |part: &PartStanding| {
        let (reasons, foremost) = brief::made_so((inspection, &claims), standing, part);
        PartLine {
            part: part.id.clone(),
            short: part.short.clone(),
            disposition: part.verdict.disposition,
            headline: part.in_short(),
            holds: short_holds(part),
            step: brief::step_of(inspection, part, &reasons),
            foremost,
            sent_back: sent_back.iter().filter(|step| step.part == part.id).count(),
            made_so: reasons.into_iter().map(|(words, _)| words).collect(),
            page: pages.iter().position(|page| page.part.as_ref() == Some(&part.id)).unwrap_or(0),
        }
    };
    parts.into_iter().map(line).collect()
}

/// Whether there is something to say of a part: also where somebody decided otherwise than the rules, or without a figure,
/// which is never passed over, whatever it came to.
fn is_told(part: &PartStanding) -> bool {
    part.verdict != Verdict::default() || part.computed != part.verdict || part.unjudged > 0
}

/// Each kind of hold once, with how many there are of it.
fn short_holds(part: &PartStanding) -> Vec<(char, String)> {
    let all: Vec<_> = part.verdict.holds.iter().map(|hold| (hold.sign(), short_hold(hold))).collect();
    let mut kinds = all.clone();
    kinds.dedup();
    let counted = kinds.into_iter().map(|kind| {
        let number = all.iter().filter(|one| **one == kind).count();
        let times = if number > 1 { format!(" x{number}") } else { String::new() };
        (kind.0, format!("{}{times}", kind.1))
    });
    counted.collect()
}

/// `new part`, `referred`, `open`.
fn short_hold(hold: &Hold) -> String {
    match hold {
        Hold::NewPart => "new part".to_owned(),
        Hold::Balance => "balance".to_owned(),
        Hold::StopAndCall(_) | Hold::Referred(_) | Hold::Open(_) => hold.word().to_owned(),
    }
}

/// Parts that are within.
pub(super) fn within(standing: &Standing) -> Vec<String> {
    let within = standing.parts.iter().filter(|part| part.is_within());
    within.map(|part| format!("{}{}", part.short, part.by_life())).collect()
}

/// Is it closed?
pub(super) fn closed((inspection, kept): (&Inspection, &Kept), standing: &Standing) -> Said {
    let counts = &standing.counts;
    let holds = standing.holds_in_words().len();
    let judged = format!("{} of {} judged, {} provisional", counts.judged, counts.characteristics, counts.provisional);
    let pending = signing::pending_in_words(inspection, &kept.strange);
    let waits = pending.is_some();
    let pending = pending.map(|words| format!(", {words}")).unwrap_or_default();
    let pending = format!("{pending}{}", by_trainees(inspection, kept));
    // a countersignature without a key says so as a signature does
    let key = |countersigned: &Entry| key_words(&kept.keyed, countersigned.number);
    let Some(sign) = signing::standing_signature(inspection, Signing::Close) else {
        let held = match holds {
            0 => "nothing holds it".to_owned(),
            holds => counted(holds, "hold"),
        };
        let decisions = signing::standing_signature(inspection, Signing::Decisions).filter(|_| !waits);
        let by = decisions.and_then(|sign| signing::countersigned(inspection, sign.number));
        let by = by.map(|by| format!("; decisions countersigned, {}", key(by))).unwrap_or_default();
        return Said { tenor: Tenor::Bad, text: format!("No: {held}{pending}{by}. {judged}.") };
    };
    if signing::is_shaken(inspection, sign.number) {
        return Said { tenor: Tenor::Bad, text: format!("Signed, and changed outside since{pending}. {judged}.") };
    }
    let grown = signing::grown_since(inspection, sign) == Signed::Grown;
    let strangely = signing::strangely_countersigned(inspection, sign.number, &kept.strange);
    // what the close carried on by name is known; what came after it is not closed over
    let carried = if let Act::Sign(signature) = &sign.act { signature.carried.as_slice() } else { &[] };
    let new = standing.holds_in_words().into_iter().filter(|hold| !carried.contains(hold)).count();
    let (tenor, state) = match (grown, strangely, signing::countersigned(inspection, sign.number), holds) {
        (true, ..) if new > 0 => {
            (Tenor::Bad, format!("No more: signed, and {} came after it{pending}", counted(new, "hold")))
        }
        (true, ..) => (Tenor::Watch, format!("Signed, and entries came after it{pending}")),
        (false, None, None, _) => (Tenor::Watch, format!("Signed{pending}")),
        (false, Some(by), ..) => {
            let (who, why) = (name_of(inspection, by.doer()), kept.against(by));
            (Tenor::Watch, format!("Signed{pending}: so far by {who}, {why}"))
        }
        (false, None, Some(by), _) if waits => {
            (Tenor::Watch, format!("Yes, countersigned, {}; the decisions are not{pending}", key(by)))
        }
        (false, None, Some(by), 0) => (Tenor::Good, format!("Yes, countersigned, {}{pending}", key(by))),
        (false, None, Some(by), holds) => {
            let (key, holds) = (key(by), counted(holds, "hold"));
            (Tenor::Watch, format!("Yes, countersigned, {key}, {holds} carried on by name{pending}"))
        }
    };
    Said { tenor, text: format!("{state}. {judged}.") }
}

/// `; decisions signed by trainee D (trainee, fitter C watching only claimed)`: of what waits, that stands where it waits.
fn by_trainees(inspection: &Inspection, kept: &Kept) -> String {
    let waiting = signing::pending_here(inspection, &kept.strange);
    let signed = [Signing::Decisions, Signing::Close].map(|what| (what, signing::standing_signature(inspection, what)));
    let told = signed.into_iter().filter_map(|(what, sign)| {
        let sign = sign.filter(|sign| !waiting.contains(sign))?;
        let watch = Watch::over(inspection, &sign.by, sign.number);
        let said = format!("; {} signed by {}{watch}", what.word(), name_of(inspection, &sign.by));
        (watch != Watch::NotNeeded).then_some(said)
    });
    told.collect()
}

/// `the decisions, signed by fitter A on 12 July 2024, 16:20`.
pub fn signature_words(inspection: &Inspection, sign: &Entry, what: Signing) -> String {
    let who = name_of(inspection, &sign.by);
    let watch = Watch::over(inspection, &sign.by, sign.number);
    format!("the {}, signed by {who}{watch} on {}, {}", what.word(), long_day(sign.at.date()), sign.at.clock())
}

/// How many remarks wait for the fitter, and what the first of them say.
fn remarks(inspection: &Inspection) -> Option<String> {
    let open = signing::open_remarks(inspection);
    if open.is_empty() {
        return None;
    }
    let waits = format!("{} {}", counted(open.len(), "remark"), if open.len() == 1 { "waits" } else { "wait" });
    let told = open.iter().take(2).map(|(_, _, remark)| {
        let step = remark.step.as_ref().and_then(|id| inspection.head().checklist.step(id));
        let at = step.map(|step| format!("{}: ", step_name(inspection, step))).unwrap_or_default();
        format!("{at}{}", remark.text)
    });
    let more = open.len().checked_sub(2).filter(|more| *more > 0).map(|more| format!("; and {more} more"));
    Some(format!(
        "{waits} for the fitter's answer: {}{}",
        told.collect::<Vec<_>>().join("; "),
        more.unwrap_or_default()
    ))
}

/// A crack that was struck is nobody's small correction.
fn cracks_taken_back(inspection: &Inspection) -> impl Iterator<Item = String> {
    inspection.entries().iter().filter_map(|entry| {
        let Act::Finding(found) = &entry.act else { return None };
        let (strike, reason) = inspection.strike_of(entry.number)?;
        let part = inspection.head().checklist.part(&found.part)?;
        let by = name_of(inspection, strike.doer());
        let cracked = part.finding(&found.kind).is_some_and(|kind| kind.crack);
        cracked.then(|| format!("look at it again, {}: {} was taken back by {by}: {reason}", part.short, found.kind))
    })
}

/// A gauge that got a longer scale in the job: what it has read beyond the one of its papers nothing vouches for.
fn gauges_changed(inspection: &Inspection) -> impl Iterator<Item = String> {
    inspection.standing_entries().filter_map(|entry| {
        let Act::Gauge(now) = &entry.act else { return None };
        let earlier = inspection.standing_entries().take_while(|earlier| earlier.number < entry.number);
        let entered = earlier.filter_map(|one| if let Act::Gauge(gauge) = &one.act { Some(&**gauge) } else { None });
        let known = inspection.head().instruments.iter().chain(entered);
        let before =
            known.filter(|known| known.id.same_as(&now.id)).last().filter(|before| now.is_longer_than(before))?;
        let (was, is) = (before.range?, now.range?);
        let (id, number) = (&now.id, entry.number);
        Some(format!("look at gauge {id}, changed in entry {number}: {} to {}, was {} to {}", is.0, is.1, was.0, was.1))
    })
}

/// `sooner opening, entry 446, only claimed: 7 parts as before it`; one line, however many parts that holds.
fn before_plan(standing: &Standing) -> Option<String> {
    let mut plans = standing.parts.iter().filter_map(|part| part.before_plan);
    let entry = plans.next()?;
    let parts = counted(plans.count() + 1, "part");
    Some(format!("sooner opening, entry {entry}, only claimed: {parts} as before it"))
}

/// What ends a call: the answer of whoever was called; of a figure, and of a finding that is referred too, a concession alone.
fn ends(inspection: &Inspection, part: &PartStanding, hold: &Hold) -> &'static str {
    let Hold::StopAndCall(what) = hold else { return "answer" };
    let is_meant = |words: &str| what.strip_prefix(words).is_some_and(|rest| rest.is_empty() || rest.starts_with("; "));
    let mut calls = inspection.standing_entries().filter(|entry| match entry.deed().part() {
        Some(of) => of == part.id,
        None => matches!(entry.deed(), Act::Finding(found) if found.part == part.id),
    });
    let answered = calls.any(|entry| {
        let asked = matches!(entry.deed(), Act::Call { question, .. } if is_meant(question));
        let found = matches!(entry.deed(), Act::Finding(found) if is_meant(&of_finding(found)));
        asked || found && !refers(inspection, entry)
    });
    if answered { "answer" } else { "enter a concession" }
}

/// What waits for a decision, the most pressing first.
pub(super) fn decide(
    (inspection, kept): (&Inspection, &Kept),
    standing: &Standing,
    (differences, since): (&[Difference], &[Difference]),
) -> Vec<String> {
    // a crack comes before all that anybody asks
    let mut decide: Vec<_> = cracks_taken_back(inspection).collect();
    for part in &standing.parts {
        let calls = part.verdict.holds.iter().filter(|hold| matches!(hold, Hold::StopAndCall(_)));
        decide.extend(
            calls.map(|hold| format!("{}, {}: {}", ends(inspection, part, hold), part.short, hold_words(hold))),
        );
    }
    let close = signing::standing_signature(inspection, Signing::Close);
    // what a countersigned close has carried on by name is decided
    let settled = close.is_some_and(|sign| signing::countersigned(inspection, sign.number).is_some());
    let worse = beside::worse(inspection).into_iter().filter(|_| !settled);
    decide.extend(worse.map(|words| format!("ask why: {words}")));
    for what in [Signing::Decisions, Signing::Close] {
        let Some(sign) = signing::standing_signature(inspection, what) else { continue };
        let words = format!("{}, {}", signature_words(inspection, sign, what), key_words(&kept.keyed, sign.number));
        if signing::is_shaken(inspection, sign.number) {
            decide.push(format!("send back {words}: what was signed was changed outside since"));
        } else if signing::countersigned(inspection, sign.number).is_none() {
            decide.push(format!("countersign or send back {words}"));
        } else if let Some(by) = signing::strangely_countersigned(inspection, sign.number, &kept.strange) {
            let who = name_of(inspection, by.doer());
            let why = kept.against(by);
            decide.push(format!("countersign or send back {words}: countersigned by {who} alone, {why}"));
        }
        if signing::grown_since(inspection, sign) == Signed::Grown && what == Signing::Close {
            decide.push(signing::SIGN_AGAIN.to_owned());
        }
    }
    decide.extend(Difference::of_since(since));
    decide.extend(remarks(inspection));
    decide.extend(job_held(standing).filter(|_| !settled).map(|held| format!("settle for the job as a whole: {held}")));
    let mut referred: Vec<_> = standing.to_refer().map(|(part, _)| part.short.as_str()).collect();
    referred.dedup();
    if !referred.is_empty() {
        decide.push(format!("answer by concession: {}", referred.join("; ")));
    }
    let counts = &standing.counts;
    if counts.undecided > 0 {
        let undecided = counts.undecided;
        decide.push(format!("{undecided} too close to call: more repeats, a better gauge, else the limit counts"));
    }
    if counts.claimed > 0 {
        decide.push(format!(
            "{} only claimed: that supervisor, for a concession any known when the job began, countersigns what is signed \
             after it; if it came after the signature, the fitter signs again first",
            counts.claimed
        ));
    }
    decide.extend(before_plan(standing));
    decide.extend(gauges_changed(inspection));
    decide.extend(Difference::in_short(differences));
    decide
}
