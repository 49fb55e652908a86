//! Every kind of refusal: its data, and its words in one place.

/// What is wrong.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum RefusalKind {
    /// Nothing was typed.
    Empty,
    /// A text longer than any figure.
    TooLong {
        /// The most characters taken.
        longest: usize,
    },
    /// Letters, a lone sign, a point with nothing behind it.
    NotAFigure {
        /// As typed.
        text: String,
    },
    /// Comma and point in one figure, or two points.
    Thousands {
        /// As typed.
        text: String,
    },
    /// A figure typed as a division.
    Division {
        /// As typed.
        text: String,
    },
    /// A second figure behind the first.
    TwoFigures {
        /// As typed.
        text: String,
    },
    /// More digits than any gauge shows.
    TooManyDigits {
        /// The most digits taken.
        most: usize,
    },
    /// A word behind the figure that is no unit.
    UnknownUnit {
        /// The word.
        word: String,
    },
    /// An id with other characters, empty, or too long.
    BadId {
        /// As written.
        text: String,
    },
    /// No moment with its offset from UTC.
    BadMoment {
        /// As written.
        text: String,
    },
    /// No day, or one that does not exist.
    BadDay {
        /// As written.
        text: String,
    },
    /// A level without a source.
    NoSource,
    /// A level without a bound on any side.
    NoBound,
    /// Fewer figures than the reckoning needs.
    TooFew {
        /// What they are, in the plural.
        what: &'static str,
        /// How many there are.
        given: usize,
        /// How many it takes.
        needed: usize,
    },
    /// Figures from which nothing can be reckoned.
    NoAnswer {
        /// Why, one sentence.
        why: String,
        /// What would help, one sentence.
        mend: &'static str,
    },
}

impl RefusalKind {
    /// What is wrong, one sentence.
    pub fn what(&self) -> String {
        match self {
            Self::Empty => "Nothing is in the field.".to_owned(),
            Self::TooLong { longest } => format!("That is longer than {longest} characters, no figure is."),
            Self::NotAFigure { text } => format!("`{text}` is not a figure."),
            Self::Thousands { text } => format!("`{text}` has more than one point or comma."),
            Self::Division { text } => format!("`{text}` is a division."),
            Self::TwoFigures { text } => format!("`{text}` holds two figures."),
            Self::TooManyDigits { most } => format!("More than {most} digits, no gauge shows so many."),
            Self::UnknownUnit { word } => format!("`{word}` is no unit known here."),
            Self::BadId { text } => format!("`{text}` cannot be an id."),
            Self::BadMoment { text } => format!("`{text}` is no moment with its offset from UTC."),
            Self::BadDay { text } => format!("`{text}` is no day."),
            Self::NoSource => "A level needs a source.".to_owned(),
            Self::NoBound => "A level needs a bound on one side at least.".to_owned(),
            Self::TooFew { what, given, needed } => format!("{given} {what}, it takes {needed}."),
            Self::NoAnswer { why, .. } => why.clone(),
        }
    }

    /// How to mend it, one sentence.
    pub fn mend(&self) -> String {
        match self {
            Self::Empty => "Type the figure, or Esc for what else can be done.",
            Self::TooLong { .. } | Self::TooManyDigits { .. } => "Type the figure as the gauge shows it.",
            Self::NotAFigure { .. } => "Type digits with a point or a comma, and a unit if it is not the one shown.",
            Self::Thousands { .. } => "Use one point or one comma, for the decimals only.",
            Self::Division { .. } => "Type it as a decimal, such as 0.05.",
            Self::TwoFigures { .. } => "Type one figure at a time.",
            Self::UnknownUnit { .. } => "Use mm, um, in, thou or the unit shown beside the field.",
            Self::BadId { .. } => "Use 1 to 40 of the letters A to Z, digits, point, dash and underscore.",
            Self::BadMoment { .. } => "Write it as 2031-04-17T14:05:31+02:00.",
            Self::BadDay { .. } => "Write it as 2031-04-17.",
            Self::NoSource => "Say where it stands: manual, edition, page or table.",
            Self::NoBound => "Give `above`, `at or above`, `below` or `at or below`.",
            Self::TooFew { .. } => "Take more readings.",
            Self::NoAnswer { mend, .. } => mend,
        }
        .to_owned()
    }

    /// The kind's name, for programs and tests.
    pub fn name(&self) -> &'static str {
        match self {
            Self::Empty => "Empty",
            Self::TooLong { .. } => "TooLong",
            Self::NotAFigure { .. } => "NotAFigure",
            Self::Thousands { .. } => "Thousands",
            Self::Division { .. } => "Division",
            Self::TwoFigures { .. } => "TwoFigures",
            Self::TooManyDigits { .. } => "TooManyDigits",
            Self::UnknownUnit { .. } => "UnknownUnit",
            Self::BadId { .. } => "BadId",
            Self::BadMoment { .. } => "BadMoment",
            Self::BadDay { .. } => "BadDay",
            Self::NoSource => "NoSource",
            Self::NoBound => "NoBound",
            Self::TooFew { .. } => "TooFew",
            Self::NoAnswer { .. } => "NoAnswer",
        }
    }
}
