//! All that there is to read of a record, before anything is asked.

use crate::domain::review::Tenor;
use crate::domain::telling::counted;
use crate::domain::{signing, telling};

use super::Reading;

/// All pages as lines: the first page's answers, then every page, each line numbered and opened.
pub fn pages(reading: &Reading) -> Vec<String> {
    let (inspection, review) = (&reading.inspection, &reading.review);
    let head = inspection.head();
    let scene = super::super::told::scene(inspection, &reading.kept.strange);
    let mut said =
        vec![format!("{scene}REVIEW {}. {}. {} saved.", head.id, head.rotor.machine, inspection.reading_count())];
    let tenor = |tenor: Tenor| match tenor {
        Tenor::Good => '+',
        Tenor::Watch => '~',
        Tenor::Bad => 'X',
    };
    said.extend(review.warnings.iter().map(|warning| format!("! {warning}")));
    said.push(format!("Will it last? {} {}", tenor(review.lasts.tenor), review.lasts.text));
    said.push(format!("Is it closed? {} {}", tenor(review.closed.tenor), review.closed.text));
    said.push(format!(
        "To decide: {}.",
        if review.decide.is_empty() { "nothing".to_owned() } else { review.decide.join("; ") }
    ));
    for line in &review.lines {
        let held: Vec<_> = line.holds.iter().map(|(sign, words)| format!("{sign} {words}")).collect();
        let ((sign, word), why) = (line.headline, line.made_so.join("; "));
        let held = if held.is_empty() { String::new() } else { format!(", {}", held.join(", ")) };
        said.push(format!("{sign} {}: {word}{held}. {why}.", line.short));
    }
    said.push(match review.within.as_slice() {
        [] => ". within, 0 parts.".to_owned(),
        within => format!("+ within, {}: {}.", counted(within.len(), "part"), within.join("; ")),
    });
    for count in review.sure.iter().chain(&review.unusual) {
        said.push(format!("{}: {}.", count.name, count.number));
    }
    for (number, page) in (1_usize..).zip(&review.pages) {
        said.push(String::new());
        said.push(format!("{number}. {}.", page.title));
        for (line, item) in (1_usize..).zip(&page.items) {
            said.push(format!("{number}.{line} {} {}", item.sign, item.text));
            said.extend(item.evidence.iter().map(|line| format!("    {line}")));
        }
    }
    let remarks = signing::open_remarks(inspection);
    said.extend(remarks.iter().map(|(entry, ..)| entry).min().map(|entry| {
        let who = inspection.entry(*entry).map(|entry| telling::hands_of(inspection, entry)).unwrap_or_default();
        let wait = if remarks.len() == 1 { "waits" } else { "wait" };
        format!("{} by {who} {wait} for an answer.", counted(remarks.len(), "remark"))
    }));
    said
}
