//! What may be asked of an inspection, and the three answers.

use super::checklist::Signing;
use super::doubt::{Doubt, OneTurn};
use super::entry::{Act, Entry, Late};
use super::id::Id;
use super::refusal::Refusal;
use super::signing::Seal;
use super::stamp::Stamp;
use super::typed::Typed;

/// Something wanted.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Request {
    /// A figure as it stands in the field; becomes [`Act::Reading`].
    Reading {
        /// The step.
        step: String,
        /// The place: `inner 0 / 3 / up`.
        place: String,
        /// As typed.
        text: String,
        /// The gauge in hand.
        gauge: Option<Id>,
        /// Words of the doubts that were asked and insisted on.
        insisted: Vec<String>,
    },
    /// A signature.
    Sign {
        /// Which of the two.
        what: Signing,
        /// What the files say.
        seal: Seal,
        /// What is carried on by name: holds at the close, photos that are lost.
        carried: Vec<String>,
    },
    /// Anything else, whole.
    Do(Act),
}

impl Request {
    /// The same reading with a turn of the large hand put right; what was typed stays before it.
    pub fn with_turn(&self, way: OneTurn) -> Option<Self> {
        let Self::Reading { step, place, text, gauge, .. } = self else { return None };
        let text = format!("{}{}", text.trim(), way.written());
        Some(Self::Reading {
            step: step.clone(),
            place: place.clone(),
            text,
            gauge: gauge.clone(),
            insisted: Vec::new(),
        })
    }
}

/// Whose hand it is, and when: all that `decide` knows of the world outside the record.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Hand {
    /// Who stands for it.
    pub by: Id,
    /// Who writes, where somebody else.
    pub writer: Option<Id>,
    /// Now.
    pub at: Stamp,
    /// Late from paper.
    pub late: Option<Late>,
    /// A break longer than this many hours has the safety points asked again.
    pub break_hours: u32,
}

impl Hand {
    /// When what is entered was done: what the paper says, else now.
    pub fn when(&self) -> Stamp {
        Late::when(self.late.as_ref(), self.at)
    }
}

/// May this be done now?
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Decision {
    /// Yes: the entry to save, then to apply.
    Take(Box<Entry>),
    /// Perhaps: questions about the figure, which stays in the field.
    Ask {
        /// What was understood.
        typed: Typed,
        /// At least one.
        doubts: Vec<Doubt>,
    },
    /// No.
    Refuse(Refusal),
}
