//! The pages of a review.

use crate::domain::checklist::Signing;
use crate::domain::entry::Entry;
use crate::domain::reckon::working::Working;
use crate::domain::signing;
use crate::domain::stamp::long_day;
use crate::domain::standing::PartStanding;
use crate::domain::telling;
use crate::domain::verdict::{Disposition, Verdict};

use super::super::super::action::Scope;
use super::super::super::look::Tone;
use super::super::super::model::Model;
use super::super::super::pen::{Pen, wrap};
use super::super::super::shown::{self, Shown};
use super::super::super::widget::{keybar, listing};
use super::super::bench;
use super::{PAGES, Review};

/// Parts that are not within, gravest first.
pub(super) fn remarkable(review: &Review) -> Vec<&PartStanding> {
    let mut parts: Vec<_> = review.standing.parts.iter().filter(|part| part.verdict != Verdict::default()).collect();
    parts.sort_by_key(|part| std::cmp::Reverse((part.verdict.disposition, part.verdict.holds.len())));
    parts
}

/// ```text
///  REVIEW DEMO-1, overhaul 12 July 2024   signed by fitter A, 16:20    page 1 of 3
///  INVENTED DEMONSTRATION   INV-420, 48 480 h, next opening planned at 60 510 h
///  WILL IT LAST?   Not as it lies: 3 parts to replace, 1 to rework, 2 referred.
///  CLOSED?         No: 5 holds. 41 of 41 characteristics judged, 1 provisional.
///
///                    do         hold           what made it so
///  1 main thrust     X replace                 land 3: 2.37 now, 1.90 at next
///  ...
///  HOW SURE                               MISSING OR UNUSUAL
/// ```
pub(super) fn view(pen: &mut Pen<'_>, model: &Model, review: &Review) {
    head(pen, review);
    let below = pen.height().saturating_sub(1);
    match (&review.part, review.page) {
        (Some(part), _) => evidence(&mut pen.rows(5, below.saturating_sub(5)), review, part),
        (None, 0) => first(&mut pen.rows(5, below.saturating_sub(5)), review),
        (None, 1) => lists(&mut pen.rows(5, below.saturating_sub(5)), review),
        (None, _) => entries(&mut pen.rows(5, below.saturating_sub(5)), review),
    }
    bench::said_line(pen, below.saturating_sub(1), model);
    keybar::draw(pen, below, Scope::Review);
}

fn head(pen: &mut Pen<'_>, review: &Review) {
    let head = review.inspection.head();
    let signed = signing::last_signature(&review.inspection, Signing::Close)
        .or_else(|| signing::last_signature(&review.inspection, Signing::Decisions));
    let signed = signed.map_or("not signed".to_owned(), |entry| {
        let name =
            review.inspection.person(&entry.by).map_or_else(|| entry.by.to_string(), |person| person.name.clone());
        format!("signed by {name}, {}", entry.at.clock())
    });
    pen.wash(0, Tone::Title);
    let title = format!("REVIEW {}, {} {}   {signed}", head.rotor.id, head.checklist.id, long_day(head.begun.date()));
    pen.put(1, 0, &title, Tone::Title);
    pen.right(1, 0, &format!("page {} of {PAGES}", review.page + 1), Tone::Title);
    let hours = review.inspection.opening().machine_hours.map(|hours| format!(", {hours}")).unwrap_or_default();
    let next = review.inspection.opening().next_hours.map(|hours| format!(", next opening planned at {hours}"));
    let x = bench::scene_words(head.scene).map_or(1, |words| pen.put(1, 1, words, Tone::Invented) + 2);
    pen.put(x, 1, &format!("{}{hours}{}", head.rotor.machine, next.unwrap_or_default()), Tone::Plain);
    let (last, tone) = will_it_last(review);
    pen.put(1, 2, "WILL IT LAST?", Tone::Strong);
    pen.put(17, 2, &last, tone);
    let (closed, tone) = is_it_closed(review);
    pen.put(1, 3, "CLOSED?", Tone::Strong);
    pen.put(17, 3, &closed, tone);
}

fn count(review: &Review, disposition: Disposition) -> usize {
    review.standing.parts.iter().filter(|part| part.verdict.disposition == disposition).count()
}

fn will_it_last(review: &Review) -> (String, Tone) {
    let (replace, rework, watch) =
        (count(review, Disposition::Replace), count(review, Disposition::Rework), count(review, Disposition::Watch));
    let counts = &review.standing.counts;
    let referred = review.standing.to_refer().count();
    if replace + rework + referred > 0 {
        return (format!("Not as it lies: {replace} to replace, {rework} to rework, {referred} referred."), Tone::Bad);
    }
    if counts.judged < counts.characteristics || counts.undecided + counts.provisional > 0 {
        return (format!("Not known: {} of {} judged.", counts.judged, counts.characteristics), Tone::Watch);
    }
    if watch > 0 {
        return (format!("Yes, with {watch} parts to watch."), Tone::Watch);
    }
    ("Yes: all within. This is no release for service.".to_owned(), Tone::Good)
}

fn is_it_closed(review: &Review) -> (String, Tone) {
    let holds = review.standing.holds_in_words().len();
    let counts = &review.standing.counts;
    let judged = format!("{} of {} judged, {} provisional", counts.judged, counts.characteristics, counts.provisional);
    let closed = signing::standing_signature(&review.inspection, Signing::Close).is_some();
    match (closed, holds) {
        (true, 0) => (format!("Yes. {judged}."), Tone::Good),
        (true, holds) => (format!("Signed, {holds} holds carried on by name. {judged}."), Tone::Watch),
        (false, holds) => (format!("No: {holds} holds. {judged}."), Tone::Watch),
    }
}

fn first(pen: &mut Pen<'_>, review: &Review) {
    pen.put(19, 0, "do         hold             what made it so", Tone::Quiet);
    let parts = remarkable(review);
    let room = pen.height().saturating_sub(9);
    let first = (review.marked + 1).saturating_sub(room.max(1));
    let end = pen.width().saturating_sub(1);
    for (row, (number, part)) in parts.iter().enumerate().skip(first).take(room).enumerate() {
        let here = number == review.marked;
        if here {
            pen.wash(row + 1, Tone::Here);
        }
        let (words, hold, tone) = shown::part_words(&part.verdict, part.judged);
        let paint = |tone: Tone| if here { Tone::Here } else { tone };
        let digit = listing::digit(number).map_or(" ".to_owned(), |digit| digit.to_string());
        pen.put(1, row + 1, &digit, paint(Tone::Key));
        pen.cut_in((3, row + 1), &part.short, 18, paint(Tone::Strong));
        pen.put(19, row + 1, &words, paint(tone));
        pen.cut_in((30, row + 1), &hold, 47, paint(Tone::Watch));
        pen.cut_in((47, row + 1), part.reasons.first().map_or("", String::as_str), end, paint(Tone::Plain));
    }
    let within: Vec<_> = review
        .standing
        .parts
        .iter()
        .filter(|part| part.verdict == Verdict::default())
        .map(|part| part.short.as_str())
        .collect();
    let y = parts.len().min(room) + 1;
    let names = if within.is_empty() { String::new() } else { format!(": {}", within.join(", ")) };
    pen.cut_in((3, y), &format!("+ within, {} parts{names}", within.len()), end, Tone::Good);
    counts(&mut pen.rows(y + 2, 6), review);
}

fn counts(pen: &mut Pen<'_>, review: &Review) {
    let counts = &review.standing.counts;
    pen.put(1, 0, "HOW SURE", Tone::Strong);
    pen.put(40, 0, "MISSING OR UNUSUAL", Tone::Strong);
    let left = [
        ("insisted on", counts.insisted),
        ("provisional", counts.provisional),
        ("undecided", counts.undecided),
        ("gauges past date", counts.past_date),
        ("overruled", counts.overruled),
    ];
    let right = [
        ("skipped", counts.skipped),
        ("struck", counts.struck),
        ("retaken", counts.retaken),
        ("accepted unjudged", counts.unjudged),
        ("claimed approvals", counts.claimed),
    ];
    for (x, column) in [(1, left), (40, right)] {
        for (row, (words, number)) in column.into_iter().enumerate() {
            let tone = if number > 0 { Tone::Watch } else { Tone::Plain };
            pen.put(x, row + 1, words, Tone::Plain);
            pen.put(x + 19, row + 1, &format!("{number:>3}"), tone);
        }
    }
}

/// One part: its verdict, its reasons, the working and the entries behind each figure.
fn evidence(pen: &mut Pen<'_>, review: &Review, id: &str) {
    let Some(part) = review.standing.part(id) else { return };
    let (words, hold, _) = shown::part_words(&part.verdict, part.judged);
    let mut lines = vec![format!("{}: {words} {hold}", part.name)];
    lines.extend(part.reasons.iter().map(|reason| format!("  {reason}")));
    for standing in review.standing.characteristics.iter().filter(|one| one.characteristic.part() == id) {
        let shown = Shown::of(&review.inspection, standing);
        lines.push(String::new());
        lines.push(format!("{}: {}  {}", standing.characteristic.name(), shown.figure, shown.verdict));
        lines.extend(standing.measured.working.iter().flat_map(Working::text_lines).map(|line| format!("  {line}")));
        if let Some(judgement) = standing.judgement() {
            lines.push(format!("  {} Source: {}", shown.level, judgement.reached.source));
            let entries = judgement.value.entries.iter().filter_map(|number| review.inspection.entry(*number));
            lines.extend(entries.map(|entry| entry_line(review, entry)));
        }
    }
    scrolled(pen, review, &lines);
}

fn entry_line(review: &Review, entry: &Entry) -> String {
    let struck = review.inspection.struck_by(entry.number).map(|by| format!(" (struck by {by})")).unwrap_or_default();
    format!(
        "  {:>4}  {} {}  {}{struck}",
        entry.number,
        entry.at.date(),
        entry.at.clock(),
        telling::of_entry(&review.inspection, entry)
    )
}

fn lists(pen: &mut Pen<'_>, review: &Review) {
    let mut lines = vec!["TO ORDER".to_owned()];
    let order = review.standing.to_order(&review.inspection);
    lines.extend(
        order.map(|(part, number)| format!("  {:<26} {}", part.name, number.unwrap_or("part number not on the sheet"))),
    );
    lines.extend([String::new(), "TO REFER".to_owned()]);
    lines.extend(review.standing.to_refer().map(|(part, what)| format!("  {:<26} {what}", part.name)));
    lines.extend([String::new(), "TO MEASURE OR SETTLE".to_owned()]);
    lines.extend(review.standing.to_measure().map(|(part, what)| format!("  {:<26} {what}", part.name)));
    scrolled(pen, review, &lines);
}

fn entries(pen: &mut Pen<'_>, review: &Review) {
    let lines: Vec<_> = review.inspection.entries().iter().map(|entry| entry_line(review, entry)).collect();
    scrolled(pen, review, &lines);
}

fn scrolled(pen: &mut Pen<'_>, review: &Review, lines: &[String]) {
    let columns = pen.width().saturating_sub(2);
    let all: Vec<String> = lines
        .iter()
        .flat_map(|line| {
            if super::super::super::pen::width(line) <= columns { vec![line.clone()] } else { wrap(line, columns) }
        })
        .collect();
    let room = pen.height().saturating_sub(1);
    let skipped = review.scroll.min(all.len().saturating_sub(room));
    for (row, line) in all.iter().skip(skipped).take(room).enumerate() {
        pen.put(1, row, line, Tone::Plain);
    }
    if all.len() > room {
        pen.right(
            1,
            room,
            &format!("{} to {} of {}, PgUp PgDn", skipped + 1, (skipped + room).min(all.len()), all.len()),
            Tone::Quiet,
        );
    }
}
