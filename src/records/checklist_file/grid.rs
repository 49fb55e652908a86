//! Grids of places.

use crate::domain::checklist::{Against, Block, Grid, Order, Usual};
use crate::records::form::{Fields, ShapeRule, Slot, keys};
use crate::records::words::{count, figure, gauge_kind, name, order, text, unit as own_unit, worse};
use crate::records::yaml::Layout;

keys! {
    fn block -> Block, Flow {
        rows "rows" row text,
        across "across" row text,
    }
}

/// The places, repeats and figures of a step.
pub(super) fn grid(slot: &mut Slot<'_>, value: Option<&Grid>) -> Option<Grid> {
    slot.map(Layout::Block, |fields| {
        let unit = fields.need("unit", own_unit, value.map(|grid| &grid.unit));
        let or = fields.may("or", own_unit, value.map(|grid| &grid.or));
        let gauge = fields.need("gauge", gauge_kind, value.map(|grid| &grid.gauge));
        let blocks = blocks(fields, value.map(|grid| &grid.blocks));
        let repeats = value.map(|grid| Some(grid.repeats).filter(|repeats| *repeats != 1));
        let repeats = fields.may("repeats", count, repeats.as_ref());
        let figures = fields.row("figures", text, value.map(|grid| &grid.figures));
        let by = value.map(|grid| Some(grid.order).filter(|order| *order != Order::ByPlace));
        let by = fields.may("order", order, by.as_ref());
        let usual = fields.may("usual", usual_window, value.map(|grid| &grid.usual));
        let against = against(fields, value.map(|grid| &grid.against));
        let worse = fields.may("worse", worse, value.map(|grid| &grid.worse));
        let temperatures = fields.may("temperatures", text, value.map(|grid| &grid.temperatures));
        let units = fields.pairs("units", own_unit, value.map(|grid| &grid.units));
        Some(Grid {
            unit: unit?,
            or: or?,
            gauge: gauge?,
            blocks: blocks?,
            repeats: repeats?.unwrap_or(1),
            figures: figures?,
            order: by?.unwrap_or(Order::ByPlace),
            usual: usual?,
            against: against?,
            worse: worse?,
            temperatures: temperatures?,
            units: units?,
        })
    })
}

/// `compared with: running/boost`, or `must equal: fasteners/out`.
#[expect(clippy::option_option, reason = "a fault is not the same as a key left out")]
fn against(fields: &mut Fields<'_>, value: Option<&Option<Against>>) -> Option<Option<Against>> {
    let written =
        |which: fn(&Against) -> Option<&String>| value.map(|against| against.as_ref().and_then(which).cloned());
    let compared = written(|one| if let Against::Compared(step) = one { Some(step) } else { None });
    let equal = written(|one| if let Against::Equal(step) = one { Some(step) } else { None });
    let compared = fields.may("compared with", name, compared.as_ref())?;
    let equal = fields.may("must equal", name, equal.as_ref())?;
    fields.rule(ShapeRule::NotBoth("compared with", "must equal"));
    match (compared, equal) {
        (Some(_), Some(_)) => {
            let mend = "Keep `must equal` for counts, `compared with` for figures that are set side by side.";
            fields.fault("`compared with` and `must equal`", "one of the two", mend);
            None
        }
        (Some(step), None) => Some(Some(Against::Compared(step))),
        (None, equal) => Some(equal.map(Against::Equal)),
    }
}

keys! {
    fn usual_window -> Usual, Flow {
        from "from" need figure,
        to "to" may figure,
    }
}

/// `blocks`, or `places` for a single block without columns.
fn blocks(fields: &mut Fields<'_>, value: Option<&Vec<Block>>) -> Option<Vec<Block>> {
    let (places, written) = match value.map(Vec::as_slice) {
        Some([Block { rows, across }]) if across.is_empty() => (Some(rows.clone()), Some(Vec::new())),
        Some(blocks) => (Some(Vec::new()), Some(blocks.to_vec())),
        None => (None, None),
    };
    let places = fields.row("places", text, places.as_ref());
    let blocks = fields.list("blocks", block, written.as_ref());
    fields.rule(ShapeRule::ExactlyOne(vec!["places", "blocks"]));
    let (places, mut blocks) = (places?, blocks?);
    if places.is_empty() == blocks.is_empty() {
        fields.fault("a grid", "either `places` or `blocks`", "Name the places, in one way of the two.");
        return None;
    }
    if !places.is_empty() {
        blocks.push(Block { rows: places, across: Vec::new() });
    }
    Some(blocks)
}
