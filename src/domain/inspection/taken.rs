//! A reading that counts.

use super::super::figure::Figure;
use super::super::id::Id;

/// The reading that counts at a place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Taken {
    /// Its entry.
    pub entry: u32,
    /// The figure as taken.
    pub figure: Figure,
    /// The gauge.
    pub gauge: Option<Id>,
    /// Whether a doubt was insisted on.
    pub doubted: Doubted,
}

/// Whether a doubt about a figure was insisted on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Doubted {
    /// Nothing was asked, or the figure was mended.
    No,
    /// Asked and insisted on: provisional.
    Yes,
}
