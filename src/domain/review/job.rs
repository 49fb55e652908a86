//! The job as a whole: opening answers, gauges, people, signatures, whatever stands at no step and no part.

use super::super::entry::{Act, Entry};
use super::super::inspection::{Inspection, OwnHours};
use super::super::instrument::Instrument;
use super::super::stamp::long_day;
use super::super::standing::{Standing, hold_words};
use super::{Item, Page, Photos, evidence};

/// The last page.
pub(super) fn page(inspection: &Inspection, standing: &Standing, photos: &Photos) -> Page {
    let line = Item::plain;
    let held = standing.job.iter().map(|hold| line(hold.sign(), format!("hold: {}", hold_words(hold)), Vec::new()));
    let mut items: Vec<_> = held.collect();
    items.push(line('.', "opening answers".to_owned(), opening(inspection)));
    let gauges: Vec<_> = inspection.gauges().iter().map(|gauge| gauge_line(inspection, gauge)).collect();
    items.push(line('.', format!("gauges: {}", gauges.len()), gauges));
    if let Some(sheet) = inspection.sheet() {
        let sign = if sheet.is_entered_twice(inspection.people()) { '.' } else { '?' };
        items.push(line(sign, sheet.entered_words(inspection.people()), Vec::new()));
    }
    let people: Vec<_> = inspection
        .people()
        .iter()
        .map(|person| {
            let roles: Vec<_> = person.roles.iter().map(|role| role.word()).collect();
            let keys = match person.keys.len() {
                0 => "no key",
                _ => "a key, claimed by the record",
            };
            format!("{}: {}, {}, {keys}", person.id, person.name, roles.join(" and "))
        })
        .collect();
    items.push(line('.', format!("people: {}", people.len()), people));
    for entry in inspection.entries().iter().filter(|entry| is_of_the_job(entry)) {
        let sign = if inspection.struck_by(entry.number).is_some() { '-' } else { '.' };
        let lines = evidence::entry_lines(inspection, entry, photos);
        items.push(line(sign, super::super::telling::of_entry(inspection, entry), lines));
    }
    Page { title: "The job".to_owned(), part: None, items }
}

fn is_of_the_job(entry: &Entry) -> bool {
    let of_a_part = matches!(entry.deed(), Act::Unjudged { .. } | Act::Level { .. });
    let strike = matches!(entry.act, Act::Strike { .. });
    !of_a_part && !strike && entry.deed().step().is_none() && entry.deed().part().is_none()
}

fn opening(inspection: &Inspection) -> Vec<String> {
    let opened = inspection.opening();
    let mut lines = Vec::new();
    let mut say = |what: &str, answer: Option<String>| {
        lines.push(format!("{what}: {}", answer.unwrap_or_else(|| "later".to_owned())));
    };
    say("why it is opened", opened.reason.clone());
    say("how it arrives", opened.arrives.map(|arrives| arrives.word().to_owned()));
    say("hours of the machine", opened.machine_hours.map(|hours| hours.to_string()));
    let manual = |manual: &super::super::inspection::Manual| {
        format!("{}, edition {}, looked up on {}", manual.title, manual.edition, long_day(manual.checked))
    };
    say("manual", opened.manual.as_ref().map(manual));
    say("service letters", opened.letters.clone());
    say("hours of the next opening", opened.next_hours.map(|hours| hours.to_string()));
    say("date of the next opening", opened.next_date.map(long_day));
    if opened.own_hours == Some(OwnHours::Later) {
        lines.push("hours of the parts: later".to_owned());
    }
    if !opened.doubts.is_empty() {
        lines.push(format!("hours insisted on: {}", opened.doubts.join(", ")));
    }
    for (part, hours) in &opened.part_hours {
        let name = inspection.head().checklist.part(part).map_or(part.as_str(), |part| part.name.as_str());
        lines.push(format!("hours of {name}: {hours}"));
    }
    lines
}

fn gauge_line(inspection: &Inspection, gauge: &Instrument) -> String {
    let day = inspection.head().begun.date();
    let resolution = gauge.resolution.map(|step| format!(", resolves {step}")).unwrap_or_default();
    let calibration = gauge.calibration(day).map_or_else(
        || ", no calibration".to_owned(),
        |one| {
            let due = one.due.map(|due| format!(", due {}", long_day(due))).unwrap_or_default();
            format!(", U {} at k {}{due}", one.expanded, one.k)
        },
    );
    let past = if gauge.is_past_date(day) { ", PAST ITS DATE" } else { "" };
    format!("{}: {}{resolution}{calibration}{past}", gauge.id, gauge.kind.word())
}
