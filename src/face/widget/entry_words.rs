//! Entries in words, one line each: the list for a strike, the evidence of a verdict, the line below the field.

use crate::domain::entry::{Act, Entry, FindingMade, TimerMark};
use crate::domain::id::Id;
use crate::domain::inspection::Inspection;

/// One entry in one line, without its number.
pub fn words(inspection: &Inspection, entry: &Entry) -> String {
    let by = |id: &Id| inspection.person(id).map_or_else(|| id.to_string(), |person| person.name.clone());
    let point = |step: &str, point: &str| point_text(inspection, step, point);
    match &entry.act {
        Act::Begin => format!("begun by {}", by(&entry.by)),
        Act::Confirm { step, point: id } => format!("confirmed by {}: {}", by(&entry.by), point(step, id)),
        Act::NotApplicable { step, point: Some(id), reason } => format!("not applicable: {}, {reason}", point(step, id)),
        Act::NotApplicable { point: None, reason, .. } => format!("not on this machine: {reason}"),
        Act::Tick { .. } => format!("done, by {}", by(&entry.by)),
        Act::Reading { place, taken, gauge, doubts, .. } => {
            let gauge = gauge.as_ref().map(|gauge| format!(" with {gauge}")).unwrap_or_default();
            let doubts = if doubts.is_empty() { String::new() } else { format!(", insisted: {}", doubts.join(", ")) };
            format!("{place}: {taken}{gauge}{doubts}")
        }
        Act::Finding(finding) => finding_words(finding),
        Act::Looked { .. } => format!("looked, nothing (more) found, by {}", by(&entry.by)),
        Act::Photo { photo, .. } => format!("photo {}", photo.name),
        Act::Note { text, .. } => format!("note: {text}"),
        Act::Timer { mark: TimerMark::Started, .. } => format!("soak begun at {}", entry.at.clock()),
        Act::Timer { mark: TimerMark::Ended, .. } => format!("soak ended at {}", entry.at.clock()),
        Act::GaugeCheck { gauge, piece, shows } => format!("{gauge} shows {shows} on {piece}"),
        Act::Skip { place: Some(place), reason, .. } => format!("left out: {place}, {reason}"),
        Act::Skip { place: None, reason, .. } => format!("step skipped: {reason}"),
        Act::Strike { entry, reason } => format!("entry {entry} struck: {reason}; it stays readable, the place is open"),
        Act::Call { question, .. } => format!("stop and call: {question}"),
        Act::Answer { who, text, .. } => format!("{who} answered: {text}"),
        Act::Sign(signature) => format!("{} signed by {}", signature.what.word(), by(&entry.by)),
        Act::Countersign { sign, .. } => format!("entry {sign} countersigned by {}", by(&entry.by)),
        other => rare(inspection, other, entry),
    }
}

/// Entries that a fitter seldom makes.
fn rare(inspection: &Inspection, act: &Act, entry: &Entry) -> String {
    let by = |id: &Id| inspection.person(id).map_or_else(|| id.to_string(), |person| person.name.clone());
    match act {
        Act::Unjudged { characteristic, reason, supervisor } => {
            format!("{} accepted unjudged by {}: {reason}", characteristic.name(), by(supervisor))
        }
        Act::Condemned { reason, .. } => format!("condemned, not measured: {reason}"),
        Act::Overrule { to, supervisor, reason, .. } => format!("{} by {}: {reason}", to.word(), by(supervisor)),
        Act::Concession { who, document, .. } => format!("concession by {who}: {document}"),
        Act::Mentor { mentor } => format!("{} watches", by(mentor)),
        Act::Resume => format!("still safe, says {}", by(&entry.by)),
        Act::Return { remarks, .. } => format!("sent back with {} remarks", remarks.len()),
        Act::RemarkAnswered { remark, text, .. } => format!("remark {remark} answered: {text}"),
        Act::SeenOutside { note, .. } => format!("changed outside, seen: {note}"),
        Act::Brought { .. } => "brought in from another copy".to_owned(),
        Act::Opening(_) => "opening answers given".to_owned(),
        Act::Gauge(gauge) => format!("gauge {} entered", gauge.id),
        Act::Person(person) => format!("{} entered", person.name),
        Act::Level { characteristic, .. } => format!("levels of {} entered", characteristic.name()),
        Act::PartFitted { part, .. } => format!("{part} fitted"),
        Act::Plan { reason, .. } => format!("next opening planned: {reason}"),
        _ => String::new(),
    }
}

fn finding_words(finding: &FindingMade) -> String {
    let details: Vec<_> = finding.details.iter().map(|(word, text)| format!("{word} {text}")).collect();
    let note = finding.note.as_ref().map(|note| format!("; {note}")).unwrap_or_default();
    let details = if details.is_empty() { String::new() } else { format!(" ({})", details.join(", ")) };
    format!("{}, {}{details}{note}", finding.kind, finding.grade)
}

fn point_text(inspection: &Inspection, step: &str, point: &str) -> String {
    let points = inspection.head().checklist.step(step).map(|step| &step.takes);
    match points {
        Some(crate::domain::checklist::Takes::Points(points)) => {
            points.iter().find(|one| one.id == point).map_or_else(|| point.to_owned(), |one| one.text.clone())
        }
        _ => point.to_owned(),
    }
}
