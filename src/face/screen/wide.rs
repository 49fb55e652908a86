//! At 120x40 and more: the step on the left, the list of parts with their verdicts and the why beside it.

use super::super::job::Job;
use super::super::look::Tone;
use super::super::pen::{Pen, width, wrap};
use super::super::shown;

/// ```text
/// | PARTS
/// | > bush, turbine      X replace  ? new part to check
/// |   shaft              ~ watch    > referred
/// |
/// | WHY
/// | ...
/// ```
pub fn view(pen: &mut Pen<'_>, job: &Job) {
    let bar = pen.glyphs().bar;
    for y in 0..pen.height() {
        pen.fill((0, y), 1, bar, Tone::Quiet);
    }
    let Some(step) = job.step() else { return };
    pen.put(2, 0, "PARTS", Tone::Strong);
    let here = pen.glyphs().here.to_string();
    let end = pen.width().saturating_sub(1);
    let mut y = 1;
    for part in job.standing.parts.iter().take(pen.height().saturating_sub(1)) {
        let mine = part.id == step.part;
        if mine {
            pen.put(1, y, &here, Tone::Key);
        }
        let (words, hold, tone) = shown::part_words(part);
        pen.cut_in((3, y), &part.short, WORDS, if mine { Tone::Strong } else { Tone::Plain });
        let x = pen.cut_in((WORDS, y), &words, end, tone);
        // every part has its mark in one column
        let x = if words.is_empty() { WORDS } else { x.max(WORDS + 8) + 1 };
        let count = part.verdict.holds.len();
        let sign = hold.chars().take(1).collect::<String>();
        let counted = if count == 1 { format!("{sign} 1 hold") } else { format!("{sign} {count} holds") };
        // beside a long verdict the mark stands alone with its number
        let least = format!("{sign} {count}");
        let hold = [hold, counted, least].into_iter().find(|words| x + width(words) <= pen.width()).unwrap_or_default();
        pen.put(x, y, &hold, Tone::Watch);
        y += 1;
    }
    let columns = pen.width().saturating_sub(3);
    for (title, lines) in [("WHY", &step.why), ("HOW", &step.how), ("USUAL MISTAKES", &step.mistakes)] {
        let lines = fitting(&lines.join(" "), columns, pen.height().saturating_sub(y + 2));
        y += 1;
        pen.put(2, y, title, Tone::Strong);
        y += 1;
        for line in lines {
            pen.put(2, y, &line, Tone::Plain);
            y += 1;
        }
    }
}

/// Where the verdict of a part stands, behind the longest short name.
const WORDS: usize = 21;

/// As many whole sentences as there are rows for; that more follow stands behind them.
fn fitting(text: &str, columns: usize, rows: usize) -> Vec<String> {
    let all = wrap(text, columns);
    if all.len() <= rows {
        return all;
    }
    let ends = text.match_indices(". ").map(|(at, _)| at + 1);
    let whole = ends.map(|end| wrap(text.get(..end).unwrap_or_default(), columns));
    let fits = whole.take_while(|lines| lines.len() < rows).last().unwrap_or_default();
    fits.into_iter().chain(["(more: Tab)".to_owned()]).collect()
}
