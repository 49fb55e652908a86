//! A view of the lower half that is text: its heading and its lines.

use super::super::super::job::Job;
use super::super::super::look::Tone;
use super::super::super::pen::{Pen, hang, width, wrap};
use super::super::small;

/// Sentences as the checklist breaks them, or anew for a window that is narrower.
pub(super) fn prose(lines: &[String], columns: usize) -> Vec<String> {
    let fits = lines.iter().all(|line| width(line) + 2 <= columns);
    if fits { lines.to_vec() } else { wrap(&lines.join(" "), columns.saturating_sub(2)) }
}

/// Lines of text under a heading, scrolled page by page.
pub(super) fn text(pen: &mut Pen<'_>, job: &Job, title: &str, lines: &[String]) {
    let columns = pen.width().saturating_sub(2);
    let all: Vec<String> = lines.iter().flat_map(|line| hang(line, columns)).collect();
    let room = pen.height().saturating_sub(1);
    let skipped = job.scroll.min(all.len().saturating_sub(room));
    text_head(pen, title, (skipped, room, all.len()));
    for (row, line) in all.iter().skip(skipped).take(room).enumerate() {
        pen.put(1, row + 1, line, Tone::Plain);
    }
    if all.is_empty() {
        pen.put(1, 1, "nothing here", Tone::Quiet);
    }
}

/// The heading of a text; in a narrow window the count alone stands beside it.
fn text_head(pen: &mut Pen<'_>, title: &str, (skipped, room, all): (usize, usize, usize)) {
    let counted = format!("{} to {} of {all}, PgUp PgDn", skipped + 1, (skipped + room).min(all));
    if pen.width() < small::NARROW {
        pen.rule_beside(0, title, if all > room { &counted } else { "Tab next" });
        return;
    }
    pen.rule(0, title);
    pen.right(3, 0, " Tab next ", Tone::Key);
    if all > room {
        pen.right(15, 0, &format!(" {counted} "), Tone::Quiet);
    }
}
