//! Scalars: a text, what it is taken for, and how that is written.

use crate::records::yaml::Quoting;

/// A scalar of one kind.
pub struct Scalar<T> {
    /// What is expected, in words: `a day, such as 2031-04-17`.
    pub expected: &'static str,
    /// How it is written.
    pub quoting: Quoting,
    /// Takes the text, or says how to mend it.
    pub parse: fn(&str) -> Result<T, String>,
    /// The text of a value.
    pub show: fn(&T) -> String,
}
