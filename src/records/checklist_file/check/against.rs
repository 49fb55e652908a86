//! Figures that stand against those of an earlier step: it is there, comes first, and has the same places.

use crate::domain::checklist::{Against, Checklist, Grid, Step, Takes};
use crate::records::yaml::nearest;

use super::Spot;

pub(super) fn check(step: &Step, checklist: &Checklist, spot: &mut Spot<'_>) {
    let Takes::Readings(grid) = &step.takes else { return };
    if grid.worse.is_some() && !matches!(grid.against, Some(Against::Compared(_))) {
        let mend = "Add `compared with`, or take `worse` out.";
        spot.fault(("grid", None), "`worse` without `compared with`", "the step whose figures are meant", mend);
    }
    let Some(against) = &grid.against else { return };
    let key = match against {
        Against::Compared(_) => "compared with",
        Against::Equal(_) => "must equal",
    };
    let mut fault = |found: &str, expected: &str, mend: &str| {
        spot.fault(("grid", None), &format!("`{key}: {}`, {found}", against.step()), expected, mend);
    };
    let Some(earlier) = checklist.step(against.step()) else {
        let near = nearest(against.step(), checklist.steps.iter().map(|step| step.id.as_str()));
        let mend =
            near.map_or_else(|| "Take it out, or write the step.".to_owned(), |near| format!("Did you mean `{near}`?"));
        fault("which is not there", "a step of this checklist", &mend);
        return;
    };
    let Takes::Readings(other) = &earlier.takes else {
        fault("which takes no readings", "a step with a grid", "Name the step whose figures are meant.");
        return;
    };
    if earlier.phase > step.phase || earlier.id == step.id {
        fault("which does not come before", "an earlier step", "Name a step of the same phase or before.");
    }
    if other.unit.dimension() != grid.unit.dimension() || places(other) != places(grid) {
        fault("whose grid is another", "the same places and the same sort of unit", "Give both grids the same places.");
    }
}

fn places(grid: &Grid) -> Vec<String> {
    grid.cells(None).iter().map(crate::domain::checklist::Cell::place).collect()
}
