//! Which indications lie nearer to each other, edge to edge, than a gap.
#![expect(clippy::disallowed_types, reason = "distances between slanting lines are roots")]

use crate::domain::exact::Exact;
use crate::domain::reckon::quantity::{angle, float};

/// Distances in mm this near to the gap are the gap, which is not nearer: the rest is rounding.
const HAIR: f64 = 1e-9;

/// An indication on the surface; lengths in mm, the direction of its length in degrees.
///
/// Its outline is that of its length with half circles at the ends, as wide as the indication.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Lying {
    /// Longest extent.
    pub length: Exact,
    /// Extent across, at most the length.
    pub width: Exact,
    /// Of its middle.
    pub x: Exact,
    /// Of its middle.
    pub y: Exact,
    /// From x toward y.
    pub direction: Exact,
}

/// Indications that count as one.
#[derive(Debug, Clone, PartialEq)]
pub struct Group {
    /// Numbers from 1.
    pub members: Vec<usize>,
    /// The whole extent, edge to edge, in mm.
    pub length: f64,
}

type Point = (f64, f64);

/// The middle line of an outline, and half its width.
#[derive(Clone, Copy)]
struct Outline {
    ends: [Point; 2],
    radius: f64,
}

impl Outline {
    fn of(lying: &Lying) -> Self {
        let turned = angle(&lying.direction);
        let half = float(&(&lying.length - &lying.width)) / 2.0;
        let (along, across) = (half * turned.cos().value, half * turned.sin().value);
        let (x, y) = (float(&lying.x), float(&lying.y));
        Self { ends: [(x - along, y - across), (x + along, y + across)], radius: float(&lying.width) / 2.0 }
    }

    /// The clear distance; below zero where they overlap.
    fn gap_to(self, other: Self) -> f64 {
        let between = if cross(self.ends, other.ends) {
            0.0
        } else {
            let [a, b] = self.ends;
            let [c, d] = other.ends;
            let ways = [to_line(a, other.ends), to_line(b, other.ends), to_line(c, self.ends), to_line(d, self.ends)];
            ways.into_iter().fold(f64::INFINITY, f64::min)
        };
        between - self.radius - other.radius
    }

    /// The extent of both together.
    fn reach(self, other: Self) -> f64 {
        let ends = self.ends.iter().flat_map(|a| other.ends.iter().map(move |b| away(*a, *b)));
        ends.fold(0.0, f64::max) + self.radius + other.radius
    }
}

fn away(a: Point, b: Point) -> f64 {
    (a.0 - b.0).hypot(a.1 - b.1)
}

/// From a point to the nearest of a line between two ends.
fn to_line(point: Point, [from, to]: [Point; 2]) -> f64 {
    let (along, across) = (to.0 - from.0, to.1 - from.1);
    let whole = along * along + across * across;
    let share = if whole > 0.0 { ((point.0 - from.0) * along + (point.1 - from.1) * across) / whole } else { 0.0 };
    let share = share.clamp(0.0, 1.0);
    away(point, (from.0 + share * along, from.1 + share * across))
}

/// Whether two lines cross between their ends.
fn cross([a, b]: [Point; 2], [c, d]: [Point; 2]) -> bool {
    let turn = |o: Point, p: Point, q: Point| (p.0 - o.0) * (q.1 - o.1) - (p.1 - o.1) * (q.0 - o.0);
    turn(a, b, c) * turn(a, b, d) < 0.0 && turn(c, d, a) * turn(c, d, b) < 0.0
}

/// Which two lie nearer than `gap` mm, numbered from 1, and how near, edge to edge; overlapping ones at 0.
pub(super) fn near(lying: &[Lying], gap: &Exact) -> Vec<(usize, usize, f64)> {
    let outlines: Vec<_> = (1..).zip(lying.iter().map(Outline::of)).collect();
    let limit = float(gap) - HAIR;
    let pairs = outlines.iter().flat_map(|one| outlines.iter().map(move |other| (one, other)));
    let apart =
        pairs.filter(|(one, other)| one.0 < other.0).map(|(one, other)| (one.0, other.0, one.1.gap_to(other.1)));
    apart
        .filter(|(_, _, between)| *between < limit)
        .map(|(one, other, between)| (one, other, between.max(0.0)))
        .collect()
}

/// The groups of what lies nearer than `gap` mm, edge to edge, directly or through others; in the order of their first.
pub fn group(lying: &[Lying], gap: &Exact) -> Vec<Group> {
    let outlines: Vec<_> = lying.iter().map(Outline::of).collect();
    let near = float(gap) - HAIR;
    let mut groups: Vec<Vec<(usize, Outline)>> = Vec::new();
    for one in (1..).zip(outlines) {
        let touches = |group: &Vec<(usize, Outline)>| group.iter().any(|(_, other)| one.1.gap_to(*other) < near);
        let (joined, apart): (Vec<_>, Vec<_>) = groups.into_iter().partition(touches);
        let mut members: Vec<_> = joined.into_iter().flatten().collect();
        members.push(one);
        groups = apart;
        groups.push(members);
    }
    let mut groups: Vec<_> = groups.into_iter().map(whole).collect();
    groups.sort_by(|one, other| one.members.cmp(&other.members));
    groups
}

fn whole(mut outlines: Vec<(usize, Outline)>) -> Group {
    outlines.sort_by_key(|(number, _)| *number);
    let reaches = outlines.iter().flat_map(|(_, one)| outlines.iter().map(|(_, other)| one.reach(*other)));
    let length = reaches.fold(0.0, f64::max);
    Group { members: outlines.iter().map(|(number, _)| *number).collect(), length }
}
