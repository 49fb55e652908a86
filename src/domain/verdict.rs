//! What may be done with a part: a disposition, the worst of all that speaks of it, and the set of what still holds it.

use std::collections::BTreeSet;

/// What to do with a part; a later variant is worse.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Disposition {
    /// Within everything; not a release.
    Reuse,
    /// Within its limits, to be watched: what, how, by when.
    Watch,
    /// To be mended.
    Rework,
    /// To be replaced.
    Replace,
}

impl Disposition {
    /// Every disposition, mildest first.
    pub const ALL: [Self; 4] = [Self::Reuse, Self::Watch, Self::Rework, Self::Replace];

    /// The word on screens and in files.
    pub fn word(self) -> &'static str {
        match self {
            Self::Reuse => "reuse",
            Self::Watch => "watch",
            Self::Rework => "rework",
            Self::Replace => "replace",
        }
    }

    /// The sign that stands before the word, so that no colour is needed.
    pub fn sign(self) -> char {
        match self {
            Self::Reuse => '+',
            Self::Watch => '~',
            Self::Rework => '/',
            Self::Replace => 'X',
        }
    }

    /// The disposition a word in a file means.
    pub fn parse(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|one| one.word() == word)
    }
}

/// What a level or a finding leads to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Consequence {
    /// Recorded, nothing more.
    Nothing,
    /// At least watch.
    Watch,
    /// At least watch, and held until whoever it is referred to has answered.
    Refer,
    /// At least rework.
    Rework,
    /// Replace.
    Replace,
    /// Work on the part stops until somebody has answered.
    Call,
}

impl Consequence {
    /// Every consequence.
    pub const ALL: [Self; 6] = [Self::Nothing, Self::Watch, Self::Refer, Self::Rework, Self::Replace, Self::Call];

    /// What being past a level may lead to.
    pub const PAST: [Self; 5] = [Self::Watch, Self::Refer, Self::Rework, Self::Replace, Self::Call];

    /// The word in files and on screens.
    pub fn word(self) -> &'static str {
        match self {
            Self::Nothing => "nothing",
            Self::Watch => "watch",
            Self::Refer => "refer",
            Self::Rework => "rework",
            Self::Replace => "replace",
            Self::Call => "call",
        }
    }

    /// The consequence a word in a file means.
    pub fn parse(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|one| one.word() == word)
    }

    /// Whether a crack may lead to it: it is never judged acceptable at the bench, nor dressed out there.
    pub fn suits_a_crack(self) -> bool {
        matches!(self, Self::Refer | Self::Replace | Self::Call)
    }

    /// The disposition that it makes a part have at least.
    pub fn at_least(self) -> Disposition {
        match self {
            Self::Nothing | Self::Call => Disposition::Reuse,
            Self::Watch | Self::Refer => Disposition::Watch,
            Self::Rework => Disposition::Rework,
            Self::Replace => Disposition::Replace,
        }
    }
}

impl From<Disposition> for Consequence {
    /// What a concession allows that lets this be done at worst.
    fn from(disposition: Disposition) -> Self {
        match disposition {
            Disposition::Reuse => Self::Nothing,
            Disposition::Watch => Self::Watch,
            Disposition::Rework => Self::Rework,
            Disposition::Replace => Self::Replace,
        }
    }
}

/// What keeps a part from being closed.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Hold {
    /// Work stopped, somebody called: the question.
    StopAndCall(String),
    /// Referred: what about.
    Referred(String),
    /// Something is missing, undecided or provisional: what.
    Open(String),
    /// A new part goes in and is not yet checked.
    NewPart,
    /// A rotating part was replaced, dressed or reseated.
    Balance,
}

impl Hold {
    /// The word in lists.
    pub fn word(&self) -> &'static str {
        match self {
            Self::StopAndCall(_) => "stop and call",
            Self::Referred(_) => "referred",
            Self::Open(_) => "open",
            Self::NewPart => "new part to check",
            Self::Balance => "balance to do",
        }
    }

    /// The hold that words in a file mean, as a signature states it.
    pub fn parse(words: &str) -> Option<Self> {
        let plain = [Self::NewPart, Self::Balance].into_iter().find(|one| one.word() == words);
        let (word, what) = words.split_once(": ").unwrap_or_default();
        let told = [Self::StopAndCall(what.to_owned()), Self::Referred(what.to_owned()), Self::Open(what.to_owned())];
        plain.or_else(|| told.into_iter().find(|one| one.word() == word))
    }

    /// The sign before the word.
    pub fn sign(&self) -> char {
        match self {
            Self::StopAndCall(_) => '!',
            Self::Referred(_) => '>',
            Self::Open(_) | Self::NewPart | Self::Balance => '?',
        }
    }
}

/// A disposition with its holds.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Verdict {
    /// The worst of all characteristics and findings.
    pub disposition: Disposition,
    /// The union of what holds it; empty when the part may be closed.
    pub holds: BTreeSet<Hold>,
}

impl Default for Verdict {
    fn default() -> Self {
        Self { disposition: Disposition::Reuse, holds: BTreeSet::new() }
    }
}

impl Verdict {
    /// Takes in another verdict: the worse disposition, both sets of holds.
    pub fn join(&mut self, other: Self) {
        self.disposition = self.disposition.max(other.disposition);
        self.holds.extend(other.holds);
    }

    /// Sign and word of the disposition; what is held open is never called reuse.
    pub fn in_short(&self) -> (char, &'static str) {
        match (self.disposition, self.holds.first()) {
            (Disposition::Reuse, Some(hold)) => (hold.sign(), "held"),
            (disposition, _) => (disposition.sign(), disposition.word()),
        }
    }

    /// Where one word must do, and how many more would be said.
    ///
    /// In order: stop and call, referred, open, replace, rework, new part to check, balance to do, watch, reuse.
    pub fn headline(&self) -> (&'static str, usize) {
        let kinds: BTreeSet<_> = self.holds.iter().map(|hold| (rank_of_hold(hold), hold.word())).collect();
        let mut words: BTreeSet<_> = kinds;
        let disposition = (rank_of_disposition(self.disposition), self.disposition.word());
        if self.disposition != Disposition::Reuse || words.is_empty() {
            words.insert(disposition);
        }
        let more = words.len().saturating_sub(1);
        (words.first().map_or("", |(_, word)| word), more)
    }
}

fn rank_of_hold(hold: &Hold) -> u8 {
    match hold {
        Hold::StopAndCall(_) => 0,
        Hold::Referred(_) => 1,
        Hold::Open(_) => 2,
        Hold::NewPart => 5,
        Hold::Balance => 6,
    }
}

fn rank_of_disposition(disposition: Disposition) -> u8 {
    match disposition {
        Disposition::Replace => 3,
        Disposition::Rework => 4,
        Disposition::Watch => 7,
        Disposition::Reuse => 8,
    }
}
