//! Texts that fit their boxes on a screen of 80 by 24.

use crate::domain::checklist::Step;

use super::Spot;

/// Lines and characters a line of what to do.
const DO: (usize, usize) = (3, 76);
/// Lines and characters a line of why, how, and mistakes.
const MORE: (usize, usize) = (12, 74);
/// Characters of a caution, and of where it is seen from.
const ASIDE: usize = 74;
/// Characters of a title.
const TITLE: usize = 40;

pub(super) fn check(step: &Step, spot: &mut Spot<'_>) {
    line(("title", None), &step.title, TITLE, spot);
    for (key, text) in [("caution", &step.caution), ("seen", &step.seen)] {
        if let Some(text) = text {
            line((key, None), text, ASIDE, spot);
        }
    }
    lines("do", &step.doing, DO, spot);
    lines("why", &step.why, MORE, spot);
    lines("how", &step.how, MORE, spot);
    lines("mistakes", &step.mistakes, MORE, spot);
}

fn lines(key: &str, texts: &[String], (most, width): (usize, usize), spot: &mut Spot<'_>) {
    for (place, text) in texts.iter().enumerate() {
        line((key, Some(place)), text, width, spot);
    }
    if texts.len() > most {
        let mend = format!("Take out {}: the box on the screen holds no more.", texts.len() - most);
        spot.fault((key, None), &format!("{} lines", texts.len()), &format!("at most {most} lines"), &mend);
    }
}

fn line(key: (&str, Option<usize>), text: &str, most: usize, spot: &mut Spot<'_>) {
    let expected = format!("one line of at most {most} characters");
    if text.contains('\n') {
        spot.fault(key, "several lines", &expected, "Write each on an item of its own.");
        return;
    }
    let length = text.chars().count();
    if length > most {
        let mend = format!("Take out {}: the box on the screen holds no more.", length - most);
        spot.fault(key, &format!("{length} characters"), &expected, &mend);
    }
}
