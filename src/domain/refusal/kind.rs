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
        }
    }
}
