//! A record as lines for people: how it stands, then every entry in its order.

use crate::domain::checklist::Signing;
use crate::domain::entry::Entry;
use crate::domain::inspection::{Inspection, Scene};
use crate::domain::review::{differences, lists};
use crate::domain::signing;
use crate::domain::standing::{Outcome, PartStanding, Standing, hold_words};
use crate::domain::telling;

/// The whole record.
pub fn lines(inspection: &Inspection, standing: &Standing) -> Vec<String> {
    let mut lines = heading(inspection);
    lines.extend(opening(inspection));
    lines.extend([Signing::Decisions, Signing::Close].map(|what| signed(inspection, what)));
    lines.push(String::new());
    lines.push("PARTS".to_owned());
    lines.extend(standing.job.iter().map(|hold| format!("{} the job: {}", hold.sign(), hold_words(hold))));
    lines.extend(standing.parts.iter().flat_map(part));
    for (heading, list) in lists(inspection, standing).in_words() {
        lines.push(String::new());
        lines.push(heading.to_uppercase());
        lines.extend(if list.is_empty() { vec!["nothing".to_owned()] } else { list });
    }
    lines.extend(differing(inspection));
    lines.extend(sent_back(inspection));
    lines.push(String::new());
    lines.push("CHARACTERISTICS".to_owned());
    for one in standing.characteristics.iter().filter(|one| one.outcome != Outcome::Excused) {
        let (id, told) = (one.characteristic.id(), telling::of_characteristic(one));
        lines.push(format!("{id}: {told}"));
    }
    lines.push(String::new());
    lines.push("ENTRIES".to_owned());
    lines.extend(inspection.entries().iter().map(|entry| self::entry(inspection, entry)));
    lines
}

/// Which record, of which machine, and that it is invented where it is.
fn heading(inspection: &Inspection) -> Vec<String> {
    let head = inspection.head();
    let scene = match head.scene {
        Scene::Real => None,
        Scene::Invented => Some("INVENTED DEMONSTRATION: no such rotor exists."),
        Scene::Practice => Some("PRACTICE: no such rotor exists."),
    };
    let opening = inspection.opening();
    let hours = opening.machine_hours.map_or_else(|| "hours not given".to_owned(), |hours| hours.to_string());
    let next = opening.next_hours.map_or_else(|| "not planned".to_owned(), |hours| format!("planned at {hours}"));
    let mut lines = vec![format!("{}, {}", head.id, head.checklist.title)];
    lines.extend(scene.map(str::to_owned));
    lines.push(format!("{}, serial {}, {hours}, next opening {next}", head.rotor.machine, head.rotor.serial));
    lines.push(match &head.sheet {
        Some(sheet) => format!("{}: {}", sheet.id, sheet.entered_words()),
        None => "no limits sheet: every verdict stays open".to_owned(),
    });
    lines.push(format!("{} saved", inspection.reading_count()));
    lines
}

/// Where today's rules have it otherwise than it was signed; the signed standing counts.
fn differing(inspection: &Inspection) -> Vec<String> {
    let found = differences(inspection);
    let told = found.iter().map(|one| {
        format!(
            "{}, {} in entry {}: signed and counting: {}; by today's rules: {}",
            one.part,
            one.signing.word(),
            one.entry,
            one.signed,
            one.today
        )
    });
    let heading = (!found.is_empty()).then(|| [String::new(), "SIGNED OTHERWISE THAN TODAY'S RULES".to_owned()]);
    heading.into_iter().flatten().chain(told).collect()
}

/// Remarks that wait for an answer.
fn sent_back(inspection: &Inspection) -> Vec<String> {
    let open = signing::open_remarks(inspection);
    let told = open.iter().map(|(entry, number, remark)| {
        let at = remark.step.as_ref().map(|step| format!(" at {step}")).unwrap_or_default();
        format!("! entry {entry}, remark {number}{at}: {}", remark.text)
    });
    let heading = (!open.is_empty()).then(|| [String::new(), "SENT BACK, NOT ANSWERED".to_owned()]);
    heading.into_iter().flatten().chain(told).collect()
}

fn opening(inspection: &Inspection) -> Vec<String> {
    let opening = inspection.opening();
    let manual = opening
        .manual
        .as_ref()
        .map(|manual| format!("{}, edition {}, looked up {}", manual.title, manual.edition, manual.checked));
    let answers = [
        ("opened because", opening.reason.clone()),
        ("comes", opening.arrives.map(|arrives| arrives.word().to_owned())),
        ("manual", manual),
        ("service letters", opening.letters.clone()),
        ("next day", opening.next_date.map(|day| day.to_string())),
    ];
    answers
        .into_iter()
        .map(|(what, answer)| format!("{what}: {}", answer.unwrap_or_else(|| "later".to_owned())))
        .collect()
}

fn signed(inspection: &Inspection, what: Signing) -> String {
    match signing::standing_signature(inspection, what) {
        None => format!("{}: not signed", what.word()),
        Some(sign) => {
            let countersigned = signing::countersigned(inspection, sign.number)
                .map_or("countersign pending ashore".to_owned(), |entry| format!("countersigned by {}", entry.doer()));
            format!("{}: signed by {} at {}, entry {}, {countersigned}", what.word(), sign.by, sign.at, sign.number)
        }
    }
}

fn part(part: &PartStanding) -> Vec<String> {
    let (sign, word) = part.verdict.in_short();
    let mut lines = vec![format!("{sign} {}: {word}", part.name)];
    lines.extend(part.verdict.holds.iter().map(|hold| format!("    {} {}", hold.sign(), hold_words(hold))));
    lines.extend(part.reasons.iter().map(|reason| format!("    {reason}")));
    lines
}

fn entry(inspection: &Inspection, entry: &Entry) -> String {
    let struck = inspection.struck_by(entry.number).map(|by| format!("  STRUCK in entry {by}")).unwrap_or_default();
    let hands = telling::hands_of(inspection, entry);
    format!("{:4} {}  {}  {hands}{struck}", entry.number, entry.at, telling::of_entry(inspection, entry))
}
