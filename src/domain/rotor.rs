//! One rotor: who it is, and what was in it when its folder was made.

use std::collections::BTreeMap;

use super::figure::Figure;
use super::id::Id;

/// A part as fitted.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fitted {
    /// Serial number, typed from the part; may be unknown.
    pub serial: Option<String>,
    /// Hours the part had run when the machine stood at `machine`.
    pub hours: Figure,
    /// The machine's hours then.
    pub machine: Figure,
}

/// One rotating assembly with its bearings.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Rotor {
    /// The id; names the folder.
    pub id: Id,
    /// The serial number stamped on it.
    pub serial: String,
    /// The machine type, and the name of its limits sheet.
    pub machine: Id,
    /// The engine or plant it sits on.
    pub plant: Option<String>,
    /// Belongs to a demonstration or a test.
    pub invented: bool,
    /// First fit of parts by part id; the present fit follows from the records.
    pub parts: BTreeMap<String, Fitted>,
}
