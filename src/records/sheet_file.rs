//! Limits sheets on the disk.

mod check;
mod level;

use std::collections::BTreeMap;

use crate::domain::characteristic::{Characteristic, Given};
use crate::domain::checklist::Checklist;
use crate::domain::sheet::{GivenFigure, Levels, Sheet};

use super::file::{self, Format};
use super::form::{Fields, Slot, keys};
use super::words::{characteristic, figure, given, id, judged_or_given, origin, text, yes_no};
use super::yaml::{Layout, Problems};

pub(super) use check::check as check_tree;
pub use level::levels;

/// A limits sheet's file.
pub const SHEET: Format<Sheet> = Format { remark: "asfound limits sheet", body: sheet };

/// Title and edition of a manual.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Named {
    title: String,
    edition: String,
}

/// A figure of the machine with its name.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct GivenLine {
    pub(super) name: Given,
    pub(super) figure: crate::domain::figure::Figure,
    pub(super) source: String,
}

/// A characteristic that the machine does not have.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Absent {
    characteristic: Characteristic,
    reason: String,
}

keys! {
    fn manual -> Named, Flow {
        title "title" need text,
        edition "edition" need text,
    }

    /// A figure of the machine: its name, how much, from where it is known.
    pub(super) fn given_line -> GivenLine, Flow {
        name "name" need given,
        figure "figure" need figure,
        source "source" need text,
    }

    fn absent_line -> Absent, Flow {
        characteristic "characteristic" need characteristic,
        reason "reason" need text,
    }
}

/// A limits sheet, as its file and a record hold it.
pub fn sheet(slot: &mut Slot<'_>, value: Option<&Sheet>) -> Option<Sheet> {
    slot.map(Layout::Block, |fields| {
        let id = fields.need("sheet", id, value.map(|sheet| &sheet.id));
        let origin = fields.need("origin", origin, value.map(|sheet| &sheet.origin));
        let named = value.map(|sheet| Named { title: sheet.manual.clone(), edition: sheet.edition.clone() });
        let named = fields.need("manual", manual, named.as_ref());
        let invented = fields.flag("invented", yes_no, value.map(|sheet| &sheet.invented));
        let entered_by = fields.row("entered by", text, value.map(|sheet| &sheet.entered_by));
        let changed = value.map(|sheet| sheet.changed_since.iter().cloned().collect());
        let changed_since = fields.row("changed since", judged_or_given, changed.as_ref());
        let changed_by = fields.row("changed by", text, value.map(|sheet| &sheet.changed_by));
        let given = givens(fields, value);
        let absent = absents(fields, value);
        let levels = levels_of(fields, value);
        let Named { title, edition } = named?;
        Some(Sheet {
            id: id?,
            origin: origin?,
            manual: title,
            edition,
            invented: invented?,
            entered_by: entered_by?,
            changed_since: changed_since?.into_iter().collect(),
            changed_by: changed_by?,
            given: given?,
            absent: absent?,
            levels: levels?,
        })
    })
}

fn givens(fields: &mut Fields<'_>, value: Option<&Sheet>) -> Option<BTreeMap<Given, GivenFigure>> {
    let lines = value.map(|sheet| {
        let line = |(name, line): (&Given, &GivenFigure)| GivenLine {
            name: *name,
            figure: line.figure,
            source: line.source.clone(),
        };
        sheet.given.iter().map(line).collect()
    });
    let lines = fields.list("given", given_line, lines.as_ref())?;
    let pairs = lines.into_iter().map(|line| (line.name, GivenFigure { figure: line.figure, source: line.source }));
    Some(once(fields, "given", pairs, Given::name))
}

fn absents(fields: &mut Fields<'_>, value: Option<&Sheet>) -> Option<BTreeMap<Characteristic, String>> {
    let lines = value.map(|sheet| {
        let line = |(one, reason): (&Characteristic, &String)| Absent { characteristic: *one, reason: reason.clone() };
        sheet.absent.iter().map(line).collect()
    });
    let lines = fields.list("absent", absent_line, lines.as_ref())?;
    let pairs = lines.into_iter().map(|line| (line.characteristic, line.reason));
    Some(once(fields, "absent", pairs, Characteristic::id))
}

fn levels_of(fields: &mut Fields<'_>, value: Option<&Sheet>) -> Option<BTreeMap<Characteristic, Levels>> {
    let lines = value.map(|sheet| sheet.levels.iter().map(|(one, levels)| (*one, levels.clone())).collect());
    let lines = fields.list("levels", levels, lines.as_ref())?;
    Some(once(fields, "levels", lines.into_iter(), Characteristic::id))
}

/// A map of lines of which none may come twice.
fn once<K: Ord + Copy, V>(
    fields: &mut Fields<'_>,
    key: &str,
    lines: impl Iterator<Item = (K, V)>,
    name: impl Fn(K) -> &'static str,
) -> BTreeMap<K, V> {
    let mut map = BTreeMap::new();
    for (place, (line, value)) in lines.enumerate() {
        if map.insert(line, value).is_some() {
            let found = format!("`{}` a second time", name(line));
            fields.fault_at_item((key, place), &found, "each once", "Keep one of the two.");
        }
    }
    map
}

/// Reads a sheet and checks that it holds together.
///
/// # Errors
/// Every fault.
pub fn read_sheet(file: &str, bytes: &[u8]) -> Result<Sheet, Problems> {
    file::read_checked(&SHEET, file, bytes, check::check)
}

/// What a sheet lacks for a checklist: figures of the machine that the grids' rows and the reckonings need.
pub fn lacks(file: &str, sheet: &Sheet, checklist: &Checklist) -> Problems {
    let mut problems = Problems::of(file);
    let missing = super::checklist_file::givens_wanted(checklist);
    for (given, step) in missing.into_iter().filter(|(given, _)| !sheet.given.contains_key(given)) {
        let found = format!("no figure `{}`", given.name());
        let expected = format!("{}, for the step `{step}`", given.what());
        let mend = format!("Put it under `given`: - {{name: {}, figure: ..., source: ...}}", given.name());
        problems.add(crate::records::yaml::At { line: 1, column: 1 }, found, expected, mend);
    }
    problems
}
