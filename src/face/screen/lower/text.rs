//! A view of the lower half that is text: its heading and its lines.

use crate::domain::checklist::Step;
use crate::domain::stamp::long_day;
use crate::domain::unit::Unit;

use super::super::super::job::Job;
use super::super::super::look::Tone;
use super::super::super::pen::{Pen, hang, width, wrap};
use super::super::super::shown::{self, Shown};
use super::super::small;
use super::flat;

/// Sentences as the checklist breaks them, or anew for a window that is narrower.
pub fn prose(lines: &[String], columns: usize) -> Vec<String> {
    let fits = lines.iter().all(|line| width(line) + 2 <= columns);
    if fits { lines.to_vec() } else { wrap(&lines.join(" "), columns.saturating_sub(2)) }
}

/// Lines of text under a heading, scrolled page by page.
pub(super) fn text(pen: &mut Pen<'_>, job: &Job, title: &str, lines: &[String]) {
    let columns = pen.width().saturating_sub(2);
    let all: Vec<String> = lines.iter().flat_map(|line| hang(line, columns)).collect();
    // in a single row the text stands without its heading
    let head = usize::from(pen.height() > 1);
    let room = pen.height().saturating_sub(head);
    let skipped = job.scroll.min(all.len().saturating_sub(room));
    if head > 0 {
        text_head(pen, title, (skipped, room, all.len()));
    }
    for (row, line) in all.iter().skip(skipped).take(room).enumerate() {
        pen.put(1, row + head, line, Tone::Plain);
    }
    if all.is_empty() {
        pen.put(1, head, "nothing here", Tone::Quiet);
    }
}

/// The heading of a text; in a narrow window the count alone stands beside it.
fn text_head(pen: &mut Pen<'_>, title: &str, (skipped, room, all): (usize, usize, usize)) {
    let (from, to) = (skipped + 1, (skipped + room).min(all));
    let counted = format!("{from} to {to} of {all}, PgUp PgDn");
    if pen.width() < small::NARROW {
        let counted = format!("{from}-{to} of {all}: PgDn");
        pen.rule_beside(0, title, if all > room { &counted } else { "Tab next" });
        return;
    }
    pen.rule(0, title);
    pen.right(3, 0, " Tab next ", Tone::Key);
    if all > room {
        pen.right(15, 0, &format!(" {counted} "), Tone::Quiet);
    }
}

/// The last opening's figures; only once the set is complete, so that nobody copies them.
pub(super) fn last_time(job: &Job, step: &Step) -> Vec<String> {
    let mut lines = Vec::new();
    for standing in job.standing.of_step(&step.id) {
        let name = standing.characteristic.name();
        let done = standing.outcome.is_whole(&standing.measured);
        match (&standing.last, done) {
            (_, false) => lines.push(format!("{name}: shown when all figures are taken, not before")),
            (None, true) => lines.push(format!("{name}: no earlier figure")),
            (Some(past), true) => {
                let now = Shown::of(standing).figure;
                let flat = flat(standing);
                let unit = if flat.is_empty() { standing.measured.unit } else { Unit::Millimetre };
                let then = shown::figure(&past.value, unit, None);
                let place = past.place.as_ref().map(|place| format!(" at {place}")).unwrap_or_default();
                lines.push(format!("{name}: {flat}{then}{place} on {}, at {}", long_day(past.date), past.hours));
                lines.push(format!("  now {now}"));
                lines.extend(
                    past.vector
                        .as_ref()
                        .map(|then| format!("  eccentricity then {} mm at {} deg", then.eccentricity, then.high_spot)),
                );
            }
        }
    }
    if lines.is_empty() {
        lines.push("Nothing is judged at this step, so there is nothing to compare.".to_owned());
    }
    lines
}
