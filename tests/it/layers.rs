//! The layers point one way: face to records to domain, report beside records; demo plays through records; cli calls all.

use super::sources;

/// Every layer, and those that it may name besides itself.
const MAY_NAME: [(&str, &[&str]); 7] = [
    ("domain", &[]),
    ("records", &["domain"]),
    ("report", &["domain"]),
    ("demo", &["domain", "records"]),
    ("face", &["domain", "records", "report"]),
    ("exit", &[]),
    ("cli", &["domain", "records", "report", "demo", "face", "exit"]),
];

/// Words of the libraries and of the system that a layer has nothing to do with.
const FOREIGN: [(&str, &[&str]); 3] = [
    ("domain", &["ratatui", "crossterm", "clap", "serde_yaml", "std::fs", "std::time", "std::env", "std::io"]),
    ("records", &["ratatui", "crossterm", "clap"]),
    ("report", &["ratatui", "crossterm", "clap", "std::fs", "std::time", "std::env"]),
];

/// The first word of each member of a list in braces, `list` beginning behind the first brace; what is in braces inside it is
/// of those members.
fn members(list: &str) -> Vec<&str> {
    let (mut depth, mut from, mut all) = (0, 0, Vec::new());
    for (at, letter) in list.char_indices() {
        match letter {
            '{' => depth += 1,
            '}' if depth > 0 => depth -= 1,
            ',' | '}' if depth == 0 => {
                all.push(word(list[from..at].trim()));
                from = at + 1;
                if letter == '}' {
                    break;
                }
            }
            _ => {}
        }
    }
    all
}

fn word(text: &str) -> &str {
    text.split(|letter: char| !letter.is_alphanumeric() && letter != '_').next().unwrap()
}

/// The module that follows behind each `crate::`, or behind as many `super::` as lead up to the crate, in braces too.
fn named<'a>(text: &'a str, root: &str) -> Vec<&'a str> {
    let behind = text.match_indices(root).filter(|(at, _)| !text[..*at].ends_with("super::"));
    let of = |(at, found): (usize, &str)| {
        let rest = &text[at + found.len()..];
        match rest.strip_prefix('{') {
            Some(list) => members(list),
            None => vec![word(rest)],
        }
    };
    behind.flat_map(of).collect()
}

/// What a file of a layer, its tests and docs included, names and may not.
fn breaches(name: &str, text: &str) -> Vec<String> {
    let path = name.trim_start_matches("src/").trim_end_matches(".rs");
    let layer = path.split('/').next().unwrap();
    let may = MAY_NAME.iter().find(|(known, _)| *known == layer).map(|(_, may)| *may).unwrap_or_default();
    let foreign: Vec<_> =
        MAY_NAME.iter().map(|(other, _)| *other).filter(|one| *one != layer && !may.contains(one)).collect();
    // a module of tests inside the file lies one deeper
    let depth = path.split('/').count();
    let roots = ["crate::".to_owned(), "super::".repeat(depth), "super::".repeat(depth + 1)];
    let layers = roots.iter().flat_map(|root| named(text, root)).filter(|word| foreign.contains(word));
    let words = FOREIGN.iter().filter(|(known, _)| *known == layer).flat_map(|(_, words)| *words);
    let words = words.filter(|word| text.contains(**word));
    layers.chain(words.copied()).map(|word| format!("{name} names `{word}`")).collect()
}

#[test]
fn every_layer_names_only_those_below_it() {
    for (layer, _) in MAY_NAME {
        let mut files = sources::rust(&format!("src/{layer}.rs"));
        if layer != "exit" {
            files.extend(sources::rust(&format!("src/{layer}")));
        }
        let found: Vec<_> = files.iter().flat_map(|(name, text)| breaches(name, text)).collect();
        assert!(found.is_empty(), "see lib.rs: {found:#?}");
    }
}

/// A rule that nothing can break holds nothing: each forbidden name is planted, in each way of writing it.
#[test]
fn a_planted_breach_is_found() {
    for (layer, may) in MAY_NAME {
        for (other, _) in MAY_NAME.iter().filter(|(other, _)| *other != layer) {
            let file = format!("src/{layer}/deep/file.rs");
            let written = [
                format!("use crate::{other}::thing;"),
                format!("use crate::{{exact, {other}::thing}};"),
                format!("use crate::{{exact::{{a, b::{{c}}}}, {other}::thing}};"),
                format!("use super::super::super::{other}::thing;"),
                format!("/// See [`crate::{other}`]."),
            ];
            for text in written {
                assert_eq!(breaches(&file, &text).is_empty(), may.contains(other), "{file}: {text}");
            }
        }
        assert!(breaches(&format!("src/{layer}/deep/file.rs"), "use super::super::super::super_thing;").is_empty());
    }
    assert_eq!(breaches("src/report/table.rs", "std::fs::read(path)"), ["src/report/table.rs names `std::fs`"]);
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
