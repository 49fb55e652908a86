//! The data folder that a verb works in, and the records named on the command line.

use std::path::{Path, PathBuf};

use crate::domain::id::Id;
use crate::domain::inspection::Inspection;
use crate::domain::signing;
use crate::records::inspection_file::Opened;
use crate::records::store::{Store, usual_root};

use super::surroundings::Surroundings;

/// The data folder.
///
/// # Errors
/// When nothing says where it is.
pub(super) fn store(data: Option<&Path>, surroundings: &Surroundings) -> Result<Store, String> {
    let root = usual_root(data.map(Path::to_owned), surroundings.data.clone());
    root.map(Store::at).ok_or_else(|| "no data folder is known on this system. Name one with --data DIR.".to_owned())
}

/// The file of a record named by its path, or by its id in the data folder or in the demonstration's.
///
/// # Errors
/// When there is no such record.
pub(super) fn record_named(store: &Store, name: &str) -> Result<(Store, PathBuf), String> {
    let path = Path::new(name);
    if path.is_file() {
        return Ok((store.clone(), path.to_owned()));
    }
    for one in [store.clone(), store.demo()] {
        let Some((rotor, _)) = name.split_once('/') else { break };
        let Ok(rotor) = rotor.parse::<Id>() else { break };
        let records = one.records(&rotor).map_err(|problems| problems.to_string())?;
        let named = records.into_iter().find(|path| {
            one.open_whole_part(path).is_ok_and(|opened| opened.inspection.head().id.eq_ignore_ascii_case(name))
        });
        if let Some(path) = named {
            return Ok((one, path));
        }
    }
    Err(format!(
        "there is no record `{name}`: no file of that name, and none with that id in {} or its demo/. Name the file, or the id as in DEMO-1/2031-04-17-overhaul.",
        store.root().display()
    ))
}

/// Records that are begun and not closed, the latest last.
///
/// # Errors
/// When a folder cannot be read; a record that cannot be is passed over, `check` says why.
pub(super) fn going(store: &Store) -> Result<Vec<(PathBuf, Opened)>, String> {
    let mut going = Vec::new();
    for listed in store.rotors().map_err(|problems| problems.to_string())? {
        let Ok(rotor) = listed.rotor else { continue };
        for path in store.records(&rotor.id).map_err(|problems| problems.to_string())? {
            let Ok(opened) = store.open(&path) else { continue };
            if !is_closed(&opened.inspection) {
                going.push((path, opened));
            }
        }
    }
    going.sort_by_key(|(_, opened)| opened.inspection.head().begun);
    Ok(going)
}

/// Whether the closing signature stands.
pub(super) fn is_closed(inspection: &Inspection) -> bool {
    signing::standing_signature(inspection, crate::domain::checklist::Signing::Close).is_some()
}
