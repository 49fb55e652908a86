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
    /// What was doubted of it and insisted on.
    pub doubts: Vec<String>,
}

impl Fitted {
    /// The doubt about its hours.
    pub const HOURS: &'static str = "hours";
    /// The doubt whether what was done of the checks of a new part before its number was known is of this very piece.
    pub const CHECKS: &'static str = "checked before its number was known";

    /// Whether its hours are in doubt; whatever else was insisted on leaves them sure.
    pub fn has_sure_hours(&self) -> bool {
        self.doubts.iter().all(|doubt| doubt == Self::CHECKS)
    }

    /// Whether it bears a number.
    pub fn is_numbered(&self) -> bool {
        self.serial.as_ref().is_some_and(|serial| !serial.trim().is_empty())
    }
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

impl Rotor {
    /// Whether another rotor of its machine type bears its serial number, by which a record is begun on the right one.
    pub fn is_stamped_as(&self, other: &Self) -> bool {
        is_same_number(&self.serial, &other.serial)
            && self.machine.same_as(&other.machine)
            && !self.id.same_as(&other.id)
    }
}

/// Whether two serial numbers are one, blanks and case aside.
pub fn is_same_number(one: &str, other: &str) -> bool {
    let bare = |text: &str| text.split_whitespace().collect::<String>().to_uppercase();
    bare(one) == bare(other)
}

/// Every two of them that are stamped alike.
pub fn stamped_alike<'a>(rotors: &[&'a Rotor]) -> Vec<(&'a Rotor, &'a Rotor)> {
    let before = |place: usize| rotors.iter().take(place).copied();
    let pairs = rotors.iter().enumerate().flat_map(|(place, other)| before(place).map(|one| (one, *other)));
    pairs.filter(|(one, other)| one.is_stamped_as(other)).collect()
}
