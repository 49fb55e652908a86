//! What a file kind looks like, said once: each description reads, writes and describes itself.
//!
//! A description is a function from a slot and, when writing, a value to the value that was read. Running it over a
//! tree reads and lists every fault, running it with a value writes, running it with neither gives the shape from
//! which schemas are made. A field on a screen is checked by the same description, by [`one`].

mod fields;
mod scalar;
mod shape;
mod slot;

pub use fields::{Fields, Row};
pub use scalar::Scalar;
pub use shape::{Shape, ShapeField, ShapeRule, shape_of};
pub use slot::Slot;

use super::yaml::{Node, Problem, Problems, Quoting};

/// Reads a tree by its description; unknown keys of a newer format pass when `unknown` says so.
///
/// # Errors
/// Every fault of the file.
pub fn read<T>(
    file: &str,
    node: &Node,
    unknown: Unknown,
    form: impl FnOnce(&mut Slot<'_>) -> Option<T>,
) -> Result<T, Problems> {
    let mut problems = Problems::of(file);
    let value = form(&mut Slot::reading(node, &mut problems, unknown));
    problems.unless_any(value)
}

/// The tree of a value, by its description.
pub fn write(form: impl FnOnce(&mut Slot<'_>)) -> Node {
    let mut out = None;
    form(&mut Slot::writing(&mut out));
    out.unwrap_or_else(|| Node::text("", Quoting::Always))
}

/// Takes one field's text for a value, as the file's reader would.
///
/// # Errors
/// The fault, with no place in a file.
pub fn one<T>(text: &str, form: impl FnOnce(&mut Slot<'_>) -> Option<T>) -> Result<T, Problem> {
    let node = Node::text(text, Quoting::Bare);
    read("", &node, Unknown::Refused, form).map_err(|problems| {
        let nothing = || Problem {
            file: String::new(),
            at: node.at,
            found: node.said(),
            expected: "something else".to_owned(),
            mend: "Type it again.".to_owned(),
        };
        problems.iter().next().cloned().unwrap_or_else(nothing)
    })
}

/// What to do with keys that the description does not name.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unknown {
    /// A fault, with the nearest known key.
    Refused,
    /// Passed over: a newer program wrote them.
    Passed,
}

/// Describes a struct key by key: field, its key in files, `need`, `may`, `list`, `pairs` or `flag`, and what it holds.
macro_rules! keys {
    ($($(#[$doc:meta])* $visible:vis fn $name:ident -> $type:ident, $layout:ident {
        $($field:ident $key:literal $how:ident $form:expr),* $(,)?
    })*) => {$(
        $(#[$doc])*
        $visible fn $name(slot: &mut $crate::records::form::Slot<'_>, value: Option<&$type>) -> Option<$type> {
            slot.map($crate::records::yaml::Layout::$layout, |fields| {
                $(let $field = fields.$how($key, $form, value.map(|value| &value.$field));)*
                Some($type { $($field: $field?),* })
            })
        }
    )*};
}
pub(crate) use keys;
