//! Lands of a taper-land thrust ring: ratio of taper to flat, depth worn off, and whether the wear is square.
//!
//! Wear takes an even depth off the ring: the flat grows, the taper shrinks by as much, their sum stays. The ratio does
//! not fall evenly with wear, the flat's length grows evenly; trends run on the flat. Source: plane geometry.

use super::formula::{Formula, Outcome, Output};
use super::given::Given;
use super::impossible::{idle, not_less};
use super::problem::Problem;
use super::shape::{Key, Range, Shape};
use crate::domain::exact::Exact;
use crate::domain::refusal::RefusalKind;
use crate::domain::unit::Unit;

mod shown;

pub use shown::tell_ring;
mod tilt;

pub use tilt::Tilt;

/// Lengths of one land along the mean diameter, in mm.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Land {
    /// `Lt`.
    pub taper: Exact,
    /// `Lf`, above zero.
    pub flat: Exact,
}

/// A land as new, in mm.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NewLand {
    /// `Lt0`, above zero.
    pub taper: Exact,
    /// `Lf0`.
    pub flat: Exact,
    /// `d0`, depth of the taper at its deep end.
    pub depth: Exact,
}

/// A land where its ratio meets the limit, in mm.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct AtLimit {
    /// Length of the flat there.
    pub flat: Exact,
    /// Depth worn off there.
    pub depth: Exact,
}

/// The worst land.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Worst {
    /// Its number, from 1.
    pub land: usize,
    /// Its ratio, the smallest of all; the first of equals.
    pub ratio: Exact,
}

impl Land {
    /// `Lt / Lf`, exact; `None` without a flat.
    pub fn ratio(&self) -> Option<Exact> {
        self.taper.over(&self.flat)
    }

    /// Standard uncertainty of the ratio when both lengths share an edge known to `u_edge`: `u_edge (Lt + Lf) / Lf^2`.
    pub fn u_ratio(&self, u_edge: &Exact) -> Option<Exact> {
        (u_edge * &(&self.taper + &self.flat)).over(&(&self.flat * &self.flat))
    }
}

impl NewLand {
    /// Depth worn off when the flat is `flat` long: `d0 (Lf - Lf0) / Lt0`, in mm; `None` for a new land without taper.
    pub fn depth_at(&self, flat: &Exact) -> Option<Exact> {
        (&self.depth * &(flat - &self.flat)).over(&self.taper)
    }

    /// Whether taper and flat of a land add up to those of the new ring, to within `within`; if not, it was misread.
    pub fn closes(&self, land: &Land, within: &Exact) -> bool {
        let off = &(&land.taper + &land.flat) - &(&self.taper + &self.flat);
        &off.abs() <= within
    }

    /// The flat whose ratio is `ratio`, and its depth. The turning point of every trend.
    pub fn at_limit(&self, ratio: &Exact) -> Option<AtLimit> {
        let flat = flat_of(&(&self.taper + &self.flat), ratio)?;
        Some(AtLimit { depth: self.depth_at(&flat)?, flat })
    }
}

/// The flat whose ratio is `ratio` on a land that is `whole` long: `(Lt0 + Lf0) / (1 + ratio)`; the sum of both stays.
pub fn flat_of(whole: &Exact, ratio: &Exact) -> Option<Exact> {
    whole.over(&(&Exact::from(1) + ratio))
}

/// The land with the smallest ratio; lands are compared by cross-multiplication.
///
/// # Errors
/// `TooFew` without a land; `NoAnswer` for a land without a flat.
pub fn worst(lands: &[Land]) -> Result<Worst, RefusalKind> {
    let mut worst: Option<Worst> = None;
    for (land, lengths) in (1..).zip(lands) {
        let ratio = lengths.ratio().ok_or_else(|| RefusalKind::NoAnswer {
            why: format!("Land {land} has no flat."),
            mend: "Measure the flat along the mean diameter.",
        })?;
        if worst.as_ref().is_none_or(|worst| ratio < worst.ratio) {
            worst = Some(Worst { land, ratio });
        }
    }
    worst.ok_or(RefusalKind::TooFew { what: "lands", given: 0, needed: 1 })
}

const LENGTH: Shape = Shape::Figure(Unit::Millimetre, Range::NotNegative);
const ABOVE_ZERO: Shape = Shape::Figure(Unit::Millimetre, Range::Positive);

/// `lands/1`.
pub const FORMULA: Formula = Formula {
    name: "lands",
    number: 1,
    purpose: "taper over flat of a thrust ring's lands, the worst counts",
    keys: &[
        Key::required(
            "lands",
            Shape::List(&Shape::Map(&[
                Key::required("taper", LENGTH, "length of the taper, Lt"),
                Key::required("flat", ABOVE_ZERO, "length of the flat, Lf"),
            ])),
            "the lands around the ring, in order",
        ),
        Key::optional(
            "new",
            Shape::Map(&[
                Key::required("taper", ABOVE_ZERO, "Lt0"),
                Key::required("flat", ABOVE_ZERO, "Lf0"),
                Key::required("depth", ABOVE_ZERO, "d0, depth of the taper at its deep end"),
            ]),
            "a land of the new ring",
        ),
        Key::optional("limit", Shape::Figure(Unit::One, Range::NotNegative), "smallest ratio"),
        Key::optional("u_edge", LENGTH, "standard uncertainty of an edge of the print"),
        Key::optional("closes_within", LENGTH, "by how much taper + flat may miss those of the new ring"),
    ],
    outputs: &[
        Output::new("lands: ratio, sum_closes, depth", "1, -, mm", "each land; depth is what has worn off"),
        Output::new("worst: land, ratio", "", "number of the land with the smallest ratio, and it"),
        Output::new("u_ratio", "1", "standard uncertainty of the worst ratio"),
        Output::new(
            "tilt: amount, direction",
            "mm, deg",
            "first harmonic of the depth around the ring; land 1 is at 0",
        ),
        Output::new("at_limit: flat, depth", "mm", "where the ratio meets the limit"),
    ],
    source: "plane geometry, similar triangles",
    example: &[
        "lands=[{taper: 14, flat: 6}, {taper: 12, flat: 8}, {taper: 14, flat: 6}, {taper: 16, flat: 4}]",
        "new={taper: 16, flat: 4, depth: 40 um}",
        "limit=1",
        "u_edge=0.3",
        "closes_within=0.5",
    ],
    expected: &[
        ("lands.0.ratio_exact", "7/3"),
        ("worst.land", "2"),
        ("worst.ratio", "1.5"),
        ("u_ratio", "0.09375"),
        ("at_limit.flat", "10"),
        ("at_limit.depth", "0.015"),
    ],
    impossible,
    reckon,
};

fn impossible(given: &Given) -> Vec<Problem> {
    match given.map_if("new") {
        Some(new) => not_less(new, "depth", "taper").into_iter().collect(),
        None if given.is_typed("new") => Vec::new(),
        None => idle(given, "closes_within", "the new ring is not").into_iter().collect(),
    }
}

fn reckon(given: &Given) -> Result<Outcome, Vec<Problem>> {
    let mut lands = Vec::new();
    for map in given.maps("lands")? {
        lands.push(Land { taper: map.figure("taper")?, flat: map.figure("flat")? });
    }
    let new = match given.map_if("new") {
        Some(map) => {
            Some(NewLand { taper: map.figure("taper")?, flat: map.figure("flat")?, depth: map.figure("depth")? })
        }
        None => None,
    };
    let ring = shown::Ring {
        worst: worst(&lands)?,
        lands,
        new,
        limit: given.figure_if("limit"),
        u_edge: given.figure_if("u_edge"),
        closes_within: given.figure_if("closes_within"),
    };
    Ok(Outcome { answers: ring.answers(), working: ring.working() })
}
