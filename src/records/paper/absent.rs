//! What the machine of a sheet does not have: everything judged, part by part under its name; a reason marks it.

use crate::domain::characteristic::Characteristic;
use crate::records::edit::Path;
use crate::records::yaml::{Key, Layout, Node, What};

use super::Paper;
use super::cell::{Cell, Column, Grid, Row, To};
use super::change::scalar;
use super::levels::by_part;

impl Paper {
    pub(super) fn absent_at(&self, one: Characteristic) -> Option<Path> {
        self.item_named("absent", "characteristic", one.id())
    }

    /// Whether the machine does not have it.
    pub(super) fn is_absent(&self, one: Characteristic) -> bool {
        self.absent_at(one).is_some()
    }

    /// Puts why the machine does not have it.
    pub(super) fn put_absent(&mut self, one: Characteristic, reason: &str) -> Result<(), String> {
        if self.characteristic_at(one).is_some() {
            return Err(format!(
                "The {} has levels here. Take them out first: levels, - in the first column.",
                one.name()
            ));
        }
        if let Some(item) = self.absent_at(one) {
            return self.put(&item.key("reason"), scalar(reason, "text"));
        }
        let pairs =
            vec![(Key::new("characteristic"), scalar(one.id(), "text")), (Key::new("reason"), scalar(reason, "text"))];
        self.push(&Path::root().key("absent"), Node::new(What::Map(Layout::Flow, pairs)))
    }

    /// The machine has it after all.
    pub(super) fn take_absent(&mut self, one: Characteristic) -> Result<(), String> {
        self.absent_at(one).map_or(Ok(()), |item| self.take(&item))
    }
}

pub(super) fn grid(paper: &Paper) -> Grid {
    let mut part = "";
    let row = |one: Characteristic| {
        let item = paper.absent_at(one);
        let reason = item.as_ref().map(|item| paper.said(&item.key("reason"))).unwrap_or_default();
        let cell = Cell {
            hint: "why this machine has none; empty: it has it".to_owned(),
            fault: item.as_ref().and_then(|item| paper.fault_at(item)),
            ..Cell::new(reason, To::Absent(one))
        };
        let of = paper.beside.part_name(one.part());
        let group = (one.part() != part).then(|| of.to_owned());
        part = one.part();
        Row { group, called: format!("{of}: {}", one.name()), ..Row::named(one.name(), vec![cell]) }
    };
    Grid {
        title: format!("{}: not on this machine", paper.called()),
        columns: vec![Column { name: String::new(), width: 40 }],
        rows: by_part().into_iter().map(row).collect(),
        told: vec!["What stands here is asked for at no step and has no levels.".to_owned()],
    }
}
