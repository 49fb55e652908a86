//! Every reckoning of the job: pure functions from figures to a result with its working.
//!
//! One file per reckoning: its typed function, which the steps of an inspection call, and its row of [`formula::FORMULAS`],
//! which drives `asfound reckon`, its help and docs/reckon.md. The only place where floats may be named; verdicts are
//! compared in [`judge`], exactly. `tree` comes in, `shape` checks it, `given` hands it over, `answer` and `working` go out.

pub mod answer;
pub mod bow;
pub mod budget;
pub mod capable;
pub mod circle;
pub mod conformity;
pub mod convert;
pub mod distribution;
pub mod due;
pub mod feelers;
pub mod fit;
pub mod forecast;
pub mod formula;
pub mod given;
pub mod guard;
mod impossible;
pub mod indication;
pub mod journal;
pub mod judge;
pub mod lands;
mod least_squares;
pub mod life;
pub mod lift;
pub mod line;
mod one_unit;
pub mod problem;
pub mod quantity;
pub mod relative_clearance;
pub mod repeats;
pub mod run_out;
pub mod shape;
pub mod shrink;
pub mod to_20;
pub mod told;
pub mod torque;
pub mod tree;
pub mod unbalance;
pub mod uncertainty;
pub mod vector;
pub mod wear;
pub mod working;

pub use answer::{Answer, Answers};
pub use formula::{FORMULAS, Formula, Outcome, Output};
pub use given::Given;
pub use problem::{Problem, Trouble};
pub use shape::{Key, Need, Range, Shape};
pub use tree::Tree;
pub use working::Working;

use crate::domain::exact::Exact;

/// The mean, exact; `None` of nothing.
pub(crate) fn mean(figures: &[Exact]) -> Option<Exact> {
    let sum: Exact = figures.iter().sum();
    let places = figures.iter().filter_map(Exact::shown_places).max().unwrap_or(0);
    Some(sum.over(&Exact::from(u32::try_from(figures.len()).ok()?))?.written(places))
}

/// Largest less smallest; `None` of nothing.
pub(crate) fn range(figures: &[Exact]) -> Option<Exact> {
    Some(figures.iter().max()? - figures.iter().min()?)
}

/// A figure behind a minus sign: `0.02`, but `(-0.071)`.
pub(crate) fn behind_sign(figure: &str) -> String {
    if figure.starts_with('-') { format!("({figure})") } else { figure.to_owned() }
}
