//! Linear least squares with three unknowns by orthogonal columns: no normal equations, so no squared condition number.
#![expect(clippy::disallowed_types, reason = "a fit, not a verdict")]

/// A column this much shorter, once the earlier ones are taken out of it, holds nothing but rounding.
const NOTHING_LEFT: f64 = 1e-11;

/// An orthonormal base of three columns and how they were made.
pub(super) struct Base {
    columns: [Vec<f64>; 3],
    /// What each column held of itself and of the ones before it, row by row: a, ba, bb, ca, cb, cc.
    held: [f64; 6],
}

impl Base {
    /// The base of three columns of equal length; `None` when one follows from the others.
    pub(super) fn of([a, b, c]: [Vec<f64>; 3]) -> Option<Self> {
        let (a, aa) = unit(a.clone(), norm(&a))?;
        let (b, ba, was) = without(b, &a);
        let (b, bb) = unit(b, was)?;
        let (c, ca, was) = without(c, &a);
        let (c, cb, _) = without(c, &b);
        let (c, cc) = unit(c, was)?;
        Some(Self { columns: [a, b, c], held: [aa, ba, bb, ca, cb, cc] })
    }

    /// The three unknowns that bring the columns nearest to `wanted`.
    pub(super) fn solve(&self, wanted: &[f64]) -> [f64; 3] {
        let [a, b, c] = &self.columns;
        let [aa, ba, bb, ca, cb, cc] = self.held;
        let (rest, first, _) = without(wanted.to_vec(), a);
        let (rest, second, _) = without(rest, b);
        let third = dot(&rest, c) / cc;
        let second = (second - cb * third) / bb;
        [(first - ba * second - ca * third) / aa, second, third]
    }

    /// What the columns cannot say of `wanted`.
    pub(super) fn left_of(&self, wanted: &[f64]) -> Vec<f64> {
        self.columns.iter().fold(wanted.to_vec(), |left, column| without(left, column).0)
    }
}

/// `column` without its part along `unit`, that part, and how long the column was before. Taken out twice: once leaves
/// rounding behind.
fn without(column: Vec<f64>, unit: &[f64]) -> (Vec<f64>, f64, f64) {
    let was = norm(&column);
    let once = |column: Vec<f64>| {
        let part = dot(&column, unit);
        (column.iter().zip(unit).map(|(x, u)| x - part * u).collect::<Vec<_>>(), part)
    };
    let (column, first) = once(column);
    let (column, second) = once(column);
    (column, first + second, was)
}

fn unit(column: Vec<f64>, was: f64) -> Option<(Vec<f64>, f64)> {
    let size = norm(&column);
    (size > NOTHING_LEFT * was && size.is_finite()).then(|| (column.into_iter().map(|x| x / size).collect(), size))
}

pub(super) fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(x, y)| x * y).sum()
}

pub(super) fn norm(a: &[f64]) -> f64 {
    dot(a, a).sqrt()
}
