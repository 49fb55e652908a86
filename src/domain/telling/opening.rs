//! Opening answers given later, with what they take the place of.

use crate::domain::entry::Act;
use crate::domain::inspection::{Inspection, Opening};
use crate::domain::stamp::long_day;

use super::entry::insisted;

/// `hours of the machine 60000 h, before: 48480 h; comes in place`: what the entry of this number answers.
pub(super) fn of_opening(inspection: &Inspection, number: u32, later: &Opening) -> String {
    let mut before = inspection.head().opened.clone();
    for entry in inspection.standing_entries().take_while(|entry| entry.number < number) {
        if let Act::Opening(earlier) = entry.deed() {
            before.take_in(earlier);
        }
    }
    let before = answers(inspection, &before);
    let told = answers(inspection, later).into_iter().map(|(what, answer)| {
        let was = before.iter().find(|(other, was)| *other == what && *was != answer);
        let was = was.map(|(_, was)| format!(", before: {was}")).unwrap_or_default();
        format!("{what} {answer}{was}")
    });
    let told: Vec<_> = told.collect();
    if told.is_empty() {
        return "opening answers given later".to_owned();
    }
    format!("{}{}", told.join("; "), insisted(&later.doubts))
}

/// Every answer there is, with what it answers.
fn answers(inspection: &Inspection, opening: &Opening) -> Vec<(String, String)> {
    let part = |id: &String| inspection.head().checklist.part(id).map_or_else(|| id.clone(), |part| part.name.clone());
    let manual = opening.manual.as_ref().map(|one| format!("{}, edition {}", one.title, one.edition));
    let all = [
        ("opened because", opening.reason.clone()),
        ("comes", opening.arrives.map(|arrives| arrives.word().to_owned())),
        ("hours of the machine", opening.machine_hours.map(|hours| hours.to_string())),
        ("hours of the parts", opening.own_hours.map(|hours| hours.word().to_owned())),
        ("manual", manual),
        ("service letters", opening.letters.clone()),
        ("next opening at", opening.next_hours.map(|hours| hours.to_string())),
        ("next opening on", opening.next_date.map(long_day)),
    ];
    let given = all.into_iter().filter_map(|(what, answer)| Some((what.to_owned(), answer?)));
    let parts = opening.part_hours.iter().map(|(id, hours)| (format!("hours of {}", part(id)), hours.to_string()));
    given.chain(parts).collect()
}
