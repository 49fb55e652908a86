//! The five kinds, and the reader and description of each: the same as for files.

use crate::records::checklist_file::{WHOLE, read_whole};
use crate::records::file::shape;
use crate::records::form::Shape;
use crate::records::instrument_file::{INSTRUMENT, read_instrument};
use crate::records::people_file::{PEOPLE, read_people};
use crate::records::rotor_file::{ROTOR, read_rotor};
use crate::records::sheet_file::{SHEET, read_sheet};
use crate::records::yaml::Problems;

use super::cell::Place;
use crate::records::edit::Path;

/// What a file holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kind {
    /// Everybody.
    People,
    /// A gauge.
    Instrument,
    /// A machine type with its limits.
    Sheet,
    /// A rotor.
    Rotor,
    /// A checklist of the owner's own.
    Checklist,
}

impl Kind {
    /// Every kind, in the order in which a workshop needs them.
    pub const ALL: [Self; 5] = [Self::People, Self::Instrument, Self::Sheet, Self::Rotor, Self::Checklist];

    /// One of them.
    pub fn one(self) -> &'static str {
        match self {
            Self::People => "people file",
            Self::Instrument => "instrument",
            Self::Sheet => "limits sheet",
            Self::Rotor => "rotor",
            Self::Checklist => "checklist",
        }
    }

    /// All of them.
    pub fn all(self) -> &'static str {
        match self {
            Self::People => "people",
            Self::Instrument => "instruments",
            Self::Sheet => "machine types and limits sheets",
            Self::Rotor => "rotors",
            Self::Checklist => "own checklists",
        }
    }

    /// The word on the command line and of the folder of drafts.
    pub fn word(self) -> &'static str {
        match self {
            Self::People => "people",
            Self::Instrument => "instruments",
            Self::Sheet => "sheets",
            Self::Rotor => "rotors",
            Self::Checklist => "checklists",
        }
    }

    /// The kind of a word.
    pub fn parse(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| kind.word() == word)
    }

    /// The key that holds its id; none for the one file of all people.
    pub fn id_key(self) -> Option<&'static str> {
        match self {
            Self::People => None,
            Self::Instrument => Some("instrument"),
            Self::Sheet => Some("sheet"),
            Self::Rotor => Some("rotor"),
            Self::Checklist => Some("checklist"),
        }
    }

    /// The place that its form begins with.
    pub fn first_place(self) -> Place {
        match self {
            Self::People => Place::Table(Path::root().key("people")),
            Self::Instrument | Self::Sheet | Self::Rotor | Self::Checklist => Place::Fields(Path::root()),
        }
    }

    pub(super) fn remark(self) -> &'static str {
        match self {
            Self::People => PEOPLE.remark,
            Self::Instrument => INSTRUMENT.remark,
            Self::Sheet => SHEET.remark,
            Self::Rotor => ROTOR.remark,
            Self::Checklist => WHOLE.remark,
        }
    }

    /// What the description says may stand in the file.
    pub(super) fn shape(self) -> Shape {
        match self {
            Self::People => shape(&PEOPLE),
            Self::Instrument => shape(&INSTRUMENT),
            Self::Sheet => shape(&SHEET),
            Self::Rotor => shape(&ROTOR),
            Self::Checklist => shape(&WHOLE),
        }
    }

    /// Everything that the kind's own reader finds wrong.
    pub fn problems(self, name: &str, text: &str) -> Problems {
        let bytes = text.as_bytes();
        let read = match self {
            Self::People => read_people(name, bytes).map(drop),
            Self::Instrument => read_instrument(name, bytes).map(drop),
            Self::Sheet => read_sheet(name, bytes).map(drop),
            Self::Rotor => read_rotor(name, bytes).map(drop),
            Self::Checklist => read_whole(name, bytes).map(drop),
        };
        read.err().unwrap_or_default()
    }

    /// What a key is called in the form, and what helps to fill it in; the key itself where nothing is said.
    pub(super) fn label(self, key: &str) -> (&str, &'static str) {
        let found = LABELS.iter().find(|(kind, known, ..)| *kind == self && *known == key);
        found.map_or((key, ""), |(_, _, label, hint)| (*label, *hint))
    }
}

impl Kind {
    /// The same of a key of the items under `list`, where it means something of its own there.
    pub(super) fn label_in<'a>(self, list: &str, key: &'a str) -> (&'a str, &'static str) {
        let own = LABELS.iter().find(|(kind, known, ..)| *kind == self && known.split_once('/') == Some((list, key)));
        own.map_or_else(|| self.label(key), |(_, _, label, hint)| (*label, *hint))
    }
}

const LABELS: &[(Kind, &str, &str, &str)] = &[
    (Kind::People, "id", "id", "short and for ever: fitter-a; records name people by it"),
    (Kind::People, "roles", "roles", "fitter, trainee, supervisor; several apart by commas"),
    (Kind::People, "keys", "public keys", "a line from a .pub file, only where signatures are made with a key"),
    (Kind::Instrument, "instrument", "id on the gauge", "as written on it, such as D2"),
    (
        Kind::Instrument,
        "from",
        "from",
        "its smallest figure; a dial zeroed at the mark reads both ways, as -0.5 to 0.5 mm",
    ),
    (Kind::Instrument, "calibrations", "calibrations", "date, expanded U, k, certificate and when it is due"),
    (Kind::Instrument, "turn", "one turn", "of a dial's large hand, such as 0.2 mm"),
    (Kind::Instrument, "prefix", "prefix letter", "letters that a gauge with a cable types before the figure"),
    (Kind::Instrument, "corrections", "correction table", "what it shows on a piece of known size"),
    (Kind::Instrument, "expansion", "expansion", "how its own length grows with heat, where that is known"),
    (Kind::Instrument, "expanded", "expanded U", "of the certificate, with its unit"),
    (Kind::Instrument, "k", "k", "the coverage factor of U, usually 2"),
    (Kind::Instrument, "s", "s", "pooled standard deviation of the same hand with it"),
    (Kind::Instrument, "dof", "degrees", "degrees of freedom of s, from 1; empty: many"),
    (Kind::Sheet, "sheet", "machine type", "the name of the sheet, such as INV-420"),
    (Kind::Sheet, "origin", "whose limits", "maker, owner, or interim until something better is known"),
    (Kind::Sheet, "title", "title of the manual", "every source begins with it"),
    (Kind::Sheet, "edition", "edition of the manual", "asked afresh at each job"),
    (Kind::Sheet, "entered by", "entered by", "one name; the second comes with the second entry"),
    (Kind::Sheet, "invented", "invented", "yes only where no such machine exists; else leave it empty"),
    (Kind::Sheet, "given", "figures of the machine", "lands, blades, widths that the steps need"),
    (Kind::Sheet, "absent", "not on this machine", "characteristics it does not have, with the reason"),
    (Kind::Sheet, "levels", "levels", "new range, alert and limit of everything judged"),
    (Kind::Sheet, "over", "size over", ""),
    (Kind::Sheet, "up to", "up to and including", ""),
    (Kind::Rotor, "rotor", "id of the rotor", "names its folder, such as DEMO-1"),
    (Kind::Rotor, "serial", "serial number", "as stamped on it"),
    (Kind::Rotor, "machine", "machine type", "the name of its limits sheet: without one nothing is judged"),
    (Kind::Rotor, "plant", "engine or plant", "where it runs, as the workshop calls it; may stay empty"),
    (Kind::Rotor, "invented", "invented", "yes only where no such machine exists; else leave it empty"),
    (Kind::Rotor, "parts", "parts as first fitted", "the present fit follows from the records"),
    (Kind::Rotor, "parts/part", "part", "as the checklists name it; Tab turns through them"),
    (Kind::Rotor, "parts/serial", "serial", "as stamped on the part; empty: none on it"),
    (Kind::Rotor, "parts/machine", "at machine hours", "what the machine had run when the part had the hours beside"),
    (Kind::Rotor, "hours", "hours since new", "of the part, when the machine stood at the hours beside"),
    (Kind::Checklist, "checklist", "id of the checklist", "one named like the program's own takes its place"),
    (Kind::Checklist, "do", "what to do", "at most 3 lines of 76 characters"),
];
