//! The first two lines of every screen of a record: whose, what is on the disk, and where one is.

use crate::domain::checklist::Step;
use crate::domain::gate;
use crate::domain::progress;

use super::super::super::job::Job;
use super::super::super::look::Tone;
use super::super::super::model::Model;
use super::super::super::pen::{Pen, width, wrap};

/// Columns from which on the first line holds everything: what waits beside the scene, and the scene's own words.
pub const HEADLINE: usize = 64;

/// The first line of every screen of a record: rotor, whether it exists, what is on the disk, the time.
pub fn header(pen: &mut Pen<'_>, model: &Model, job: &Job) {
    pen.right(1, 0, &model.now.stamp.clock(), Tone::Plain);
    headline(pen, job, (10, job.pending()));
}

/// The same without the time, so many columns from the right; what waits only where it has room.
pub fn headline(pen: &mut Pen<'_>, job: &Job, (margin, pending): (usize, Option<&str>)) {
    let head = job.inspection.head();
    let saved = job.saving.words();
    let tone = if job.saving.fault().is_some() { Tone::Alarm } else { Tone::Good };
    let mut end = pen.right(margin, 0, &saved, tone);
    let scene = head.scene.mark();
    if let Some(pending) = pending {
        // both stand on every screen: the scene says its first word alone
        for (words, tone) in [(Some(pending), Tone::Watch), (scene.map(first_word), Tone::Invented)] {
            let Some(words) = words else { continue };
            let margin = pen.width().saturating_sub(end) + 2;
            end = pen.right(margin, 0, words, tone);
        }
    } else if let Some(words) = scene {
        end = pen.centre(0, if pen.width() < HEADLINE { first_word(words) } else { words }, Tone::Invented);
    }
    let (id, checklist) = (&head.rotor.id, &head.checklist.id);
    let name = if pen.width() < HEADLINE { id.to_string() } else { format!("{id} {checklist}") };
    pen.cut_in((1, 0), &name, end.saturating_sub(1), Tone::Strong);
}

/// `INVENTED`, `PRACTICE`: where there is room for one word.
pub fn first_word(scene: &str) -> &str {
    scene.split([' ', ',']).next().unwrap_or_default()
}

/// Where one is, on the reversed line; says how many rows it takes: a narrow window may need a second one for the name.
pub fn place_line(pen: &mut Pen<'_>, y: usize, job: &Job) -> usize {
    let Some(step) = job.step() else { return 1 };
    let (number, of) = progress::position(&job.inspection, &step.id);
    let (phase, count) = (step.phase.title(), format!("{number} of {of}"));
    let all = [format!("{phase}, step {count}"), format!("{phase}, {count}"), count, number.to_string()];
    // the phase gives way to the name, and so do the others
    let room = |right: &str| pen.width().saturating_sub(width(right) + 4);
    let fits = |right: &&String| width(&name_in(job, step, room(right))) <= room(right);
    let [.., least] = &all;
    let right = all.iter().find(fits).unwrap_or(least);
    let name = name_in(job, step, room(right));
    let lines = wrap(&name, room(right));
    for (row, line) in lines.iter().enumerate() {
        pen.wash(y + row, Tone::Title);
        pen.put(1, y + row, line, Tone::Title);
    }
    pen.right(1, y + lines.len().saturating_sub(1), right, Tone::Title);
    lines.len()
}

/// Part and step; the part says its short name where the long one does not fit.
pub fn name_in(job: &Job, step: &Step, columns: usize) -> String {
    let name = gate::step_name(&job.inspection, step);
    let part = job.inspection.head().checklist.part(&step.part).filter(|_| width(&name) > columns);
    part.map_or(name, |part| format!("{} / {}", part.short, step.title))
}
