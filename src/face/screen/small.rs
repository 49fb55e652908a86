//! A step in a window below 80x24: what Enter does and what it was about stand always, the rest shares what is left.

use crate::domain::checklist::{Step, Takes};

use super::super::job::Job;
use super::super::look::Tone;
use super::super::model::Model;
use super::super::pen::{Pen, wrap};
use super::super::shown::Shown;
use super::{bench, look, lower, points};

/// Columns from which on the lower half is as in a whole window.
pub const NARROW: usize = 60;

/// From so many free rows on the work keeps a part of them beside a text of the lower half.
const SHARED: usize = 8;

/// The rows that the window leaves.
struct Shares {
    /// What was said last.
    said: usize,
    /// The work.
    work: usize,
    /// The lower half.
    lower: usize,
}

/// ```text
/// > inner 0, third up     [ 0.232_ ] mm
///   inner 0, third down: 0.018 mm taken
///           3 down   3 up
///  inner 0   0.018 [0.232]
///  ~ watch, clearance 0.2139 mm at inner 0
/// ```
pub fn view(pen: &mut Pen<'_>, model: &Model, job: &Job) {
    let columns = pen.width();
    let told = in_words(job, columns);
    let shares = shares(pen, model, job, told.len());
    bench::now_lines(pen, (0, shares.said), model, job);
    let below = 1 + shares.said;
    bench::work(&mut pen.rows(below, shares.work), model, job);
    let mut rest = pen.rows(below + shares.work, shares.lower);
    if shares.lower == 0 {
        return;
    }
    if !lower::is_text(job) && shares.lower < lower::judged_rows(job, columns) {
        for (row, (line, tone, more)) in told.iter().enumerate() {
            // behind the first a sentence stands there whole or not
            let is_first = told.iter().take(row).all(|(.., more)| *more > 0);
            if is_first || row + more < shares.lower {
                rest.put(1, row, line, *tone);
            }
        }
    } else {
        lower::view(&mut rest, model, job);
    }
}

/// A message gives way to what Enter does, and the work to what was turned to.
fn shares(pen: &Pen<'_>, model: &Model, job: &Job, told: usize) -> Shares {
    let (columns, rest) = (pen.width(), pen.height().saturating_sub(1));
    let least = needed(job, columns);
    // nothing said leaves a row empty where there are many
    let said = bench::said_rows(model, columns).max(usize::from(rest >= SHARED));
    let said = said.min(rest.saturating_sub(least).max(1));
    let free = rest.saturating_sub(said);
    let share = if free < SHARED { least } else { least.max(free / 3) };
    let full = lower::judged_rows(job, columns);
    let lower = if lower::is_text(job) {
        lower::text_rows(model, job, columns).min(free.saturating_sub(share))
    } else if told > 0 && columns >= NARROW && full + least.max(SHARED / 2) <= free {
        full
    } else {
        told.min(free / 2).min(free.saturating_sub(least))
    };
    Shares { said, work: free - lower, lower }
}

/// Whether the window is smaller than the whole screen: what is to be done has no place of its own.
pub fn is_reduced(model: &Model) -> bool {
    model.size.0 < 80 || model.size.1 < 24
}

/// What is to be done, where it stands nowhere else.
pub fn doing<'a>(model: &Model, step: &'a Step) -> &'a [String] {
    if is_reduced(model) { &step.doing } else { &[] }
}

/// What the step judges in words alone, the worst first: its verdict, then what it is of; with each line how many more its
/// sentence has.
fn in_words(job: &Job, columns: usize) -> Vec<(String, Tone, usize)> {
    let all = lower::by_weight(job);
    let told = all.iter().flat_map(|one| {
        let shown = Shown::of(one);
        // of what is judged alone the step says the name
        let named = all.len() > 1 || !shown.figure.is_empty();
        let name = if named { format!(", {} {}", one.characteristic.name(), shown.figure) } else { String::new() };
        let verdict = shown.verdict.strip_prefix("judged when complete: ").filter(|_| all.len() > 1);
        let lines = wrap(&format!("{}{name}", verdict.unwrap_or(&shown.verdict)), columns.saturating_sub(2));
        let more = (0..lines.len()).rev().collect::<Vec<_>>();
        lines.into_iter().zip(more).map(move |(line, more)| (line, shown.tone, more))
    });
    told.collect()
}

/// Rows of the work without which nobody would see what Enter does.
fn needed(job: &Job, columns: usize) -> usize {
    match job.step().map(|step| &step.takes) {
        Some(Takes::Points(points)) if !job.is_step_settled() => points::marked_rows(job, points, columns),
        Some(Takes::Look) => look::MARKED,
        Some(
            Takes::Points(_) | Takes::Readings(_) | Takes::Soak { .. } | Takes::Words | Takes::Sign(_) | Takes::Tick,
        )
        | None => 0,
    }
}

/// What was said, in at most so many rows: the last of them says that it goes on.
pub fn shortened(pen: &mut Pen<'_>, (y, rows): (usize, usize), text: &str, tone: Tone) {
    let columns = pen.width().saturating_sub(4);
    let lines = wrap(text, columns);
    let more = lines.len() > rows;
    for (row, line) in lines.iter().enumerate().take(rows) {
        if more && row + 1 == rows {
            let rest = lines.get(row..).unwrap_or_default().join(" ");
            pen.cut_in((3, y + row), &rest, columns + 3, tone);
        } else {
            pen.put(3, y + row, line, tone);
        }
    }
}
