//! What a step judges: by a known reckoning, over a grid of the right shape and dimension.

use std::collections::BTreeSet;

use crate::domain::characteristic::Given;
use crate::domain::checklist::{Grid, Judged, Step, Takes};
use crate::records::yaml::nearest;

use super::Spot;

/// What a reckoning that a step can name wants of the step.
struct Binding {
    id: &'static str,
    /// Its results, where it has several.
    results: &'static [&'static str],
    /// How many figures a repeat has; none where it needs no grid.
    figures: Option<usize>,
    /// How many blocks its grid has at least.
    blocks: usize,
    /// Whether its result is of the dimension of the figures.
    same_dimension: bool,
    /// Figures of the machine that it needs.
    givens: &'static [&'static str],
}

const PLAIN: Binding = Binding { id: "", results: &[], figures: Some(1), blocks: 1, same_dimension: true, givens: &[] };

/// Grids are bound by position; labels are free.
const BINDINGS: &[Binding] = &[
    Binding { id: "lift/1", figures: Some(2), ..PLAIN },
    Binding { id: "repeats/1", ..PLAIN },
    Binding { id: "feelers/1", figures: Some(2), ..PLAIN },
    Binding { id: "wear/1", givens: &["bush.pin-width"], ..PLAIN },
    Binding {
        id: "lands/1",
        figures: Some(2),
        same_dimension: false,
        givens: &["thrust.taper", "thrust.flat", "thrust.closes-within"],
        ..PLAIN
    },
    Binding { id: "journal/1", results: &["step_wear", "ovality", "taper"], blocks: 2, ..PLAIN },
    Binding { id: "run-out/1", blocks: 2, ..PLAIN },
    Binding { id: "unbalance/1", ..PLAIN },
    Binding { id: "life/1", figures: None, blocks: 0, ..PLAIN },
];

fn binding(judged: &Judged) -> Option<&'static Binding> {
    BINDINGS.iter().find(|binding| binding.id == judged.reckoning)
}

pub(super) fn check(step: &Step, parts: &BTreeSet<&str>, spot: &mut Spot<'_>) {
    for (place, judged) in step.judges.iter().enumerate() {
        let at = ("judges", Some(place));
        let Some(binding) = binding(judged) else {
            let known = || BINDINGS.iter().map(|binding| binding.id);
            let mend = match nearest(&judged.reckoning, known()) {
                Some(near) => format!("Did you mean `{near}`?"),
                None => "Name the reckoning with its number.".to_owned(),
            };
            let expected = format!("one of {}", known().collect::<Vec<_>>().join(", "));
            spot.fault(at, &format!("the reckoning `{}`", judged.reckoning), &expected, &mend);
            continue;
        };
        check_part(judged, parts, at, spot);
        check_fit(judged, binding, at, spot);
        check_result(judged, binding, at, spot);
        match &step.takes {
            Takes::Readings(grid) => check_grid(judged, binding, grid, at, spot),
            Takes::Points(_) | Takes::Tick | Takes::Look | Takes::Soak { .. } | Takes::Words | Takes::Sign(_) => {
                if binding.figures.is_some() {
                    let found = format!("`{}` on a step that takes no readings", judged.reckoning);
                    spot.fault(
                        at,
                        &found,
                        "`takes: readings` with a grid",
                        "Take the line out, or give the step a grid.",
                    );
                }
            }
        }
        let same = |other: &&Judged| other.characteristic == judged.characteristic;
        if step.judges.iter().take(place).any(|other| same(&other)) {
            let found = format!("`{}` a second time", judged.characteristic.id());
            spot.fault(at, &found, "each characteristic once in a step", "Keep one of the two.");
        }
    }
}

fn check_part(judged: &Judged, parts: &BTreeSet<&str>, at: (&str, Option<usize>), spot: &mut Spot<'_>) {
    let part = judged.characteristic.part();
    if !parts.contains(part) {
        let found = format!("`{}`, whose part `{part}` is not there", judged.characteristic.id());
        spot.fault(at, &found, "a characteristic of a part of this checklist", "Put the part, or take the line out.");
    }
}

/// Only what yields the characteristic may judge it; which of several results is meant is looked at by itself.
fn check_fit(judged: &Judged, binding: &Binding, at: (&str, Option<usize>), spot: &mut Spot<'_>) {
    let one = judged.characteristic;
    let result = judged.result.as_deref().filter(|result| binding.results.contains(result));
    let named = |(name, _): &(&str, Option<&str>)| binding.id.split('/').next() == Some(*name);
    let fits = match result {
        Some(result) => one.is_reckoned_by(binding.id, Some(result)),
        None => one.reckonings().any(|by| named(&by)),
    };
    if !fits {
        let which = result.map_or_else(String::new, |result| format!(", result `{result}`"));
        let found = format!("`{}`{which}, which yields no {}", judged.reckoning, one.name());
        let fitting = one.reckonings().filter_map(|(name, result)| {
            let known = BINDINGS.iter().rev().find(|known| known.id.split('/').next() == Some(name))?;
            let result = result.filter(|_| !known.results.is_empty());
            Some(
                result.map_or_else(|| format!("`{}`", known.id), |result| format!("`{}`, result `{result}`", known.id)),
            )
        });
        let mut fitting: Vec<_> = fitting.collect();
        fitting.dedup();
        let mend = "Name the reckoning that yields it, or the characteristic that is meant.";
        spot.fault(at, &found, &fitting.join(" or "), mend);
    }
}

fn check_result(judged: &Judged, binding: &Binding, at: (&str, Option<usize>), spot: &mut Spot<'_>) {
    let result = judged.result.as_deref();
    let fine = match result {
        Some(result) => binding.results.contains(&result) || binding.id == "run-out/1" && result == "tir",
        None => binding.results.is_empty(),
    };
    if !fine {
        let expected = match binding.results {
            [] => "no `result`".to_owned(),
            results => format!("`result:` one of {}", results.join(", ")),
        };
        let found = result.map_or_else(|| "no `result`".to_owned(), |result| format!("the result `{result}`"));
        spot.fault(at, &found, &expected, &format!("Say which result of `{}` is judged.", binding.id));
    }
}

/// In one phase one step judges: of two figures for one thing nobody would know which counts.
pub(super) fn check_once(step: &Step, before: &[Step], spot: &mut Spot<'_>) {
    for (place, judged) in step.judges.iter().enumerate() {
        let judges = |other: &Step| other.judges.iter().any(|one| one.characteristic == judged.characteristic);
        let other = before.iter().find(|other| other.phase == step.phase && judges(other));
        if let Some(other) = other {
            let found = format!("`{}`, which `{}` judges in the same phase", judged.characteristic.id(), other.id);
            let mend = "Let one of the two judge it.";
            spot.fault(("judges", Some(place)), &found, "each characteristic once in a phase", mend);
        }
    }
}

/// Names of which the first reading is the larger one.
const WRONG_WAY: [(&str, &str); 3] = [("up", "down"), ("pulled", "pushed"), ("high", "low")];

fn check_grid(judged: &Judged, binding: &Binding, grid: &Grid, at: (&str, Option<usize>), spot: &mut Spot<'_>) {
    let id = binding.id;
    let figures = grid.figures.len().max(1);
    if let Some(wanted) = binding.figures.filter(|wanted| *wanted != figures) {
        let found = format!("{figures} figures a repeat for `{id}`");
        let mend = "Give the grid that many names under `figures`; a single figure has none.";
        spot.fault(at, &found, &format!("{wanted} figures a repeat"), mend);
    }
    if let [first, second] = grid.figures.as_slice()
        && id == "lift/1"
        && WRONG_WAY.contains(&(first.to_lowercase().as_str(), second.to_lowercase().as_str()))
    {
        let mend = "Turn them round: the clearance is the second less the first.";
        spot.fault(at, &format!("`{first}` before `{second}`"), "the smaller reading first", mend);
    }
    if grid.blocks.len() < binding.blocks {
        let found = format!("{} blocks for `{id}`", grid.blocks.len());
        let mend = "Put the first block for the zero or the unworn part, the second for the rest.";
        spot.fault(at, &found, &format!("{} blocks", binding.blocks), mend);
    }
    let (has, wants) = (grid.unit.dimension(), judged.characteristic.dimension());
    if binding.same_dimension && binding.figures.is_some() && has != wants {
        let found = format!("readings in {}, {}, for `{}`", grid.unit, has.one(), judged.characteristic.id());
        spot.fault(at, &found, &wants.one(), "Change the grid's unit or the characteristic.");
    }
}

/// Figures of the machine that the step's reckonings need.
pub(super) fn givens(step: &Step) -> impl Iterator<Item = Given> {
    let bindings = step.judges.iter().filter_map(binding);
    bindings.flat_map(|binding| binding.givens).filter_map(|name| Given::parse(name))
}
