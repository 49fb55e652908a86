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

/// Every file outside `domain` that may use what clippy bans, and why it must.
const EXCEPTIONS: [(&str, &str); 5] = [
    ("records/clock.rs", "asks what time it is"),
    ("records/durable/real.rs", "writes"),
    ("records/figures.rs", "reads figures for one reckoning"),
    ("records/lock.rs", "only an open file can be locked"),
    ("records/store/folder.rs", "looks into folders"),
];

#[test]
fn files_and_the_clock_are_touched_in_few_places() {
    for (name, text) in sources::rust("src/records") {
        let excepted = text.contains("clippy::disallowed_methods") || text.contains("clippy::disallowed_types");
        let listed = EXCEPTIONS.iter().any(|(known, _)| name == format!("src/{known}"));
        assert_eq!(excepted, listed, "{name}: what touches files or the clock is listed here with its reason");
    }
}
