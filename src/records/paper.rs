//! A file of one of the five kinds that a workshop keeps, while somebody fills it in: text, faults, what may stand where.
//!
//! Nothing here knows a screen. A place of the file is laid out as rows of cells; a typed text goes into a cell, the text
//! of the file is changed there and nowhere else, and the kind's own reader judges the whole again.

mod absent;
mod bare;
mod cell;
mod change;
mod enter;
mod fields;
mod figure;
mod kind;
mod levels;
mod named;
mod passes;
mod second;
mod table;

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::domain::sheet::Which;

use super::edit::Path;
use super::yaml::{At, Node, Problem, Problems, What, parse};

pub use cell::{Cell, Column, Grid, Need, Place, Row, To, Way};
pub use enter::{Entered, list_of};
pub use kind::Kind;
pub use passes::Beside;
pub use second::{Difference, differences, entered_by, is_one_person, known, second_of, still_second, taken_over};

/// A file while it is filled in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Paper {
    /// What it is.
    pub kind: Kind,
    /// What it is called in faults.
    pub name: String,
    text: String,
    root: Node,
    problems: Problems,
    last: BTreeMap<Remembered, String>,
    /// Who types in this form of a sheet, once the name was typed or asked.
    by: Option<String>,
    beside: Arc<Beside>,
}

/// What was typed last, to be offered again.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
enum Remembered {
    Source,
    Side(Which),
    LeadsTo(Which),
}

impl Paper {
    /// A text as it stands.
    ///
    /// # Errors
    /// When it cannot be read as YAML at all: a form could only spoil it.
    pub fn open(kind: Kind, name: &str, text: &str) -> Result<Self, Problems> {
        let root = parse(name, text.as_bytes())?;
        let problems = kind.problems(name, text);
        let (name, text) = (name.to_owned(), text.to_owned());
        Ok(Self { kind, name, text, root, problems, last: BTreeMap::new(), by: None, beside: Arc::default() })
    }

    /// An empty one.
    pub fn new(kind: Kind) -> Self {
        let text = format!("# {}\nformat: 1\n", kind.remark());
        let name = if kind == Kind::People { "people".to_owned() } else { format!("a new {}", kind.one()) };
        let root = parse(&name, text.as_bytes()).unwrap_or_else(|_| Node::text("", super::yaml::Quoting::Bare));
        let problems = kind.problems(&name, &text);
        Self { kind, name, text, root, problems, last: BTreeMap::new(), by: None, beside: Arc::default() }
    }

    /// The same with what lies beside it in the workshop.
    #[must_use]
    pub fn beside(self, beside: Arc<Beside>) -> Self {
        Self { beside, ..self }
    }

    /// The same, gone on with by whoever has entered it so far.
    #[must_use]
    pub fn same_hand(self) -> Self {
        Self { by: self.said_in(&Path::root().key("entered by")).into_iter().next(), ..self }
    }

    /// Whoever of the workshop's people types from here on.
    ///
    /// # Errors
    /// When nobody there is called so.
    pub fn typed_by(&mut self, who: &str) -> Result<(), String> {
        self.by = Some(known(who, &self.beside.people)?.to_string());
        Ok(())
    }

    /// The text of the file.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// What keeps it from being used; none: it is complete.
    pub fn problems(&self) -> &Problems {
        &self.problems
    }

    /// Whether the file's own reader takes it.
    pub fn is_complete(&self) -> bool {
        self.problems.is_empty()
    }

    /// Whether nothing was entered at all.
    pub fn is_blank(&self) -> bool {
        self.text == Self::new(self.kind).text
    }

    /// The id in it; none while it is not given.
    pub fn id(&self) -> Option<&str> {
        self.root.get(self.kind.id_key()?)?.as_text().filter(|id| !id.is_empty())
    }

    /// What its forms are headed with: its id, else what it is.
    pub(super) fn called(&self) -> &str {
        self.id().unwrap_or(&self.name)
    }

    /// The first thing that keeps it from being used, in words for a form.
    pub fn first_wanted(&self) -> Option<String> {
        let problem = self.problems.iter().next()?;
        let line = problem.at.line;
        Some(match problem.found.strip_prefix("no key ") {
            Some(key) => {
                format!("still wanted: {}", self.kind.label_in(self.list_at(problem.at), key.trim_matches('`')).0)
            }
            None => format!("to mend, line {line}: {}. {}", problem.found, problem.mend),
        })
    }

    /// The key of the list in which an item begins there; empty where none does.
    fn list_at(&self, at: At) -> &str {
        let What::Map(_, lists) = &self.root.what else { return "" };
        let list = lists.iter().find(|(_, list)| list.items().iter().any(|item| item.at == at));
        list.map_or("", |(key, _)| key.text.as_str())
    }

    /// The rows of a place.
    pub fn grid(&self, place: &Place) -> Grid {
        match place {
            Place::Fields(path) => fields::grid(self, path),
            Place::Again => fields::again(self),
            Place::Table(path) => table::table(self, path),
            Place::List(path) => table::list(self, path),
            Place::Levels => levels::grid(self),
            Place::Given => named::grid(self),
            Place::Absent => absent::grid(self),
            Place::Passes(machine) => passes::grid(self, machine),
        }
    }

    /// The text at a path; empty where there is none.
    fn said(&self, path: &Path) -> &str {
        path.find(&self.root).and_then(Node::as_text).unwrap_or("")
    }

    /// What the reader says about the value at a path or in it.
    fn fault_at(&self, path: &Path) -> Option<String> {
        let node = path.find(&self.root)?;
        let inside = |problem: &&Problem| {
            let at = self.offset(problem.at);
            problem.at >= node.at && (at < node.bytes.end || problem.at == node.at)
        };
        self.problems.iter().find(inside).map(words)
    }

    /// What the reader says about a mapping as a whole; what is missing in it shows at its own cell.
    fn fault_of_whole(&self, path: &Path) -> Option<String> {
        let node = path.find(&self.root)?;
        let whole = |one: &&Problem| one.at == node.at && !one.found.starts_with("no key");
        self.problems.iter().find(whole).map(words)
    }

    /// The byte of a line and column.
    fn offset(&self, at: At) -> usize {
        let line = usize::try_from(at.line).unwrap_or(usize::MAX).saturating_sub(1);
        let column = usize::try_from(at.column).unwrap_or(usize::MAX).saturating_sub(1);
        let mut lines = self.text.split_inclusive('\n');
        let before: usize = lines.by_ref().take(line).map(str::len).sum();
        let inside: usize = lines.next().unwrap_or("").chars().take(column).map(char::len_utf8).sum();
        before + inside
    }
}

/// A fault beside its field: what was found, what to do.
fn words(problem: &Problem) -> String {
    format!("found {}; expected {}. {}", problem.found, problem.expected, problem.mend)
}
