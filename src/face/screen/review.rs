//! A record to read. Page 1: will it last, is it closed; what to do with each part and what made it so; how sure, what is
//! missing or unusual. Reading changes nothing.

mod page;

use crate::domain::inspection::Inspection;
use crate::domain::standing::Standing;

use super::super::action::Action;
use super::super::form::Go;
use super::super::input::Key;
use super::super::model::Model;
use super::super::pen::Pen;
use super::way;

/// A record to read.
#[derive(Debug, Clone)]
pub struct Review {
    /// The record.
    pub inspection: Inspection,
    /// All verdicts.
    pub standing: Standing,
    marked: usize,
    page: usize,
    scroll: usize,
    /// The part whose evidence is open.
    part: Option<String>,
}

/// Pages: the first, then what to order, refer, measure, and the entries.
const PAGES: usize = 3;

impl Review {
    /// Opened at page 1.
    pub fn new(inspection: Inspection) -> Self {
        let standing = Standing::of(&inspection);
        Self { inspection, standing, marked: 0, page: 0, scroll: 0, part: None }
    }

    /// Marks a part; says whether there is one.
    pub fn mark(&mut self, line: usize) -> bool {
        let there = line < page::remarkable(self).len();
        if there {
            self.marked = line;
        }
        there
    }

    /// Keys of the review. Back on an open part closes it.
    pub fn act(&mut self, action: Action, key: Key) {
        let count = page::remarkable(self).len();
        let back = way(key) == Go::Back;
        if action == Action::Line {
            self.marked =
                if back { self.marked.saturating_sub(1) } else { (self.marked + 1).min(count.saturating_sub(1)) };
        }
        if action == Action::Scroll {
            self.scroll = if back { self.scroll.saturating_sub(10) } else { self.scroll + 10 };
        }
        if action == Action::Next {
            self.part = None;
            self.scroll = 0;
            self.page = if back { self.page + PAGES - 1 } else { self.page + 1 } % PAGES;
        }
        if action == Action::Open {
            let id = page::remarkable(self).get(self.marked).map(|part| part.id.clone());
            self.scroll = 0;
            self.part = if self.part.is_some() { None } else { id };
        }
    }

    /// Whether Esc closes an open part, and does not leave.
    pub fn close_part(&mut self) -> bool {
        self.part.take().is_some()
    }
}

/// Draws the page.
pub fn view(pen: &mut Pen<'_>, model: &Model, review: &Review) {
    page::view(pen, model, review);
}
