//! What a reckoning takes: its keys, and the shape, unit and range of each. The table that reading, help and docs share.

mod check;
mod near;
mod scalar;

use crate::domain::exact::Exact;
use crate::domain::unit::Unit;

pub use check::check;
pub use near::nearest;
pub(super) use scalar::is_below_absolute_zero;

/// One key of a map.
#[derive(Debug)]
pub struct Key {
    /// As written: `limit`.
    pub name: &'static str,
    /// What may stand there.
    pub shape: Shape,
    /// Whether it must.
    pub need: Need,
    /// What it is, in a line.
    pub doc: &'static str,
}

impl Key {
    /// A key that must be given.
    pub const fn required(name: &'static str, shape: Shape, doc: &'static str) -> Self {
        Self { name, shape, need: Need::Required, doc }
    }

    /// A key that need not be given.
    pub const fn optional(name: &'static str, shape: Shape, doc: &'static str) -> Self {
        Self { name, shape, need: Need::Optional, doc }
    }

    /// A key that stands for `default` where it is not given.
    pub const fn default(name: &'static str, shape: Shape, default: &'static str, doc: &'static str) -> Self {
        Self { name, shape, need: Need::Default(default), doc }
    }
}

/// Whether a key must be given.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Need {
    /// It must.
    Required,
    /// It need not; without it something is left out of the result.
    Optional,
    /// It need not; this is taken instead.
    Default(&'static str),
}

/// What stands behind a key.
#[derive(Debug)]
pub enum Shape {
    /// A figure, in this unit unless it carries another of the same dimension.
    Figure(Unit, Range),
    /// A figure in any unit; which ones go together the reckoning itself says.
    AnyFigure(Range),
    /// Degrees of freedom: a figure of one or more, or `none` where they are endless.
    Dof,
    /// A count between two bounds, both included.
    Whole(i64, i64),
    /// One of these words.
    Word(&'static [&'static str]),
    /// Words.
    Text,
    /// `true` or `false`.
    Flag,
    /// A calendar date, `2031-04-17`.
    Date,
    /// One or more of a kind.
    List(&'static Shape),
    /// A map with these keys.
    Map(&'static [Key]),
}

/// Which figures may be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Range {
    /// All; no thermometer shows less than absolute zero.
    Any,
    /// All, differences of temperatures among them.
    Signed,
    /// Zero and above.
    NotNegative,
    /// Above zero.
    Positive,
    /// Between two decimals, both included.
    Within(&'static str, &'static str),
    /// Between two decimals, neither included.
    Between(&'static str, &'static str),
}

impl Range {
    /// Whether `size`, in the key's unit, may be.
    pub fn holds(self, size: &Exact) -> bool {
        match self {
            Self::Any | Self::Signed => true,
            Self::NotNegative => !size.is_negative(),
            Self::Positive => !size.is_negative() && !size.is_zero(),
            Self::Within(low, high) => bounds(low, high).is_some_and(|(low, high)| (low..=high).contains(size)),
            Self::Between(low, high) => bounds(low, high).is_some_and(|(low, high)| *size > low && *size < high),
        }
    }

    /// `above 0`; empty for all.
    pub fn words(self) -> String {
        match self {
            Self::Any | Self::Signed => String::new(),
            Self::NotNegative => "0 or more".to_owned(),
            Self::Positive => "above 0".to_owned(),
            Self::Within(low, high) => format!("from {low} to {high}"),
            Self::Between(low, high) => format!("between {low} and {high}"),
        }
    }
}

fn bounds(low: &str, high: &str) -> Option<(Exact, Exact)> {
    Some((Exact::parse(low)?, Exact::parse(high)?))
}

impl Shape {
    /// `a figure in mm, above 0`, for refusals.
    pub fn words(&self) -> String {
        let ranged = |figure: String, range: Range| match range.words() {
            words if words.is_empty() => figure,
            words => format!("{figure}, {words}"),
        };
        match self {
            Self::Figure(Unit::One, range) => ranged("a plain figure".to_owned(), *range),
            Self::Figure(unit, range) => ranged(format!("a figure in {unit}"), *range),
            Self::AnyFigure(range) => ranged("a figure".to_owned(), *range),
            Self::Dof => "degrees of freedom, 1 or more, or none".to_owned(),
            Self::Whole(low, high) => format!("a whole number from {low} to {high}"),
            Self::Word(words) => format!("one of {}", words.join(", ")),
            Self::Text => "words in one line".to_owned(),
            Self::Flag => "true or false".to_owned(),
            Self::Date => "a date such as 2031-04-17".to_owned(),
            Self::List(item) => format!("a list of one or more: {}", item.words()),
            Self::Map(keys) => format!("a map with {}", names(keys)),
        }
    }

    /// `list of mm`, the short form of help and docs.
    pub fn brief(&self) -> String {
        match self {
            Self::Figure(unit, range) => {
                let unit = if *unit == Unit::One { "figure" } else { unit.symbol() };
                let range = range.words();
                if range.is_empty() { unit.to_owned() } else { format!("{unit}, {range}") }
            }
            Self::AnyFigure(_) => "figure with unit".to_owned(),
            Self::Dof => "1 or more | none".to_owned(),
            Self::Whole(low, high) => format!("{low} to {high}"),
            Self::Word(words) => words.join(" | "),
            Self::Text => "words".to_owned(),
            Self::Flag => "true | false".to_owned(),
            Self::Date => "date".to_owned(),
            Self::List(item) => format!("list of {}", item.brief()),
            Self::Map(keys) => format!("map of {}", names(keys)),
        }
    }
}

/// The keys' names, comma between them.
pub fn names(keys: &[Key]) -> String {
    keys.iter().map(|key| key.name).collect::<Vec<_>>().join(", ")
}
