//! Whether a sheet holds together: dimensions, bands that join, an order of levels that can be met.

use crate::domain::characteristic::{Characteristic, Given};
use crate::domain::exact::Exact;
use crate::domain::figure::Figure;
use crate::domain::judge::Side;
use crate::domain::sheet::{Amount, Bound, Level, Levels, Sheet};
use crate::domain::unit::Dimension;
use crate::domain::verdict::Consequence;
use crate::records::yaml::{Node, Problems};

/// Says what is wrong somewhere under one characteristic.
struct Spot<'a> {
    line: &'a Node,
    problems: &'a mut Problems,
}

impl Spot<'_> {
    /// A fault at `key`, or at `key/key` below it; where that is not there, at the next one above.
    fn fault(&mut self, key: &str, found: &str, expected: &str, mend: &str) {
        let mut node = self.line;
        for key in key.split('/') {
            node = node.get(key).unwrap_or(node);
        }
        self.problems.add(node.at, found, expected, mend);
    }

    /// Where a bound of a level stands: `limit/above`. The words of `new` say what is allowed, the others what fails.
    fn bound(&self, level: &str, side: Side) -> String {
        let up = ["at or above", "above"];
        let down = ["at or below", "below"];
        let words = if (level == "new") == (side == Side::Upper) { down } else { up };
        let there = |word: &&str| self.line.get(level).is_some_and(|node| node.get(word).is_some());
        words.into_iter().find(there).map_or_else(|| level.to_owned(), |word| format!("{level}/{word}"))
    }
}

/// Every fault of a sheet; `root` is the tree it was read from.
pub(in crate::records) fn check(sheet: &Sheet, root: &Node, problems: &mut Problems) {
    for (name, line) in items(root, "given") {
        let Some((given, figure)) = sheet.given.iter().find(|(given, _)| given.name() == name) else { continue };
        let wanted = given.unit().dimension();
        if figure.figure.dimension() != wanted {
            let mut spot = Spot { line, problems: &mut *problems };
            wrong_dimension(&mut spot, "figure", figure.figure, wanted);
        } else if given.is_count() && !figure.figure.is_count() {
            let mut spot = Spot { line, problems: &mut *problems };
            spot.fault("figure", &format!("`{}`", figure.figure), "a whole number", "Count them.");
        } else if let Some((found, expected)) = impossible(*given, figure.figure) {
            let mut spot = Spot { line, problems: &mut *problems };
            spot.fault("figure", &found, &expected, "Look at the figure in the manual.");
        }
    }
    if sheet.enterers().len() < sheet.entered_by.len() {
        let at = root.get("entered by").map_or(root.at, |node| node.at);
        let mend = "Keep one: the same person twice has checked nothing.";
        problems.add(at, "somebody who entered it twice", "each person once", mend);
    }
    for (name, line) in items(root, "levels") {
        let Some((one, levels)) = sheet.levels.iter().find(|(one, _)| one.id() == name) else { continue };
        let mut spot = Spot { line, problems: &mut *problems };
        if sheet.absent.contains_key(one) {
            let found = format!("`{name}`, which is also under `absent`");
            spot.fault("characteristic", &found, "one of the two", "Take it out here or there.");
        }
        check_levels(sheet, *one, levels, &mut spot);
    }
}

/// What no machine can have: as found, and as expected.
fn impossible(given: Given, figure: Figure) -> Option<(String, String)> {
    let expected = figure.to(given.unit()).and(given.expected_instead(figure))?;
    Some((format!("{}: {figure}", given.what()), expected.to_owned()))
}

/// Items of a list with the name each carries first.
fn items<'a>(root: &'a Node, key: &str) -> impl Iterator<Item = (&'a str, &'a Node)> {
    let items = root.get(key).map(Node::items).unwrap_or_default();
    items.iter().filter_map(|item| {
        let name = item.get("name").or_else(|| item.get("characteristic"))?;
        Some((name.as_text()?, item))
    })
}

fn check_levels(sheet: &Sheet, one: Characteristic, levels: &Levels, spot: &mut Spot<'_>) {
    let named = [("new", &levels.new), ("alert", &levels.alert), ("limit", &levels.limit)];
    let mut fine = true;
    for (key, level) in named {
        if level.as_ref().is_some_and(|level| level.leads_to() == Consequence::Nothing) {
            let mend = "What is past a level is never called good: write watch, refer, rework or replace.";
            spot.fault(&format!("{key}/leads to"), "a level that leads to nothing", "watch or graver", mend);
        }
        let sides = |level: &'_ Level| [(Side::Upper, level.upper().cloned()), (Side::Lower, level.lower().cloned())];
        for (side, bound) in level.iter().flat_map(sides) {
            if let Some(bound) = bound {
                let key = spot.bound(key, side);
                fine &= check_bound(sheet, &key, one, &bound, spot);
            }
        }
    }
    // figures of another dimension cannot be compared
    if fine {
        for (key, level) in named {
            if let Some(level) = level {
                check_sides(sheet, key, one, level, spot);
            }
        }
        check_order(sheet, one, levels, spot);
    }
}

fn wrong_dimension(spot: &mut Spot<'_>, key: &str, figure: Figure, wanted: Dimension) {
    let found = format!("`{figure}`, a {}", figure.dimension().word());
    let mend = "Put the unit behind the figure, one of that kind.";
    spot.fault(key, &found, &format!("a {}", wanted.word()), mend);
}

/// Whether every figure of a bound is of the right dimension, and the machine falls into a band.
fn check_bound(sheet: &Sheet, key: &str, one: Characteristic, bound: &Bound, spot: &mut Spot<'_>) -> bool {
    let figures: Vec<Figure> = match &bound.amount {
        Amount::Fixed(figure) => vec![*figure],
        Amount::BySize { bands, .. } => bands.iter().map(|band| band.figure).collect(),
    };
    let wrong = figures.iter().find(|figure| figure.dimension() != one.dimension());
    if let Some(figure) = wrong {
        wrong_dimension(spot, key, *figure, one.dimension());
    }
    let Amount::BySize { size, .. } = &bound.amount else { return wrong.is_none() };
    if sheet.amount(&bound.amount).is_none() {
        let found = match sheet.given.get(size) {
            Some(given) => format!("bands that leave out {} {}", size.name(), given.figure),
            None => format!("bands by `{}`, which the sheet does not give", size.name()),
        };
        let mend = format!("Put `{}` under `given` with a figure that falls into a band.", size.name());
        spot.fault(key, &found, "a limit that can be reached", &mend);
        return false;
    }
    wrong.is_none()
}

/// A bound's size on this machine, in the characteristic's unit.
fn size(sheet: &Sheet, one: Characteristic, bound: Option<&Bound>) -> Option<Exact> {
    sheet.amount(&bound?.amount)?.to(one.unit())
}

/// Between two bounds of one level there is room; nothing fails below nothing.
fn check_sides(sheet: &Sheet, key: &str, one: Characteristic, level: &Level, spot: &mut Spot<'_>) {
    let (upper, lower) = (size(sheet, one, level.upper()), size(sheet, one, level.lower()));
    if let (Some(upper), Some(lower)) = (&upper, &lower)
        && lower > upper
    {
        let found = format!("nothing between the lower bound {lower} and the upper bound {upper}");
        spot.fault(
            &spot.bound(key, Side::Lower),
            &found,
            "room between the two",
            "Look whether the two are the wrong way round.",
        );
    }
    let fails_below_nothing = key != "new" && lower.is_some_and(|lower| lower.is_zero() || lower.is_negative());
    if fails_below_nothing && one.dimension() != Dimension::Temperature {
        let found = "a lower bound that no figure can fall below";
        spot.fault(
            &spot.bound(key, Side::Lower),
            found,
            "a limit that can be reached",
            "Put a figure above 0, or take this side out.",
        );
    }
    if upper.is_some_and(|upper| upper.is_negative()) {
        spot.fault(&spot.bound(key, Side::Upper), "an upper bound below 0", "a figure above 0", "Look at its sign.");
    }
}

/// Seen from the new range: first alert, then limit, on each side.
fn check_order(sheet: &Sheet, one: Characteristic, levels: &Levels, spot: &mut Spot<'_>) {
    let sides = [(Side::Upper, "above", std::cmp::Ordering::Greater), (Side::Lower, "below", std::cmp::Ordering::Less)];
    for (side, word, beyond) in sides {
        let bound = |level: &'_ Level| match side {
            Side::Upper => level.upper().cloned(),
            Side::Lower => level.lower().cloned(),
        };
        let size = |level: &Option<Level>| size(sheet, one, level.as_ref().and_then(bound).as_ref());
        let (new, alert, limit) = (size(&levels.new), size(&levels.alert), size(&levels.limit));
        let mend = "Look whether the two figures are the wrong way round.";
        if let (Some(alert), Some(limit)) = (&alert, &limit)
            && alert.cmp(limit) == beyond
        {
            let found = format!("an alert at {alert}, {word} the limit at {limit}");
            spot.fault(&spot.bound("alert", side), &found, "an alert that comes before the limit", mend);
        }
        if let (Some(new), Some(limit)) = (&new, &limit)
            && new.cmp(limit) == beyond
        {
            let found = format!("a new range that goes to {new}, {word} the limit at {limit}");
            spot.fault(&spot.bound("new", side), &found, "a new range inside the limit", mend);
        }
    }
}
