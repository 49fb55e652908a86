//! A checklist that changes gets a higher version: two records of one version were made by one list of questions.

use std::fmt::Write as _;

use asfound::records::checklist_file::{WHOLE, built_in_names};
use asfound::records::file::write;
use sha2::{Digest, Sha256};

use super::steps;

const TABLE: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/data/checklists.csv");

/// SHA-256 of everything that the list says, its version left aside; first 16 digits.
fn hash(name: &str) -> String {
    let mut whole = steps::checklist(name);
    whole.version = 0;
    let text = write(&WHOLE, &whole);
    let digest = Sha256::digest(text.as_bytes());
    digest.iter().take(8).fold(String::new(), |mut hex, byte| {
        let _ = write!(hex, "{byte:02x}");
        hex
    })
}

/// `REWRITE_DOCS=1` takes a change in, where its version was raised.
#[test]
fn what_a_checklist_says_changes_only_with_its_version() {
    let kept = std::fs::read_to_string(TABLE).unwrap_or_default();
    let mut now = "checklist,version,says\n".to_owned();
    for name in built_in_names() {
        let (version, hash) = (steps::checklist(name).version, hash(name));
        let before = kept.lines().find(|line| line.starts_with(&format!("{name},")));
        let before: Vec<_> = before.map(|line| line.split(',').collect()).unwrap_or_default();
        if let [_, was, says] = before.as_slice() {
            let was: u32 = was.parse().unwrap();
            assert!(
                *says == hash || version > was,
                "checklists/{name}.order.yaml: its questions changed since version {was}: raise the version"
            );
        }
        let _ = writeln!(now, "{name},{version},{hash}");
    }
    if std::env::var_os("REWRITE_DOCS").is_some() {
        std::fs::write(TABLE, &now).unwrap();
    } else {
        assert_eq!(now, kept, "raise the version, then REWRITE_DOCS=1 cargo test --test it versions");
    }
}
