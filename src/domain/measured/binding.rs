//! Which reckoning turns a grid into a characteristic; the checker of checklists knows them from here.

use super::super::checklist::Judged;
use super::super::reckon::journal::Wear;
use super::super::reckon::uncertainty::Taken;

/// A reckoning with the way it takes a grid.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Binding {
    /// Second figure less first, mean per place.
    Lift,
    /// Mean of the repeats per place.
    Repeats,
    /// The leaf that goes and the leaf that stops, per place.
    Feelers,
    /// The sheet's new size less the mean per place.
    Wear,
    /// Hours of the part, no grid.
    Life,
    /// Taper to flat, each land of each transfer.
    Lands,
    /// Diameters of a journal.
    Journal(Wear),
    /// Largest less smallest of a turn.
    RunOut,
}

const ALL: [(&str, Option<&str>, Binding); 11] = [
    ("lift/1", None, Binding::Lift),
    ("repeats/1", None, Binding::Repeats),
    ("feelers/1", None, Binding::Feelers),
    ("wear/1", None, Binding::Wear),
    ("life/1", None, Binding::Life),
    ("lands/1", None, Binding::Lands),
    ("journal/1", Some("step_wear"), Binding::Journal(Wear::Step)),
    ("journal/1", Some("ovality"), Binding::Journal(Wear::Ovality)),
    ("journal/1", Some("taper"), Binding::Journal(Wear::Taper)),
    ("run-out/1", Some("tir"), Binding::RunOut),
    ("unbalance/1", None, Binding::Repeats),
];

impl Binding {
    /// The binding a checklist's line asks for; one result needs no name.
    pub fn of(judged: &Judged) -> Option<Self> {
        let result = judged.result.as_deref();
        let mut rows = ALL.iter().filter(|(reckoning, _, _)| *reckoning == judged.reckoning);
        let exact = rows.clone().find(|(_, name, _)| result == *name);
        let only = || rows.next().filter(|_| result.is_none() && rows.next().is_none());
        exact.or_else(only).map(|(_, _, binding)| *binding)
    }

    /// Whether its figure is one reading of a gauge or one less another; none of what no gauge shows, nor of feelers, whose
    /// leaves alone say how far apart they are.
    pub fn taken(self) -> Option<Taken> {
        match self {
            Self::Lift | Self::Journal(_) | Self::RunOut => Some(Taken::Difference),
            Self::Repeats | Self::Wear => Some(Taken::Single),
            Self::Life | Self::Lands | Self::Feelers => None,
        }
    }

    /// Every reckoning a checklist may ask for, with the result it may name.
    pub fn names() -> impl Iterator<Item = (&'static str, Option<&'static str>)> {
        ALL.iter().map(|(reckoning, result, _)| (*reckoning, *result))
    }
}
