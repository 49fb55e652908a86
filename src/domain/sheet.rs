//! Limits sheets: the numbers of one machine type, each with its source; no procedure.

mod entered;
mod looser;
mod mixed;
mod odd;
mod one_sided;
mod sound;
mod twins;

use std::collections::{BTreeMap, BTreeSet};

use rust_decimal::Decimal;

use super::characteristic::{Characteristic, Given};
use super::checklist::Step;
use super::exact::Exact;
use super::figure::Figure;
use super::id::Id;
use super::judge;
use super::reckon::unbalance;
use super::refusal::{Refusal, RefusalKind};
use super::unit::Unit;
use super::verdict::Consequence;

pub use looser::looser;
pub use mixed::mixed;
pub use odd::{new_past_alert, of_another_edition};
pub use one_sided::{half_judged, is_bad_both_ways, one_sided, unjudged_side};
pub use sound::{Fault, faults};
pub use twins::{FarTwins, are_far, far_twins, twin};

/// Whose limits they are.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Origin {
    /// From the maker's manual.
    Maker,
    /// The owner's own.
    Owner,
    /// Until something better is known.
    Interim,
}

impl Origin {
    /// The word in files.
    pub fn word(self) -> &'static str {
        match self {
            Self::Maker => "maker",
            Self::Owner => "owner",
            Self::Interim => "interim",
        }
    }

    /// The origin a word in a file means.
    pub fn parse(word: &str) -> Option<Self> {
        [Self::Maker, Self::Owner, Self::Interim].into_iter().find(|one| one.word() == word)
    }
}

/// Whether a figure that stands exactly on a bound has failed it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Touching {
    /// `above 0.30`, `below 0.12`: on it still passes.
    Passes,
    /// `at or above 0.022`: on it fails.
    Fails,
}

/// How uncertainty counts short of a limit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Rule {
    /// It does not.
    Simple,
    /// Short of the limit by less than the guard is undecided; the guard is this factor times u.
    Guarded(Decimal),
}

/// A bound: one figure, or one that depends on a size of the machine.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Amount {
    /// One figure.
    Fixed(Figure),
    /// The row in whose band the size falls.
    BySize {
        /// The size that counts.
        size: Given,
        /// Bands that join without gap or overlap, smallest first.
        bands: Vec<Band>,
    },
}

/// One band of a table: over `over`, up to and including `up_to`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Band {
    /// The size is larger than this.
    pub over: Figure,
    /// The size is at most this.
    pub up_to: Figure,
    /// The bound for such a size.
    pub figure: Figure,
}

/// A bound on one side.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Bound {
    /// How much.
    pub amount: Amount,
    /// Whether touching fails.
    pub touching: Touching,
}

/// A level: from where, whether touching counts, what it leads to, by which rule, from which source.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Level {
    upper: Option<Bound>,
    lower: Option<Bound>,
    leads_to: Consequence,
    rule: Rule,
    source: String,
}

impl Level {
    /// The only door to a level.
    ///
    /// # Errors
    /// `NoSource` without a source, `NoBound` without a bound on any side.
    pub fn new(
        upper: Option<Bound>,
        lower: Option<Bound>,
        leads_to: Consequence,
        rule: Rule,
        source: &str,
    ) -> Result<Self, Refusal> {
        if source.trim().is_empty() {
            return Err(RefusalKind::NoSource.into());
        }
        if upper.is_none() && lower.is_none() {
            return Err(RefusalKind::NoBound.into());
        }
        Ok(Self { upper, lower, leads_to, rule, source: source.trim().to_owned() })
    }

    /// Larger figures fail it.
    pub fn upper(&self) -> Option<&Bound> {
        self.upper.as_ref()
    }

    /// Smaller figures fail it.
    pub fn lower(&self) -> Option<&Bound> {
        self.lower.as_ref()
    }

    /// What failing it leads to.
    pub fn leads_to(&self) -> Consequence {
        self.leads_to
    }

    /// The same of an alert or a limit: whatever is written, what is past it is watched at least.
    pub fn leads_past(&self) -> Consequence {
        self.leads_to.max(Consequence::Watch)
    }

    /// How uncertainty counts.
    pub fn rule(&self) -> Rule {
        self.rule
    }

    /// Where it comes from.
    pub fn source(&self) -> &str {
        &self.source
    }
}

/// The levels of one characteristic; each may be missing, and what is missing is open, never green.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Levels {
    /// For as-left readings and new parts; outside it: rework.
    pub new: Option<Level>,
    /// From here: watch, unless it says otherwise.
    pub alert: Option<Level>,
    /// From here: rework, replace or refer.
    pub limit: Option<Level>,
    /// The number to order the part by.
    pub part_number: Option<String>,
}

/// Which level of a characteristic.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Which {
    /// What a new or as-left part may have.
    New,
    /// From where it is watched.
    Alert,
    /// From where something is done.
    Limit,
}

impl Which {
    /// Every level, the mildest first.
    pub const ALL: [Self; 3] = [Self::New, Self::Alert, Self::Limit];

    /// The key in files.
    pub fn word(self) -> &'static str {
        match self {
            Self::New => "new",
            Self::Alert => "alert",
            Self::Limit => "limit",
        }
    }
}

impl Levels {
    /// One of the three.
    pub fn of(&self, which: Which) -> Option<&Level> {
        match which {
            Which::New => self.new.as_ref(),
            Which::Alert => self.alert.as_ref(),
            Which::Limit => self.limit.as_ref(),
        }
    }

    /// The same with this level.
    #[must_use]
    pub fn with(mut self, which: Which, level: Option<Level>) -> Self {
        match which {
            Which::New => self.new = level,
            Which::Alert => self.alert = level,
            Which::Limit => self.limit = level,
        }
        self
    }
}

/// A figure of the machine with its source.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct GivenFigure {
    /// The figure.
    pub figure: Figure,
    /// Where it comes from.
    pub source: String,
}

/// The numbers of one machine type.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sheet {
    /// The machine type; names the file.
    pub id: Id,
    /// Whose limits.
    pub origin: Origin,
    /// Title of the manual.
    pub manual: String,
    /// Its edition.
    pub edition: String,
    /// Belongs to a demonstration or a test: refused for a rotor that does not.
    pub invented: bool,
    /// Who entered it, and who entered it a second time; one name: entered by one only.
    pub entered_by: Vec<String>,
    /// Characteristics and figures of the machine, by id, that were changed since those had entered it: each entered once.
    pub changed_since: BTreeSet<String>,
    /// Who changed them, each once; none where it was not asked yet.
    pub changed_by: Vec<String>,
    /// Figures of the machine.
    pub given: BTreeMap<Given, GivenFigure>,
    /// Characteristics this machine does not have, each with the reason.
    pub absent: BTreeMap<Characteristic, String>,
    /// Everything judged.
    pub levels: BTreeMap<Characteristic, Levels>,
}

impl Sheet {
    /// A sheet without a number, for a machine type that has none yet: everything stays open.
    pub fn bare(id: Id) -> Self {
        Self {
            id,
            origin: Origin::Interim,
            manual: String::new(),
            edition: String::new(),
            invented: false,
            entered_by: Vec::new(),
            changed_since: BTreeSet::new(),
            changed_by: Vec::new(),
            given: BTreeMap::new(),
            absent: BTreeMap::new(),
            levels: BTreeMap::new(),
        }
    }

    /// With the residual unbalance that its grade allows, for planes that have no level of their own.
    ///
    /// Of a rotor whose centre of mass lies between its journals; guarded, as what the balancing machine may be off counts.
    /// Source: ISO 21940-11 (the reckoning unbalance/1).
    #[must_use]
    pub fn with_shares(mut self) -> Self {
        for (id, bound, source) in self.shares().into_iter().flatten() {
            let Some(characteristic) = Characteristic::parse(id) else { continue };
            if self.levels.contains_key(&characteristic) || self.absent.contains_key(&characteristic) {
                continue;
            }
            let bound = || Some(Bound { amount: Amount::Fixed(bound), touching: Touching::Passes });
            let level =
                || Level::new(bound(), None, Consequence::Rework, Rule::Guarded(Decimal::new(165, 2)), &source).ok();
            self.levels.insert(characteristic, Levels { new: level(), limit: level(), ..Levels::default() });
        }
        self
    }

    fn shares(&self) -> Option<[(&'static str, Figure, String); 2]> {
        let figure = |name: &str| Given::parse(name).and_then(|given| self.given(given));
        let distances = [figure("rotor.to-cs")?, figure("rotor.to-ts")?];
        let grade = self.given.get(&Given::parse("balance.grade")?)?;
        let shares =
            unbalance::shares(&figure("balance.grade")?, &figure("rotor.mass")?, &figure("rotor.speed")?, distances)?;
        let [cs, ts] = shares.map(|share| Figure::new(share, Unit::GramMillimetre));
        let source = format!("share of grade {}, by unbalance/1; {}", grade.figure, grade.source);
        Some([("balance.cs", cs, source.clone()), ("balance.ts", ts, source)])
    }

    /// A figure of the machine in its usual unit.
    pub fn given(&self, given: Given) -> Option<Exact> {
        self.given.get(&given)?.figure.to(given.unit())
    }

    /// The figure of a bound on this machine; `None` when its size is not given or in no band.
    pub fn amount(&self, amount: &Amount) -> Option<Figure> {
        match amount {
            Amount::Fixed(figure) => Some(*figure),
            Amount::BySize { size, bands } => {
                let size_is = self.given(*size)?;
                let inside = |band: &&Band| {
                    let (over, up_to) = (band.over.to(size.unit()), band.up_to.to(size.unit()));
                    over.is_some_and(|over| size_is > over) && up_to.is_some_and(|up_to| size_is <= up_to)
                };
                bands.iter().find(inside).map(|band| band.figure)
            }
        }
    }

    /// The unit in which most of its figures of that kind are given; `usual` where none is, or as many are in that.
    pub fn unit_of(&self, usual: Unit) -> Unit {
        let levels = self.levels.values().flat_map(|all| Which::ALL.into_iter().filter_map(|which| all.of(which)));
        let amounts = levels.flat_map(judge::bounds).flat_map(|(bound, _)| match &bound.amount {
            Amount::Fixed(figure) => vec![*figure],
            Amount::BySize { bands, .. } => bands.iter().map(|band| band.figure).collect(),
        });
        most_used(usual, amounts.chain(self.given.values().map(|given| given.figure)))
    }

    /// Whether the machine has what a step judges; a step that judges nothing is for every machine.
    pub fn has(&self, step: &Step) -> bool {
        step.judges.is_empty() || !step.judges.iter().all(|one| self.absent.contains_key(&one.characteristic))
    }

    /// Characteristics that have a level.
    pub fn judged(&self) -> BTreeSet<Characteristic> {
        self.levels.keys().copied().collect()
    }
}

/// The unit that most of the figures are in, of those that could be in `usual`; that one where it is no fewer.
pub fn most_used(usual: Unit, figures: impl Iterator<Item = Figure>) -> Unit {
    let mut counts: BTreeMap<Unit, usize> = BTreeMap::new();
    for figure in figures.filter(|figure| figure.dimension() == usual.dimension()) {
        *counts.entry(figure.unit()).or_default() += 1;
    }
    counts.into_iter().max_by_key(|(unit, count)| (*count, *unit == usual)).map_or(usual, |(unit, _)| unit)
}
