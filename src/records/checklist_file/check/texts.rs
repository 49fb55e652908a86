//! Texts that fit their boxes on a screen of 80 by 24.

use crate::domain::checklist::{Grid, Part, Step, Takes};

use super::Spot;

/// Lines and characters a line of what to do.
const DO: (usize, usize) = (3, 76);
/// Lines and characters a line of why, how, and mistakes.
const MORE: (usize, usize) = (12, 74);
/// Characters of a caution, and of where it is seen from.
const ASIDE: usize = 74;
/// Characters of a title.
const TITLE: usize = 40;
/// Characters of a part's name, of its short one, of what may be seen on it, and of a point to confirm.
const NAME: usize = 42;
const SHORT: usize = 20;
const KIND: usize = 40;
const POINT: usize = 66;
/// Characters of a place as it is said before its field: `inner 0, third up`.
const PLACE: usize = 46;
/// Characters of words that are offered, and how many fit above the field.
const OFFER: usize = 40;
const OFFERS: usize = 8;

pub(super) fn check_part(part: &Part, spot: &mut Spot<'_>) {
    line(("name", None), &part.name, NAME, spot);
    line(("short", None), &part.short, SHORT, spot);
    for (place, finding) in part.findings.iter().enumerate() {
        for text in std::iter::once(&finding.kind).chain(finding.grades.iter().map(|grade| &grade.grade)) {
            line(("findings", Some(place)), text, KIND, spot);
        }
    }
}

/// The checklist's own title, which stands in lists and above papers.
pub(super) fn check_title(title: &str, spot: &mut Spot<'_>) {
    line(("title", None), title, TITLE, spot);
}

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
    for (place, text) in step.offers.iter().enumerate() {
        line(("offers", Some(place)), text, OFFER, spot);
    }
    if !step.offers.is_empty() && step.takes != Takes::Words || step.offers.len() > OFFERS {
        let mend = "Offer words where a sentence is taken, and no more than there are fingers.";
        let expected = format!("at most {OFFERS}, with `takes: words`");
        spot.fault(("offers", None), &format!("{} offers", step.offers.len()), &expected, mend);
    }
    if let Takes::Points(points) = &step.takes {
        for (place, point) in points.iter().enumerate() {
            line(("points", Some(place)), &point.text, POINT, spot);
        }
    }
    if let Takes::Readings(grid) = &step.takes {
        check_places(grid, spot);
    }
}

/// Row, column, repeat and figure together stand before the field.
fn check_places(grid: &Grid, spot: &mut Spot<'_>) {
    let mut grid = grid.clone();
    // how many a sheet gives of them does not lengthen their names
    for row in grid.blocks.iter_mut().flat_map(|block| &mut block.rows) {
        *row = row.split_once("..").map_or(row.as_str(), |(first, _)| first).to_owned();
    }
    let said = grid.cells(None).into_iter().map(|cell| cell.spoken());
    let Some(longest) = said.max_by_key(|said| said.chars().count()) else { return };
    let length = longest.chars().count();
    if length > PLACE {
        let found = format!("a place of {length} characters, `{longest}`");
        let mend = format!("Shorten its row, column or figure by {}: its field stands behind it.", length - PLACE);
        spot.fault(("grid", None), &found, &format!("at most {PLACE} characters"), &mend);
    }
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
    if text.chars().any(char::is_control) {
        spot.fault(key, "a control character", "letters, digits and signs", "Take it out: a terminal would obey it.");
    }
    let length = text.chars().count();
    if length > most {
        let mend = format!("Take out {}: the box on the screen holds no more.", length - most);
        spot.fault(key, &format!("{length} characters"), &expected, &mend);
    }
}
