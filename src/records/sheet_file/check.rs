//! Whether a sheet holds together, said at the lines of its file.

use crate::domain::characteristic::{Characteristic, Given};
use crate::domain::figure::Figure;
use crate::domain::judge::{self, Side};
use crate::domain::sheet::{self, Amount, Levels, Sheet, Which};
use crate::domain::sides::is_level;
use crate::domain::unit::Dimension;
use crate::records::file::Read;
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
    fn bound(&self, level: Which, side: Side) -> String {
        let up = ["at or above", "above"];
        let down = ["at or below", "below"];
        let words = if (level == Which::New) == (side == Side::Upper) { down } else { up };
        let there = |word: &&str| self.line.get(level.word()).is_some_and(|node| node.get(word).is_some());
        words.into_iter().find(there).map_or_else(|| level.word().to_owned(), |word| format!("{}/{word}", level.word()))
    }
}

/// Every fault of a sheet, as far as it could be read.
pub(in crate::records) fn check(read: &Read<'_, Sheet>, problems: &mut Problems) {
    let Read { value: sheet, tree: root, whole } = *read;
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
        if is_level(&figure.source, given.unit()) {
            let fault = sheet::Fault::of_source(Which::New, &figure.source);
            Spot { line, problems: &mut *problems }.fault("source", &fault.found, &fault.expected, &fault.mend);
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
        // the size is there, and told as faulty already: what is chosen by it cannot be looked at
        let unread = |size: Given| {
            !sheet.given.contains_key(&size) && items(whole, "given").any(|(name, _)| name == size.name())
        };
        if !sizes(levels).any(unread) {
            check_levels(sheet, *one, levels, &mut spot);
        }
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

/// The sizes by which bounds are chosen.
fn sizes(levels: &Levels) -> impl Iterator<Item = Given> {
    let bounds = Which::ALL.into_iter().filter_map(|which| levels.of(which)).flat_map(judge::bounds);
    bounds.filter_map(|(bound, _)| match &bound.amount {
        Amount::BySize { size, .. } => Some(*size),
        Amount::Fixed(_) => None,
    })
}

fn check_levels(sheet: &Sheet, one: Characteristic, levels: &Levels, spot: &mut Spot<'_>) {
    for fault in sheet::faults(sheet, one, levels) {
        let key = match fault.side {
            Some(side) => spot.bound(fault.level, side),
            None => format!("{}/{}", fault.level.word(), fault.key),
        };
        spot.fault(&key, &fault.found, &fault.expected, &fault.mend);
    }
}

fn wrong_dimension(spot: &mut Spot<'_>, key: &str, figure: Figure, wanted: Dimension) {
    let (found, expected, mend) = sheet::Fault::of_dimension(figure, wanted);
    spot.fault(key, &found, &expected, mend);
}
