//! A further page: its lines above, what the marked one rests on below, or that alone.

use crate::domain::review::{Item, Page};

use super::super::super::look::Tone;
use super::super::super::pen::{Pen, hang, width};
use super::{Review, asks, tone_of};

/// ```text
///  Bush, turbine side                                       INVENTED DEMONSTRATION
///  X verdict: replace, +1 more; 2 of 2 judged
///  + looked at before cleaning: looked, nothing more found
/// #X clearance: 0.214 mm at inner 0: alert, at or above 0.21; 0.242 at next, ...  #
///  -- Enter: all of it -----------------------------------------------------------
///  lift/1  clearance of a bush by lift
///     118  14:05  inner 0 / 3 / up: typed 0,232, 0.232 mm, D2  fitter A
/// ```
pub(super) fn view(pen: &mut Pen<'_>, review: &Review, page: &Page) {
    let scene = review.reading.inspection.head().scene.mark();
    let end = scene.map_or(pen.width(), |words| pen.right(1, 0, words, Tone::Invented));
    pen.cut_in((1, 0), &page.title, end.saturating_sub(2), Tone::Strong);
    let room = pen.height().saturating_sub(1);
    let Some(item) = page.items.get(review.marked) else { return };
    if review.whole {
        rests_on(&mut pen.rows(1, room), review, (item, "Enter or Esc: back to the page"));
        return;
    }
    // at least as many rows for the evidence as for the lines
    let lines = page.items.len().min(room / 2);
    items(&mut pen.rows(1, lines), review, page);
    let hint = match page.items.len() {
        count if count > lines => format!("line {} of {count}: arrows; Enter: all it rests on", review.marked + 1),
        _ => "what it rests on; Enter: all of it".to_owned(),
    };
    rests_on(&mut pen.rows(1 + lines, room.saturating_sub(lines)), review, (item, &hint));
}

fn items(pen: &mut Pen<'_>, review: &Review, page: &Page) {
    let room = pen.height();
    let half = room / 2;
    // the marked line stays in the middle, so that one sees what comes
    let skipped = review.marked.saturating_sub(half).min(page.items.len().saturating_sub(room));
    let end = pen.width().saturating_sub(1);
    for (y, (number, item)) in page.items.iter().enumerate().skip(skipped).take(room).enumerate() {
        let here = number == review.marked;
        if here {
            pen.wash(y, Tone::Here);
        }
        let paint = |tone: Tone| if here { Tone::Here } else { tone };
        if item.sent_back > 0 || asks::remarks_on(review, &asks::of_item(review, item)).next().is_some() {
            pen.put(0, y, "*", paint(Tone::Watch));
        }
        pen.put(1, y, &item.sign.to_string(), paint(tone_of(item.sign)));
        pen.cut_in((3, y), &item.said(), end, paint(Tone::Plain));
    }
}

/// The line in full, remarks on it, and its evidence.
fn rests_on(pen: &mut Pen<'_>, review: &Review, (item, hint): (&Item, &str)) {
    let room = pen.height().saturating_sub(1);
    let columns = pen.width().saturating_sub(2);
    let mut lines: Vec<(String, Tone)> = Vec::new();
    let mut say = |text: &str, tone: Tone| lines.extend(hang(text, columns).into_iter().map(|line| (line, tone)));
    let text = item.said();
    if review.whole || width(&text) + 4 > pen.width() {
        say(&format!("{} {text}", item.sign), Tone::Strong);
    }
    for remark in asks::remarks_on(review, &asks::of_item(review, item)) {
        say(&format!("* remark, not sent yet: {}", remark.text), Tone::Watch);
    }
    for line in &item.evidence {
        say(line, tone_of_line(line));
    }
    if item.evidence.is_empty() {
        say("nothing further", Tone::Quiet);
    }
    let skipped = review.scroll.min(lines.len().saturating_sub(room));
    pen.rule(0, hint);
    if lines.len() > room {
        let words = format!(" {} to {} of {}, PgDn ", skipped + 1, skipped + room, lines.len());
        pen.right(3, 0, &words, Tone::Plain);
    }
    for (row, (line, tone)) in lines.iter().skip(skipped).take(room).enumerate() {
        pen.put(1, row + 1, line, *tone);
    }
}

fn tone_of_line(line: &str) -> Tone {
    let line = line.trim_start();
    if line.contains("  --") {
        Tone::Quiet
    } else if line.starts_with("! ") || line.contains(": CHANGED since") || line.contains(": NOT THERE") {
        Tone::Bad
    } else if line.starts_with("hold: ") || line.starts_with("remark ") {
        Tone::Watch
    } else {
        Tone::Plain
    }
}
