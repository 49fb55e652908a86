//! Doubts: questions about a figure that may be right and looks wrong. Asked once; insisted on, the verdict is provisional.

use super::figure::Figure;

/// A question about a figure.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Doubt {
    /// More digits than the gauge resolves.
    Digits {
        /// What it resolves.
        resolution: Figure,
    },
    /// A bare figure where the gauge's scale is in inches and the step's figures are not, or the other way round.
    Bare {
        /// What it is taken for.
        taken: Figure,
        /// What it would be as the gauge shows it.
        as_shown: Figure,
        /// That in the step's unit.
        that_is: Figure,
    },
    /// About 25.4 or 1000 times another figure of the place, or the last inspection's.
    Factor {
        /// `25.4` or `1000`.
        factor: String,
        /// The figure it is compared with.
        beside: Figure,
    },
    /// About half a millimetre off its neighbours: a sleeve read wrong.
    HalfMillimetre {
        /// The neighbours' figure.
        beside: Figure,
    },
    /// About one turn of the dial off: the turn counter not read.
    Turn {
        /// One turn.
        turn: Figure,
        /// The figure expected about here.
        beside: Figure,
        /// The figure with the turn put right, and how; none where the first reading of the pair is the one that is a
        /// turn off.
        mended: Option<(Figure, OneTurn)>,
    },
    /// A size that the wear before it makes impossible: larger than the unworn one beside it, or than when new.
    BelowNothing {
        /// What it is held against, in words.
        what: &'static str,
        /// That size.
        beside: Figure,
    },
    /// Taper and flat of a land do not make the new land.
    Closing {
        /// Both together.
        sum: Figure,
        /// Both together when new.
        new: Figure,
    },
    /// A turn that does not come back to where it began.
    Unclosed {
        /// How far off it is.
        off: Figure,
        /// How far it may be.
        division: Figure,
    },
    /// A full turn that would show less than its own marks.
    Swept {
        /// What one of the marks shows.
        beside: Figure,
    },
    /// Part and gauge not yet as warm as each other.
    Apart {
        /// The other temperature.
        beside: Figure,
    },
    /// Outside the window in which such figures usually lie.
    Unusual {
        /// From here.
        from: Figure,
        /// To here; none where more does no harm.
        to: Option<Figure>,
        /// What would lie there: `72 degF, another unit`.
        meant: Option<String>,
    },
    /// A count that must be the same as an earlier one.
    Count {
        /// The earlier one.
        first: Figure,
    },
    /// Clearly worse than before the job.
    Worse {
        /// That of before.
        before: Figure,
    },
    /// Not the load, or the speed, of the figures before the job.
    OtherLoad {
        /// That of before.
        before: Figure,
    },
    /// Not the torque that was typed from the manual a step before.
    Torque {
        /// That of this joint and stage.
        manual: Figure,
    },
    /// What it is read on was taken apart since.
    Gone {
        /// The step that did it.
        by: String,
    },
    /// Far off the other repeats at the same place.
    FarOff {
        /// A typical figure of the others.
        beside: Figure,
    },
}

/// A turn of the large hand put right. It is written behind what was typed, which stays as it was.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum OneTurn {
    /// The counter stands one higher than was read.
    More,
    /// One lower.
    Less,
}

impl OneTurn {
    /// Behind a figure: ` + one turn`.
    pub fn written(self) -> &'static str {
        match self {
            Self::More => " + one turn",
            Self::Less => " - one turn",
        }
    }

    /// A typed text without the turn behind it, and which.
    pub fn split(text: &str) -> (&str, Option<Self>) {
        let found =
            [Self::More, Self::Less].into_iter().find_map(|turn| Some((text.strip_suffix(turn.written())?, turn)));
        found.map_or((text, None), |(before, turn)| (before, Some(turn)))
    }
}

impl Doubt {
    /// The word kept in a level that may be another unit's figure.
    pub const ANOTHER_UNIT: &str = "another unit";

    /// The word kept in the entry that carries it.
    pub fn word(&self) -> &'static str {
        match self {
            Self::Digits { .. } => "digits",
            Self::Bare { .. } => "bare",
            Self::Factor { .. } => "factor",
            Self::HalfMillimetre { .. } => "half millimetre",
            Self::Turn { .. } => "turn",
            Self::BelowNothing { .. } => "below nothing",
            Self::Closing { .. } => "closing",
            Self::Unclosed { .. } => "unclosed",
            Self::Swept { .. } => "swept",
            Self::Apart { .. } => "apart",
            Self::Unusual { .. } => "unusual",
            Self::Count { .. } => "count",
            Self::Worse { .. } => "worse",
            Self::OtherLoad { .. } => "another load",
            Self::Torque { .. } => "torque",
            Self::Gone { .. } => "gone",
            Self::FarOff { .. } => "far off",
        }
    }

    /// Whether the other reading of a pair may be the wrong one.
    pub fn is_of_pair(&self) -> bool {
        matches!(self, Self::Turn { .. } | Self::FarOff { .. })
    }

    /// The question, one sentence.
    pub fn question(&self) -> String {
        match self {
            Self::Digits { resolution } => format!("More digits than the gauge shows: it resolves {resolution}."),
            Self::Bare { taken, as_shown, that_is } => {
                format!(
                    "Is it {taken}, or {as_shown} as the gauge shows it, {that_is}? Type the unit behind the figure."
                )
            }
            Self::Factor { factor, beside } => format!("About {factor} times off {beside}: another unit?"),
            Self::HalfMillimetre { beside } => format!("About half a millimetre off {beside}: the sleeve read wrong?"),
            Self::Turn { turn, beside, mended: Some((mended, _)) } => {
                format!("About one turn ({turn}) off {beside}: {mended} with the turn counter read?")
            }
            Self::Turn { turn, beside, mended: None } => {
                format!(
                    "About one turn ({turn}) off {beside}, and so is the first reading of the pair: retake that one?"
                )
            }
            Self::BelowNothing { what, beside } => format!("{what} {beside}: the wear would be below nothing."),
            Self::Unclosed { off, division } => format!(
                "Back at the first mark the dial is {off} off, more than {division}: the set is void. Find what moved \
                 (dial, end stop, block); strike takes the whole set back."
            ),
            Self::Swept { beside } => {
                format!("A full turn passes every mark, and one of them shows {beside}: turn once more and read again.")
            }
            Self::Closing { sum, new } => {
                format!("Taper and flat make {sum}, a new land has {new}: one of them was misread.")
            }
            Self::Apart { beside } => format!("More than 1 K apart from {beside}: wait until both are alike."),
            Self::Unusual { from, to, meant } => {
                let window = to.map_or_else(|| format!("{from} or more"), |to| format!("between {from} and {to}"));
                let meant = meant.as_ref().map(|meant| format!(", or was it {meant}")).unwrap_or_default();
                format!("Usually {window}, by common practice: is it so{meant}?")
            }
            Self::Count { first } => {
                format!("The first count was {first}. Count again; insisted on, it stays open until they agree.")
            }
            Self::Worse { before } => format!(
                "{before} before the job, and this is worse: stop and look for why, or read again. Insisted on, it is told \
                 on page 1; a note says why."
            ),
            Self::OtherLoad { before } => format!(
                "{before} before the job: at another load or speed the figures do not compare. Go back to it and read \
                 again. Insisted on, it is told on page 1; a note says why."
            ),
            Self::Torque { manual } => format!(
                "{manual} here by the manual's figures as typed: set the wrench and tighten again, or strike \
                 what was misread there. Insisted on, the engine does not start."
            ),
            Self::Gone { by } => format!(
                "{by} is done: nothing can be read here any more. Copied from paper? Then say so first: note, figures late \
                 from paper."
            ),
            Self::FarOff { beside } => format!("Far off the others at this place, about {beside}."),
        }
    }
}
