//! The record on paper, to be read, countersigned and sent: page 1 as in the review, then everything part by part.

use maud::{Markup, html};

use crate::domain::checklist::Signing;
use crate::domain::inspection::{Inspection, Scene};
use crate::domain::review::{Count, Kept, LEFT_OUT, NOT_JUDGED, Review, key_words};
use crate::domain::signing;
use crate::domain::standing::{Standing, plan_claimed};
use crate::domain::telling::name_of;
use crate::domain::watch::Watch;

use super::paper::{line, paper};

/// The paper; `size` is `A4` or `Letter`.
pub fn html(inspection: &Inspection, standing: &Standing, kept: &Kept, size: &str) -> String {
    let review = Review::of(inspection, standing, kept);
    let head = inspection.head();
    let body = html! {
        (heading(inspection))
        (first_page(&review))
        @for (place, page) in review.pages.iter().enumerate() {
            h2.next[place == 0] { (page.title) }
            @for item in &page.items {
                section {
                    p { (item.sign) " " (item.said()) }
                    @if !item.evidence.is_empty() { pre { (item.evidence.join("\n")) } }
                }
            }
        }
        h2 { "Signatures" }
        (signatures(inspection, &review, kept))
    };
    paper(&head.id, size, mark(inspection), &body)
}

/// What stands above everything of a machine that does not exist.
pub(super) fn mark(inspection: &Inspection) -> Option<&'static str> {
    match inspection.head().scene {
        Scene::Real => None,
        Scene::Invented => Some("INVENTED DEMONSTRATION: no such rotor exists, use no figure of it"),
        Scene::Practice => Some("PRACTICE, INVENTED: no such rotor exists"),
    }
}

/// Whose limits they are, and whether a second person has entered them too.
pub(super) fn entered(inspection: &Inspection) -> String {
    let sheet = inspection.sheet().map(|sheet| format!("{}: {}", sheet.id, sheet.entered_words(inspection.people())));
    sheet.unwrap_or_else(|| "No limits sheet: nothing is judged.".to_owned())
}

fn heading(inspection: &Inspection) -> Markup {
    let (head, opening) = (inspection.head(), inspection.opening());
    let (or_later, claimed) =
        (|text: Option<String>| text.unwrap_or_else(|| "later".to_owned()), plan_claimed(inspection));
    let manual = opening.manual.as_ref();
    let manual = manual.map(|one| format!("{}, edition {}, looked up {}", one.title, one.edition, one.checked));
    html! {
        h1 { (head.checklist.title) ", " (head.rotor.id) }
        table {
            tr { th { "record" } td { (head.id) ", " (inspection.reading_count()) " readings" } }
            tr { th { "rotor" } td { (head.rotor.machine) ", serial " (head.rotor.serial) @if let Some(plant) = &head.rotor.plant { ", " (plant) } } }
            tr { th { "opened" } td { (head.begun) ", " (or_later(opening.reason.clone())) } }
            tr { th { "hours" } td { (or_later(opening.machine_hours.map(|hours| hours.to_string()))) } }
            tr { th { "next opening" } td {
                (or_later(opening.next_hours.map(|hours| hours.to_string()))) (claimed[0]) ", "
                (or_later(opening.next_date.map(|day| day.to_string()))) (claimed[1])
            } }
            tr { th { "manual" } td { (or_later(manual)) } }
            tr { th { "service letters" } td { (or_later(opening.letters.clone())) } }
        }
        p { (entered(inspection)) }
    }
}

fn first_page(review: &Review) -> Markup {
    html! {
        h2 { "In short" }
        @for warning in &review.warnings { p { b { "! " (warning) } } }
        p { b { "Will it last? " } (review.lasts.text) }
        p { b { "Is it closed? " } (review.closed.text) }
        @if !review.decide.is_empty() {
            p { b { "To decide:" } }
            ul { @for one in &review.decide { li { (one) } } }
        }
        @if !review.lines.is_empty() {
            table {
                thead { tr { th { "part" } th { "to do" } th { "held by" } th { "because" } } }
                @for one in &review.lines {
                    tr {
                        td { (one.short) }
                        td { (one.headline.0) " " (one.headline.1) }
                        td { @for (sign, hold) in &one.holds { p { (sign) " " (hold) } } }
                        td { @for why in &one.made_so { p { (why) } } }
                    }
                }
            }
        }
        @if !review.within.is_empty() { p { b { "Within: " } (review.within.join(", ")) } }
        (counts("How sure", &review.sure))
        (counts("Missing or unusual", &review.unusual))
        @for (name, heading) in [(NOT_JUDGED, "On the sheet, not judged"), (LEFT_OUT, "Left out by the sheet")] {
            @for one in review.unusual.iter().filter(|one| one.name == name) {
                p { b { (heading) ": " } (one.which.join(", ")) }
            }
        }
    }
}

fn counts(title: &str, counts: &[Count]) -> Markup {
    let told: Vec<_> = counts.iter().filter(|count| count.number > 0).collect();
    let told: Vec<_> = told.iter().map(|count| format!("{} {}", count.number, count.name)).collect();
    let told = if told.is_empty() { "nothing to say".to_owned() } else { told.join(", ") };
    html! { p { b { (title) ": " } (told) } }
}

fn signatures(inspection: &Inspection, review: &Review, kept: &Kept) -> Markup {
    let pending = signing::pending_here(inspection, &kept.strange);
    html! {
        table {
            @for what in [Signing::Decisions, Signing::Close] {
                tr {
                    th { (what.word()) }
                    td {
                        @match signing::standing_signature(inspection, what) {
                            Some(sign) => {
                                p { "signed by " (name_of(inspection, &sign.by)) (Watch::over(inspection, &sign.by, sign.number)) " at " (sign.at) ", entry " (sign.number) ", " (key_words(&kept.keyed, sign.number)) }
                                @if signing::is_shaken(inspection, sign.number) { p { b { "! What was signed was changed outside since." } } }
                                @for one in review.since.iter().filter(|one| one.entry == sign.number) { p { b { "! " (one.since_words()) } } }
                                @if let Some(entry) = signing::countersigned(inspection, sign.number) {
                                    p { "countersigned by " (name_of(inspection, entry.doer())) " at " (entry.done_at()) ", entry " (entry.number) ", " (key_words(&kept.keyed, entry.number))
                                        @if let Some(by) = signing::strangely_countersigned(inspection, sign.number, &kept.strange) { ", " (kept.against(by)) } }
                                }
                                @if pending.contains(&sign) {
                                    p { (signing::PENDING) }
                                    p { (line("countersigned, name")) (line("date")) (line("signature")) }
                                }
                            }
                            None => {
                                p { "not signed in the record" }
                                p { (line("name")) (line("date")) (line("signature")) }
                            }
                        }
                    }
                }
            }
        }
        p { "This paper is read off the record; the record counts. It computes and releases nothing." }
    }
}
