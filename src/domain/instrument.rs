//! Gauges: what they can show, how well, and until when somebody has vouched for that.

use chrono::NaiveDate;

use super::exact::Exact;
use super::figure::Figure;
use super::id::Id;
use super::refusal::{Refusal, RefusalKind};
use super::unit::Unit;

/// What a gauge is; a step asks for a kind.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum GaugeKind {
    /// Outside micrometer.
    Micrometer,
    /// Dial gauge or test indicator.
    Dial,
    /// Bore gauge, set on a ring.
    Bore,
    /// Feeler leaves.
    Feelers,
    /// Calliper, or a scale laid on a print.
    Calliper,
    /// Ultrasonic thickness gauge.
    Ultrasonic,
    /// Gaussmeter.
    Gaussmeter,
    /// Torque wrench.
    Wrench,
    /// Balancing machine.
    Balancer,
    /// Thermometer, tachometer, clock or log: whatever shows a figure that nothing is judged by.
    Other,
}

impl GaugeKind {
    /// Every kind.
    pub const ALL: [Self; 10] = [
        Self::Micrometer,
        Self::Dial,
        Self::Bore,
        Self::Feelers,
        Self::Calliper,
        Self::Ultrasonic,
        Self::Gaussmeter,
        Self::Wrench,
        Self::Balancer,
        Self::Other,
    ];

    /// The word in files and on screens.
    pub fn word(self) -> &'static str {
        match self {
            Self::Micrometer => "micrometer",
            Self::Dial => "dial gauge",
            Self::Bore => "bore gauge",
            Self::Feelers => "feelers",
            Self::Calliper => "calliper",
            Self::Ultrasonic => "ultrasonic gauge",
            Self::Gaussmeter => "gaussmeter",
            Self::Wrench => "torque wrench",
            Self::Balancer => "balancer",
            Self::Other => "other",
        }
    }

    /// The unit that such gauges are made in.
    pub fn unit(self) -> Unit {
        match self {
            Self::Gaussmeter => Unit::Millitesla,
            Self::Wrench => Unit::NewtonMetre,
            Self::Balancer => Unit::GramMillimetre,
            Self::Micrometer
            | Self::Dial
            | Self::Bore
            | Self::Feelers
            | Self::Calliper
            | Self::Ultrasonic
            | Self::Other => Unit::Millimetre,
        }
    }

    /// One of them in a sentence: `a dial gauge`, `feelers`.
    pub fn one(self) -> String {
        match self {
            Self::Feelers => self.word().to_owned(),
            Self::Other => "another kind of gauge".to_owned(),
            Self::Ultrasonic => format!("an {}", self.word()),
            Self::Micrometer
            | Self::Dial
            | Self::Bore
            | Self::Calliper
            | Self::Gaussmeter
            | Self::Wrench
            | Self::Balancer => format!("a {}", self.word()),
        }
    }

    /// `which dial gauge is in your hand`, `which feelers are in your hand`.
    pub fn which_in_hand(self) -> String {
        let name = if self == Self::Other { "gauge" } else { self.word() };
        let is = if self == Self::Feelers { "are" } else { "is" };
        format!("which {name} {is} in your hand")
    }

    /// The kind a word in a file means.
    pub fn parse(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| kind.word() == word)
    }
}

/// What a calibration found.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Calibration {
    /// The day it was done.
    pub date: NaiveDate,
    /// The expanded uncertainty U; a share of the reading when its unit is a percentage.
    pub expanded: Figure,
    /// The coverage factor of `expanded`.
    pub k: rust_decimal::Decimal,
    /// Number of the certificate.
    pub certificate: Option<String>,
    /// The day from which it no longer counts.
    pub due: Option<NaiveDate>,
}

/// What the gauge shows on a piece of known size; the correction to add is `piece - shows`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Correction {
    /// The piece.
    pub piece: Figure,
    /// What the gauge shows on it.
    pub shows: Figure,
}

/// How well the same hand gets the same figure with this gauge, from earlier series.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Repeatability {
    /// Pooled standard deviation.
    pub s: Figure,
    /// Its degrees of freedom; taken as many when not given.
    pub dof: Option<u32>,
}

/// One gauge.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Instrument {
    /// The id on it.
    pub id: Id,
    /// What it is.
    pub kind: GaugeKind,
    /// Smallest and largest figure that it can show; none for feelers and logs.
    pub range: Option<(Figure, Figure)>,
    /// The step of its scale.
    pub resolution: Option<Figure>,
    /// One turn of a dial's large hand.
    pub turn: Option<Figure>,
    /// Letters that a gauge with a cable types before the figure, to be dropped; counts only where [`is_prefix`] says so.
    pub prefix: Option<String>,
    /// What it shows on which piece.
    pub corrections: Vec<Correction>,
    /// By how much it grows, for what is measured warm or cold.
    pub expansion: Option<Figure>,
    /// Pooled repeatability of the method with it.
    pub repeatability: Option<Repeatability>,
    /// Oldest first.
    pub calibrations: Vec<Calibration>,
    /// Anything to be known about it.
    pub remark: Option<String>,
    /// Belongs to a demonstration or a test.
    pub invented: bool,
}

/// Whether a gauge may type this before its figures: letters alone, or digits and signs of the figure itself would be dropped.
pub fn is_prefix(text: &str) -> bool {
    !text.is_empty() && text.chars().all(|letter| letter.is_ascii_alphabetic())
}

impl Instrument {
    /// The calibration in force on `day`: the latest done by then.
    pub fn calibration(&self, day: NaiveDate) -> Option<&Calibration> {
        self.calibrations.iter().filter(|one| one.date <= day).max_by_key(|one| one.date)
    }

    /// What is to be added where it shows `size`, in `unit`: piece less what is shown, straight between two pieces, beyond
    /// the last piece as on it; nothing without a table, `None` for a table in another dimension.
    pub fn correction(&self, size: &Exact, unit: Unit) -> Option<Exact> {
        let row = |one: &Correction| Some((one.shows.to(unit)?, one.piece.to(unit)?));
        let mut rows: Vec<_> = self.corrections.iter().map(row).collect::<Option<_>>()?;
        rows.sort();
        let add = |(shows, piece): &(Exact, Exact)| piece - shows;
        let below = rows.iter().rev().find(|(shows, _)| shows <= size);
        let above = rows.iter().find(|(shows, _)| shows >= size);
        match (below, above) {
            (Some(low), Some(high)) => {
                let along = (size - &low.0).over(&(&high.0 - &low.0)).unwrap_or_else(Exact::zero);
                Some(&add(low) + &(&along * &(&add(high) - &add(low))))
            }
            (Some(row), None) | (None, Some(row)) => Some(add(row)),
            (None, None) => Some(Exact::zero()),
        }
    }

    /// The unit that its scale is marked in; none where neither step nor range is known.
    pub fn scale(&self) -> Option<Unit> {
        self.resolution.or(self.range.map(|(_, high)| high)).map(Figure::unit)
    }

    /// Whether a size lies within its range.
    ///
    /// # Errors
    /// It lies outside.
    pub fn reads(&self, size: Figure) -> Result<(), Refusal> {
        let Some((low, high)) = self.range.filter(|range| lies_in(*range, size) == Some(false)) else { return Ok(()) };
        let why = format!("{size} is outside what {} reads, {low} to {high}.", self.id);
        Err(RefusalKind::NoAnswer { why, mend: "Look at the figure and its unit; or check it on another piece." }
            .into())
    }

    /// Whether its range is longer than that of another one, or of itself before: zeroed anew it stays as long as it is.
    pub fn is_longer_than(&self, other: &Self) -> bool {
        let span = |one: &Self| {
            let (low, high) = one.range?;
            Some(&high.to(Unit::Millimetre)? - &low.to(Unit::Millimetre)?)
        };
        span(self).zip(span(other)).is_some_and(|(mine, other)| mine > other)
    }

    /// Whether one step of its scale is more than all that it can show: one of the two is mistyped.
    pub fn is_too_coarse(&self) -> bool {
        self.is_past_range(self.resolution)
    }

    /// Whether a size is more than the whole range from end to end.
    pub fn is_past_range(&self, size: Option<Figure>) -> bool {
        let past = |(from, to): (Figure, Figure), size: Figure| {
            let unit = to.unit();
            Some(size.to(unit)? > &to.to(unit)? - &from.to(unit)?)
        };
        self.range.zip(size).and_then(|(range, size)| past(range, size)).unwrap_or(false)
    }

    /// Whether its calibration had run out on `day`; a gauge without any is not "past its date", it has none.
    pub fn is_past_date(&self, day: NaiveDate) -> bool {
        self.calibration(day).and_then(|one| one.due).is_some_and(|due| day > due)
    }
}

/// Whether a figure lies within a range, its ends included; none where the two are not of one dimension.
pub(in crate::domain) fn lies_in((low, high): (Figure, Figure), figure: Figure) -> Option<bool> {
    let unit = low.unit();
    let (size, low, high) = (figure.amount(unit)?, low.to(unit)?, high.to(unit)?);
    Some(low <= size && size <= high)
}
