//! What a step reckons besides: a known reckoning, each of its keys from something that is there and of the right sort.

use crate::domain::characteristic::Given;
use crate::domain::checklist::{Ask, Checklist, Grid, Source, Step, Takes, Works};
use crate::domain::reckon::problem::Trouble;
use crate::domain::reckon::{FORMULAS, shape};
use crate::domain::unit::Unit;
use crate::records::yaml::nearest;

use super::Spot;

pub(super) fn check(step: &Step, checklist: &Checklist, spot: &mut Spot<'_>) {
    if let Takes::Readings(grid) = &step.takes {
        check_units(step, grid, spot);
    }
    for (place, works) in step.works.iter().enumerate() {
        check_one(step, works, checklist, (("works", Some(place)), &mut *spot));
    }
}

type At<'a, 'b> = ((&'static str, Option<usize>), &'a mut Spot<'b>);

fn check_one(step: &Step, works: &Works, checklist: &Checklist, (at, spot): At<'_, '_>) {
    let Some(formula) = works.formula() else {
        let ids: Vec<_> = FORMULAS.iter().map(crate::domain::reckon::Formula::id).collect();
        let mend = match nearest(&works.reckoning, ids.iter().map(String::as_str)) {
            Some(near) => format!("Did you mean `{near}`?"),
            None => "Name the reckoning with its number; `asfound reckon` lists them.".to_owned(),
        };
        let found = format!("the reckoning `{}`", works.reckoning);
        spot.fault(at, &found, &format!("one of {}", ids.join(", ")), &mend);
        return;
    };
    let mut sound = true;
    // a figure of each unit stands for those to come: keys, shapes and units are looked at as when figures are there
    let tree = works.tree(|source| {
        let sample = sample(step, checklist, source);
        if let Err((found, expected, mend)) = &sample {
            sound = false;
            spot.fault(at, found, expected, mend);
        }
        vec![sample.ok()]
    });
    if !sound {
        return;
    }
    let (_, problems) = shape::check(formula.keys, &tree);
    for problem in problems.iter().filter(|problem| problem.trouble != Trouble::OutOfRange) {
        let found = format!("`{}`, {problem}", works.reckoning);
        let mend = format!("`asfound reckon {} --help` shows its keys and units.", formula.name);
        spot.fault(at, &found, "its keys, each from a figure of its sort", &mend);
    }
}

/// What stands for the figure in the check, or why there is none: found, expected, how to mend.
fn sample(step: &Step, checklist: &Checklist, source: Source<'_>) -> Result<String, (String, String, String)> {
    let fault = |found: String, expected: &str, near: Option<&str>| {
        let mend = near.map_or_else(|| "Name one that is there.".to_owned(), |near| format!("Did you mean `{near}`?"));
        (found, expected.to_owned(), mend)
    };
    match source {
        Source::Fixed(text) => Ok(text.to_owned()),
        Source::Words { step: other } => {
            let of = other.map_or(Some(step), |id| checklist.step(id));
            let takes = of.is_some_and(|of| of.takes == Takes::Words);
            let fault = || fault("`words` of a step that takes none".to_owned(), "`takes: words`", None);
            if takes { Ok("words".to_owned()) } else { Err(fault()) }
        }
        Source::Given(name) => {
            let near = || nearest(name, Given::all().map(Given::name));
            let given = Given::parse(name).map(|given| one(given.unit()));
            given.ok_or_else(|| fault(format!("`{{{name}}}`"), "a figure of the machine that a sheet can give", near()))
        }
        Source::Each(detail) => {
            let sizes = || Ask::ALL.into_iter().filter(|ask| ask.unit().is_some()).map(Ask::word);
            let unit = Ask::parse(detail).and_then(Ask::unit).map(one);
            let what = "a detail of findings that is a size";
            unit.ok_or_else(|| fault(format!("`each {detail}`"), what, nearest(detail, sizes())))
        }
        Source::Uncertainty(name) => sample(step, checklist, Source::Place { step: None, name }),
        Source::Place { step: other, name } => {
            let of = other.map_or(Some(step), |id| checklist.step(id));
            let Some(of) = of else {
                let id = other.unwrap_or_default();
                let near = nearest(id, checklist.steps.iter().map(|step| step.id.as_str()));
                return Err(fault(format!("the step `{id}`"), "a step of this checklist", near));
            };
            let grid = if let Takes::Readings(grid) = &of.takes { Some(grid) } else { None };
            let cells = grid.map(|grid| grid.cells(None)).unwrap_or_default();
            let named = |cell: &&crate::domain::checklist::Cell| {
                cell.spot() == name || [&cell.across, &cell.figure].into_iter().flatten().any(|column| column == name)
            };
            match (grid, cells.iter().find(named)) {
                (Some(grid), Some(cell)) => Ok(one(grid.unit_of(cell))),
                (grid, _) => {
                    let names = grid.map(names).unwrap_or_default();
                    let near = nearest(name, names.iter().copied());
                    Err(fault(format!("`{name}`"), &format!("a place, column or figure of `{}`", of.id), near))
                }
            }
        }
    }
}

fn one(unit: Unit) -> String {
    crate::domain::figure::Figure::new(1.into(), unit).to_string()
}

/// Rows, columns and figures by their names.
fn names(grid: &Grid) -> Vec<&str> {
    let blocks = grid.blocks.iter().flat_map(|block| block.rows.iter().chain(&block.across));
    blocks.chain(&grid.figures).map(String::as_str).collect()
}

/// Units of their own: of something that is there, and of nothing that is judged.
fn check_units(step: &Step, grid: &Grid, spot: &mut Spot<'_>) {
    let names = names(grid);
    for unknown in grid.units.keys().filter(|name| !names.contains(&name.as_str())) {
        let mend = match nearest(unknown, names.iter().copied()) {
            Some(near) => format!("Did you mean `{near}`?"),
            None => "Take it out, or name what is in that unit.".to_owned(),
        };
        spot.fault(("grid", None), &format!("a unit for `{unknown}`"), "a row, column or figure of the grid", &mend);
    }
    if (!grid.units.is_empty() || grid.or.is_some()) && !step.judges.is_empty() {
        let mend = "Let a step of its own take what is not judged.";
        spot.fault(("grid", None), "units of their own in a grid that is judged", "one unit", mend);
    }
}
