//! The house rules that no lint holds.

use std::collections::BTreeSet;

use super::sources;

/// Files that may be longer than 400 lines, each with its reason.
const LONG: &[(&str, &str)] = &[];

/// The files that may do what the rest of the program may not: touch files, ask the clock, read the environment.
///
/// Floats are for the files of domain/reckon, which need no line here.
const DOORS: &[&str] = &[
    "src/cli/screen.rs",
    "src/cli/surroundings.rs",
    "src/records/clock.rs",
    "src/records/durable/real.rs",
    "src/records/figures.rs",
    "src/records/lock.rs",
    "src/records/store/folder.rs",
];

/// The paths of all files whose text has the attribute for that lint.
fn excepting(lint: &str) -> BTreeSet<String> {
    let all = sources::rust("src").into_iter();
    all.filter(|(_, text)| text.contains(&format!("clippy::{lint}"))).map(|(name, _)| name).collect()
}

#[test]
fn a_file_fits_in_one_reading() {
    let mut lengths = Vec::new();
    for (name, text) in sources::rust("src").into_iter().chain(sources::rust("tests/it")) {
        let lines = text.lines().count();
        let excused = LONG.iter().any(|(long, _)| *long == name);
        assert!(lines <= 400 || excused, "{name} has {lines} lines: look for the second noun in it");
        assert!(lines > 400 || !excused, "{name} is short again: take it off the list");
        lengths.push(lines);
    }
    lengths.sort_unstable();
    let median = lengths[lengths.len() / 2];
    assert!(median <= 150, "the median file has {median} lines");
}

#[test]
fn files_clock_environment_and_floats_have_named_doors() {
    let floats = excepting("disallowed_types").into_iter().filter(|name| !name.starts_with("src/domain/reckon/"));
    let found: BTreeSet<String> = excepting("disallowed_methods").into_iter().chain(floats).collect();
    let listed = DOORS.iter().map(|&door| door.to_owned()).collect();
    assert_eq!(found, listed, "left: files that ask for an exception; right: files that may");
}

/// Every file that is compiled is named by a `mod` line of the file above it, up to the crate's root.
fn reached(folder: &str, roots: &[&str]) {
    let files = sources::rust(folder);
    let text_of = |wanted: &str| files.iter().find(|(name, _)| name == wanted).map(|(_, text)| text.as_str());
    for (name, _) in &files {
        if roots.contains(&name.as_str()) {
            continue;
        }
        let (above, module) = name.trim_end_matches(".rs").rsplit_once('/').unwrap();
        let parents =
            if above == folder { roots.iter().map(|&r| r.to_owned()).collect() } else { vec![format!("{above}.rs")] };
        let named = parents.iter().filter_map(|parent| text_of(parent)).any(|text| declares(text, module));
        assert!(named, "{name} is compiled by nobody: no `mod {module};` in {parents:?}");
    }
}

fn declares(text: &str, module: &str) -> bool {
    let ends = format!("mod {module};");
    text.lines().any(|line| line == ends || line.starts_with("pub") && line.ends_with(&format!(" {ends}")))
}

#[test]
fn no_file_is_forgotten() {
    reached("src", &["src/main.rs", "src/lib.rs"]);
    reached("tests/it", &["tests/it/main.rs"]);
}

#[test]
fn nothing_is_left_for_later_and_no_test_sleeps() {
    let later = [
        concat!("todo", "!("),
        concat!("unimplemented", "!("),
        concat!("FIX", "ME"),
        concat!("TO", "DO"),
        concat!("XX", "X:"),
    ];
    for (name, text) in sources::rust("src").into_iter().chain(sources::rust("tests/it")) {
        for word in later.into_iter().chain([concat!("thread::", "sleep(")]) {
            assert!(!text.contains(word), "{name} has `{word}`");
        }
    }
}

#[test]
fn no_file_names_one_machine_or_a_registry() {
    let words = [
        concat!("/wo", "rk/"),
        concat!("/tmp/", "wt"),
        concat!("/ro", "ot/"),
        concat!("../sha", "red"),
        concat!("crates", ".io"),
        concat!("pypi", ".org"),
        concat!("python", "hosted.org"),
        concat!("debian", ".org"),
        concat!("npm", "js.org"),
    ];
    // the lock file's format names the registry in every row
    for (name, bytes) in sources::files("").into_iter().filter(|(name, _)| name != "Cargo.lock") {
        let text = String::from_utf8_lossy(&bytes);
        for word in words {
            assert!(!text.contains(word), "{name} names `{word}`");
        }
    }
}

#[test]
fn every_library_is_explained() {
    let explained = std::fs::read_to_string(sources::root().join("DEVELOPERS.md")).unwrap();
    let manifest = std::fs::read_to_string(sources::root().join("Cargo.toml")).unwrap();
    let below = manifest.split_once("\n[dependencies]\n").unwrap().1;
    let table = below.split("\n[").next().unwrap();
    let libraries = table.lines().filter(|line| !line.starts_with('#')).filter_map(|line| line.split_once(" = "));
    for (library, _) in libraries {
        assert!(explained.contains(&format!("`{library}`")), "DEVELOPERS.md does not say why {library} is needed");
    }
}
