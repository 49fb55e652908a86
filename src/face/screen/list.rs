//! Numbered lists: what else, gauges, the ways out of a save that failed.

use crate::domain::id::Id;
use crate::domain::instrument::GaugeKind;

use super::super::action::Action;
use super::super::effect::Effect;
use super::super::input::Key;
use super::super::look::Tone;
use super::super::model::{Model, Overlay};
use super::super::pen::Pen;
use super::super::widget::listing;
use super::{elses, finding, gauge, review, saving, way};
use crate::face::form::Go;

/// What choosing a line means.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Purpose {
    /// Everything else.
    Elses,
    /// The rarer lines of it.
    More,
    /// A gauge of this kind; the ids by line, then "another one".
    Gauge(GaugeKind, Vec<Id>),
    /// A kind of finding; the part.
    Finding(String),
    /// Out of a save that failed.
    Saving,
    /// A record to review; by line its file, or why it cannot be read.
    Records(Vec<Result<String, String>>),
}

/// A numbered list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct List {
    /// Its heading.
    pub title: String,
    /// Its lines.
    pub lines: Vec<(String, Tone)>,
    /// The line that Enter chooses.
    pub marked: usize,
    /// What choosing means.
    pub purpose: Purpose,
}

impl List {
    /// A list with its first line marked.
    pub fn new(title: impl Into<String>, lines: Vec<(String, Tone)>, purpose: Purpose) -> Self {
        Self { title: title.into(), lines, marked: 0, purpose }
    }

    /// Marks a line; says whether there is one.
    pub fn mark(&mut self, line: usize) -> bool {
        let there = line < self.lines.len();
        if there {
            self.marked = line;
        }
        there
    }
}

/// Keys of a list.
pub fn act(model: &mut Model, mut list: List, action: Action, key: Key) -> Vec<Effect> {
    if action == Action::Choose {
        model.way.extend(list.lines.get(list.marked).map(|(words, _)| words.clone()));
        return match list.purpose.clone() {
            Purpose::Elses => elses::chosen(model, list.marked),
            Purpose::More => elses::chosen_more(model, list.marked),
            Purpose::Gauge(kind, ids) => gauge::chosen(model, kind, ids.get(list.marked)),
            Purpose::Finding(part) => finding::chosen(model, &part, list.marked),
            Purpose::Saving => saving::chosen(model, list.marked),
            Purpose::Records(files) => review::chosen(model, list, &files),
        };
    }
    if action == Action::Line {
        list.marked = match way(key) {
            Go::Back => list.marked.saturating_sub(1),
            Go::On => (list.marked + 1).min(list.lines.len().saturating_sub(1)),
        };
    }
    if action == Action::Back && matches!(list.purpose, Purpose::Records(_)) {
        // nothing lies below it
        return super::super::update::to_home(model);
    }
    if action == Action::Back {
        model.way.pop();
    } else {
        model.overlays.push(Overlay::List(list));
    }
    Vec::new()
}

/// ```text
/// -- what else ---------------------------------------------------------------
///   1  strike an entry
///   2  other gauge
/// ```
pub fn view(pen: &mut Pen<'_>, list: &List) {
    pen.clear();
    let marked = list.lines.get(list.marked).map(|(text, _)| text.as_str()).unwrap_or_default();
    let whole = listing::whole(pen, marked);
    let rows = listing::headed(pen, &list.title, (&list.lines, list.marked), whole.len());
    for (row, line) in whole.iter().enumerate() {
        pen.put(5, rows + row, line, Tone::Plain);
    }
}
