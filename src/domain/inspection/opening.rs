//! What is asked when a rotor is opened, each of it now or later.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use super::super::figure::Figure;

/// How the rotor comes to the bench.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Arrives {
    /// The machine is opened where it stands.
    InPlace,
    /// As a cartridge.
    Cartridge,
    /// Already taken apart: as-found readings are lost.
    Stripped,
}

impl Arrives {
    /// Every way.
    pub const ALL: [Self; 3] = [Self::InPlace, Self::Cartridge, Self::Stripped];

    /// The word in files.
    pub fn word(self) -> &'static str {
        match self {
            Self::InPlace => "in place",
            Self::Cartridge => "cartridge",
            Self::Stripped => "stripped",
        }
    }

    /// The way a word in a file means.
    pub fn parse(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|one| one.word() == word)
    }
}

/// What was said of the hours of parts, where no figures were typed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum OwnHours {
    /// To be given later, and a hold until then.
    Later,
    /// They run as the records know them.
    AsKnown,
}

impl OwnHours {
    /// Every answer.
    pub const ALL: [Self; 2] = [Self::Later, Self::AsKnown];

    /// The word in files.
    pub fn word(self) -> &'static str {
        match self {
            Self::Later => "later",
            Self::AsKnown => "as known",
        }
    }
}

/// What is asked when a rotor is opened; whatever is missing is "later", and a hold until given.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Opening {
    /// Why it is opened.
    pub reason: Option<String>,
    /// How it comes.
    pub arrives: Option<Arrives>,
    /// Hours of the machine.
    pub machine_hours: Option<Figure>,
    /// Hours of each part since new.
    pub part_hours: BTreeMap<String, Figure>,
    /// What was said of them where none were typed; none where they were never left for later.
    pub own_hours: Option<OwnHours>,
    /// The manual, asked afresh.
    pub manual: Option<Manual>,
    /// Service letters looked up: which, or that there are none.
    pub letters: Option<String>,
    /// Machine hours planned for the next opening.
    pub next_hours: Option<Figure>,
    /// The day planned for it.
    pub next_date: Option<NaiveDate>,
    /// Hours that were doubted and insisted on: the machine's by [`Self::MACHINE`] or [`Self::NEW_COUNTER`], a part's by its id.
    pub doubts: Vec<String>,
}

impl Opening {
    /// A doubt about the hours of the machine.
    pub const MACHINE: &str = "machine hours";

    /// The same, of fewer than at the last opening: what parts have run is not told by them.
    pub const NEW_COUNTER: &str = "new counter";

    /// What was insisted on of the machine's own hours.
    pub fn doubted_machine(&self) -> Option<&str> {
        self.doubts.iter().map(String::as_str).find(|one| is_of_machine(one))
    }

    /// Takes in answers given later; what they leave out stays.
    pub fn take_in(&mut self, later: &Self) {
        let later = later.clone();
        // what is given anew carries its own doubts
        let machine = later.machine_hours.is_some();
        let anew = |one: &String| later.part_hours.contains_key(one) || (machine && is_of_machine(one));
        self.doubts.retain(|one| !anew(one));
        self.doubts.extend(later.doubts);
        self.reason = later.reason.or(self.reason.take());
        self.arrives = later.arrives.or(self.arrives);
        self.machine_hours = later.machine_hours.or(self.machine_hours);
        // figures given answer it
        let given = (!later.part_hours.is_empty()).then_some(OwnHours::AsKnown).filter(|_| self.own_hours.is_some());
        self.own_hours = later.own_hours.or(given).or(self.own_hours);
        self.part_hours.extend(later.part_hours);
        self.manual = later.manual.or(self.manual.take());
        self.letters = later.letters.or(self.letters.take());
        self.next_hours = later.next_hours.or(self.next_hours);
        self.next_date = later.next_date.or(self.next_date);
    }

    /// Answers still to be given, in words.
    pub fn missing(&self) -> Vec<&'static str> {
        let given = [
            ("why it is opened", self.reason.is_some()),
            ("how it arrives", self.arrives.is_some()),
            ("hours of the machine", self.machine_hours.is_some()),
            ("hours of the parts", self.own_hours != Some(OwnHours::Later)),
            ("edition of the manual, checked today", self.manual.is_some()),
            ("service letters, looked up today", self.letters.is_some()),
            ("hours of the next opening", self.next_hours.is_some()),
            ("date of the next opening", self.next_date.is_some()),
        ];
        given.into_iter().filter(|(_, given)| !given).map(|(what, _)| what).collect()
    }
}

fn is_of_machine(doubt: &str) -> bool {
    [Opening::MACHINE, Opening::NEW_COUNTER].contains(&doubt)
}

/// The manual as it lay on the bench.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Manual {
    /// Its title.
    pub title: String,
    /// Its edition.
    pub edition: String,
    /// The day somebody looked whether it is in force.
    pub checked: NaiveDate,
}
