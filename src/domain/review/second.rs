//! What to look at before the parts: decisions, remarks, patterns, and what each number of the first page counts.

use super::super::inspection::Inspection;
use super::super::pattern::Pattern;
use super::super::standing::Standing;
use super::super::telling::hands_of;
use super::{Count, Difference, Item, Page, evidence, lists, remarked};

/// The second page.
pub(super) fn page(
    (inspection, standing): (&Inspection, &Standing),
    (warnings, decide): (&[String], &[String]),
    (differences, since, patterns): (&[Difference], &[Difference], &[Pattern]),
    counts: [&[Count]; 2],
) -> Page {
    let line = Item::plain;
    let first = warnings.iter().chain(decide);
    let rests = "What it rests on stands at the lines below and on the pages of the parts.".to_owned();
    let mut items: Vec<_> = first.map(|what| line('!', what.clone(), vec![rests.clone()])).collect();
    items.extend(standing.to_refer().map(|(part, what)| {
        let mut detail = super::part::verdict(inspection, part).evidence;
        detail.push(format!("A concession is entered at its line on the page of {}.", part.name));
        Item {
            part: Some(part.id.clone()),
            step: lists::step_of((inspection, standing), part, what),
            ..line('>', format!("referred, {}: {what}", part.short), detail)
        }
    }));
    items.extend(remarks(inspection));
    items.extend(differences.iter().map(|one| line('?', format!("{}: {}", one.part, one.heading()), one.sides())));
    items.extend(since.iter().map(|one| line('?', format!("since it was signed, {}", one.since_words()), one.after())));
    items.extend(inspection.head().carried.iter().map(|one| {
        let text = format!("condition of an earlier concession, {}: {}", one.about, one.conditions);
        let detail = vec![format!("{}, {}, until {}; {}", one.who, one.document, one.until, one.inspection)];
        Item { part: Some(one.part.clone()), ..line('>', text, detail) }
    }));
    items.extend(patterns.iter().map(|pattern| {
        let mut detail = vec![pattern.unusual.explained().to_owned()];
        let entry = pattern.entry.and_then(|number| inspection.entry(number));
        detail.extend(entry.map(|entry| evidence::entry_line(inspection, entry)));
        let text = format!("{}: {}", pattern.unusual.name(), pattern.what);
        Item { step: pattern.step.clone(), ..line('~', text, detail) }
    }));
    let counted = counts.into_iter().flatten().filter(|count| count.number > 0);
    items.extend(counted.map(|count| line('.', format!("{}: {}", count.name, count.number), count.which.clone())));
    Page { title: "To look at".to_owned(), part: None, items }
}

/// Every remark ever made, with its answer; both stay.
fn remarks(inspection: &Inspection) -> Vec<Item> {
    let told = remarked::all(inspection).into_iter().map(|one| {
        let back = one.back;
        let made = format!("entry {}, {}, {}", back.number, back.at.clock(), hands_of(inspection, back));
        let answers = one.answers.iter().map(|answer| evidence::entry_line(inspection, answer));
        let sign = if one.answers.is_empty() { '!' } else { '.' };
        let text = format!("remark, {}: {}", one.state(), one.remark.text);
        Item {
            step: one.remark.step.clone(),
            ..Item::plain(sign, text, std::iter::once(made).chain(answers).collect())
        }
    });
    told.collect()
}
