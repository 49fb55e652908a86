//! The shape of a file, as its description tells it: what schemas and pages about files are made from.

use crate::records::yaml::Layout;

use super::slot::Slot;

/// What may stand somewhere.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub enum Shape {
    /// Nothing said yet.
    #[default]
    Nothing,
    /// A scalar: what it is in words.
    Text(String),
    /// One of a closed list of words.
    Words(Vec<String>),
    /// Any number of the same, on lines of their own or between brackets.
    List(Layout, Box<Shape>),
    /// Keys chosen by the writer, each with the same.
    Pairs(Box<Shape>),
    /// Known keys, in the order in which they are written, and what they ask of each other.
    Map(Vec<ShapeField>, Vec<ShapeRuleWith>),
    /// One of these.
    Either(Vec<Shape>),
}

/// What the keys of one mapping ask of each other.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum ShapeRule {
    /// One of these at least, not empty.
    AtLeastOne(Vec<&'static str>),
    /// One of these and no other, not empty.
    ExactlyOne(Vec<&'static str>),
    /// At most one of the two.
    NotBoth(&'static str, &'static str),
    /// The first only where the second holds this word.
    OnlyWith(&'static str, &'static str, &'static str),
}

/// A rule and the key and word that it goes with, when it is not for all.
pub(in crate::records) type ShapeRuleWith = (ShapeRule, Option<(String, String)>);

/// A known key.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ShapeField {
    /// The key.
    pub key: String,
    /// Whether the file is refused without it.
    pub needed: bool,
    /// What it holds.
    pub shape: Shape,
    /// Only together with this key and word: `kind: reading`.
    pub only_with: Option<(String, String)>,
}

/// The shape that a description tells.
pub fn shape_of<T>(form: impl FnOnce(&mut Slot<'_>) -> Option<T>) -> Shape {
    let mut shape = Shape::Nothing;
    // a description returns nothing when it is asked for its shape
    drop(form(&mut Slot::describing(&mut shape)));
    shape
}
