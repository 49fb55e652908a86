//! A figure against its levels, exactly: which one it has reached, and what that leads to.

use super::exact::Exact;
use super::reckon::budget::Budget;
use super::reckon::guard;
use super::reckon::judge::{self as reckoned, Bench, Limit};
use super::sheet::{Amount, Bound, Level, Levels, Rule, Sheet, Touching};
use super::unit::Unit;
use super::verdict::Consequence;

/// Whether a figure shows how the machine was found, or how it will run on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Condition {
    /// Judged by alert and limit.
    AsFound,
    /// Judged by the new range; outside it: rework.
    AsLeft,
}

impl Condition {
    /// Behind the name of a characteristic: what is not said to be as left is as found.
    pub fn behind(self) -> &'static str {
        match self {
            Self::AsFound => "",
            Self::AsLeft => " as left",
        }
    }
}

/// Which side of a level counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Side {
    /// Larger figures fail.
    Upper,
    /// Smaller figures fail.
    Lower,
}

/// How far a figure has come; a later variant is worse.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Reach {
    /// Short of every level.
    Within,
    /// The alert.
    Alert,
    /// Short of the limit by less than the guard.
    Undecided,
    /// Outside the new range.
    NotNew,
    /// The limit.
    Limit,
}

impl Reach {
    /// The word on screens.
    pub fn word(self) -> &'static str {
        match self {
            Self::Within => "within",
            Self::Alert => "alert",
            Self::Undecided => "undecided",
            Self::NotNew => "not as new",
            Self::Limit => "past limit",
        }
    }
}

/// What one figure has reached.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Reached {
    /// How far.
    pub reach: Reach,
    /// What that leads to.
    pub leads_to: Consequence,
    /// The bound that decided, or the nearest one, in the unit of the figure.
    pub bound: Option<Exact>,
    /// On which side.
    pub side: Side,
    /// Whether touching counts there.
    pub touching: Touching,
    /// The guard in force.
    pub guard: Option<Exact>,
    /// Where the level stands.
    pub source: String,
    /// From the figure to the bound, negative when past it.
    pub room: Option<Exact>,
    /// Why a graver level is not judged: an alert that is passed speaks without a limit, and nothing is green.
    pub open: Option<NotJudged>,
}

impl Reached {
    /// Undecided because nobody knows how good the gauge is.
    pub fn is_unknown(&self) -> bool {
        self.reach == Reach::Undecided && self.guard.is_none()
    }

    /// Why it is undecided, as a reason of `open`.
    pub fn why_undecided(&self) -> &'static str {
        if self.is_unknown() {
            NotJudged::NoUncertainty.words()
        } else {
            "undecided, too close to the limit for this gauge"
        }
    }

    /// The same, with what is certain besides.
    #[must_use]
    pub fn leading_at_least_to(mut self, certain: Option<Consequence>) -> Self {
        self.leads_to = certain.map_or(self.leads_to, |certain| certain.max(self.leads_to));
        self
    }
}

/// Why a figure cannot be judged.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NotJudged {
    /// Nothing to judge it by.
    NoLevel,
    /// An alert, and no limit.
    NoLimit,
    /// The size by which the bound is chosen is not given, or falls in no band.
    NoBand,
    /// The rule is guarded, the figure is short of the limit, and the gauge's uncertainty is not known.
    NoUncertainty,
}

impl NotJudged {
    /// In a word or two, beside a figure.
    pub fn word(&self) -> &'static str {
        match self {
            Self::NoLevel => "no level",
            Self::NoLimit => "no limit",
            Self::NoBand => "no size given",
            Self::NoUncertainty => "gauge not known",
        }
    }

    /// In words, as a reason of `open`.
    pub fn words(&self) -> &'static str {
        match self {
            Self::NoLevel => "no level on the limits sheet",
            Self::NoLimit => "no limit on the limits sheet",
            Self::NoBand => "the size that chooses the limit is not given, or is in no band",
            Self::NoUncertainty => "the gauge's uncertainty is not known, the limit's rule needs it",
        }
    }
}

/// A figure to be judged, in `unit`.
#[derive(Debug, Clone)]
pub struct Judged<'a> {
    /// The figure, exact.
    pub value: &'a Exact,
    /// Its unit.
    pub unit: Unit,
    /// How well it is known.
    pub variance: Option<&'a Budget>,
    /// The only side it speaks of; both where there is none.
    pub side: Option<Side>,
}

/// Judges `figure` by all levels that count for `condition`, the worst reached; touching as each level says.
///
/// Past the limit is past whatever the uncertainty; only short of it can a guarded rule leave a figure undecided.
/// Source: the sheet's level; the guard after ISO 14253-1 and JCGM 106.
///
/// # Errors
/// [`NotJudged`].
pub fn judge(figure: &Judged<'_>, levels: &Levels, condition: Condition, sheet: &Sheet) -> Result<Reached, NotJudged> {
    let by: Vec<(&Level, Reach)> = match condition {
        Condition::AsLeft => levels.new.iter().map(|level| (level, Reach::NotNew)).collect(),
        Condition::AsFound => {
            let alert = levels.alert.iter().map(|level| (level, Reach::Alert));
            alert.chain(levels.limit.iter().map(|level| (level, Reach::Limit))).collect()
        }
    };
    // without a limit nothing is ever green; an alert alone may still speak
    let limited = condition == Condition::AsLeft || levels.limit.is_some();
    let none = if levels.alert.is_some() { NotJudged::NoLimit } else { NotJudged::NoLevel };
    let mut open = (!limited).then_some(none);
    let mut all = Vec::new();
    for (level, reach) in by {
        let mine = bounds(level).filter(|(_, side)| figure.side.is_none_or(|of| of == *side));
        for (bound, side) in mine {
            match against(figure, level, reach, (bound, side), sheet) {
                Ok(reached) => all.push(reached),
                Err(why) => open = open.or(Some(why)),
            }
        }
    }
    // short of the limit by less than the guard, a figure may be past the alert for certain
    let certain = all.iter().map(|one| one.leads_to).max();
    let worst = all.into_iter().max_by(|a, b| a.reach.cmp(&b.reach).then_with(|| b.room.cmp(&a.room)));
    match worst {
        Some(worst) if worst.is_unknown() && certain == Some(Consequence::Nothing) => Err(NotJudged::NoUncertainty),
        Some(worst) if open.is_none() || worst.reach > Reach::Within => {
            Ok(Reached { open, ..worst.leading_at_least_to(certain) })
        }
        Some(_) | None => Err(open.unwrap_or(NotJudged::NoLevel)),
    }
}

/// The bounds of a level, each with its side.
pub fn bounds(level: &Level) -> impl Iterator<Item = (&Bound, Side)> {
    let upper = level.upper().map(|bound| (bound, Side::Upper));
    upper.into_iter().chain(level.lower().map(|bound| (bound, Side::Lower)))
}

/// A bound as a number of `unit` on this machine.
pub fn size_of(bound: &Bound, unit: Unit, sheet: &Sheet) -> Option<Exact> {
    sheet.amount(&bound.amount)?.to(unit)
}

/// Whether `value` has failed a bound.
pub fn fails(value: &Exact, bound: &Exact, side: Side, touching: Touching) -> bool {
    limit(bound.clone(), side, touching).judge(value, &Exact::zero()) == Bench::Past
}

/// The bound as the reckoning takes it, which alone compares.
fn limit(at: Exact, side: Side, touching: Touching) -> Limit {
    let side = match side {
        Side::Upper => reckoned::Side::Largest,
        Side::Lower => reckoned::Side::Smallest,
    };
    Limit { at, side, touching }
}

fn against(
    figure: &Judged<'_>,
    level: &Level,
    reach: Reach,
    (bound, side): (&Bound, Side),
    sheet: &Sheet,
) -> Result<Reached, NotJudged> {
    let size = size_of(bound, figure.unit, sheet).ok_or(match bound.amount {
        Amount::BySize { .. } => NotJudged::NoBand,
        Amount::Fixed(_) => NotJudged::NoLevel,
    })?;
    let limit = limit(size, side, bound.touching);
    let failed = limit.judge(figure.value, &Exact::zero()) == Bench::Past;
    let mut unknown = false;
    let guard = match level.rule() {
        Rule::Simple => None,
        Rule::Guarded(factor) => {
            let known = figure.variance;
            let guard = known.and_then(|known| guard::guard(&known.variance, &factor.into(), known.dof.as_ref()));
            unknown = guard.is_none() && !failed;
            guard
        }
    };
    let (reach, leads_to) = match limit.judge(figure.value, guard.as_ref().unwrap_or(&Exact::zero())) {
        // a guard that cannot be reckoned is no guard of nothing
        _ if unknown => (Reach::Undecided, Consequence::Nothing),
        Bench::Past => (reach, level.leads_past()),
        Bench::Undecided => (Reach::Undecided, Consequence::Nothing),
        Bench::Within => (Reach::Within, Consequence::Nothing),
    };
    let room = limit.room(figure.value);
    let source = level.source().to_owned();
    Ok(Reached {
        reach,
        leads_to,
        bound: Some(limit.at),
        side,
        touching: bound.touching,
        guard,
        source,
        room: Some(room),
        open: None,
    })
}
