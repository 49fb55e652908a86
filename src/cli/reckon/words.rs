//! From `key=value` words, a file or stdin to the tree that a reckoning reads.

use std::io;
use std::path::Path;

use crate::domain::reckon::Tree;
use crate::records::figures;

/// Why the words give no figures.
#[derive(Debug, thiserror::Error)]
pub enum WordFault {
    /// The words themselves are wrong.
    #[error("{0}")]
    Words(String),
    /// A file, a stream or a value in brackets cannot be read.
    #[error("{0}")]
    Unread(#[from] figures::Fault),
}

/// The figures that the words behind the reckoning's name stand for.
///
/// # Errors
/// [`WordFault`].
pub fn tree(words: &[String]) -> Result<Tree, WordFault> {
    match words {
        [only] if only == "-" => Ok(figures::read("stdin", io::stdin())?),
        [only] if split(only).is_none() => Ok(figures::read_file(Path::new(only))?),
        words => words.iter().map(|word| entry(word)).collect::<Result<_, _>>().map(Tree::Map),
    }
}

fn entry(word: &str) -> Result<(String, Tree), WordFault> {
    let no_word = || WordFault::Words(format!("`{word}` is no key=value, and a file or - stands alone."));
    let (key, value) = split(word).ok_or_else(no_word)?;
    Ok((key.to_owned(), self::value(key, value)?))
}

/// Key and value of a word; a path such as `./a=b` is none.
fn split(word: &str) -> Option<(&str, &str)> {
    let plain = |key: &&str| !key.is_empty() && key.chars().all(|c| c.is_alphanumeric() || "_-".contains(c));
    word.split_once('=').filter(|(key, _)| plain(key))
}

/// `[...]` and `{...}` are YAML; a semicolon parts a list, for a comma may be a decimal one.
fn value(key: &str, value: &str) -> Result<Tree, WordFault> {
    if value.trim_start().starts_with(['[', '{']) {
        return Ok(figures::parse(key, value)?);
    }
    if value.contains(';') {
        let items = value.trim().trim_end_matches(';').split(';');
        return Ok(Tree::List(items.map(|item| Tree::text(item.trim())).collect()));
    }
    Ok(Tree::text(value))
}
