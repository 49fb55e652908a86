//! All that there is to read of a record, before anything is asked.

use crate::domain::review::{Item, Page, Tenor};
use crate::domain::telling::counted;
use crate::domain::{signing, telling};

use super::{Reading, Session};

/// All pages as lines: the first page's answers, then every page, each line numbered and opened.
pub fn pages(reading: &Reading) -> Vec<String> {
    [first(reading), further(reading, 0), remarked(reading)].concat()
}

/// What is read before anything is asked: the first page, what it rests on, and how the others are called for.
pub fn shortly(reading: &Reading) -> Vec<String> {
    let mut pages = numbered(reading);
    let look_at = pages.next().map(|(number, one)| page(number, one)).unwrap_or_default();
    let others: Vec<_> = pages.map(|(number, one)| format!("{number}. {}", one.title)).collect();
    let more = format!("Not printed yet: {}. all prints them, a number alone that page.", others.join("; "));
    [first(reading), look_at, remarked(reading), vec![String::new(), more]].concat()
}

/// The pages that an answer calls for: `all` that [`shortly`] has left out, or a number.
pub(super) fn asked(reading: &Reading, line: &str) -> Option<String> {
    let lines = match line {
        "all" => further(reading, 1),
        "1" => first(reading),
        number => page(number.parse().ok()?, page_of(reading, number)?),
    };
    Some(lines.join("\n"))
}

/// The first page's answers.
fn first(reading: &Reading) -> Vec<String> {
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
    said
}

/// Every page behind so many.
fn further(reading: &Reading, behind: usize) -> Vec<String> {
    numbered(reading).skip(behind).flat_map(|(number, one)| page(number, one)).collect()
}

/// The pages with the numbers that they have on the screen: the answers are page 1.
pub(super) fn numbered(reading: &Reading) -> impl Iterator<Item = (usize, &Page)> {
    (2..).zip(&reading.review.pages)
}

fn page_of<'a>(reading: &'a Reading, number: &str) -> Option<&'a Page> {
    reading.review.pages.get(number.parse::<usize>().ok()?.checked_sub(2)?)
}

fn page(number: usize, page: &Page) -> Vec<String> {
    let mut said = vec![String::new(), format!("{number}. {}.", page.title)];
    for (line, item) in (1_usize..).zip(&page.items) {
        said.push(format!("{number}.{line} {} {}", item.sign, item.said()));
        said.extend(item.evidence.iter().map(|line| format!("    {line}")));
    }
    said
}

/// Whose remarks wait.
fn remarked(reading: &Reading) -> Vec<String> {
    let inspection = &reading.inspection;
    let remarks = signing::open_remarks(inspection);
    let waiting = remarks.iter().map(|(entry, ..)| entry).min().map(|entry| {
        let who = inspection.entry(*entry).map(|entry| telling::hands_of(inspection, entry)).unwrap_or_default();
        let wait = if remarks.len() == 1 { "waits" } else { "wait" };
        format!("{} by {who} {wait} for an answer.", counted(remarks.len(), "remark"))
    });
    waiting.into_iter().collect()
}

impl Session {
    /// The line called `3.2`: the second of the third page. So a line keeps its number when another page grows.
    pub(super) fn numbered(&self, line: &str) -> Option<&Item> {
        let (page, line) = line.split_once('.')?;
        page_of(&self.reading, page)?.items.get(line.parse::<usize>().ok()?.checked_sub(1)?)
    }

    /// `Bush, turbine side, `: the page on which that line stands.
    pub(super) fn named(&self, line: &str) -> String {
        let page = line.split_once('.').and_then(|(page, _)| page_of(&self.reading, page));
        page.map(|page| format!("{}, ", page.title)).unwrap_or_default()
    }
}
