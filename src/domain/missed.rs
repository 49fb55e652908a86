//! A gauge that was checked on a piece of known size and misses by more than it is known for: what it read is in doubt.

use chrono::NaiveDate;

use super::entry::{Act, Entry};
use super::exact::Exact;
use super::figure::Figure;
use super::id::Id;
use super::inspection::Inspection;
use super::instrument::Instrument;
use super::unit::Unit;

/// What is odd about a check: corrected, it misses the piece by more than the expanded uncertainty of the calibration and
/// one step of the scale. The question, one sentence without its mark; none where nothing is odd or nothing is known.
pub fn odd(gauge: &Instrument, (piece, shows): (Figure, Figure), day: NaiveDate) -> Option<String> {
    let unit = piece.unit();
    let (is, shown) = (piece.to(unit)?, shows.to(unit)?);
    let off = (&(&shown + &gauge.correction(&shown, unit)?) - &is).abs();
    let known = gauge.calibration(day).and_then(|one| share_or_size(one.expanded, &is, unit));
    let step = gauge.resolution.and_then(|step| step.to(unit));
    let allowed = match (known, step) {
        (Some(known), Some(step)) => &known + &step,
        (Some(one), None) | (None, Some(one)) => one,
        (None, None) => return None,
    };
    (off > allowed)
        .then(|| format!("{} shows {shows} on {piece}, off by more than it is known for: is it so", gauge.id))
}

fn share_or_size(expanded: Figure, of: &Exact, unit: Unit) -> Option<Exact> {
    expanded.to(unit).or_else(|| Some(&expanded.to(Unit::One)? * of))
}

/// The gauge that a check in the record found missing.
pub fn by<'a>(inspection: &Inspection, entry: &'a Entry) -> Option<&'a Id> {
    let Act::GaugeCheck { gauge, piece, shows } = &entry.act else { return None };
    odd(inspection.gauge(gauge)?, (*piece, *shows), entry.at.date()).map(|_| gauge)
}
