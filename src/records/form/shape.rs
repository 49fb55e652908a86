//! The shape of a file, as its description tells it: what schemas and pages about files are made from.

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
    /// Any number of the same.
    List(Box<Shape>),
    /// Keys chosen by the writer, each with the same.
    Pairs(Box<Shape>),
    /// Known keys, in the order in which they are written.
    Map(Vec<ShapeField>),
}

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
