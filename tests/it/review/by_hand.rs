//! A record checked without this program: exactly the commands that README.md and docs/files.md show, run by the shell.
#![cfg(unix)]

use std::path::{Path, PathBuf};
use std::process::Command;

use asfound::domain::entry::Act;
use asfound::records::inspection_file::open;
use asfound::records::verify::verify;

use super::keys::{keyed, person};
use super::shelf::Shelf;
use crate::files::samples::{FOLDER, RECORD};
use crate::sources;

/// The lines shown in a page behind the line `heading`, up to the next heading; the first one shown in `fence` or indented.
fn shown(page: &str, heading: &str) -> Vec<String> {
    let text = std::fs::read_to_string(sources::root().join(page)).unwrap();
    let below = text.split_once(heading).unwrap_or_else(|| panic!("{page} has no `{heading}`")).1;
    let below = below.split("\n## ").next().unwrap();
    let indented = below.lines().filter_map(|line| line.strip_prefix("    ")).map(str::to_owned);
    let fenced = below.split("```").nth(1).map(|block| block.lines().map(str::to_owned).collect());
    fenced.unwrap_or_else(|| indented.collect())
}

/// What the shell prints, in `folder`; fails when a command fails or a program is not there.
fn shell(folder: &Path, lines: &[String]) -> Result<String, String> {
    for program in ["head", "sha256sum", "ssh-keygen", "sed", "grep", "cut"] {
        let found = Command::new("sh").args(["-c", &format!("command -v {program}")]).output().unwrap();
        assert!(found.status.success(), "{program} is not on this machine: install it, this check is not left out");
    }
    let script = lines.join("\n");
    let out = Command::new("sh").current_dir(folder).args(["-e", "-c", &script]).output().unwrap();
    let said = String::from_utf8(out.stdout).unwrap();
    if out.status.success() { Ok(said) } else { Err(format!("{said}{}", String::from_utf8_lossy(&out.stderr))) }
}

/// A signed record and its key: the folder, the record, the sign entry, the README's commands for it.
fn signed_by_key() -> (Shelf, PathBuf, u32, Vec<String>) {
    let (shelf, path, number, _, public) = keyed();
    shelf.store.save_people(&[person(vec![public.clone()])]).unwrap();
    let mut lines = shown("README.md", "## Checking a record without this program");
    assert!(lines[0].starts_with("FILE=") && lines[0].contains(" N=") && lines[0].contains(" KEY="), "{}", lines[0]);
    let file = path.file_name().unwrap().to_str().unwrap();
    lines[0] = format!("FILE={file}; N={number}; WHO=fitter-a; KEY='{public}'");
    (shelf, path, number, lines)
}

#[test]
fn the_commands_of_the_readme_agree_with_verify() {
    let (shelf, path, number, lines) = signed_by_key();
    let folder = path.parent().unwrap();
    let said = shell(folder, &lines).unwrap();
    let said: Vec<_> = said.lines().collect();
    let opened = shelf.open(&path);
    let entry = opened.inspection.entry(number).unwrap();
    let Act::Sign(signature) = &entry.act else { panic!("no signature") };
    let place = opened.inspection.entries().iter().position(|other| other.number == number).unwrap();
    assert_eq!(said[0], format!("{}  -", signature.sha256));
    assert_eq!(said[1].trim_matches('"'), signature.sha256);
    assert_eq!(said[2], opened.chains[place]);
    assert_eq!(said[3], format!("  chain: \"{}\"", opened.chains[place]));
    assert!(said[4].starts_with("Good \"asfound-record\" signature for fitter-a with ED25519 key"), "{said:?}");
    assert!(verify(&shelf.store, std::slice::from_ref(&path))[0].is_fine());
}

/// The key of whoever wrote it has signed the original's bytes.
#[test]
fn the_readme_finds_what_a_brought_entry_was_signed_over() {
    let folder = tempfile::tempdir().unwrap();
    let record = format!("{FOLDER}{RECORD}");
    let opened = open(Path::new(&record)).unwrap();
    let brought = opened.inspection.entries().iter().find_map(|entry| {
        if let Act::Brought { bytes, .. } = &entry.act { Some((entry.number, bytes.clone())) } else { None }
    });
    let (number, bytes) = brought.unwrap();
    let readme = std::fs::read_to_string(sources::root().join("README.md")).unwrap();
    let original = readme.split('`').find(|code| code.contains("original: |")).unwrap().to_owned();
    let lines = shown("README.md", "## Checking a record without this program");
    let entry = lines.into_iter().find(|line| line.contains("> entry")).unwrap();
    let said = shell(folder.path(), &[format!("FILE='{record}'; N={number}"), entry, original]).unwrap();
    assert_eq!(said, bytes);
}

#[test]
fn the_commands_of_the_readme_see_what_verify_sees() {
    let (shelf, path, number, lines) = signed_by_key();
    let folder = path.parent().unwrap();
    let whole = std::fs::read_to_string(&path).unwrap();
    // a digit above the signature
    std::fs::write(&path, whole.replacen("machine hours: 48480", "machine hours: 48481", 1)).unwrap();
    let said = shell(folder, &lines).unwrap();
    let of_file = said.lines().next().unwrap()[..64].to_owned();
    assert!(!said.lines().nth(1).unwrap().contains(&of_file), "{said}");
    assert!(!verify(&shelf.store, std::slice::from_ref(&path))[0].is_fine());
    // the sign entry itself: no longer the bytes that the key signed
    let begin = whole.find(&format!("\n- entry: {number}\n")).unwrap();
    let changed = format!("{}{}", &whole[..begin], whole[begin..].replacen("signs: decisions", "signs: close", 1));
    std::fs::write(&path, changed).unwrap();
    let said = shell(folder, &lines).unwrap_err();
    assert!(said.contains("incorrect signature") || said.contains("Could not verify signature"), "{said}");
    assert!(!verify(&shelf.store, std::slice::from_ref(&path))[0].is_fine());
}

#[test]
fn the_chain_is_checked_by_the_commands_of_the_page_on_files() {
    let folder = tempfile::tempdir().unwrap();
    let record = format!("{FOLDER}{RECORD}");
    let mut lines = shown("docs/files.md", "**Chain.**");
    lines.insert(0, format!("cp '{record}' FILE"));
    let said = shell(folder.path(), &lines).unwrap();
    assert_eq!(said.trim(), open(Path::new(&record)).unwrap().chains[0]);
}
