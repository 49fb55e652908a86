//! The layers point one way: face to records to domain, report beside records.

use super::sources;

/// No file of a layer, tests and docs included, may hold one of these words.
fn free_of(layer: &str, foreign: &[&str]) {
    let mut files = sources::rust(&format!("src/{layer}"));
    files.extend(sources::rust(&format!("src/{layer}.rs")));
    for (name, text) in files {
        for word in foreign {
            assert!(!text.contains(word), "{name} names `{word}`: {layer} may not, see lib.rs");
        }
    }
}

#[test]
fn domain_knows_nobody() {
    let foreign = ["crate::records", "crate::face", "crate::report", "crate::cli"];
    free_of("domain", &foreign);
    free_of("domain", &["ratatui", "crossterm", "serde_yaml", "std::fs", "std::time", "std::env", "std::io"]);
}

#[test]
fn records_know_only_domain() {
    free_of("records", &["crate::face", "crate::report", "crate::cli", "ratatui", "crossterm", "clap"]);
}
