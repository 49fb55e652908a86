//! Changes in the text of a file: only the bytes of the value change; comments, order and blank lines stay.
//!
//! A change is made in the text and, apart from it, in the tree. The new text must read as the new tree, else nothing
//! is changed: a layout that this module does not know is refused, never spoilt.

mod follow;
mod put;
mod shift;
mod take;

use std::ops::Range;

use super::yaml::{Key, Layout, Node, Problems, What, parse};

pub use follow::followed;

/// One step from a list or mapping to what stands in it.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Step {
    /// The value under a key.
    Key(String),
    /// An item of a list, from 0.
    Item(usize),
}

impl Step {
    /// The key, where it is one.
    pub fn as_key(&self) -> Option<&str> {
        if let Self::Key(key) = self { Some(key) } else { None }
    }
}

/// The way from the root of a file to a value.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Path(Vec<Step>);

impl Path {
    /// The whole file.
    pub fn root() -> Self {
        Self::default()
    }

    /// One key further.
    #[must_use]
    pub fn key(&self, key: &str) -> Self {
        self.with(Step::Key(key.to_owned()))
    }

    /// One item further.
    #[must_use]
    pub fn item(&self, item: usize) -> Self {
        self.with(Step::Item(item))
    }

    fn with(&self, step: Step) -> Self {
        let mut steps = self.0.clone();
        steps.push(step);
        Self(steps)
    }

    /// The steps from the root.
    pub fn steps(&self) -> &[Step] {
        &self.0
    }

    /// The way to what it stands in, and the last step; none for the root.
    pub fn parent(&self) -> Option<(Self, &Step)> {
        let (last, before) = self.0.split_last()?;
        Some((Self(before.to_vec()), last))
    }

    /// The value there.
    pub fn find<'a>(&self, root: &'a Node) -> Option<&'a Node> {
        self.0.iter().try_fold(root, |node, step| match step {
            Step::Key(key) => node.get(key),
            Step::Item(item) => node.items().get(*item),
        })
    }

    fn find_mut<'a>(&self, root: &'a mut Node) -> Option<&'a mut Node> {
        self.0.iter().try_fold(root, |node, step| match (&mut node.what, step) {
            (What::Map(_, pairs), Step::Key(key)) => {
                pairs.iter_mut().find(|(known, _)| known.text == *key).map(|(_, node)| node)
            }
            (What::List(_, items), Step::Item(item)) => items.get_mut(*item),
            (What::Text(..) | What::Map(..) | What::List(..), _) => None,
        })
    }
}

/// A change of one value.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Change {
    /// Puts a value there; a key that is not there comes behind those of `behind` that are.
    Put {
        /// The value.
        value: Node,
        /// Keys that stand before it, in the order of the file's kind.
        behind: Vec<String>,
    },
    /// Puts an item behind the last one of the list there.
    Push(Node),
    /// Takes the key or the item out.
    Take,
    /// Puts the item there, from 0, those between one place on.
    Shift(usize),
}

/// Why a text was not changed.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum EditFault {
    /// The text cannot be read as YAML.
    #[error("{0}")]
    Unreadable(Problems),
    /// There is nothing at the path, or nothing that can be changed so.
    #[error("The place is not in the file any more. Open the form again.")]
    NoPlace,
    /// The file is laid out in a way that cannot be changed in place.
    #[error("The file is laid out in a way that a form cannot change without spoiling it. Change it in an editor.")]
    Layout,
}

/// The text with one change made.
///
/// # Errors
/// When the text cannot be read, has no such place, or would not read as it should.
pub fn edited(file: &str, text: &str, path: &Path, change: &Change) -> Result<String, EditFault> {
    let tree = parse(file, text.as_bytes()).map_err(EditFault::Unreadable)?;
    let mut wanted = tree.clone();
    apply(&mut wanted, path, change).ok_or(EditFault::NoPlace)?;
    let (bytes, new) = match change {
        Change::Put { value, behind } => put::put(text, &tree, path, value, behind),
        Change::Push(item) => put::push(text, &tree, path, item),
        Change::Take => take::take(text, &tree, path),
        Change::Shift(to) => shift::shift(text, &tree, path, *to),
    }
    .ok_or(EditFault::Layout)?;
    let new = if text.contains("\r\n") { new.replace('\n', "\r\n") } else { new };
    let mut out = text.to_owned();
    out.replace_range(bytes, &new);
    match parse(file, out.as_bytes()) {
        Ok(read) if same(&read, &wanted) => Ok(out),
        Ok(_) | Err(_) => Err(EditFault::Layout),
    }
}

/// Makes the change in the tree.
fn apply(root: &mut Node, path: &Path, change: &Change) -> Option<()> {
    match change {
        Change::Push(item) => match &mut path.find_mut(root)?.what {
            What::List(_, items) => items.push(item.clone()),
            What::Text(..) | What::Map(..) => return None,
        },
        Change::Put { value, behind } => {
            if let Some(node) = path.find_mut(root) {
                *node = value.clone();
                return Some(());
            }
            let (parent, last) = path.parent()?;
            let (What::Map(_, pairs), Step::Key(key)) = (&mut parent.find_mut(root)?.what, last) else { return None };
            let at = pairs.iter().rposition(|(known, _)| behind.contains(&known.text)).map_or(0, |at| at + 1);
            pairs.insert(at, (Key::new(key.as_str()), value.clone()));
        }
        Change::Shift(to) => {
            let (parent, last) = path.parent()?;
            let (What::List(_, items), Step::Item(from)) = (&mut parent.find_mut(root)?.what, last) else {
                return None;
            };
            if (*from).max(*to) >= items.len() {
                return None;
            }
            let item = items.remove(*from);
            items.insert(*to, item);
        }
        Change::Take => {
            let (parent, last) = path.parent()?;
            match (&mut parent.find_mut(root)?.what, last) {
                (What::Map(_, pairs), Step::Key(key)) => pairs.retain(|(known, _)| known.text != *key),
                (What::List(_, items), Step::Item(item)) if *item < items.len() => drop(items.remove(*item)),
                (What::Text(..) | What::Map(..) | What::List(..), _) => return None,
            }
        }
    }
    Some(())
}

/// Whether two trees say the same, however they are laid out.
pub(super) fn same(one: &Node, other: &Node) -> bool {
    match (&one.what, &other.what) {
        (What::Text(one, _), What::Text(other, _)) => one == other,
        (What::List(_, one), What::List(_, other)) => {
            one.len() == other.len() && one.iter().zip(other).all(|(one, other)| same(one, other))
        }
        (What::Map(_, one), What::Map(_, other)) => {
            let pair = |((key, node), (other, value)): (&(Key, Node), &(Key, Node))| {
                key.text == other.text && same(node, value)
            };
            one.len() == other.len() && one.iter().zip(other).all(pair)
        }
        // an empty value behind a key is an empty text
        (What::Text(..) | What::List(..) | What::Map(..), _) => false,
    }
}

/// Whether the value at a path stands between brackets.
fn in_brackets(root: &Node, path: &Path) -> bool {
    let mut way = Path::root();
    let mut node = Some(root);
    for step in path.steps() {
        let flow =
            node.is_some_and(|node| matches!(node.what, What::Map(Layout::Flow, _) | What::List(Layout::Flow, _)));
        if flow {
            return true;
        }
        way = way.with(step.clone());
        node = way.find(root);
    }
    false
}

/// Where the line of a byte begins.
fn line_start(text: &str, at: usize) -> usize {
    text.get(..at).and_then(|before| before.rfind('\n')).map_or(0, |end| end + 1)
}

/// Where the line of a byte ends, before its line break.
fn line_end(text: &str, at: usize) -> usize {
    let rest = text.get(at..).unwrap_or("");
    let length = rest.find('\n').unwrap_or(rest.len());
    let line = rest.get(..length).unwrap_or("");
    at + line.trim_end_matches('\r').len()
}

/// The column in which a byte stands, from 0, counted in bytes: only blanks and dashes stand before it.
fn column(text: &str, at: usize) -> usize {
    at - line_start(text, at)
}

/// The column of the dash before an item.
fn dash(text: &str, item: &Range<usize>) -> Option<usize> {
    let start = line_start(text, item.start);
    text.get(start..item.start)?.rfind('-')
}
