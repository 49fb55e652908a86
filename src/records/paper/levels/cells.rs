//! The cells of one level.

use crate::domain::characteristic::Characteristic;
use crate::domain::sheet::Which;
use crate::domain::sides::SIDES;
use crate::domain::verdict::Consequence;
use crate::records::edit::Path;
use crate::records::paper::cell::{Cell, To, Way};
use crate::records::paper::{Paper, Remembered};

/// A level of a sheet, there or not.
struct Spot<'a> {
    paper: &'a Paper,
    one: Characteristic,
    which: Which,
    at: Option<Path>,
}

pub(super) fn of(paper: &Paper, one: Characteristic, which: Which) -> Vec<Cell> {
    let spot = Spot { paper, one, which, at: paper.level_at(one, which) };
    let mut cells = vec![spot.from(), spot.leads_to(), spot.rule(), spot.source()];
    if which == Which::New {
        let number = paper.characteristic_at(one).map(|item| paper.said(&item.key("part number")).to_owned());
        cells.push(Cell {
            way: Way::Beside,
            hint: "the number to order the part by".to_owned(),
            ..Cell::new(&number.unwrap_or_default(), To::PartNumber(one))
        });
    }
    cells
}

impl Spot<'_> {
    fn said(&self, key: &str) -> &str {
        self.at.as_ref().map_or("", |level| self.paper.said(&level.key(key)))
    }

    fn fault(&self, key: &str) -> Option<String> {
        self.paper.fault_at(&self.at.as_ref()?.key(key))
    }

    fn from(&self) -> Cell {
        let Self { paper, one, which, at } = self;
        let bounds = at.as_ref().map(|level| paper.bounds_said(level, *which)).unwrap_or_default();
        let side = paper.side(*which).map(|side| format!("alone it means {side}"));
        let side = side.unwrap_or_else(|| "> above, >= at or above, < below".to_owned());
        let means = if *which == Which::New { "allowed" } else { "fails" };
        let which_it_is = which.word();
        Cell {
            hint: format!("{which_it_is}: {means} from where; {side}; a..b; by size: >=table"),
            fault: SIDES.iter().find_map(|(_, word)| self.fault(word)).or_else(|| paper.fault_of_whole(at.as_ref()?)),
            ..Cell::new(&bounds, To::Bounds(*one, *which))
        }
    }

    fn leads_to(&self) -> Cell {
        let (there, is_limit) = (self.at.is_some(), self.which == Which::Limit);
        let usual = match self.which {
            Which::New => "(rework)",
            Which::Alert => "(watch)",
            Which::Limit => "",
        };
        let said = Some(self.said("leads to")).filter(|said| !said.is_empty() || !there).unwrap_or(usual);
        Cell {
            offers: Consequence::PAST.into_iter().map(|one| one.word().to_owned()).collect(),
            offer: self.paper.last.get(&Remembered::LeadsTo(self.which)).cloned().filter(|_| is_limit),
            need: (there && is_limit).into(),
            way: (there && is_limit).into(),
            fault: self.fault("leads to"),
            hint: "what failing it leads to; the beginning of the word is enough".to_owned(),
            ..Cell::new(said, To::LeadsTo(self.one, self.which))
        }
    }

    fn rule(&self) -> Cell {
        let said = match (self.said("rule"), self.said("factor")) {
            ("", _) if self.at.is_some() => "simple".to_owned(),
            (rule, factor) => format!("{rule} {factor}").trim().to_owned(),
        };
        Cell {
            offers: vec!["simple".to_owned(), "guarded".to_owned()],
            way: Way::Beside,
            fault: self.fault("rule").or_else(|| self.fault("factor")),
            hint: "guarded counts the uncertainty short of it, usually times 1.65".to_owned(),
            ..Cell::new(&said, To::Rule(self.one, self.which))
        }
    }

    fn source(&self) -> Cell {
        let there = self.at.is_some();
        Cell {
            hint: self.paper.source_hint(),
            offer: self.paper.source_offer(),
            need: there.into(),
            way: there.into(),
            fault: self.fault("source"),
            ..Cell::new(&self.paper.short_source(self.said("source")), To::Source(self.one, self.which))
        }
    }
}
