//! Changes of the text: one value or several, each checked to touch nothing else, then the whole read again.

use crate::records::edit::{Change, EditFault, Path, Step, edited};
use crate::records::form::{Shape, ShapeField};
use crate::records::yaml::{Key, Layout, Node, Quoting, What, parse};

use super::Paper;

impl Paper {
    /// Puts a value at a path, making what it stands in.
    pub(super) fn put(&mut self, path: &Path, value: Node) -> Result<(), String> {
        let (mut path, mut value) = (path.clone(), value);
        // what is not there is made around the value
        while let Some((parent, last)) = path.parent() {
            let container = parent.find(&self.root).is_some_and(|node| !matches!(node.what, What::Text(..)));
            if container {
                break;
            }
            value = match last {
                Step::Key(key) => Node::new(What::Map(Layout::Flow, vec![(Key::new(key.as_str()), value)])),
                Step::Item(_) => Node::new(What::List(Layout::Block, vec![value])),
            };
            path = parent;
        }
        let behind = self.before_it(&path);
        self.change(&path, &Change::Put { value, behind })
    }

    /// Puts an item behind the last of a list, making the list.
    pub(super) fn push(&mut self, list: &Path, item: Node) -> Result<(), String> {
        let there = list.find(&self.root).is_some_and(|node| matches!(node.what, What::List(..)));
        if there { self.change(list, &Change::Push(item)) } else { self.put(&list.item(0), item) }
    }

    /// Takes a value out, and what is empty without it.
    pub(super) fn take(&mut self, path: &Path) -> Result<(), String> {
        let Some((parent, _)) = path.parent() else { return Ok(()) };
        if path.find(&self.root).is_none() {
            return Ok(());
        }
        let left = parent.find(&self.root).map_or(0, |node| match &node.what {
            What::List(_, items) => items.len(),
            What::Map(_, pairs) => pairs.len(),
            What::Text(..) => 0,
        });
        if left <= 1 && parent.parent().is_some() {
            return self.take(&parent);
        }
        self.change(path, &Change::Take)
    }

    /// Puts an item to another place of its list, from 0.
    ///
    /// # Errors
    /// When there is no such place, or the file is laid out in a way that cannot be changed so.
    pub fn shift(&mut self, item: &Path, to: usize) -> Result<(), String> {
        self.change(item, &Change::Shift(to))
    }

    fn change(&mut self, path: &Path, change: &Change) -> Result<(), String> {
        let text = edited(&self.name, &self.text, path, change).map_err(|fault| fault.to_string())?;
        self.root = parse(&self.name, text.as_bytes()).map_err(|faults| EditFault::Unreadable(faults).to_string())?;
        self.problems = self.kind.problems(&self.name, &text);
        self.text = text;
        Ok(())
    }

    /// The keys that the kind writes before the last one of a path.
    fn before_it(&self, path: &Path) -> Vec<String> {
        let Some((parent, Step::Key(key))) = path.parent() else { return Vec::new() };
        let shape = self.shape_at(&parent);
        let fields = shape.as_ref().map(fields_of).unwrap_or_default();
        let before = fields.iter().take_while(|field| field.key != *key).map(|field| field.key.clone());
        std::iter::once("format".to_owned()).chain(before).collect()
    }

    /// What may stand at a path.
    pub(super) fn shape_at(&self, path: &Path) -> Option<Shape> {
        path.steps().iter().try_fold(self.kind.shape(), |shape, step| match (step, shape) {
            (Step::Key(key), Shape::Either(shapes)) => {
                let known = |shape: &Shape| fields_of(shape).into_iter().find(|field| field.key == *key);
                shapes.iter().find_map(known).map(|field| field.shape)
            }
            (Step::Key(key), Shape::Map(fields, _)) => {
                fields.into_iter().find(|field| field.key == *key).map(|field| field.shape)
            }
            (Step::Key(_), Shape::Pairs(inner)) | (Step::Item(_), Shape::List(_, inner)) => Some(*inner),
            (_, _) => None,
        })
    }
}

/// The keys of a mapping's shape.
pub(super) fn fields_of(shape: &Shape) -> Vec<ShapeField> {
    match shape {
        Shape::Map(fields, _) => fields.clone(),
        Shape::Either(shapes) => shapes.iter().flat_map(fields_of).collect(),
        Shape::Nothing | Shape::Text(_) | Shape::Words(_) | Shape::List(..) | Shape::Pairs(_) => Vec::new(),
    }
}

/// A typed text as a scalar: words people write are quoted where a reader could take them for something else.
pub(super) fn scalar(text: &str, expected: &str) -> Node {
    let free = expected.ends_with("text") || ["an id", "a name", "letters"].iter().any(|one| expected.starts_with(one));
    Node::text(text, if free { Quoting::Fitting } else { Quoting::Bare })
}
