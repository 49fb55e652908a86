//! A sheet's figures of the machine: every name that steps and reckonings may ask for, filled or not.

use crate::domain::characteristic::Given;
use crate::records::edit::Path;
use crate::records::yaml::{Key, Layout, Node, What};

use super::cell::{Cell, Column, Grid, Row, To};
use super::change::scalar;
use super::{Paper, Remembered};

impl Paper {
    /// The item of a list under `key` whose `name_key` holds `name`.
    pub(super) fn item_named(&self, key: &str, name_key: &str, name: &str) -> Option<Path> {
        let items = self.root.get(key)?.items();
        let at = items.iter().position(|item| item.get(name_key).and_then(Node::as_text) == Some(name))?;
        Some(Path::root().key(key).item(at))
    }

    pub(super) fn given_at(&self, given: Given) -> Option<Path> {
        self.item_named("given", "name", given.name())
    }

    /// A figure of the machine, as typed.
    pub(super) fn put_given(&mut self, given: Given, typed: &str) -> Result<(), String> {
        let figure = Self::figure(typed, self.bare_of_given(given))?.to_string();
        if let Some(item) = self.given_at(given) {
            return self.put(&item.key("figure"), scalar(&figure, ""));
        }
        let pairs = vec![(Key::new("name"), scalar(given.name(), "text")), (Key::new("figure"), scalar(&figure, ""))];
        self.push(&Path::root().key("given"), Node::new(What::Map(Layout::Flow, pairs)))
    }

    /// Takes the whole line of a figure out.
    pub(super) fn take_given(&mut self, given: Given) -> Result<(), String> {
        self.given_at(given).map_or(Ok(()), |item| self.take(&item))
    }

    /// Where a figure stands in the manual.
    pub(super) fn put_given_source(&mut self, given: Given, typed: &str) -> Result<(), String> {
        let Some(item) = self.given_at(given) else { return Err("First the figure, then its source.".to_owned()) };
        let source = self.source(typed, self.bare_of_given(given))?;
        self.put(&item.key("source"), scalar(&source, "text"))?;
        self.last.insert(Remembered::Source, source);
        Ok(())
    }
}

pub(super) fn grid(paper: &Paper) -> Grid {
    let rows = Given::all().map(|given| {
        let item = paper.given_at(given);
        let said = |key: &str| item.as_ref().map(|item| paper.said(&item.key(key)).to_owned()).unwrap_or_default();
        let fault = |key: &str| item.as_ref().and_then(|item| paper.fault_at(&item.key(key)));
        let figure = Cell {
            hint: given.what().to_owned(),
            fault: fault("figure"),
            ..Cell::new(&said("figure"), To::Given(given))
        };
        let source = said("source");
        let source = Cell {
            hint: paper.source_hint(),
            fault: fault("source"),
            need: item.is_some().into(),
            way: item.is_some().into(),
            offer: paper.source_offer(),
            ..Cell::new(&paper.short_source(&source), To::GivenSource(given))
        };
        Row::named(given.plain(), vec![figure, source])
    });
    let column = |name: &str, width| Column { name: name.to_owned(), width };
    Grid {
        title: format!("{}: figures of the machine", paper.called()),
        columns: vec![column("figure", 14), column("where in the manual", 29)],
        rows: rows.collect(),
        told: vec!["What a step or a reckoning asks for and is not here stays open.".to_owned()],
    }
}
