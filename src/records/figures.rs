//! Figures for a reckoning, from a YAML or JSON file or text: every scalar stays the text it was written as.
#![expect(clippy::disallowed_types, reason = "the records layer is the one that reads files")]

use std::fs::File;
use std::io::{self, Read};
use std::path::Path;

use super::yaml::{self, Node, Problems, What};
use crate::domain::reckon::Tree;

/// Longer inputs are refused: they are no figures of one reckoning.
const LONGEST: u64 = 16 << 20;

/// Why figures could not be read.
#[derive(Debug, thiserror::Error)]
pub enum Fault {
    /// The file or the stream gave an error.
    #[error("{name} cannot be read: {fault}")]
    Unreadable {
        /// What was to be read.
        name: String,
        /// The system's word.
        fault: io::Error,
    },
    /// Too long to be figures.
    #[error("{name} is longer than {} MB, no figures are", LONGEST >> 20)]
    TooLong {
        /// What was to be read.
        name: String,
    },
    /// Not YAML, and so no JSON either.
    #[error("{0}")]
    Broken(Problems),
}

/// Reads the figures in the file at `path`.
///
/// # Errors
/// All of [`Fault`].
pub fn read_file(path: &Path) -> Result<Tree, Fault> {
    let name = path.display().to_string();
    match File::open(path) {
        Ok(file) => read(&name, file),
        Err(fault) => Err(Fault::Unreadable { name, fault }),
    }
}

/// Reads figures to the end of `source`, which faults call `name`.
///
/// # Errors
/// All of [`Fault`].
pub fn read(name: &str, source: impl Read) -> Result<Tree, Fault> {
    let mut bytes = Vec::new();
    let read = source.take(LONGEST + 1).read_to_end(&mut bytes);
    read.map_err(|fault| Fault::Unreadable { name: name.to_owned(), fault })?;
    if u64::try_from(bytes.len()).is_ok_and(|length| length > LONGEST) {
        return Err(Fault::TooLong { name: name.to_owned() });
    }
    parse(name, bytes)
}

/// The figures in `text`; an empty one holds none.
///
/// # Errors
/// [`Fault::Broken`].
pub fn parse(name: &str, text: impl Into<Vec<u8>>) -> Result<Tree, Fault> {
    let mut bytes = text.into();
    if bytes.iter().all(u8::is_ascii_whitespace) {
        return Ok(Tree::Map(Vec::new()));
    }
    // JSON may be indented with tabs, which YAML forbids; inside its strings no tab can stand
    if bytes.iter().find(|byte| !byte.is_ascii_whitespace()).is_some_and(|first| b"{[".contains(first)) {
        bytes.iter_mut().filter(|byte| **byte == b'\t').for_each(|tab| *tab = b' ');
    }
    yaml::parse(name, &bytes).map(tree).map_err(Fault::Broken)
}

fn tree(node: Node) -> Tree {
    match node.what {
        What::Text(text, _) => Tree::Text(text),
        What::List(_, items) => Tree::List(items.into_iter().map(tree).collect()),
        What::Map(_, pairs) => Tree::Map(pairs.into_iter().map(|(key, node)| (key.text, tree(node))).collect()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn scalars_stay_the_text_they_were_written_as() {
        let tree = parse("test", "a: no\nb: [on, 1e3, 0x10, 1_000, 0.20, null, \"0,5\"]\n").unwrap();
        let texts = ["on", "1e3", "0x10", "1_000", "0.20", "null", "0,5"].map(Tree::text);
        let expected = [("a".to_owned(), Tree::text("no")), ("b".to_owned(), Tree::List(texts.to_vec()))];
        assert_eq!(tree, Tree::Map(expected.to_vec()));
    }

    #[test]
    fn json_and_yaml_give_the_same() {
        let json = parse("json", "{\"values\": [0.10, 1.5e-05],\n\t\"place\": \"outer 0\"}").unwrap();
        let yaml = parse("yaml", "values:\n- 0.10\n- 1.5e-05\nplace: outer 0\n").unwrap();
        assert_eq!(json, yaml);
    }

    #[test]
    fn nothing_is_no_figures_and_too_much_is_refused() {
        assert_eq!(parse("test", " \n").unwrap(), Tree::Map(Vec::new()));
        assert!(matches!(parse("test", "[".repeat(100_000)), Err(Fault::Broken(_))));
        assert!(matches!(read("test", io::repeat(b' ')), Err(Fault::TooLong { .. })));
    }
}
