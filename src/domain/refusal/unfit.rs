//! A figure that the gauge in hand cannot show: which gauge can, and what the figure was perhaps meant to be.

use crate::domain::figure::Figure;

/// A figure outside a gauge's range.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unfit {
    /// The figure.
    pub figure: Figure,
    /// The gauge.
    pub gauge: String,
    /// Its smallest figure.
    pub low: Figure,
    /// Its largest figure.
    pub high: Figure,
    /// Another gauge of the kind that shows it: `M1 (50 to 75 mm)`.
    pub other: Option<String>,
    /// What would fit this one: `2.36 in, another unit`.
    pub meant: Option<String>,
    /// The gauge and the range in which it shows the figure, zeroed in the middle: `D2 -0.5 to 0.5 mm`.
    pub both_ways: Option<String>,
}

impl Unfit {
    /// `60.012 mm cannot be read on M-07 (25 to 50 mm).`
    pub(super) fn what(&self) -> String {
        format!("{} cannot be read on {}.", self.figure, range(&self.gauge, self.low, self.high))
    }

    /// How to mend it, one sentence.
    pub(super) fn mend(&self) -> String {
        if let Some(gauge) = &self.both_ways {
            return format!(
                "A dial zeroed at the mark reads both ways: as the gauge (Esc, other gauge) type {gauge}, then the figure."
            );
        }
        let take = self.other.as_deref().unwrap_or("a gauge of that range");
        let again = self.meant.as_ref().map_or_else(String::new, |meant| format!(": was it {meant}"));
        let end = if self.meant.is_some() { "?" } else { "." };
        format!("Take {take} (Esc, other gauge), or type the figure again{again}{end}")
    }
}

/// `M-07 (25 to 50 mm)`.
pub fn range(gauge: &str, low: Figure, high: Figure) -> String {
    format!("{gauge} ({} to {high})", low.decimal())
}
