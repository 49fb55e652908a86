//! Entries in words: what was done, with everything that it rests on. Who and when stand beside it.

use super::super::carried::about_in_words;
use super::super::checklist::Takes;
use super::super::entry::{Act, Entry, FindingMade, Replaces, Signature, TimerMark};
use super::super::id::Id;
use super::super::inspection::Inspection;
use super::super::sheet::{Amount, Bound, Levels, Which};
use super::super::stamp::long_day;
use super::super::standing::claimed_words;
use super::opening::of_opening;

/// What an entry says, one line; for a brought entry what the original says. Of a decision that does not count, why.
pub fn of_entry(inspection: &Inspection, entry: &Entry) -> String {
    let words = of_deed(inspection, entry);
    match inspection.passed_over(entry.number) {
        Some(why) => format!("{words} (does not count: {})", why.what()),
        None => format!("{words}{}", claimed_words(inspection, entry)),
    }
}

/// The same, whether it counts or not.
pub fn of_deed(inspection: &Inspection, entry: &Entry) -> String {
    match entry.original() {
        Some(original) => format!("brought: {}", of_act(inspection, (entry.number, &original.act))),
        None => of_act(inspection, (entry.number, &entry.act)),
    }
}

/// Who stands for an entry, and who wrote: `fitter A, written by fitter C`.
pub fn hands_of(inspection: &Inspection, entry: &Entry) -> String {
    let who = name_of(inspection, entry.doer());
    match &entry.writer {
        Some(writer) => format!("{who}, written by {}", name_of(inspection, writer)),
        None => who,
    }
}

/// The name of somebody in the record.
pub fn name_of(inspection: &Inspection, id: &Id) -> String {
    inspection.person(id).map_or_else(|| id.to_string(), |person| person.name.clone())
}

fn of_act(inspection: &Inspection, (number, act): (u32, &Act)) -> String {
    match act {
        Act::Confirm { step, point } => format!("confirmed: {}", point_text(inspection, step, point)),
        Act::NotApplicable { step, point: Some(point), reason } => {
            format!("not applicable: {}: {reason}", point_text(inspection, step, point))
        }
        Act::NotApplicable { point: None, reason, .. } => format!("not on this machine: {reason}"),
        Act::Tick { .. } => "done".to_owned(),
        Act::Reading { place, typed, taken, gauge, doubts, .. } => {
            let gauge = gauge.as_ref().map(|gauge| format!(", {gauge}")).unwrap_or_default();
            format!("{place}: typed {typed}, {taken}{gauge}{}", insisted(doubts))
        }
        Act::Finding(finding) => {
            let note = finding.note.as_ref().map(|note| format!("; {note}")).unwrap_or_default();
            // seen while something else was at hand, it belongs to its part all the same
            let checklist = &inspection.head().checklist;
            let here = checklist.step(&finding.step).is_some_and(|step| step.part == finding.part);
            let part = checklist.part(&finding.part).filter(|_| !here);
            let part = part.map(|part| format!("{}: ", part.name)).unwrap_or_default();
            format!("{part}{}{note}", of_finding(finding))
        }
        Act::Repeat { place, .. } => format!("{place}: one repeat more"),
        Act::Looked { .. } => "looked, nothing more found".to_owned(),
        Act::Photo { photo, .. } => format!("photo {}", photo.name),
        Act::Note { text, .. } => format!("note: {text}"),
        Act::Timer { step, mark: TimerMark::Started } => for_how_long(inspection, step),
        Act::Timer { mark: TimerMark::Ended, .. } => "clock stopped".to_owned(),
        Act::GaugeCheck { gauge, piece, shows } => format!("{gauge} shows {shows} on {piece}"),
        Act::Skip { place: Some(place), reason, .. } => format!("left out: {place}: {reason}"),
        Act::Skip { place: None, reason, .. } => format!("skipped: {reason}"),
        Act::Strike { entry, reason } => format!("entry {entry} struck: {reason}"),
        Act::Call { question, .. } => format!("stop and call: {question}"),
        Act::Answer { entry, who, text } => format!("answer of {who} to entry {entry}: {text}"),
        Act::Unjudged { .. } | Act::Condemned { .. } | Act::Overrule { .. } | Act::Concession { .. } => {
            decided(inspection, act)
        }
        Act::Sign(_) | Act::Return { .. } | Act::RemarkAnswered { .. } | Act::Countersign { .. } => signed(act),
        Act::Begin => "begun".to_owned(),
        Act::Mentor { mentor } => format!("{} watches", name_of(inspection, mentor)),
        Act::Resume => "goes on, the machine is still safe".to_owned(),
        Act::SeenOutside { from: Some(from), note, .. } => {
            format!("changed outside from entry {from} on, seen: {note}")
        }
        Act::SeenOutside { from: None, note, .. } => format!("line ends turned outside, seen: {note}"),
        Act::Brought { .. } => "brought, and it says nothing that counts".to_owned(),
        Act::Opening(given) => of_opening(inspection, number, given),
        Act::Gauge(_)
        | Act::Person(_)
        | Act::Given { .. }
        | Act::Level { .. }
        | Act::PartFitted { .. }
        | Act::Plan { .. } => later(inspection, act),
    }
}

/// `  (counts no more since entry 443: to be done again)`, where a later entry has put this one out of date.
pub fn out_of_date(inspection: &Inspection, entry: &Entry) -> String {
    let since = inspection.outdated_by(entry);
    since.map(|since| format!("  (counts no more since entry {since}: to be done again)")).unwrap_or_default()
}

/// The words for its strike, or those for what has put it out of date; none where it counts.
pub fn no_more(inspection: &Inspection, entry: &Entry, struck: impl FnOnce(u32) -> String) -> String {
    inspection.struck_by(entry.number).map_or_else(|| out_of_date(inspection, entry), struck)
}

/// `, insisted: digits`.
pub fn insisted(doubts: &[String]) -> String {
    if doubts.is_empty() { String::new() } else { format!(", insisted: {}", doubts.join(", ")) }
}

/// What was decided over the heads of the rules.
fn decided(inspection: &Inspection, act: &Act) -> String {
    if let Act::Unjudged { characteristic, as_left, supervisor, reason } = act {
        let (what, left) = (characteristic.name(), if *as_left { " as left" } else { "" });
        return format!("{what}{left} accepted unjudged by {}: {reason}", name_of(inspection, supervisor));
    }
    if let Act::Overrule { to, supervisor, reason, .. } = act {
        return format!("overruled to {} by {}: {reason}", to.word(), name_of(inspection, supervisor));
    }
    if let Act::Concession { about, who, document, conditions, until, allows, .. } = act {
        return format!(
            "concession of {who} on {}: {} at worst, {document}; conditions: {conditions}; until {until}",
            about_in_words(inspection, about),
            allows.at_least().word()
        );
    }
    if let Act::Condemned { reason, .. } = act { format!("condemned, not measured: {reason}") } else { String::new() }
}

/// Signatures and what became of them.
fn signed(act: &Act) -> String {
    if let Act::Sign(signature) = act {
        return format!("signed: {}", of_signature(signature));
    }
    if let Act::Return { sign, remarks, .. } = act {
        let remarks: Vec<_> = (1_u32..).zip(remarks).map(|(number, one)| format!("{number}. {}", one.text)).collect();
        return format!("signature {sign} sent back: {}", remarks.join(" "));
    }
    if let Act::RemarkAnswered { entry, remark, text } = act {
        return format!("answer to remark {remark} of entry {entry}: {text}");
    }
    if let Act::Countersign { sign, .. } = act { format!("signature {sign} countersigned") } else { String::new() }
}

/// `decisions, over 48 211 bytes, 3 photos`.
fn of_signature(signature: &Signature) -> String {
    let photos = match signature.photos.len() {
        0 => String::new(),
        1 => ", 1 photo".to_owned(),
        count => format!(", {count} photos"),
    };
    let carried = if signature.carried.is_empty() {
        String::new()
    } else {
        format!("; carried on: {}", signature.carried.join("; "))
    };
    format!("{}, over {} bytes{photos}{carried}", signature.what.word(), signature.length)
}

/// What the head could not yet hold.
fn later(inspection: &Inspection, act: &Act) -> String {
    if let Act::Gauge(gauge) = act {
        return format!("gauge {} entered, {}", gauge.id, gauge.kind.word());
    }
    if let Act::Person(person) = act {
        let roles: Vec<_> = person.roles.iter().map(|role| role.word()).collect();
        return format!("{} entered, {}", person.name, roles.join(", "));
    }
    if let Act::Given { given, figure } = act {
        return format!("{}: {}, {}", given.what(), figure.figure, figure.source);
    }
    if let Act::Level { characteristic, levels, doubts } = act {
        let sheets = inspection.head().sheet.as_ref().and_then(|sheet| sheet.levels.get(characteristic));
        let instead = sheets.map(|was| format!("; the sheet has {}", levels_in_words(was))).unwrap_or_default();
        let (name, now) = (characteristic.name(), levels_in_words(levels));
        return format!("levels of {name} entered: {now}{}{instead}", insisted(doubts));
    }
    if let Act::PartFitted { part, fitted, replaces } = act {
        let part = inspection.head().checklist.part(part).map_or(part.as_str(), |part| part.name.as_str());
        let serial = fitted.serial.as_ref().map(|serial| format!(", serial {serial}")).unwrap_or_default();
        let how = if *replaces == Replaces::Yes { "new, fitted" } else { "as found" };
        let (hours, machine, insisted) = (fitted.hours, fitted.machine, insisted(&fitted.doubts));
        return format!("{part} {how}{serial}, {hours} since new when the machine had {machine}{insisted}");
    }
    if let Act::Plan { hours, date, supervisor, reason } = act {
        let by = supervisor.as_ref().map(|id| format!(", decided by {}", name_of(inspection, id))).unwrap_or_default();
        let hours = hours.map(|hours| format!(" at {hours}")).unwrap_or_default();
        let date = date.map(|date| format!(" on {}", long_day(date))).unwrap_or_default();
        return format!("next opening planned{hours}{date}{by}: {reason}");
    }
    String::new()
}

/// `new 0.130 mm to 0.170 mm, alert from 0.210 mm, limit from 0.220 mm or 0.130 mm down: replace`.
fn levels_in_words(levels: &Levels) -> String {
    let figure = |bound: &Bound| match &bound.amount {
        Amount::Fixed(figure) => figure.to_string(),
        Amount::BySize { size, .. } => format!("by {}", size.what()),
    };
    let one = |which: Which| {
        let level = levels.of(which)?;
        let (upper, lower) = (level.upper().map(figure), level.lower().map(figure));
        Some(match (which, upper, lower) {
            (Which::New, upper, lower) => {
                format!("new {}", lower.into_iter().chain(upper).collect::<Vec<_>>().join(" to "))
            }
            (_, upper, lower) => {
                let ends = upper
                    .map(|upper| format!("{upper} up"))
                    .into_iter()
                    .chain(lower.map(|lower| format!("{lower} down")));
                let leads_to = level.leads_to().word();
                format!("{} from {}: {leads_to}", which.word(), ends.collect::<Vec<_>>().join(" or "))
            }
        })
    };
    let all: Vec<String> = Which::ALL.into_iter().filter_map(one).collect();
    if all.is_empty() { "none".to_owned() } else { all.join(", ") }
}

/// `dent, small: number 7, place 22 mm from the tip, length 1.8 mm`.
pub fn of_finding(finding: &FindingMade) -> String {
    let details = finding.details.iter().map(|(word, text)| format!("{word} {text}")).collect::<Vec<_>>().join(", ");
    let colon = if details.is_empty() { "" } else { ": " };
    format!("{}, {}{colon}{details}", finding.kind, finding.grade)
}

/// What holds a part that a finding leads to rework of: its answer says that it was done.
pub fn rework_to_do(finding: &FindingMade) -> String {
    format!("{}: rework to do, then say what was done", finding.kind)
}

fn point_text(inspection: &Inspection, step: &str, point: &str) -> String {
    let takes = inspection.head().checklist.step(step).map(|step| &step.takes);
    let Some(Takes::Points(points)) = takes else { return point.to_owned() };
    points.iter().find(|one| one.id == point).map_or_else(|| point.to_owned(), |one| one.text.clone())
}

/// For how long, where the checklist says so: never by a maker's word.
fn for_how_long(inspection: &Inspection, step: &str) -> String {
    let takes = inspection.head().checklist.step(step).map(|step| &step.takes);
    let Some(Takes::Soak { from, to }) = takes else { return "clock started".to_owned() };
    let to = to.map(|to| format!(" to {to}")).unwrap_or_default();
    format!("clock started, for {from}{to} by common practice")
}
