//! Gaps by feelers: at each place the leaf that goes and the leaf that stops, a limit judged by the one on its side.

use super::super::judge::Side;
use super::super::reckon::budget::{Budget, Kind, Term, budget};
use super::super::reckon::feelers::{self, Gap};
use super::super::reckon::working::Working;
use super::known::of_leaves;
use super::places::{Read, shown, value_of};
use super::{Field, Measured, PlaceValue};

/// Two figures a place. Repeats widen the bracket: the thinnest that went, the thickest that stopped.
pub(super) fn feelers(field: &Field<'_>, mut measured: Measured) -> Measured {
    let unit = measured.unit;
    let mut working = Working::of(&feelers::FORMULA);
    for (spot, read) in field.complete_spots(unit) {
        let leaves = |first: bool| read.iter().filter(move |read| field.is_first_figure(&read.cell) == first);
        let sizes = |first| leaves(first).map(|read| &read.size);
        let (Some(goes), Some(stops)) = (sizes(true).min(), sizes(false).max()) else { continue };
        let gap = match feelers::feelers(goes, stops) {
            Ok(gap) => gap,
            Err(refusal) => {
                measured.faults.push(format!("{spot}: {}", refusal.what()));
                continue;
            }
        };
        let put_in = format!("goes {}, stops {} {unit}", shown(goes), shown(stops));
        let half = format!("half of what lies between {} {unit}", shown(&gap.half_width));
        working.step(spot.clone(), put_in, "", half);
        let variance = known(field, &read, &gap);
        for (value, side) in [(goes, Side::Lower), (stops, Side::Upper)] {
            let mut one = value_of(spot.clone(), value.clone(), variance.clone(), &read);
            one.side = Some(side);
            measured.values.push(one);
        }
    }
    measured.so_far.extend(alone_so_far(field));
    measured.left.extend(leaves_left(field));
    if measured.values.is_empty() {
        return measured;
    }
    working.say("a largest limit is judged by the leaf that stops, a smallest by the leaf that goes");
    let on = |side| measured.values.iter().filter(move |one| one.side == Some(side)).map(|one| &one.value);
    let ends = on(Side::Lower).min().zip(on(Side::Upper).max());
    let result = ends.map(|(goes, stops)| format!("at least {}, less than {} {unit}", shown(goes), shown(stops)));
    measured.working.push(working.resulting(result.unwrap_or_default()));
    measured
}

/// A leaf of a place where the other is not taken: the gap is at least as wide as what goes, and less than what stops.
fn alone_so_far(field: &Field<'_>) -> Vec<(Side, PlaceValue)> {
    let read = field.read(field.judged.characteristic.unit());
    let goes = |one: &Read| field.is_first_figure(&one.cell);
    let alone = |one: &&Read| {
        let is_other = |other: &Read| other.cell.spot() == one.cell.spot() && goes(other) != goes(one);
        !read.iter().any(is_other)
    };
    let value = |one: &Read| {
        let side = if goes(one) { Side::Upper } else { Side::Lower };
        (side, value_of(one.cell.spot(), one.size.clone(), None, std::slice::from_ref(one)))
    };
    read.iter().filter(alone).map(value).collect()
}

/// The leaf that a strike has left is judged as it was beside the other: what stops on the largest side, what goes on the
/// smallest. One that was tried since settles what it does alone.
fn leaves_left(field: &Field<'_>) -> Vec<(Side, PlaceValue)> {
    let value = |one: &Read| {
        let side = if field.is_first_figure(&one.cell) { Side::Lower } else { Side::Upper };
        let value = value_of(one.cell.spot(), one.size.clone(), None, std::slice::from_ref(one));
        (side, PlaceValue { side: Some(side), ..value })
    };
    let was_beside = |one: &&Read| {
        let mut others = field.cells.iter().filter(|cell| cell.spot() == one.cell.spot() && **cell != one.cell);
        others.any(|other| field.was_struck_after(other, one.taken.entry))
    };
    let left = field.short_spots(field.judged.characteristic.unit()).into_iter().flat_map(|short| short.left);
    left.collect::<Vec<_>>().iter().filter(was_beside).map(value).collect()
}

/// Uniform between the two leaves, and the certificate of the leaves. Source: JCGM 100:2008 4.3.7.
fn known(field: &Field<'_>, read: &[Read], gap: &Gap) -> Option<Budget> {
    let (expanded, k) = of_leaves(field.inspection, read, &gap.middle, field.judged.characteristic.unit())?;
    let bracket = Term::new("between the leaves", Kind::Uniform, gap.half_width.clone(), None);
    budget(vec![bracket, Term::new("leaves, expanded", Kind::Expanded { k }, expanded, None)]).ok()
}
