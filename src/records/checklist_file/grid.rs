//! Grids of places.

use crate::domain::checklist::{Block, Grid, Order};
use crate::domain::figure::Figure;
use crate::records::form::{Fields, ShapeRule, Slot, keys};
use crate::records::words::{count, figure, gauge_kind, order, text, unit};
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
        let unit = fields.need("unit", unit, value.map(|grid| &grid.unit));
        let gauge = fields.need("gauge", gauge_kind, value.map(|grid| &grid.gauge));
        let blocks = blocks(fields, value.map(|grid| &grid.blocks));
        let repeats = value.map(|grid| Some(grid.repeats).filter(|repeats| *repeats != 1));
        let repeats = fields.may("repeats", count, repeats.as_ref());
        let figures = fields.row("figures", text, value.map(|grid| &grid.figures));
        let by = value.map(|grid| Some(grid.order).filter(|order| *order != Order::ByPlace));
        let by = fields.may("order", order, by.as_ref());
        let usual = fields.may("usual", window, value.map(|grid| &grid.usual));
        Some(Grid {
            unit: unit?,
            gauge: gauge?,
            blocks: blocks?,
            repeats: repeats?.unwrap_or(1),
            figures: figures?,
            order: by?.unwrap_or(Order::ByPlace),
            usual: usual?,
        })
    })
}

/// `{from: 10 degC, to: 50 degC}`.
fn window(slot: &mut Slot<'_>, value: Option<&(Figure, Figure)>) -> Option<(Figure, Figure)> {
    slot.map(Layout::Flow, |fields| {
        let from = fields.need("from", figure, value.map(|(from, _)| from));
        let to = fields.need("to", figure, value.map(|(_, to)| to));
        Some((from?, to?))
    })
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
