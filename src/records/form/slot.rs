//! One place in a file, for reading, for writing, or for saying what belongs there.

use crate::records::yaml::{At, Key, Layout, Node, Problems, What, nearest};

use super::Unknown;
use super::fields::Fields;
use super::scalar::Scalar;
use super::shape::Shape;

/// Where a description reads, writes or describes one value.
pub struct Slot<'a>(pub(super) Way<'a>);

pub(super) enum Way<'a> {
    Read { node: &'a Node, problems: &'a mut Problems, unknown: Unknown },
    Write(&'a mut Option<Node>),
    Describe(&'a mut Shape),
}

impl<'a> Slot<'a> {
    /// Reads from a tree.
    pub fn reading(node: &'a Node, problems: &'a mut Problems, unknown: Unknown) -> Self {
        Self(Way::Read { node, problems, unknown })
    }

    /// Writes into a tree.
    pub fn writing(out: &'a mut Option<Node>) -> Self {
        Self(Way::Write(out))
    }

    /// Says what belongs here.
    pub fn describing(shape: &'a mut Shape) -> Self {
        Self(Way::Describe(shape))
    }

    /// Where it stands in the file that is read.
    pub fn at(&self) -> At {
        match &self.0 {
            Way::Read { node, .. } => node.at,
            Way::Write(_) | Way::Describe(_) => At::default(),
        }
    }

    /// The text that stands there, when a file is read and it is one.
    pub fn peek(&self) -> Option<&'a str> {
        match &self.0 {
            Way::Read { node, .. } => node.as_text(),
            Way::Write(_) | Way::Describe(_) => None,
        }
    }

    /// Whether a file is read and keys stand here.
    pub fn is_map(&self) -> bool {
        match &self.0 {
            Way::Read { node, .. } => matches!(node.what, What::Map(..)),
            Way::Write(_) | Way::Describe(_) => false,
        }
    }

    /// Whether a file is read and a list stands here.
    pub fn is_list(&self) -> bool {
        match &self.0 {
            Way::Read { node, .. } => matches!(node.what, What::List(..)),
            Way::Write(_) | Way::Describe(_) => false,
        }
    }

    /// Sets what belongs here, where a description tells more than reading asks; whether that is all that is wanted.
    pub fn tells(&mut self, told: impl FnOnce() -> Shape) -> bool {
        match &mut self.0 {
            Way::Describe(shape) => {
                **shape = told();
                true
            }
            Way::Read { .. } | Way::Write(_) => false,
        }
    }

    /// Says of the value that was read what is wrong with it.
    pub fn fault(&mut self, expected: &str, mend: &str) {
        if let Way::Read { node, problems, .. } = &mut self.0 {
            problems.add(node.at, node.said(), expected, mend);
        }
    }

    /// A scalar.
    pub fn scalar<T>(&mut self, kind: &Scalar<T>, value: Option<&T>) -> Option<T> {
        self.text(
            kind.expected,
            |text| (kind.parse)(text),
            value.map(|value| Node::text((kind.show)(value), kind.quoting)),
        )
    }

    /// A text taken by `parse`, which says how to mend what it does not take.
    pub fn text<T>(
        &mut self,
        expected: &str,
        parse: impl FnOnce(&str) -> Result<T, String>,
        written: Option<Node>,
    ) -> Option<T> {
        match &mut self.0 {
            Way::Read { node, problems, .. } => {
                let taken = match &node.what {
                    What::Text(text, _) => parse(text),
                    What::List(..) => Err("Write one value, without dashes or brackets.".to_owned()),
                    What::Map(..) => Err("Write one value; one with a colon in it goes in quotes.".to_owned()),
                };
                taken.map_err(|mend| problems.add(node.at, node.said(), expected, mend)).ok()
            }
            Way::Write(out) => {
                **out = written;
                None
            }
            Way::Describe(shape) => {
                **shape = Shape::Text(expected.to_owned());
                None
            }
        }
    }

    /// One word of a closed list.
    pub fn word<T: Copy + PartialEq>(&mut self, words: &[(&'static str, T)], value: Option<&T>) -> Option<T> {
        let known = || words.iter().map(|(word, _)| *word);
        if let Way::Describe(shape) = &mut self.0 {
            **shape = Shape::Words(known().map(str::to_owned).collect());
            return None;
        }
        let written = value.and_then(|value| words.iter().find(|(_, one)| one == value));
        let written = written.map(|(word, _)| Node::text(*word, crate::records::yaml::Quoting::Bare));
        let parse = |text: &str| {
            let found = words.iter().find(|(word, _)| *word == text).map(|(_, value)| *value);
            found.ok_or_else(|| match nearest(text, known()) {
                // `on` is nearer to `no` than to what it means
                _ if known().eq(["yes", "no"]) => "Write `yes` or `no`.".to_owned(),
                Some(word) => format!("Did you mean `{word}`?"),
                None => "Write one of these words.".to_owned(),
            })
        };
        self.text(&one_of(known()), parse, written)
    }

    /// Any number of the same.
    pub fn list<T>(
        &mut self,
        layout: Layout,
        form: impl Fn(&mut Slot<'_>, Option<&T>) -> Option<T>,
        value: Option<&[T]>,
    ) -> Option<Vec<T>> {
        match &mut self.0 {
            Way::Read { node, problems, unknown } => {
                let What::List(_, items) = &node.what else {
                    problems.add(
                        node.at,
                        node.said(),
                        "a list",
                        "Write each on a line of its own that begins with `- `.",
                    );
                    return None;
                };
                // all items are read before the first fault counts, so that every fault is listed
                let read: Vec<_> =
                    items.iter().map(|item| form(&mut Slot::reading(item, problems, *unknown), None)).collect();
                read.into_iter().collect()
            }
            Way::Write(out) => {
                let items = value?.iter().filter_map(|item| {
                    let mut node = None;
                    form(&mut Slot::writing(&mut node), Some(item));
                    node
                });
                **out = Some(Node::new(What::List(layout, items.collect())));
                None
            }
            Way::Describe(shape) => {
                let mut inner = Shape::Nothing;
                form(&mut Slot::describing(&mut inner), None);
                **shape = Shape::List(layout, Box::new(inner));
                None
            }
        }
    }

    /// Keys that the writer chooses, each with the same kind of value.
    pub fn pairs<T>(
        &mut self,
        layout: Layout,
        form: impl Fn(&mut Slot<'_>, Option<&T>) -> Option<T>,
        value: Option<Vec<(&str, &T)>>,
    ) -> Option<Vec<(String, T)>> {
        match &mut self.0 {
            Way::Read { node, problems, unknown } => {
                let What::Map(_, pairs) = &node.what else {
                    problems.add(node.at, node.said(), "keys with values", "Write each as `key: value`.");
                    return None;
                };
                let read: Vec<_> = pairs
                    .iter()
                    .map(|(key, node)| {
                        Some((key.text.clone(), form(&mut Slot::reading(node, problems, *unknown), None)?))
                    })
                    .collect();
                read.into_iter().collect()
            }
            Way::Write(out) => {
                let pairs = value?.into_iter().filter_map(|(key, value)| {
                    let mut node = None;
                    form(&mut Slot::writing(&mut node), Some(value));
                    Some((Key::new(key), node?))
                });
                **out = Some(Node::new(What::Map(layout, pairs.collect())));
                None
            }
            Way::Describe(shape) => {
                let mut inner = Shape::Nothing;
                form(&mut Slot::describing(&mut inner), None);
                **shape = Shape::Pairs(Box::new(inner));
                None
            }
        }
    }

    /// Known keys; `body` asks for each in the order in which they are written.
    pub fn map<T>(&mut self, layout: Layout, body: impl FnOnce(&mut Fields<'_>) -> Option<T>) -> Option<T> {
        match &mut self.0 {
            Way::Read { node, problems, unknown } => {
                let What::Map(_, pairs) = &node.what else {
                    problems.add(node.at, node.said(), "keys with values", "Write each as `key: value`.");
                    return None;
                };
                let mut fields = Fields::reading(node.at, pairs, problems, *unknown);
                let value = body(&mut fields);
                fields.look_for_unknown();
                value
            }
            Way::Write(out) => {
                let mut pairs = Vec::new();
                let value = body(&mut Fields::writing(&mut pairs));
                **out = Some(Node::new(What::Map(layout, pairs)));
                value
            }
            Way::Describe(shape) => {
                let mut keys = Vec::new();
                let mut rules = Vec::new();
                let value = body(&mut Fields::describing(&mut keys, &mut rules));
                **shape = Shape::Map(keys, rules);
                value
            }
        }
    }
}

/// `one of a, b, c`.
pub(super) fn one_of<'a>(words: impl Iterator<Item = &'a str>) -> String {
    let words: Vec<_> = words.collect();
    match words.as_slice() {
        [word] => format!("`{word}`"),
        words => format!("one of {}", words.join(", ")),
    }
}
