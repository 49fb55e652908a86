//! A page for each part: its verdict, then its steps in the order of the work, each opening to its entries.

use std::collections::BTreeSet;

use super::super::beside;
use super::super::checklist::{Part, Step, Takes};
use super::super::entry::{Act, Entry};
use super::super::inspection::{Doubted, Inspection};
use super::super::judge::Reach;
use super::super::progress::{self, StepState};
use super::super::soak;
use super::super::standing::{CharacteristicStanding, Outcome, PartStanding, Standing, hold_words};
use super::super::telling;
use super::super::verdict::{Consequence, Disposition, Hold};
use super::remarked::{self, Remarked};
use super::{Item, Page, Photos, brief, evidence};

/// Every part, in the checklist's order.
pub(super) fn pages(inspection: &Inspection, standing: &Standing, photos: &Photos) -> Vec<Page> {
    let claims = brief::claims_of(inspection);
    let remarks = remarked::all(inspection);
    let parts = inspection.head().checklist.parts.iter();
    parts.map(|part| page((inspection, &claims, &remarks), standing, part, photos)).collect()
}

fn page(
    (inspection, claims, remarks): (&Inspection, &BTreeSet<u32>, &[Remarked<'_>]),
    standing: &Standing,
    part: &Part,
    photos: &Photos,
) -> Page {
    let whole = |part: &PartStanding| {
        let (reasons, _) = brief::made_so((inspection, claims), standing, part);
        Item { step: brief::step_of(inspection, part, &reasons), ..verdict(inspection, part) }
    };
    let mut items: Vec<_> = standing.part(&part.id).map(whole).into_iter().collect();
    let about = |text: String, evidence: Vec<String>, sign: char| Item {
        part: Some(part.id.clone()),
        ..Item::plain(sign, text, evidence)
    };
    for carried in inspection.head().carried.iter().filter(|one| one.part == part.id) {
        let text = format!("concession of an earlier opening on {}: {}", carried.about, carried.conditions);
        let detail = format!("{}, {}, until {}; {}", carried.who, carried.document, carried.until, carried.inspection);
        items.push(about(text, vec![detail], '>'));
    }
    for step in progress::steps(inspection).filter(|step| step.part == part.id) {
        items.extend(step_items(inspection, standing, step, photos));
    }
    items.extend(inspection.entries().iter().filter(|entry| is_from_elsewhere(inspection, entry, &part.id)).map(
        |entry| {
            let at = entry.act.step().and_then(|id| inspection.head().checklist.step(id));
            let at = at.map(|step| step.title.as_str()).unwrap_or_default();
            finding((inspection, photos), at, entry)
        },
    ));
    for entry in inspection.entries().iter().filter(|entry| is_about(entry, part)) {
        let line = telling::of_entry(inspection, entry);
        items.push(about(line, evidence::entry_lines(inspection, entry, photos), sign_of(inspection, entry)));
    }
    for item in &mut items {
        remarked::put_on(item, inspection, remarks);
    }
    Page { title: part.name.clone(), part: Some(part.id.clone()), items }
}

/// A finding on this part, entered while another part's step was open.
fn is_from_elsewhere(inspection: &Inspection, entry: &Entry, part: &str) -> bool {
    let Act::Finding(finding) = &entry.act else { return false };
    let at = inspection.head().checklist.step(&finding.step);
    finding.part == part && at.is_none_or(|step| step.part != part)
}

/// A finding on a line of its own; what a concession on it names is its entry.
fn finding((inspection, photos): (&Inspection, &Photos), at: &str, entry: &Entry) -> Item {
    let struck = inspection.struck_by(entry.number).is_some();
    let leads_to = consequence_of(inspection, &entry.act);
    let part = if let Act::Finding(finding) = &entry.act { Some(finding.part.clone()) } else { None };
    Item {
        sign: if struck { '-' } else { sign_of_finding(leads_to) },
        text: format!("{at}: {}", telling::of_entry(inspection, entry)),
        step: entry.act.step().map(str::to_owned),
        part,
        about: Some(entry.number.to_string()).filter(|_| !struck && may_be_conceded(leads_to)),
        sent_back: 0,
        evidence: evidence::entry_lines(inspection, entry, photos),
    }
}

/// Entries about the part that stand at no step.
fn is_about(entry: &Entry, part: &Part) -> bool {
    let judged = if let Act::Unjudged { characteristic, .. } | Act::Level { characteristic, .. } = entry.deed() {
        characteristic.part() == part.id
    } else {
        false
    };
    entry.deed().step().is_none() && (judged || entry.deed().part() == Some(&part.id))
}

fn sign_of(inspection: &Inspection, entry: &Entry) -> char {
    if inspection.struck_by(entry.number).is_some() { '-' } else { '.' }
}

/// The verdict with everything that made it so; the computed one beside it where somebody decided otherwise.
pub(super) fn verdict(inspection: &Inspection, part: &PartStanding) -> Item {
    let mut lines: Vec<String> = part.reasons.clone();
    lines.extend(part.verdict.holds.iter().map(|hold| format!("hold: {}", hold_words(hold))));
    if part.computed != part.verdict {
        let mut words = vec![part.computed.disposition.word().to_owned()];
        words.extend(part.computed.holds.iter().map(hold_words));
        lines.push(format!("computed by the rules: {}", words.join("; ")));
    }
    if let Some(fitted) = inspection.fitted(&part.id) {
        let serial = fitted.serial.as_deref().unwrap_or("not known");
        lines.push(format!("fitted: serial {serial}, {} since new at machine {}", fitted.hours, fitted.machine));
    }
    let judged = judged_words(part.judged);
    let within = part.verdict.disposition == Disposition::Reuse && part.verdict.holds.is_empty();
    let word = match (within, part.judged.0) {
        _ if part.milder().is_some() => format!("{}; {judged}", part.beside_the_rules()),
        (true, 0) => judged,
        (true, _) => format!("within, {judged}{}; no release", part.by_life()),
        (false, _) => {
            let disposition = Some(part.verdict.disposition).filter(|one| *one != Disposition::Reuse);
            let mut words: Vec<_> = disposition.iter().map(|one| one.word()).collect();
            words.extend(part.verdict.holds.iter().map(Hold::word));
            words.dedup();
            format!("{}; {judged}", words.join(", "))
        }
    };
    Item { part: Some(part.id.clone()), ..Item::plain(part.in_short().0, format!("verdict: {word}"), lines) }
}

/// How much was judged; where nothing was, nothing is good.
fn judged_words(judged: (usize, usize)) -> String {
    match judged {
        (0, 0) => "nothing judged here".to_owned(),
        (0, of) => format!("nothing judged here, of {of}"),
        (judged, of) => format!("{judged} of {of} judged"),
    }
}

/// A line for each characteristic that the step judges, else one for the step.
fn step_items(inspection: &Inspection, standing: &Standing, step: &Step, photos: &Photos) -> Vec<Item> {
    // a finding on another part stands on that part's page
    let elsewhere = |entry: &&Entry| {
        let part = if let Act::Finding(finding) = &entry.act { Some(&finding.part) } else { None };
        part.is_some_and(|part| is_from_elsewhere(inspection, entry, part))
    };
    let mine = |entry: &&Entry| entry.act.step() == Some(&step.id) || is_signed_by(inspection, step, entry);
    let here = inspection.entries().iter().filter(mine);
    let entries: Vec<_> = here.filter(|entry| !elsewhere(entry)).collect();
    let mut readings: Vec<_> =
        entries.iter().flat_map(|entry| evidence::entry_lines(inspection, entry, photos)).collect();
    readings.extend(beside::lines(inspection, step).into_iter().map(|line| format!("{} {}", line.sign, line.words)));
    readings.extend(telling::besides(inspection, step));
    readings.extend(soak::strayed(inspection, step).map(|words| format!("? {words}")));
    let judged: Vec<_> = standing.of_step(&step.id).collect();
    let item = |sign, text, evidence, about| Item {
        sign,
        text,
        step: Some(step.id.clone()),
        part: Some(step.part.clone()),
        about,
        sent_back: 0,
        evidence,
    };
    let mut items = Vec::new();
    for (count, one) in judged.iter().enumerate() {
        let mut lines = evidence::of_characteristic(inspection, one);
        // the readings stand once, below the first characteristic that they make
        if count == 0 {
            lines.append(&mut readings);
        } else {
            lines.push("the readings stand with the line above".to_owned());
        }
        let left = one.condition.behind();
        let text = format!("{}{left}: {}", one.characteristic.name(), telling::of_characteristic(one));
        let about = Some(one.named()).filter(|_| may_be_conceded(one.leads_to()));
        items.push(item(sign_of_characteristic(one), text, lines, about));
    }
    let found = entries.iter().filter(|entry| matches!(entry.act, Act::Finding(_)));
    let mut found = found.filter(|entry| inspection.struck_by(entry.number).is_none());
    if judged.is_empty() {
        let about = |entry: &Entry| {
            Some(entry.number.to_string()).filter(|_| may_be_conceded(consequence_of(inspection, &entry.act)))
        };
        let (sign, text) = step_line(inspection, step, &entries);
        let first = found.next().and_then(|entry| about(entry));
        items.push(item(sign, format!("{}: {text}", step.title), readings, first));
    }
    items.extend(found.map(|entry| finding((inspection, photos), &step.title, entry)));
    items
}

/// What a maker, an owner or class may answer: what is referred, and what else is worse than to be watched.
fn may_be_conceded(leads_to: Consequence) -> bool {
    leads_to > Consequence::Watch
}

fn consequence_of(inspection: &Inspection, act: &Act) -> Consequence {
    if let Act::Finding(found) = act { inspection.consequence_of(found) } else { Consequence::Nothing }
}

fn sign_of_finding(leads_to: Consequence) -> char {
    match leads_to {
        Consequence::Refer => '>',
        Consequence::Call => '!',
        Consequence::Nothing => '.',
        Consequence::Watch | Consequence::Rework | Consequence::Replace => leads_to.at_least().sign(),
    }
}

fn sign_of_characteristic(one: &CharacteristicStanding) -> char {
    let Some(judgement) = one.judgement() else { return if one.outcome == Outcome::Excused { '.' } else { '?' } };
    let unsure = judgement.provisional == Doubted::Yes || judgement.reached.reach == Reach::Undecided;
    match one.leads_to() {
        Consequence::Nothing if unsure => '?',
        Consequence::Nothing => Disposition::Reuse.sign(),
        Consequence::Watch | Consequence::Refer | Consequence::Rework | Consequence::Replace | Consequence::Call => {
            sign_of_finding(one.leads_to())
        }
    }
}

/// Whether an entry is the signature that a step takes, or what was done with it.
fn is_signed_by(inspection: &Inspection, step: &Step, entry: &Entry) -> bool {
    let of = if let Act::Countersign { sign, .. } | Act::Return { sign, .. } = entry.deed() {
        inspection.entry(*sign)
    } else {
        Some(entry)
    };
    let signed = of.and_then(|of| if let Act::Sign(signature) = &of.act { Some(signature.what) } else { None });
    signed.is_some_and(|what| step.takes == Takes::Sign(what))
}

/// What has become of a step that judges nothing.
fn step_line(inspection: &Inspection, step: &Step, entries: &[&Entry]) -> (char, String) {
    let standing: Vec<_> = entries.iter().filter(|entry| inspection.struck_by(entry.number).is_none()).collect();
    let mut findings = standing.iter().filter_map(|entry| {
        let Act::Finding(finding) = &entry.act else { return None };
        Some((sign_of_finding(consequence_of(inspection, &entry.act)), telling::of_finding(finding)))
    });
    if let Some(first) = findings.next() {
        return first;
    }
    match progress::state(inspection, step) {
        StepState::Done => {
            let last = standing.last().map_or_else(String::new, |entry| telling::of_entry(inspection, entry));
            // figures that nobody judges are neither good nor bad
            let sign = match (&step.takes, beside::lines(inspection, step).iter().any(|line| line.sign == '?')) {
                (Takes::Readings(_), true) => '?',
                (Takes::Readings(_), false) => '.',
                (
                    Takes::Points(_) | Takes::Tick | Takes::Look | Takes::Soak { .. } | Takes::Words | Takes::Sign(_),
                    _,
                ) => '+',
            };
            (sign, last)
        }
        StepState::ToDo => ('?', "not done".to_owned()),
        StepState::Partly { done, of } => ('?', format!("{done} of {of} done")),
        StepState::Running { since } => ('?', format!("waiting since {}", since.clock())),
        StepState::Skipped | StepState::NotApplicable => {
            let last = standing
                .last()
                .map_or_else(|| "not asked for".to_owned(), |entry| telling::of_entry(inspection, entry));
            ('-', last)
        }
        StepState::NotAsked => ('.', "not asked for".to_owned()),
    }
}
