//! Reading files as bytes, with the fault in words when one cannot be had.

use std::path::Path;

use super::durable::Disk;
use super::yaml::{At, Problems};

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
