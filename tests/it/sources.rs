//! The project's own files, for the tests that read them.

use std::path::Path;

/// The project's folder.
pub(super) fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// Every file below `folder` of the project, or that file itself: its path from the root, with `/` between, and its bytes.
///
/// Nothing that a build or a version control writes: `target`, `.git`, `__pycache__`, virtual environments.
pub(super) fn files(folder: &str) -> Vec<(String, Vec<u8>)> {
    let mut found = Vec::new();
    walk(&root().join(folder), &mut found);
    found.sort();
    assert!(!found.is_empty(), "no files in {folder}");
    found
}

/// The Rust files among them, as text.
pub(super) fn rust(folder: &str) -> Vec<(String, String)> {
    let all = files(folder).into_iter().filter(|(name, _)| Path::new(name).extension().is_some_and(|e| e == "rs"));
    all.map(|(name, bytes)| (name, String::from_utf8(bytes).unwrap())).collect()
}

fn walk(path: &Path, found: &mut Vec<(String, Vec<u8>)>) {
    if path.is_file() {
        let name = path.strip_prefix(root()).unwrap().components().map(|c| c.as_os_str().to_str().unwrap());
        found.push((name.collect::<Vec<_>>().join("/"), std::fs::read(path).unwrap()));
        return;
    }
    for entry in std::fs::read_dir(path).unwrap() {
        let path = entry.unwrap().path();
        if !is_made(&path) {
            walk(&path, found);
        }
    }
}

fn is_made(path: &Path) -> bool {
    let name = path.file_name().and_then(|name| name.to_str()).unwrap_or_default();
    matches!(name, "target" | ".git" | "__pycache__" | ".venv" | "proptest-regressions")
}
