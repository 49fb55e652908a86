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

/// Takes a text on one line of at most `most` characters, or says how to mend it.
///
/// # Errors
/// The mend, when it is empty, longer, or holds a line break.
pub fn text_of_at_most(most: usize, text: &str) -> Result<String, String> {
    let length = text.chars().count();
    if text.trim().is_empty() {
        return Err("Write it, or leave the key out where it may be left out.".to_owned());
    }
    if text.contains('\n') {
        return Err("Write it on one line.".to_owned());
    }
    if length > most {
        return Err(format!("Take out {} characters: it has {length}, the box holds {most}.", length - most));
    }
    Ok(text.to_owned())
}
