//! The data folder that a verb works in, and the records named on the command line.

use std::io;
use std::path::{Path, PathBuf};

use crate::domain::inspection::Inspection;
use crate::domain::signing;
use crate::exit::Exit;
use crate::records::inspection_file::Opened;
use crate::records::store::{Store, usual_root};
use crate::records::yaml::{Problems, nearest};

use super::Out;
use super::surroundings::Surroundings;

/// The data folder.
///
/// # Errors
/// When nothing says where it is.
pub(super) fn store(data: Option<&Path>, surroundings: &Surroundings) -> Result<Store, String> {
    let root = usual_root(data.map(Path::to_owned), surroundings.data.clone());
    root.map(Store::at).ok_or_else(|| "no data folder is known on this system. Name one with --data DIR.".to_owned())
}

/// Why the record that is meant was not found.
pub(super) struct NotFound {
    why: String,
    exit: Exit,
}

impl From<String> for NotFound {
    fn from(why: String) -> Self {
        Self { why, exit: Exit::NotDone }
    }
}

impl NotFound {
    /// Says so, in the name of a verb.
    ///
    /// # Errors
    /// When stderr cannot be written.
    pub(super) fn told(&self, verb: &str, out: &mut Out) -> io::Result<Exit> {
        out.complain(&format!("asfound {verb}: {}", self.why))?;
        Ok(self.exit)
    }
}

/// The file of a record named by its path, or by its id in the data folder or in the demonstration's; with the folder that
/// it belongs to.
///
/// # Errors
/// When there is no such record, and when two files have the id: which is meant, a person says.
pub(super) fn record_named(store: &Store, name: &str) -> Result<(Store, PathBuf), NotFound> {
    let path = Path::new(name);
    if path.is_file() {
        let own = [store.demo(), store.practice()].into_iter().find(|own| own.holds(path));
        return Ok((own.unwrap_or_else(|| store.clone()), path.to_owned()));
    }
    let stores = [store.clone(), store.demo(), store.practice()];
    for one in &stores {
        if let Some(path) = one.record_of_id(name)? {
            return Ok((one.clone(), path));
        }
    }
    let known: Vec<_> = stores.iter().flat_map(Store::likely_ids).collect();
    let near = nearest(name, known.iter().map(String::as_str));
    let near = near.map(|id| format!(" Did you mean {id}?")).unwrap_or_default();
    let why = format!(
        "there is no record `{name}`: no file of that name, and none with that id in {} or its demo/.{near} Name the file, or the id as in DEMO-1/2031-04-17-overhaul.",
        store.root().display()
    );
    Err(NotFound { why, exit: Exit::WrongWords })
}

/// Where there was nothing to be found.
pub(super) fn looked_in(store: &Store) -> String {
    format!(
        " Looked in {} and its demo/. `asfound demo` fills in a demonstration; --data DIR names another folder.",
        store.root().display()
    )
}

/// Records that are begun and not closed, the latest last, and what is wrong with those that cannot be read.
pub(super) type Going = (Vec<(PathBuf, Opened)>, Problems);

/// Those of a folder.
///
/// # Errors
/// When a folder cannot be read.
pub(super) fn going(store: &Store) -> Result<Going, String> {
    let (mut going, mut unread) = (Vec::new(), Problems::default());
    for listed in store.rotors().map_err(|problems| problems.to_string())? {
        let rotor = match listed.rotor {
            Ok(rotor) => rotor,
            Err(problems) => {
                unread.join(problems);
                continue;
            }
        };
        for path in store.records(&rotor.id).map_err(|problems| problems.to_string())? {
            match store.open(&path) {
                Ok(opened) if is_closed(&opened.inspection) && !signing::gone_on(&opened.inspection) => {}
                Ok(opened) => going.push((path, opened)),
                Err(problems) => unread.join(problems),
            }
        }
    }
    going.sort_by_key(|(_, opened)| opened.inspection.head().begun);
    Ok((going, unread))
}

/// Whether the closing signature stands.
pub(super) fn is_closed(inspection: &Inspection) -> bool {
    signing::standing_signature(inspection, crate::domain::checklist::Signing::Close).is_some()
}
