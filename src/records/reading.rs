//! Reading files as bytes, with the fault in words when one cannot be had.

use std::path::Path;

use super::durable::Disk;
use super::yaml::{At, Problems, parse};

/// The bytes of a file.
pub(super) fn bytes_of(disk: &dyn Disk, path: &Path) -> Result<Vec<u8>, Problems> {
    let mut problems = Problems::of(path.display().to_string());
    let at = At::WHOLE;
    match disk.read(path) {
        Ok(Some(bytes)) => return Ok(bytes),
        Ok(None) => problems.add(at, "no such file", "a file", "Look at its name and folder."),
        Err(error) => {
            problems.add(at, format!("a file that cannot be read: {error}"), "a file", "Look who may read it.");
        }
    }
    Err(problems)
}

/// Where the value under these keys stands in the head of a file; its top where it stands nowhere.
pub(super) fn place_under(disk: &dyn Disk, path: &Path, keys: &[&str]) -> At {
    let bytes = bytes_of(disk, path).unwrap_or_default();
    // whatever is wrong with the entries of a record
    let head = bytes.windows(ENTRIES.len()).position(|here| here == ENTRIES).and_then(|end| bytes.get(..=end));
    let tree = parse("", head.unwrap_or(&bytes)).ok();
    let found = tree.as_ref().and_then(|tree| keys.iter().try_fold(tree, |node, key| node.get(key)));
    found.map_or(At { line: 1, column: 1 }, |node| node.at)
}

const ENTRIES: &[u8] = b"\nentries:";
