//! The unit that a figure typed without one gets: told beside the field before anything is typed, so that it never comes
//! as a surprise.

use std::collections::BTreeSet;

use crate::domain::characteristic::{Characteristic, Given};
use crate::domain::figure::Figure;
use crate::domain::instrument::GaugeKind;
use crate::domain::sheet::{Sheet, most_used};
use crate::domain::unit::Unit;
use crate::records::edit::{Path, Step};
use crate::records::form::Shape;
use crate::records::yaml::{Node, What};

use super::{Kind, Paper, To};

/// The sizes that a table of bands goes by.
const SIZES: [&str; 2] = ["over", "up to"];

/// Whether a figure is typed where the reader expects this.
pub(super) fn is_figure(expected: &str) -> bool {
    ["a figure", "hours"].iter().any(|begins| expected.starts_with(begins))
}

/// Every figure below a node, under keys that are wanted.
fn figures(node: &Node, wanted: &dyn Fn(&str) -> bool, found: &mut Vec<Figure>) {
    match &node.what {
        What::Text(text, _) => found.extend(text.parse::<Figure>()),
        What::List(_, items) => items.iter().for_each(|item| figures(item, wanted, found)),
        What::Map(_, pairs) => {
            let pairs = pairs.iter().filter(|(key, _)| wanted(&key.text));
            pairs.for_each(|(_, value)| figures(value, wanted, found));
        }
    }
}

/// The first so many steps of a path.
fn begin(path: &Path, steps: usize) -> Path {
    path.steps().iter().take(steps).cloned().fold(Path::root(), |path, step| match step {
        Step::Key(key) => path.key(&key),
        Step::Item(item) => path.item(item),
    })
}

impl Paper {
    /// The unit that a figure typed alone into a cell gets; none where no figure is typed, or a plain number is.
    pub fn bare_unit(&self, to: &To) -> Option<Unit> {
        let unit = if let To::Bounds(one, _) = to {
            self.bare_of(*one)
        } else if let To::Given(given) = to {
            self.bare_of_given(*given)
        } else {
            self.bare_at(&self.figure_at(to)?)
        };
        (unit != Unit::One).then_some(unit)
    }

    /// The path of a cell in which the reader expects a figure.
    fn figure_at(&self, to: &To) -> Option<Path> {
        if let To::Value { path, expected } = to {
            return is_figure(expected).then(|| path.clone());
        }
        let To::New(list, Some(key)) = to else { return None };
        let path = list.item(list.find(&self.root).map_or(0, |list| list.items().len())).key(key);
        let shape = self.shape_at(&path)?;
        matches!(&shape, Shape::Text(expected) if is_figure(expected)).then_some(path)
    }

    /// That of the levels of the same characteristic: the three are compared with each other.
    pub(super) fn bare_of(&self, one: Characteristic) -> Unit {
        let own = self.characteristic_at(one);
        self.own(own.as_ref(), &|key| !SIZES.contains(&key), one.unit()).unwrap_or_else(|| self.of_sheet(one.unit()))
    }

    pub(super) fn bare_of_given(&self, given: Given) -> Unit {
        // nobody writes so many noughts
        let per_kelvin = given.unit() == Unit::PerKelvin;
        let usual = if per_kelvin { Unit::MicrometrePerMetreKelvin } else { given.unit() };
        let own = self.given_at(given);
        self.own(own.as_ref(), &|_| true, usual).unwrap_or_else(|| self.of_sheet(usual))
    }

    /// The same at a path of any file.
    pub(super) fn bare_at(&self, path: &Path) -> Unit {
        let usual = self.usual(path);
        let last = path.steps().last().and_then(Step::as_key);
        let is_size = last.is_some_and(|key| SIZES.contains(&key));
        let found = match self.kind {
            Kind::Sheet => {
                self.own(Some(&begin(path, 2)), &|key| SIZES.contains(&key) == is_size || key == "bands", usual)
            }
            Kind::Instrument => self.own(Some(&Path::root()), &|_| true, usual),
            Kind::People | Kind::Rotor | Kind::Checklist => {
                self.own(path.parent().map(|(parent, _)| parent).as_ref(), &|_| true, usual)
            }
        };
        found.unwrap_or_else(|| if self.kind == Kind::Sheet { self.of_sheet(usual) } else { usual })
    }

    /// The unit of most figures below a path; none where there is no figure of that kind.
    fn own(&self, path: Option<&Path>, wanted: &dyn Fn(&str) -> bool, usual: Unit) -> Option<Unit> {
        let mut here = Vec::new();
        figures(path?.find(&self.root)?, wanted, &mut here);
        let any = here.iter().any(|figure| figure.dimension() == usual.dimension());
        any.then(|| most_used(usual, here.into_iter()))
    }

    /// That of most figures of the sheet, else the one that every sheet of the workshop has, else `usual`. Never that of
    /// the last figure alone: one figure in inches makes no sheet in inches.
    fn of_sheet(&self, usual: Unit) -> Unit {
        let mut here = Vec::new();
        for key in ["levels", "given"] {
            self.root.get(key).into_iter().for_each(|node| figures(node, &|_| true, &mut here));
        }
        let elsewhere = |sheet: &Sheet| sheet.unit_of(usual);
        // who types it a second time, blind, is not told by the first
        let is_other = |sheet: &&Sheet| self.id() != Some(sheet.id.as_str());
        let others: BTreeSet<Unit> = self.beside.sheets.iter().filter(is_other).map(elsewhere).collect();
        let other = others.first().copied().filter(|_| others.len() == 1).unwrap_or(usual);
        if here.iter().any(|figure| figure.dimension() == usual.dimension()) {
            most_used(usual, here.into_iter())
        } else {
            other
        }
    }

    /// The unit that such a figure has, before any stands there.
    fn usual(&self, path: &Path) -> Unit {
        let keys: Vec<&str> = path.steps().iter().filter_map(Step::as_key).collect();
        match (self.kind, keys.as_slice()) {
            (Kind::Rotor, _) | (Kind::Checklist, [.., "soak" | "soon", _]) => Unit::Hour,
            (Kind::Instrument, ["expansion"]) => Unit::MicrometrePerMetreKelvin,
            (Kind::Instrument, _) => {
                let kind = GaugeKind::parse(self.said(&Path::root().key("kind")));
                kind.map_or(Unit::Millimetre, GaugeKind::unit)
            }
            (Kind::Checklist, [.., "usual", _]) => {
                let grid = path.parent().and_then(|(usual, _)| Some(usual.parent()?.0));
                grid.and_then(|grid| Unit::parse(self.said(&grid.key("unit")))).unwrap_or(Unit::Millimetre)
            }
            (Kind::Sheet, ["levels", .., "bands", "figure"]) => {
                let one = Characteristic::parse(self.said(&begin(path, 2).key("characteristic")));
                one.map_or(Unit::Millimetre, Characteristic::unit)
            }
            (Kind::People | Kind::Checklist | Kind::Sheet, _) => Unit::Millimetre,
        }
    }
}
