//! Figures after the start that are worse than those before the stop, or of another load. Common practice, no source: asked
//! about, told, and no verdict.

use super::super::checklist::Worse;
use super::super::entry::{Act, Entry};
use super::super::exact::Exact;
use super::super::figure::Figure;
use super::super::gate::step_name;
use super::super::inspection::Inspection;
use super::super::progress;
use super::super::unit::{Dimension, Unit};
use super::pairs;

/// A temperature that has risen by so much is worse, in kelvin: a share of its degrees says nothing.
const WARMER: u32 = 15;

/// Whether a figure is worse than the one before it by more than a fifth of that one, a temperature by 15 K or more. Where
/// neither way is worse, as with the load and the speed at which all others compare, whether it is off by a twentieth.
pub fn is_off((before, now): (Figure, Figure), unit: Unit, worse: Option<Worse>) -> Option<bool> {
    let is_warmth = unit.dimension() == Dimension::Temperature;
    let unit = if is_warmth { Unit::Celsius } else { unit };
    let more = &now.to(unit)? - &before.to(unit)?;
    let (off, share) = match worse {
        Some(Worse::More) => (more, 5),
        Some(Worse::Less) => (-&more, 5),
        None => (more.abs(), 20),
    };
    let may_be = if is_warmth { WARMER.into() } else { &before.to(unit)?.abs() * &Exact::fraction(1, share)? };
    Some(if is_warmth { off >= may_be } else { off > may_be })
}

/// All of them, with what was said of them: who was not there learns that the machine runs worse than before.
pub fn told(inspection: &Inspection) -> Vec<String> {
    let mut told = Vec::new();
    for step in progress::steps(inspection) {
        let noted =
            |entry: &Entry| if let Act::Note { text, .. } = &entry.act { Some(format!("note: {text}")) } else { None };
        let off = pairs(inspection, step).into_iter().filter(super::Pair::is_off);
        told.extend(off.filter_map(|pair| pair.line()).map(|line| {
            let note = inspection.standing_entries_of(&step.id).rev().find_map(noted);
            let note = note.unwrap_or_else(|| "no note says why".to_owned());
            format!("{}, {}; {note}", step_name(inspection, step), line.words)
        }));
    }
    told
}
