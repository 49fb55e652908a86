//! Every file is plain YAML: another library reads the same keys, lists and texts from it as we do.

use std::path::{Path, PathBuf};

use asfound::records::yaml::{Node, What, parse};
use serde_json::Value;

/// Every YAML file below a folder.
fn files_below(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            files_below(&path, found);
        } else if path.extension().is_some_and(|end| end == "yaml") {
            found.push(path);
        }
    }
}

/// Holds our tree against the other library's; says where they differ.
fn same(ours: &Node, theirs: &Value, at: &str) {
    match (&ours.what, theirs) {
        (What::Map(_, ours), Value::Object(theirs)) => {
            let keys: Vec<_> = ours.iter().map(|(key, _)| key.text.as_str()).collect();
            assert_eq!(keys, theirs.keys().collect::<Vec<_>>(), "{at}");
            for ((key, ours), theirs) in ours.iter().zip(theirs.values()) {
                same(ours, theirs, &format!("{at}.{}", key.text));
            }
        }
        (What::List(_, ours), Value::Array(theirs)) => {
            assert_eq!(ours.len(), theirs.len(), "{at}");
            for (index, (ours, theirs)) in ours.iter().zip(theirs).enumerate() {
                same(ours, theirs, &format!("{at}[{index}]"));
            }
        }
        (What::Text(ours, _), Value::String(theirs)) => assert_eq!(ours.trim_end(), theirs.trim_end(), "{at}"),
        (What::Text(ours, _), Value::Number(theirs)) => {
            assert_eq!(ours.parse::<f64>().ok(), theirs.as_f64(), "{at}");
        }
        (What::Text(ours, _), Value::Bool(theirs)) => {
            assert_eq!(matches!(ours.as_str(), "yes" | "true"), *theirs, "{at}");
        }
        (ours, theirs) => panic!("{at}: {ours:?} here, {theirs:?} there"),
    }
}

#[test]
fn another_library_reads_the_same_from_every_file() {
    let mut files = Vec::new();
    for folder in ["docs/files", "checklists", "assets/demo", "tests/data"] {
        files_below(&Path::new(env!("CARGO_MANIFEST_DIR")).join(folder), &mut files);
    }
    assert!(files.len() > 40, "{} files", files.len());
    for path in files {
        let name = path.display().to_string();
        let text = std::fs::read_to_string(&path).unwrap();
        let ours = parse(&name, text.as_bytes()).unwrap_or_else(|problems| panic!("{problems}"));
        let theirs: Value = serde_yaml::from_str(&text).unwrap_or_else(|fault| panic!("{name}: {fault}"));
        same(&ours, &theirs, &name);
    }
}
