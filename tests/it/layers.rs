//! The layers point one way.

use std::path::{Path, PathBuf};

/// Every Rust file below `folder`, with its text.
fn sources(folder: &str) -> Vec<(PathBuf, String)> {
    fn walk(folder: &Path, found: &mut Vec<(PathBuf, String)>) {
        for entry in std::fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                walk(&path, found);
            } else if path.extension().is_some_and(|ending| ending == "rs") {
                let text = std::fs::read_to_string(&path).unwrap();
                found.push((path, text));
            }
        }
    }
    let mut found = Vec::new();
    walk(&Path::new(env!("CARGO_MANIFEST_DIR")).join("src").join(folder), &mut found);
    assert!(!found.is_empty(), "no sources in {folder}");
    found
}

#[test]
fn domain_knows_nobody() {
    let foreign = [
        "crate::records",
        "crate::face",
        "crate::report",
        "crate::cli",
        "ratatui",
        "crossterm",
        "std::fs",
        "std::time",
        "std::env",
    ];
    for (path, text) in sources("domain") {
        for word in foreign {
            assert!(!text.contains(word), "{} names `{word}`: domain stays pure, see lib.rs", path.display());
        }
    }
}
